//! Work at the bench, tap by tap.

use axum::http::StatusCode;
use linkwright_store::records::{Batch, Coil, Outcome, Run, Trial, TrialSource};
use linkwright_store::{Id, StoreError};
use scraper::{Html, Selector};

use crate::bench::{Answer, Bench};
use crate::necklace;

/// One window on a run: what it shows, and taps on it.
pub struct Window<'a> {
    bench: &'a Bench,
    address: String,
    pub page: Html,
}

pub fn text(page: &Html, selector: &str) -> String {
    let selector = Selector::parse(selector).expect("a selector");
    let words: Vec<String> = page
        .select(&selector)
        .map(|element| element.text().collect::<Vec<_>>().join(" "))
        .collect();
    words.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn hidden(page: &Html, name: &str) -> String {
    let selector = Selector::parse(&format!("form.tap input[name={name}]")).expect("a selector");
    let input = page.select(&selector).next().unwrap_or_else(|| panic!("no {name} on the page"));
    input.value().attr("value").unwrap_or("").to_owned()
}

impl<'a> Window<'a> {
    pub async fn on(bench: &'a Bench, run: Id<Run>) -> Window<'a> {
        let address = format!("/runs/{run}");
        let page = Html::parse_document(&bench.get(&address).await.text);
        Window { bench, address, page }
    }

    /// The body of a form as this window would send it now.
    fn form(&self, doing: &str, more: &[(&str, &str)]) -> String {
        let (at, coil) = (hidden(&self.page, "at"), hidden(&self.page, "coil"));
        let token = hidden(&self.page, "token");
        let mut pairs =
            vec![("token", token.as_str()), ("at", &at), ("coil", &coil), ("do", doing)];
        pairs.extend(more);
        let encoded = pairs.iter().map(|(name, value)| {
            let value = value.replace('%', "%25").replace('+', "%2B").replace(' ', "+");
            format!("{name}={value}")
        });
        encoded.collect::<Vec<_>>().join("&")
    }

    async fn send(&self, form: &str) -> Answer {
        self.bench
            .post_as(&self.address, "application/x-www-form-urlencoded", form.to_owned())
            .await
    }

    /// Taps, and sees the page that follows.
    pub async fn tap_with(&mut self, doing: &str, more: &[(&str, &str)]) {
        let answer = self.send(&self.form(doing, more)).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{doing}: {}", answer.text);
        assert_eq!(answer.location.as_deref(), Some(self.address.as_str()));
        self.look().await;
    }

    pub async fn tap(&mut self, doing: &str) {
        self.tap_with(doing, &[]).await;
    }

    /// Taps something that is refused, and reads why.
    pub async fn refused(&mut self, doing: &str, more: &[(&str, &str)]) -> String {
        let answer = self.send(&self.form(doing, more)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{doing}");
        text(&Html::parse_document(&answer.text), ".complaint")
    }

    async fn look(&mut self) {
        self.page = Html::parse_document(&self.bench.get(&self.address).await.text);
    }

    pub fn heading(&self) -> String {
        text(&self.page, "h1")
    }

    pub fn shows(&self, selector: &str) -> String {
        text(&self.page, selector)
    }
}

const AFTER_DRIVE: [&str; 7] = ["flat", "teeth", "slot", "screw", "lubricant", "guard", "eyes"];

pub async fn check_blade(window: &mut Window<'_>) {
    window.tap("tick:drive").await;
    for item in AFTER_DRIVE {
        window.tap(&format!("tick:{item}")).await;
    }
    window.tap("projection").await;
    window.tap("checked").await;
}

/// From the first step to the winding of the first coil.
pub async fn to_winding(window: &mut Window<'_>) {
    window.tap_with("take", &[("lot", "1"), ("typed", "20.1")]).await;
    window.tap("passed").await;
    assert_eq!(window.heading(), "Wind the coil");
}

fn coil(bench: &Bench, number: i64) -> Coil {
    bench.app.store().read::<_, StoreError>(|view| view.get(Id::new(number))).expect("a coil")
}

#[tokio::test]
async fn the_necklace_goes_from_wire_to_a_labelled_batch_of_120_rings() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    assert_eq!(window.heading(), "Take the wire");
    // needs.md, T1: 2.348 m, 19.88 g.
    assert!(window.shows(".keys").contains("2.348 m") && window.shows(".keys").contains("19.88 g"));
    assert!(window.shows(".choose").contains("silver reel 7"));
    to_winding(&mut window).await;
    for number in 1..=3 {
        assert!(window.shows(".where").ends_with(&format!("coil {number} of 3")));
        assert!(window.shows(".counter").contains("of 47 turns"), "{}", window.shows(".counter"));
        for _ in 0..4 {
            window.tap("turns:+10").await;
        }
        for _ in 0..7 {
            window.tap("turns:+1").await;
        }
        assert_eq!(window.shows(".counter b"), "47");
        window.tap("wound").await;
        // needs.md, T1: 45.7 left, 47.4 long.
        assert!(window.shows(".keys").contains("45.7"), "{}", window.shows(".keys"));
        assert!(window.shows(".keys").contains("47.4 mm"), "{}", window.shows(".keys"));
        window.tap("off").await;
        if number == 1 {
            assert_eq!(window.heading(), "Fit and check the blade");
            check_blade(&mut window).await;
        }
        assert_eq!(window.heading(), "Clamp the coil");
        window.tap("clamped").await;
        assert!(window.shows(".keys").contains("8.000 mm"), "the head start");
        window.tap("slit").await;
        for _ in 0..3 {
            window.tap("count:uncut+1").await;
        }
        assert!(window.shows(".hand").contains("All the rest good: 40"));
        window.tap("rest").await;
        window.tap("counted").await;
    }
    assert_eq!(window.heading(), "Measure ten rings");
    for typed in ["4.12", "4.15", "4.14", "4.16", "4.13"] {
        window.tap_with("reading", &[("typed", typed)]).await;
    }
    // needs.md, T1: mean 4.140, sd 0.016, springback 3.5 %.
    let keys = window.shows(".keys");
    assert!(
        keys.contains("4.140 mm") && keys.contains("0.016 mm") && keys.contains("3.5 %"),
        "{keys}"
    );
    let rods = window.shows(".rods");
    assert!(rods.contains("2 coils of this lot"), "{rods}");
    assert!(rods.contains("interpolated") || rods.contains("extrapolated"), "{rods}");
    window.tap("measured").await;
    // needs.md, T1: closed ID 4.071.
    assert!(window.shows(".keys").contains("120") && window.shows(".keys").contains("4.071 mm"));
    window.tap_with("label", &[("code", "FL 14"), ("place", "drawer 2"), ("note", "")]).await;
    assert!(
        window.shows(".look").contains("120 good rings of 118 planned"),
        "{}",
        window.shows(".look")
    );
    window.tap("finish").await;
    assert_eq!(window.heading(), "Finished");

    let (batches, trials) = bench
        .app
        .store()
        .read::<_, StoreError>(|view| Ok((view.all::<Batch>()?, view.all::<Trial>()?)))
        .expect("read");
    assert_eq!(batches.len(), 1);
    let batch = &batches[0].record;
    assert_eq!((batch.code.as_str(), batch.rings, batch.inside_readings), ("FL 14", 120, Some(5)));
    assert!((batch.inside_mm.expect("measured") - 4.14).abs() < 5e-4);
    assert!((batch.closed_inside_mm.expect("worked out") - 4.071).abs() < 5e-4);
    let own: Vec<&Trial> = trials
        .iter()
        .map(|trial| &trial.record)
        .filter(|trial| trial.source == TrialSource::Run)
        .collect();
    assert_eq!(own.len(), 3);
    assert!(own.iter().all(|trial| trial.good == Some(40) && trial.outcome == Outcome::Good));
    assert_eq!(own.iter().filter(|trial| trial.inside_mean_mm.is_some()).count(), 1);
    assert_eq!(own[0].blade_name, "small, thin");
    assert_eq!(own[0].turns_wound, Some(47));
}

#[tokio::test]
async fn a_tap_that_is_sent_twice_counts_once_and_two_taps_of_one_page_count_twice() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    let form = window.form("turns:+10", &[]);
    for _ in 0..3 {
        assert_eq!(window.send(&form).await.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(coil(&bench, 1).turns_wound, 10);
    // A page that sends taps by script names each.
    for name in ["one", "two", "two"] {
        window.send(&window.form("turns:+1", &[("tap", name)])).await;
    }
    assert_eq!(coil(&bench, 1).turns_wound, 12);
}

#[tokio::test]
async fn a_window_that_shows_an_old_number_adds_to_the_new_one() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut phone = Window::on(&bench, run).await;
    to_winding(&mut phone).await;
    let laptop = Window::on(&bench, run).await;
    phone.tap("turns:+10").await;
    phone.tap("turns:+1").await;
    assert_eq!(laptop.shows(".counter b"), "0");
    laptop.send(&laptop.form("turns:+1", &[])).await;
    assert_eq!(coil(&bench, 1).turns_wound, 12);
    // Gone on from in both windows, the bench goes one step.
    phone.look().await;
    let late = phone.form("wound:all", &[]);
    let laptop = Window::on(&bench, run).await;
    laptop.send(&laptop.form("wound:all", &[])).await;
    phone.send(&late).await;
    phone.look().await;
    assert_eq!(phone.heading(), "Coil off the rod");
}

#[tokio::test]
async fn taps_of_two_windows_at_once_all_count() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    let forms: Vec<String> = (0..8)
        .map(|number| window.form("turns:+1", &[("tap", format!("t{number}").as_str())]))
        .collect();
    let sends = [0, 1, 2, 3, 4, 5, 6, 7].map(|number: usize| window.send(&forms[number]));
    let [a, b, c, d, e, f, g, h] = sends;
    let answers = tokio::join!(a, b, c, d, e, f, g, h);
    assert_eq!(answers.0.status, StatusCode::SEE_OTHER);
    assert_eq!(coil(&bench, 1).turns_wound, 8);
}

#[tokio::test]
async fn the_blade_is_not_ticked_before_the_drive_is_off_and_nobody_goes_on_without_that() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("wound:all").await;
    window.tap("off").await;
    let first = Selector::parse(".checks li").expect("a selector");
    let items: Vec<String> = window
        .page
        .select(&first)
        .map(|item| item.text().collect::<String>().trim().to_owned())
        .collect();
    assert!(items[0].starts_with("Handpiece separated from the drive"), "{items:?}");
    assert!(window.refused("tick:teeth", &[]).await.contains("first separate the handpiece"));
    assert!(window.refused("projection", &[]).await.contains("first separate the handpiece"));
    assert!(window.refused("checked:without", &[]).await.contains("first separate the handpiece"));
    assert!(!window.shows(".hand").contains("Go on without"));
    window.tap("tick:drive").await;
    assert!(window.shows(".hand").contains("Go on without 8 ticks"));
    assert!(window.refused("checked", &[]).await.contains("not ticked: Blade flat"));
    window.tap("tick:flat").await;
    window.tap("checked:without").await;
    assert_eq!(window.heading(), "Clamp the coil");
    let note = coil(&bench, 1).note;
    assert!(note.starts_with("Went on without: Teeth point the way they cut"), "{note}");
    assert!(!note.contains("flat"), "{note}");
}

