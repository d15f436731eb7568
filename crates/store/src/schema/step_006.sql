-- Step 6: orders of linked patterns, and pieces that were linked and measured.

-- A chain, a sheet or kits of a pattern; without one, a chain is one ring in the next.
alter table order_line add column pattern text check (pattern <> '');
-- What the piece goes round, in place of its length, and how much longer it is to be.
alter table order_line add column girth_typed text;
alter table order_line add column ease_typed text;
-- Width of a sheet; its length is chain_length_typed.
alter table order_line add column across_typed text;
alter table order_line add column end_rings integer check (end_rings > 0);
-- The second ring size of a pattern of two.
alter table order_line add column second_wire_typed text;
alter table order_line add column second_ring_typed text;
alter table order_line add column second_tolerance_typed text;
alter table order_line add column second_rod_typed text;

create table measured_piece (
    id                       integer primary key autoincrement,
    pattern                  text not null check (pattern <> ''),
    measured_on              text not null,
    metal                    text not null,          -- as typed; '' where it was not said
    wire_typed               text not null,
    wire_mm                  real not null check (wire_mm > 0),
    ring_typed               text not null,          -- with inside or outside, open or closed
    closed_inside_mm         real not null check (closed_inside_mm > 0),
    second_wire_typed        text,
    second_wire_mm           real check (second_wire_mm > 0),
    second_ring_typed        text,
    second_closed_inside_mm  real check (second_closed_inside_mm > 0),
    rings                    integer not null check (rings > 0),  -- of all sizes
    length_typed             text not null,
    length_mm                real not null check (length_mm > 0), -- over all, pulled straight
    note                     text not null
) strict;

create index measured_piece_of_pattern on measured_piece (pattern);
