//! Tables brought in and taken out.

use axum::http::StatusCode;

use super::{attributes, form, log_t4, post, texts, token};
use crate::bench::{Answer, Bench};

/// An old table as people keep it: a title, semicolons, decimal commas, blanks, slips. Invented.
const MESSY: &str = "My old trials;;;;;;;;\n\
    ;;;;;;;;\n\
    When;Wire;Mandrel;Metal;Temper;Blade;Good rings;Not cut;Remarks\n\
    4.3.2026;1,63;6,0;bronze;half hard;fine;40;1;\n\
    2026-03-05;14 awg;6,0;bronze;soft;fine;20;9;wobbly\n\
    ;;;;;;;;\n\
    2026-03-06;1,02;4,0;unobtainium;soft;fine;30;0;\n\
    soon;1,02;4,0;copper;soft;coarse;thirty;0;\n";

async fn send(bench: &Bench, name: &str, content: &[u8]) -> Answer {
    let token = token(bench, "/trials/import").await;
    let mut body = format!(
        "--x\r\nContent-Disposition: form-data; name=\"token\"\r\n\r\n{token}\r\n\
         --x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\r\n"
    )
    .into_bytes();
    body.extend(content);
    body.extend(b"\r\n--x--\r\n");
    bench.post_as("/trials/import", "multipart/form-data; boundary=x", body).await
}

/// The query of the match screen as a browser would send it, with some choices changed.
fn chosen(page: &Answer, changed: &[(&str, &str)]) -> String {
    let selects = attributes(page, "main select", "name");
    let mut pairs: Vec<(String, String)> = attributes(page, "main input[type=hidden]", "name")
        .into_iter()
        .zip(attributes(page, "main input[type=hidden]", "value"))
        .collect();
    for name in selects {
        let picked = attributes(page, &format!("select[name={name}] option[selected]"), "value");
        pairs.push((name.clone(), picked.first().cloned().unwrap_or_default()));
    }
    for (name, value) in changed {
        pairs.retain(|(known, _)| known != name);
        pairs.push(((*name).to_owned(), (*value).to_owned()));
    }
    let encode = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    pairs
        .iter()
        .map(|(name, value)| format!("{name}={}", encode(value)))
        .collect::<Vec<_>>()
        .join("&")
}

async fn rows(bench: &Bench) -> usize {
    texts(&bench.get("/trials").await, "tbody tr").len()
}

