//! Metals by alloy and temper: density, stiffness, strength, flow laws, annealing, what to watch.

mod alloy;

mod temper;

mod clad;

mod flow;

mod flow_choice;

mod band;

pub mod anneal;

mod catalogue;

mod overlay;

mod measured;

mod lot;

mod gauge_custom;

mod error;

mod name;

mod row;

mod table;

pub use alloy::{Family, FineMetal, Metal};
pub use anneal::Anneal;
pub use band::{Band, Verified};
pub use catalogue::Catalogue;
pub use clad::{Clad, CladWire, Layer, clad_wire};
pub use error::MetalError;
pub use flow::FlowLaw;
pub use gauge_custom::{GaugeCustom, gauge_custom};
pub use lot::{OnHand, WireLot};
pub use measured::Measured;
pub use name::{Name, Names};
pub use overlay::{MetalOverlay, Stated, TemperOverlay};
pub use temper::{Hardness, Product, Temper};
