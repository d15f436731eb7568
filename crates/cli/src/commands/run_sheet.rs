//! `linkwright run-sheet`: the whole plan of an order.

use std::path::PathBuf;

use clap::Args;
use linkwright_calc::plan::plan;

use super::Output;
use crate::failure::Failure;
use crate::files::load::load;

/// Plan an order: mandrel, turns, coils, wire, blade, odds, cost, cautions.
#[derive(Debug, Args)]
pub struct RunSheetArgs {
    /// The order file.
    order: PathBuf,
    /// The workshop file, if not the one the order names.
    #[arg(long)]
    workshop: Option<PathBuf>,
}

impl RunSheetArgs {
    /// Answers the command.
    pub fn run(self, output: Output) -> Result<(), Failure> {
        let loaded = load(&self.order, self.workshop.as_deref())
            .map_err(|e| {
                eprintln!("{e}");
                e
            })
            .ok();
        let Some(loaded) = loaded else { return Ok(()) };
        match plan(&loaded.order, &loaded.workshop, &loaded.metals) {
            Ok(plan) => println!("{plan:#?}"),
            Err(e) => println!("{e}"),
        }
        let _ = output;
        Ok(())
    }
}
