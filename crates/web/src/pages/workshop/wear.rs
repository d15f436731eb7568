//! What a blade has cut since it was new, and how long blades last here.

use std::fmt;

use linkwright_calc::quantity::Length;
use linkwright_calc::wire::Wire;
use linkwright_store::records::Blade;
use linkwright_store::{Id, Saved, View};

use crate::error::PageError;

/// Rings severed, and the wire section severed: each ring costs the blade the section of its wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wear {
    rings: u64,
    cut_mm2: f64,
    coils: u32,
    before: bool,
}

impl Wear {
    /// What a blade has cut, from its coils and from what is noted of before.
    pub(super) fn of(blade: &Saved<Blade>, view: &View<'_>) -> Result<Wear, PageError> {
        let Blade { rings_before, cut_before_mm2, .. } = blade.record;
        let mut wear = Wear {
            rings: u64::from(rings_before),
            cut_mm2: cut_before_mm2,
            coils: 0,
            before: rings_before > 0,
        };
        for cut in view.cut_by_blade(blade.id)? {
            // A sheet holds no wire outside the limits of one.
            let Ok(wire) = Wire::new(Length::from_mm(cut.wire_mm)) else { continue };
            wear.rings += u64::from(cut.rings);
            wear.cut_mm2 += f64::from(cut.rings) * wire.section().mm2();
            wear.coils += cut.coils;
        }
        Ok(wear)
    }

    /// What the count rests on.
    pub(super) fn basis(&self) -> String {
        let before = if self.before { ", and what was noted of before" } else { "" };
        format!(
            "counted in {} coils{before}; the section of the wire for each ring, uncut ones left out",
            self.coils
        )
    }
}

impl fmt::Display for Wear {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} rings, {:.0} mm2", self.rings, self.cut_mm2)
    }
}

/// The middle of what own retired blades had cut.
pub(super) fn usual_life(view: &View<'_>) -> Result<String, PageError> {
    let mut lives: Vec<u64> = view
        .retired_blades()?
        .iter()
        .map(|blade| Ok(Wear::of(blade, view)?.rings))
        .collect::<Result<_, PageError>>()?;
    lives.sort_unstable();
    Ok(match lives.as_slice() {
        [] => "not known: no blade of yours is retired yet".to_owned(),
        [one] => format!("{one} rings - one retired blade"),
        all => format!("{} rings - the middle of {} retired blades", all[all.len() / 2], all.len()),
    })
}

/// Fewest retired blades that tell how long blades last here.
const LIVES_LEAST: usize = 2;

/// The section a blade has cut over the middle of what own retired blades had cut; nothing while too
/// few are retired.
pub(crate) fn lives_used(view: &View<'_>, id: Id<Blade>) -> Result<Option<f64>, PageError> {
    let mut lives_mm2: Vec<f64> = view
        .retired_blades()?
        .iter()
        .filter(|blade| blade.id != id)
        .map(|blade| Ok(Wear::of(blade, view)?.cut_mm2))
        .collect::<Result<_, PageError>>()?;
    lives_mm2.sort_by(f64::total_cmp);
    let middle_mm2 = lives_mm2.get(lives_mm2.len() / 2).copied().unwrap_or(0.0);
    if lives_mm2.len() < LIVES_LEAST || middle_mm2 <= 0.0 {
        return Ok(None);
    }
    let blade = Saved { id, record: view.get(id)? };
    Ok(Some(Wear::of(&blade, view)?.cut_mm2 / middle_mm2))
}
