//! Work at the bench: what a run has made so far, and the taps that change its counts.

use rusqlite::params;

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::moment::Moment;
use crate::record::{Record, Saved};
use crate::records::{
    Batch, Blade, Coil, FrozenSheet, Reading, RingOrder, Run, Tick, Trial, WireLot,
};
use crate::view::View;

/// A run with everything that was done in it.
#[derive(Clone, Debug)]
pub struct RunAtBench {
    /// The run.
    pub run: Saved<Run>,
    /// The sheet it is made from.
    pub sheet: FrozenSheet,
    /// Its coils, in order.
    pub coils: Vec<Saved<Coil>>,
    /// Its ticks, oldest first.
    pub ticks: Vec<Saved<Tick>>,
    /// Its measured rings, in order.
    pub readings: Vec<Saved<Reading>>,
    /// The batch it became, if it did.
    pub batch: Option<Saved<Batch>>,
}

/// A run as the list of runs shows it.
#[derive(Clone, Debug)]
pub struct RunListed {
    /// The run.
    pub run: Saved<Run>,
    /// The order it is made for.
    pub order: Id<RingOrder>,
    /// What it has made so far.
    pub made: RunMade,
    /// Its coils.
    pub coils: u32,
}

/// Rings made so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RunMade {
    /// Good ones.
    pub good: u32,
    /// Not severed.
    pub uncut: u32,
    /// Nicked or bent.
    pub nicked: u32,
    /// Crushed.
    pub crushed: u32,
    /// Coils whose rings are counted.
    pub coils_counted: u32,
}

/// One of the four counts of a coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingCount {
    /// Good rings.
    Good,
    /// Rings not severed.
    Uncut,
    /// Rings nicked or bent.
    Nicked,
    /// Rings crushed.
    Crushed,
}

impl RingCount {
    /// All of them, in reading order.
    pub const ALL: [RingCount; 4] =
        [RingCount::Good, RingCount::Uncut, RingCount::Nicked, RingCount::Crushed];

    /// Its column.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            RingCount::Good => "good",
            RingCount::Uncut => "uncut",
            RingCount::Nicked => "nicked",
            RingCount::Crushed => "crushed",
        }
    }

    /// The one of this column.
    #[must_use]
    pub fn from_word(word: &str) -> Option<RingCount> {
        RingCount::ALL.into_iter().find(|count| count.word() == word)
    }
}

const MADE: &str =
    "select coalesce(sum(good), 0), coalesce(sum(uncut), 0), coalesce(sum(nicked), 0),
    coalesce(sum(crushed), 0), count(*) from coil where counted_at is not null";

fn made_from(row: &rusqlite::Row<'_>) -> rusqlite::Result<RunMade> {
    Ok(RunMade {
        good: row.get(0)?,
        uncut: row.get(1)?,
        nicked: row.get(2)?,
        crushed: row.get(3)?,
        coils_counted: row.get(4)?,
    })
}

