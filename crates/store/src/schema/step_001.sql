-- Step 1: what a workshop keeps. Lengths as typed stand beside their millimetres. The number of a
-- removed record is never given to another (autoincrement), so that their histories stay apart.

-- One thing that was done, in words; every change belongs to one.
create table action (
    id        integer primary key,
    at_utc    text not null,
    what      text not null check (what <> ''),
    tap       text unique,                        -- token of the form; null: not from a form
    undoes    integer references action (id)      -- null: done for itself
) strict;

create index action_of_undone on action (undoes) where undoes is not null;

-- What a record was before an action.
create table change (
    id         integer primary key,
    action_id  integer not null references action (id),
    record     text not null,
    record_id  integer not null,
    kind       text not null check (kind in ('added', 'changed', 'removed')),
    former     text check (former is null or json_valid(former))   -- null: added
) strict;

create index change_of_record on change (record, record_id);
create index change_of_action on change (action_id);

-- What the program itself remembers; no record, no history.
create table setting (
    name   text primary key,
    value  text not null
) strict;

create table workshop (
    id                 integer primary key check (id = 1),
    name               text not null check (name <> ''),
    confidence         text not null,             -- as typed: "95 %"
    end_turns          integer not null check (end_turns >= 0),
    stop_turns         integer check (stop_turns >= 0),   -- null: worked out
    tails              text not null,             -- as typed
    packing            real not null check (packing >= 1),
    set_up_minutes     real not null check (set_up_minutes >= 0),
    per_coil_minutes   real not null check (per_coil_minutes >= 0),
    sample             integer not null check (sample in (0, 1))
) strict;

create table metal_overlay (
    id      integer primary key autoincrement,
    metal   text not null unique,                 -- its key
    entry   text not null                         -- as in a metals file
) strict;

create table wire_lot (
    id                          integer primary key autoincrement,
    name                        text not null unique check (name <> ''),
    metal                       text not null,
    temper                      text not null,
    diameter_typed              text not null,
    diameter_mm                 real not null check (diameter_mm > 0),
    measured_diameter_typed     text,
    measured_diameter_mm        real check (measured_diameter_mm > 0),
    measured_density_g_cm3      real check (measured_density_g_cm3 > 0),
    length_typed                text,             -- on the reel as bought: length or mass
    mass_typed                  text,
    annealed                    integer not null check (annealed in (0, 1)),
    price_typed                 text,
    price_date                  text,
    supplier                    text not null,
    bought_on                   text,
    note                        text not null,
    finished_on                 text,             -- null: still in use
    finished_why                text not null,
    check ((length_typed is null) <> (mass_typed is null))
) strict;

create table rod (
    id              integer primary key autoincrement,
    name            text not null unique check (name <> ''),
    marked_typed    text not null,
    marked_mm       real not null check (marked_mm > 0),
    measured_typed  text,
    measured_mm     real check (measured_mm > 0),
    note            text not null,
    retired_on      text,
    retired_why     text not null
) strict;

create table blade (
    id              integer primary key autoincrement,
    name            text not null unique check (name <> ''),
    diameter_typed  text not null,
    diameter_mm     real not null check (diameter_mm > 0),
    kerf_typed      text not null,
    kerf_mm         real not null check (kerf_mm > 0),
    teeth           integer check (teeth > 0),
    hub_typed       text,
    hub_mm          real check (hub_mm > 0),
    fitted_on       text,
    rings_before    integer not null check (rings_before >= 0),   -- cut before records began
    cut_before_mm2  real not null check (cut_before_mm2 >= 0),
    retired_on      text,
    retired_why     text not null,
    note            text not null
) strict;

create table holder (
    id                   integer primary key autoincrement,
    name                 text not null unique check (name <> ''),
    length_typed         text not null,
    head_start_typed     text,                    -- null: worked out
    stop_setback_typed   text,                    -- null: not measured
    squash_typed         text not null,
    margin_typed         text not null,
    projection_blade_id  integer references blade (id),
    projection_typed     text,                    -- measured with that blade
    in_use               integer not null check (in_use in (0, 1)),
    note                 text not null,
    check ((projection_blade_id is null) = (projection_typed is null))
) strict;

