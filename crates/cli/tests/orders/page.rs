//! The run sheet as a page, read by element.

use std::fs;

use scraper::{ElementRef, Html, Selector};

use crate::program::{examples, run_sheet};

fn page_text(order: &str, options: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sheet.html");
    let path_text = path.to_str().expect("UTF-8");
    let mut all = vec!["--html", path_text];
    all.extend(options);
    let outcome = run_sheet(&examples().join(order), &all);
    assert_eq!(outcome.code, 0, "{}", outcome.stderr);
    fs::read_to_string(&path).expect("the page is written")
}

fn page(order: &str) -> Html {
    Html::parse_document(&page_text(order, &[]))
}

fn all<'page>(page: &'page Html, selector: &str) -> Vec<ElementRef<'page>> {
    page.select(&Selector::parse(selector).expect("a selector")).collect()
}

fn text(element: ElementRef<'_>) -> String {
    element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_page_shows_the_four_numbers_read_at_arms_length() {
    let page = page("necklace.toml");
    let values: Vec<String> = all(&page, ".keys .value").into_iter().map(text).collect();
    assert_eq!(values, ["4.00 mm", "3 \u{d7} 47", "1.50 mm", "118"]);
}

#[test]
fn a_page_of_three_lines_has_three_sheets_and_the_order_of_work_before_them() {
    let page = page("three-lines.toml");
    assert_eq!(all(&page, "article.sheet").len(), 3);
    assert_eq!(all(&page, "header table tbody tr").len(), 3);
}

#[test]
fn the_blade_is_drawn_to_the_stated_scale() {
    let page = page("necklace.toml");
    let blade = all(&page, "svg circle.blade-stop")[0];
    let radius: f64 = blade.value().attr("r").expect("r").parse().expect("a number");
    let caption = text(all(&page, "figcaption")[0]);
    assert_eq!(caption, "Side view, scale 1:1; dimensions in mm");
    // Half of 31.75 mm on paper that is measured in millimetres; three decimals are written.
    assert!((radius - 31.75 / 2.0).abs() <= 0.0005, "{radius}");
    let svg = all(&page, "svg")[0];
    let width = svg.value().attr("style").expect("a width on paper");
    let view: Vec<f64> = svg
        .value()
        .attr("viewBox")
        .expect("a view")
        .split(' ')
        .map(|number| number.parse().expect("a number"))
        .collect();
    assert_eq!(width, format!("width:{:.2}mm", view[2]), "a unit of the drawing is a millimetre");
}

#[test]
fn the_inside_of_the_ring_is_drawn_to_the_stated_scale() {
    let page = page("necklace.toml");
    let inside = all(&page, "svg circle.inside")[0];
    let radius: f64 = inside.value().attr("r").expect("r").parse().expect("a number");
    assert!(text(all(&page, "figcaption")[1]).contains("scale 4:1"));
    assert!((radius - 4.0 * 4.14 / 2.0).abs() <= 0.0005, "{radius}");
}

#[test]
fn uncut_turns_are_marked_by_shape_and_word() {
    let page = page("necklace.toml");
    assert_eq!(all(&page, "svg circle.uncut").len(), 2);
    assert!(text(all(&page, "svg")[0]).contains("2 turns uncut"));
}

#[test]
fn every_drawing_is_told_in_words() {
    let page = page("class-kits.toml");
    for svg in all(&page, "svg") {
        let children: Vec<String> = svg.child_elements().take(2).map(text).collect();
        assert!(
            children.iter().all(|told| !told.is_empty()),
            "title and description: {children:?}"
        );
    }
}

#[test]
fn the_page_asks_nothing_of_any_network_and_runs_no_script() {
    let text = page_text("three-lines.toml", &[]);
    let page = Html::parse_document(&text);
    assert!(all(&page, "script, link, img, iframe, object").is_empty());
    let addresses = text.replace("http://www.w3.org/2000/svg", "");
    assert!(!addresses.contains("http"), "no address but the name of the SVG standard");
    assert!(!addresses.contains("url("));
}

#[test]
fn print_hides_what_only_a_screen_can_do_and_uses_black_alone() {
    let text = page_text("necklace.toml", &[]);
    let print = text.split("@media print").nth(1).expect("print rules");
    assert!(print.contains(".screen, details { display: none; }"));
    assert!(print.contains("--ink: #000") && print.contains("--accent: #000"));
}

#[test]
fn student_lines_are_always_printed_and_no_verdict_of_safety_is_given() {
    let text = page_text("class-kits.toml", &[]);
    let page = Html::parse_document(&text);
    let left_off = all(&page, ".cautions li.more b");
    assert!(left_off.iter().all(|mark| self::text(*mark) != "S"));
    let printed = all(&page, ".cautions li:not(.more)").len();
    assert!(printed >= 14, "{printed}");
    assert!(!text.to_lowercase().contains("safe"));
}

#[test]
fn costs_left_out_are_nowhere_on_the_page() {
    assert!(page_text("necklace.toml", &[]).contains("EUR"));
    assert!(!page_text("necklace.toml", &["--without-costs"]).contains("EUR"));
}

#[test]
fn every_row_with_a_sum_shows_it_with_its_source() {
    let page = page("necklace.toml");
    let sums = all(&page, "details");
    assert!(sums.len() >= 4, "{}", sums.len());
    assert!(sums.into_iter().all(|sum| text(sum).contains("Source:")));
}
