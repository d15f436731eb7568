//! A printed sheet as a reader sees it: pages, words, ink.

use std::path::{Path, PathBuf};
use std::process::Command;

use linkwright_sheets::Pdf;

/// A sheet in a folder of its own.
pub struct Printed {
    _folder: tempfile::TempDir,
    path: PathBuf,
}

/// A page, rows from the top.
pub struct Picture {
    pub width: usize,
    pub height: usize,
    /// Red, green and blue of each point.
    pub points: Vec<[u8; 3]>,
}

pub fn printed(pdf: &Pdf) -> Printed {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sheet.pdf");
    std::fs::write(&path, pdf.bytes()).expect("the sheet is written");
    Printed { _folder: folder, path }
}

fn output(program: &str, options: &[&str], path: &Path, to: &str) -> Vec<u8> {
    let outcome = Command::new(program)
        .args(options)
        .arg(path)
        .args((!to.is_empty()).then_some(to))
        .output()
        .unwrap_or_else(|error| panic!("{program} (of poppler) cannot be started: {error}"));
    assert!(outcome.status.success(), "{program}: {}", String::from_utf8_lossy(&outcome.stderr));
    outcome.stdout
}

impl Printed {
    /// What is said about the file, by name.
    pub fn told(&self, name: &str) -> String {
        let all = String::from_utf8(output("pdfinfo", &[], &self.path, "")).expect("UTF-8");
        let line = all.lines().find_map(|line| line.strip_prefix(&format!("{name}:")));
        line.unwrap_or_else(|| panic!("no {name} in {all}")).trim().to_owned()
    }

    pub fn pages(&self) -> usize {
        self.told("Pages").parse().expect("a number")
    }

    /// All words, one blank between them.
    pub fn words(&self) -> String {
        let text = output("pdftotext", &["-layout"], &self.path, "-");
        let text = String::from_utf8(text).expect("UTF-8");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// All words as they are read aloud, column by column.
    pub fn words_in_order(&self) -> String {
        let text = output("pdftotext", &["-raw"], &self.path, "-");
        let text = String::from_utf8(text).expect("UTF-8");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// A page, counted from 1, at so many points to the inch.
    pub fn picture(&self, page: usize, per_inch: u32) -> Picture {
        let (page, per_inch) = (page.to_string(), per_inch.to_string());
        let options = ["-f", &page, "-l", &page, "-r", &per_inch];
        let bytes = output("pdftoppm", &options, &self.path, "");
        Picture::of(&bytes)
    }
}

impl Picture {
    /// A picture as `pdftoppm` writes it: `P6`, width, height, 255, then the points.
    fn of(bytes: &[u8]) -> Picture {
        let mut start = 0;
        let mut heads = Vec::new();
        while heads.len() < 4 {
            let end =
                start + bytes[start..].iter().position(u8::is_ascii_whitespace).expect("a head");
            heads.push(std::str::from_utf8(&bytes[start..end]).expect("ASCII"));
            start = end + 1;
        }
        assert_eq!((heads[0], heads[3]), ("P6", "255"));
        let (width, height) = (heads[1].parse().expect("width"), heads[2].parse().expect("height"));
        let points: Vec<[u8; 3]> =
            bytes[start..].chunks_exact(3).map(|point| [point[0], point[1], point[2]]).collect();
        assert_eq!(points.len(), width * height);
        Picture { width, height, points }
    }

    /// The part from a corner on.
    pub fn part(&self, corner: [usize; 2], size: [usize; 2]) -> Picture {
        let rows = corner[1]..corner[1] + size[1];
        let points = rows.flat_map(|y| {
            let from = y * self.width + corner[0];
            self.points[from..from + size[0]].iter().copied()
        });
        Picture { width: size[0], height: size[1], points: points.collect() }
    }

    pub fn grey(&self, x: usize, y: usize) -> u8 {
        self.points[y * self.width + x][0]
    }

    /// The longest unbroken run of ink in a row, in points.
    pub fn longest_run(&self, y: usize) -> usize {
        let row = (0..self.width).map(|x| self.grey(x, y) < 128);
        let (mut longest, mut run) = (0, 0);
        for ink in row {
            run = if ink { run + 1 } else { 0 };
            longest = longest.max(run);
        }
        longest
    }
}