#[tokio::test]
async fn a_projection_outside_the_window_is_refused_with_the_reason_or_kept_with_a_note() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("wound:all").await;
    window.tap("off").await;
    window.tap("tick:drive").await;
    let why = window.refused("projection", &[("typed", "0.9")]).await;
    assert!(why.contains("0.90 mm does not cut through"), "{why}");
    let why = window.refused("projection", &[("typed", "5.0")]).await;
    assert!(why.contains("too near the far wall"), "{why}");
    assert!(window.refused("projection", &[("typed", "deep")]).await.contains("deep"));
    window.tap_with("projection", &[("typed", "1.6")]).await;
    assert_eq!(coil(&bench, 1).projection_mm, Some(1.6));
    window.tap_with("projection:anyway", &[("typed", "0.9")]).await;
    assert!(coil(&bench, 1).note.contains("does not cut through"));
}

#[tokio::test]
async fn another_blade_or_a_broken_one_is_checked_again() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("wound:all").await;
    window.tap("off").await;
    window.tap("tick:drive").await;
    window.tap_with("fit:2", &[("why", "the small one broke")]).await;
    assert!(!window.shows(".hand").contains("Go on without"), "the ticks are gone");
    check_blade(&mut window).await;
    window.tap("clamped").await;
    window.tap("slit").await;
    window.tap("count:good+10").await;
    window.tap("event:broke").await;
    window.tap("counted").await;
    window.tap("wound:all").await;
    window.tap("off").await;
    assert_eq!(window.heading(), "Fit and check the blade");
    assert!(window.shows(".blades summary").contains("large"));
}

