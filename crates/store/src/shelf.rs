//! What blades have cut, and which holder is in use.

use std::collections::HashMap;

use rusqlite::params;

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Blade, Holder};
use crate::view::View;

/// Rings a blade severed, of one wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeCut {
    /// Diameter of the wire, mm.
    pub wire_mm: f64,
    /// Rings severed.
    pub rings: u32,
    /// Coils they came from, in runs and in trials typed in.
    pub coils: u32,
}

/// Rings left uncut were not severed. The wire of a coil is that of its sheet, whose long answer is
/// read once however many coils were slit from it; a trial that came from a run is that run's coil
/// and counts once.
const CUT: &str = "
    with sheet as materialized (
        select id, json_extract(answer, '$.sheet.wire_diameter_mm') as wire_mm from frozen_sheet)
    select blade_id, wire_mm, sum(rings), count(*)
    from (select blade_id, wire_mm, good + nicked + crushed as rings
          from coil join run on run.id = coil.run_id
                    join sheet on sheet.id = run.frozen_sheet_id
          where blade_id is not null
          union all
          select blade_id, wire_mm, ifnull(good, 0) + ifnull(nicked, 0) + ifnull(crushed, 0)
          from trial where blade_id is not null and run_id is null)
    where wire_mm is not null and rings > 0
    group by blade_id, wire_mm order by blade_id, wire_mm";

impl View<'_> {
    /// What a blade has cut in recorded coils, wire by wire.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn cut_by_blade(&self, id: Id<Blade>) -> Result<Vec<BladeCut>, StoreError> {
        let cut = self.worked_out("cut by all blades", || self.cut_by_all_blades())?;
        Ok(cut.get(&id).cloned().unwrap_or_default())
    }

    fn cut_by_all_blades(&self) -> Result<HashMap<Id<Blade>, Vec<BladeCut>>, StoreError> {
        let mut statement = self.connection.prepare_cached(CUT)?;
        let mut rows = statement.query([])?;
        let mut cut: HashMap<Id<Blade>, Vec<BladeCut>> = HashMap::new();
        while let Some(row) = rows.next()? {
            let of_wire = BladeCut { wire_mm: row.get(1)?, rings: row.get(2)?, coils: row.get(3)? };
            cut.entry(row.get(0)?).or_default().push(of_wire);
        }
        Ok(cut)
    }

    /// Blades that are no longer in use, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn retired_blades(&self) -> Result<Vec<Saved<Blade>>, StoreError> {
        self.some("where retired_on is not null order by retired_on, id", [])
    }

    /// The holder plans are made for.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn holder_in_use(&self) -> Result<Option<Saved<Holder>>, StoreError> {
        self.one("where in_use order by id limit 1", [])
    }
}

impl Act<'_> {
    /// Plans are made for this holder from now on, and for no other.
    ///
    /// # Errors
    /// [`StoreError::NotFound`] if there is no such holder.
    pub fn use_holder(&self, id: Id<Holder>) -> Result<(), StoreError> {
        let mut holder = self.get(id)?;
        self.connection
            .execute("update holder set in_use = 0 where in_use and id <> ?1", params![id])?;
        if !holder.in_use {
            holder.in_use = true;
            self.change(id, &holder)?;
        }
        Ok(())
    }
}
