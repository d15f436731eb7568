//! The run sheets as paper: each example printed by a browser on A4 and Letter, pages counted,
//! and pictures of the page kept to be looked at.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use anyhow::{Context, Result, ensure};

use crate::process::{output, program, root, run as start, works};
use crate::surface::built;

/// Orders, and the printed pages each must take: one a sheet, one for the order of work where there
/// is more than one sheet, and one for the back. Those under `tests` are hard to fit.
const ORDERS: [(&str, &str, usize); 6] = [
    ("examples", "necklace", 2),
    ("examples", "class-kits", 2),
    ("examples", "three-lines", 5),
    ("crates/cli/tests/pages", "thin", 2),
    ("crates/cli/tests/pages", "thick", 2),
    ("crates/cli/tests/pages", "full", 2),
];
const PAPERS: [&str; 2] = ["A4", "Letter"];
/// A phone and a desk: width, and a height that takes the page, in CSS pixels.
const SCREENS: [(u32, u32); 2] = [(390, 8000), (1280, 4000)];
/// What the reader prefers, as Chromium numbers it.
const SCHEMES: [(&str, u8); 2] = [("light", 1), ("dark", 0)];

/// Whether a browser and a reader of PDF are here.
pub fn ready() -> Result<()> {
    for (tool, version) in [("chromium", "--version"), ("pdfinfo", "-v")] {
        let mut probe = program(tool);
        probe.arg(version);
        ensure!(works(probe), "{tool} is not installed");
    }
    Ok(())
}

/// Prints and pictures every example.
pub fn run(_: &[String]) -> Result<()> {
    ready()?;
    let folder = root().join("target/pages");
    fs::create_dir_all(&folder).context("target/pages cannot be made")?;
    let folder = folder.canonicalize()?;
    let linkwright = built()?;
    for (place, order, pages) in ORDERS {
        let page = folder.join(format!("{order}.html"));
        start(
            program(&linkwright)
                .arg("run-sheet")
                .arg(format!("{place}/{order}.toml"))
                .arg("--html")
                .arg(&page)
                .stdout(Stdio::null()),
        )?;
        for paper in PAPERS {
            let printed = print(&folder, order, &page, paper)?;
            ensure!(printed == pages, "{order} takes {printed} pages of {paper}, not {pages}");
            println!("{order} on {paper}: {printed} of {pages} pages");
        }
        for screen in SCREENS {
            for scheme in SCHEMES {
                picture(&folder, order, &page, screen, scheme)?;
            }
        }
    }
    println!("pictures are in target/pages");
    Ok(())
}

/// Prints a page on a paper and counts the sheets.
fn print(folder: &Path, order: &str, page: &Path, paper: &str) -> Result<usize> {
    let text = fs::read_to_string(page)?;
    let on_paper = folder.join(format!("{order}-{paper}.html"));
    fs::write(&on_paper, text.replace("</style>", &format!("@page {{ size: {paper}; }}</style>")))?;
    let pdf = folder.join(format!("{order}-{paper}.pdf"));
    browse(&on_paper, &["--no-pdf-header-footer", &format!("--print-to-pdf={}", pdf.display())])?;
    let told = output(program("pdfinfo").arg(&pdf))?;
    let pages = told.lines().find_map(|line| line.strip_prefix("Pages:"));
    pages.context("pdfinfo names no pages")?.trim().parse().context("pages are not a number")
}

fn picture(
    folder: &Path,
    order: &str,
    page: &Path,
    (width, height): (u32, u32),
    (scheme, number): (&str, u8),
) -> Result<()> {
    let file: PathBuf = folder.join(format!("{order}-{width}-{scheme}.png"));
    browse(
        page,
        &[
            &format!("--window-size={width},{height}"),
            &format!("--blink-settings=preferredColorScheme={number}"),
            &format!("--screenshot={}", file.display()),
        ],
    )
}

/// A browser that talks to nobody, with a profile of its own.
fn browse(page: &Path, options: &[&str]) -> Result<()> {
    let profile = page.with_extension("profile");
    // What a browser without a desktop has to say is of no use either.
    let outcome = start(
        program("chromium")
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic"])
            .args(["--no-first-run", "--disable-background-networking", "--disable-sync"])
            .args(["--disable-component-update"])
            .arg(format!("--user-data-dir={}", profile.display()))
            .args(options)
            .arg(format!("file://{}", page.display()))
            .stdout(Stdio::null())
            .stderr(Stdio::null()),
    );
    // The profile is of no use to anybody, whether or not the browser did its work.
    drop(fs::remove_dir_all(&profile));
    outcome
}
