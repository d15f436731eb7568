//! What holds for every sheet on both papers; a test a sheet, so that they run side by side.

use std::path::Path;

use linkwright_sheets::Paper;

use crate::bench::{Kind, blade_chart, kind, linking_card};
use crate::reader::{Picture, Printed, printed};

fn is_sound(name: &str) {
    let kind = kind(name);
    for paper in Paper::ALL {
        let at = format!("{name} on {}", paper.name());
        let pdf = (kind.print)(paper).unwrap_or_else(|error| panic!("{at}: {error}"));
        assert_eq!(pdf.warnings(), &[] as &[String], "{at}");
        // Kept to be looked at.
        let file = format!("{name}-{}.pdf", paper.name());
        std::fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(file), pdf.bytes())
            .expect("the sheet is written");
        let sheet = printed(&pdf);
        is_a_sheet_of_its_paper(&kind, paper, &sheet, &at);
        for page in 1..=kind.pages {
            is_black_and_within_the_edges(&sheet.picture(page, 40), &format!("{at}, page {page}"));
        }
        says_what_it_may(&kind, &sheet.words(), &at);
    }
}

fn is_a_sheet_of_its_paper(kind: &Kind, paper: Paper, sheet: &Printed, at: &str) {
    assert_eq!(sheet.pages(), kind.pages, "{at}");
    // Points of 1/72 in, as pdfinfo rounds them.
    let size = match (paper, kind.sideways) {
        (Paper::A4, false) => "595.276 x 841.89 pts (A4)",
        (Paper::A4, true) => "841.89 x 595.276 pts (A4)",
        (Paper::Letter, false) => "612 x 792 pts (letter)",
        (Paper::Letter, true) => "792 x 612 pts (letter)",
    };
    assert_eq!(sheet.told("Page size"), size, "{at}");
    assert_eq!(sheet.told("Tagged"), "yes", "{at}");
    assert!(!sheet.told("Title").is_empty(), "{at}");
}

fn is_black_and_within_the_edges(picture: &Picture, at: &str) {
    let coloured = picture.points.iter().filter(|[r, g, b]| r != g || g != b).count();
    assert_eq!(coloured, 0, "{at}");
    // Printers leave about 4 mm blank; six points at 40 an inch are 3.8 mm.
    let (width, height) = (picture.width, picture.height);
    let at_the_edge = (0..height)
        .flat_map(|y| (0..width).map(move |x| (x, y)))
        .filter(|(x, y)| *x < 6 || *y < 6 || *x + 6 >= width || *y + 6 >= height)
        .filter(|(x, y)| picture.grey(*x, *y) < 200)
        .count();
    assert_eq!(at_the_edge, 0, "{at}");
}

fn says_what_it_may(kind: &Kind, words: &str, at: &str) {
    if kind.public {
        assert!(words.contains("Version 3, 2026-11-25; rests on 61 trials"), "{at}: {words}");
        for private in ["EUR", "GBP", "USD", "cost", "Ferry Lane", "Harbour Street"] {
            assert!(!words.contains(private), "{at} shows {private}");
        }
    }
    let verdict = concat!("sa", "fe");
    assert!(!words.to_lowercase().split(' ').any(|word| word.starts_with(verdict)), "{at}");
}

#[test]
fn the_run_sheet_of_a_necklace_is_one_sound_page_with_a_back() {
    is_sound("necklace");
}

#[test]
fn the_run_sheet_of_class_kits_is_one_sound_page_with_a_back() {
    is_sound("class-kits");
}

#[test]
fn the_run_sheets_of_three_lines_are_three_pages_with_the_order_of_work_and_one_back() {
    is_sound("three-lines");
}

#[test]
fn the_wall_chart_is_sound() {
    is_sound("wall-chart");
}

#[test]
fn the_labels_are_sound() {
    is_sound("labels");
}

#[test]
fn the_kit_sheet_is_sound() {
    is_sound("kit");
}

#[test]
fn the_linking_card_is_sound_and_tells_every_step_and_what_may_fly() {
    is_sound("linking-card");
    let card = linking_card();
    let printed = printed(&card.pdf(Paper::Letter).expect("printed"));
    let words = printed.words_in_order();
    let plain = |words: &str| words.split_whitespace().collect::<String>();
    let all = plain(&words);
    for step in &card.steps {
        assert!(all.contains(&plain(&step.words)), "{}: {words}", step.words);
    }
    for said in ["138", "181 mm", "eye protection", "two pliers", "burrs"] {
        assert!(all.contains(&plain(said)), "{said}: {words}");
    }
}

#[test]
fn the_trial_card_is_sound() {
    is_sound("trial-card");
}

#[test]
fn the_caution_sheet_is_sound() {
    is_sound("cautions");
}

#[test]
fn the_same_sheet_is_the_same_file_again() {
    for name in ["necklace", "labels"] {
        let print = || (kind(name).print)(Paper::A4).expect("a sheet").into_bytes();
        assert!(print() == print(), "{name}");
    }
}

#[test]
fn the_learned_chart_is_sound_and_holds_every_rod_its_date_and_what_was_tried() {
    is_sound("blade-chart");
    for paper in Paper::ALL {
        let words = printed(&blade_chart(12, 10, false).pdf(paper).expect("printed"));
        let words = words.words_in_order();
        for said in [
            "2.5 mm",
            "7.0 mm",
            "good cut likely",
            "doubtful",
            "losses likely",
            "do not cut this here",
            "worked out, not tried",
            "14 coils tried",
            "2 coils tried, few",
            "not known",
            "Handpiece separated from the drive",
            "geometry and 61 trials of this workshop",
        ] {
            assert!(words.contains(said), "{said} on {}: {words}", paper.name());
        }
        assert!(!words.contains("good of"), "pencil boxes are for students");
    }
}

#[test]
fn the_student_copy_has_two_pencil_boxes_in_every_place() {
    is_sound("blade-chart-student");
    let words = printed(&blade_chart(3, 4, true).pdf(Paper::Letter).expect("printed")).words();
    assert!(words.contains("student copy"), "{words}");
    assert_eq!(words.matches("good of").count(), 2 * 3 * 4, "{words}");
}

#[test]
fn a_chart_of_nothing_says_so() {
    let words = printed(&blade_chart(0, 0, false).pdf(Paper::A4).expect("printed")).words();
    assert!(words.contains("There is no wire or no rod to make a chart of yet"), "{words}");
}
