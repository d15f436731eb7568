//! The still picture of linked rings, true to scale: which wire lies over which reads at a glance.
//!
//! A ring seen from afar is the stroke of an ellipse, as wide as its wire: that is the outline of a
//! torus in parallel projection, exactly. Rings are cut into strands where they pass under or over
//! each other, and the strands are drawn from the furthest to the nearest.

mod scene;

mod seen_from;

mod strands;

mod svg;

pub use scene::{Look, Scene, Tube, copies};
pub use seen_from::View;
pub use svg::{Drawing, Ink};
