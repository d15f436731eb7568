-- Step 9: a measured piece may be of a pattern with any number of ring sizes.

-- A ring size of a piece beyond its first, which is the piece's own.
create table ring_of_piece (
    id                 integer primary key autoincrement,
    measured_piece_id  integer not null references measured_piece (id),
    size               integer not null check (size >= 2),  -- its place among the pattern's sizes
    wire_typed         text not null,
    wire_mm            real not null check (wire_mm > 0),
    ring_typed         text not null,          -- with inside or outside, open or closed
    closed_inside_mm   real not null check (closed_inside_mm > 0),
    unique (measured_piece_id, size)
) strict;

-- Step 6 had room for a second size.
insert into ring_of_piece (measured_piece_id, size, wire_typed, wire_mm, ring_typed,
                           closed_inside_mm)
select id, 2, ifnull(second_wire_typed, second_wire_mm || ' mm'), second_wire_mm,
       ifnull(second_ring_typed, second_closed_inside_mm || ' mm inside closed'),
       second_closed_inside_mm
from measured_piece
where second_wire_mm is not null and second_closed_inside_mm is not null;

-- Booked to the action that added the piece, so that both are taken back together.
insert into change (action_id, record, record_id, kind)
select action_id, 'ring_of_piece', ring_of_piece.id, 'added'
from ring_of_piece
join change on record = 'measured_piece' and record_id = measured_piece_id and kind = 'added';

-- The triggers name every column; they are made anew after each step.
drop trigger measured_piece_changed;
drop trigger measured_piece_removed;

alter table measured_piece drop column second_wire_typed;
alter table measured_piece drop column second_wire_mm;
alter table measured_piece drop column second_ring_typed;
alter table measured_piece drop column second_closed_inside_mm;

-- A former value is put back column by column, so it must not name one that is gone.
update change
set former = json_remove(former, '$.second_wire_typed', '$.second_wire_mm',
                         '$.second_ring_typed', '$.second_closed_inside_mm')
where record = 'measured_piece' and former is not null;
