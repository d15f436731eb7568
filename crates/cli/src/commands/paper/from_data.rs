//! Sheets made from the workshop's data file.

use linkwright_answers::refusal::Refusal;
use linkwright_store::{Store, StoreError};
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
    #[arg(long, default_value = "127.0.0.1:8040")]
    host: String,
    #[command(flatten)]
    data: DataFile,
}

pub(super) fn wall_chart(args: &WallChartArgs, date: String) -> Result<Plan, Failure> {
    let store = Store::open(&args.data.path()?)?;
    let chart = store.read(|view| paper::wall_chart(view, args.metal.as_deref(), date))?;
    Ok(Plan::new("wall-chart", move |paper| chart.pdf(paper)))
}

pub(super) fn labels(args: &LabelsArgs) -> Result<Plan, Failure> {
    let store = Store::open(&args.data.path()?)?;
    let labels = store.read(|view| {
        let mut ids = Vec::new();
        for code in &args.codes {
            match view.batch_of_code(code)? {
                Some(batch) => ids.push(batch.id),
                None => return Ok(Err(no_batch(code))),
            }
        }
        paper::label_sheet(view, &ids, &args.host).map(Ok::<_, Failure>)
    });
    let labels = labels.map_err(|error: StoreError| Failure::from(error))??;
    Ok(Plan::new("labels", move |paper| labels.pdf(paper)))
}

fn no_batch(code: &str) -> Failure {
    Refusal::bench("CODE", code, format!("no batch has the code \"{code}\"")).into()
}
