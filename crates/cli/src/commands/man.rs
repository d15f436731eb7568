//! `man`: the manual pages, made from the same text as `--help`.

use std::fs;
use std::io::{self, Write};
use std::path::PathBuf;

use clap::CommandFactory;
use clap_mangen::Man;

use crate::failure::Failure;

/// Write the manual pages into a folder, or the main page to the screen.
///
/// Example: linkwright man ~/.local/share/man/man1
#[derive(Debug, clap::Args)]
pub struct Args {
    /// Folder for linkwright.1 and one page a command; made if absent.
    folder: Option<PathBuf>,
}

/// Writes the pages.
pub fn run(args: &Args) -> Result<(), Failure> {
    let mut program = crate::Cli::command();
    program.build();
    let Some(folder) = &args.folder else {
        io::stdout().write_all(&page(program)?)?;
        return Ok(());
    };
    fs::create_dir_all(folder).map_err(Failure::at(folder))?;
    for command in program.get_subcommands().filter(|c| !c.is_hide_set()) {
        let name = format!("linkwright-{}", command.get_name());
        let path = folder.join(format!("{name}.1"));
        fs::write(&path, page(command.clone().name(name))?).map_err(Failure::at(&path))?;
    }
    let path = folder.join("linkwright.1");
    fs::write(&path, page(program)?).map_err(Failure::at(&path))
}

fn page(command: clap::Command) -> io::Result<Vec<u8>> {
    let mut page = Vec::new();
    Man::new(command).render(&mut page)?;
    Ok(page)
}
