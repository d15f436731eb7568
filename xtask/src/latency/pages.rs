//! The pages that are asked for: those of every day, and one record of each kind.

use anyhow::{Context, Result};

use super::client::Client;

/// A name for the table, and the address.
pub type Page = (&'static str, String);

/// Pages whose address is known, and pages that begin with something on another page.
const PAGES: &[(&str, Where)] = &[
    ("Today", Where::At("/")),
    ("orders", Where::At("/orders")),
    ("an order", Where::LinkOn("/orders", "/orders/#")),
    ("its run sheet", Where::LinkOn("an order", "/orders/#/sheet?line=#")),
    ("a closed order", Where::LinkOn("/orders?show=closed", "/orders/#")),
    ("the sheet of its run", Where::LinkOn("a closed order", "/orders/#/frozen/#")),
    ("an order's form", Where::At("/orders/new")),
    ("runs", Where::At("/runs")),
    ("a run at the bench", Where::LinkOn("/runs", "/runs/#")),
    ("all steps of a run", Where::LinkOn("a run at the bench", "/runs/#/steps")),
    ("trials", Where::At("/trials")),
    ("trials, a later page", Where::LinkOn("/trials", "/trials?before=*")),
    ("trials by two sizes", Where::At("/trials?q=1.65+on+6")),
    ("trials by one size", Where::At("/trials?q=6+mm")),
    ("trials by metal", Where::At("/trials?metal=copper_c110")),
    ("trials by a word", Where::At("/trials?q=wobbly")),
    ("trials by no word", Where::At("/trials?q=quixotic")),
    ("trials by two words", Where::At("/trials?q=bronze+tape+helped+good")),
    ("trials by blade", Where::At("/trials?blade=blade+3")),
    ("trials by blade, none", Where::At("/trials?blade=blade+99")),
    ("trials by temper", Where::At("/trials?temper=half+hard")),
    ("trials by outcome", Where::At("/trials?outcome=failed")),
    ("chart of blades", Where::At("/trials/chart")),
    ("chart of one metal", Where::At("/trials/chart?metal=copper_c110")),
    ("learning chart", Where::At("/chart")),
    ("a cell of it", Where::LinkOn("/chart", "/chart/cell?*")),
    ("patterns of chains", Where::At("/chain")),
    ("a pattern", Where::At("/chain/pattern?pattern=byzantine")),
    ("a chain to measure", Where::At("/chain/to-measure")),
    ("chains of a width", Where::At("/chain/to-measure?made=chain&width=8+mm&length=450+mm")),
    (
        "sheets of a mass",
        Where::At("/chain/to-measure?made=sheet&mass=40+g&length=10+cm&across=6+cm"),
    ),
    ("its linking card", Where::At("/chain/card?pattern=byzantine")),
    ("a trial", Where::LinkOn("/trials", "/trials/#")),
    ("a trial's form", Where::At("/trials/new")),
    ("rings", Where::At("/rings")),
    ("rings, a later page", Where::LinkOn("/rings", "/rings?*page=#")),
    ("rings by a word", Where::At("/rings?q=copper")),
    ("rings by size", Where::At("/rings?q=1.65+mm")),
    ("rings that are gone", Where::At("/rings?show=gone")),
    ("a batch", Where::LinkOn("/rings", "/rings/#")),
    ("counting by weight", Where::At("/rings/count")),
    ("a batch's form", Where::At("/rings/new")),
    ("workshop", Where::At("/workshop")),
    ("wire", Where::At("/workshop/lots")),
    ("a lot of wire", Where::LinkOn("/workshop/lots", "/workshop/lots/#")),
    ("blades", Where::At("/workshop/blades")),
    ("a blade", Where::LinkOn("/workshop/blades", "/workshop/blades/#")),
    ("rods", Where::At("/workshop/rods")),
    ("a rod", Where::LinkOn("/workshop/rods", "/workshop/rods/#")),
    ("holders", Where::At("/workshop/holders")),
    ("metals", Where::At("/workshop/metals")),
    ("habits", Where::At("/workshop/habits")),
    ("faults", Where::At("/faults")),
    ("a fault", Where::LinkOn("/faults", "/faults/*")),
    ("handouts", Where::At("/handouts")),
    ("history", Where::At("/history")),
    ("a trial's history", Where::LinkOn("a trial", "/history/trial/#")),
    ("help", Where::At("/help")),
    ("glossary", Where::At("/help/glossary")),
    ("records as JSON", Where::At("/api/records/trial")),
    ("description of the API", Where::At("/api/openapi.json")),
    ("style", Where::At("/assets/app.css")),
    ("script", Where::At("/assets/app.js")),
];

/// Paper and files, which nobody asks for fifty at a time.
const FILES: &[(&str, Where)] = &[
    ("run sheet, PDF", Where::LinkOn("its run sheet", "/paper/run-sheet/line/#")),
    ("wall chart, PDF", Where::LinkOn("chart of blades", "/paper/wall-chart")),
    ("trial card, PDF", Where::LinkOn("/trials", "/paper/trial-card")),
    ("label sheet, PDF", Where::LabelsOf("/rings")),
    ("1,000 records as JSON", Where::At("/api/records/trial?after=150&count=1000")),
    ("all trials, csv", Where::At("/trials/export.csv")),
    ("all trials, json", Where::At("/trials/export.json")),
    ("all trials, xlsx", Where::At("/trials/export.xlsx")),
];

#[derive(Clone, Copy)]
enum Where {
    At(&'static str),
    /// The first address of a form on a page, named or at an address: `#` stands for digits, `*`
    /// for anything.
    LinkOn(&'static str, &'static str),
    /// Labels of the batches on a page.
    LabelsOf(&'static str),
}

/// The pages of a workshop, and its paper and files.
pub fn found(client: &mut Client) -> (Vec<Page>, Vec<Page>) {
    let mut pages: Vec<Page> = Vec::new();
    let mut files: Vec<Page> = Vec::new();
    for (list, is_page) in [(PAGES, true), (FILES, false)] {
        for (name, place) in list {
            match path_of(client, *place, &pages) {
                Ok(path) => if is_page { &mut pages } else { &mut files }.push((name, path)),
                // A small workshop has no second page of everything.
                Err(lacking) => println!("left out: {name}: {lacking:#}"),
            }
        }
    }
    (pages, files)
}

fn path_of(client: &mut Client, place: Where, known: &[Page]) -> Result<String> {
    let at = |page: &str| {
        let named = known.iter().find(|(name, _)| *name == page);
        named.map_or_else(|| page.to_owned(), |(_, path)| path.clone())
    };
    match place {
        Where::At(path) => Ok(path.to_owned()),
        Where::LinkOn(page, form) => {
            let html = client.text(&at(page))?;
            let link = links(&html).find(|link| fits(link, form));
            link.with_context(|| format!("{page} leads to no {form}"))
        }
        Where::LabelsOf(page) => {
            let html = client.text(page)?;
            let batches = links(&html).filter(|link| fits(link, "/rings/#"));
            let mut numbers: Vec<String> =
                batches.map(|link| link["/rings/".len()..].to_owned()).collect();
            numbers.dedup();
            numbers.truncate(24);
            Ok(format!("/paper/labels?ids={}", numbers.join(",")))
        }
    }
}

/// The addresses a page leads to.
pub fn links(html: &str) -> impl Iterator<Item = String> + '_ {
    let parts = html.split("href=\"").skip(1);
    parts.filter_map(|part| part.split('"').next()).map(|link| {
        let link = link.replace("&#38;", "&").replace("&amp;", "&");
        link.split('#').next().unwrap_or_default().to_owned()
    })
}

/// Whether an address has a form, see [`Where::LinkOn`].
fn fits(address: &str, form: &str) -> bool {
    let Some(sign) = form.find(['#', '*']) else { return address == form };
    let Some(rest) = address.strip_prefix(&form[..sign]) else { return false };
    let (after, digits) = (&form[sign + 1..], form[sign..].starts_with('#'));
    let most =
        if digits { rest.bytes().take_while(u8::is_ascii_digit).count() } else { rest.len() };
    let least = usize::from(digits);
    (least..=most).rev().any(|end| rest.is_char_boundary(end) && fits(&rest[end..], after))
}

#[cfg(test)]
mod tests {
    use super::{fits, links};

    #[test]
    fn digits_stand_for_digits_and_a_star_for_anything() {
        assert!(fits("/orders/12", "/orders/#"));
        assert!(!fits("/orders/new", "/orders/#"));
        assert!(!fits("/orders/12/edit", "/orders/#"));
        assert!(fits("/orders/3/sheet?line=14", "/orders/#/sheet?line=#"));
        assert!(fits("/rings?q=&page=2", "/rings?*page=#"));
        assert!(!fits("/rings?q=", "/rings?*page=#"));
    }

    #[test]
    fn links_are_read_as_a_browser_reads_them() {
        let html = "<a href=\"/a?b=1&amp;c=2&#38;d=3#e\">x</a><a href=\"#top\"><a href='no'>";
        assert_eq!(links(html).collect::<Vec<_>>(), ["/a?b=1&c=2&d=3", ""]);
    }
}
