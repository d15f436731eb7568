//! A wire lot: one delivery of wire, with what was measured of it and what is left.

use std::f64::consts::PI;

use super::{Measured, Metal, MetalError, Temper};
use crate::basis::{Answer, Basis, Input};
use crate::limits::{LENGTH, LimitError, MASS};
use crate::money::Price;
use crate::quantity::{Density, Length, Mass};
use crate::wire::Wire;

/// Wire from one delivery: springback, diameter and density are its own.
#[derive(Clone, Debug, PartialEq)]
pub struct WireLot {
    /// The metal.
    pub metal: Metal,
    /// The temper as bought.
    pub temper: Temper,
    /// The size on the label.
    pub marked: Wire,
    /// The size by micrometer, if it was taken.
    pub measured: Option<Measured<Wire>>,
    /// The density by weighing a length of this wire, if it was done.
    pub measured_density: Option<Measured<Density>>,
    /// What is left.
    pub on_hand: OnHand,
    /// What it cost.
    pub price: Option<Price>,
    /// Whether it has been annealed since it was bought.
    pub annealed: bool,
    /// Whatever else is worth knowing; may be empty.
    pub note: String,
}

/// What is left of a lot: on the scale or by the tape, not below nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnHand(Amount);

#[derive(Clone, Copy, Debug, PartialEq)]
enum Amount {
    Length(Length),
    Mass(Mass),
}

impl OnHand {
    /// A length of wire.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// Within [`LENGTH`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{metal::OnHand, quantity::Length};
    /// assert!(OnHand::by_length(Length::from_mm(10_000.0)).is_ok());
    /// assert!(OnHand::by_length(Length::from_mm(-1.0)).is_err());
    /// ```
    pub fn by_length(length: Length) -> Result<OnHand, LimitError> {
        LENGTH.check(length.mm())?;
        Ok(OnHand(Amount::Length(length)))
    }

    /// A mass of wire.
    ///
    /// # Units
    /// A mass, net of the reel.
    /// # Validity
    /// Within [`MASS`].
    /// # Errors
    /// [`LimitError`] outside that range.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::{metal::OnHand, quantity::Mass};
    /// assert!(OnHand::by_mass(Mass::from_g(50.0)).is_ok());
    /// assert!(OnHand::by_mass(Mass::from_g(f64::NAN)).is_err());
    /// ```
    pub fn by_mass(mass: Mass) -> Result<OnHand, LimitError> {
        MASS.check(mass.g())?;
        Ok(OnHand(Amount::Mass(mass)))
    }
}

