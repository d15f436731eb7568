//! Solves the table of linked patterns anew and writes it into `linkage`.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result, ensure};
use linkwright_linkage::pattern::{Cell, Pattern, craft, measured_links};
use linkwright_linkage::solve::{Patient, Search, Way, room, thickest_wire};
use linkwright_linkage::table::{
    Bends, Computed, ComputedBends, ComputedLastRings, ComputedRow, Entry, Row, compute,
    compute_bends, compute_last_rings, compute_row, entries, pose_from_numbers,
};

use crate::process;
use crate::versus::stopwatch;

const TABLE: &str = "crates/linkage/src/table/data.rs";
const SEARCH: Search = Search { starts: 12, seed: 1 };
/// Rows solved again by `--check`: one of every so many patterns, the middle row.
const SAMPLE_EVERY: usize = 4;
const SAMPLE_SEARCH: Search = Search { starts: 4, seed: 2 };
/// Poses are written with seven decimals; distances then round by a few times that, as a share of the
/// wire.
const ROUNDED: f64 = 1e-5;
/// Patterns whose bends and last rings `--check` solves again.
const HANDLED_AGAIN: [&str; 2] = ["half_persian_3in1", "pairs_and_singles"];
/// Of these, the one whose bends edgewise are solved again, too: near its limit the other is steeper
/// than any tolerance.
const EDGEWISE_AGAIN: &str = "half_persian_3in1";
/// Share of a bend by which another machine may find it tighter or less tight, over the face and edgewise,
/// and wires by which a last ring may open further or less: last digits decide where a search ends.
/// Edgewise the tightest bends lie where the chain is about to roll over, and few climbs end just there.
const BENDS_WITHIN: [f64; 2] = [0.05, 1.0 / 3.0];
const LAST_RING_WITHIN: f64 = 0.02;
/// A fresh search may miss the table's best, or beat it, by this share.
const SAMPLE_WITHIN: f64 = 2e-3;

/// The two ways a chain is bent, in the order in which the table has them.
const WAYS: [Way; 2] = [Way::OverFace, Way::Edgewise];

/// Everything the table holds of one pattern.
struct Solved {
    lengths: Computed,
    handling: Handling,
}

/// How it bends over its face and edgewise, and the room for its last ring.
struct Handling {
    bends: [ComputedBends; 2],
    last_ring: ComputedLastRings,
}

/// `cargo xtask chain-tables`: writes the table; with names of patterns it solves these and keeps the
/// rest as it stands, with `--lengths` or `--handling` (bends and last rings) it solves these alone;
/// `--check` solves a sample again and compares.
pub fn run(arguments: &[String]) -> Result<()> {
    if arguments.iter().any(|word| word == "--check") {
        return check();
    }
    let (flags, names): (Vec<&String>, Vec<&String>) =
        arguments.iter().partition(|word| word.starts_with("--"));
    for name in &names {
        ensure!(craft::named(name).is_some(), "there is no pattern {name}");
    }
    let is_asked = |part: &str| flags.is_empty() || flags.iter().any(|flag| *flag == part);
    let mut solved = Vec::new();
    for spec in craft::all() {
        let pattern = Pattern::new(spec)?;
        let stands = entries().iter().find(|entry| entry.name == pattern.name());
        let wanted = names.is_empty() || names.iter().any(|name| *name == pattern.name());
        let kept = |part: &str| stands.filter(|_| !(wanted && is_asked(part)));
        let lengths = match kept("--lengths") {
            Some(entry) => {
                as_it_stands(entry, &pattern).context("the table does not fit its patterns")?
            }
            None => solved_lengths(&pattern)?,
        };
        let handling = match kept("--handling") {
            Some(entry) => handling_as_it_stands(entry),
            None => solved_handling(&pattern, lengths.aspect_ratio_min)?,
        };
        solved.push((pattern.name().to_owned(), Solved { lengths, handling }));
    }
    let path = process::root().join(TABLE);
    fs::write(&path, written(&solved)?).with_context(|| format!("cannot write {TABLE}"))
}

