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
    let values: Vec<String> = all(&page, ".keys .number").into_iter().map(text).collect();
    assert_eq!(values, ["4.00 mm", "3 \u{d7} 47 turns", "1.50 mm", "118 rings"]);
}

#[test]
fn the_steps_stand_in_the_order_of_the_bench() {
    let page = page("necklace.toml");
    let headings: Vec<String> = all(&page, ".step > h3").into_iter().map(text).collect();
    let bench = [
        "Ring wanted",
        "Wire",
        "Rod and winding",
        "Coil off the rod",
        "Blade and set-up",
        "Slit",
        "Count",
    ];
    assert_eq!(headings, bench);
    assert_eq!(all(&page, ".ticks li").len(), 8, "ticks before power");
}

#[test]
fn a_page_of_three_lines_has_the_order_of_work_and_the_cut_list_before_its_sheets() {
    let page = page("three-lines.toml");
    assert_eq!(all(&page, "article.sheet").len(), 3);
    let summary = text(all(&page, "header.order")[0]);
    for told in ["Order of work", "5 changes", "116.5 min in all", "Wire to cut", "To buy"] {
        assert!(summary.contains(told), "{told}: {summary}");
    }
    assert_eq!(all(&page, "header table.blades").len(), 3, "every line ranks its blades");
    assert!(all(&page, "header.screen").is_empty(), "the order of work is printed");
}

#[test]
fn a_page_of_one_line_prints_no_order_of_work() {
    let page = page("necklace.toml");
    assert_eq!(all(&page, "header.order.screen").len(), 1);
    assert_eq!(all(&page, "section.back table.blades tbody tr").len(), 2, "both blades are ranked");
}

/// Units a figure may carry; a ratio is written with a colon.
const UNITS: [&str; 15] = [
    "mm", "m", "g", "N", "rpm", "turns", "turn", "rings", "coils", "min", "EUR", "%", "label",
    "labels", "1",
];

#[test]
fn every_number_carries_a_unit_and_says_what_it_rests_on() {
    let page = page("three-lines.toml");
    let figures = all(&page, ".figure");
    let mut numbers = 0;
    for figure in figures {
        let value = figure.select(&Selector::parse(".value").expect("a selector")).next();
        let value = value.expect("a value");
        if value.value().classes().any(|class| class == "words") {
            continue;
        }
        numbers += 1;
        let shown = text(value);
        let unit = shown.split(&[' ', ','][..]).any(|word| UNITS.contains(&word));
        assert!(unit, "{shown} carries no unit");
        let basis = figure.select(&Selector::parse("summary").expect("a selector")).next();
        let given = text(figure).starts_with("Wanted") || text(figure).starts_with("To print");
        assert!(basis.is_some() || given, "{} rests on nothing", text(figure));
    }
    assert!(numbers > 60, "{numbers}");
}

#[test]
fn what_a_number_rests_on_is_one_of_the_words_of_the_trade() {
    let page = page("necklace.toml");
    let begins = ["tried", "worked out", "assumed", "interpolated", "extrapolated", "not tried"];
    for word in all(&page, "details.basis > summary") {
        let word = text(word);
        let known = begins.iter().any(|begin| word.starts_with(begin)) || word == "common practice";
        assert!(known, "{word}");
    }
}

#[test]
fn a_worked_out_number_shows_its_sum_with_inputs_and_source() {
    let page = page("necklace.toml");
    let wound = all(&page, ".figure")
        .into_iter()
        .find(|figure| text(*figure).contains("47 turns on each"))
        .expect("turns to wind");
    let sum = text(wound);
    assert!(sum.contains("turns needed 45.000 (worked out)"), "{sum}");
    assert!(sum.contains("rod 4.0000 mm (assumed"), "{sum}");
    assert!(sum.contains("Source: "), "{sum}");
}

/// The radius of a circle of a drawing, in millimetres of paper.
fn radius_mm(page: &Html, circle: &str) -> f64 {
    all(page, circle)[0].value().attr("r").expect("r").parse().expect("a number")
}

#[test]
fn the_blade_is_drawn_to_the_stated_scale() {
    let page = page("necklace.toml");
    let caption = text(all(&page, "figcaption")[0]);
    assert_eq!(caption, "Side view, scale 1:1 on paper, in mm");
    // Half of 31.75 mm on paper that is measured in millimetres; three decimals are written.
    let radius_mm = radius_mm(&page, "svg circle.blade-stop");
    assert!((radius_mm - 31.75 / 2.0).abs() <= 0.0005, "{radius_mm}");
    let svg = all(&page, "svg")[0];
    let width = svg.value().attr("width").expect("a width on paper");
    let view: Vec<f64> = svg
        .value()
        .attr("viewBox")
        .expect("a view")
        .split(' ')
        .map(|number| number.parse().expect("a number"))
        .collect();
    assert_eq!(width, format!("{:.2}mm", view[2]), "a unit of the drawing is a millimetre");
}

