//! Outside truth: closed forms, check values of the reference collection, and independent methods.

mod circle_polynomial;
mod closed_forms;
mod literature;
mod reference_collection;
mod soft_contact;
mod table_readings;
