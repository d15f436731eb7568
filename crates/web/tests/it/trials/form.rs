//! Typed in, found, changed, removed, charted.

use axum::http::StatusCode;

use super::{attributes, coil_of_t4, log_t4, post, texts};
use crate::bench::Bench;

#[tokio::test]
async fn the_trials_of_task_t4_are_found_by_both_typings_and_charted_with_their_counts() {
    let bench = Bench::new();
    log_t4(&bench).await;
    for typed in ["14%20AWG%206%20mm", "1.63%20on%206", "14awg", "bronze%20good"] {
        let found = bench.get(&format!("/trials?q={typed}")).await;
        let expected = if typed.ends_with("good") { 2 } else { 3 };
        assert_eq!(texts(&found, "tbody tr").len(), expected, "{typed}");
    }
    let none = bench.get("/trials?q=1.63%20on%206.5").await;
    assert_eq!(texts(&none, "tbody tr").len(), 0);
    let asked = bench.get("/trials?q=14ga%3F").await;
    assert!(texts(&asked, ".asked")[0].contains("does not say which gauge"));
    assert!(attributes(&asked, ".asked a", "href").iter().any(|to| to == "/trials?q=14%20awg"));
    let chart = bench.get("/trials/chart").await;
    let cell = texts(&chart, "tbody td").remove(0);
    assert!(cell.contains("2 good of 3 , last 2026-03-04 few trials"), "{cell}");
    let public = bench.get("/trials/chart?public=1").await;
    assert!(!public.text.contains("Student Seven") && public.text.contains("2 good of 3"));
}

#[tokio::test]
async fn filters_stand_in_the_address_and_can_be_taken_away_one_by_one() {
    let bench = Bench::new();
    log_t4(&bench).await;
    let page =
        bench.get("/trials?metal=bronze_c220&outcome=good&wire=14%20awg&from=2026-03-01").await;
    assert_eq!(texts(&page, "tbody tr").len(), 2);
    let chips = attributes(&page, ".chips a", "href");
    assert_eq!(chips.len(), 4);
    assert!(
        chips.contains(&"/trials?metal=bronze_c220&wire=14%20awg&from=2026-03-01".to_owned()),
        "{chips:?}"
    );
    let wrong = bench.get("/trials?wire=thick&from=soon").await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(texts(&wrong, ".field .complaint").len(), 2);
    assert_eq!(attributes(&wrong, "#wire", "value"), ["thick"]);
}

#[tokio::test]
async fn what_a_trial_teaches_is_shown_with_its_sum() {
    let bench = Bench::new();
    log_t4(&bench).await;
    let page = bench.get("/trials/2").await;
    let learnt = texts(&page, "[aria-labelledby=learnt]").remove(0);
    assert!(learnt.contains("4.0 % wider than the rod"), "{learnt}");
    // 6.24 + 1.63 - 2.2, needs.md T4.
    assert!(learnt.contains("allowed") && learnt.contains("clear by 5.6"), "{learnt}");
    assert!(learnt.contains("mean of 3 rings"), "{learnt}");
}

#[tokio::test]
async fn a_depth_that_cannot_cut_is_kept_only_with_the_owners_note() {
    let bench = Bench::new();
    let mut fields = coil_of_t4("failed");
    fields.retain(|(name, _)| *name != "projection");
    fields.push(("projection", "1.6 mm"));
    let refused = post(&bench, "/trials/new", "/trials/new", &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let said = texts(&refused, ".field .complaint").join(" ");
    assert!(
        said.contains("less deep than the wire") && said.contains("write here what happened"),
        "{said}"
    );
    assert_eq!(attributes(&refused, "#projection", "value"), ["1.6 mm"]);
    fields.push(("note", "set by eye, did not part"));
    let kept = post(&bench, "/trials/new", "/trials/new", &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    let page = bench.get(&kept.location.expect("an address")).await;
    assert!(texts(&page, ".chip.warn").contains(&"refused".to_owned()));
}

#[tokio::test]
async fn everything_wrong_is_said_beside_its_field_and_what_was_typed_stays() {
    let bench = Bench::new();
    let fields = [
        ("tried_on", "3/4/2026"),
        ("metal", "unobtainium"),
        ("wire", "14"),
        ("rod", "6.0 mm"),
        ("inside", "4.12 4.15"),
        ("good", "lots"),
        ("turns_wound", "10"),
        ("source", "card"),
    ];
    let refused = post(&bench, "/trials/new?from=card", "/trials/new", &fields).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    for field in ["tried_on", "metal", "temper", "wire", "inside", "good"] {
        assert_eq!(texts(&refused, &format!("#{field}-about .complaint")).len(), 1, "{field}");
    }
    assert_eq!(texts(&refused, "#outcome-about .complaint").len(), 1);
    assert_eq!(texts(&refused, "#rod-about .complaint").len(), 0);
    for (name, typed) in fields {
        assert_eq!(attributes(&refused, &format!("[name={name}]"), "value"), [typed], "{name}");
    }
    assert!(texts(&bench.get("/trials").await, "tbody tr").is_empty());
}

#[tokio::test]
async fn an_edited_trial_keeps_its_old_value_in_sight_and_a_removed_one_comes_back() {
    let bench = Bench::new();
    log_t4(&bench).await;
    let mut fields = coil_of_t4("good");
    fields.retain(|(name, _)| *name != "inside");
    fields.extend([("inside", "6.3 mm"), ("good", "40")]);
    let changed = post(&bench, "/trials/2/edit", "/trials/2/edit", &fields).await;
    assert_eq!(changed.status, StatusCode::SEE_OTHER);
    let page = bench.get("/trials/2").await;
    assert_eq!(texts(&page, ".was"), ["(was 6.24 6.25 6.23 mm until 2026-11-25 08:30 UTC)"]);
    assert!(attributes(&page, "a", "href").contains(&"/history/trial/2".to_owned()));
    post(&bench, "/trials/2", "/trials/2/remove", &[]).await;
    assert_eq!(bench.get("/trials/2").await.status, StatusCode::NOT_FOUND);
    post(&bench, "/trials/3", "/undo", &[]).await;
    assert_eq!(texts(&bench.get("/trials/2").await, ".was").len(), 1);
}

#[tokio::test]
async fn a_form_sent_twice_is_kept_once() {
    let bench = Bench::new();
    let token = super::token(&bench, "/trials/new").await;
    let body = super::form(&token, &coil_of_t4("good"));
    for _ in 0..2 {
        let kept =
            bench.post_as("/trials/new", "application/x-www-form-urlencoded", body.clone()).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(texts(&bench.get("/trials").await, "tbody tr").len(), 1);
}
