//! From an order and a workshop to run sheets.

mod order;

mod workshop;

mod sheet;

mod stock;

mod tried;

mod rod;

mod blades;

mod divide;

mod lay_out;

mod strength;

mod doubts;

mod line;

mod set_ups;

mod cutting_up;

mod whole_order;

mod why_out;

mod error;

pub use blades::BladeAsSet;
pub use cutting_up::{CutList, CutListError, Pieces, Reel, cut_up};
pub use divide::{CoilGroup, Division, divide};
pub use error::{BladesOut, LineRefused, NoRod, PlanError, RodMiss, ShankOffer};
pub use line::{plan_line, plan_on_rods};
pub use order::{CountByPieces, Item, Linked, ORDERED_RINGS, Order, OrderLine, RingWanted, Spare};
pub use set_ups::{LINES_ORDERED_EXACTLY, Sequence, SetUp, Way, sequence};
pub use sheet::{
    BladeOnSheet, ChainOnSheet, CoilOnSheet, CoilsOnSheet, CostOnSheet, KitsOnSheet, LossesOnSheet,
    MetalOnSheet, MetalUse, Odds, RingOnSheet, RodOnSheet, RunSheet, ToMake, Wanted, WhyOut,
};
pub use tried::{CoilsAsked, CoilsTaught, Least, OddsTaught, Trials, Untaught};
pub use whole_order::{Plan, WireToCut, plan, plan_with};
pub use workshop::{
    CONFIDENCE, Counts, Holder, Losses, MINUTES, MeasuredProjection, Minutes, OwnedBlade, PACKING,
    Rod, StockedWire, Workshop,
};
