//! Paper: run sheets, charts, labels and cards as PDF.

mod paper;

mod press;

mod edition;

mod run_sheet;

mod wall_chart;

mod blade_chart;

mod labels;

mod kit;

mod trial_card;

mod caution_sheet;

mod linking_card;

pub use blade_chart::BladeChart;
pub use caution_sheet::CautionSheet;
pub use edition::Edition;
pub use kit::KitSheet;
pub use labels::{Label, LabelSheet};
pub use linking_card::{LinkingCard, cautions_for_linking};
pub use paper::Paper;
pub use press::{Pdf, SheetError};
pub use run_sheet::{CoilLength, RunSheets};
pub use trial_card::TrialCard;
pub use wall_chart::{ChartCell, ChartRow, WallChart};
