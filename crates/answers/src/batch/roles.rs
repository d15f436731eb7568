//! Inputs that are more than numbers: a wire, a mandrel, a pitch and their like, read as the core's types.

use linkwright_calc::coil::{InsideDiameter, Pitch};
use linkwright_calc::limits::{
    DENSITY, INSIDE_DIAMETER, LENGTH, LimitError, MANDREL_DIAMETER, PITCH, STRESS, WIRE_DIAMETER,
    YOUNGS_MODULUS,
};
use linkwright_calc::quantity::{Density, Length, Stress};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;

use crate::batch::inputs::Inputs;
use crate::refusal::Refusal;

impl Inputs<'_> {
    /// `wire_diameter_mm`.
    pub fn wire(&self) -> Result<Wire, Refusal> {
        let key = "wire_diameter_mm";
        self.role(key, Wire::new(self.length(key, WIRE_DIAMETER)?))
    }

    /// `mandrel_diameter_mm`.
    pub fn mandrel(&self) -> Result<Mandrel, Refusal> {
        let key = "mandrel_diameter_mm";
        self.role(key, Mandrel::new(self.length(key, MANDREL_DIAMETER)?))
    }

    /// An inside diameter under `key`.
    pub fn inside(&self, key: &'static str) -> Result<InsideDiameter, Refusal> {
        self.role(key, InsideDiameter::new(self.length(key, INSIDE_DIAMETER)?))
    }

    /// `pitch_mm`.
    pub fn pitch(&self) -> Result<Pitch, Refusal> {
        let key = "pitch_mm";
        self.role(key, Pitch::new(self.length(key, PITCH)?))
    }

    /// A length that has no role of its own, within [`LENGTH`].
    pub fn plain_length(&self, key: &'static str) -> Result<Length, Refusal> {
        self.length(key, LENGTH)
    }

    /// A stress within [`STRESS`].
    pub fn stress(&self, key: &'static str) -> Result<Stress, Refusal> {
        Ok(Stress::from_mpa(self.number(key, STRESS)?))
    }

    /// Young's modulus under `key`.
    pub fn youngs_modulus(&self, key: &'static str) -> Result<Stress, Refusal> {
        Ok(Stress::from_mpa(self.number(key, YOUNGS_MODULUS)?))
    }

    /// A density under `key`.
    pub fn density(&self, key: &'static str) -> Result<Density, Refusal> {
        Ok(Density::from_g_cm3(self.number(key, DENSITY)?))
    }

    fn length(
        &self,
        key: &'static str,
        limit: linkwright_calc::limits::Limit,
    ) -> Result<Length, Refusal> {
        Ok(Length::from_mm(self.number(key, limit)?))
    }

    fn role<T>(&self, key: &'static str, role: Result<T, LimitError>) -> Result<T, Refusal> {
        role.map_err(|error| self.bench(key, error))
    }
}