#[test]
fn a_blade_that_does_not_fit_is_drawn_smaller_and_says_so() {
    let page = page("class-kits.toml");
    assert!(text(all(&page, "figcaption")[0]).contains("scale 1:1.5 on paper"));
    let radius_mm = radius_mm(&page, "svg circle.blade-stop");
    assert!((radius_mm - 31.75 / 2.0 / 1.5).abs() <= 0.0005, "{radius_mm}");
}

#[test]
fn the_inside_of_the_ring_is_drawn_to_the_stated_scale() {
    let page = page("necklace.toml");
    assert!(text(all(&page, "figcaption")[1]).contains("scale 4:1"));
    let radius_mm = radius_mm(&page, "svg circle.inside");
    assert!((radius_mm - 4.0 * 4.14 / 2.0).abs() <= 0.0005, "{radius_mm}");
}

#[test]
fn uncut_turns_are_marked_by_hatching_and_word() {
    let page = page("necklace.toml");
    assert_eq!(all(&page, "svg circle.uncut").len(), 2);
    assert_eq!(all(&page, "svg rect.uncut-turns").len(), 1);
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
fn a_reader_of_the_page_aloud_finds_language_landmarks_headings_and_table_headers() {
    let page = page("three-lines.toml");
    assert_eq!(all(&page, "html")[0].value().attr("lang"), Some("en"));
    assert_eq!(all(&page, "main").len(), 1);
    assert_eq!(all(&page, "h1").len(), 1);
    let tables = all(&page, "table").len();
    assert!(tables >= 5, "{tables}");
    assert_eq!(all(&page, "thead tr").len(), tables);
    assert!(all(&page, "thead th:not([scope=col])").is_empty());
    let ids: Vec<_> = all(&page, "[id]").iter().filter_map(|named| named.value().id()).collect();
    let once: std::collections::BTreeSet<_> = ids.iter().collect();
    assert_eq!(once.len(), ids.len(), "no name is given twice: {ids:?}");
}

#[test]
fn print_hides_what_only_a_screen_can_do_and_uses_black_alone() {
    let text = page_text("necklace.toml", &[]);
    let (_, print) = text.split_once("@media print").expect("print rules");
    assert!(print.contains(".screen, .more, .sum, nav { display: none; }"));
    for colour in ["--ink: #000", "--soft: #000", "--accent: #000", "--sheet: #fff"] {
        assert!(print.contains(colour), "{colour}");
    }
    assert!(print.contains("font: 10pt"), "letters of ten points");
}

#[test]
fn every_caution_is_printed_on_the_back_and_student_lines_are_marked() {
    let text = page_text("class-kits.toml", &[]);
    let page = Html::parse_document(&text);
    // Eight steps with 7, 3, 5, 4, 7, 3 and 3 lines; heating is not among them.
    assert_eq!(all(&page, "section.back .caution").len(), 7 + 3 + 5 + 4 + 7 + 3 + 3);
    let marked = all(&page, "section.back .caution b");
    assert_eq!(marked.into_iter().filter(|mark| self::text(*mark) == "(S)").count(), 13);
    let (_, print) = text.split_once("@media print").expect("print rules");
    assert!(!print.contains(".back .caution"), "no rule hides a caution of the back");
    assert!(!text.to_lowercase().contains("safe"), "no verdict of that kind");
}

#[test]
fn each_step_shows_two_or_three_cautions_of_its_own() {
    let page = page("necklace.toml");
    for step in all(&page, ".step") {
        let shown = step.select(&Selector::parse(".caution").expect("a selector")).count();
        assert!([0, 2, 3].contains(&shown), "{shown}: {}", text(step));
    }
    assert!(all(&page, ".step .caution").len() >= 10);
}

#[test]
fn costs_left_out_are_nowhere_on_the_page() {
    assert!(page_text("necklace.toml", &[]).contains("21.87 EUR"));
    let without = page_text("necklace.toml", &["--without-costs"]);
    for word in ["EUR", "Cost", "cost of", "price"] {
        assert!(!without.contains(word), "{word}");
    }
}

/// The page as before, which proves sameness and nothing else; the style is left out.
#[test]
fn the_page_of_the_necklace_reads_as_before() {
    let text = page_text("necklace.toml", &[]);
    let body = text.split_once("<body>").expect("a body").1;
    assert_eq!(body.matches("<article").count(), 1);
    insta::with_settings!({ snapshot_path => "../pins", prepend_module_to_snapshot => false }, {
        insta::assert_snapshot!("necklace.html", body);
    });
}
