//! The labels, read by a camera.

use linkwright_sheets::{Label, LabelSheet, Paper, SheetError};

use crate::bench::{address, labels};
use crate::reader::{Picture, printed};

/// The parts that the lines to cut along leave, 9 mm from the top and 11 mm from the foot.
fn label_by_label(picture: &Picture) -> Vec<Picture> {
    let millimetres = |mm: usize| mm * 300 * 10 / 254;
    let (top, foot) = (millimetres(9), picture.height - millimetres(11));
    let (wide, high) = (picture.width / 2, (foot - top) / 7);
    let part = |at: usize| picture.part([at % 2 * wide, top + at / 2 * high], [wide, high]);
    (0..14).map(part).collect()
}

/// What a camera over a label reads; nothing if there is no code.
fn codes(part: &Picture) -> Option<String> {
    let grey = |x: usize, y: usize| part.grey(x, y);
    let mut seen = rqrr::PreparedImage::prepare_from_greyscale(part.width, part.height, grey);
    let grids = seen.detect_grids();
    assert!(grids.len() <= 1, "one code a label");
    grids.first().map(|code| code.decode().expect("a readable code").1)
}

#[test]
fn every_code_on_a_sheet_leads_to_its_batch() {
    for paper in Paper::ALL {
        let sheet = printed(&labels(15).pdf(paper).expect("a sheet"));
        let mut read = Vec::new();
        for page in 1..=2 {
            let picture = sheet.picture(page, 300);
            read.extend(label_by_label(&picture).into_iter().filter_map(|part| codes(&part)));
        }
        read.sort();
        let mut wanted: Vec<String> = (1..=15).map(address).collect();
        wanted.sort();
        assert_eq!(read, wanted, "{}", paper.name());
    }
}

#[test]
fn an_address_too_long_for_a_code_is_refused() {
    let long = Label { code: "X".into(), address: "x".repeat(5000), lines: vec![] };
    let outcome = LabelSheet { labels: vec![long] }.pdf(Paper::A4);
    assert!(matches!(outcome, Err(SheetError::AddressTooLong { characters: 5000 })));
}
