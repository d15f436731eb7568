//! What a coil is made of and cut with, as a cell of the chart.

use linkwright_calc::metal::Catalogue;
use linkwright_calc::plan::CoilsAsked;
use linkwright_calc::slit::AxisHeight;
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_trials::{Cell, CellParts, CoilCost, TrialBlade};

use crate::chart::yield_strength;

/// What a coil is made of and cut with.
#[derive(Clone, Debug)]
pub struct Setting<'a> {
    /// Key of the metal.
    pub metal: &'a str,
    /// Temper as it is wound.
    pub temper: &'a str,
    /// The wire.
    pub wire: Wire,
    /// The rod.
    pub mandrel: Mandrel,
    /// The blade, by the name its trials have.
    pub blade: TrialBlade,
    /// How high its axis stands over the coil.
    pub axis: AxisHeight,
}

impl<'a> Setting<'a> {
    /// What a plan asks about, under a blade by the name its trials have.
    pub fn asked(asked: &CoilsAsked<'a>, blade: TrialBlade) -> Setting<'a> {
        let CoilsAsked { metal, temper, wire, mandrel, axis, .. } = *asked;
        Setting { metal, temper, wire, mandrel, blade, axis }
    }
}

/// The cell of a setting, taped and lubricated as the check list wants it.
///
/// # Errors
/// What the model does not speak about, as a sentence.
pub fn as_checked(setting: Setting<'_>, metals: &Catalogue) -> Result<Cell, String> {
    let Setting { metal, temper, wire, mandrel, blade, axis } = setting;
    Cell::new(CellParts {
        wire,
        mandrel,
        blade,
        axis,
        metal: metal.into(),
        yield_strength: yield_strength(metals, metal, temper, wire)?,
        taped: true,
        lubricated: true,
        operator: None,
        rings_cut_since_new: None,
    })
    .map_err(|error| error.to_string())
}

/// Coils and turns by the wire they take, in mm, where money says nothing.
pub fn least_wire(asked: &CoilsAsked<'_>) -> CoilCost {
    CoilCost {
        per_coil: asked.wire_each_coil.mm(),
        per_turn: asked.wire_each_turn.mm(),
        scrap_per_turn: 0.0,
    }
}