fn solved_lengths(pattern: &Pattern) -> Result<Computed> {
    let (took, one) = stopwatch(|| compute(pattern, SEARCH, &mut Patient));
    let one = one?;
    eprintln!(
        "{}: {} rows in {:.1} s, within {:.1e}",
        pattern.name(),
        one.rows.len(),
        took.as_secs_f64(),
        one.within,
    );
    Ok(one)
}

/// Bends and last rings from the limit as the table has it: nothing else of the lengths enters, so that
/// they come out alike whether the lengths were solved just before or stand there already.
fn solved_handling(pattern: &Pattern, least: f64) -> Result<Handling> {
    let (took, handling) = stopwatch(|| -> Result<Handling> {
        let slack = thickest_wire(pattern, SEARCH, &mut Patient)?.pose;
        Ok(Handling {
            bends: solved_bends(pattern, least)?,
            last_ring: compute_last_rings(pattern, &slack, least, &mut Patient)?,
        })
    });
    let handling = handling?;
    let [over_face, edgewise] = &handling.bends;
    let of_bends = |bends: &ComputedBends| {
        format!("{} rows within {:.2} deg", bends.rows.len(), bends.within_deg)
    };
    eprintln!(
        "{}: bends over face {}, edgewise {}; last ring {} rows within {:.2} wires; {:.1} s",
        pattern.name(),
        of_bends(over_face),
        of_bends(edgewise),
        handling.last_ring.rows.len(),
        handling.last_ring.within,
        took.as_secs_f64(),
    );
    Ok(handling)
}

fn solved_bends(pattern: &Pattern, least: f64) -> Result<[ComputedBends; 2]> {
    let bends = |way| compute_bends(pattern, least, way, SEARCH.seed, &mut Patient);
    let [over_face, edgewise] = WAYS;
    Ok([bends(over_face)?, bends(edgewise)?])
}

fn handling_as_it_stands(entry: &Entry) -> Handling {
    Handling {
        bends: [&entry.over_face, &entry.edgewise].map(ComputedBends::from),
        last_ring: ComputedLastRings {
            rows: entry.last_ring.rows.to_vec(),
            within: entry.last_ring.within,
        },
    }
}

fn as_it_stands(entry: &Entry, pattern: &Pattern) -> Option<Computed> {
    let row = |row: &Row| {
        Some(ComputedRow {
            aspect_ratio: row.aspect_ratio,
            advance: row.advance,
            across: row.across,
            width: row.width,
            thickness: row.thickness,
            starts: row.starts,
            hits: row.hits,
            pose: pose_from_numbers(pattern.start(), row.pose)?,
        })
    };
    Some(Computed {
        aspect_ratio_min: entry.aspect_ratio_min,
        limit_starts: entry.limit_starts,
        limit_hits: entry.limit_hits,
        within: entry.within,
        rows: entry.rows.iter().map(row).collect::<Option<_>>()?,
    })
}

/// Every row's pose stands: rings apart by their wires, linked as the pattern says, as long as the row
/// says. A sample is solved again from nothing: nothing longer turns up, nor anything shorter.
fn check() -> Result<()> {
    for spec in craft::all() {
        ensure!(
            entries().iter().any(|entry| entry.name == spec.name),
            "{} is not in {TABLE}; run `cargo xtask chain-tables`",
            spec.name
        );
    }
    for entry in entries() {
        let spec = craft::named(entry.name)
            .with_context(|| format!("{TABLE} has {}, which is no pattern", entry.name))?;
        let pattern = Pattern::new(spec)?;
        for row in entry.rows {
            check_row(&pattern, row)
                .with_context(|| format!("{} at aspect ratio {}", entry.name, row.aspect_ratio))?;
        }
    }
    for name in HANDLED_AGAIN {
        let entry = entries().iter().find(|entry| entry.name == name);
        check_handling(entry.with_context(|| format!("{name} is not in {TABLE}"))?)
            .with_context(|| format!("how {name} handles"))?;
    }
    for entry in entries().iter().step_by(SAMPLE_EVERY) {
        let Some(row) = entry.rows.get(entry.rows.len() / 2) else {
            continue;
        };
        let pattern = Pattern::new(craft::named(entry.name).context("no pattern")?)?;
        let fresh = compute_row(&pattern, row.aspect_ratio, SAMPLE_SEARCH, &[], &mut Patient)?
            .with_context(|| format!("{} cannot be solved any more", entry.name))?;
        let off = (fresh.advance - row.advance) / row.advance;
        ensure!(
            off.abs() < SAMPLE_WITHIN,
            "{} at aspect ratio {}: the table says {}, solved again {}",
            entry.name,
            row.aspect_ratio,
            row.advance,
            fresh.advance
        );
    }
    Ok(())
}

