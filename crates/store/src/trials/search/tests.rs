//! Searches find what fits, in order, whichever way they take.

use rusqlite::params_from_iter;
use rusqlite::types::Value;

use super::conditions::Conditions;
use super::{Length, SizeClue, TrialFilter, TrialKey, page, page_of_sizes};
use crate::{Id, Store};

/// A file with so many trials over some years, put in below the records' door to save time.
fn with_trials(count: u32) -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bench.linkwright");
    drop(Store::open(&path).expect("opens"));
    let connection = rusqlite::Connection::open(&path).expect("opens");
    connection
        .execute_batch(&format!(
            "insert into action (at_utc, what) values ('2026-11-25T08:30:00.000Z', 'Sample');
             with recursive n (i) as (select 1 union all select i + 1 from n where i < {count})
             insert into trial (tried_on, source, metal, temper, annealed, wire_typed, wire_mm,
                 rod_typed, rod_mm, blade_name, blade_event, outcome, worker, note)
             select date('2020-01-01', (i % 2000) || ' days'), 'typed',
                 case i % 3 when 0 then 'copper' when 1 then 'brass' else 'sterling_925' end,
                 'soft', 0, '', 0.4 + (i % 97) * 0.02, '', 2.0 + (i % 41) * 0.25,
                 'B' || (i % 5), 'none', 'good', '', 'note ' || i from n;"
        ))
        .expect("filled");
    drop(connection);
    (folder, Store::open(&path).expect("opens"))
}

fn plan(store: &Store, clause: (String, Vec<Value>)) -> String {
    let (clause, given) = clause;
    store
        .read(|view| {
            let query = format!("explain query plan select * from trial {clause}");
            let mut statement = view.connection.prepare(&query)?;
            let lines = statement
                .query_map(params_from_iter(given), |row| row.get::<_, String>(3))?
                .collect::<Result<Vec<_>, _>>()?;
            Ok::<_, crate::StoreError>(lines.join("\n"))
        })
        .expect("planned")
}

#[test]
fn a_search_by_size_among_many_trials_reads_a_page_of_each_size_in_the_order_of_days() {
    let (_folder, store) = with_trials(100_000);
    let wire = Length { low_mm: 1.60, high_mm: 1.65 };
    let rod = Length { low_mm: 5.95, high_mm: 6.05 };
    let (by_wire, by_rod) = (SizeClue::Wire(wire), SizeClue::Rod(rod));
    for (sizes, tried, index) in [
        (vec![by_wire.clone(), by_rod.clone()], 3, "trial_of_both_sizes (wire_mm=? AND rod_mm=?)"),
        (vec![by_wire], 3, "trial_of_wire_size (wire_mm=?)"),
        (vec![by_rod], 1, "trial_of_rod_size (rod_mm=?)"),
        (vec![SizeClue::Either(rod)], 1, "trial_of_rod_size (rod_mm=?)"),
    ] {
        let filter = TrialFilter { sizes, ..TrialFilter::default() };
        let looked_up = store.read(|view| view.tried_sizes(&filter)).expect("read");
        let looked_up = looked_up.expect("few");
        assert_eq!(looked_up.len(), tried, "{looked_up:?}");
        let how = plan(&store, page_of_sizes(&filter, &looked_up, None, 50));
        assert_eq!(how.matches(index).count(), tried, "{how}");
        // What is put in order is the page itself, never all that fit.
        assert_eq!(how.matches("TEMP B-TREE").count(), 1, "{how}");
        assert!(!how.lines().any(|line| line == "SCAN trial"), "{how}");
    }
    let both = TrialFilter {
        sizes: vec![SizeClue::Wire(wire), SizeClue::Rod(rod)],
        ..TrialFilter::default()
    };
    let found = store.read(|view| view.trials(&both, None, 2000)).expect("read");
    assert!(!found.is_empty());
    assert!(found.iter().all(|trial| (1.60..=1.65).contains(&trial.record.wire_mm)
        && (5.95..=6.05).contains(&trial.record.rod_mm)));
}

#[test]
fn a_word_is_found_by_an_index_wherever_it_stands_and_however_old_its_trial() {
    let (_folder, store) = with_trials(100_000);
    let found = |word: &str, count| {
        let filter = TrialFilter { words: vec![word.to_owned()], ..TrialFilter::default() };
        store.read(|view| view.trials(&filter, None, count)).expect("read")
    };
    let notes =
        |word: &str| found(word, 50).into_iter().map(|trial| trial.record.note).collect::<Vec<_>>();
    assert_eq!(notes("OTE 77123"), ["note 77123"]);
    assert_eq!(notes("77123"), ["note 77123"]);
    assert!(notes("quixotic").is_empty());
    // Letters in threes may stand apart: "345" and "456" do in no note, "3456" does.
    assert!(notes("note 34567").iter().all(|note| note.contains("34567")));
    // More than the newest thousands hold, and the same whether asked in one page or in two.
    assert_eq!(found("erling", 60_000).len(), 33_333);
    assert_eq!(found("oppe", 60_000).len(), 33_333);
    let filter = TrialFilter { words: vec!["quixotic".to_owned()], ..TrialFilter::default() };
    let by_index = Conditions::of(&filter).with_words_by_index(&["quixotic"]);
    let how = plan(&store, page(by_index, None, 50));
    assert!(how.contains("trial_words VIRTUAL TABLE INDEX"), "{how}");
    assert!(!how.lines().any(|line| format!("{line} ").starts_with("SCAN trial ")), "{how}");
}

