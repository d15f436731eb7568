//! What each number of an answer rests on.

use linkwright_calc::basis::{Basis, Input};

use super::{Design, Given, OwnRing, PartRing, ReadFrom};

/// Where lengths of linked rings come from.
const SOURCE: &str = "contact geometry, docs/theory/chain.md";

impl OwnRing {
    /// What the size of the closed ring rests on.
    pub fn closed_basis(&self) -> Basis {
        let kerf = Basis::assumed(format!("blade \"{}\", the one a run sheet takes", self.blade));
        Basis::worked_out(
            "the ring off the rod, shortened by the kerf and pressed flush: its length of wire round a \
             circle, less the wire",
            "docs/theory/ring.md",
            vec![
                Input::new(
                    "open inside diameter",
                    self.open_inside.value.mm(),
                    "mm",
                    self.open_inside.basis.clone(),
                ),
                Input::new("kerf", self.kerf.mm(), "mm", kerf),
                Input::new(
                    "wire diameter",
                    self.ring.wire().diameter().mm(),
                    "mm",
                    self.wire.basis.clone(),
                ),
            ],
        )
    }

    fn ring_input(&self) -> Input {
        let mm = self.ring.closed_inside().mm();
        Input::new("closed inside diameter", mm, "mm", self.closed_basis())
    }
}

impl Design {
    /// What the advance, and with it every count, rests on.
    pub fn count_basis(&self) -> Basis {
        let formula = match (self.gives.across, self.gives.pieces) {
            (None, 0) => "rings per cell / greatest advance per cell of touching rigid rings",
            (None, _) => {
                "rings per cell / (greatest advance per cell of touching rigid rings x ratio of measured \
                 to worked-out pieces)"
            }
            (Some(_), _) => "rings per cell / (advance along x advance across the rows)",
        };
        let mut inputs: Vec<Input> = self.rings.iter().map(|part| part.ring.ring_input()).collect();
        if self.gives.pieces > 0 {
            let pieces = f64::from(self.gives.pieces);
            inputs.push(Input::new(
                "measured pieces",
                pieces,
                "-",
                Basis::tried(self.gives.pieces),
            ));
        }
        let within = Basis::assumed(self.gives.read_in_words());
        inputs.push(Input::new("tolerance", 100.0 * self.gives.within, "%", within));
        Basis::worked_out(formula, SOURCE, inputs)
    }

    /// What width and thickness rest on.
    pub fn across_basis(&self) -> Basis {
        Basis::worked_out(
            "extent of the chain across, pulled straight; rings that carry nothing are loose, so read it \
             as within about 10 %",
            SOURCE,
            self.rings.iter().map(|part| part.ring.ring_input()).collect(),
        )
    }

    /// What the mass rests on.
    pub fn mass_basis(&self) -> Basis {
        let mut inputs = Vec::new();
        for PartRing { ring, .. } in &self.rings {
            let density = &ring.density;
            inputs.push(ring.ring_input());
            inputs.push(Input::new(
                "density",
                density.value.g_cm3(),
                "g/cm3",
                density.basis.clone(),
            ));
        }
        inputs.push(Input::new("rings", self.gives.rings, self.per(), self.count_basis()));
        Basis::worked_out(
            "mass of a ring x rings; a ring is a torus: density x pi/4 x wire\u{b2} x pi x (inside + wire)",
            "Pappus's theorem; docs/theory/chain.md, section 8",
            inputs,
        )
    }

    /// What the cost of the metal rests on; `None` without a price.
    pub fn cost_basis(&self) -> Option<Basis> {
        self.gives.cost?;
        let mut inputs = vec![Input::new("mass", self.gives.mass.g(), "g", self.mass_basis())];
        for PartRing { ring, .. } in &self.rings {
            let price = ring.price.as_ref()?;
            let decimals = i32::from(price.price.currency().decimals());
            let major = price.minor_per_gram / 10.0_f64.powi(decimals);
            let date = price.date.as_deref().unwrap_or("undated");
            let from = format!("lot \"{}\", {}, {date}", ring.lot, price.price);
            inputs.push(Input::new(
                "price of a gram",
                major,
                price.price.currency().code(),
                Basis::assumed(from),
            ));
        }
        Some(Basis::worked_out(
            "mass of the rings x price of the wire; ends, kerf and work not counted",
            "product",
            inputs,
        ))
    }

    /// Of how much chain or sheet counts, masses and costs are.
    pub const fn per(&self) -> &'static str {
        if self.gives.across.is_some() { "per cm\u{b2}" } else { "per cm" }
    }
}

impl Given {
    /// Where the advance is from, in words.
    pub fn read_in_words(&self) -> String {
        let read = match self.read {
            ReadFrom::ClosedForm => "closed form".to_owned(),
            ReadFrom::Table { searches, agree } => {
                format!("solved table, {agree} of {searches} searches agree")
            }
        };
        match self.pieces {
            0 => read,
            1 => format!("{read}; corrected by 1 measured piece"),
            pieces => format!("{read}; corrected by {pieces} measured pieces"),
        }
    }
}
