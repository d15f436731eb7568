//! Photos of records, and the pictures they show.

use rusqlite::{OptionalExtension, params};

use crate::act::Act;
use crate::error::StoreError;
use crate::id::Id;
use crate::record::{Record, Saved, columns};
use crate::records::{Image, Photo};
use crate::view::View;

/// A photo with what a page needs to show it, without the picture itself.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoShown {
    /// The photo.
    pub photo: Saved<Photo>,
    /// Digest of its picture, in hexadecimal.
    pub sha256: String,
    /// Width of the picture in pixels.
    pub width_px: u32,
    /// Height of the picture in pixels.
    pub height_px: u32,
}

impl View<'_> {
    /// The photos shown with the record of this number in a table, oldest first.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn photos_of(&self, table: &str, number: i64) -> Result<Vec<PhotoShown>, StoreError> {
        let query = format!(
            "select shown.*, image.sha256, image.width_px, image.height_px
             from (select {} from photo where record = ?1 and record_id = ?2) as shown
             join image on image.id = shown.image_id order by shown.id",
            columns::<Photo>()
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let found = statement.query_map(params![table, number], |row| {
            Ok(PhotoShown {
                photo: Saved::from_row(row)?,
                sha256: row.get("sha256")?,
                width_px: row.get("width_px")?,
                height_px: row.get("height_px")?,
            })
        })?;
        Ok(found.collect::<Result<_, _>>()?)
    }
}

impl Act<'_> {
    /// Keeps a picture, once however often the same one comes; it stays when its photos go, so
    /// that a removed photo can come back.
    ///
    /// # Errors
    /// If nothing could be saved.
    pub fn keep_image(&self, image: &Image) -> Result<Id<Image>, StoreError> {
        let query = format!("select id from {} where sha256 = ?1", Image::TABLE);
        let kept: Option<Id<Image>> = self
            .connection
            .prepare_cached(&query)?
            .query_row([&image.sha256], |row| row.get(0))
            .optional()?;
        kept.map_or_else(|| self.add(image), Ok)
    }
}