#[test]
fn pages_of_a_search_hold_what_the_whole_holds_in_the_same_order_be_it_rare_or_common() {
    let (_folder, store) = with_trials(5_000);
    for filter in [
        TrialFilter {
            sizes: vec![SizeClue::Either(Length { low_mm: 1.99, high_mm: 2.26 })],
            ..TrialFilter::default()
        },
        TrialFilter { words: vec!["note 1".to_owned()], ..TrialFilter::default() },
        TrialFilter {
            words: vec!["OTE".to_owned(), "note 12".to_owned()],
            ..TrialFilter::default()
        },
        TrialFilter {
            sizes: vec![SizeClue::Either(Length { low_mm: 0.6, high_mm: 2.0 })],
            words: vec!["note".to_owned(), "note 3".to_owned()],
            ..TrialFilter::default()
        },
        TrialFilter {
            sizes: vec![SizeClue::Any(vec![
                SizeClue::Wire(Length { low_mm: 0.6, high_mm: 2.0 }),
                SizeClue::Rod(Length { low_mm: 5.95, high_mm: 6.05 }),
            ])],
            ..TrialFilter::default()
        },
        TrialFilter {
            sizes: vec![SizeClue::Rod(Length { low_mm: 5.95, high_mm: 6.05 })],
            words: vec!["bra".to_owned()],
            ..TrialFilter::default()
        },
    ] {
        let mut all = Vec::new();
        let take = |trial| {
            all.push(trial);
            Ok::<_, crate::StoreError>(())
        };
        store.read(|view| view.each_trial(&filter, take)).expect("read");
        let mut paged = Vec::new();
        while let Some(page) = store
            .read(|view| {
                let after = paged.last().map(|last: &crate::Saved<crate::records::Trial>| {
                    TrialKey { tried_on: last.record.tried_on.clone(), id: last.id }
                });
                view.trials(&filter, after.as_ref(), 7)
            })
            .map(|page| (!page.is_empty()).then_some(page))
            .expect("read")
        {
            paged.extend(page);
        }
        paged.reverse();
        assert!(paged.len() > 30, "{}", paged.len());
        assert!(paged == all, "pages and the whole differ for {filter:?}");
    }
}

#[test]
fn a_changed_or_removed_note_is_no_longer_found_by_its_words() {
    let (_folder, store) = with_trials(10);
    let now = crate::Moment::parse("2026-11-25T08:30:00Z").expect("a moment");
    let count = |word: &str| {
        let filter = TrialFilter { words: vec![word.to_owned()], ..TrialFilter::default() };
        store.read(|view| view.trials(&filter, None, 50)).expect("read").len()
    };
    let id = Id::<crate::records::Trial>::new(3);
    let mut trial = store.read(|view| view.get(id)).expect("there");
    trial.note = "cover lifted".to_owned();
    store.act(now, "Changed", |act| act.change(id, &trial)).expect("saved");
    assert_eq!((count("note 3"), count("lifted")), (0, 1));
    store.act(now, "Removed", |act| act.remove(id)).expect("saved");
    assert_eq!(count("lifted"), 0);
    store.undo_last(now).expect("undone");
    store.undo_last(now).expect("undone");
    assert_eq!((count("note 3"), count("lifted")), (1, 0));
    assert_eq!(crate::check(store.path()).expect("checked").troubles, []);
}

#[test]
fn a_blade_and_an_outcome_are_found_by_an_index_in_the_order_of_days() {
    let (_folder, store) = with_trials(1_000);
    let blade = TrialFilter { blade: Some("b3".to_owned()), ..TrialFilter::default() };
    let failed =
        TrialFilter { outcome: Some(crate::records::Outcome::Failed), ..TrialFilter::default() };
    for (filter, index) in [(blade, "trial_of_blade_name"), (failed, "trial_of_outcome")] {
        let how = plan(&store, page(Conditions::of(&filter), None, 50));
        assert!(how.contains(index) && !how.contains("TEMP B-TREE"), "{how}");
    }
}

#[test]
fn pages_follow_the_index_of_days_and_miss_nothing() {
    let (_folder, store) = with_trials(1_000);
    let all = TrialFilter::default();
    let how = plan(&store, page(Conditions::of(&all), None, 50));
    assert_eq!(how, "SCAN trial USING INDEX trial_of_date");
    let key = TrialKey { tried_on: "2021-01-01".to_owned(), id: Id::new(7) };
    let how = plan(&store, page(Conditions::of(&all), Some(&key), 50));
    assert!(how.contains("SEARCH trial USING INDEX trial_of_date"), "{how}");
    assert!(!how.contains("TEMP B-TREE"), "{how}");
    let (mut seen, mut after) = (Vec::new(), None);
    loop {
        let page = store.read(|view| view.trials(&all, after.as_ref(), 64)).expect("read");
        let Some(last) = page.last() else { break };
        after = Some(TrialKey { tried_on: last.record.tried_on.clone(), id: last.id });
        seen.extend(page.iter().map(|trial| (trial.record.tried_on.clone(), trial.id)));
    }
    assert_eq!(seen.len(), 1_000);
    let has_more = |count| store.read(|view| view.has_more_trials_than(count)).expect("read");
    assert_eq!((has_more(999), has_more(1_000)), (true, false));
    assert!(seen.windows(2).all(|pair| pair[0] > pair[1]));
}

#[test]
fn a_sign_that_stands_for_any_letter_stands_for_itself() {
    let (_folder, store) = with_trials(20);
    let search = |word: &str| {
        let filter = TrialFilter { words: vec![word.to_owned()], ..TrialFilter::default() };
        store.read(|view| view.trials(&filter, None, 50)).expect("read").len()
    };
    assert_eq!((search("note 2"), search("note%2"), search("n_te")), (2, 0, 0));
    assert_eq!((search("e \"2"), search("'"), search("\u{e9}t\u{e9}s")), (0, 0, 0));
    assert_eq!(store.read(|view| view.metals_tried()).expect("read").len(), 3);
}
