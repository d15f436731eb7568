//! Handouts and pictures.

use crate::id::Id;
use crate::record::record;

record! {
    /// One version of a sheet for a wall or a class, kept as it was.
    Handout in "handout", a "handout" {
        /// Which sheet it is, such as "wall-chart".
        kind: String,
        /// Its version, from 1.
        version: u32,
        /// Its title.
        title: String,
        /// Day it was made.
        made_on: String,
        /// How many trials it rests on.
        trials: u32,
        /// What it says, as JSON.
        content: String,
    }
}

record! {
    /// Which class had which version.
    HandoutGiven in "handout_given", a "handout given" {
        /// The version.
        handout_id: Id<Handout>,
        /// The class.
        class_name: String,
        /// The day.
        given_on: String,
    }
}

record! {
    /// A picture as kept: re-encoded, limited in size, never changed.
    Image in "image", a "picture" {
        /// Digest of its bytes, in hexadecimal.
        sha256: String,
        /// Width in pixels.
        width_px: u32,
        /// Height in pixels.
        height_px: u32,
        /// The picture itself.
        jpeg: Vec<u8>,
    }
}

record! {
    /// A picture shown with a record.
    Photo in "photo", a "photo" {
        /// Table of the record it belongs to.
        record: String,
        /// Number of that record.
        record_id: i64,
        /// The picture.
        image_id: Id<Image>,
        /// Day it was taken.
        taken_on: String,
        /// What it shows.
        caption: String,
    }
}
