//! Sheets made from the workshop's data file.

use linkwright_answers::refusal::Refusal;
use linkwright_store::look;
use linkwright_web::paper;

use super::Plan;
use crate::data_file::DataFile;
use crate::failure::Failure;

/// The best-tried blade for every wire on every rod, from the trials on record.
#[derive(Debug, clap::Args)]
pub(super) struct WallChartArgs {
    /// Key of the only metal whose trials count, such as sterling.
    #[arg(long)]
    metal: Option<String>,
    #[command(flatten)]
    data: DataFile,
}

/// Labels for batches, two by seven on a page, with lines to cut along.
#[derive(Debug, clap::Args)]
pub(super) struct LabelsArgs {
    /// Codes of the batches.
    #[arg(required = true)]
    codes: Vec<String>,
    /// Where the app is found by whoever reads the label with a camera.
    #[arg(long, default_value = "127.0.0.1:8417")]
    host: String,
    #[command(flatten)]
    data: DataFile,
}

pub(super) fn wall_chart(args: &WallChartArgs, date: String) -> Result<Plan, Failure> {
    let path = args.data.path()?;
    let metal = args.metal.as_deref();
    let chart = look(&path, |view| Ok::<_, Failure>(paper::wall_chart(view, metal, date)?))?;
    Ok(Plan::new("wall-chart", move |paper| chart.pdf(paper)))
}

pub(super) fn labels(args: &LabelsArgs) -> Result<Plan, Failure> {
    let path = args.data.path()?;
    let labels = look(&path, |view| {
        let mut ids = Vec::new();
        for code in &args.codes {
            ids.push(view.batch_of_code(code)?.ok_or_else(|| no_batch(code))?.id);
        }
        Ok::<_, Failure>(paper::label_sheet(view, &ids, &args.host)?)
    })?;
    Ok(Plan::new("labels", move |paper| labels.pdf(paper)))
}

fn no_batch(code: &str) -> Failure {
    Refusal::bench("CODE", code, format!("no batch has the code \"{code}\"")).into()
}
