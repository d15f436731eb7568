//! Which trials are looked for, and a page of them, newest first.

mod conditions;

mod tried_sizes;

use rusqlite::types::Value;
use rusqlite::{OptionalExtension, params_from_iter};

use self::conditions::Conditions;
use self::tried_sizes::TriedSize;
use crate::error::StoreError;
use crate::id::Id;
use crate::record::Saved;
use crate::records::{Outcome, Trial};
use crate::view::View;
use crate::words::in_threes;

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

impl TrialKey {
    fn values(&self) -> [Value; 2] {
        [Value::from(self.tried_on.clone()), Value::from(self.id.number())]
    }
}

/// Fewer trials than this with a word are gathered and put in order sooner than anything else.
const FEW: u32 = 250;

/// So many of the newest trials are looked through for a word that is not so rare.
const NEWEST: u32 = 2_000;

/// If those hold less than a quarter of a page, the older ones are gathered by the index of words
/// where fewer trials than this have the word.
const SOME: u32 = 2_000;

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
        let rare = self.words_with_fewer(filter, FEW)?;
        if !rare.is_empty() {
            return self.page(Conditions::of(filter).with_words_by_index(&rare), after, count);
        }
        if !filter.sizes.is_empty() {
            return match self.tried_sizes(filter)? {
                Some(sizes) => {
                    let (clause, given) = page_of_sizes(filter, &sizes, after, count);
                    self.some(&clause, params_from_iter(given))
                }
                None => self.page(Conditions::of(filter), after, count),
            };
        }
        if filter.words.is_empty() {
            return self.page(Conditions::of(filter), after, count);
        }
        // A common word is met soon enough on the way through the days.
        let Some(until) = self.newest_until(after)? else {
            return self.page(Conditions::of(filter), after, count);
        };
        let mut newest = Conditions::of(filter);
        newest.and("(tried_on, id) >= (?, ?)", until.values());
        let mut page = self.page(newest, after, count)?;
        let found = u32::try_from(page.len()).unwrap_or(u32::MAX);
        if found < count {
            let mut older = Conditions::of(filter);
            if found < count / 4 {
                older = older.with_words_by_index(&self.words_with_fewer(filter, SOME)?);
            }
            page.extend(self.page(older, Some(&until), count - found)?);
        }
        Ok(page)
    }

    fn page(
        &self,
        conditions: Conditions,
        after: Option<&TrialKey>,
        count: u32,
    ) -> Result<Vec<Saved<Trial>>, StoreError> {
        let (clause, given) = page(conditions, after, count);
        self.some(&clause, params_from_iter(given))
    }

    /// The words that fewer trials than `most` have, as far as the index of words tells.
    fn words_with_fewer<'a>(
        &self,
        filter: &'a TrialFilter,
        most: u32,
    ) -> Result<Vec<&'a str>, StoreError> {
        let query = "select count(*) from
            (select rowid from trial_words where trial_words match ?1 limit ?2)";
        let mut statement = self.connection.prepare_cached(query)?;
        let mut rare = Vec::new();
        for word in &filter.words {
            let Some(threes) = in_threes(word) else { continue };
            let found: u32 =
                statement.query_row(rusqlite::params![threes, most], |row| row.get(0))?;
            if found < most {
                rare.push(word.as_str());
            }
        }
        Ok(rare)
    }

    /// The last of the newest trials behind `after`; `None` if there are no more than those.
    fn newest_until(&self, after: Option<&TrialKey>) -> Result<Option<TrialKey>, StoreError> {
        let mut conditions = Conditions::default();
        conditions.behind(after);
        let (clause, mut given) = conditions.clause();
        given.push(Value::from(NEWEST));
        let query = format!(
            "select tried_on, id from trial {clause}
             order by tried_on desc, id desc limit 1 offset ?"
        );
        let mut statement = self.connection.prepare_cached(&query)?;
        let key = |row: &rusqlite::Row<'_>| {
            Ok(TrialKey { tried_on: row.get(0)?, id: Id::new(row.get(1)?) })
        };
        Ok(statement.query_row(params_from_iter(given), key).optional()?)
    }

    /// Every trial that fits, oldest first, one by one.
    ///
    /// # Errors
    /// Those of `take`, and if the file cannot be read.
    pub fn each_trial<E: From<StoreError>>(
        &self,
        filter: &TrialFilter,
        take: impl FnMut(Saved<Trial>) -> Result<(), E>,
    ) -> Result<(), E> {
        let words: Vec<&str> = filter.words.iter().map(String::as_str).collect();
        let (clause, given) = Conditions::of(filter).with_words_by_index(&words).clause();
        self.each(&format!("{clause}order by tried_on, id"), params_from_iter(given), take)
    }

    /// Whether there are more trials than so many.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn has_more_trials_than(&self, count: u32) -> Result<bool, StoreError> {
        let query = "select exists (select 1 from trial limit 1 offset ?1)";
        let mut statement = self.connection.prepare_cached(query)?;
        Ok(statement.query_row([count], |row| row.get(0))?)
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

/// The clause of a page, newest first, and what it is given.
fn page(mut conditions: Conditions, after: Option<&TrialKey>, count: u32) -> (String, Vec<Value>) {
    conditions.behind(after);
    let (clause, mut given) = conditions.clause();
    given.push(Value::from(count));
    (format!("{clause}order by tried_on desc, id desc limit ?"), given)
}

/// The same from the newest trials of each size, which its index holds in the order of days.
fn page_of_sizes(
    filter: &TrialFilter,
    sizes: &[TriedSize],
    after: Option<&TrialKey>,
    count: u32,
) -> (String, Vec<Value>) {
    let (mut newest, mut all_given) = (Vec::new(), Vec::new());
    for size in sizes {
        let mut conditions = Conditions::of(filter);
        conditions.and(size.condition(), size.values());
        let (clause, given) = page(conditions, after, count);
        let index = size.index();
        newest.push(format!("select id from (select id from trial indexed by {index} {clause})"));
        all_given.extend(given);
    }
    let mut any = Conditions::default();
    if newest.is_empty() {
        any.and("false", []);
    } else {
        any.and(format!("id in ({})", newest.join(" union all ")), all_given);
    }
    page(any, None, count)
}

#[cfg(test)]
mod tests;