#[tokio::test]
async fn more_rings_than_turns_are_refused_in_words() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("go:counts:1").await;
    for _ in 0..4 {
        window.tap("count:good+10").await;
    }
    window.tap("count:crushed+1").await;
    let why = window.refused("count:nicked+10", &[]).await;
    assert!(why.contains("that makes 51 rings, and coil 1 had 45 turns"), "{why}");
    assert_eq!(coil(&bench, 1).nicked, 0, "nothing is saved of it");
    window.tap("count:crushed-1").await;
    window.tap("count:crushed-1").await;
    assert_eq!(coil(&bench, 1).crushed, 0, "never fewer than none");
}

#[tokio::test]
async fn a_ring_that_cannot_come_off_the_rod_is_refused_and_what_was_keyed_is_kept() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("go:measure").await;
    let answer = window.send(&window.form("reading", &[("typed", "2.1")])).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = Html::parse_document(&answer.text);
    assert!(text(&page, ".complaint").contains("cannot come off a mandrel of 4 mm"));
    let typed = Selector::parse("input#typed").expect("a selector");
    assert_eq!(page.select(&typed).next().expect("a field").value().attr("value"), Some("2.1"));
}

#[tokio::test]
async fn digits_are_keyed_without_a_keyboard_or_a_script() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("go:measure").await;
    let field = |answer: &Answer| {
        let page = Html::parse_document(&answer.text);
        let typed = Selector::parse("form.tap input#typed").expect("a selector");
        page.select(&typed).next().expect("a field").value().attr("value").unwrap_or("").to_owned()
    };
    let at = |typed: &str, key: &str| format!("{}?typed={typed}&key={key}", window.address);
    assert_eq!(field(&bench.get(&at("4.1", "2")).await), "4.12");
    assert_eq!(field(&bench.get(&at("4.1", ".")).await), "4.1");
    assert_eq!(field(&bench.get(&at("4.12", "back")).await), "4.1");
    assert_eq!(field(&bench.get(&at("4.1", "x")).await), "4.1");
}

