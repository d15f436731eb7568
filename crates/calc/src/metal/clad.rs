//! Clad wire: what a layer of one metal on a core of another does to weight, stiffness and strength.

use crate::limits::{CLAD_MASS_FRACTION, DENSITY, LimitError, STRESS, YOUNGS_MODULUS};
use crate::quantity::{Density, Length, Stress};
use crate::wire::Wire;

/// One of the two metals of a clad wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Mass per volume.
    pub density: Density,
    /// Young's modulus.
    pub youngs_modulus: Stress,
    /// Flow stress in bending.
    pub flow_stress: Stress,
}

/// A clad wire as bought: "1/20" is a clad mass fraction of 0.05.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clad {
    /// The whole wire.
    pub wire: Wire,
    /// Mass of the clad over the mass of the wire.
    pub clad_mass_fraction: f64,
    /// The metal inside.
    pub core: Layer,
    /// The metal outside.
    pub clad: Layer,
}

/// What a clad wire is as a whole: use these as if it were of one metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CladWire {
    /// Mean density.
    pub density: Density,
    /// Thickness of the clad all round.
    pub clad_thickness: Length,
    /// Modulus that gives the bending stiffness with the second moment of the whole section.
    pub flexural_modulus: Stress,
    /// Stress that gives the fully plastic moment with the plastic modulus of the whole section.
    pub equivalent_flow_stress: Stress,
}

