//! An old table is brought in: sent, its columns matched, looked through, kept or left.

pub(super) mod upload;

pub(super) mod choose;

pub(super) mod look;

pub(super) mod keep;

mod steps;

use linkwright_store::spreadsheet::BYTES_MOST;

/// The largest file and what a form puts round it.
pub(super) const UPLOAD_BYTES_MOST: usize = BYTES_MOST + 64 * 1024;