#[tokio::test]
async fn undo_in_the_middle_takes_the_last_tap_back() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("turns:+10").await;
    window.tap("wound:all").await;
    assert!(window.shows(".under").contains("Wind the coil, coil 1"), "what would be undone");
    let now = bench.app.clock().now();
    bench.app.store().undo_last(now).expect("undone");
    window.look().await;
    assert_eq!(window.heading(), "Wind the coil");
    assert_eq!(window.shows(".counter b"), "10");
}

#[tokio::test]
async fn a_run_set_aside_with_a_reason_comes_back_at_its_step_and_a_called_off_one_is_kept() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("turns:+10").await;
    window.tap_with("aside", &[("why", "supper")]).await;
    assert_eq!(window.heading(), "Set aside");
    let list = Html::parse_document(&bench.get("/runs").await.text);
    assert!(text(&list, ".card.run").contains("set aside supper"), "{}", text(&list, ".card.run"));
    window.tap("resume").await;
    assert_eq!(
        (window.heading().as_str(), window.shows(".counter b").as_str()),
        ("Wind the coil", "10")
    );
    assert!(window.refused("call-off", &[("why", " ")]).await.contains("say why"));
    window.tap_with("call-off", &[("why", "wire cracked")]).await;
    assert_eq!(window.heading(), "Called off");
    assert!(window.refused("turns:+1", &[]).await.contains("closed"));
    let list = Html::parse_document(&bench.get("/runs").await.text);
    assert!(text(&list, "table").contains("called off wire cracked"));
    window.tap("take-up").await;
    assert_eq!(window.heading(), "Wind the coil");
}

