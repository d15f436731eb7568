//! Sheets that say what the program says: the blank trial card and the students' cautions.

use linkwright_calc::cautions::{Step, for_step};

use super::sheet::{List, Made, Sheet};

/// What a trial is noted by, in the order of its form.
const CARD: [&str; 19] = [
    "Day",
    "By",
    "Metal",
    "Temper",
    "Annealed before winding: yes / no",
    "Wire, with its unit",
    "Rod, measured, with its unit",
    "Blade",
    "Its diameter",
    "Projection below the coil's top",
    "Turns wound",
    "Turns left, sprung open",
    "Inside diameters of ten open rings, both ways across",
    "Good",
    "Uncut",
    "Nicked or bent",
    "Crushed",
    "Blade: nothing / broke / dulled / jammed",
    "How it went: good / poor / failed, and why",
];
const CARDS_PER_PAGE: usize = 2;

pub(super) fn trial_card() -> Made {
    let card: Vec<String> = CARD.iter().map(|&field| field.to_owned()).collect();
    let sheet = Sheet { cards: vec![card; CARDS_PER_PAGE], ..Sheet::default() };
    Made { title: "Trial card".to_owned(), trials: 0, sheet, chart: None }
}

pub(super) fn cautions() -> Made {
    let lists = Step::ALL.into_iter().filter_map(|step| {
        let student = for_step(step).iter().filter(|line| line.student);
        let lines: Vec<String> = student.map(|line| line.text.to_owned()).collect();
        (!lines.is_empty()).then(|| List { heading: step.heading().to_owned(), lines })
    });
    let sheet = Sheet {
        lead: vec![
            "Local rules first: the school's or venue's own rules, the tool maker's instructions and \
             the law come before this sheet, and someone licensed does gas, electrical and fire work."
                .to_owned(),
            "Show, do together, do alone. The teacher checks every blade and holder before power, \
             every time."
                .to_owned(),
        ],
        lists: lists.collect(),
        ..Sheet::default()
    };
    Made { title: "Cautions for students".to_owned(), trials: 0, sheet, chart: None }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::cautions::{Step, for_step};

    use super::{cautions, trial_card};

    #[test]
    fn the_students_sheet_carries_every_line_for_students() {
        let wanted = Step::ALL.into_iter().flat_map(for_step).filter(|line| line.student).count();
        let lists = cautions().sheet.lists;
        let lines: usize = lists.iter().map(|list| list.lines.len()).sum();
        assert_eq!(lines, wanted);
        assert!(cautions().sheet.lead[0].starts_with("Local rules first"));
    }

    #[test]
    fn two_blank_cards_fill_a_page() {
        assert_eq!(trial_card().sheet.cards.len(), 2);
    }
}
