//! The volume of a slit ring by throwing points at a torus less a slab.
//!
//! Source: own independent sum; not the formula under test, which takes the wire's length along its centre line. The
//! numbers are drawn from a fixed seed: the same points every time.

use std::f64::consts::PI;

use linkwright_calc::coil::Pitch;
use linkwright_calc::quantity::Length;
use linkwright_calc::ring::{Ring, RingInput};
use linkwright_calc::slit::Kerf;
use linkwright_calc::wire::Wire;

/// Points thrown into the box around the torus.
const POINTS: u32 = 2_000_000;

/// Even numbers between 0 and 1: Marsaglia's 64-bit xorshift, shifts 13, 7, 17 (from memory).
struct Even(u64);

impl Even {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let high = u32::try_from(self.0 >> 32).expect("thirty-two bits are left");
        f64::from(high) / 4_294_967_296.0
    }

    fn within(&mut self, half: f64) -> f64 {
        half * (2.0 * self.next() - 1.0)
    }
}

/// Volume in mm3 of a torus less the slab `|x| < k/2, y > 0`, and its standard error.
fn thrown(d_mm: f64, id_mm: f64, k_mm: f64) -> (f64, f64) {
    let (a, rho) = (d_mm / 2.0, (id_mm + d_mm) / 2.0);
    let mut even = Even(0x1234_5678_9abc_def1);
    let mut hits = 0_u32;
    for _ in 0..POINTS {
        let (x, y, z) = (even.within(rho + a), even.within(rho + a), even.within(a));
        let in_torus = (x.hypot(y) - rho).powi(2) + z * z < a * a;
        let in_slab = x.abs() < k_mm / 2.0 && y > 0.0;
        hits += u32::from(in_torus && !in_slab);
    }
    let box_mm3 = 8.0 * (rho + a).powi(2) * a;
    let share = f64::from(hits) / f64::from(POINTS);
    let error = (share * (1.0 - share) / f64::from(POINTS)).sqrt();
    (box_mm3 * share, box_mm3 * error)
}

#[test]
fn ring_volume_agrees_with_a_torus_less_a_slab() {
    for (d_mm, id_mm, k_mm) in [(1.29, 5.0, 0.3), (2.053, 9.6, 0.5), (1.0, 3.0, 1.5)] {
        let wire = Wire::new(Length::from_mm(d_mm)).unwrap();
        let ring = Ring::cut(RingInput {
            wire,
            coil_inside: Length::from_mm(id_mm),
            kerf: Kerf::new(Length::from_mm(k_mm)).unwrap(),
            pitch: Pitch::new(Length::from_mm(d_mm)).unwrap(),
        })
        .unwrap();
        // A torus has no helix: take it out of the length again.
        let flat = PI * (id_mm + d_mm) / ring.turn_length().mm();
        let ours_mm3 = ring.ring_length().mm() * flat * wire.section().mm2();
        let (thrown_mm3, error_mm3) = thrown(d_mm, id_mm, k_mm);
        assert!(error_mm3 < 0.002 * thrown_mm3, "too few points to say anything");
        // Four standard errors; the seed is fixed, so this never fails by chance. The formula's own
        // error, the slot's chord across the thickness of the wire, is below a tenth of that.
        let off = (ours_mm3 - thrown_mm3) / error_mm3;
        assert!(off.abs() <= 4.0, "d {d_mm}, ID {id_mm}, k {k_mm}: off by {off} standard errors");
    }
}
