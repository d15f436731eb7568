-- Step 7: an order line of a pattern may have any number of ring sizes.

-- A ring size of a line beyond its first, which is the line's own.
create table further_ring (
    id               integer primary key autoincrement,
    order_line_id    integer not null references order_line (id),
    size             integer not null check (size >= 2),  -- its place among the pattern's sizes
    wire_typed       text not null,
    wire_mm          real check (wire_mm > 0),            -- null: kept by step 6, as words alone
    ring_typed       text,                                -- size with inside or outside, open or closed
    tolerance_typed  text,
    rod_typed        text,                                -- or whatever comes off this rod
    unique (order_line_id, size),
    check ((ring_typed is null) <> (rod_typed is null))
) strict;

-- Step 6 had room for a second size, which no page ever filled.
insert into further_ring (order_line_id, size, wire_typed, ring_typed, tolerance_typed, rod_typed)
select id, 2, second_wire_typed, second_ring_typed, second_tolerance_typed, second_rod_typed
from order_line
where second_wire_typed is not null and (second_ring_typed is null) <> (second_rod_typed is null);

-- Booked to the action that added the line, so that both are taken back together.
insert into change (action_id, record, record_id, kind)
select action_id, 'further_ring', further_ring.id, 'added'
from further_ring
join change on record = 'order_line' and record_id = order_line_id and kind = 'added';

-- The triggers name every column; they are made anew after each step.
drop trigger order_line_changed;
drop trigger order_line_removed;

alter table order_line drop column second_wire_typed;
alter table order_line drop column second_ring_typed;
alter table order_line drop column second_tolerance_typed;
alter table order_line drop column second_rod_typed;

-- A former value is put back column by column, so it must not name one that is gone.
update change
set former = json_remove(former, '$.second_wire_typed', '$.second_ring_typed',
                         '$.second_tolerance_typed', '$.second_rod_typed')
where record = 'order_line' and former is not null;