/// Clad wire as one metal.
///
/// With `w` the clad mass fraction, `rk`, `rc` the densities of core and clad:
/// `density = 1 / (w/rc + (1-w)/rk)`, area fraction of clad `f = w density / rc`, thickness
/// `(d/2)(1 - sqrt(1-f))`, `E = Ek (1-f)^2 + Ec (1 - (1-f)^2)` since stiffness goes with the
/// fourth power of the radius, `s = sk (1-f)^1.5 + sc (1 - (1-f)^1.5)` since the plastic moment
/// goes with the third.
///
/// # Units
/// Lengths mm, stresses MPa, densities g/cm3.
/// # Validity
/// The layer is even and well bonded; its seam, if it has one, is closed.
/// # Errors
/// [`LimitError`] naming the field of the batch interface.
/// # Source
/// Own derivation from concentric circles, `docs/theory/winding.md`.
///
/// ```
/// use linkwright_calc::metal::{Clad, Layer, clad_wire};
/// use linkwright_calc::quantity::{Density, Length, Stress};
/// use linkwright_calc::wire::Wire;
/// let layer = |g_cm3, modulus_mpa, flow_mpa| Layer {
///     density: Density::from_g_cm3(g_cm3),
///     youngs_modulus: Stress::from_mpa(modulus_mpa),
///     flow_stress: Stress::from_mpa(flow_mpa),
/// };
/// let wire = clad_wire(&Clad {
///     wire: Wire::new(Length::from_mm(1.024)).unwrap(),
///     clad_mass_fraction: 0.05,
///     core: layer(8.8, 117_000.0, 325.0),
///     clad: layer(13.07, 95_000.0, 500.0),
/// }).unwrap();
/// // One twentieth by mass is under nine thousandths of a millimetre: a file mark goes through.
/// assert!((wire.clad_thickness.mm() - 0.00884).abs() < 5e-6);
/// ```
pub fn clad_wire(given: &Clad) -> Result<CladWire, LimitError> {
    let w = CLAD_MASS_FRACTION.check(given.clad_mass_fraction)?;
    let (core, clad) = (given.core, given.clad);
    let rk = DENSITY.named("core_density_g_cm3").check(core.density.g_cm3())?;
    let rc = DENSITY.named("clad_density_g_cm3").check(clad.density.g_cm3())?;
    let ek = YOUNGS_MODULUS.named("core_youngs_modulus_mpa").check(core.youngs_modulus.mpa())?;
    let ec = YOUNGS_MODULUS.named("clad_youngs_modulus_mpa").check(clad.youngs_modulus.mpa())?;
    let sk = STRESS.named("core_flow_stress_mpa").check(core.flow_stress.mpa())?;
    let sc = STRESS.named("clad_flow_stress_mpa").check(clad.flow_stress.mpa())?;

    let density = 1.0 / (w / rc + (1.0 - w) / rk);
    // All clad gives exactly one; rounding must not push the square root below nothing.
    let core_area = (1.0 - w * density / rc).max(0.0);
    let core_stiffness = core_area.powi(2);
    let core_hinge = core_area.powf(1.5);
    Ok(CladWire {
        density: Density::from_g_cm3(density),
        clad_thickness: Length::from_mm(
            given.wire.diameter().mm() / 2.0 * (1.0 - core_area.sqrt()),
        ),
        flexural_modulus: Stress::from_mpa(ek * core_stiffness + ec * (1.0 - core_stiffness)),
        equivalent_flow_stress: Stress::from_mpa(sk * core_hinge + sc * (1.0 - core_hinge)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wire_with(clad_mass_fraction: f64) -> Result<CladWire, LimitError> {
        let layer = |g_cm3, modulus_mpa, flow_mpa| Layer {
            density: Density::from_g_cm3(g_cm3),
            youngs_modulus: Stress::from_mpa(modulus_mpa),
            flow_stress: Stress::from_mpa(flow_mpa),
        };
        clad_wire(&Clad {
            wire: Wire::new(Length::from_mm(2.0)).unwrap(),
            clad_mass_fraction,
            core: layer(8.8, 117_000.0, 325.0),
            clad: layer(13.07, 95_000.0, 500.0),
        })
    }

    #[test]
    fn no_clad_is_the_core_and_all_clad_is_the_clad() {
        let (core, clad) = (wire_with(0.0).unwrap(), wire_with(1.0).unwrap());
        // A few roundings of numbers of the size of each value.
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-12 * b.abs().max(1.0);
        assert!(close(core.density.g_cm3(), 8.8) && close(clad.density.g_cm3(), 13.07));
        assert!(close(core.clad_thickness.mm(), 0.0));
        // The square root turns a rounding of 1e-16 in area into 1e-8 of the radius.
        assert!((clad.clad_thickness.mm() - 1.0).abs() < 1e-7);
        assert!(close(core.flexural_modulus.mpa(), 117_000.0));
        assert!(close(clad.flexural_modulus.mpa(), 95_000.0));
        assert!(close(core.equivalent_flow_stress.mpa(), 325.0));
        assert!(close(clad.equivalent_flow_stress.mpa(), 500.0));
    }

    #[test]
    fn a_share_above_one_is_refused_by_name() {
        assert_eq!(wire_with(1.01).unwrap_err().limit.field, "clad_mass_fraction");
    }

    #[test]
    fn rings_of_the_section_summed_one_by_one_weigh_and_bend_the_same() {
        let whole = wire_with(0.2).unwrap();
        let core_radius_mm = 1.0 - whole.clad_thickness.mm();
        let rings = 20_000;
        let (mut mass, mut clad_mass, mut area, mut stiffness, mut hinge) =
            (0.0, 0.0, 0.0, 0.0, 0.0);
        for i in 0..rings {
            let r = (f64::from(i) + 0.5) / f64::from(rings);
            let ring = r / f64::from(rings);
            let (density, modulus, flow) =
                if r < core_radius_mm { (8.8, 117_000.0, 325.0) } else { (13.07, 95_000.0, 500.0) };
            area += ring;
            mass += density * ring;
            clad_mass += if r < core_radius_mm { 0.0 } else { density * ring };
            stiffness += modulus * r * r * ring;
            hinge += flow * r * ring;
        }
        // One of 20,000 rings straddles the boundary: half a ring is 4e-4 of a clad that takes
        // 7 % of the radius.
        let close = |a: f64, b: f64| (a - b).abs() <= 4e-4 * b;
        assert!(close(mass / area, whole.density.g_cm3()));
        assert!(close(clad_mass / mass, 0.2), "{}", clad_mass / mass);
        assert!(close(stiffness / 0.25, whole.flexural_modulus.mpa()));
        assert!(close(hinge * 3.0, whole.equivalent_flow_stress.mpa()));
    }
}
