//! What a run already shows, and how far it moves the causes.

/// What is known of a run when something goes wrong; nothing where it is not known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownOfRun {
    /// Projection less wire diameter, mm.
    pub projection_less_wire_mm: Option<f64>,
    /// How far the blade stays from the far wall, mm; below nothing if it reaches it.
    pub far_wall_clear_mm: Option<f64>,
    /// Section cut by the blade over what the workshop's retired blades cut in their lives.
    pub blade_life_used: Option<f64>,
    /// Whether taping was ticked.
    pub tape_ticked: Option<bool>,
    /// Whether the lubricant was ticked.
    pub lubricant_ticked: Option<bool>,
    /// Whether the direction of the teeth was ticked.
    pub direction_ticked: Option<bool>,
    /// Whether the blade was found in line with the slot.
    pub alignment_ticked: Option<bool>,
    /// Turns the sheet expects uncut at the stop.
    pub uncut_expected: Option<u32>,
    /// Mean diameter of the wound coil over wire diameter.
    pub index: Option<f64>,
    /// Whether annealing was advised and not done.
    pub anneal_left_out: Option<bool>,
}

/// What a factor rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// The blade's circle, the coil and the wire leave no other way.
    Geometry,
    /// A judgement of the trade, no source.
    Judgement,
}

impl Ground {
    /// The ground in words.
    pub const fn words(self) -> &'static str {
        match self {
            Ground::Geometry => "geometry",
            Ground::Judgement => "judgement",
        }
    }
}

/// One finding that speaks for or against a cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// Code of the cause.
    pub cause: &'static str,
    /// How many times as likely the finding is with this cause as with another.
    pub factor: f64,
    /// The finding in words.
    pub words: String,
    /// What the factor rests on.
    pub ground: Ground,
}

/// Factor of what geometry asks for: it need not be the only trouble, so it is not without end.
const BY_GEOMETRY: f64 = 20.0;
/// Factor of a strong sign.
const STRONG: f64 = 4.0;
/// Factor of a sign.
const SIGN: f64 = 2.0;
/// Factor of something that was ticked as done: a tick is not always a deed.
const TICKED: f64 = 0.25;
/// A blade is far past its usual life from here on.
const FAR_PAST_LIFE: f64 = 1.5;
/// Below this index a coil is hard to wind and may crack.
const INDEX_LEAST: f64 = 3.0;

/// What is known of a run, as factors on causes of any symptom.
///
/// # Units
/// Factors are plain numbers; 1 would say nothing.
/// # Validity
/// Findings are taken as independent of each other once the cause is given.
/// # Source
/// `docs/theory/faults.md`, section 2; factors marked as geometry follow from `docs/theory/slitting.md`,
/// the others are judgement, no source.
///
/// ```
/// use linkwright_calc::fault::{KnownOfRun, evidence};
/// let known = KnownOfRun { projection_less_wire_mm: Some(-0.03), ..KnownOfRun::default() };
/// assert_eq!(evidence(&known)[0].cause, "F07b");
/// assert!(evidence(&KnownOfRun::default()).is_empty());
/// ```
pub fn evidence(known: &KnownOfRun) -> Vec<Evidence> {
    let mut found = Found(Vec::new());
    found.depth(known);
    found.blade(known);
    found.ticks(known);
    found.wire(known);
    found.0
}

/// Codes of causes with their factors.
type Factors = &'static [(&'static str, f64)];

struct Found(Vec<Evidence>);