/// Bends and last rings of a pattern solved again: what the table says at every aspect ratio that was
/// solved.
fn check_handling(entry: &Entry) -> Result<()> {
    let pattern = Pattern::new(craft::named(entry.name).context("no pattern")?)?;
    let least = entry.aspect_ratio_min;
    for (way, within) in WAYS.into_iter().zip(BENDS_WITHIN) {
        if way == Way::OverFace || entry.name == EDGEWISE_AGAIN {
            let again = compute_bends(&pattern, least, way, SEARCH.seed, &mut Patient)?;
            check_bends(entry.bends(way), &again, within).with_context(|| format!("{way:?}"))?;
        }
    }
    let slack = thickest_wire(&pattern, SEARCH, &mut Patient)?.pose;
    for row in &compute_last_rings(&pattern, &slack, least, &mut Patient)?.rows {
        let Some(says) = entry.last_ring.at(row.aspect_ratio) else {
            continue;
        };
        ensure!(
            (says.ends_apart - row.ends_apart).abs() < LAST_RING_WITHIN + entry.last_ring.within,
            "at aspect ratio {} the table opens the last ring by {:.3} wires, solved again {:.3}",
            row.aspect_ratio,
            says.ends_apart,
            row.ends_apart
        );
    }
    Ok(())
}

fn check_bends(table: &Bends, again: &ComputedBends, within: f64) -> Result<()> {
    for row in &again.rows {
        let Some(says) = table.at(row.aspect_ratio) else {
            continue;
        };
        let off_deg = (says.row.turn_deg - row.turn_deg).abs();
        ensure!(
            off_deg < within * row.turn_deg + table.within_deg || says.limp,
            "at aspect ratio {} the table says {:.2} degrees a cell, solved again {:.2}",
            row.aspect_ratio,
            says.row.turn_deg,
            row.turn_deg
        );
    }
    Ok(())
}

fn check_row(pattern: &Pattern, row: &Row) -> Result<()> {
    let pose = pose_from_numbers(pattern.start(), row.pose).context("a pose of another size")?;
    let wire = 2.0 / (row.aspect_ratio + 1.0);
    let short = 1.0 - room(&pose) / wire;
    ensure!(short < ROUNDED, "wires lie in each other by {short:.1e} of the wire");
    ensure!(measured_links(&pose) == measured_links(pattern.start()), "the links differ");
    let advance = match pose.cell {
        Cell::Screw { period, .. } => period / wire,
        Cell::Lattice { along, .. } => along / wire,
        _ => row.advance,
    };
    let off = (advance - row.advance).abs() / row.advance;
    ensure!(off < ROUNDED, "the pose is {advance} long, the row says {}", row.advance);
    Ok(())
}

