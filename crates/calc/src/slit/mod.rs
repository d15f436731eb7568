//! Slitting: blade projection, stop end, head start, chips and speeds.

mod kerf;

mod blade;

mod projection;

mod allowances;

mod window;

mod profile;

mod stop;

mod verdict;

mod engagement;

mod teeth;

mod speed;

mod handbook;

mod speed_advice;

mod load;

mod specific_energy;

mod error;

pub use allowances::{AllowanceParts, Allowances};
pub use blade::{Blade, BladeParts};
pub use engagement::{Chip, Engagement, chip, engagement};
pub use error::SlitError;
pub use handbook::{CUTTING_SPEEDS, CuttingSpeed, FlexibleShaft, RUBS_BELOW, cutting_speed};
pub use kerf::Kerf;
pub use load::{CuttingLoad, CuttingLoadQuery, SpecificEnergy, cutting_load, kerf_dust};
pub use profile::{depth_at, half_chord, severed_reach, touched_reach};
pub use projection::{AxisHeight, DepthSetting, Projection};
pub use specific_energy::{SpecificEnergyBand, THIN_CHIP_FACTOR, specific_energy};
pub use speed::{FeedRate, Rpm, SurfaceSpeed};
pub use speed_advice::{RpmRange, SpeedAdvice, SpeedCaution, cautions_for, speed_advice};
pub use stop::{LastTurn, StopEnd, StopQuery, head_start, stop_end};
pub use teeth::{TEETH_ACROSS_LEAST, TEETH_ACROSS_MOST, TeethAcross, teeth_across};
pub use verdict::{Finding, Margins, Verdict, VerdictQuery, verdict};
pub use window::{ProjectionWindow, projection_window, sagitta};
