//! Kinds of blade: a worn one and its replacement are one kind if diameter, kerf and teeth agree.

use linkwright_store::records::Blade;
use linkwright_trials::TrialBlade;

use crate::pages::workshop::holders::of_calc;

/// A kind of blade that is in use.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct BladeKind {
    /// As the model knows it.
    pub(crate) blade: TrialBlade,
    /// What the workshop calls the newest blade of the kind.
    pub(crate) called: String,
}

/// The blade as the model knows it, named by its kind; `None` for one outside all limits.
pub(crate) fn trial_blade(record: &Blade) -> Option<TrialBlade> {
    of_calc(record).map(kind_of)
}

/// A blade named by its kind.
pub(crate) fn kind_of(blade: linkwright_calc::slit::Blade) -> TrialBlade {
    let teeth = blade.teeth().map_or_else(|| "teeth not counted".to_owned(), |n| n.to_string());
    let (across_mm, kerf_mm) = (blade.diameter().mm(), blade.kerf().width().mm());
    TrialBlade { name: format!("{across_mm:.2} x {kerf_mm:.2} x {teeth}").into(), blade }
}

/// The kinds among the blades that are in use, each called by its newest blade.
pub(crate) fn kinds_in_use(blades: &[Blade]) -> Vec<BladeKind> {
    let mut kinds: Vec<BladeKind> = Vec::new();
    for record in blades.iter().rev().filter(|blade| blade.retired_on.is_none()) {
        let Some(blade) = trial_blade(record) else { continue };
        if kinds.iter().all(|kind| kind.blade.name != blade.name) {
            kinds.push(BladeKind { blade, called: record.name.clone() });
        }
    }
    kinds.reverse();
    kinds
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn blade(name: &str, kerf_mm: f64) -> Blade {
        Blade {
            name: name.to_owned(),
            diameter_typed: "1 1/4 in".to_owned(),
            diameter_mm: 31.75,
            kerf_typed: format!("{kerf_mm} mm"),
            kerf_mm,
            teeth: Some(160),
            hub_typed: None,
            hub_mm: None,
            fitted_on: None,
            rings_before: 0,
            cut_before_mm2: 0.0,
            retired_on: None,
            retired_why: String::new(),
            note: String::new(),
        }
    }

    #[test]
    fn a_replacement_is_the_same_kind_and_gives_it_its_name() {
        let mut first = blade("thin", 0.2);
        first.retired_on = Some("2026-01-01".to_owned());
        let blades = [first, blade("thin 2", 0.2), blade("thick", 0.4), blade("thin 3", 0.2)];
        let called: Vec<String> = kinds_in_use(&blades).into_iter().map(|k| k.called).collect();
        assert_eq!(called, ["thick", "thin 3"]);
    }
}
