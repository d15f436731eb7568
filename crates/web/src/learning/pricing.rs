//! What coils cost and their rings bring, as far as the workshop's records say.

use std::collections::HashMap;

use linkwright_calc::metal::Catalogue;
use linkwright_calc::money::{Currency, Money, PricedMetal, parse_money, parse_price};
use linkwright_calc::quantity::{Density, Length, parse_share};
use linkwright_calc::wind::Mandrel;
use linkwright_calc::wire::Wire;
use linkwright_store::Bench;
use linkwright_store::records::Workshop;
use linkwright_trials::{CoilCost, CoilMoney};

/// Where nothing was said of money, a coil pays from this share of its turns on.
const PAYS_FROM: f64 = 0.5;

/// What coils cost and their rings bring.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pricing {
    said: Option<Said>,
}

/// What the workshop said of work and rings; amounts in minor units of one currency.
#[derive(Clone, Debug, PartialEq)]
struct Said {
    currency: Currency,
    /// One coil's work.
    per_coil: f64,
    /// What a good ring is worth beyond its metal.
    ring_worth: f64,
    /// Share of the metal's price that scrap brings.
    scrap_paid: f64,
    /// Price of a gram as weighed, by key of the metal.
    per_gram: HashMap<String, f64>,
    /// The sum in words.
    words: String,
}

impl Pricing {
    /// By the workshop's habits and the newest priced lot of each metal.
    pub(crate) fn of(bench: &Bench, metals: &Catalogue) -> Pricing {
        Pricing { said: bench.workshop.as_ref().and_then(|habits| Said::of(habits, bench, metals)) }
    }

    /// A coil of so many turns; without amounts in "rings": what a good ring is worth is 1.
    pub(crate) fn coil(
        &self,
        metal: &str,
        density: Density,
        (wire, rod): (Wire, Mandrel),
        turns: u32,
    ) -> CoilMoney {
        let Some(said) = &self.said else {
            let cost = CoilCost { per_coil: 0.0, per_turn: PAYS_FROM, scrap_per_turn: 0.0 };
            return CoilMoney { ring_value: 1.0, cost, turns };
        };
        let turn_mm = std::f64::consts::PI * (rod.diameter().mm() + wire.diameter().mm());
        let grams = wire.mass(Length::from_mm(turn_mm), density).g();
        let metal = said.per_gram.get(metal).map_or(0.0, |per_gram| per_gram * grams);
        let cost = CoilCost {
            per_coil: said.per_coil,
            per_turn: metal,
            scrap_per_turn: said.scrap_paid * metal,
        };
        CoilMoney { ring_value: metal + said.ring_worth, cost, turns }
    }

    /// An amount in words, such as "7.18 EUR"; nothing without amounts or for one beyond all
    /// bounds.
    pub(crate) fn amount(&self, minor: f64) -> Option<String> {
        self.with_places(minor, 0)
    }

    /// What one ring costs, such as "0.085 EUR": one place more than the coins have.
    pub(crate) fn amount_a_ring(&self, minor: f64) -> Option<String> {
        self.with_places(minor, 1)
    }

    fn with_places(&self, minor: f64, more: usize) -> Option<String> {
        let currency = self.said.as_ref()?.currency;
        let per_major = f64::from(currency.minor_per_major());
        let places = usize::from(currency.decimals()) + more;
        minor.is_finite().then(|| format!("{:.places$} {currency}", minor / per_major))
    }

    /// Whether amounts are known.
    pub(crate) fn is_said(&self) -> bool {
        self.said.is_some()
    }

    /// What decisions by money rest on, for one metal.
    pub(crate) fn basis(&self, metal: &str) -> String {
        match &self.said {
            None => {
                "Assumed: a coil pays from half its turns on, since nobody said what work costs \
                     and a ring is worth."
                    .to_owned()
            }
            Some(said) if said.per_gram.contains_key(metal) => {
                format!("{}; the metal at the price of the newest lot.", said.words)
            }
            Some(said) => format!(
                "{}; no lot of this metal has a price in {}, so the metal is left out.",
                said.words, said.currency
            ),
        }
    }
}

impl Said {
    fn of(habits: &Workshop, bench: &Bench, metals: &Catalogue) -> Option<Said> {
        let money = |typed: &Option<String>| -> Option<Money> {
            Some(parse_money(typed.as_deref()?).ok()?.value())
        };
        let (hour, ring) = (money(&habits.hour_cost_typed)?, money(&habits.ring_worth_typed)?);
        let currency = hour.currency();
        if ring.currency() != currency {
            return None;
        }
        let scrap = habits.scrap_paid_typed.as_deref().unwrap_or("0 %");
        let scrap_paid = parse_share(scrap).map_or(0.0, |share| share.value());
        Some(Said {
            currency,
            per_coil: minor(hour) * habits.per_coil_minutes / 60.0,
            ring_worth: minor(ring),
            scrap_paid,
            per_gram: per_gram(bench, metals, currency),
            words: format!(
                "Worked out from {} an hour, {} min a coil, {} a good ring beyond its metal, scrap \
                 at {scrap} of the metal's price",
                habits.hour_cost_typed.as_deref().unwrap_or_default(),
                habits.per_coil_minutes,
                habits.ring_worth_typed.as_deref().unwrap_or_default(),
            ),
        })
    }
}

fn minor(money: Money) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "amounts of a workshop are far below 2^53")]
    let minor = money.minor() as f64;
    minor
}

/// What a gram costs by the newest lot of each metal that has a price in this currency.
fn per_gram(bench: &Bench, metals: &Catalogue, currency: Currency) -> HashMap<String, f64> {
    let mut found = HashMap::new();
    for lot in bench.wire.iter().map(|shelf| &shelf.lot.record) {
        let Some(price) = lot.price_typed.as_deref().and_then(|typed| parse_price(typed).ok())
        else {
            continue;
        };
        let (price, Ok(metal)) = (price.value(), metals.find(&lot.metal)) else { continue };
        let share = match price.metal() {
            PricedMetal::AsWeighed => Some(1.0),
            PricedMetal::Fine => metal.fine_share(),
        };
        if let Some(share) = share.filter(|_| price.currency() == currency) {
            found.insert(metal.key().to_string(), price.minor_per_gram() * share);
        }
    }
    found
}
