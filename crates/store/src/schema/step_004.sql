-- Step 4: a size leads to the newest trials of it, batches are found by words and sizes, and how
-- each blade did is counted as trials come and go.

-- Trials of one size stand in the order of their days, so that a page of them is read and no more.
drop index trial_of_wire_and_rod;
drop index trial_of_rod;
create index trial_of_both_sizes on trial (wire_mm, rod_mm, tried_on);
create index trial_of_wire_size on trial (wire_mm, tried_on);
create index trial_of_rod_size on trial (rod_mm, tried_on);

-- How a blade did with one wire on one rod in one metal: the sum of its trials, kept in step by
-- triggers. No record and without history, since all of it follows from the trials.
create table blade_tally (
    wire_mm    real not null,
    rod_mm     real not null,
    metal      text not null,
    blade_name text not null,                -- as noted with the trials
    blade_id   integer not null,             -- 0: none of the workshop's blades
    tried      integer not null check (tried > 0),
    good       integer not null check (good between 0 and tried),
    last_on    text not null,                -- day of the last of them
    primary key (wire_mm, rod_mm, metal, blade_name, blade_id)
) strict, without rowid;

insert into blade_tally
select wire_mm, rod_mm, metal, blade_name, coalesce(blade_id, 0), count(*), sum(outcome = 'good'),
       max(tried_on)
from trial group by 1, 2, 3, 4, 5;

create trigger blade_tally_added after insert on trial begin
    insert into blade_tally
    values (new.wire_mm, new.rod_mm, new.metal, new.blade_name, coalesce(new.blade_id, 0), 1,
            new.outcome = 'good', new.tried_on)
    on conflict do update set
        tried = tried + 1, good = good + excluded.good, last_on = max(last_on, excluded.last_on);
end;

-- The last day may have been that of the trial that goes, so it is looked for among those left.
create trigger blade_tally_removed after delete on trial begin
    delete from blade_tally
    where wire_mm = old.wire_mm and rod_mm = old.rod_mm and metal = old.metal
      and blade_name = old.blade_name and blade_id = coalesce(old.blade_id, 0) and tried = 1;
    update blade_tally set
        tried = tried - 1, good = good - (old.outcome = 'good'),
        last_on = coalesce(
            (select max(trial.tried_on) from trial
             where trial.wire_mm = old.wire_mm and trial.rod_mm = old.rod_mm
               and trial.metal = old.metal and trial.blade_name = old.blade_name
               and trial.blade_id is old.blade_id),
            last_on)
    where wire_mm = old.wire_mm and rod_mm = old.rod_mm and metal = old.metal
      and blade_name = old.blade_name and blade_id = coalesce(old.blade_id, 0);
end;

create trigger blade_tally_changed after update on trial begin
    delete from blade_tally
    where wire_mm = old.wire_mm and rod_mm = old.rod_mm and metal = old.metal
      and blade_name = old.blade_name and blade_id = coalesce(old.blade_id, 0) and tried = 1;
    update blade_tally set
        tried = tried - 1, good = good - (old.outcome = 'good'),
        last_on = coalesce(
            (select max(trial.tried_on) from trial
             where trial.wire_mm = old.wire_mm and trial.rod_mm = old.rod_mm
               and trial.metal = old.metal and trial.blade_name = old.blade_name
               and trial.blade_id is old.blade_id),
            last_on)
    where wire_mm = old.wire_mm and rod_mm = old.rod_mm and metal = old.metal
      and blade_name = old.blade_name and blade_id = coalesce(old.blade_id, 0);
    insert into blade_tally
    values (new.wire_mm, new.rod_mm, new.metal, new.blade_name, coalesce(new.blade_id, 0), 1,
            new.outcome = 'good', new.tried_on)
    on conflict do update set
        tried = tried + 1, good = good + excluded.good, last_on = max(last_on, excluded.last_on);
end;

-- The numbers of batches in whose words any three letters stand in a row, as `trial_words` is for
-- trials.
create virtual table batch_words using fts5 (
    code, metal, temper, place, note, wire_typed, rod_typed,
    content = 'batch', content_rowid = 'id', tokenize = 'trigram', detail = none, columnsize = 0
);

insert into batch_words (batch_words) values ('rebuild');

create trigger batch_words_added after insert on batch begin
    insert into batch_words (rowid, code, metal, temper, place, note, wire_typed, rod_typed)
    values (new.id, new.code, new.metal, new.temper, new.place, new.note, new.wire_typed,
            new.rod_typed);
end;

create trigger batch_words_removed after delete on batch begin
    insert into batch_words (batch_words, rowid, code, metal, temper, place, note, wire_typed,
                             rod_typed)
    values ('delete', old.id, old.code, old.metal, old.temper, old.place, old.note, old.wire_typed,
            old.rod_typed);
end;

create trigger batch_words_changed after update on batch begin
    insert into batch_words (batch_words, rowid, code, metal, temper, place, note, wire_typed,
                             rod_typed)
    values ('delete', old.id, old.code, old.metal, old.temper, old.place, old.note, old.wire_typed,
            old.rod_typed);
    insert into batch_words (rowid, code, metal, temper, place, note, wire_typed, rod_typed)
    values (new.id, new.code, new.metal, new.temper, new.place, new.note, new.wire_typed,
            new.rod_typed);
end;

create index batch_of_wire_size on batch (wire_mm);
create index batch_of_rod_size on batch (rod_mm);
create index batch_of_inside on batch (inside_mm);
create index batch_of_closed_inside on batch (closed_inside_mm);
create index batch_of_lot on batch (wire_lot_id);

-- The shelf is looked at in the order of days, and what is gone apart from it.
create index batch_on_shelf on batch (made_on) where gone_on is null;
create index batch_gone on batch (made_on) where gone_on is not null;
