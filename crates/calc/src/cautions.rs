//! Cautions by step of the work: reminders in plain words, which no setting hides.
//!
//! They do not replace the tool maker's instructions, a data sheet, the law, a school's own rules, or
//! someone licensed for gas, electrical, fire, waste or medical work.

use std::fmt;

use crate::metal::{Family, Metal};

/// One reminder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionLine {
    /// The sentence as printed.
    pub text: &'static str,
    /// Whether every student sheet carries it.
    pub student: bool,
}

/// A step of the work, in the order of the wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Step {
    /// Before anything else.
    BeforeAnything,
    /// Wire in: straightening and cutting.
    WireIn,
    /// Annealing, soldering, fusing.
    Heating,
    /// Quench and pickle.
    QuenchAndPickle,
    /// Winding.
    Winding,
    /// Fitting the blade.
    FittingBlade,
    /// Clamping and slitting.
    Slitting,
    /// Sorting, tumbling, linking.
    Finishing,
    /// Selling and describing.
    Selling,
    /// Scrap, dust, refining.
    Scrap,
    /// Teaching.
    Teaching,
}

impl Step {
    /// All steps, in the order of the wire.
    pub const ALL: [Step; 11] = [
        Step::BeforeAnything,
        Step::WireIn,
        Step::Heating,
        Step::QuenchAndPickle,
        Step::Winding,
        Step::FittingBlade,
        Step::Slitting,
        Step::Finishing,
        Step::Selling,
        Step::Scrap,
        Step::Teaching,
    ];

    /// The heading printed above the cautions of the step.
    pub const fn heading(self) -> &'static str {
        match self {
            Step::BeforeAnything => "Before anything else",
            Step::WireIn => "Wire in: straightening and cutting",
            Step::Heating => "Annealing, soldering, fusing",
            Step::QuenchAndPickle => "Quench and pickle",
            Step::Winding => "Winding",
            Step::FittingBlade => "Fitting the blade",
            Step::Slitting => "Clamping and slitting",
            Step::Finishing => "Sorting, tumbling, linking",
            Step::Selling => "Selling and describing",
            Step::Scrap => "Scrap, dust, refining",
            Step::Teaching => "Teaching",
        }
    }
}

impl fmt::Display for CautionLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text)
    }
}

/// The cautions of a step, most important first: two or three beside the step, all on paper.
///
/// # Units
/// None.
/// # Validity
/// Reminders; local rules and licensed practice come first.
/// # Source
/// Common practice, no source.
///
/// ```
/// use linkwright_calc::cautions::{Step, for_step};
/// assert!(for_step(Step::FittingBlade)[0].text.starts_with("Handpiece separated from the drive"));
/// assert_eq!(for_step(Step::Winding).iter().filter(|line| line.student).count(), 3);
/// ```
pub const fn for_step(step: Step) -> &'static [CautionLine] {
    match step {
        Step::BeforeAnything => BEFORE_ANYTHING,
        Step::WireIn => WIRE_IN,
        Step::Heating => HEATING,
        Step::QuenchAndPickle => QUENCH_AND_PICKLE,
        Step::Winding => WINDING,
        Step::FittingBlade => FITTING_BLADE,
        Step::Slitting => SLITTING,
        Step::Finishing => FINISHING,
        Step::Selling => SELLING,
        Step::Scrap => SCRAP,
        Step::Teaching => TEACHING,
    }
}

/// The cautions that belong to a metal whatever the step.
///
/// # Units
/// None.
/// # Validity
/// By the kind of metal; what happens in the flame is in [`Metal::anneal`].
/// # Source
/// Common practice, no source.
///
/// ```
/// use linkwright_calc::{cautions::for_metal, metal::Catalogue};
/// let metals = Catalogue::built_in();
/// let lines = for_metal(metals.find("niobium").unwrap());
/// assert!(lines.iter().any(|line| line.text.starts_with("Do not torch")));
/// assert!(for_metal(metals.find("fine silver").unwrap()).is_empty());
/// ```
pub fn for_metal(metal: &Metal) -> Vec<CautionLine> {
    let mut lines: Vec<CautionLine> = Vec::new();
    if !metal.may_torch() {
        lines.push(DO_NOT_TORCH);
    }
    lines.extend(metal.skin_caution().map(all));
    match metal.family() {
        Family::Brass | Family::NickelSilver => lines.push(ZINC),
        Family::GoldFilled => lines.push(CLAD),
        Family::Aluminium | Family::Titanium | Family::Niobium => lines.push(REACTIVE_DUST),
        Family::Steel => lines.push(GALVANISED),
        _ => {}
    }
    lines
}

