//! What a plan needs to know of the workshop, in one look.

use rusqlite::{OptionalExtension, params};

use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{
    Blade, FrozenSheet, Holder, MetalOverlay, Reading, RingOrder, Rod, Run, Trial, WireLot,
    Workshop,
};
use crate::view::View;

/// The workshop as far as plans go: what is in use, and what was learnt from work that is done.
#[derive(Clone, Debug)]
pub struct Bench {
    /// Habits; absent until the workshop has a name.
    pub workshop: Option<Workshop>,
    /// The holder plans are made for.
    pub holder: Option<Holder>,
    /// Rods in use.
    pub rods: Vec<Saved<Rod>>,
    /// Blades in use.
    pub blades: Vec<Saved<Blade>>,
    /// Wire that is not used up.
    pub wire: Vec<LotOnShelf>,
    /// Own metals.
    pub metals: Vec<Saved<MetalOverlay>>,
    /// Rings counted in finished runs; absent until there are any.
    pub counted: Option<RingsCounted>,
}

/// A lot of wire with what was taken from it and measured on it.
#[derive(Clone, Debug)]
pub struct LotOnShelf {
    /// The lot.
    pub lot: Saved<WireLot>,
    /// Wire weighed in for runs, g.
    pub taken_g: f64,
    /// Trials of it that have measured rings, oldest first.
    pub trials: Vec<Saved<Trial>>,
    /// Runs of it whose measured rings are not in a trial, oldest first.
    pub runs: Vec<RunMeasured>,
}

/// The rings measured in one run.
#[derive(Clone, Debug)]
pub struct RunMeasured {
    /// The run.
    pub run: Saved<Run>,
    /// The rod of its sheet, mm; absent if the sheet does not say.
    pub rod_mm: Option<f64>,
    /// Its rings, in order.
    pub readings: Vec<Saved<Reading>>,
}

/// Rings of finished runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RingsCounted {
    /// Good ones.
    pub good: u32,
    /// Nicked, bent or crushed ones.
    pub rejected: u32,
}

/// Where the answer kept in a frozen sheet names its rod.
const ROD_OF_ANSWER: &str = "$.sheet.rod.mandrel_diameter_mm";

impl View<'_> {
    /// What a plan needs to know; `but_for` leaves one run out, as if it had never been.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn bench(&self, but_for: Option<Id<Run>>) -> Result<Bench, StoreError> {
        let workshop = self.one::<Workshop>("where id = 1", [])?.map(|saved| saved.record);
        let holder = self.one::<Holder>("where in_use order by id limit 1", [])?;
        let lots = self.some::<WireLot>("where finished_on is null order by id", [])?;
        Ok(Bench {
            workshop,
            holder: holder.map(|saved| saved.record),
            rods: self.some("where retired_on is null order by id", [])?,
            blades: self.some("where retired_on is null order by id", [])?,
            wire: lots
                .into_iter()
                .map(|lot| self.lot_on_shelf(lot, but_for))
                .collect::<Result<_, _>>()?,
            metals: self.all()?,
            counted: self.rings_counted(but_for)?,
        })
    }

    /// The runs started from an order with the sheets they were started from, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn runs_of(
        &self,
        order: Id<RingOrder>,
    ) -> Result<Vec<(Saved<Run>, FrozenSheet)>, StoreError> {
        let runs = self.some::<Run>(
            "where frozen_sheet_id in (select id from frozen_sheet where order_id = ?1) order by id",
            [order],
        )?;
        runs.into_iter()
            .map(|run| Ok((run.clone(), self.get(run.record.frozen_sheet_id)?)))
            .collect()
    }

    /// The run that was started from a frozen sheet.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn run_of_sheet(&self, sheet: Id<FrozenSheet>) -> Result<Option<Saved<Run>>, StoreError> {
        self.one("where frozen_sheet_id = ?1 order by id limit 1", [sheet])
    }

    fn lot_on_shelf(
        &self,
        lot: Saved<WireLot>,
        but_for: Option<Id<Run>>,
    ) -> Result<LotOnShelf, StoreError> {
        let taken = "select total(wire_in_g) from run where wire_lot_id = ?1 and id is not ?2";
        let taken_g = self
            .connection
            .prepare_cached(taken)?
            .query_row(params![lot.id, but_for], |row| row.get(0))?;
        let trials = self.some::<Trial>(
            "where wire_lot_id = ?1 and (?2 is null or run_id is not ?2) and inside_mean_mm is not null
             order by tried_on, id",
            params![lot.id, but_for],
        )?;
        // A run becomes a trial once it is recorded as one; its rings then count there.
        let runs = self.some::<Run>(
            "where wire_lot_id = ?1 and id is not ?2
               and exists (select 1 from reading where reading.run_id = run.id)
               and not exists (select 1 from trial
                               where trial.run_id = run.id and inside_mean_mm is not null)
             order by id",
            params![lot.id, but_for],
        )?;
        let runs = runs.into_iter().map(|run| self.run_measured(run)).collect::<Result<_, _>>()?;
        Ok(LotOnShelf { lot, taken_g, trials, runs })
    }

    fn run_measured(&self, run: Saved<Run>) -> Result<RunMeasured, StoreError> {
        let rod = "select json_extract(answer, ?2) from frozen_sheet where id = ?1";
        let rod_mm: Option<Option<f64>> = self
            .connection
            .prepare_cached(rod)?
            .query_row(params![run.record.frozen_sheet_id, ROD_OF_ANSWER], |row| row.get(0))
            .optional()?;
        let readings = self.some("where run_id = ?1 order by position", [run.id])?;
        Ok(RunMeasured { run, rod_mm: rod_mm.flatten(), readings })
    }

    /// The rings counted in finished runs, but for one run.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn rings_counted(
        &self,
        but_for: Option<Id<Run>>,
    ) -> Result<Option<RingsCounted>, StoreError> {
        let query = "select sum(good), sum(nicked + crushed)
             from coil join run on run.id = coil.run_id
             where run.finished_at is not null and coil.counted_at is not null
               and run.id is not ?1";
        let (good, rejected): (Option<u32>, Option<u32>) =
            self.connection
                .prepare_cached(query)?
                .query_row([but_for], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(good.zip(rejected).map(|(good, rejected)| RingsCounted { good, rejected }))
    }
}
