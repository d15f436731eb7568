//! The options that `wind` and `mandrel` share: the wire, its metal, and rings measured so far.

use std::fmt::Display;
use std::path::PathBuf;

use linkwright_calc::basis::Caution;
use linkwright_calc::metal::{FlowLaw, Metal, MetalError, Temper};
use linkwright_calc::quantity::{Length, Stress, Typed};
use linkwright_calc::wind::{LotFit, LotPrior, Mandrel, RingTrial, WireState};
use linkwright_calc::wire::Wire;

use crate::typed;
use linkwright_answers::batch::flow_law_from_words;
use linkwright_answers::refusal::Refusal;

/// The wire and what is known of it.
#[derive(Debug, clap::Args)]
pub struct LotArgs {
    /// Wire diameter, such as "18 awg" or "1.02 mm".
    #[arg(long)]
    pub wire: String,
    /// Metal: a name or key of `linkwright metals`.
    #[arg(long, required_unless_present = "flow")]
    metal: Option<String>,
    /// Temper as bought, such as "half hard".
    #[arg(long, required_unless_present_any = ["flow", "annealed"])]
    temper: Option<String>,
    /// The wire was softened at the bench before winding.
    #[arg(long, conflicts_with = "flow")]
    annealed: bool,
    /// Rings measured so far: the rod, "=", inside diameters before closing,
    /// such as 4.00=4.12,4.15,4.14; mm unless a unit is written. May be repeated.
    #[arg(long, value_name = "ROD=ID,ID,...", conflicts_with = "flow")]
    tried: Vec<String>,
    /// Smallest step of those readings.
    #[arg(long, default_value = "0.01 mm")]
    resolution: String,
    /// A flow law in place of a metal: its name and numbers, such as
    /// "elastic_perfectly_plastic yield_strength_mpa=450" or "hollomon
    /// strength_coefficient_mpa=895 hardening_exponent=0.49".
    #[arg(long, conflicts_with_all = ["metal", "temper"], requires = "youngs_mpa")]
    flow: Option<String>,
    /// Young's modulus in MPa, with --flow.
    #[arg(long, requires = "flow")]
    youngs_mpa: Option<f64>,
    /// Your own metals file (TOML) over the built-in table.
    #[arg(long)]
    overlay: Option<PathBuf>,
}

/// A wire of a known metal, or of a flow law.
pub struct Lot {
    /// The wire.
    pub wire: Wire,
    /// Its text.
    pub wire_typed: Typed<Length>,
    /// Young's modulus.
    pub youngs_modulus: Stress,
    /// The flow law.
    pub flow: FlowLaw,
    /// The metal, unless a law was given in its place.
    pub metal: Option<KnownMetal>,
}

/// A metal with its temper, and what rings of this lot have taught.
pub struct KnownMetal {
    /// The metal.
    pub metal: Metal,
    /// The temper it is wound in.
    pub temper: Temper,
    /// What is believed of its springback.
    pub fit: LotFit,
    /// What to watch about the choice of temper.
    pub cautions: Vec<Caution>,
}

impl Lot {
    /// Makes sense of what was typed.
    pub fn new(args: &LotArgs) -> Result<Lot, Refusal> {
        let (wire, wire_typed) = typed::wire("--wire", &args.wire)?;
        if let Some(words) = &args.flow {
            let youngs_modulus = Stress::from_mpa(args.youngs_mpa.unwrap_or(f64::NAN));
            let flow = flow_law_from_words(words)?;
            return Ok(Lot { wire, wire_typed, youngs_modulus, flow, metal: None });
        }
        let known = KnownMetal::new(args, wire)?;
        let no_value = |error: MetalError| refuse_temper(args, error);
        let youngs_modulus = known.metal.youngs_modulus().map_err(no_value)?.typical();
        let flow = known.metal.flow_law(&known.temper).map_err(no_value)?.value;
        Ok(Lot { wire, wire_typed, youngs_modulus, flow, metal: Some(known) })
    }
}

impl KnownMetal {
    fn new(args: &LotArgs, wire: Wire) -> Result<KnownMetal, Refusal> {
        let catalogue = typed::catalogue(args.overlay.as_deref())?;
        let metal = typed::metal(&catalogue, args.metal.as_deref().unwrap_or_default())?;
        let temper = match &args.temper {
            Some(temper) if !args.annealed => typed::temper(&metal, temper, wire)?,
            _ => typed::temper(&metal, "annealed", wire)?,
        };
        let state = if args.annealed { WireState::Annealed } else { WireState::AsBought };
        let trials = trials("--tried", &args.tried, args, wire)?;
        let fit = fit(&metal, &temper.value, state, &trials)
            .map_err(|error| refuse_temper(args, error))?;
        Ok(KnownMetal { metal, temper: temper.value, fit, cautions: temper.cautions })
    }

    /// The same wire softened at the bench, with the rings measured of it since.
    pub fn softened(&self, trials: &[RingTrial]) -> Option<LotFit> {
        let temper = self.metal.temper("annealed").ok()?;
        fit(&self.metal, temper, WireState::Annealed, trials).ok()
    }
}

fn fit(
    metal: &Metal,
    temper: &Temper,
    state: WireState,
    trials: &[RingTrial],
) -> Result<LotFit, MetalError> {
    let ratio = metal.flow_ratio_likely_band(temper)?;
    let prior = LotPrior::from_bands(&ratio, temper.hardening_exponent(), state)
        .map_err(|error| MetalError::OutsideLimits { metal: metal.key().clone(), error })?;
    Ok(LotFit::new(&prior, trials))
}

/// Rings measured so far, as typed for `option`.
pub fn trials(
    option: &'static str,
    typed: &[String],
    args: &LotArgs,
    wire: Wire,
) -> Result<Vec<RingTrial>, Refusal> {
    let resolution = typed::length("--resolution", &args.resolution)?.value();
    typed
        .iter()
        .map(|text| {
            let refuse = |error: &dyn Display| Refusal::bench(option, text.as_str(), error);
            let (rod, rings) = text.split_once('=').ok_or_else(|| {
                refuse(&"write the rod, \"=\", and the rings, such as 4.00=4.12,4.15")
            })?;
            let rod = typed::role(option, &typed::length_in_mm(option, rod)?, Mandrel::new)?;
            let rings = typed::lengths_in_mm(option, rings)?;
            RingTrial::new(wire, rod, &rings, resolution).map_err(|error| refuse(&error))
        })
        .collect()
}

fn refuse_temper(args: &LotArgs, error: MetalError) -> Refusal {
    Refusal::bench("--temper", args.temper.as_deref().unwrap_or("annealed"), error)
}
