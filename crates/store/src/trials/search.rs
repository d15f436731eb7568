//! Which trials are looked for, and a page of them, newest first.

use rusqlite::params_from_iter;
use rusqlite::types::Value;

use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Outcome, Trial};
use crate::view::View;

/// A length between two ends, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Length {
    /// Low end, mm.
    pub low_mm: f64,
    /// High end, mm.
    pub high_mm: f64,
}

/// A size somebody remembers.
#[derive(Clone, Debug, PartialEq)]
pub enum SizeClue {
    /// The wire.
    Wire(Length),
    /// The rod.
    Rod(Length),
    /// The wire or the rod.
    Either(Length),
    /// Any one of several clues.
    Any(Vec<SizeClue>),
}

/// Which trials are looked for; what is absent does not matter.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TrialFilter {
    /// All of these hold.
    pub sizes: Vec<SizeClue>,
    /// Key of the metal.
    pub metal: Option<String>,
    /// Temper, or the first words of it.
    pub temper: Option<String>,
    /// Name of the blade, whatever the case of its letters.
    pub blade: Option<String>,
    /// How it went.
    pub outcome: Option<Outcome>,
    /// First day.
    pub from: Option<String>,
    /// Last day.
    pub to: Option<String>,
    /// Words that stand somewhere in metal, temper, blade or note; all of them.
    pub words: Vec<String>,
}

/// Where a page of trials ends: the next one starts behind it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrialKey {
    /// Day of the last trial shown.
    pub tried_on: String,
    /// Its number.
    pub id: Id<Trial>,
}

impl View<'_> {
    /// The trials that fit, newest first, behind `after`.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn trials(
        &self,
        filter: &TrialFilter,
        after: Option<&TrialKey>,
        count: u32,
    ) -> Result<Vec<Saved<Trial>>, StoreError> {
        let rare = self.rare_in(filter)?;
        let (clause, given) = clause(filter, &rare, after, Some(count));
        self.some(&clause, params_from_iter(given))
    }

    /// The clues that few trials fit. Those are found by their index, which must gather and order
    /// all that fit; what many fit is met soon enough on the way through the days.
    fn rare_in<'a>(&self, filter: &'a TrialFilter) -> Result<Rare<'a>, StoreError> {
        let mut rare = Rare { sizes: Vec::new(), words: Vec::new() };
        for clue in &filter.sizes {
            let mut given = Vec::new();
            let query = format!("select id from trial where {}", of_size(clue, true, &mut given));
            if self.are_few(&query, given)? {
                rare.sizes.push(clue);
            }
        }
        for word in &filter.words {
            let Some(threes) = in_threes(word) else { continue };
            let query = "select rowid from trial_words where trial_words match ?";
            if self.are_few(query, vec![Value::from(threes)])? {
                rare.words.push(word);
            }
        }
        Ok(rare)
    }

    fn are_few(&self, query: &str, mut given: Vec<Value>) -> Result<bool, StoreError> {
        given.push(Value::from(FEW));
        let query = format!("select count(*) from ({query} limit ?)");
        let mut statement = self.connection.prepare_cached(&query)?;
        let found: u32 = statement.query_row(params_from_iter(given), |row| row.get(0))?;
        Ok(found < FEW)
    }

    /// Every trial that fits, oldest first, one by one.
    pub(crate) fn each_trial<E: From<StoreError>>(
        &self,
        filter: &TrialFilter,
        take: impl FnMut(Saved<Trial>) -> Result<(), E>,
    ) -> Result<(), E> {
        let (clause, given) = clause(filter, &Rare::all(filter), None, None);
        self.each(&clause, params_from_iter(given), take)
    }

    /// What stands in one column of all trials, for a list to choose from.
    fn words_of(&self, query: &str) -> Result<Vec<String>, StoreError> {
        let mut statement = self.connection.prepare_cached(query)?;
        let found = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        Ok(found)
    }

    /// The metals that trials name.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn metals_tried(&self) -> Result<Vec<String>, StoreError> {
        // Jumps from one metal to the next in its index instead of reading every trial.
        self.words_of(
            "with recursive next (metal) as (
                 select min(metal) from trial
                 union all
                 select (select min(metal) from trial where metal > next.metal) from next
                 where next.metal is not null
             )
             select metal from next where metal is not null",
        )
    }

    /// A trial like this one, kept before: same day, wire, rod, blade and counts.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn trial_like(&self, trial: &Trial) -> Result<Option<Saved<Trial>>, StoreError> {
        self.one(
            "where wire_mm = ?1 and rod_mm = ?2 and tried_on = ?3 and blade_name = ?4
               and good is ?5 and uncut is ?6 and nicked is ?7 and crushed is ?8 and metal = ?9
             order by id",
            rusqlite::params![
                trial.wire_mm,
                trial.rod_mm,
                trial.tried_on,
                trial.blade_name,
                trial.good,
                trial.uncut,
                trial.nicked,
                trial.crushed,
                trial.metal
            ],
        )
    }
}

