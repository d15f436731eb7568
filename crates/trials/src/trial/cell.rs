//! One cell of the chart and the circumstances it is asked under.

use std::sync::Arc;

use linkwright_calc::limits::Limit;
use linkwright_calc::quantity::Stress;
use linkwright_calc::slit::{AxisHeight, Blade};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;

use super::TrialError;

/// Wire the model may speak about.
const WIRE: Limit = Limit {
    field: "wire_diameter_mm",
    unit: "mm",
    low: 0.4,
    high: 2.1,
    why: "the trials' chart ends there and is not stretched beyond",
};
/// Mandrel the model may speak about.
const MANDREL: Limit = Limit {
    field: "mandrel_diameter_mm",
    unit: "mm",
    low: 2.0,
    high: 14.0,
    why: "the trials' chart ends there and is not stretched beyond",
};
/// Nominal yield stress of the wire.
const YIELD: Limit = Limit {
    field: "yield_strength_mpa",
    unit: "MPa",
    low: 5.0,
    high: 4000.0,
    why: "softer than soft lead, stronger than music wire",
};
/// Rings a blade has cut since it was new.
const RINGS_CUT: Limit = Limit {
    field: "rings_cut_since_new",
    unit: "rings",
    low: 0.0,
    high: 1e7,
    why: "a new blade to far beyond any blade's life",
};

/// A blade as the trials know it: its name and its measures.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialBlade {
    /// Name by which the workshop tells its blades apart; each name has an effect of its own.
    pub name: Arc<str>,
    /// Diameter, kerf, teeth. Where the teeth are not counted, the blade's own effect stands in.
    pub blade: Blade,
}

/// What describes a cell and its circumstances, before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct CellParts {
    /// The wire.
    pub wire: Wire,
    /// The rod the coil was wound on.
    pub mandrel: Mandrel,
    /// The blade.
    pub blade: TrialBlade,
    /// Height of the blade's axis over the coil's top, measured once per holder.
    pub axis: AxisHeight,
    /// Name of the metal; each name has an effect of its own.
    pub metal: Arc<str>,
    /// Nominal yield stress of this metal in this temper.
    pub yield_strength: Stress,
    /// Whether the coil was taped.
    pub taped: bool,
    /// Whether it was cut with lubricant.
    pub lubricated: bool,
    /// Who cut it; nothing for whoever cut the first trial.
    pub operator: Option<Arc<str>>,
    /// Rings the blade had cut since it was new, if counted.
    pub rings_cut_since_new: Option<f64>,
}

/// A cell of the chart with its circumstances, inside the limits of the model.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    parts: CellParts,
}

/// What makes two trials trials of the same cell: wire and mandrel to 0.001 mm, and the blade.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CellKey {
    /// Wire diameter in thousandths of a millimetre.
    pub wire_um: u32,
    /// Mandrel diameter in thousandths of a millimetre.
    pub mandrel_um: u32,
    /// Name of the blade.
    pub blade: Arc<str>,
}

impl Cell {
    /// A cell of the given parts.
    ///
    /// # Errors
    /// [`TrialError::Limit`] for a wire outside 0.4 to 2.1 mm, a mandrel outside 2 to 14 mm, a yield
    /// stress outside 5 to 4000 MPa, a blade's life outside 0 to ten million rings.
    pub fn new(parts: CellParts) -> Result<Cell, TrialError> {
        WIRE.check(parts.wire.diameter().mm())?;
        MANDREL.check(parts.mandrel.diameter().mm())?;
        YIELD.check(parts.yield_strength.mpa())?;
        if let Some(rings) = parts.rings_cut_since_new {
            RINGS_CUT.check(rings)?;
        }
        Ok(Cell { parts })
    }

    /// What it was made of.
    pub const fn parts(&self) -> &CellParts {
        &self.parts
    }

    /// What makes it the same cell as another.
    pub fn key(&self) -> CellKey {
        CellKey {
            wire_um: thousandths(self.parts.wire.diameter().mm()),
            mandrel_um: thousandths(self.parts.mandrel.diameter().mm()),
            blade: Arc::clone(&self.parts.blade.name),
        }
    }
}

/// Whole thousandths of a length within the limits above.
fn thousandths(mm: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "both axes lie between 0.4 and 14 mm"
    )]
    let um = (mm * 1000.0).round() as u32;
    um
}

#[cfg(test)]
pub(crate) mod tests {
    use linkwright_calc::quantity::Length;
    use linkwright_calc::slit::{BladeParts, Kerf};

    use super::*;

    /// Copper, half hard, taped and dry, under blade B1 of the reference.
    pub(crate) fn parts(wire_mm: f64, mandrel_mm: f64) -> CellParts {
        let mm = Length::from_mm;
        let kerf = Kerf::new(mm(0.2)).unwrap();
        let blade = BladeParts { diameter: mm(31.75), kerf, teeth: Some(160), hub_diameter: None };
        CellParts {
            wire: Wire::new(mm(wire_mm)).unwrap(),
            mandrel: Mandrel::new(mm(mandrel_mm)).unwrap(),
            blade: TrialBlade { name: "B1".into(), blade: Blade::new(blade).unwrap() },
            axis: AxisHeight::new(mm(14.35)).unwrap(),
            metal: "copper".into(),
            yield_strength: Stress::from_mpa((70.0_f64 * 300.0).sqrt()),
            taped: true,
            lubricated: false,
            operator: None,
            rings_cut_since_new: None,
        }
    }

    #[test]
    fn a_wire_beyond_the_chart_is_refused_with_its_limits() {
        let refused = Cell::new(parts(2.2, 5.0)).unwrap_err().to_string();
        assert_eq!(
            refused,
            "wire_diameter_mm is 2.2 mm; it must be between 0.4 and 2.1 mm (the trials' chart ends \
             there and is not stretched beyond)"
        );
        assert!(Cell::new(parts(2.1, 14.0)).is_ok());
        assert!(Cell::new(parts(1.0, 1.9)).is_err());
    }

    #[test]
    fn sizes_that_agree_to_a_thousandth_are_one_cell() {
        let key = |wire_mm| Cell::new(parts(wire_mm, 5.0)).unwrap().key();
        assert_eq!(key(1.0), key(1.0004));
        assert_ne!(key(1.0), key(1.0006));
    }
}