#[tokio::test]
async fn every_step_can_be_gone_back_to_from_the_list_of_steps() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    let steps = Html::parse_document(&bench.get(&format!("/runs/{run}/steps")).await.text);
    let to = Selector::parse(".steps button").expect("a selector");
    let all: Vec<String> = steps
        .select(&to)
        .map(|button| button.value().attr("value").unwrap_or("").to_owned())
        .collect();
    assert_eq!(all.len(), 2 + 3 * 7 + 3);
    for to in all {
        window.tap(&to).await;
        let step = to.split(':').nth(1).expect("a step");
        assert_eq!(hidden(&window.page, "at"), step, "{to}");
        assert!(!window.shows(".heed .caution").is_empty(), "{to}: cautions are on the screen");
    }
}

/// A run whose three coils are counted as planned, at the label.
async fn at_the_label<'a>(bench: &'a Bench, run: Id<Run>) -> Window<'a> {
    let mut window = Window::on(bench, run).await;
    to_winding(&mut window).await;
    for number in 1..=3 {
        window.tap(&format!("go:counts:{number}")).await;
        window.tap("planned").await;
        window.tap("counted").await;
    }
    window.tap("go:label").await;
    window
}

#[tokio::test]
async fn a_label_written_again_changes_the_batch_and_the_trials_instead_of_adding_others() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = at_the_label(&bench, run).await;
    assert!(window.refused("label", &[("code", " ")]).await.contains("a batch has a code"));
    window.tap_with("label", &[("code", "FL 14")]).await;
    window.tap("go:counts:2").await;
    window.tap("count:good-1").await;
    window.tap("count:crushed+1").await;
    window.tap("go:label").await;
    assert!(window.shows(".notice").contains("written already"));
    window.tap_with("label", &[("code", "FL 14")]).await;
    let (batches, trials) = bench
        .app
        .store()
        .read::<_, StoreError>(|view| Ok((view.all::<Batch>()?, view.all::<Trial>()?)))
        .expect("read");
    assert_eq!(batches.iter().map(|batch| batch.record.rings).collect::<Vec<_>>(), [119]);
    let crushed: Vec<Option<u32>> = trials
        .iter()
        .filter(|trial| trial.record.run_id == Some(run))
        .map(|trial| trial.record.crushed)
        .collect();
    assert_eq!(crushed, [Some(0), Some(1), Some(0)]);
}

#[tokio::test]
async fn a_code_that_another_batch_has_is_refused() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    at_the_label(&bench, run).await.tap_with("label", &[("code", "FL 14")]).await;
    let now = bench.app.clock().now();
    let other = bench.app.store().act::<_, StoreError>(now, "The same again", |act| {
        let first: Run = act.get(run)?;
        let again = act.add(&first)?;
        let mut coil: Coil = act.get(Id::new(1))?;
        coil.run_id = again;
        act.add(&coil)?;
        Ok(again)
    });
    let mut window = Window::on(&bench, other.expect("saved")).await;
    window.tap("go:label").await;
    let why = window.refused("label", &[("code", "FL 14")]).await;
    assert!(why.contains("another batch has this code"), "{why}");
}

#[tokio::test]
async fn a_coil_longer_than_the_holder_is_divided_first() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    for _ in 0..6 {
        window.tap("turns:+10").await;
    }
    window.tap("wound").await;
    window.tap("off").await;
    assert_eq!(window.heading(), "Divide the coil");
    // needs.md, T1: at most 49 relaxed turns a coil.
    let said = window.shows(".look");
    assert!(said.contains("The holder takes 49 turns"), "{said}");
    window.tap("pieces:+1").await;
    assert_eq!(window.shows(".counter b"), "3");
    window.tap("divided").await;
    assert_eq!(coil(&bench, 1).pieces, Some(3));
    assert_eq!(window.heading(), "Fit and check the blade");
}

#[tokio::test]
async fn turns_counted_on_the_coil_read_the_springback() {
    let bench = Bench::new();
    let run = necklace::in_hand(&bench);
    let mut window = Window::on(&bench, run).await;
    to_winding(&mut window).await;
    window.tap("wound:all").await;
    assert!(window.refused("off", &[("typed", "48")]).await.contains("no more than the 47"));
    window.tap_with("off", &[("typed", "45,7")]).await;
    window.tap("go:off:1").await;
    // 47 / 45.7 x 5.02 - 1.02, by hand: 4.143.
    assert!(window.shows(".look").contains("4.143 mm"), "{}", window.shows(".look"));
}