/// Fewer trials than this are gathered and put in order in no time.
const FEW: u32 = 2_000;

/// The clues that are looked up in an index.
struct Rare<'a> {
    sizes: Vec<&'a SizeClue>,
    words: Vec<&'a str>,
}

impl<'a> Rare<'a> {
    /// All of them, for when all trials that fit are gathered anyway.
    fn all(filter: &'a TrialFilter) -> Rare<'a> {
        Rare {
            sizes: filter.sizes.iter().collect(),
            words: filter.words.iter().map(String::as_str).collect(),
        }
    }
}

/// The clause of SQL that picks and orders, and what it is given: a page newest first, or without
/// a `count` all of them oldest first.
fn clause(
    filter: &TrialFilter,
    rare: &Rare<'_>,
    after: Option<&TrialKey>,
    count: Option<u32>,
) -> (String, Vec<Value>) {
    let mut conditions: Vec<String> = Vec::new();
    let mut given: Vec<Value> = Vec::new();
    let mut text = |condition: &str, value: &Option<String>| {
        if let Some(value) = value {
            conditions.push(condition.to_owned());
            given.push(Value::from(value.clone()));
        }
    };
    text("metal = ?", &filter.metal);
    text("blade_name = ? collate nocase", &filter.blade);
    text("outcome = ?", &filter.outcome.map(|outcome| outcome.word().to_owned()));
    text("tried_on >= ?", &filter.from);
    text("tried_on <= ?", &filter.to);
    if let Some(temper) = &filter.temper {
        // A table of the metal may word it longer: "half hard wire".
        conditions.push("(temper = ? or temper like ? escape '\\')".to_owned());
        given.push(Value::from(temper.clone()));
        given.push(Value::from(format!("{} %", escaped(temper))));
    }
    let is_rare = |clue: &SizeClue| rare.sizes.contains(&clue);
    let (wires, others): (Vec<&SizeClue>, Vec<&SizeClue>) =
        filter.sizes.iter().partition(|clue| matches!(clue, SizeClue::Wire(_)));
    let (rods, others): (Vec<&SizeClue>, Vec<&SizeClue>) =
        others.into_iter().partition(|clue| matches!(clue, SizeClue::Rod(_)));
    // A wire and a rod together are one look into the index that has both.
    match (wires.as_slice(), rods.as_slice()) {
        ([SizeClue::Wire(wire)], [SizeClue::Rod(rod)]) => {
            conditions.push(format!("id in ({ON_WIRE} and rod_mm between ? and ?)"));
            given.extend([wire.low_mm, wire.high_mm, rod.low_mm, rod.high_mm].map(Value::from));
        }
        _ => {
            for clue in wires.into_iter().chain(rods) {
                conditions.push(of_size(clue, is_rare(clue), &mut given));
            }
        }
    }
    for clue in others {
        conditions.push(of_size(clue, is_rare(clue), &mut given));
    }
    for word in &filter.words {
        if rare.words.contains(&word.as_str())
            && let Some(threes) = in_threes(word)
        {
            conditions
                .push("id in (select rowid from trial_words where trial_words match ?)".to_owned());
            given.push(Value::from(threes));
        }
        conditions.push(
            "(metal like ? escape '\\' or temper like ? escape '\\' or blade_name like ? escape '\\' \
              or note like ? escape '\\')"
                .to_owned(),
        );
        let pattern = format!("%{}%", escaped(word));
        given.extend((0..4).map(|_| Value::from(pattern.clone())));
    }
    if let Some(after) = after {
        conditions.push("(tried_on, id) < (?, ?)".to_owned());
        given.push(Value::from(after.tried_on.clone()));
        given.push(Value::from(after.id.number()));
    }
    let mut clause = String::new();
    if !conditions.is_empty() {
        clause = format!("where {} ", conditions.join(" and "));
    }
    match count {
        Some(count) => {
            clause += "order by tried_on desc, id desc limit ?";
            given.push(Value::from(count));
        }
        None => clause += "order by tried_on, id",
    }
    (clause, given)
}

const ON_WIRE: &str =
    "select id from trial indexed by trial_of_wire_and_rod where wire_mm between ? and ?";
const ON_ROD: &str = "select id from trial indexed by trial_of_rod where rod_mm between ? and ?";

/// By the index of sizes, or past it (`+`) where trials are met in the order of their days.
fn of_size(clue: &SizeClue, by_index: bool, given: &mut Vec<Value>) -> String {
    let mut ends = |length: &Length| given.extend([length.low_mm, length.high_mm].map(Value::from));
    match clue {
        SizeClue::Wire(length) if !by_index => {
            ends(length);
            "+wire_mm between ? and ?".to_owned()
        }
        SizeClue::Rod(length) if !by_index => {
            ends(length);
            "+rod_mm between ? and ?".to_owned()
        }
        SizeClue::Either(length) if !by_index => {
            ends(length);
            ends(length);
            "(+wire_mm between ? and ? or +rod_mm between ? and ?)".to_owned()
        }
        SizeClue::Wire(length) => {
            ends(length);
            format!("id in ({ON_WIRE})")
        }
        SizeClue::Rod(length) => {
            ends(length);
            format!("id in ({ON_ROD})")
        }
        SizeClue::Either(length) => {
            ends(length);
            ends(length);
            format!("id in ({ON_WIRE} union all {ON_ROD})")
        }
        SizeClue::Any(clues) => {
            let any: Vec<String> =
                clues.iter().map(|clue| of_size(clue, by_index, given)).collect();
            if any.is_empty() { "false".to_owned() } else { format!("({})", any.join(" or ")) }
        }
    }
}

/// A word as the index of words takes it: all that stands in it three letters in a row. `None` for
/// a shorter word, which the index does not know.
fn in_threes(word: &str) -> Option<String> {
    let letters: Vec<char> = word.chars().collect();
    let threes = letters.windows(3).map(|three| {
        let three: String = three.iter().collect();
        format!("\"{}\"", three.replace('"', "\"\""))
    });
    let threes: Vec<String> = threes.collect();
    (!threes.is_empty()).then(|| threes.join(" AND "))
}

/// A word as `like` takes it for itself.
fn escaped(word: &str) -> String {
    word.replace('\\', "\\\\").replace('%', "\\%").replace('_', "\\_")
}

#[cfg(test)]
mod tests {
    use rusqlite::params_from_iter;