impl WireLot {
    /// The diameter to reckon with: measured if it was, else as marked.
    ///
    /// # Units
    /// A role of a length.
    /// # Validity
    /// A mark may be off by more than a gauge is wide; measure.
    /// # Source
    /// Own rule.
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, Measured, OnHand, WireLot}, quantity::{Length, Mass}, wire::Wire};
    /// # let metal = Catalogue::built_in().find("sterling").unwrap().clone();
    /// let mm = |mm| Wire::new(Length::from_mm(mm)).unwrap();
    /// let mut lot = WireLot {
    ///     temper: metal.temper("soft").unwrap().clone(), metal, marked: mm(1.02), measured: None,
    ///     measured_density: None, on_hand: OnHand::by_mass(Mass::from_g(100.0)).unwrap(),
    ///     price: None, annealed: false, note: String::new(),
    /// };
    /// assert_eq!(lot.diameter().basis.to_string(), "assumed: size as marked");
    /// lot.measured = Some(Measured::once(mm(1.01)));
    /// assert_eq!(lot.diameter().value, mm(1.01));
    /// assert_eq!(lot.diameter().basis.word(), "tried");
    /// ```
    pub fn diameter(&self) -> Answer<Wire> {
        let marked = Answer {
            value: self.marked,
            basis: Basis::assumed("size as marked"),
            cautions: Vec::new(),
        };
        self.measured.as_ref().map_or(marked, tried)
    }

    /// The density to reckon with: of this lot if it was weighed, else of the metal.
    ///
    /// # Units
    /// Grams per cubic centimetre.
    /// # Validity
    /// As [`Metal::density`].
    /// # Source
    /// Own rule.
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, Measured, OnHand, WireLot}, quantity::{Density, Length, Mass}, wire::Wire};
    /// # let metal = Catalogue::built_in().find("14k yellow").unwrap().clone();
    /// # let mut lot = WireLot {
    /// #     temper: metal.temper("soft").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(1.0)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_mass(Mass::from_g(100.0)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// assert_eq!(lot.density().value.g_cm3(), 13.07);
    /// lot.measured_density = Some(Measured::once(Density::from_g_cm3(13.55)));
    /// assert_eq!(lot.density().value.g_cm3(), 13.55);
    /// ```
    pub fn density(&self) -> Answer<Density> {
        self.measured_density.as_ref().map_or_else(|| self.metal.density(), tried)
    }

    /// Mass of a length of this wire, `m = L (pi d^2 / 4) rho / 1000`.
    ///
    /// # Units
    /// A length in, a mass out.
    /// # Validity
    /// Round wire.
    /// # Source
    /// Mass is density times volume.
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, OnHand, WireLot}, quantity::{Length, Mass}, wire::Wire};
    /// # let metal = Catalogue::built_in().find("sterling").unwrap().clone();
    /// # let lot = WireLot {
    /// #     temper: metal.temper("soft").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(1.02)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_mass(Mass::from_g(100.0)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// // 2.348 m of 1.02 mm sterling: 19.88 g.
    /// assert!((lot.mass_of(Length::from_mm(2348.4)).value.g() - 19.88).abs() < 0.005);
    /// ```
    pub fn mass_of(&self, length: Length) -> Answer<Mass> {
        let (wire, density) = (self.diameter().value, self.density().value);
        self.converted(wire.mass(length, density), "mass = length x section x density")
    }

    /// Length of a mass of this wire, `L = 1000 m / (rho pi d^2 / 4)`.
    ///
    /// # Units
    /// A mass in, a length out.
    /// # Validity
    /// Round wire.
    /// # Source
    /// Inverse of [`WireLot::mass_of`].
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, OnHand, WireLot}, quantity::{Length, Mass}, wire::Wire};
    /// # let metal = Catalogue::built_in().find("sterling").unwrap().clone();
    /// # let lot = WireLot {
    /// #     temper: metal.temper("soft").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(1.02)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_mass(Mass::from_g(19.88)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// assert!((lot.length_on_hand().value.mm() - 2348.0).abs() < 0.5);
    /// assert!((lot.mass_on_hand().value.g() - 19.88).abs() < 1e-12);
    /// ```
    pub fn length_of(&self, mass: Mass) -> Answer<Length> {
        let d_mm = self.diameter().value.diameter().mm();
        let g_per_mm = PI * d_mm * d_mm / 4.0 * self.density().value.g_cm3() / 1000.0;
        self.converted(Length::from_mm(mass.g() / g_per_mm), "length = mass / (section x density)")
    }

    /// Length left, worked out if it was weighed.
    ///
    /// # Units
    /// A length.
    /// # Validity
    /// As [`WireLot::length_of`].
    /// # Source
    /// Definition; example at [`WireLot::length_of`].
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, OnHand, WireLot}, quantity::Length, wire::Wire};
    /// # let metal = Catalogue::built_in().find("sterling").unwrap().clone();
    /// # let lot = WireLot {
    /// #     temper: metal.temper("soft").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(1.02)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_length(Length::from_mm(500.0)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// assert_eq!(lot.length_on_hand().value.mm(), 500.0);
    /// ```
    pub fn length_on_hand(&self) -> Answer<Length> {
        match self.on_hand.0 {
            Amount::Length(length) => as_noted(length),
            Amount::Mass(mass) => self.length_of(mass),
        }
    }

    /// Mass left, worked out if it was taken by the tape.
    ///
    /// # Units
    /// A mass.
    /// # Validity
    /// As [`WireLot::mass_of`].
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, OnHand, WireLot}, quantity::Length, wire::Wire};
    /// # let metal = Catalogue::built_in().find("copper").unwrap().clone();
    /// # let lot = WireLot {
    /// #     temper: metal.temper("soft").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(2.0)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_length(Length::from_mm(1000.0)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// // pi cm3 of 8.92 g/cm3.
    /// assert!((lot.mass_on_hand().value.g() - std::f64::consts::PI * 8.92).abs() < 1e-12);
    /// ```
    pub fn mass_on_hand(&self) -> Answer<Mass> {
        match self.on_hand.0 {
            Amount::Length(length) => self.mass_of(length),
            Amount::Mass(mass) => as_noted(mass),
        }
    }

    /// Mass left once some was taken: `left = on hand - taken`, and nothing if more was taken.
    ///
    /// # Units
    /// Masses.
    /// # Validity
    /// What was taken since the stock was noted.
    /// # Source
    /// Difference.
    #[must_use]
    pub fn mass_left(&self, taken: Mass) -> Mass {
        Mass::from_g((self.mass_on_hand().value.g() - taken.g()).max(0.0))
    }

    /// The temper that meets the mandrel: annealed if the lot was annealed here, else as bought.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Metal that was softened right through.
    /// # Errors
    /// [`MetalError`] if nothing is on record for the annealed metal.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// # use linkwright_calc::{metal::{Catalogue, OnHand, WireLot}, quantity::Length, wire::Wire};
    /// # let metal = Catalogue::built_in().find("brass").unwrap().clone();
    /// # let mut lot = WireLot {
    /// #     temper: metal.temper("half hard").unwrap().clone(), metal, marked: Wire::new(Length::from_mm(2.0)).unwrap(),
    /// #     measured: None, measured_density: None, on_hand: OnHand::by_length(Length::from_mm(1000.0)).unwrap(),
    /// #     price: None, annealed: false, note: String::new(),
    /// # };
    /// assert_eq!(lot.temper_to_wind().unwrap().name().as_str(), "half hard wire H02");
    /// lot.annealed = true;
    /// assert_eq!(lot.temper_to_wind().unwrap().name().as_str(), "annealed");
    /// ```
    pub fn temper_to_wind(&self) -> Result<&Temper, MetalError> {
        if self.annealed { self.metal.temper("annealed") } else { Ok(&self.temper) }
    }

    fn converted<T>(&self, value: T, formula: &'static str) -> Answer<T> {
        let (wire, density) = (self.diameter(), self.density());
        let inputs = vec![
            Input::new("wire diameter", wire.value.diameter().mm(), "mm", wire.basis),
            Input::new("density", density.value.g_cm3(), "g/cm3", density.basis),
        ];
        Answer {
            value,
            basis: Basis::worked_out(formula, "definition", inputs),
            cautions: Vec::new(),
        }
    }
}

