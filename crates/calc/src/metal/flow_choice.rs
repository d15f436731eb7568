//! Which flow law the data of a temper support, and how uncertain it is against the stiffness.

use super::{Band, FlowLaw, Hardness, Metal, MetalError, Temper, Verified};
use crate::basis::{Answer, Basis, Input};
use crate::quantity::Stress;

impl Metal {
    /// The best flow law that the data of a temper support.
    ///
    /// A soft temper with `K` and `n` bends by [`FlowLaw::Hollomon`], since it hardens several
    /// times over on the mandrel. Any other is elastic and perfectly plastic at its bending flow
    /// stress `s_eq`, since drawn wire hardens little more; without `s_eq` the tensile strength
    /// stands in. Never at the 0.2 % proof strength, which is far below the stress on the mandrel.
    ///
    /// # Units
    /// Stresses in MPa.
    /// # Validity
    /// Bends of 10 to 25 % strain at the outer fibre.
    /// # Errors
    /// [`MetalError::NoValue`] if the temper has none of these.
    /// # Source
    /// Own rule; annealed cartridge brass yields at 110 to 158 MPa but bends at 250 to 310 MPa
    /// (`data/metals.csv`).
    ///
    /// ```
    /// use linkwright_calc::metal::{Catalogue, FlowLaw};
    /// let metals = Catalogue::built_in();
    /// let brass = metals.find("brass").unwrap();
    /// let soft = brass.flow_law(brass.temper("soft").unwrap()).unwrap().value;
    /// assert!(matches!(soft, FlowLaw::Hollomon { hardening_exponent: 0.49, .. }));
    /// let hard = brass.flow_law(brass.temper("half hard").unwrap()).unwrap().value;
    /// assert!(matches!(hard, FlowLaw::ElasticPerfectlyPlastic { yield_strength } if yield_strength.mpa() == 600.0));
    /// ```
    pub fn flow_law(&self, temper: &Temper) -> Result<Answer<FlowLaw>, MetalError> {
        let annealed = temper.hardness() == Hardness::Annealed;
        if let (true, Some(k), Some(n)) =
            (annealed, temper.strength_coefficient(), temper.hardening_exponent())
        {
            let inputs = vec![
                Input::new("strength coefficient", k.typical().mpa(), "MPa", k.basis()),
                Input::new("hardening exponent", n.typical(), "-", n.basis()),
            ];
            return Ok(answer(
                FlowLaw::Hollomon {
                    strength_coefficient: k.typical(),
                    hardening_exponent: n.typical(),
                },
                "soft metal hardens as it bends: stress = K x strain to the power n",
                inputs,
            ));
        }
        let stress = self.flow_stress(temper)?;
        let inputs =
            vec![Input::new("bending flow stress", stress.typical().mpa(), "MPa", stress.basis())];
        Ok(answer(
            FlowLaw::ElasticPerfectlyPlastic { yield_strength: stress.typical() },
            "drawn metal bends at one stress, its bending flow stress",
            inputs,
        ))
    }

    /// Bending flow stress over Young's modulus, `s_eq / E`, from corner to corner of both bands:
    /// low is `s_eq low / E high`, high is `s_eq high / E low`.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// The widest the two bands allow; both are hardly ever at their ends together. For a prior use
    /// [`Metal::flow_ratio_likely_band`].
    /// # Errors
    /// [`MetalError::NoValue`] if either is not on record.
    /// # Source
    /// Own rule.
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// let sterling = metals.find("sterling").unwrap();
    /// let band = sterling.flow_ratio_band(sterling.temper("half hard").unwrap()).unwrap();
    /// assert!((band.typical() - 386.0 / 75_000.0).abs() < 1e-15);
    /// assert!((band.low() - 345.0 / 83_000.0).abs() < 1e-15);
    /// ```
    pub fn flow_ratio_band(&self, temper: &Temper) -> Result<Band<f64>, MetalError> {
        let (s, e) = self.stress_and_stiffness_mpa(temper)?;
        self.ratio_band([s[0] / e[2], s[1] / e[1], s[2] / e[0]])
    }

    /// Bending flow stress over Young's modulus, `s_eq / E`, with the likely spread: the half-widths
    /// of both bands on a logarithmic scale added as squares,
    /// `ln(typical/low)^2 = ln(s/s_low)^2 + ln(E_high/E)^2`, the upper side likewise.
    ///
    /// # Units
    /// A plain number.
    /// # Validity
    /// The two bands vary apart from one another.
    /// # Errors
    /// [`MetalError::NoValue`] if either is not on record.
    /// # Source
    /// Propagation of independent relative uncertainties (GUM, from memory).
    ///
    /// ```
    /// use linkwright_calc::metal::Catalogue;
    /// let metals = Catalogue::built_in();
    /// let sterling = metals.find("sterling").unwrap();
    /// let hard = sterling.temper("hard").unwrap();
    /// let (likely, widest) = (sterling.flow_ratio_likely_band(hard).unwrap(), sterling.flow_ratio_band(hard).unwrap());
    /// assert!(widest.low() < likely.low() && likely.high() < widest.high());
    /// ```
    pub fn flow_ratio_likely_band(&self, temper: &Temper) -> Result<Band<f64>, MetalError> {
        let (s, e) = self.stress_and_stiffness_mpa(temper)?;
        let down = (s[1] / s[0]).ln().hypot((e[2] / e[1]).ln());
        let up = (s[2] / s[1]).ln().hypot((e[1] / e[0]).ln());
        let typical = s[1] / e[1];
        self.ratio_band([typical * (-down).exp(), typical, typical * up.exp()])
    }

    /// `s_eq`, or the tensile strength in its place.
    pub(crate) fn flow_stress<'t>(
        &self,
        temper: &'t Temper,
    ) -> Result<&'t Band<Stress>, MetalError> {
        temper
            .flow_stress()
            .or(temper.tensile_strength())
            .ok_or_else(|| self.no_value("flow_stress_mpa"))
    }

    /// Low, typical and high of `s_eq` and of `E`.
    fn stress_and_stiffness_mpa(
        &self,
        temper: &Temper,
    ) -> Result<([f64; 3], [f64; 3]), MetalError> {
        let ends =
            |band: &Band<Stress>| [band.low().mpa(), band.typical().mpa(), band.high().mpa()];
        Ok((ends(self.flow_stress(temper)?), ends(self.youngs_modulus()?)))
    }

    fn ratio_band(&self, ends: [f64; 3]) -> Result<Band<f64>, MetalError> {
        let source = "bending flow stress over Young's modulus, both from the table of metals";
        Band::new(ends, source, Verified::Computed).ok_or_else(|| self.no_value("flow_stress_mpa"))
    }
}

fn answer(law: FlowLaw, formula: &'static str, inputs: Vec<Input>) -> Answer<FlowLaw> {
    Answer {
        value: law,
        basis: Basis::worked_out(formula, "own rule", inputs),
        cautions: Vec::new(),
    }
}
