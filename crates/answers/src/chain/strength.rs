//! Strength and stiffness of the rings of a chain, from the metals table.

use linkwright_calc::metal::{Metal, MetalError, Temper};
use linkwright_linkage::answer::{Joint, RingMetal};
use thiserror::Error;

/// Why nothing is known of a pull.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum StrengthError {
    /// The table has no strength of the temper.
    #[error("no strength is on record for this temper")]
    NotKnown,
    /// The table has no stiffness of the metal.
    #[error(transparent)]
    Metal(#[from] MetalError),
}

/// Strength and stiffness of rings of a metal in a temper: the flow stress where it is on record, since a
/// ring has been wound; else the tensile strength.
///
/// # Errors
/// [`StrengthError`] if the table holds no strength of the temper or no stiffness of the metal.
pub fn ring_metal(
    metal: &Metal,
    temper: &Temper,
    joint: Joint,
) -> Result<RingMetal, StrengthError> {
    let flow = temper.flow_stress().or(temper.tensile_strength());
    let (Some(flow), Some(tensile)) = (flow, temper.tensile_strength().or(flow)) else {
        return Err(StrengthError::NotKnown);
    };
    Ok(RingMetal {
        yield_strength: flow.typical(),
        tensile_strength: tensile.typical(),
        youngs_modulus: metal.youngs_modulus()?.typical(),
        joint,
    })
}
