//! Coils for a job, as the trials have them: what plans, pages and commands ask alike.

mod job;

mod setting;

pub use job::{Job, JobCoils, Known, untaught};
pub use setting::{Setting, as_checked, least_wire};
