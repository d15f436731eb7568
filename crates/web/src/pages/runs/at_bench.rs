//! A run as the bench sees it: its records, its frozen sheet, and what follows from both.

use linkwright_calc::coil::{Pitch, RelaxedTurns, WoundTurns, coil_length};
use linkwright_calc::quantity::Length;
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_store::records::{BladeEvent, Coil, Run};
use linkwright_store::{Id, RunAtBench, Saved, StoreError, View};

use super::checks::DRIVE;
use super::steps::{Place, Step, Way};
use crate::error::PageError;
use crate::planning::{Frozen, FrozenBlade, FrozenGroup};

/// A run with its sheet.
pub(crate) struct AtBench {
    pub(crate) work: RunAtBench,
    pub(crate) sheet: Frozen,
    pub(crate) wire: Wire,
    pub(crate) rod: Mandrel,
    pub(crate) pitch: Pitch,
}

impl AtBench {
    /// Loads a run.
    pub(crate) fn of(view: &View<'_>, id: Id<Run>) -> Result<AtBench, PageError> {
        let work = view.run_at_bench(id)?;
        let sheet = Frozen::of(&work.sheet)?;
        let corrupt = |error: linkwright_calc::limits::LimitError| StoreError::Corrupt {
            record: "frozen_sheet".to_owned(),
            what: error.to_string(),
        };
        Ok(AtBench {
            wire: Wire::new(Length::from_mm(sheet.wire_diameter_mm)).map_err(corrupt)?,
            rod: Mandrel::new(Length::from_mm(sheet.rod.mandrel_diameter_mm)).map_err(corrupt)?,
            pitch: Pitch::new(Length::from_mm(sheet.coils.pitch_mm)).map_err(corrupt)?,
            work,
            sheet,
        })
    }

    /// The run.
    pub(crate) fn run(&self) -> &Run {
        &self.work.run.record
    }

    /// Where the bench is.
    pub(crate) fn place(&self) -> Place {
        let step = Step::from_word(&self.run().step).unwrap_or(Step::Wire);
        Place { step, coil: self.run().coil_number }
    }

    /// A coil by its number.
    pub(crate) fn coil(&self, number: u32) -> Option<&Saved<Coil>> {
        self.work.coils.iter().find(|coil| coil.record.number == number)
    }

    /// The group of the sheet a coil belongs to.
    pub(crate) fn group(&self, number: u32) -> Option<&FrozenGroup> {
        self.sheet.coils.groups.get(self.group_number(number)?)
    }

    /// Which of the sheet's groups a coil belongs to, from 0; a coil more than the sheet has is as
    /// its first ones.
    pub(crate) fn group_number(&self, number: u32) -> Option<usize> {
        let mut before = 0;
        let groups = &self.sheet.coils.groups;
        let found = groups.iter().position(|group| {
            before += group.coils;
            number <= before
        });
        found.or((!groups.is_empty()).then_some(0))
    }

    /// Turns to expect on a coil once it has sprung open, from what was wound or is to be.
    pub(crate) fn turns_expected(&self, coil: &Coil) -> f64 {
        let wound = if coil.turns_wound > 0 { coil.turns_wound } else { coil.turns_target };
        let inside = Length::from_mm(self.sheet.ring.coil_inside_diameter_mm);
        WoundTurns::new(wound).relaxed(self.wire, self.rod, inside).get()
    }

    /// Whole turns there are to slit: counted if they were, else expected.
    pub(crate) fn turns_there(&self, coil: &Coil) -> u32 {
        let turns = coil.turns_relaxed.unwrap_or_else(|| self.turns_expected(coil));
        // Counts at a bench are far below the limit of u32.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the floor of a small number that is not below nothing"
        )]
        let whole = turns.max(0.0).floor() as u32;
        whole
    }

    /// Length of the whole turns of a coil; absent where there are none.
    pub(crate) fn length(&self, coil: &Coil) -> Option<Length> {
        let turns = RelaxedTurns::new(f64::from(self.turns_there(coil)));
        coil_length(self.wire, self.pitch, turns).ok()
    }

    /// Turns that are to become rings: those there are, less those the ends take.
    pub(crate) fn turns_to_slit(&self, coil: &Coil) -> u32 {
        self.turns_there(coil).saturating_sub(self.sheet.coils.lost_at_ends)
    }

    /// Whether an item is ticked for a coil.
    pub(crate) fn is_ticked(&self, coil: u32, item: &str) -> bool {
        self.work
            .ticks
            .iter()
            .any(|tick| tick.record.coil_number == coil && tick.record.item == item)
    }

    /// Whether the check of the blade still holds at a coil: made for it, or before with the same
    /// blade, to which nothing has happened since.
    fn check_holds(&self, number: u32) -> bool {
        if self.is_ticked(number, DRIVE) {
            return true;
        }
        let (Some(coil), Some(before)) =
            (self.coil(number), number.checked_sub(1).and_then(|before| self.coil(before)))
        else {
            return false;
        };
        let same = coil.record.blade_id.is_none() || coil.record.blade_id == before.record.blade_id;
        same && before.record.blade_event == BladeEvent::None && self.check_holds(number - 1)
    }

    /// What the sheet says of a blade by this name.
    pub(crate) fn blade_on_sheet(&self, name: &str) -> Option<&FrozenBlade> {
        self.sheet.blades.iter().find(|blade| blade.name == name)
    }

    /// Good rings so far.
    pub(crate) fn good(&self) -> u32 {
        self.work.coils.iter().map(|coil| coil.record.good).sum()
    }
}

impl Way for AtBench {
    fn coils(&self) -> u32 {
        u32::try_from(self.work.coils.len()).unwrap_or(u32::MAX)
    }

    fn needs_dividing(&self, coil: u32) -> bool {
        self.coil(coil).is_some_and(|coil| {
            self.turns_there(&coil.record) > self.sheet.coils.relaxed_turns_most
        })
    }

    fn needs_blade_check(&self, coil: u32) -> bool {
        !self.check_holds(coil)
    }
}