create table ring_order (
    id         integer primary key autoincrement,
    name       text not null unique check (name <> ''),
    asked_on   text not null,
    due_on     text,
    buyer      text not null,                     -- never printed on public paper
    note       text not null,
    closed_on  text                               -- null: open
) strict;

create table order_line (
    id                  integer primary key autoincrement,
    order_id            integer not null references ring_order (id),
    position            integer not null,
    name                text not null check (name <> ''),
    kind                text not null check (kind in ('rings', 'chain', 'kits')),
    rings               integer check (rings > 0),
    chain_length_typed  text,
    clasp_typed         text,
    kits                integer check (kits > 0),
    rings_each          integer check (rings_each > 0),
    spare_each          integer check (spare_each >= 0),
    metal               text not null,
    temper              text not null,
    wire_typed          text not null,
    wire_mm             real not null check (wire_mm > 0),
    ring_typed          text,                     -- size with inside or outside, open or closed
    tolerance_typed     text,
    rod_typed           text,                     -- or whatever comes off this rod
    spare_typed         text,
    unique (order_id, position),
    check ((ring_typed is null) <> (rod_typed is null))
) strict;

create index order_line_of_order on order_line (order_id);

-- A plan as it stood when a run was started: what went in, and what came out.
create table frozen_sheet (
    id               integer primary key autoincrement,
    order_id         integer not null references ring_order (id),
    line_name        text not null,
    frozen_at        text not null,
    program_version  text not null,
    inputs           text not null check (json_valid(inputs)),
    answer           text not null check (json_valid(answer))
) strict;

create index frozen_sheet_of_order on frozen_sheet (order_id);

-- Work at the bench from one frozen sheet.
create table run (
    id               integer primary key autoincrement,
    frozen_sheet_id  integer not null references frozen_sheet (id),
    name             text not null check (name <> ''),
    started_at       text not null,
    finished_at      text,                        -- null: in hand
    step             text not null,               -- where the bench is
    coil_number      integer not null check (coil_number >= 1),
    wire_lot_id      integer references wire_lot (id),
    wire_in_g        real check (wire_in_g > 0),
    annealed_at      text,                        -- null: not annealed in this run
    anneal_skipped   integer not null check (anneal_skipped in (0, 1)),
    set_aside_why    text,                        -- null: being worked at
    called_off_why   text,                        -- null: not called off
    note             text not null
) strict;

create index run_of_sheet on run (frozen_sheet_id);

create table coil (
    id             integer primary key autoincrement,
    run_id         integer not null references run (id),
    number         integer not null check (number >= 1),
    turns_target   integer not null check (turns_target > 0),    -- wound turns of the sheet
    turns_wound    integer not null check (turns_wound >= 0),
    wound_at       text,
    turns_relaxed  real check (turns_relaxed > 0),
    off_at         text,
    pieces         integer check (pieces >= 1),   -- cut into so many for the holder
    blade_id       integer references blade (id),
    projection_typed  text,                       -- null: as the sheet has it
    projection_mm  real check (projection_mm > 0),
    clamped_at     text,
    slit_at        text,
    good           integer not null check (good >= 0),
    uncut          integer not null check (uncut >= 0),
    nicked         integer not null check (nicked >= 0),        -- or bent
    crushed        integer not null check (crushed >= 0),
    counted_at     text,
    blade_event    text not null check (blade_event in ('none', 'broke', 'dulled', 'jammed')),
    note           text not null,
    unique (run_id, number)
) strict;

create index coil_of_blade on coil (blade_id);

-- One tick of a check list.
create table tick (
    id           integer primary key autoincrement,
    run_id       integer not null references run (id),
    coil_number  integer not null,
    item         text not null,
    ticked_at    text not null,
    unique (run_id, coil_number, item)
) strict;

-- One ring measured in a run.
create table reading (
    id         integer primary key autoincrement,
    run_id     integer not null references run (id),
    position   integer not null check (position >= 1),
    typed      text not null,
    inside_mm  real not null check (inside_mm > 0),
    unique (run_id, position)
) strict;

