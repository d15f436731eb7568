//! What a chain is like in the hand: whether its last ring goes in, how tightly it bends, what a pull does
//! to it. Bends and last rings of known patterns are read from the table, all else is solved on the spot.

use linkwright_calc::limits::LimitError;
use linkwright_calc::quantity::Force;
use linkwright_calc::ring::RingMetal;
use linkwright_linkage::answer::{Fits, LastRing, TightestBend, UnderLoad};
use linkwright_linkage::pattern::Kind;
use linkwright_linkage::solve::{Halt, Watch, Way};
use serde_json::{Map, Value, json};
use thiserror::Error;

use super::answered::ChainAnswer;
use crate::printout::{Unit, both_lengths, significant};

/// What a chain is like in the hand.
#[derive(Clone, Debug)]
pub struct InFull {
    /// Room for the last ring; `None` where the rings do not go together.
    pub last_ring: Option<LastRing>,
    /// Its tightest bend over its face and over its edge, of a chain.
    pub bends: Vec<TightestBend>,
    /// What a pull does to it, if one was asked about.
    pub under_load: Option<UnderLoad>,
}

/// Why it could not be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum InFullError {
    /// The solve was stopped.
    #[error(transparent)]
    Halt(#[from] Halt),
    /// The pull is outside its limits.
    #[error(transparent)]
    Limit(#[from] LimitError),
}

impl InFull {
    /// Works it out; with a pull and the metal, what the pull does as well.
    ///
    /// # Errors
    /// [`InFullError`] if the watch stops a solve or the pull is outside its limits.
    pub fn of(
        answer: &ChainAnswer,
        pull: Option<(RingMetal, Force)>,
        watch: &mut dyn Watch,
    ) -> Result<InFull, InFullError> {
        let linked = &answer.linked;
        let mut bends = Vec::new();
        if answer.kind == Kind::Chain {
            for way in [Way::OverFace, Way::Edgewise] {
                bends.extend(linked.tightest_bend(way, watch)?);
            }
        }
        let under_load = match pull {
            None => None,
            Some((metal, load)) => match linked.drawn(watch)? {
                Some(drawn) => linked.under_load(&drawn, metal, load)?,
                None => None,
            },
        };
        Ok(InFull { last_ring: linked.last_ring(watch)?, bends, under_load })
    }

    /// In rows of label and value.
    pub fn rows(&self) -> Vec<(String, String)> {
        let mut rows = Vec::new();
        if let Some(last) = &self.last_ring {
            let (apart, needed) = (last.ends_apart.mm(), last.needed.mm());
            rows.push((
                "last ring".to_owned(),
                format!(
                    "{}: its ends can stand {} apart, {} is needed (worked out)",
                    fits_in_words(last.fits),
                    both_lengths(apart),
                    both_lengths(needed)
                ),
            ));
        }
        for bend in &self.bends {
            let said = if bend.limp {
                "limp: it folds".to_owned()
            } else {
                format!(
                    "inside radius at least this tight: {}",
                    both_lengths(bend.inside_radius.mm())
                )
            };
            rows.push((format!("bent {}", way_in_words(bend.way)), said));
        }
        if let Some(pulled) = &self.under_load {
            let load = Unit::Force.show(pulled.load.n());
            let stretch = significant(100.0 * pulled.stretch, 2);
            rows.push((format!("pulled with {load}"), format!("{stretch} % longer")));
            rows.push(("takes a set from".to_owned(), Unit::Force.show(pulled.first_set.n())));
            rows.push(("gives way at".to_owned(), Unit::Force.show(pulled.gives_way.n())));
        }
        rows
    }

    /// What to watch.
    pub fn cautions(&self) -> Vec<String> {
        let pulled = self.under_load.iter().flat_map(|pulled| &pulled.cautions);
        pulled.map(ToString::to_string).collect()
    }

    /// As keys of the answer's object.
    pub fn as_json(&self) -> Map<String, Value> {
        let bends = self.bends.iter().map(|bend| {
            json!({
                "way": way_in_words(bend.way),
                "limp": bend.limp,
                "turn_per_cell_deg": bend.turn_deg,
                "inside_radius_mm": bend.inside_radius.mm(),
                "middle_radius_mm": bend.middle_radius.mm(),
                "searches": bend.starts,
                "searches_that_agree": bend.hits,
            })
        });
        let mut keys = Map::new();
        keys.insert(
            "last_ring".to_owned(),
            self.last_ring.as_ref().map_or(Value::Null, |last| {
                json!({
                    "fits": fits_in_words(last.fits),
                    "ends_apart_mm": last.ends_apart.mm(),
                    "needed_mm": last.needed.mm(),
                })
            }),
        );
        keys.insert("tightest_bends".to_owned(), bends.collect());
        keys.insert(
            "under_load".to_owned(),
            self.under_load.as_ref().map_or(Value::Null, |pulled| {
                json!({
                    "load_n": pulled.load.n(),
                    "stretch": pulled.stretch,
                    "takes_a_set_n": pulled.first_set.n(),
                    "gives_way_n": pulled.gives_way.n(),
                })
            }),
        );
        keys
    }
}

const fn fits_in_words(fits: Fits) -> &'static str {
    match fits {
        Fits::GoesIn => "goes in",
        Fits::Tight => "tight",
        Fits::DoesNot => "does not go in",
    }
}

const fn way_in_words(way: Way) -> &'static str {
    match way {
        Way::OverFace => "over its face",
        Way::Edgewise => "over its edge",
    }
}