#[tokio::test]
async fn a_messy_table_is_asked_about_previewed_and_kept_in_one_action() {
    let bench = Bench::new();
    let sent = send(&bench, "old.csv", MESSY.as_bytes()).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let choose = bench.get(&sent.location.expect("an address")).await;
    assert_eq!(attributes(&choose, "input[name=heading]", "value"), ["3"]);
    let matched = bench.get("/trials/import/1/match?sheet=0&heading=3&lines=1").await;
    assert_eq!(attributes(&matched, "select[name=f2] option[selected]", "value"), ["rod"]);
    assert_eq!(
        texts(&matched, "table.match tbody tr:first-child td")[0],
        "4.3.2026 2026-03-05 2026-03-06"
    );

    // Bare numbers without a unit are asked about, not guessed.
    let without = bench.get(&format!("/trials/import/1/preview?{}", chosen(&matched, &[]))).await;
    assert_eq!(without.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(texts(&without, ".complaint").len(), 2);

    let answers = [("u1", "mm"), ("u2", "mm"), ("otherwise_outcome", "counts")];
    let query = chosen(&matched, &answers);
    let look = bench.get(&format!("/trials/import/1/preview?{query}")).await;
    assert_eq!(look.status, StatusCode::OK);
    assert_eq!(texts(&look, "table.good tbody tr").len(), 2);
    assert_eq!(texts(&look, "table.bad tbody th"), ["7", "8", "8"]);
    let wrong = texts(&look, "table.bad tbody td");
    assert_eq!(wrong[..2], ["Metal", "unobtainium"]);
    assert_eq!(wrong[3..5], ["When", "soon"]);
    assert_eq!(rows(&bench).await, 0, "looking keeps nothing");

    let bad = bench.get(&attributes(&look, "a[href*='bad.csv']", "href")[0]).await;
    assert!(bad.text.lines().next().expect("a heading").ends_with("Row,Reason left out"));
    assert_eq!(bad.text.lines().count(), 3);
    assert!(bad.text.contains("unobtainium"));

    let steps = attributes(&look, "input[name=steps]", "value").remove(0);
    let token = attributes(&look, "main input[name=token]", "value").remove(0);
    for _ in 0..2 {
        let body = form(&token, &[("steps", &steps)]);
        let kept =
            bench.post_as("/trials/import/1/keep", "application/x-www-form-urlencoded", body).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(rows(&bench).await, 2);
    let list = bench.get("/trials").await;
    assert_eq!(texts(&list, "tbody .chip"), ["poor", "good"], "29 of 40, 40 of 41 by counts");

    // The same file again is noticed.
    send(&bench, "old.csv", MESSY.as_bytes()).await;
    let again = bench.get(&format!("/trials/import/2/preview?{query}")).await;
    assert!(texts(&again, ".notice")[0].starts_with("2 of them look as if kept already"));
    post(
        &bench,
        &format!("/trials/import/2/preview?{query}"),
        "/trials/import/2/keep",
        &[("steps", &query)],
    )
    .await;
    assert_eq!(rows(&bench).await, 2);

    // One undo takes all of it back.
    post(&bench, "/trials/new", "/undo", &[]).await;
    assert_eq!(rows(&bench).await, 0);
}

#[tokio::test]
async fn files_that_cannot_be_used_are_refused_beside_the_field() {
    let bench = Bench::new();
    let mut long = String::from("wire,rod\n");
    long += &"1 mm,4 mm\n".repeat(20_001);
    for (content, says) in [
        (long.as_bytes(), "20001 rows"),
        (b"PK\x03\x04 broken".as_slice(), "damaged"),
        (b"\x89PNG\0".as_slice(), "no xlsx, ods or csv"),
        (b"".as_slice(), "not empty"),
    ] {
        let refused = send(&bench, "table.csv", content).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        let said = texts(&refused, ".field .complaint").join("");
        assert!(said.contains(says), "{said}");
    }
    let ok = &long[..long.len() - "1 mm,4 mm\n".len()];
    assert_eq!(send(&bench, "table.csv", ok.as_bytes()).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_file_without_our_token_is_not_read() {
    let bench = Bench::new();
    let body = "--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\nwire,rod\n\r\n--x--\r\n";
    let refused = bench.post_as("/trials/import", "multipart/form-data; boundary=x", body).await;
    assert_eq!(refused.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn what_is_taken_out_comes_back_the_same() {
    let bench = Bench::new();
    log_t4(&bench).await;
    let table = bench.get("/trials/export.csv").await;
    let data = bench.get("/trials/export.json").await.json();
    assert!(table.text.contains("Student Seven"));
    let other = Bench::new();
    assert_eq!(
        send(&other, "trials.csv", table.text.as_bytes()).await.status,
        StatusCode::SEE_OTHER
    );
    let matched = other.get("/trials/import/1/match?sheet=0").await;
    let look = other.get(&format!("/trials/import/1/preview?{}", chosen(&matched, &[]))).await;
    let steps = attributes(&look, "input[name=steps]", "value").remove(0);
    let token = attributes(&look, "main input[name=token]", "value").remove(0);
    let body = form(&token, &[("steps", &steps)]);
    other.post_as("/trials/import/1/keep", "application/x-www-form-urlencoded", body).await;
    let mut back = other.get("/trials/export.json").await.json();
    for trial in back["trials"].as_array_mut().expect("trials") {
        assert_eq!(trial["source"], "imported");
        trial["source"] = "typed".into();
    }
    assert_eq!(back, data);
}

#[tokio::test]
async fn a_public_export_names_nobody_and_follows_the_filter() {
    let bench = Bench::new();
    log_t4(&bench).await;
    for kind in ["csv", "json"] {
        let public = bench.get(&format!("/trials/export.{kind}?public=1&outcome=good")).await;
        assert!(!public.text.contains("Student Seven"), "{kind}");
        assert!(!public.text.to_lowercase().contains("worker"), "{kind}");
        assert!(public.text.contains("14 awg") && !public.text.contains("failed"), "{kind}");
    }
    assert!(bench.get("/trials/export.xlsx").await.text.starts_with("PK"));
}

#[tokio::test]
async fn nothing_is_brought_in_if_that_is_chosen() {
    let bench = Bench::new();
    send(&bench, "old.csv", MESSY.as_bytes()).await;
    post(&bench, "/trials/import", "/trials/import/1/drop", &[]).await;
    assert_eq!(bench.get("/trials/import/1").await.status, StatusCode::NOT_FOUND);
    assert_eq!(rows(&bench).await, 0);
}