impl View<'_> {
    /// A run with everything that was done in it.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is none.
    pub fn run_at_bench(&self, id: Id<Run>) -> Result<RunAtBench, StoreError> {
        let run: Run = self.get(id)?;
        let sheet = self.get(run.frozen_sheet_id)?;
        Ok(RunAtBench {
            run: Saved { id, record: run },
            sheet,
            coils: self.some("where run_id = ?1 order by number", [id])?,
            ticks: self.some("where run_id = ?1 order by id", [id])?,
            readings: self.some("where run_id = ?1 order by position", [id])?,
            batch: self.one("where run_id = ?1 order by id limit 1", [id])?,
        })
    }

    /// Runs in hand, last started first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn runs_in_hand(&self) -> Result<Vec<RunListed>, StoreError> {
        self.listed("where finished_at is null order by started_at desc, id desc", [])
    }

    /// Runs that are done or were called off, the last first: as many as asked for.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn runs_done(&self, most: u32) -> Result<Vec<RunListed>, StoreError> {
        self.listed(
            "where finished_at is not null order by finished_at desc, id desc limit ?1",
            [most],
        )
    }

    fn listed(
        &self,
        clause: &str,
        given: impl rusqlite::Params,
    ) -> Result<Vec<RunListed>, StoreError> {
        let order = "select order_id from frozen_sheet where id = ?1";
        let coils = "select count(*) from coil where run_id = ?1";
        self.some::<Run>(clause, given)?
            .into_iter()
            .map(|run| {
                let order: Id<RingOrder> = self
                    .connection
                    .prepare_cached(order)?
                    .query_row([run.record.frozen_sheet_id], |row| row.get(0))?;
                let coils =
                    self.connection.prepare_cached(coils)?.query_row([run.id], |row| row.get(0))?;
                Ok(RunListed { order, made: self.made_in_run(run.id)?, coils, run })
            })
            .collect()
    }

    /// What a run has made so far, from the coils whose rings are counted.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn made_in_run(&self, run: Id<Run>) -> Result<RunMade, StoreError> {
        let query = format!("{MADE} and run_id = ?1");
        Ok(self.connection.prepare_cached(&query)?.query_row([run], made_from)?)
    }

    /// What a blade has made in all runs, from the coils whose rings are counted.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn made_with_blade(&self, blade: Id<Blade>) -> Result<RunMade, StoreError> {
        let query = format!("{MADE} and blade_id = ?1");
        Ok(self.connection.prepare_cached(&query)?.query_row([blade], made_from)?)
    }

    /// Wire of a lot weighed in for runs, g.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn wire_taken_g(&self, lot: Id<WireLot>) -> Result<f64, StoreError> {
        let query = "select total(wire_in_g) from run where wire_lot_id = ?1";
        Ok(self.connection.prepare_cached(query)?.query_row([lot], |row| row.get(0))?)
    }

    /// Lots of wire that are not used up, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn lots_in_use(&self) -> Result<Vec<Saved<WireLot>>, StoreError> {
        self.some("where finished_on is null order by id", [])
    }

    /// Blades that are not retired, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn blades_in_use(&self) -> Result<Vec<Saved<Blade>>, StoreError> {
        self.some("where retired_on is null order by id", [])
    }

    /// The trial recorded from a coil of a run.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn trial_of_coil(
        &self,
        run: Id<Run>,
        number: u32,
    ) -> Result<Option<Saved<Trial>>, StoreError> {
        self.one("where run_id = ?1 and coil_number = ?2 order by id limit 1", params![run, number])
    }

    /// Whether a batch has this code, other than the one named.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn code_is_taken(
        &self,
        code: &str,
        but_for: Option<Id<Batch>>,
    ) -> Result<bool, StoreError> {
        let query = "select exists (select 1 from batch where code = ?1 and id is not ?2)";
        Ok(self
            .connection
            .prepare_cached(query)?
            .query_row(params![code, but_for], |row| row.get(0))?)
    }
}

impl Act<'_> {
    /// Adds to the turns wound on a coil, or takes from them; there are never fewer than none.
    ///
    /// The sum is done on what the file holds now, so that taps from two windows both count.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if the run has no such coil.
    pub fn wind_turns(&self, coil: Id<Coil>, turns: i32) -> Result<(), StoreError> {
        self.step_count(coil, "turns_wound", turns)
    }

    /// Adds to one of the four counts of a coil, or takes from it, in the same way.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is no such coil.
    pub fn count_rings(
        &self,
        coil: Id<Coil>,
        count: RingCount,
        rings: i32,
    ) -> Result<(), StoreError> {
        self.step_count(coil, count.word(), rings)
    }

    fn step_count(&self, coil: Id<Coil>, column: &str, by: i32) -> Result<(), StoreError> {
        let statement = format!("update coil set {column} = max(0, {column} + ?2) where id = ?1");
        let changed = self.connection.prepare_cached(&statement)?.execute(params![coil, by])?;
        match changed {
            0 => Err(StoreError::NotFound { record: Coil::NAME, number: coil.number() }),
            _ => Ok(()),
        }
    }

    /// Ticks an item of a check list; ticked before, it stays as it was.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn tick(
        &self,
        run: Id<Run>,
        coil_number: u32,
        item: &str,
        now: Moment,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "insert into tick (run_id, coil_number, item, ticked_at) values (?1, ?2, ?3, ?4)
                 on conflict (run_id, coil_number, item) do nothing",
            )?
            .execute(params![run, coil_number, item, now])?;
        Ok(())
    }

    /// Takes a tick away, if it is there.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn untick(&self, run: Id<Run>, coil_number: u32, item: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "delete from tick where run_id = ?1 and coil_number = ?2 and item = ?3",
            )?
            .execute(params![run, coil_number, item])?;
        Ok(())
    }

    /// Adds a measured ring behind those measured before.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] if the diameter is none.
    pub fn add_reading(&self, run: Id<Run>, typed: &str, inside_mm: f64) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "insert into reading (run_id, position, typed, inside_mm)
                 select ?1, coalesce(max(position), 0) + 1, ?2, ?3 from reading where run_id = ?1",
            )?
            .execute(params![run, typed, inside_mm])?;
        Ok(())
    }
}
