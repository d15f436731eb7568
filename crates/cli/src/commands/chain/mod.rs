//! `chain`: what a pattern of linked rings gives with the rings at hand.

mod ask;

mod in_full;

mod measured;

mod say;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use linkwright_answers::chain::{
    KnownPatterns, answer, chain_as_json, list_as_json, table, table_as_json,
};
use linkwright_answers::files::load::LoadError;
use linkwright_answers::pattern::OwnPattern;
use linkwright_answers::refusal::Refusal;
use linkwright_linkage::pattern::Pattern;
use linkwright_store::look;
use linkwright_web::record::known_patterns;

use crate::commands::Output;
use crate::data_file::DataFile;
use crate::failure::Failure;

/// A chain or sheet of a pattern: possible or not, rings per length, mass, width.
///
/// Examples:
///   linkwright chain byzantine --wire "18 awg" --inside "3.8 mm" --closed \
///       --length "180 mm" --metal sterling
///   linkwright chain "half Persian 3-in-1" --wire 1.02mm --inside 5.18mm \
///       --kerf 0.25mm
///   linkwright chain large_and_small --wire 1mm --inside 6mm --closed \
///       --second-wire 0.8mm --second-inside 3.5mm
///   linkwright chain european_4in1_sheet --wire 1mm --inside 4mm --closed \
///       --length 60mm --across 40mm
///   linkwright chain examples/skipping-rope.toml --wire 0.8mm --inside 4.4mm \
///       --closed --svg rope.svg
///   linkwright chain byzantine --wire 1mm --inside 4mm --closed \
///       --measured 60=70.5mm --in-full
///   linkwright chain --list
///   linkwright chain box --table
///
/// The inside diameter is that of the open ring as it leaves the blade, unless
/// --closed is written. Rings are taken as rigid, round and closed. A pattern of
/// your own is given by its file, or by its name where it is kept in the data file
/// named with --data. Measured pieces correct the lengths: those of --measured, and
/// those in that data file.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Name of the pattern, as --list shows it; its beginning will do. Or a
    /// pattern file of your own, ending in .toml (docs/pattern-file.md).
    #[arg(required_unless_present = "list")]
    pattern: Option<String>,
    /// List every pattern there is.
    #[arg(long)]
    list: bool,
    /// Print the pattern's whole table against aspect ratio.
    #[arg(long, conflicts_with = "list")]
    table: bool,
    /// Wire diameter, such as "18 awg" or "1.02 mm".
    #[arg(long, required_unless_present_any = ["list", "table"])]
    wire: Option<String>,
    /// Inside diameter of the open ring; of the closed one with --closed.
    #[arg(long, required_unless_present_any = ["list", "table"])]
    inside: Option<String>,
    /// The inside diameters are those of closed rings.
    #[arg(long)]
    closed: bool,
    /// Width of the slot the blade leaves, for open rings; 0.25 mm is assumed
    /// if absent.
    #[arg(long, conflicts_with = "closed")]
    kerf: Option<String>,
    /// Wire diameter of the second ring size, for patterns of two sizes.
    #[arg(long, requires = "second_inside")]
    second_wire: Option<String>,
    /// Inside diameter of the second ring size; without it the pattern's own
    /// proportion is taken.
    #[arg(long, requires = "second_wire")]
    second_inside: Option<String>,
    /// Finished length of the chain over all; of a sheet along its rows.
    #[arg(long)]
    length: Option<String>,
    /// Finished width of a sheet, across its rows.
    #[arg(long, requires = "length")]
    across: Option<String>,
    /// Girth of the wrist or neck the chain goes round, in place of a length.
    #[arg(long, conflicts_with = "length")]
    round: Option<String>,
    /// What it is to be longer than that girth, for comfort.
    #[arg(long, default_value = "0 mm", requires = "round")]
    ease: String,
    /// What the clasp adds to the length over all.
    #[arg(long)]
    clasp: Option<String>,
    /// End rings of the main size, beyond the pattern's own.
    #[arg(long, value_parser = clap::value_parser!(u32).range(0..=100))]
    end_rings: Option<u32>,
    /// Metal, for the mass: a name or key of `linkwright metals`.
    #[arg(long)]
    metal: Option<String>,
    /// Your own metals file (TOML) over the built-in table.
    #[arg(long)]
    overlay: Option<PathBuf>,
    /// A piece of these very rings that was measured: how many rings, "=", its
    /// length pulled straight, such as 20=84.5mm. May be repeated.
    #[arg(long, value_name = "RINGS=LENGTH", conflicts_with_all = ["list", "table"])]
    measured: Vec<String>,
    #[command(flatten)]
    data: DataFile,
    /// Say as well whether the last ring goes in, how tightly it bends and, with
    /// --pull-n, what a pull does; takes some seconds.
    #[arg(long, conflicts_with_all = ["list", "table"])]
    in_full: bool,
    /// A pull on the chain in newtons; needs the metal's temper.
    #[arg(long, requires = "in_full", requires = "temper")]
    pull_n: Option<f64>,
    /// Temper of the rings, such as "soft", for --pull-n.
    #[arg(long, requires = "metal")]
    temper: Option<String>,
    /// The rings are soldered shut.
    #[arg(long, requires = "pull_n")]
    soldered: bool,
    /// Write a picture drawn to scale, with a ruler, to this SVG file.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["list", "table"])]
    svg: Option<PathBuf>,
}

/// Lists, tells the table, or answers.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    if args.list {
        let patterns = known(args)?.listed();
        return say::either(output, &list_as_json(&patterns), || say::list(&patterns));
    }
    let given = args.pattern.as_deref().unwrap_or_default();
    let pattern = pattern(given, args)?;
    if args.table {
        let rows = table(&pattern);
        let json = table_as_json(pattern.name(), &rows);
        return say::either(output, &json, || say::table(&pattern, &rows));
    }
    let asked = ask::asked(args, pattern)?;
    let refuse = |error| ask::refuse(args, &error);
    let plain = answer(&asked).map_err(refuse)?;
    let taught = measured::correction(args, &asked, &plain)?;
    let answered = plain.corrected(&asked, &taught).map_err(refuse)?;
    let in_full = in_full::worked_out(args, &answered)?;
    if let Some(path) = &args.svg {
        say::write_picture(&answered, path)?;
    }
    let json = chain_as_json(&answered, in_full.as_ref());
    say::either(output, &json, || say::answer(&answered, in_full.as_ref()))
}

/// The patterns of the program, and those of the data file that is named with `--data`.
fn known(args: &Args) -> Result<Arc<KnownPatterns>, Failure> {
    if args.data.is_given() {
        return look(&args.data.path()?, |view| Ok::<_, Failure>(known_patterns(view)?));
    }
    Ok(Arc::new(KnownPatterns::built_in()))
}

/// A known pattern, or one's own from a file.
fn pattern(given: &str, args: &Args) -> Result<Pattern, Failure> {
    if given.ends_with(".toml") {
        return Ok(OwnPattern::load(Path::new(given)).map_err(LoadError::File)?.pattern);
    }
    Ok(known(args)?.find(given).map_err(|error| Refusal::bench("pattern", given, error))?)
}
