//! Solves the table of linked patterns anew and writes it into `linkage`.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result, ensure};
use linkwright_linkage::pattern::{Cell, Pattern, craft, measured_links};
use linkwright_linkage::solve::{Patient, Search, Way, room, thickest_wire};
use linkwright_linkage::table::{
    Computed, ComputedBends, ComputedLastRings, ComputedRow, Entry, Row, compute, compute_bends,
    compute_last_rings, compute_row, entries, pose_from_numbers,
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
/// Patterns whose bends over the face and last rings `--check` solves again.
const HANDLED_AGAIN: [&str; 2] = ["half_persian_3in1", "pairs_and_singles"];
/// Share of a bend by which another machine may find it tighter or less tight, and wires by which a
/// last ring may open further or less: last digits decide where a search ends.
const BEND_WITHIN: f64 = 0.05;
const LAST_RING_WITHIN: f64 = 0.02;
/// A fresh search may miss the table's best, or beat it, by this share.
const SAMPLE_WITHIN: f64 = 2e-3;

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
        "{}: {} rows in {:.1} s, within {:.1e}, steps at {:?}",
        pattern.name(),
        one.rows.len(),
        took.as_secs_f64(),
        one.within,
        one.steps.iter().map(|&at| one.rows[at].aspect_ratio).collect::<Vec<_>>(),
    );
    Ok(one)
}

fn solved_handling(pattern: &Pattern, least: f64) -> Result<Handling> {
    let (took, handling) = stopwatch(|| -> Result<Handling> {
        let bends = |way| compute_bends(pattern, least, way, SEARCH.seed, &mut Patient);
        let slack = thickest_wire(pattern, SEARCH, &mut Patient)?.pose;
        Ok(Handling {
            bends: [bends(Way::OverFace)?, bends(Way::Edgewise)?],
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

fn handling_as_it_stands(entry: &Entry) -> Handling {
    let bends = |bends| ComputedBends::as_they_stand(bends, entry.aspect_ratio_min);
    Handling {
        bends: [bends(&entry.over_face), bends(&entry.edgewise)],
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
        steps: entry.steps.to_vec(),
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

/// Bends over the face and last rings of a pattern solved again: what the table says at every aspect
/// ratio that was solved.
fn check_handling(entry: &Entry) -> Result<()> {
    let pattern = Pattern::new(craft::named(entry.name).context("no pattern")?)?;
    let least = entry.aspect_ratio_min;
    let bends = compute_bends(&pattern, least, Way::OverFace, SEARCH.seed, &mut Patient)?;
    for row in &bends.rows {
        // The table's limit is rounded to six digits, and so is its first row.
        let Some(says) = entry.over_face.at(row.aspect_ratio + 1e-6) else {
            continue;
        };
        let off_deg = (says.row.turn_deg - row.turn_deg).abs();
        ensure!(
            off_deg < BEND_WITHIN * row.turn_deg + entry.over_face.within_deg || says.limp,
            "at aspect ratio {} the table says {:.2} degrees a cell, solved again {:.2}",
            row.aspect_ratio,
            says.row.turn_deg,
            row.turn_deg
        );
    }
    let slack = thickest_wire(&pattern, SEARCH, &mut Patient)?.pose;
    for row in &compute_last_rings(&pattern, &slack, least, &mut Patient)?.rows {
        let Some(says) = entry.last_ring.at(row.aspect_ratio + 1e-6) else {
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
             within: {:.1e}, steps: &{:?},",
            one.aspect_ratio_min, one.limit_starts, one.limit_hits, one.within, one.steps
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
