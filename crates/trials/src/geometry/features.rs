//! Margins of the cut, load of the clamp, and the bounded numbers the gates weigh.

use std::f64::consts::PI;

use linkwright_calc::quantity::Length;
use linkwright_calc::slit::{Projection, half_chord};

use super::{CRUSH_STEPS, FAR_STEPS, SEVER_STEPS, STEPS};
use crate::trial::Cell;

/// Least depth the stop end is worked out for: a blade that hardly reaches still has a rim.
const LEAST_DEPTH_MM: f64 = 0.05;
/// Fewest and most turns under the rim that the stop end is told apart by.
const STOP_TURNS: [f64; 2] = [0.2, 8.0];
/// Mean diameter and yield stress at which a 1 mm wire has the crush index nought.
const CRUSH_MEAN_DIAMETER_MM: f64 = 6.0;
/// See [`CRUSH_MEAN_DIAMETER_MM`].
const CRUSH_YIELD_MPA: f64 = 145.0;
/// Kerf that counts as usual, as a share of the wire.
const USUAL_KERF_OF_WIRE: f64 = 0.3;
/// Rings after which a blade counts as worn: the scale of the wear term. Own choice, no source.
const WORN_AFTER_RINGS: f64 = 1000.0;

/// What geometry alone says about a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Features {
    /// Depth of the blade below the coil's top, in mm; negative where it ends above.
    pub depth_mm: f64,
    /// Depth less wire, in mm.
    pub sever_margin_mm: f64,
    /// Inner face of the far wall less depth, in mm.
    pub far_margin_mm: f64,
    /// Turns under the blade's rim but not cut through when the rim meets the stop.
    pub turns_at_stop: f64,
    /// Bending stress of the ring under the clamp over its yield stress, as a logarithm; 0 for a
    /// 1 mm wire, 6 mm mean diameter, 145 MPa.
    pub crush_index: f64,
    /// Steps of the sever margin.
    pub sever: [f64; STEPS],
    /// Steps of the far margin.
    pub far: [f64; STEPS],
    /// Steps of the crush index, high where the ring stands the clamp.
    pub crush: [f64; STEPS],
    /// Teeth across the wire as a bounded logarithm; 0 where the teeth are not counted.
    pub teeth: f64,
    /// Thinness of the kerf beside the wire as a bounded logarithm.
    pub kerf: f64,
    /// Logarithm of the turns at the stop, both ends bounded.
    pub stop: f64,
    /// One half if taped, less one half if not.
    pub tape: f64,
    /// One half if lubricated, less one half if not.
    pub lubricant: f64,
    /// Sharpness: 0 for a new or uncounted blade, below nothing for a worn one.
    pub sharpness: f64,
}

/// What geometry alone says about a cell.
///
/// With `t` blade depth, `d` wire, `D` mandrel: sever margin `t - d`; far margin `d + D - t`; crush
/// index `ln((D+d)/6) - 2 ln d - ln(sy/145)`; teeth `-S(ln(pitch/d))`; kerf `-S(ln(w/(0.3 d)))`;
/// stop `ln clip((c - x)/d, 0.2, 8)` with `c`, `x` the half chords at the coil's top and at full
/// depth; sharpness `-ln(1 + rings/1000)`; `S(v) = 3 tanh(v/3)`.
///
/// # Units
/// mm for the margins; the rest are plain numbers.
/// # Validity
/// Every cell: where the blade does not reach, its depth at the stop is floored at 0.05 mm and the
/// length cut to full depth is nothing.
/// # Source
/// Own derivation, `docs/theory/trials.md`, section 1; thin ring under two loads, Roark, from memory.
pub fn features(cell: &Cell) -> Features {
    let parts = cell.parts();
    let (wire_mm, mandrel_mm) = (parts.wire.diameter().mm(), parts.mandrel.diameter().mm());
    let blade = parts.blade.blade;
    let depth_mm = parts.axis.depth_with(blade).mm();
    let sever_margin_mm = depth_mm - wire_mm;
    let far_margin_mm = wire_mm + mandrel_mm - depth_mm;

    let radius_mm = blade.diameter().mm() / 2.0;
    let half_chord_at_mm = |depth_mm: f64| {
        let depth = Length::from_mm(depth_mm.clamp(0.0, radius_mm));
        Projection::new(depth)
            .ok()
            .and_then(|projection| half_chord(blade, projection).ok())
            .map_or(0.0, Length::mm)
    };
    let rim_mm = half_chord_at_mm(depth_mm.max(LEAST_DEPTH_MM)) - half_chord_at_mm(sever_margin_mm);
    let turns_at_stop = (rim_mm / wire_mm).clamp(STOP_TURNS[0], STOP_TURNS[1]);

    let crush_index = ((mandrel_mm + wire_mm) / CRUSH_MEAN_DIAMETER_MM).ln()
        - 2.0 * wire_mm.ln()
        - (parts.yield_strength.mpa() / CRUSH_YIELD_MPA).ln();
    let teeth = blade.teeth().map_or(0.0, |teeth| {
        let pitch_mm = PI * blade.diameter().mm() / f64::from(teeth);
        -bounded((pitch_mm / wire_mm).ln())
    });
    let kerf = -bounded((blade.kerf().width().mm() / (USUAL_KERF_OF_WIRE * wire_mm)).ln());
    let flag = |set| if set { 0.5 } else { -0.5 };
    Features {
        depth_mm,
        sever_margin_mm,
        far_margin_mm,
        turns_at_stop,
        crush_index,
        sever: SEVER_STEPS.at(sever_margin_mm),
        far: FAR_STEPS.at(far_margin_mm),
        crush: CRUSH_STEPS.at(-crush_index),
        teeth,
        kerf,
        stop: turns_at_stop.ln(),
        tape: flag(parts.taped),
        lubricant: flag(parts.lubricated),
        sharpness: -(parts.rings_cut_since_new.unwrap_or(0.0) / WORN_AFTER_RINGS).ln_1p(),
    }
}

/// `3 tanh(v / 3)`: about `v` near nothing, never beyond 3.
fn bounded(v: f64) -> f64 {
    3.0 * (v / 3.0).tanh()
}
