//! The run sheets as paper: each example printed by a browser on A4 and Letter, pages counted,
//! and pictures of the page kept to be looked at.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use anyhow::{Context, Result, ensure};

use crate::process::{cargo, output, program, root, run as start, works};

/// Example orders, and the printed pages each must take: one a sheet, and one for the order of work
/// where there is more than one.
const ORDERS: [(&str, usize); 3] = [("necklace", 1), ("class-kits", 1), ("three-lines", 4)];
const PAPERS: [&str; 2] = ["A4", "Letter"];
/// Widths of a phone and a desk, in CSS pixels.
const WIDTHS: [u32; 2] = [390, 1280];

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
    for (order, pages) in ORDERS {
        let page = folder.join(format!("{order}.html"));
        start(
            cargo()
                .args(["run", "--quiet", "--package", "linkwright", "--", "run-sheet"])
                .arg(format!("examples/{order}.toml"))
                .arg("--html")
                .arg(&page)
                .stdout(Stdio::null()),
        )?;
        for paper in PAPERS {
            let printed = print(&folder, order, &page, paper)?;
            ensure!(printed == pages, "{order} takes {printed} pages of {paper}, not {pages}");
            println!("{order} on {paper}: {printed} of {pages} pages");
        }
        for width in WIDTHS {
            picture(&folder, order, &page, width)?;
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

fn picture(folder: &Path, order: &str, page: &Path, width: u32) -> Result<()> {
    let file: PathBuf = folder.join(format!("{order}-{width}.png"));
    browse(
        page,
        &[&format!("--window-size={width},2400"), &format!("--screenshot={}", file.display())],
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
