-- Step 2: what is looked for by a word, a blade, an outcome or a label is found by an index.

-- The numbers of trials in whose words any three letters stand in a row. What it finds is then
-- compared with what was typed. The words themselves stay with the trial; triggers keep it in step.
create virtual table trial_words using fts5 (
    metal, temper, blade_name, note,
    content = 'trial', content_rowid = 'id', tokenize = 'trigram', detail = none, columnsize = 0
);

insert into trial_words (trial_words) values ('rebuild');

create trigger trial_words_added after insert on trial begin
    insert into trial_words (rowid, metal, temper, blade_name, note)
    values (new.id, new.metal, new.temper, new.blade_name, new.note);
end;

create trigger trial_words_removed after delete on trial begin
    insert into trial_words (trial_words, rowid, metal, temper, blade_name, note)
    values ('delete', old.id, old.metal, old.temper, old.blade_name, old.note);
end;

create trigger trial_words_changed after update on trial begin
    insert into trial_words (trial_words, rowid, metal, temper, blade_name, note)
    values ('delete', old.id, old.metal, old.temper, old.blade_name, old.note);
    insert into trial_words (rowid, metal, temper, blade_name, note)
    values (new.id, new.metal, new.temper, new.blade_name, new.note);
end;

create index trial_of_blade_name on trial (blade_name collate nocase, tried_on);
create index trial_of_outcome on trial (outcome, tried_on);

-- A label is read whatever the case of its letters.
create index batch_of_code on batch (code collate nocase);