impl Found {
    fn add(&mut self, causes: &[(&'static str, f64)], ground: Ground, words: &str) {
        self.0.extend(causes.iter().map(|&(cause, factor)| Evidence {
            cause,
            factor,
            words: words.to_owned(),
            ground,
        }));
    }

    fn depth(&mut self, known: &KnownOfRun) {
        if let Some(margin_mm) = known.projection_less_wire_mm.filter(|margin| *margin < 0.0) {
            let short_mm = -margin_mm;
            let words = format!("the sheet has the projection {short_mm:.2} mm short of the wire");
            self.add(&[("F07b", BY_GEOMETRY)], Ground::Geometry, &words);
        }
        if let Some(clear_mm) = known.far_wall_clear_mm.filter(|clear| *clear < 0.0) {
            let past_mm = -clear_mm;
            let words = format!("the sheet has the blade {past_mm:.2} mm into the far wall");
            self.add(&[("F08c", BY_GEOMETRY), ("F03f", STRONG)], Ground::Geometry, &words);
        }
        if let Some(turns) = known.uncut_expected.filter(|turns| *turns > 0) {
            let words = format!("the sheet expects {turns} turns uncut at the stop");
            self.add(&[("F06d", BY_GEOMETRY)], Ground::Geometry, &words);
        }
    }

    fn blade(&mut self, known: &KnownOfRun) {
        if let Some(lives) = known.blade_life_used.filter(|lives| *lives >= FAR_PAST_LIFE) {
            let words = format!("the blade has cut {lives:.1} times what your retired blades cut");
            let worn = [("F01g", STRONG), ("F07e", SIGN), ("F09e", STRONG), ("F05f", SIGN)];
            self.add(&worn, Ground::Judgement, &words);
        }
    }

    fn ticks(&mut self, known: &KnownOfRun) {
        let ticks: [(Option<bool>, &str, Factors); 4] = [
            (known.tape_ticked, "tape", &[("F03a", STRONG), ("F05a", SIGN), ("F01a", SIGN)]),
            (
                known.lubricant_ticked,
                "lubricant",
                &[("F01d", STRONG), ("F02a", STRONG), ("F09a", SIGN)],
            ),
            (known.direction_ticked, "direction of the teeth", &[("F01c", STRONG)]),
            (
                known.alignment_ticked,
                "blade in line with the slot",
                &[("F01e", SIGN), ("F02c", SIGN)],
            ),
        ];
        for (ticked, what, causes) in ticks {
            match ticked {
                Some(false) => {
                    self.add(
                        causes,
                        Ground::Judgement,
                        &format!("no tick for \u{201c}{what}\u{201d}"),
                    );
                }
                Some(true) => {
                    let words = format!("\u{201c}{what}\u{201d} was ticked");
                    let first: Vec<_> =
                        causes[..1].iter().map(|(cause, _)| (*cause, TICKED)).collect();
                    self.add(&first, Ground::Judgement, &words);
                }
                None => {}
            }
        }
    }

    fn wire(&mut self, known: &KnownOfRun) {
        if let Some(index) = known.index.filter(|index| *index < INDEX_LEAST) {
            let words = format!("the index is {index:.1}, under {INDEX_LEAST:.0}");
            self.add(&[("F16b", STRONG)], Ground::Judgement, &words);
        }
        if known.anneal_left_out == Some(true) {
            let hard = [("F16a", STRONG), ("F14c", STRONG), ("F03e", SIGN), ("F02b", SIGN)];
            self.add(&hard, Ground::Judgement, "annealing was advised and not done");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{KnownOfRun, evidence};
    use crate::fault::{chances, symptom, symptoms};

    fn all_findings() -> KnownOfRun {
        KnownOfRun {
            projection_less_wire_mm: Some(-0.1),
            far_wall_clear_mm: Some(-0.1),
            blade_life_used: Some(2.0),
            tape_ticked: Some(false),
            lubricant_ticked: Some(false),
            direction_ticked: Some(false),
            alignment_ticked: Some(false),
            uncut_expected: Some(4),
            index: Some(2.5),
            anneal_left_out: Some(true),
        }
    }

    #[test]
    fn every_finding_names_a_cause_that_is_on_the_list() {
        for evidence in evidence(&all_findings()) {
            let known = symptoms().iter().flat_map(|symptom| symptom.causes);
            assert!(known.into_iter().any(|cause| cause.code == evidence.cause), "{evidence:?}");
        }
    }

    #[test]
    fn a_projection_short_of_the_wire_comes_before_all_else_for_rings_uncut_all_along() {
        let known = KnownOfRun { projection_less_wire_mm: Some(-0.05), ..KnownOfRun::default() };
        let uncut = symptom("F07").unwrap();
        let found = chances(uncut, &[], &evidence(&known));
        // Prior odds 45 to 55, times 20.
        assert!((found[1].chance - 900.0 / 955.0).abs() < 1e-9, "{}", found[1].chance);
    }

    #[test]
    fn margins_that_are_kept_and_a_young_blade_say_nothing() {
        let known = KnownOfRun {
            projection_less_wire_mm: Some(0.5),
            far_wall_clear_mm: Some(2.0),
            blade_life_used: Some(1.2),
            uncut_expected: Some(0),
            index: Some(4.9),
            anneal_left_out: Some(false),
            ..KnownOfRun::default()
        };
        assert!(evidence(&known).is_empty());
    }
}
