//! Solves the table of linked patterns anew and writes it into `linkage`.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result, ensure};
use linkwright_linkage::pattern::{Cell, Pattern, craft, measured_links};
use linkwright_linkage::solve::{Patient, Search, room};
use linkwright_linkage::table::{
    Computed, ComputedRow, Entry, Row, compute, compute_row, entries, pose_from_numbers,
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
/// A fresh search may miss the table's best, or beat it, by this share.
const SAMPLE_WITHIN: f64 = 2e-3;

/// `cargo xtask chain-tables`: writes the table; with names of patterns it solves these and keeps the
/// rest as it stands; `--check` solves a sample again and compares.
pub fn run(arguments: &[String]) -> Result<()> {
    if arguments.iter().any(|word| word == "--check") {
        return check();
    }
    for name in arguments {
        ensure!(craft::named(name).is_some(), "there is no pattern {name}");
    }
    let mut computed = Vec::new();
    for spec in craft::all() {
        let pattern = Pattern::new(spec)?;
        let stands = entries().iter().find(|entry| entry.name == pattern.name());
        let one = match stands {
            Some(entry) if !arguments.is_empty() && !arguments.iter().any(|a| a == entry.name) => {
                as_it_stands(entry, &pattern).context("the table does not fit its patterns")?
            }
            _ => {
                let (took, one) = stopwatch(|| compute(&pattern, SEARCH, &mut Patient));
                let one = one?;
                eprintln!(
                    "{}: {} rows in {:.1} s, within {:.1e}",
                    pattern.name(),
                    one.rows.len(),
                    took.as_secs_f64(),
                    one.within
                );
                one
            }
        };
        computed.push((pattern.name().to_owned(), one));
    }
    let path = process::root().join(TABLE);
    fs::write(&path, written(&computed)?).with_context(|| format!("cannot write {TABLE}"))
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
fn written(computed: &[(String, Computed)]) -> Result<String> {
    let mut out = String::from(
        "// Generated by `cargo xtask chain-tables`; edit the patterns or the solver, not this file.\n\
         //! The table itself.\n\n\
         use super::{Entry, Row};\n\n\
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
    for (name, one) in computed {
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
        out.push_str("        ] },\n");
    }
    out.push_str("];\n");
    Ok(out)
}
