-- Step 5: what other workshops' trials teach, loaded from their condensed files.

create table other_workshop (
    id         integer primary key autoincrement,
    name       text not null check (name <> ''),   -- what this workshop calls the file
    loaded_on  text not null,
    trials     integer not null check (trials >= 1),
    cells      integer not null check (cells >= 1),
    in_use     integer not null check (in_use in (0, 1)),  -- 0: loaded, but not learned from
    content    text not null check (json_valid(content))   -- as docs/pooling-file.md describes it
) strict;