fn tried<T: Copy>(measured: &Measured<T>) -> Answer<T> {
    Answer { value: measured.value, basis: measured.basis(), cautions: Vec::new() }
}

fn as_noted<T>(value: T) -> Answer<T> {
    Answer { value, basis: Basis::assumed("stock as noted"), cautions: Vec::new() }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{OnHand, WireLot};
    use crate::metal::Catalogue;
    use crate::quantity::{Length, Mass};
    use crate::wire::Wire;

    proptest! {
        #[test]
        fn length_and_mass_are_inverses_and_mass_grows_as_the_square_of_the_diameter(
            d_mm in 0.1..6.0, mass_g in 0.01..10_000.0,
        ) {
            let metal = Catalogue::built_in().find("brass").unwrap().clone();
            let lot = |d_mm| WireLot {
                temper: metal.temper("soft").unwrap().clone(),
                metal: metal.clone(),
                marked: Wire::new(Length::from_mm(d_mm)).unwrap(),
                measured: None,
                measured_density: None,
                on_hand: OnHand::by_mass(Mass::from_g(mass_g)).unwrap(),
                price: None,
                annealed: false,
                note: String::new(),
            };
            let length = lot(d_mm).length_on_hand().value;
            // Four multiplications and their inverses: a few last bits.
            let back_g = lot(d_mm).mass_of(length).value.g();
            prop_assert!((back_g - mass_g).abs() <= 1e-14 * mass_g);
            let double_g = lot(2.0 * d_mm).mass_of(length).value.g();
            prop_assert!((double_g - 4.0 * mass_g).abs() <= 1e-13 * mass_g);
        }
    }
}
