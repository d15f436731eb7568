//! A blade used against the sheet's advice: worked out, shown beside the plan, and noted.

use linkwright_store::records::{Blade, Coil};
use linkwright_store::{Id, StoreError};

use crate::bench::Bench;
use crate::examples;
use crate::runs::Window;

/// A workshop with the necklace's run started from a sheet of the app's own, and a worn blade that
/// the sheet has out.
pub async fn started() -> Bench {
    let bench = Bench::new();
    let now = bench.app.clock().now();
    let saved = bench.app.store().act(now, "Set up", |act| {
        examples::add_workshop(act, &examples::workshop_of("necklace.toml"));
        let other = act.all::<Blade>()?.remove(1).record;
        act.add(&Blade {
            name: "worn small".to_owned(),
            diameter_typed: "29 mm".to_owned(),
            diameter_mm: 29.0,
            ..other
        })?;
        Ok::<_, StoreError>(examples::add_order(act, "necklace.toml"))
    });
    saved.expect("saved");
    let sheet = "/orders/1/sheet";
    let answer = bench.submit(sheet, sheet, &[("line", "1")]).await;
    assert_eq!(answer.location.as_deref(), Some("/runs/1"), "{}", answer.text);
    bench
}

async fn at_the_blade(bench: &Bench) -> Window<'_> {
    let mut window = Window::on(bench, Id::new(1)).await;
    window.tap("go:blade:1").await;
    window.tap("tick:drive").await;
    window
}

fn note(bench: &Bench) -> String {
    let coil = bench.app.store().read::<_, StoreError>(|view| view.get(Id::<Coil>::new(1)));
    coil.expect("a coil").note
}

#[tokio::test]
async fn the_planned_blade_as_planned_is_held_against_nothing() {
    let bench = started().await;
    let mut window = at_the_blade(&bench).await;
    assert_eq!(window.shows(".used"), "");
    window.tap_with("projection", &[("typed", "1.5")]).await;
    assert_eq!(window.shows(".used"), "");
}

#[tokio::test]
async fn another_depth_is_worked_out_beside_the_planned_numbers() {
    let bench = started().await;
    let mut window = at_the_blade(&bench).await;
    window.tap_with("projection", &[("typed", "1.7")]).await;
    let used = window.shows(".used");
    // By hand: the near wall's inner edge lies half a kerf aside at 1.02 + 2.07 - sqrt(2.07^2 -
    // 0.125^2) = 1.0238, so 1.50 is 0.476 past it and 1.70 is 0.676.
    assert!(used.contains("clears"), "{used}");
    assert!(used.contains("Not as planned") && used.contains("at 1.70 mm"), "{used}");
    let past = window.shows(".used tbody tr:nth-child(1) td");
    assert!(past.starts_with("0.476 mm") && past.contains("0.676 mm"), "{past}");
    assert_eq!(note(&bench), "");
}

#[tokio::test]
async fn a_blade_the_sheet_has_out_is_fitted_with_a_reason_and_shown_with_what_is_wrong() {
    let bench = started().await;
    let mut window = at_the_blade(&bench).await;
    let said = window.refused("fit:3", &[("why", " ")]).await;
    assert!(said.contains("worn small out") && said.contains("Say why"), "{said}");
    window.tap_with("fit:3", &[("why", "a shim under the holder")]).await;
    assert!(note(&bench).contains("because: a shim under the holder"), "{}", note(&bench));
    let used = window.shows(".used");
    assert!(
        used.contains("against the sheet") && used.contains("does not part the wire"),
        "{used}"
    );
    assert!(window.shows(".notice").contains("a shim under the holder"));
    // Measured with the shim, it cuts.
    window.tap("tick:drive").await;
    window.tap_with("projection", &[("typed", "1.6")]).await;
    window.tap("go:slit:1").await;
    let used = window.shows(".used");
    assert!(used.contains("worn small at 1.60 mm") && used.contains("clears"), "{used}");
    assert!(used.contains("The numbers of the sheet stay those of"), "{used}");
    assert!(window.shows(".notice").contains("a shim under the holder"));
}

#[tokio::test]
async fn a_blade_bought_since_is_judged_by_the_same_holder() {
    let bench = started().await;
    let now = bench.app.clock().now();
    let bought = bench.app.store().act(now, "Bought", |act| {
        let other = act.all::<Blade>()?.remove(0).record;
        act.add(&Blade { name: "bought since".to_owned(), ..other })
    });
    let bought: Result<_, StoreError> = bought;
    let number = bought.expect("saved").number();
    let mut window = at_the_blade(&bench).await;
    window.tap(&format!("fit:{number}")).await;
    window.tap("tick:drive").await;
    let why = window.refused("projection", &[("typed", "0.9")]).await;
    assert!(why.contains("does not cut through"), "{why}");
    window.tap_with("projection", &[("typed", "1.5")]).await;
    assert!(window.shows(".used").contains("bought since at 1.50 mm"), "{}", window.shows(".used"));
}
