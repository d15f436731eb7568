//! The run sheet of the necklace.

use linkwright_answers::run_sheet::Money;
use linkwright_calc::cautions::for_step;
use linkwright_sheets::{Paper, RunSheets};

use crate::bench::{planned, run_sheets};
use crate::reader::printed;

#[test]
fn the_sheet_says_the_numbers_of_the_necklace() {
    for paper in Paper::ALL {
        let sheet =
            printed(&run_sheets("necklace.toml", Money::Shown).pdf(paper).expect("a sheet"));
        let words = sheet.words_in_order();
        // Worked task T1: 47 turns, 3 coils, 2.348 m, 19.88 g, 107 rings.
        for number in ["3 \u{d7} 47 turns", "3 coils", "2.348 m", "19.88 g", "107 rings"] {
            assert!(words.contains(number), "{number} on {}: {words}", paper.name());
        }
    }
}

#[test]
fn costs_are_on_the_sheet_only_if_they_are_shown() {
    let words = |money| {
        printed(&run_sheets("necklace.toml", money).pdf(Paper::A4).expect("a sheet")).words()
    };
    assert!(words(Money::Shown).contains("EUR"));
    assert!(!words(Money::LeftOut).contains("EUR"));
}

#[test]
fn every_caution_for_students_is_on_every_sheet() {
    for order in ["necklace.toml", "class-kits.toml"] {
        let plan = planned(order);
        let sheet = RunSheets::of(&plan, None, Money::LeftOut).pdf(Paper::Letter).expect("a sheet");
        // Without blanks, since a line may break at a hyphen.
        let bare = |text: &str| text.split_whitespace().collect::<String>();
        let words = bare(&printed(&sheet).words_in_order());
        let lines = plan.sheets[0].steps.iter().flat_map(|step| for_step(*step));
        for line in lines.filter(|line| line.student) {
            assert!(words.contains(&bare(line.text)), "{order}: {line}");
        }
    }
}

#[test]
fn the_coil_is_printed_as_long_as_it_is() {
    let plan = planned("necklace.toml");
    let length_mm = plan.sheets[0].coils.groups[0].length.mm();
    for paper in Paper::ALL {
        let sheet =
            printed(&run_sheets("necklace.toml", Money::Shown).pdf(paper).expect("a sheet"));
        // 254 points to the inch are ten to the millimetre.
        let picture = sheet.picture(1, 254);
        // The bar is the longest thick run of ink that is not a rule over the whole page.
        let runs: Vec<usize> = (0..picture.height).map(|y| picture.longest_run(y)).collect();
        let wanted = 10.0 * length_mm;
        let thick = runs.iter().filter(|run| (**run as f64 - wanted).abs() <= 1.5).count();
        assert!(thick >= 18, "a bar 2 mm high, {wanted} points long: {thick} rows have it");
    }
}
