//! `import`: records from a table of another program.

use std::fs;
use std::path::PathBuf;

use linkwright_answers::files::metals_toml;
use linkwright_answers::refusal::Refusal;
use linkwright_calc::metal::Catalogue;
use linkwright_store::records::MetalOverlay;
use linkwright_store::spreadsheet::{Sheet, Tables, read, to_csv};
use linkwright_store::trials::import::{
    CommaMeans, IMPORT_FIELDS, Matching, Preview, UNITS, heading_row, preview,
};
use linkwright_store::trials::{DateOrder, TrialEntry};
use linkwright_store::{Store, View};

use crate::commands::Output;
use crate::data_file::{DataFile, now};
use crate::failure::Failure;
use crate::printout::{Printout, Table};

/// Bring records in from a table.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    Trials(TrialsArgs),
}

/// Bring in an old table of trials: xlsx, ods or csv.
///
/// The headings are matched by their words; --match says otherwise. A size that is a bare number
/// needs its unit, from the heading or from --match. Nothing is written unless every row can be
/// kept, or --leave-bad names a file for those that cannot. Rows kept before are left out.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  linkwright import trials old.csv --match \"Mandrel=rod mm\" --match \"Colour=\" \\
    --metal copper --temper soft --outcome counts --leave-bad rest.csv")]
struct TrialsArgs {
    /// The table.
    file: PathBuf,
    /// Name of the sheet; the first if absent.
    #[arg(long)]
    sheet: Option<String>,
    /// Row of the headings, counted from 1; found by its words if absent.
    #[arg(long)]
    heading: Option<usize>,
    /// "HEADING=FIELD UNIT", "HEADING=FIELD", or "HEADING=" to leave a column out.
    #[arg(long = "match", value_name = "HEADING=FIELD")]
    matched: Vec<String>,
    /// Day of rows that give none.
    #[arg(long, default_value = "")]
    day: String,
    /// Metal of rows that name none.
    #[arg(long, default_value = "")]
    metal: String,
    /// Temper of rows that name none.
    #[arg(long, default_value = "")]
    temper: String,
    /// Outcome of rows that give none; "counts" judges them by their counts.
    #[arg(long, default_value = "", value_parser = ["", "good", "poor", "failed", "counts"])]
    outcome: String,
    /// A comma is the decimal sign throughout.
    #[arg(long)]
    decimal_comma: bool,
    /// What comes first in 3/4/2026.
    #[arg(long, value_parser = ["day", "month"])]
    first: Option<String>,
    /// Keep also rows that look as if they were kept already.
    #[arg(long)]
    again: bool,
    /// Keep the good rows and write the others, with reasons, to this new csv file.
    #[arg(long, value_name = "CSV")]
    leave_bad: Option<PathBuf>,
    #[command(flatten)]
    data: DataFile,
}

/// Brings the table in.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let What::Trials(args) = &args.what;
    let bytes = fs::read(&args.file).map_err(Failure::at(&args.file))?;
    let file = args.file.display().to_string();
    let tables = read(&bytes).map_err(|error| Refusal::bench("file", file.clone(), error))?;
    let sheet = sheet_of(args, &tables)?;
    let matching = matching(args, sheet)?;
    let store = Store::open(&args.data.path()?)?;
    let found =
        store.read(|view| Ok::<_, Failure>(preview(view, sheet, &matching, &metals(view)?)?))?;
    if !found.bad.is_empty() && args.leave_bad.is_none() {
        return Err(Refusal::bench("rows", found.bad.len(), all_wrong(&found)).into());
    }
    if let (Some(path), false) = (&args.leave_bad, found.bad.is_empty()) {
        let table = to_csv(&found.bad_table(&matching.headings(sheet)))?;
        let new = fs::OpenOptions::new().write(true).create_new(true).open(path);
        let written = new.and_then(|mut file| std::io::Write::write_all(&mut file, &table));
        written.map_err(Failure::at(path))?;
    }
    let kept_already = found.good.iter().filter(|row| row.kept_as.is_some()).count();
    let fresh: Vec<_> =
        found.good.iter().filter(|row| args.again || row.kept_as.is_none()).collect();
    if !fresh.is_empty() {
        let what = format!("Brought in {} trials from {file}", fresh.len());
        store.act(now(), &what, |act| {
            for row in &fresh {
                act.add(&row.trial)?;
            }
            Ok::<_, Failure>(())
        })?;
    }
    let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    let mut printout = Printout::new("import trials", "Trials brought in");
    printout.count("kept", "kept", count(fresh.len()), "trials");
    printout.count("kept already", "kept_already", count(kept_already), "rows");
    printout.count("left out", "left_out", count(found.bad.len()), "rows");
    for remark in &tables.remarks {
        printout.note(remark.as_str());
    }
    if !found.bad.is_empty() {
        printout.table(bad_rows(&found));
    }
    printout.print(output)
}

