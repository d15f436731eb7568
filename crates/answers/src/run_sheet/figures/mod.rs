//! The two drawings of a run sheet, to scale, as SVG.

mod end_view;

mod pen;

mod side_view;

pub use end_view::EndView;
pub use pen::ratio;
pub use side_view::SideView;
