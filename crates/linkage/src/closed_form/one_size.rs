//! What patterns of one ring size measure, by closed form, for rings of any size.

use super::{Measures, doubled_cable_pitch, european_row_pitch};
use crate::pattern::{Pattern, craft};

/// [`doubled_cable_limit`](super::doubled_cable_limit), which takes a search to work out.
const DOUBLED_CABLE_LEAST: f64 = 2.621_278;
/// [`european_limit`](super::european_limit), which takes a longer one.
const EUROPEAN_LEAST: f64 = 2.980_927;

/// What a pattern of one ring size measures; also for rings beyond the end of the table.
///
/// With `AR` the aspect ratio: a cable chain advances by `AR` a ring; pairs by
/// [`doubled_cable_pitch`]; rows of the European sheet by [`european_row_pitch`], each pair of rows
/// taking `AR + 2` across. Rings of cable and pairs are as wide as they are outside. Rings of a sheet
/// lean by `cos^2 t = (AR + 2)/(AR + 4)`, so that it is `2 R sin t + 1` thick.
///
/// # Units
/// Wire diameters.
/// # Validity
/// `cable_1in1`, `double_2in2`, `european_4in1_sheet` and its strips of three and five rows, as they
/// come with the tool, at or above their limits; `None` for any other. Width and thickness of strips
/// are soft by some per cent, since rings at their edges are loose.
/// # Source
/// Own derivations, `docs/theory/chain.md`, section 7.
///
/// ```
/// use linkwright_linkage::closed_form::of_one_size;
/// use linkwright_linkage::pattern::{craft, Pattern};
/// let cable = Pattern::new(craft::named("cable_1in1").unwrap()).unwrap();
/// let measures = of_one_size(&cable, 20.0).unwrap();
/// assert_eq!((measures.advance, measures.width), (20.0, Some(22.0)));
/// assert!(of_one_size(&cable, 1.9).is_none());
/// ```
pub fn of_one_size(pattern: &Pattern, aspect_ratio: f64) -> Option<Measures> {
    if !craft::is_of_the_craft(pattern.spec()) {
        return None;
    }
    let outside = aspect_ratio + 2.0;
    let round =
        |advance| Measures { advance, across: None, width: Some(outside), thickness: outside };
    let european = |rows_across: Option<f64>| Measures {
        advance: european_row_pitch(aspect_ratio),
        across: rows_across.is_none().then_some(outside),
        width: rows_across.map(|pairs| pairs * outside),
        thickness: (aspect_ratio + 1.0) * (2.0 / (aspect_ratio + 4.0)).sqrt() + 1.0,
    };
    let (least, measures): (f64, &dyn Fn() -> Measures) = match pattern.name() {
        "cable_1in1" => (2.0, &|| round(aspect_ratio)),
        "double_2in2" => (DOUBLED_CABLE_LEAST, &|| round(doubled_cable_pitch(aspect_ratio))),
        "european_4in1_sheet" => (EUROPEAN_LEAST, &|| european(None)),
        // Rows two apart touch: from edge to edge of three rows one ring and one such step.
        "european_4in1_strip3" => (EUROPEAN_LEAST, &|| european(Some(2.0))),
        "european_4in1_strip5" => (EUROPEAN_LEAST, &|| european(Some(3.0))),
        _ => return None,
    };
    (aspect_ratio >= least).then(measures)
}

#[cfg(test)]
mod tests {
    use super::of_one_size;
    use crate::closed_form::{doubled_cable_limit, european_limit};
    use crate::pattern::{Pattern, craft};
    use crate::table;

    /// Width and thickness of loose rings are softer than lengths: half a per cent where nothing is
    /// loose, one and a half in strips, whose edge rings are.
    fn soft(name: &str) -> f64 {
        if name.contains("strip") { 0.015 } else { 0.005 }
    }

    #[test]
    fn the_limits_kept_as_numbers_are_those_of_the_searches() {
        // Six decimals are kept.
        assert!((super::DOUBLED_CABLE_LEAST - doubled_cable_limit()).abs() < 1e-6);
        assert!((super::EUROPEAN_LEAST - european_limit()).abs() < 1e-6);
    }

    #[test]
    fn closed_forms_and_the_solved_table_agree_wherever_both_speak() {
        let mut met = 0;
        for entry in table::entries() {
            let pattern = Pattern::new(craft::named(entry.name).expect("known")).expect("valid");
            // A little above the limit, where rings are not yet wedged out of their places.
            for ar in [3.5, 4.2, 5.3, 7.7, 11.9] {
                let (Some(form), Some(read)) = (of_one_size(&pattern, ar), entry.at(ar)) else {
                    continue;
                };
                let name = entry.name;
                let near = |a: f64, b: f64, share: f64| (a - b).abs() <= share * b;
                assert!(near(form.advance, read.advance, 5e-4), "{name} {ar}: {form:?} {read:?}");
                let across = form.across.unwrap_or(0.0);
                assert!(near(across, read.across, 5e-4), "{name} {ar}: {form:?} {read:?}");
                let width = form.width.unwrap_or(0.0);
                assert!(near(width, read.width, soft(name)), "{name} {ar}: {form:?} {read:?}");
                assert!(near(form.thickness, read.thickness, soft(name)), "{name} {ar}");
                met += 1;
            }
        }
        assert_eq!(met, 25);
    }
}