fn sheet_of<'a>(args: &TrialsArgs, tables: &'a Tables) -> Result<&'a Sheet, Failure> {
    let found = match &args.sheet {
        Some(name) => tables.sheets.iter().find(|sheet| sheet.name == *name),
        None => tables.sheets.first(),
    };
    let names: Vec<&str> = tables.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    let why = || format!("there is no such sheet; the file has {}", names.join(", "));
    Ok(found.ok_or_else(|| Refusal::bench("sheet", args.sheet.clone(), why()))?)
}

/// The match that headings suggest, with what was said otherwise.
fn matching(args: &TrialsArgs, sheet: &Sheet) -> Result<Matching, Failure> {
    let heading = args.heading.map_or_else(|| heading_row(sheet), |row| row.saturating_sub(1));
    let mut matching = Matching::guessed(sheet, heading, 1);
    let headings = matching.headings(sheet);
    for said in &args.matched {
        let refuse = |why: String| Refusal::bench("match", said.as_str(), why);
        let (name, is) = said
            .split_once('=')
            .ok_or_else(|| refuse("write it as \"HEADING=FIELD UNIT\"".to_owned()))?;
        let at = headings
            .iter()
            .position(|heading| heading.eq_ignore_ascii_case(name.trim()))
            .ok_or_else(|| refuse(format!("the headings are {}", headings.join(", "))))?;
        let mut words = is.split_whitespace();
        let (field, unit) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
        let fields: Vec<&str> = IMPORT_FIELDS.iter().map(|(field, _)| *field).collect();
        if !field.is_empty() && !fields.contains(&field) {
            return Err(refuse(format!("the fields are {}", fields.join(", "))).into());
        }
        let units: Vec<&str> = UNITS.iter().map(|(unit, _)| *unit).collect();
        if !units.contains(&unit) {
            return Err(refuse(format!("the units are{}", units.join(" "))).into());
        }
        (matching.columns[at].field, matching.columns[at].unit) =
            (field.to_owned(), unit.to_owned());
    }
    matching.judge_by_counts = args.outcome == "counts";
    matching.otherwise = TrialEntry {
        tried_on: args.day.clone(),
        metal: args.metal.clone(),
        temper: args.temper.clone(),
        outcome: if matching.judge_by_counts { String::new() } else { args.outcome.clone() },
        ..TrialEntry::default()
    };
    matching.comma = if args.decimal_comma { CommaMeans::Decimal } else { CommaMeans::Asked };
    matching.dates = match args.first.as_deref() {
        Some("day") => DateOrder::DayFirst,
        Some(_) => DateOrder::MonthFirst,
        None => DateOrder::Asked,
    };
    if let Some(field) = matching.twice() {
        let why = "two columns are matched to it; leave one out with \"HEADING=\"";
        return Err(Refusal::bench("match", field, why).into());
    }
    if let Some(at) = matching.units_missing(sheet).first() {
        let (heading, field) = (&headings[*at], &matching.columns[*at].field);
        let why = format!(
            "its numbers are bare: say their unit, such as --match \"{heading}={field} mm\""
        );
        return Err(Refusal::bench("match", heading.as_str(), why).into());
    }
    Ok(matching)
}

fn metals(view: &View<'_>) -> Result<Catalogue, Failure> {
    let own = view.all::<MetalOverlay>()?;
    let text = own.iter().fold(String::new(), |text, overlay| {
        let entry = overlay.record.entry.trim();
        let head = if entry.contains("[[metal]]") { "" } else { "[[metal]]\n" };
        format!("{text}{head}{entry}\n\n")
    });
    Ok(metals_toml::catalogue("own metals", &text)
        .map_err(|error| Refusal::bench("metals", "own metals", error))?)
}

fn bad_rows(found: &Preview) -> Table {
    let rows = found.bad.iter().flat_map(|row| {
        row.wrong.iter().map(|(column, wrong)| {
            vec![row.row.to_string(), column.clone(), wrong.typed.clone(), wrong.why.clone()]
        })
    });
    Table {
        title: "rows left out".to_owned(),
        headings: ["row", "column", "says", "what is wrong"].map(str::to_owned).into(),
        rows: rows.collect(),
    }
}

/// Every complaint, one a row.
fn all_wrong(found: &Preview) -> String {
    let rows = found.bad.iter().map(|row| format!("row {}: {}", row.row, row.reason()));
    let rows: Vec<String> = rows.collect();
    format!(
        "nothing was brought in, since {} of the rows cannot be kept. {}. --leave-bad FILE keeps the others",
        rows.len(),
        rows.join(". ")
    )
}
