//! The smooth departure from geometry over wire and mandrel, as a sum of waves.

use std::f64::consts::PI;

/// Waves along each axis.
const WAVES: usize = 5;
/// Waves in all.
pub const SMOOTH_TERMS: usize = WAVES * WAVES;

/// One axis of the chart, in logarithms of millimetres.
struct Axis {
    low_mm: f64,
    high_mm: f64,
    /// How far sizes resemble each other: a factor 1.6 along the wire, 1.8 along the mandrel.
    length: f64,
}

const WIRE: Axis = Axis { low_mm: 0.4, high_mm: 2.1, length: 0.5 };
const MANDREL: Axis = Axis { low_mm: 2.0, high_mm: 14.0, length: 0.6 };
/// The waves end at this many half ranges from the middle of the chart. At 1.5 the corners of the
/// chart lose nearly half their variance (reference).
const BOX: f64 = 2.0;

impl Axis {
    fn middle(&self) -> f64 {
        f64::midpoint(self.low_mm.ln(), self.high_mm.ln())
    }

    /// `sin(w (v - middle + B)) / sqrt(B)` times the root of the spectral density at `w`.
    fn waves(&self, mm: f64) -> [f64; WAVES] {
        let half_box = BOX * (self.high_mm / self.low_mm).ln() / 2.0;
        let place = mm.ln() - self.middle() + half_box;
        let root = ((2.0 * PI).sqrt() * self.length / half_box).sqrt();
        let mut waves = [0.0; WAVES];
        let mut frequency = 0.0;
        for wave in &mut waves {
            frequency += PI / (2.0 * half_box);
            let reach = self.length * frequency;
            *wave = root * (frequency * place).sin() * (-0.25 * reach * reach).exp();
        }
        waves
    }
}

/// Logarithms of wire and mandrel from the middle of the chart: what a blade's effect leans with.
pub(super) fn from_middle(wire_mm: f64, mandrel_mm: f64) -> [f64; 2] {
    [wire_mm.ln() - WIRE.middle(), mandrel_mm.ln() - MANDREL.middle()]
}

/// Height of every wave at one wire and mandrel; their products sum to about the resemblance of
/// two sizes, `exp(-(dv/l)^2 / 2)` along each axis.
///
/// # Units
/// mm in, plain numbers out.
/// # Validity
/// Wire 0.4 to 2.1 mm, mandrel 2 to 14 mm; the resemblance is then within 0.036.
/// # Source
/// Hilbert-space basis, Solin & Saerkkae 2020, from memory; `docs/theory/trials.md`, section 3.
pub fn smooth_basis(wire_mm: f64, mandrel_mm: f64) -> [f64; SMOOTH_TERMS] {
    let (along_wire, along_mandrel) = (WIRE.waves(wire_mm), MANDREL.waves(mandrel_mm));
    let mut basis = [0.0; SMOOTH_TERMS];
    for (i, wave) in basis.iter_mut().enumerate() {
        *wave = along_wire[i / WAVES] * along_mandrel[i % WAVES];
    }
    basis
}
