//! The workshop's habits, rods, wire and own alloys.

use crate::record::record;

record! {
    /// What holds for every order: losses, minutes, confidence. There is exactly one, number 1.
    Workshop in "workshop", a "workshop" {
        /// Its name, as it stands on paper.
        name: String,
        /// Chance of enough good rings that is planned for, as typed, such as "95 %".
        confidence: String,
        /// Turns lost at the two ends of every coil.
        end_turns: u32,
        /// Turns lost at the stop by own record; worked out if absent.
        stop_turns: Option<u32>,
        /// Wire lost as tails of every coil, as typed.
        tails: String,
        /// Pitch over wire diameter.
        packing: f64,
        /// Minutes to set up.
        set_up_minutes: f64,
        /// Minutes for every coil.
        per_coil_minutes: f64,
        /// Whether this is the invented sample workshop.
        sample: bool,
        /// What an hour's work costs, as typed, such as "38 EUR".
        hour_cost_typed: Option<String>,
        /// What a good ring is worth beyond its metal, as typed.
        ring_worth_typed: Option<String>,
        /// Share of the metal's price that is paid for scrap, as typed, such as "80 %".
        scrap_paid_typed: Option<String>,
    }
}

record! {
    /// A metal of the workshop's own, or its own values for a known one.
    MetalOverlay in "metal_overlay", a "metal" {
        /// Key of the metal.
        metal: String,
        /// The entry as it would stand in a metals file.
        entry: String,
    }
}

record! {
    /// Wire from one delivery.
    WireLot in "wire_lot", a "wire lot" {
        /// Its name on the shelf.
        name: String,
        /// Key of its metal.
        metal: String,
        /// Its temper as bought.
        temper: String,
        /// Marked diameter as typed.
        diameter_typed: String,
        /// Marked diameter, mm.
        diameter_mm: f64,
        /// Measured diameter as typed.
        measured_diameter_typed: Option<String>,
        /// Measured diameter, mm.
        measured_diameter_mm: Option<f64>,
        /// Measured density, g/cm3.
        measured_density_g_cm3: Option<f64>,
        /// Length on the reel as bought, as typed; this or the mass.
        length_typed: Option<String>,
        /// Mass on the reel as bought, as typed.
        mass_typed: Option<String>,
        /// Whether all of it was annealed before use.
        annealed: bool,
        /// Price as typed, such as "1.10 EUR per g".
        price_typed: Option<String>,
        /// Day of the price, as 2026-11-25.
        price_date: Option<String>,
        /// Where it came from; never printed on public paper.
        supplier: String,
        /// Day it was bought.
        bought_on: Option<String>,
        /// Anything else.
        note: String,
        /// Day it was used up or put away; in use if absent.
        finished_on: Option<String>,
        /// Why it is no longer used, such as "used up".
        finished_why: String,
    }
}

record! {
    /// A rod to wind on.
    Rod in "rod", a "rod" {
        /// Its name.
        name: String,
        /// Diameter marked on it, as typed.
        marked_typed: String,
        /// Diameter marked on it, mm.
        marked_mm: f64,
        /// Diameter measured, as typed.
        measured_typed: Option<String>,
        /// Diameter measured, mm.
        measured_mm: Option<f64>,
        /// Anything else.
        note: String,
        /// Day it was retired; in use if absent.
        retired_on: Option<String>,
        /// Why it was retired.
        retired_why: String,
    }
}

impl WireLot {
    /// The diameter to reckon with: measured if it was, else marked; mm.
    #[must_use]
    pub fn wire_mm(&self) -> f64 {
        self.measured_diameter_mm.unwrap_or(self.diameter_mm)
    }
}

impl Rod {
    /// The diameter to reckon with: measured if it was, else marked; mm.
    #[must_use]
    pub fn diameter_mm(&self) -> f64 {
        self.measured_mm.unwrap_or(self.marked_mm)
    }
}
