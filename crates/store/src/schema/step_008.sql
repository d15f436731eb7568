-- Step 8: patterns of one's own.

create table own_pattern (
    id                integer primary key autoincrement,
    name              text not null unique check (name <> ''),  -- its key, by which orders name it
    title             text not null,
    text              text not null check (text <> ''),         -- the pattern file, as docs/pattern-file.md describes it
    start             text,           -- where the search found its rings to lie; null: rough places say it
    shown             text,           -- where they lie pulled taut, mm; null: the file's rings do not go together
    aspect_ratio_min  real not null check (aspect_ratio_min > 0),  -- of the rings in the file's own proportions
    added_on          text not null
) strict;

-- What orders and pieces that were made say of patterns is looked up by their keys.
create index order_line_of_pattern on order_line (pattern) where pattern is not null;