const fn student(text: &'static str) -> CautionLine {
    CautionLine { text, student: true }
}

const fn all(text: &'static str) -> CautionLine {
    CautionLine { text, student: false }
}

const DO_NOT_TORCH: CautionLine =
    student("Do not torch this metal: buy it annealed, or ask someone with a furnace made for it.");
const ZINC: CautionLine =
    all("Holds zinc: its fume, when overheated, causes fever; fumes out at the source.");
const CLAD: CautionLine =
    all("The gold layer is under a hundredth of the diameter: no file, short heat, short pickle.");
const REACTIVE_DUST: CautionLine = all(
    "Its fine dust can burn: keep it small, apart, dry and away from flame; water is wrong on it, ask the fire service.",
);
const GALVANISED: CautionLine =
    all("Zinc-coated steel gives poisonous fume: never heat galvanised or unknown plated wire.");

const BEFORE_ANYTHING: &[CautionLine] = &[
    student(
        "Eye protection with side cover on everyone in the room who can see the work, not only the person cutting; over reading glasses, not in place of them.",
    ),
    student(
        "Hair tied, sleeves and scarves tucked, no rings, bracelets, loose cords or earphone leads near anything that turns.",
    ),
    student(
        "No gloves near a turning chuck, drill, rod or blade. Leather pads or a wood guide for wire tension in place of gloves.",
    ),
    student(
        "Know where the switch, the plug and the first aid box are. Nobody works with power or flame alone in a class.",
    ),
    all(
        "Good light, clear floor, dry hands on electric tools, leads away from water, heat and feet. Damaged leads and plugs go to a licensed electrician.",
    ),
    all(
        "Tired, unwell, medicated, interrupted: stop. Young people, pregnancy, asthma, skin allergy, heart devices: ask the school and a doctor before metal dust, flux, pickle or magnets.",
    ),
    all("No food or drink at the bench; wash hands before eating and at the end."),
];
const WIRE_IN: &[CautionLine] = &[
    student(
        "Loose ends are sharp and spring: hold both sides of a cut, point the off-cut into a cloth or the bin, cut reel ties with the coil held down.",
    ),
    all(
        "Stretching wire straight: stand to the side of the line of pull; it can let go at the vice.",
    ),
    all(
        "Know the metal. Nickel alloys: skin allergy. Beryllium-bearing copper: do not file, sand or slit it in a home workshop. Unknown clad, plated or painted wire: do not heat.",
    ),
];
const HEATING: &[CautionLine] = &[
    student(
        "Flame only on a heat-proof surface, nothing to burn within reach, an extinguisher suited to the room and someone taught to use it, fire watch after the last flame. Ask your insurer and check your local fire rule.",
    ),
    student("Hot metal looks cold. Tongs, not fingers; announce hot work; mark the cooling place."),
    all(
        "Fresh air in, fumes out at the source, head out of the plume. Zinc-bearing metals (brass, some solders) give fume that causes fever; cadmium-bearing solder must not be used; fluoride fluxes are poisonous and need their own data sheet.",
    ),
    all(
        "Gas: cylinders upright and fixed, leak test with the liquid meant for it, never with flame; heavier-than-air gas stays low; close valves at the cylinder. Amount and place indoors are set by local fire rules and insurers: ask them first. Oxygen fittings stay free of oil and grease.",
    ),
    all(
        "Coiled wire can hide a tape, glue or lubricant film that burns: remove and wash it off first. Do not heat sealed hollow things.",
    ),
    all(
        "Alcohol-based protective coats burn with a flame that is hard to see: lid on, bottle away, then light.",
    ),
    all("Titanium and niobium are not torch metals for a class; their fine dust can burn."),
];
const QUENCH_AND_PICKLE: &[CautionLine] = &[
    student(
        "Acid into water, never water into acid. Goggles, apron, lid, no quench in the pickle, plastic or brass tongs. Label the pot; it is never used for food.",
    ),
    all(
        "Warm, not boiling. Splash on skin or eye: plenty of water at once, then medical advice. Spill: neutral powder, then wipe with gloves.",
    ),
    all(
        "Spent pickle holds copper: take it to the place your council or water company names. Rust follows fumes: keep steel tools away.",
    ),
];
const WINDING: &[CautionLine] = &[
    student(
        "Hand crank first; a drill only once winding by hand is sure and understood, at its slowest speed, with a switch that stops when released.",
    ),
    student(
        "Keep fingers behind the point where wire meets rod; never wrap wire round a hand or finger; let go rather than be drawn in.",
    ),
    student(
        "Stop before the tail reaches the hand: the end whips. Ease tension off before opening the chuck: the coil unwinds.",
    ),
    all(
        "Support the free end of a thin rod; a bent rod thrashes at speed. Chuck key out before power.",
    ),
    all("Hard or thick wire stores more spring: face shield, shorter coils."),
];
const FITTING_BLADE: &[CautionLine] = &[
    student(
        "Handpiece separated from the drive, or plug out, before a blade is touched. Not just foot off.",
    ),
    student(
        "Check: right way round, flat and uncracked, screw tight, turns free by hand, in line with the slot, guard and cover in place, key removed.",
    ),
    all(
        "Handle a blade by its faces. A dropped or bent blade is scrap. Used blades go in a lidded tin marked sharp.",
    ),
    all(
        "Never above the speed the blade and handpiece are made for; slower is kinder to soft metal and blade.",
    ),
];
const SLITTING: &[CautionLine] = &[
    student(
        "Coil held by the holder, never in fingers. Both hands on the handpiece and holder, none in front of the blade's path.",
    ),
    student(
        "Start clear of the coil, stand out of the plane of the blade, do not twist, do not free a jam under power: stop, separate the drive, then look.",
    ),
    student(
        "Pedal where nobody steps on it by chance; foot away between passes; one person at one machine; onlookers outside arm's length and out of the blade's line.",
    ),
    all("Do not cut on a steel rod. Filler is soft wood."),
    all(
        "Chips are splinters: brush, no blowing with the mouth or compressed air, no bare hand sweeping.",
    ),
    all("Dry powdery lubricants: little at a time, not breathed. Oil on the floor is a fall."),
    all(
        "Breaks: tingling or white fingers, ringing ears, sore wrist mean stop and shorten sessions; local vibration and noise rules may apply in a business or school.",
    ),
];
const FINISHING: &[CautionLine] = &[
    all(
        "Lid tight, drum guarded, lead away from water, catch the water for metal and for the drain. Rinse compounds are for hands and eyes as the label says.",
    ),
    all("Rings are choking pieces: kits and floor sweepings away from small children and animals."),
    all("Linking: padded plier handles, change grip, rest eyes and hands by the clock."),
];
const SELLING: &[CautionLine] = &[
    all(
        "Say what the metal is in the words your law allows. Hallmark, fineness, nickel, lead, cadmium and children's jewellery rules vary: check your local rule before sale, keep the wire supplier's statement.",
    ),
    all(
        "Necklaces can catch: discuss a weak link with the buyer where it matters (children, machinery, care work).",
    ),
];
const SCRAP: &[CautionLine] = &[
    all(
        "Keep metals apart in lidded jars; sieve and magnet by hand tool, mask for fine dust, damp wiping not dry sweeping.",
    ),
    all(
        "Reactive metal dust (titanium, niobium, aluminium) kept small, apart, dry and away from flame; ask the fire service what to use; water is wrong on it.",
    ),
    all(
        "Do not burn off, melt or use acids or mercury to refine at home unless trained and allowed: use a licensed refiner. Post and insure lots as the carrier requires.",
    ),
];
const TEACHING: &[CautionLine] = &[
    all(
        "School or venue rules and risk assessment come first; the ratio of adults to power tools is set by them.",
    ),
    all(
        "Show, do together, do alone. Check each student's blade and holder before power, every time.",
    ),
    all("Printed sheet carries a date; take old ones down."),
];