-- One recorded go with one setting.
create table trial (
    id                 integer primary key autoincrement,
    tried_on           text not null,
    source             text not null check (source in ('run', 'typed', 'card', 'imported')),
    metal              text not null,
    temper             text not null,
    annealed           integer not null check (annealed in (0, 1)),
    wire_typed         text not null,
    wire_mm            real not null check (wire_mm > 0),
    rod_typed          text not null,
    rod_mm             real not null check (rod_mm > 0),
    wire_lot_id        integer references wire_lot (id),
    blade_id           integer references blade (id),
    blade_name         text not null,             -- '': not noted
    blade_diameter_mm  real check (blade_diameter_mm > 0),
    projection_typed   text,
    projection_mm      real check (projection_mm > 0),
    inside_typed       text,                      -- readings as typed
    inside_mean_mm     real check (inside_mean_mm > 0),
    inside_readings    integer check (inside_readings >= 1),
    turns_wound        integer check (turns_wound > 0),
    turns_relaxed      real check (turns_relaxed > 0),
    good               integer check (good >= 0), -- null: not counted
    uncut              integer check (uncut >= 0),
    nicked             integer check (nicked >= 0),
    crushed            integer check (crushed >= 0),
    blade_event        text not null check (blade_event in ('none', 'broke', 'dulled', 'jammed')),
    outcome            text not null check (outcome in ('good', 'poor', 'failed')),
    run_id             integer references run (id),
    coil_number        integer,
    worker             text not null,             -- never printed on public paper
    note               text not null
) strict;

-- With all that the chart of best-tried blades counts, so that it reads nothing else.
create index trial_of_wire_and_rod
    on trial (wire_mm, rod_mm, metal, outcome, blade_id, blade_name, tried_on);
create index trial_of_rod on trial (rod_mm);
create index trial_of_metal on trial (metal, tried_on);
create index trial_of_date on trial (tried_on);
create index trial_of_run on trial (run_id);
create index trial_of_blade on trial (blade_id);
create index trial_of_lot on trial (wire_lot_id);

create table batch (
    id                 integer primary key autoincrement,
    code               text not null unique check (code <> ''),
    made_on            text not null,
    run_id             integer references run (id),
    wire_lot_id        integer references wire_lot (id),
    metal              text not null,
    temper             text not null,
    wire_typed         text not null,
    wire_mm            real not null check (wire_mm > 0),
    rod_typed          text,
    rod_mm             real check (rod_mm > 0),
    inside_mm          real check (inside_mm > 0),            -- open, mean of the readings
    inside_readings    integer check (inside_readings >= 1),
    closed_inside_mm   real check (closed_inside_mm > 0),
    closed_how         text not null,             -- measured, or from which kerf
    rings              integer not null check (rings >= 0),
    rings_uncertainty  real check (rings_uncertainty >= 0),   -- two sigma; null: counted one by one
    counted_how        text not null,
    place              text not null,
    note               text not null,
    gone_on            text                       -- null: on the shelf
) strict;

create index batch_of_date on batch (made_on);
create index batch_of_run on batch (run_id);

-- A sheet as it was handed out or put on a wall.
create table handout (
    id        integer primary key autoincrement,
    kind      text not null,
    version   integer not null check (version >= 1),
    title     text not null check (title <> ''),
    made_on   text not null,
    trials    integer not null check (trials >= 0),
    content   text not null check (json_valid(content)),
    unique (kind, title, version)
) strict;

create table handout_given (
    id          integer primary key autoincrement,
    handout_id  integer not null references handout (id),
    class_name  text not null check (class_name <> ''),
    given_on    text not null
) strict;

-- A table of old trials between its upload and its import; no record, gone after a day.
create table import_staging (
    id       integer primary key,
    made_at  text not null,
    name     text not null,
    content  text not null check (json_valid(content))
) strict;

-- A picture, kept once however often it is shown; re-encoded and never changed.
create table image (
    id         integer primary key autoincrement,
    sha256     text not null unique,
    width_px   integer not null check (width_px > 0),
    height_px  integer not null check (height_px > 0),
    jpeg       blob not null
) strict;

create table photo (
    id         integer primary key autoincrement,
    record     text not null,
    record_id  integer not null,
    image_id   integer not null references image (id),
    taken_on   text not null,
    caption    text not null
) strict;

create index photo_of_record on photo (record, record_id);

-- A cause found at the bench for something that went wrong.
create table fault (
    id        integer primary key autoincrement,
    symptom   text not null,                      -- its code in the list of faults
    cause     text not null,
    found_on  text not null,
    run_id    integer references run (id),
    blade_id  integer references blade (id),
    note      text not null
) strict;

create index fault_of_symptom on fault (symptom);
