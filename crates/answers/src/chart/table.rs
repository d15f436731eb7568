//! Trials and cells as tables with commas: one coil or one cell a line, columns found by name.

use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::{Length, Stress};
use linkwright_calc::slit::{AxisHeight, Blade, BladeParts, Kerf};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, Counts, TrialBlade, TrialRow};

use super::column::{CELL, COUNTS, Row};
use super::{TableError, metal_key, yield_strength};

/// Reads trials: the columns of a cell and the counts of its coil.
///
/// # Units
/// Lengths in millimetres, counts in turns.
/// # Validity
/// Columns are found by their heading; others, such as `session`, are left alone. `yield_mpa` and
/// `rings_cut_since_new` may be there; without the first the table of metals is asked.
/// # Errors
/// [`TableError`] names file, line, column and what would be accepted; nothing is read in part.
///
/// ```
/// use linkwright_answers::chart::read_trials;
/// use linkwright_calc::metal::Catalogue;
/// let table = "\
/// wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,temper,taped,lube,operator,\
/// turns,axis_height_mm,entry_lost,stop_lost,crushed,uncut,deformed,good
/// 1.02,4,small,31.75,0.2,160,sterling,annealed,1,1,,63,14.35,1,1,0,2,0,59
/// ";
/// let trials = read_trials("trials.csv", table, &Catalogue::built_in()).unwrap();
/// assert_eq!(trials[0].counts().good, 59);
/// ```
pub fn read_trials(
    file: &str,
    text: &str,
    metals: &Catalogue,
) -> Result<Vec<TrialRow>, TableError> {
    each_row(file, text, &[&CELL, &COUNTS], |row| {
        let counts = Counts {
            entry_lost: row.count("entry_lost")?,
            stop_lost: row.count("stop_lost")?,
            crushed: row.count("crushed")?,
            uncut: row.count("uncut")?,
            deformed: row.count("deformed")?,
            good: row.count("good")?,
        };
        let turns = row.count("turns")?;
        TrialRow::new(cell(row, metals)?, turns, counts).map_err(|error| row.refused(error))
    })
}

/// Reads cells: the columns of a trial without its counts.
///
/// # Units
/// As [`read_trials`].
/// # Validity
/// As [`read_trials`].
/// # Errors
/// As [`read_trials`].
///
/// ```
/// use linkwright_answers::chart::{TableError, read_cells};
/// use linkwright_calc::metal::Catalogue;
/// let refused = read_cells("cells.csv", "wire_mm,mandrel_mm\n1.02,4\n", &Catalogue::built_in());
/// assert!(matches!(refused, Err(TableError::ColumnMissing { column: "blade", .. })));
/// ```
pub fn read_cells(file: &str, text: &str, metals: &Catalogue) -> Result<Vec<Cell>, TableError> {
    each_row(file, text, &[&CELL], |row| cell(row, metals))
}

fn each_row<T>(
    file: &str,
    text: &str,
    needed: &[&[&'static str]],
    mut read: impl FnMut(&Row<'_>) -> Result<T, TableError>,
) -> Result<Vec<T>, TableError> {
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let headings = reader.headers().map_err(|error| not_csv(file, &error))?.clone();
    let needed: Vec<&'static str> = needed.iter().copied().flatten().copied().collect();
    for column in &needed {
        if !headings.iter().any(|heading| heading == *column) {
            let needed = needed.join(", ");
            return Err(TableError::ColumnMissing { file: file.to_owned(), column, needed });
        }
    }
    let mut found = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| not_csv(file, &error))?;
        let line = record.position().map_or(0, csv::Position::line);
        found.push(read(&Row { file, line, headings: &headings, record: &record })?);
    }
    Ok(found)
}

fn not_csv(file: &str, error: &csv::Error) -> TableError {
    let line = error.position().map_or(1, csv::Position::line);
    let what = match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            format!("{len} values, where the headings are {expected_len}")
        }
        _ => "no text with commas between values".to_owned(),
    };
    TableError::NotCsv { file: file.to_owned(), line, what }
}

fn cell(row: &Row<'_>, metals: &Catalogue) -> Result<Cell, TableError> {
    let length = |column: &str| row.number(column).map(Length::from_mm);
    let wire = Wire::new(length("wire_mm")?).map_err(|error| row.refused(error))?;
    let metal = row.needed("metal")?;
    let yield_strength = match row.number_if_known("yield_mpa")? {
        Some(mpa) => Stress::from_mpa(mpa),
        None => yield_strength(metals, metal, row.needed("temper")?, wire)
            .map_err(|why| row.refused(why))?,
    };
    let teeth = row.text("blade_teeth").map(|_| row.count("blade_teeth")).transpose()?;
    let blade = BladeParts {
        diameter: length("blade_dia_mm")?,
        kerf: Kerf::new(length("blade_kerf_mm")?).map_err(|error| row.refused(error))?,
        teeth,
        hub_diameter: None,
    };
    Cell::new(CellParts {
        wire,
        mandrel: Mandrel::new(length("mandrel_mm")?).map_err(|error| row.refused(error))?,
        blade: TrialBlade {
            name: row.needed("blade")?.into(),
            blade: Blade::new(blade).map_err(|error| row.refused(error))?,
        },
        axis: AxisHeight::new(length("axis_height_mm")?).map_err(|error| row.refused(error))?,
        // One metal has one effect, whatever it is called, and the same in every workshop.
        metal: metal_key(metals, metal).map_or_else(|| metal.into(), Into::into),
        yield_strength,
        taped: row.flag("taped")?,
        lubricated: row.flag("lube")?,
        operator: row.text("operator").map(Into::into),
        rings_cut_since_new: row.number_if_known("rings_cut_since_new")?,
    })
    .map_err(|error| row.refused(error))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEADINGS: &str = "wire_mm,mandrel_mm,blade,blade_dia_mm,blade_kerf_mm,blade_teeth,metal,\
        temper,taped,lube,operator,turns,axis_height_mm,entry_lost,stop_lost,crushed,uncut,deformed,good";

    fn said(line: &str) -> String {
        let table = format!("{HEADINGS}\n{line}\n");
        read_trials("t.csv", &table, &Catalogue::built_in()).unwrap_err().to_string()
    }

    #[test]
    fn what_is_wrong_is_named_with_its_line_and_column() {
        for (line, wanted) in [
            (
                "x,4,B,31.75,0.2,160,copper,annealed,1,1,,10,14.35,0,0,0,0,0,10",
                "t.csv, line 2: wire_mm is \"x\"; it must be a number such as 1.02",
            ),
            (
                "1,4,B,31.75,0.2,160,copper,annealed,maybe,1,,10,14.35,0,0,0,0,0,10",
                "t.csv, line 2: taped is \"maybe\"; it must be 1 or 0, yes or no",
            ),
            ("1,4,B", "t.csv, line 2: 3 values, where the headings are 19"),
        ] {
            assert_eq!(said(line), wanted);
        }
        let short = said("1,4,B,31.75,0.2,160,copper,annealed,1,1,,10,14.35,0,0,0,0,0,9");
        assert!(short.contains("line 2: the counts add up to 9 turns"), "{short}");
        let thick = said("2.5,6,B,31.75,0.2,160,copper,annealed,1,1,,10,14.35,0,0,0,0,0,10");
        assert!(thick.contains("wire_diameter_mm is 2.5 mm; it must be between"), "{thick}");
    }
}
