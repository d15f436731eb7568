//! Which data file a command works with: the one named with `--data`, or the one in the platform's folder.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::base_strategy::{BaseStrategy, choose_native_strategy};
use linkwright_store::Moment;
use time::OffsetDateTime;

use crate::failure::Failure;

/// Folder of this program in the platform's folder for data.
const FOLDER: &str = "linkwright";

/// Name of the data file in it.
const NAME: &str = "workshop.linkwright";

/// Flattened into the arguments of every command that needs the data file.
#[derive(Debug, clap::Args)]
pub struct DataFile {
    /// The workshop's data file, if not the one in the usual folder of this computer.
    #[arg(long, value_name = "PATH")]
    data: Option<PathBuf>,
}

impl DataFile {
    /// Whether one was named.
    pub fn is_given(&self) -> bool {
        self.data.is_some()
    }

    /// Where the data file is or is to be; the usual folder is made if it is not there.
    ///
    /// # Errors
    /// If the system names no such folder, or it cannot be made.
    pub fn path(&self) -> Result<PathBuf, Failure> {
        if let Some(path) = &self.data {
            return Ok(path.clone());
        }
        let usual = choose_native_strategy().map_err(|_| Failure::NoDataFolder)?;
        in_usual_folder(&usual.data_dir())
    }
}

/// This moment, by the computer's clock.
pub fn now() -> Moment {
    Moment::at(OffsetDateTime::now_utc())
}

fn in_usual_folder(data: &Path) -> Result<PathBuf, Failure> {
    let folder = data.join(FOLDER);
    fs::create_dir_all(&folder).map_err(Failure::at(&folder))?;
    Ok(folder.join(NAME))
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::{DataFile, in_usual_folder};

    #[test]
    fn the_file_that_was_named_is_taken_as_it_stands() {
        let named = DataFile { data: Some(PathBuf::from("class/bench.linkwright")) };
        assert_eq!(named.path().expect("a path"), Path::new("class/bench.linkwright"));
    }

    #[test]
    fn the_usual_folder_is_made_where_there_is_none() {
        let home = tempfile::tempdir().expect("a folder");
        let path = in_usual_folder(&home.path().join("share")).expect("a path");
        assert_eq!(path, home.path().join("share/linkwright/workshop.linkwright"));
        assert!(path.parent().expect("a folder").is_dir());
    }
}