#[cfg(test)]
mod tests {
    use super::{Step, for_metal, for_step};
    use crate::metal::Catalogue;

    #[test]
    fn no_caution_calls_anything_safe() {
        let metals = Catalogue::built_in();
        let of_steps = Step::ALL.into_iter().flat_map(for_step).copied();
        let of_metals = metals.metals().iter().flat_map(for_metal);
        for line in of_steps.chain(of_metals) {
            let mut words = line.text.split(|c: char| !c.is_alphabetic());
            assert!(
                !words.any(|word| [concat!("sa", "fe"), concat!("sa", "fely")]
                    .contains(&word.to_lowercase().as_str())),
                "{line}"
            );
        }
    }

    #[test]
    fn every_step_has_cautions_and_the_student_lines_come_first() {
        for step in Step::ALL {
            let lines = for_step(step);
            assert!(!lines.is_empty(), "{}", step.heading());
            assert!(lines.is_sorted_by_key(|line| !line.student), "{}", step.heading());
        }
    }

    #[test]
    fn metals_that_must_not_be_torched_say_so_and_no_other_does() {
        for metal in Catalogue::built_in().metals() {
            let says = for_metal(metal).iter().any(|line| line.text.contains("Do not torch"));
            assert_eq!(says, !metal.may_torch(), "{}", metal.key());
        }
    }
}
