//! `slit`: whether a blade, as it is set, severs the rings and spares the far wall.

mod plan;

mod say;

use std::path::PathBuf;

use crate::commands::Output;
use crate::failure::Failure;

/// Whether a blade parts the rings and spares the far wall, and what stays uncut.
///
/// Examples:
///   linkwright slit --wire "16 awg" --inside "5.18 mm" --blade "22 mm" \
///       --kerf "0.3 mm" --projection "3.5 mm" --stop-setback "6 mm"
///   linkwright slit --wire 1.63mm --inside 6.24mm --blade '1 1/4 in' \
///       --kerf 0.25mm --projection 2.2mm --metal bronze --teeth 60
///
/// The projection is how far the blade reaches below the top of the coil. If it
/// was measured with another blade, name that one with --measured-blade: this
/// blade's follows, since the axis stays where it is.
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
pub struct Args {
    /// Wire diameter, such as "18 awg" or "1.02 mm".
    #[arg(long)]
    wire: String,
    /// Inside diameter of the coil after release.
    #[arg(long)]
    inside: String,
    /// Advance of the coil per turn; touching turns if absent.
    #[arg(long)]
    pitch: Option<String>,
    /// Blade diameter.
    #[arg(long)]
    blade: String,
    /// Width of the slot the blade leaves.
    #[arg(long)]
    kerf: String,
    /// Teeth of the blade, counted.
    #[arg(long)]
    teeth: Option<u32>,
    /// Diameter of the hub that carries the blade.
    #[arg(long)]
    hub: Option<String>,
    /// How far the blade reaches below the top of the coil.
    #[arg(long)]
    projection: String,
    /// Diameter of the blade the projection was measured with, if another.
    #[arg(long)]
    measured_blade: Option<String>,
    /// How far short of the coil's end the blade's axis halts at the stop.
    #[arg(long, allow_hyphen_values = true)]
    stop_setback: Option<String>,
    /// How far the blade's plane passes beside the coil's axis.
    #[arg(long)]
    offset: Option<String>,
    /// How much the plates flatten the coil.
    #[arg(long)]
    squash: Option<String>,
    /// How far the blade is to stay from the far wall.
    #[arg(long)]
    margin: Option<String>,
    /// Metal, for the speeds: a name or key of `linkwright metals`.
    #[arg(long)]
    metal: Option<String>,
    /// Speed of the blade in turns a minute.
    #[arg(long)]
    rpm: Option<f64>,
    /// Speed along the coil in mm a minute; with --rpm and --teeth, for the chip.
    #[arg(long, requires = "rpm")]
    feed: Option<f64>,
    /// Your own metals file (TOML) over the built-in table.
    #[arg(long)]
    overlay: Option<PathBuf>,
}

/// Answers with the window, the verdict with its reasons, and the speeds.
pub fn run(args: &Args, output: Output) -> Result<(), Failure> {
    let plan = plan::Plan::new(args)?;
    say::printout(&plan)?.print(output)
}