    use super::{Length, Rare, SizeClue, TrialFilter, TrialKey, clause};
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

    fn plan(store: &Store, filter: &TrialFilter, after: Option<&TrialKey>) -> String {
        let (clause, given) = clause(filter, &Rare::all(filter), after, Some(50));
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
    fn a_search_by_size_among_many_trials_looks_into_an_index() {
        let (_folder, store) = with_trials(100_000);
        let wire = Length { low_mm: 1.60, high_mm: 1.65 };
        let rod = Length { low_mm: 5.95, high_mm: 6.05 };
        let both = TrialFilter {
            sizes: vec![SizeClue::Wire(wire), SizeClue::Rod(rod)],
            ..TrialFilter::default()
        };
        let how = plan(&store, &both, None);
        assert!(how.contains("trial_of_wire_and_rod (wire_mm>? AND wire_mm<?)"), "{how}");
        assert!(!how.lines().any(|line| line == "SCAN trial"), "{how}");
        let either = TrialFilter { sizes: vec![SizeClue::Either(rod)], ..TrialFilter::default() };
        let how = plan(&store, &either, None);
        assert!(how.contains("trial_of_rod (rod_mm>? AND rod_mm<?)"), "{how}");
        assert!(!how.lines().any(|line| line == "SCAN trial"), "{how}");
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
        let notes = |word: &str| {
            found(word, 50).into_iter().map(|trial| trial.record.note).collect::<Vec<_>>()
        };
        assert_eq!(notes("OTE 77123"), ["note 77123"]);
        assert_eq!(notes("77123"), ["note 77123"]);
        assert!(notes("quixotic").is_empty());
        // Letters in threes may stand apart: "345" and "456" do in no note, "3456" does.
        assert!(notes("note 34567").iter().all(|note| note.contains("34567")));
        // More than the newest thousands hold, and the same whether asked in one page or in two.
        assert_eq!(found("erling", 60_000).len(), 33_333);
        assert_eq!(found("oppe", 60_000).len(), 33_333);
        let filter = TrialFilter { words: vec!["quixotic".to_owned()], ..TrialFilter::default() };
        let how = plan(&store, &filter, None);
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
        let failed = TrialFilter {
            outcome: Some(crate::records::Outcome::Failed),
            ..TrialFilter::default()
        };
        for (filter, index) in [(blade, "trial_of_blade_name"), (failed, "trial_of_outcome")] {
            let how = plan(&store, &filter, None);
            assert!(how.contains(index) && !how.contains("TEMP B-TREE"), "{how}");
        }
    }

    #[test]
    fn pages_follow_the_index_of_days_and_miss_nothing() {
        let (_folder, store) = with_trials(1_000);
        let all = TrialFilter::default();
        let how = plan(&store, &all, None);
        assert_eq!(how, "SCAN trial USING INDEX trial_of_date");
        let key = TrialKey { tried_on: "2021-01-01".to_owned(), id: Id::new(7) };
        let how = plan(&store, &all, Some(&key));
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
}
