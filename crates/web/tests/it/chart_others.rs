//! Files of other workshops: loaded, compared, learned from, taken back out.

use axum::http::StatusCode;
use linkwright_answers::chart::read_trials;
use linkwright_answers::pool::{condense, write_workshop};
use linkwright_calc::metal::Catalogue;
use linkwright_store::records::{Blade, OtherWorkshop, Trial};

use crate::bench::{Answer, Bench};
use crate::necklace::in_hand;

/// The files of two invented workshops of thirty coils each.
fn files() -> [String; 2] {
    let table = include_str!("../../../trials/tests/references/data/trials_example.csv");
    let trials = read_trials("trials.csv", table, &Catalogue::built_in()).expect("trials");
    let (one, other) = trials.split_at(trials.len() / 2);
    [one, other].map(|trials| write_workshop(&condense(trials)))
}

async fn send(bench: &Bench, files: &[(&str, &str)]) -> Answer {
    let token = bench.get("/chart/others").await.attribute("main input[name=token]", "value");
    let mut body =
        format!("--x\r\ncontent-disposition: form-data; name=\"token\"\r\n\r\n{token}\r\n");
    for (name, content) in files {
        body.push_str(&format!(
            "--x\r\ncontent-disposition: form-data; name=\"files\"; filename=\"{name}\"\r\n\
             content-type: application/json\r\n\r\n{content}\r\n"
        ));
    }
    body.push_str("--x--\r\n");
    bench.post_as("/chart/others", "multipart/form-data; boundary=x", body).await
}

/// A bench without trials that count, with both files loaded and set aside.
async fn loaded() -> Bench {
    let bench = Bench::new();
    in_hand(&bench);
    let [ann, bo] = files();
    let answer = send(&bench, &[("ann.json", &ann), ("bo.json", &bo)]).await;
    assert_eq!(answer.location.as_deref(), Some("/chart/others"), "{}", answer.text);
    bench
}

async fn tap(bench: &Bench, to: &str) {
    let answer = bench.submit("/chart/others", to, &[]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{to}: {}", answer.text);
}

/// The band of the first cell of the chart, in points.
async fn band(bench: &Bench) -> u32 {
    let cell = bench.get("/chart?view=doubt").await.words("a.cell b")[0].clone();
    cell.split(' ').next().and_then(|points| points.parse().ok()).expect("points")
}

/// The necklace's one trial once more, with its blade and its rings counted, by Rosalind.
pub fn count_a_coil(bench: &Bench) {
    let blade = bench.all::<Blade>().remove(0);
    let trial = bench.all::<Trial>().remove(0);
    bench.keep(&Trial {
        blade_id: Some(blade.id),
        projection_mm: Some(1.5),
        turns_relaxed: Some(60.0),
        good: Some(50),
        worker: "Rosalind".to_owned(),
        note: "for Rosalind".to_owned(),
        ..trial.record
    });
}

#[tokio::test]
async fn loaded_files_change_nothing_until_they_are_learned_from() {
    let bench = loaded().await;
    let before = band(&bench).await;
    let page = bench.get("/chart/others").await;
    let aside = page.words("section.aside").join(" ");
    assert!(aside.contains("2 files (60 coils) are set aside"), "{aside}");
    assert!(aside.contains("points wide on average; it was"), "{aside}");
    assert!(page.words("section.used").is_empty());
    tap(&bench, "/chart/others/all/learn").await;
    let page = bench.get("/chart/others").await;
    let used = page.words("section.used").join(" ");
    assert!(used.contains("learns from the trials of 2 other workshops (60 coils)"), "{used}");
    assert!(page.words("section.aside").is_empty());
    assert!(band(&bench).await < before, "the bands are narrower with more known");
    let lead = bench.get("/chart").await.words(".lead")[0].clone();
    assert!(lead.contains("with the trials of 2 other workshops (60 coils)"), "{lead}");
    let cell = bench.get(&bench.get("/chart").await.attribute("a.cell", "href")).await;
    let told = cell.words("details li").join(" ");
    assert!(told.contains("Geometry and other workshops say"), "{told}");
}

#[tokio::test]
async fn a_file_is_taken_back_out_by_its_button_and_by_undo() {
    let bench = loaded().await;
    let before = band(&bench).await;
    tap(&bench, "/chart/others/1/learn").await;
    assert!(bench.get("/chart").await.words(".lead")[0].contains("1 other workshop (30 coils)"));
    tap(&bench, "/chart/others/1/take-out").await;
    assert_eq!(band(&bench).await, before);
    tap(&bench, "/chart/others/2/learn").await;
    let undone = bench.submit("/chart/others", "/undo", &[]).await;
    assert!(undone.status.is_redirection(), "{}", undone.text);
    assert_eq!(band(&bench).await, before);
    assert!(bench.all::<OtherWorkshop>().iter().all(|file| !file.record.in_use));
    tap(&bench, "/chart/others/2/remove").await;
    assert_eq!(bench.all::<OtherWorkshop>().len(), 1);
    // Sent again, it is gone already and that is that.
    tap(&bench, "/chart/others/2/remove").await;
}

#[tokio::test]
async fn a_bad_file_is_refused_by_name_and_none_of_its_company_is_kept() {
    let bench = Bench::new();
    in_hand(&bench);
    let [ann, bo] = files();
    let wrong = ann.replace("\"trials\":30", "\"trials\":0");
    let answer = send(&bench, &[("bo.json", &bo), ("ann.json", &wrong), ("list.txt", "1,2")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let said = answer.words(".complaint");
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("ann.json: trials is 0; it must be between 1 and"), "{said:?}");
    assert!(said[1].starts_with("list.txt: the file is not JSON at line 1"), "{said:?}");
    assert!(bench.all::<OtherWorkshop>().is_empty());
    let newer = ann.replace("\"version\":1", "\"version\":2");
    let said = send(&bench, &[("new.json", &newer)]).await.words(".complaint").join(" ");
    assert!(said.contains("a newer linkwright wrote this file"), "{said}");
    let said = send(&bench, &[]).await.words(".complaint").join(" ");
    assert!(said.contains("choose a file first"), "{said}");
}

#[tokio::test]
async fn trials_that_would_count_twice_are_refused() {
    let bench = loaded().await;
    let [ann, _] = files();
    let said = send(&bench, &[("again.json", &ann)]).await.words(".complaint").join(" ");
    assert_eq!(said, "again.json: it is here already, as ann.json");
    count_a_coil(&bench);
    let own = bench.get("/chart/others/own.json").await;
    assert_eq!(own.status, StatusCode::OK, "{}", own.text);
    let said = send(&bench, &[("mine.json", &own.text)]).await.words(".complaint").join(" ");
    assert!(said.contains("it is this workshop's own"), "{said}");
}

#[tokio::test]
async fn the_own_file_names_nobody_and_needs_a_trial() {
    let bench = Bench::new();
    in_hand(&bench);
    let page = bench.get("/chart/others").await;
    assert!(page.text.contains("no trial to share yet"), "{}", page.text);
    assert_eq!(bench.get("/chart/others/own.json").await.status, StatusCode::NOT_FOUND);
    count_a_coil(&bench);
    let own = bench.get("/chart/others/own.json").await.json();
    assert_eq!(own["trials"], 1);
    let text = own.to_string();
    for hidden in ["Rosalind", "2026-", "small, thin"] {
        assert!(!text.contains(hidden), "{hidden}");
    }
}
