//! Today's page, what was done, and what one record ever was.

use axum::http::StatusCode;
use linkwright_store::records::{RingOrder, Rod};

use crate::bench::Bench;

fn order(name: &str, due_on: Option<&str>, closed_on: Option<&str>) -> RingOrder {
    RingOrder {
        name: name.to_owned(),
        asked_on: "2026-11-01".to_owned(),
        due_on: due_on.map(str::to_owned),
        buyer: String::new(),
        note: String::new(),
        closed_on: closed_on.map(str::to_owned),
    }
}

#[tokio::test]
async fn open_orders_stand_with_the_first_due_on_top_and_a_late_one_says_so_in_words() {
    let bench = Bench::with_workshop();
    bench.keep(&order("no hurry", None, None));
    bench.keep(&order("christmas", Some("2026-12-20"), None));
    bench.keep(&order("overdue", Some("2026-11-20"), None));
    bench.keep(&order("done", Some("2026-11-10"), Some("2026-11-09")));
    let page = bench.get("/").await;
    assert_eq!(page.status, StatusCode::OK);
    let names = page.words("section[aria-labelledby=orders] li > a");
    assert_eq!(names, ["overdue", "christmas", "no hurry"]);
    assert_eq!(page.words(".chip.warn"), ["late: due 2026-11-20"]);
}

#[tokio::test]
async fn an_empty_workshop_says_what_to_do_next() {
    let page = Bench::with_workshop().get("/").await;
    let empty = page.words(".empty a");
    assert!(empty.iter().any(|words| words.contains("Add a lot of wire")), "{empty:?}");
}

#[tokio::test]
async fn a_record_shows_field_by_field_what_it_was_also_when_it_is_gone() {
    let bench = Bench::with_workshop();
    let rod = [("name", "4.0"), ("marked", "4.00 mm"), ("measured", ""), ("note", "")];
    bench.submit("/workshop/rods/new", "/workshop/rods/new", &rod).await;
    let id = bench.all::<Rod>()[0].id;
    let edit = format!("/workshop/rods/{id}/edit");
    let changed = [("name", "4.0"), ("marked", "4.00 mm"), ("measured", "4.02 mm"), ("note", "")];
    bench.submit(&edit, &edit, &changed).await;
    let history = format!("/history/rod/{id}");
    let page = bench.get(&history).await;
    let rows = page.words("section:first-of-type tbody tr");
    assert!(rows.contains(&"measured (mm)nothing4.02".to_owned()), "{rows:?}");
    bench.submit(&edit, &format!("/workshop/rods/{id}/remove"), &[]).await;
    let page = bench.get(&history).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.text);
    assert_eq!(page.words("main section").len(), 3);
    assert!(page.words("main p.soft")[0].contains("was removed"));
    assert_eq!(bench.get("/history/rod/999").await.status, StatusCode::NOT_FOUND);
    assert_eq!(bench.get("/history/setting/1").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn undo_stands_on_top_of_what_was_done_and_marks_what_it_took_back() {
    let bench = Bench::with_workshop();
    bench.keep(&order("christmas", None, None));
    assert_eq!(bench.get("/history").await.words("main form button"), ["Undo: Kept for a test"]);
    bench.submit("/history", "/undo", &[]).await;
    assert!(bench.all::<RingOrder>().is_empty());
    let states = bench.get("/history").await.words("tbody .chip");
    assert_eq!(states[..2], ["took back", "undone"]);
}
