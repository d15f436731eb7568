-- One invented row in every table of step 9, as that step's programs wrote them. Never changed once
-- a data file of this step is in the field: it stands for all of those.

insert into action (id, at_utc, what, tap, undoes) values
    (1, '2026-11-02T08:00:00.000Z', 'Set the workshop up', 'token-1', null);

insert into workshop (id, name, confidence, end_turns, stop_turns, tails, packing, set_up_minutes,
                      per_coil_minutes, sample,
    hour_cost_typed, ring_worth_typed, scrap_paid_typed) values
    (1, 'Sample workshop', '95 %', 2, null, '60 mm', 1.02, 15, 6, 1, '38 EUR', '0.20 EUR', '80 %');

insert into metal_overlay (id, metal, entry) values
    (1, 'studio-bronze', 'name = "Studio bronze"');

insert into wire_lot (id, name, metal, temper, diameter_typed, diameter_mm, measured_diameter_typed,
                      measured_diameter_mm, measured_density_g_cm3, length_typed, mass_typed,
                      annealed, price_typed, price_date, supplier, bought_on, note, finished_on,
                      finished_why) values
    (1, 'copper A', 'copper', 'soft', '18 awg', 1.024, '1.02 mm', 1.02, 8.93, null, '500 g', 0,
     '0.03 EUR per g', '2026-10-01', 'an invented supplier', '2026-10-01', '', null, '');

insert into rod (id, name, marked_typed, marked_mm, measured_typed, measured_mm, note, retired_on,
                 retired_why) values
    (1, '4.0', '4 mm', 4, '3.98 mm', 3.98, '', null, '');

insert into blade (id, name, diameter_typed, diameter_mm, kerf_typed, kerf_mm, teeth, hub_typed,
                   hub_mm, fitted_on, rings_before, cut_before_mm2, retired_on, retired_why, note)
values
    (1, 'fine', '25 mm', 25, '0.3 mm', 0.3, 110, '8 mm', 8, '2026-10-05', 200, 210.5, null, '', '');

insert into holder (id, name, length_typed, head_start_typed, stop_setback_typed, squash_typed,
                    margin_typed, projection_blade_id, projection_typed, in_use, note) values
    (1, 'brass', '60 mm', null, null, '0.1 mm', '0.3 mm', 1, '2.1 mm', 1, '');

insert into ring_order (id, name, asked_on, due_on, buyer, note, closed_on) values
    (1, 'Necklace', '2026-11-01', '2026-12-01', 'an invented buyer', '', null);

insert into order_line (id, order_id, position, name, kind, rings, chain_length_typed, clasp_typed,
                        kits, rings_each, spare_each, metal, temper, wire_typed, wire_mm, ring_typed,
                        tolerance_typed, rod_typed, spare_typed, pattern, girth_typed, ease_typed,
                        across_typed, end_rings) values
    (1, 1, 1, 'bracelet', 'chain', null, null, '12 mm', null, null, null, 'copper', 'soft', '18 awg',
     1.024, null, null, '4 mm', null, 'large_and_small', '160 mm', '12 mm', null, 2);

insert into further_ring (id, order_line_id, size, wire_typed, wire_mm, ring_typed, tolerance_typed,
                          rod_typed) values
    (1, 1, 2, '20 awg', 0.812, null, null, '2.5 mm');

insert into frozen_sheet (id, order_id, line_name, frozen_at, program_version, inputs, answer) values
    (1, 1, 'bracelet', '2026-11-02T09:00:00.000Z', '0.1.0', '{"order": "Necklace"}', '{"coils": 4}');

insert into run (id, frozen_sheet_id, name, started_at, finished_at, step, coil_number, wire_lot_id,
                 wire_in_g, annealed_at, anneal_skipped, set_aside_why, called_off_why, note) values
    (1, 1, 'Necklace, rings', '2026-11-02T09:00:00.000Z', null, 'count', 1, 1, 182.4, null, 1, null,
     null, '');

