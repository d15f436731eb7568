//! The ring each owned rod really gives: springback of the wire, then the ends closed.

use std::sync::Arc;

use linkwright_calc::basis::{Answer, Basis};
use linkwright_calc::coil::{InsideDiameter, touching_pitch};
use linkwright_calc::metal::Metal;
use linkwright_calc::plan::StockedWire;
use linkwright_calc::quantity::Length;
use linkwright_calc::ring::{Ring, RingInput};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wind::{LotFit, Mandrel, WireState};
use linkwright_calc::wire::Wire;
use linkwright_store::records::Blade;
use linkwright_store::{Saved, StoreError, View};

use crate::planning::{fit_of, lot_fit, stocks};

/// A lot is taken for the wire asked for if its diameter is within this of it.
const SAME_WIRE_MM: f64 = 0.02;
/// A ring counts as measured on a rod if it was wound on one this close to it.
const SAME_ROD_MM: f64 = 0.01;
/// Width of the slot where no blade is on record. Common practice, no source: a thin slitting blade.
const ASSUMED_KERF_MM: f64 = 0.25;

/// A rod with the ring that comes off it.
pub(super) struct RodRing {
    pub(super) name: String,
    pub(super) rod: Length,
    /// As it leaves the blade.
    pub(super) open: Answer<Length>,
    /// With its ends together.
    pub(super) closed: Length,
}

/// The blade whose kerf is reckoned with.
pub(super) struct KerfInUse {
    pub(super) kerf: Kerf,
    /// Where it is from, in words.
    pub(super) from: String,
}

/// The kerf of the first blade in use, or an assumed one.
pub(super) fn kerf_in_use(blades: &[Saved<Blade>]) -> Option<KerfInUse> {
    let own = blades.iter().find_map(|blade| {
        let kerf = Kerf::new(Length::from_mm(blade.record.kerf_mm)).ok()?;
        Some(KerfInUse { kerf, from: format!("blade \"{}\"", blade.record.name) })
    });
    let assumed = || {
        let kerf = Kerf::new(Length::from_mm(ASSUMED_KERF_MM)).ok()?;
        Some(KerfInUse { kerf, from: "assumed, as no blade is on record".to_owned() })
    };
    own.or_else(assumed)
}

/// The rings off the rods in use.
#[derive(Default)]
pub(super) struct OffRods {
    /// By the size of the closed ring.
    pub(super) rings: Vec<RodRing>,
    /// Of which wire, in words.
    pub(super) of: String,
}

/// What is believed of the wire's springback.
struct Springback<'a> {
    fit: LotFit,
    state: WireState,
    stock: Option<&'a StockedWire>,
}

/// The rings off every owned rod; none where the metals table has no strength for the wire.
pub(super) fn rings_off_rods(
    view: &View<'_>,
    metal: &Metal,
    temper: &str,
    wire: Wire,
    kerf: Kerf,
) -> Result<Arc<OffRods>, StoreError> {
    let wire_mm = wire.diameter().mm();
    let kerf_mm = kerf.width().mm();
    let name = format!("rings off rods: {} {temper} {wire_mm} {kerf_mm}", metal.key());
    view.worked_out(&name, || off_rods(view, metal, temper, wire, kerf))
}

fn off_rods(
    view: &View<'_>,
    metal: &Metal,
    temper: &str,
    wire: Wire,
    kerf: Kerf,
) -> Result<OffRods, StoreError> {
    let stocks = stocks(view)?;
    let Some(springback) = springback(&stocks, metal, temper, wire) else {
        return Ok(OffRods::default());
    };
    let of = match springback.stock {
        Some(stock) => format!("Rings as wire of lot \"{}\" gives them", stock.name),
        None => "Rings as such wire should give them; no lot of it is on the shelf".to_owned(),
    };
    let mut rings: Vec<RodRing> = view
        .bench(None)?
        .rods
        .iter()
        .filter_map(|rod| {
            let mandrel = Mandrel::new(Length::from_mm(rod.record.diameter_mm())).ok()?;
            let open = open_ring(&springback, wire, mandrel)?;
            let pitch = touching_pitch(wire, InsideDiameter::new(open.value).ok()?);
            let cut = Ring::cut(RingInput { wire, coil_inside: open.value, kerf, pitch }).ok()?;
            Some(RodRing {
                name: rod.record.name.clone(),
                rod: mandrel.diameter(),
                closed: cut.closed_inside(),
                open,
            })
        })
        .collect();
    rings.sort_by(|a, b| a.closed.mm().total_cmp(&b.closed.mm()));
    Ok(OffRods { rings, of })
}

fn springback<'a>(
    stocks: &'a [StockedWire],
    metal: &Metal,
    temper: &str,
    wire: Wire,
) -> Option<Springback<'a>> {
    let off = |stock: &StockedWire| {
        (stock.lot.diameter().value.diameter().mm() - wire.diameter().mm()).abs()
    };
    let temper = metal.temper_for_wire(temper, wire).ok()?.value;
    let stock = stocks
        .iter()
        .filter(|stock| stock.lot.metal.key() == metal.key())
        .filter(|stock| stock.lot.temper.name() == temper.name())
        .filter(|stock| off(stock) < SAME_WIRE_MM)
        .min_by(|a, b| off(a).total_cmp(&off(b)));
    let state = match stock {
        Some(stock) if stock.lot.annealed => WireState::Annealed,
        _ => WireState::AsBought,
    };
    let fit = match stock {
        Some(stock) => lot_fit(stock, state),
        None => fit_of(metal, temper, state, &[]),
    };
    Some(Springback { fit: fit.ok()?, state, stock })
}

/// The open ring off a rod: the mean of what was measured there, which beats any fit.
fn open_ring(springback: &Springback<'_>, wire: Wire, mandrel: Mandrel) -> Option<Answer<Length>> {
    let rod_mm = mandrel.diameter().mm();
    let measured: Vec<f64> = springback
        .stock
        .iter()
        .flat_map(|stock| &stock.trials)
        .filter(|(state, _)| *state == springback.state)
        .filter(|(_, trial)| (trial.mandrel().diameter().mm() - rod_mm).abs() < SAME_ROD_MM)
        .map(|(_, trial)| trial.mean().mm())
        .collect();
    if !measured.is_empty() {
        let mean_mm = measured.iter().sum::<f64>() / measured.len() as f64;
        let trials = u32::try_from(measured.len()).unwrap_or(u32::MAX);
        return Some(Answer {
            value: Length::from_mm(mean_mm),
            basis: Basis::tried(trials),
            cautions: Vec::new(),
        });
    }
    let predicted = springback.fit.predict(wire, mandrel)?;
    Some(Answer {
        value: predicted.value.inside_diameter,
        basis: predicted.basis,
        cautions: predicted.cautions,
    })
}

/// The rods whose rings are next above and next below a closed inside diameter.
pub(super) fn next_to(rings: &[RodRing], inside: Length) -> [Option<usize>; 2] {
    /// A ring this close to the one asked for is that ring.
    const SAME_RING_MM: f64 = 0.005;
    let above = rings.iter().position(|ring| ring.closed.mm() > inside.mm() + SAME_RING_MM);
    let below = rings.iter().rposition(|ring| ring.closed.mm() < inside.mm() - SAME_RING_MM);
    [above, below]
}