/// The text of the table. Lengths are kept to six decimals, far finer than the solver's searches
/// agree; poses to seven.
fn written(solved: &[(String, Solved)]) -> Result<String> {
    let mut out = String::from(
        "// Generated by `cargo xtask chain-tables`; edit the patterns or the solver, not this file.\n\
         //! The table itself.\n\n\
         use super::{BendRow, Bends, Entry, LastRingRow, LastRings, Row};\n\n\
         /// How the table was made.\n",
    );
    writeln!(
        out,
        "pub const PROVENANCE: &str =\n    \"solved by linkwright-linkage {} with {} starts a row, seed \
         {}; lengths pulled along\";\n",
        env!("CARGO_PKG_VERSION"),
        SEARCH.starts,
        SEARCH.seed
    )?;
    out.push_str(
        "#[allow(clippy::approx_constant, reason = \"a solved angle may be a right one\")]\n",
    );
    out.push_str("#[rustfmt::skip]\npub(super) const ENTRIES: &[Entry] = &[\n");
    for (name, Solved { lengths: one, handling }) in solved {
        writeln!(
            out,
            "    Entry {{ name: {name:?}, aspect_ratio_min: {:.6}, limit_starts: {}, limit_hits: {}, \
             within: {:.1e},",
            one.aspect_ratio_min, one.limit_starts, one.limit_hits, one.within
        )?;
        out.push_str("        rows: &[\n");
        for row in &one.rows {
            write!(
                out,
                "            Row {{ aspect_ratio: {:.6}, advance: {:.6}, across: {:.6}, width: {:.4}, \
                 thickness: {:.4}, starts: {}, hits: {}, pose: &[",
                row.aspect_ratio,
                row.advance,
                row.across,
                row.width,
                row.thickness,
                row.starts,
                row.hits
            )?;
            let numbers: Vec<String> = row.numbers().iter().map(|n| format!("{n:.7}")).collect();
            writeln!(out, "{}] }},", numbers.join(", "))?;
        }
        out.push_str("        ],\n");
        let [over_face, edgewise] = &handling.bends;
        write_bends(&mut out, "over_face", over_face)?;
        write_bends(&mut out, "edgewise", edgewise)?;
        write_last_ring(&mut out, &handling.last_ring)?;
        out.push_str("    },\n");
    }
    out.push_str("];\n");
    Ok(out)
}

fn write_bends(out: &mut String, name: &str, bends: &ComputedBends) -> Result<()> {
    writeln!(
        out,
        "        {name}: Bends {{ limp_from_last: {}, within_deg: {:.2}, rows: &[",
        bends.limp_from_last, bends.within_deg
    )?;
    for row in &bends.rows {
        writeln!(
            out,
            "            BendRow {{ aspect_ratio: {:.6}, turn_deg: {:.3}, inside_radius: {:.4}, \
             middle_radius: {:.4}, starts: {}, hits: {} }},",
            row.aspect_ratio,
            row.turn_deg,
            row.inside_radius,
            row.middle_radius,
            row.starts,
            row.hits
        )?;
    }
    out.push_str("        ] },\n");
    Ok(())
}

fn write_last_ring(out: &mut String, last: &ComputedLastRings) -> Result<()> {
    writeln!(out, "        last_ring: LastRings {{ within: {:.3}, rows: &[", last.within)?;
    for row in &last.rows {
        writeln!(
            out,
            "            LastRingRow {{ aspect_ratio: {:.6}, ring: {}, ends_apart: {:.4}, needed: {:?} }},",
            row.aspect_ratio, row.ring, row.ends_apart, row.needed
        )?;
    }
    out.push_str("        ] },\n");
    Ok(())
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::pattern::{Pattern, craft};
    use linkwright_linkage::solve::{Patient, Search};
    use linkwright_linkage::table::{ComputedLastRings, compute};

    use super::{Handling, Solved, solved_bends, written};

    #[test]
    fn a_whole_run_writes_the_bends_that_a_run_of_bends_alone_writes() {
        // At its limit a cable chain bends by two degrees more or less with the ninth digit of it.
        let pattern = Pattern::new(craft::named("cable_1in1").expect("known")).expect("valid");
        let lengths = compute(&pattern, Search { starts: 1, seed: 1 }, &mut Patient);
        let lengths = lengths.expect("not stopped");
        let text = |least: f64| {
            let bends = solved_bends(&pattern, least).expect("not stopped");
            let handling = Handling { bends, last_ring: ComputedLastRings::default() };
            let solved = Solved { lengths: lengths.clone(), handling };
            written(&[(pattern.name().to_owned(), solved)]).expect("written")
        };
        let whole = text(lengths.aspect_ratio_min);
        // What a run with `--handling` reads in the table.
        let (_, after) = whole.split_once("aspect_ratio_min: ").expect("a limit");
        let (limit, _) = after.split_once(',').expect("a limit");
        assert_eq!(text(limit.parse().expect("a number")), whole);
    }
}