insert into coil (id, run_id, number, turns_target, turns_wound, wound_at, turns_relaxed, off_at,
                  pieces, blade_id, projection_typed, projection_mm, clamped_at, slit_at, good, uncut,
                  nicked, crushed, counted_at, blade_event, note) values
    (1, 1, 1, 110, 110, '2026-11-02T09:10:00.000Z', 108.5, '2026-11-02T09:12:00.000Z', 2, 1,
     '2.1 mm', 2.1, '2026-11-02T09:20:00.000Z', '2026-11-02T09:25:00.000Z', 101, 2, 3, 0,
     '2026-11-02T09:30:00.000Z', 'none', '');

insert into tick (id, run_id, coil_number, item, ticked_at) values
    (1, 1, 1, 'eye-protection', '2026-11-02T09:19:00.000Z');

insert into reading (id, run_id, position, typed, inside_mm) values
    (1, 1, 1, '4.06 mm', 4.06);

insert into trial (id, tried_on, source, metal, temper, annealed, wire_typed, wire_mm, rod_typed,
                   rod_mm, wire_lot_id, blade_id, blade_name, blade_diameter_mm, projection_typed,
                   projection_mm, inside_typed, inside_mean_mm, inside_readings, turns_wound,
                   turns_relaxed, good, uncut, nicked, crushed, blade_event, outcome, run_id,
                   coil_number, worker, note) values
    (1, '2026-11-02', 'run', 'copper', 'soft', 0, '18 awg', 1.024, '4.0', 3.98, 1, 1, 'fine', 25,
     '2.1 mm', 2.1, '4.06 mm', 4.06, 1, 110, 108.5, 101, 2, 3, 0, 'none', 'good', 1, 1, '', '');

insert into batch (id, code, made_on, run_id, wire_lot_id, metal, temper, wire_typed, wire_mm,
                   rod_typed, rod_mm, inside_mm, inside_readings, closed_inside_mm, closed_how, rings,
                   rings_uncertainty, counted_how, place, note, gone_on) values
    (1, 'K7', '2026-11-02', 1, 1, 'copper', 'soft', '18 awg', 1.024, '4.0', 3.98, 4.06, 1, 3.96,
     'kerf 0.3 mm', 101, null, 'one by one', 'drawer 2', '', null);

insert into handout (id, kind, version, title, made_on, trials, content) values
    (1, 'wall-chart', 1, 'Blades for copper', '2026-11-03', 1, '{"rows": []}');

insert into handout_given (id, handout_id, class_name, given_on) values
    (1, 1, 'Tuesday class', '2026-11-03');

insert into import_staging (id, made_at, name, content) values
    (1, '2026-11-02T10:00:00.000Z', 'old-table.csv', '[["18 awg", "4.0"]]');

insert into image (id, sha256, width_px, height_px, jpeg) values
    (1, 'ab12', 1, 1, x'ffd8ff');

insert into photo (id, record, record_id, image_id, taken_on, caption) values
    (1, 'batch', 1, 1, '2026-11-02', 'the first coil');

insert into fault (id, symptom, cause, found_on, run_id, blade_id, note) values
    (1, 'uncut', 'projection', '2026-11-02', 1, 1, '');

insert into setting (name, value) values ('theme', 'dark');

insert into other_workshop (id, name, loaded_on, trials, cells, in_use, content) values
    (1, 'shop.json', '2026-11-04', 24, 9, 1, '{"format": "linkwright-condensed-workshop"}');

insert into measured_piece (id, pattern, measured_on, metal, wire_typed, wire_mm, ring_typed,
                            closed_inside_mm, rings, length_typed, length_mm, note) values
    (1, 'large_and_small', '2026-11-05', 'copper', '18 awg', 1.024, '6.14 mm inside, open', 6.06,
     60, '310 mm', 310, '');

insert into ring_of_piece (id, measured_piece_id, size, wire_typed, wire_mm, ring_typed,
                           closed_inside_mm) values
    (1, 1, 2, '18 awg', 1.024, '4.06 mm inside, open', 3.98);

insert into own_pattern (id, name, title, text, start, shown, aspect_ratio_min, added_on) values
    (1, 'skipping_rope', 'rope in which every ring skips one', 'pattern = "skipping_rope"', '0 0 0 0 1 0 0.7 1.2', null,
     4.56, '2026-11-26');
