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
    pub(super) cut_mm2: f64,
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
        let coils = if self.coils == 1 { "coil" } else { "coils" };
        let before = if self.before { ", and what was noted of before" } else { "" };
        format!(
            "counted in {} {coils}{before}; good, nicked and crushed rings, each with the section of its wire, uncut ones left out",
            self.coils
        )
    }
}

impl fmt::Display for Wear {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} rings, {:.0} mm2", self.rings, self.cut_mm2)
    }
}

/// How long blades last here: the middle of what own retired blades had cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct UsualLife {
    cut_mm2: f64,
    blades: usize,
}

/// A blade this much beyond the usual life is far past it. Own choice.
const FAR_PAST: f64 = 1.5;

impl UsualLife {
    /// From the retired blades that have cut anything; `None` while there are none.
    pub(super) fn of(view: &View<'_>) -> Result<Option<UsualLife>, PageError> {
        let mut lives_mm2 = Vec::new();
        for blade in view.retired_blades()? {
            lives_mm2.push(Wear::of(&blade, view)?.cut_mm2);
        }
        lives_mm2.retain(|life_mm2| *life_mm2 > 0.0);
        Ok(middle(&mut lives_mm2).map(|cut_mm2| UsualLife { cut_mm2, blades: lives_mm2.len() }))
    }

    /// How a blade stands to it, if it is far past it.
    pub(super) fn far_past(self, wear: &Wear) -> Option<String> {
        (wear.cut_mm2 > FAR_PAST * self.cut_mm2).then(|| {
            format!("far past its usual life: {:.0} mm2 cut, usual is {self}", wear.cut_mm2)
        })
    }
}

impl fmt::Display for UsualLife {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let UsualLife { cut_mm2, blades } = self;
        let of = if *blades == 1 { "one retired blade" } else { "the middle of" };
        write!(f, "{cut_mm2:.0} mm2 - tried: {of}")?;
        if *blades == 1 { Ok(()) } else { write!(f, " {blades} retired blades") }
    }
}

/// The middle one, or half way between the two in the middle.
fn middle(numbers: &mut [f64]) -> Option<f64> {
    numbers.sort_by(f64::total_cmp);
    let half = numbers.len() / 2;
    let upper = *numbers.get(half)?;
    let lower = if numbers.len().is_multiple_of(2) { numbers[half - 1] } else { upper };
    Some(f64::midpoint(lower, upper))
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

#[cfg(test)]
mod tests {
    use super::middle;

    #[test]
    fn the_middle_of_an_even_count_lies_between_the_two() {
        assert_eq!(middle(&mut []), None);
        assert_eq!(middle(&mut [700.0]), Some(700.0));
        assert_eq!(middle(&mut [700.0, 100.0, 300.0]), Some(300.0));
        assert_eq!(middle(&mut [700.0, 100.0, 300.0, 500.0]), Some(400.0));
    }
}
