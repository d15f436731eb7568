//! What to watch with a plan: its doubts, and the steps whose cautions go on its sheet.

use crate::basis::{Basis, Caution};
use crate::cautions::Step;
use crate::metal::{FineMetal, anneal};
use crate::quantity::Mass;
use crate::slit::TeethAcross;
use crate::wind::WireState;

use super::rod::Rod;
use super::stock::LineWire;
use super::{BladeOnSheet, CoilsOnSheet, ToMake, WhyOut};

/// Steps whose cautions go on the sheet.
pub(super) fn steps(wire: &LineWire<'_>, rod: &Rod, to_make: &ToMake) -> Vec<Step> {
    let mut steps = vec![Step::BeforeAnything, Step::WireIn];
    if rod.anneal.verdict == anneal::Verdict::Anneal
        || (rod.on_sheet.state == WireState::Annealed && !wire.annealed_already())
    {
        steps.extend([Step::Heating, Step::QuenchAndPickle]);
    }
    steps.extend([Step::Winding, Step::FittingBlade, Step::Slitting, Step::Finishing]);
    if to_make.kits.is_some() {
        steps.push(Step::Teaching);
    }
    steps
}

/// Doubts about this very plan.
pub(super) fn doubts(
    wire: &LineWire<'_>,
    rod: &Rod,
    blade: &BladeOnSheet,
    to_make: &ToMake,
    coils: &CoilsOnSheet,
) -> Vec<Caution> {
    let mut doubts = wire.doubts.clone();
    doubts.extend(rod.open_inside.cautions.iter().cloned());
    doubts.extend(
        blade
            .verdict
            .findings
            .iter()
            .map(|f| Caution::Note(format!("blade: {}", WhyOut::Depth(*f)))),
    );
    if let TeethAcross::Few(teeth) = blade.teeth_across {
        doubts.push(Caution::Note(format!(
            "only {teeth:.1} teeth stand across one wire: a tooth may snag; two or more are wanted"
        )));
    }
    doubts.extend(coils.untaught.iter().cloned().map(Caution::Note));
    let (own, predicted) = (coils.losses.stop.value, coils.losses.stop_predicted);
    // What was tried of these very sizes beats the geometry.
    let tried = matches!(coils.losses.stop.basis, Basis::Tried { .. });
    if let Some(predicted) = predicted.filter(|predicted| *predicted > own && !tried) {
        doubts.push(Caution::Note(format!(
            "the geometry leaves {predicted} turns uncut at the stop, more than the {own} planned with"
        )));
    }
    doubts.extend(wire.metal.skin_caution().map(|text| Caution::Note(text.to_owned())));
    doubts.extend(to_make.chain.and_then(|chain| hallmark(wire, chain.mass)));
    doubts
}

/// Masses above which UK law asks for a hallmark: a course page on exemption weights and a guide to
/// the Hallmarking Act 1973, texts seen; laws change.
const HALLMARK_ABOVE_G: [(FineMetal, f64); 2] = [(FineMetal::Silver, 7.78), (FineMetal::Gold, 1.0)];

fn hallmark(wire: &LineWire<'_>, mass: Mass) -> Option<Caution> {
    let fine = wire.metal.fine_metal()?;
    let (_, above_g) = HALLMARK_ABOVE_G.into_iter().find(|(metal, _)| *metal == fine)?;
    (mass.g() >= above_g && wire.metal.clad_mass_share().is_none()).then(|| {
        Caution::Note(format!(
            "the chain weighs {:.2} g; above {above_g} g UK law asks for a hallmark on it: check your \
             local rule before sale",
            mass.g()
        ))
    })
}
