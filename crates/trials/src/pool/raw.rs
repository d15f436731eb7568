//! A prior from the raw trials of many workshops, shop by shop, so that memory holds one workshop's
//! trials per thread and every workshop's condensed numbers.

use super::condensed::{CondensedGate, pooled_term};
use super::population::Population;
use crate::fit::{Mode, ModeQuery, Setting, find_mode, in_parallel};
use crate::geometry::{Features, features};
use crate::learned::{Learned, column_priors, write_off_share};
use crate::model::{Bell, Design, Prior, TermPrior};
use crate::play::{GATES, Gate};
use crate::trial::TrialRow;

/// Workshops whose scatter and departure are searched for; their mean is taken for all.
const SEARCHED: usize = 24;
/// Times every workshop is condensed anew about what the population says of it.
const REFRESHES: usize = 3;

/// What the raw trials of many workshops make of geometry's prior.
///
/// `trials_of(i)` gives the trials of workshop `i` of `workshops`; it is called a few times for each
/// and may read them from a file. The time is linear in the trials.
pub fn pooled_from_trials(
    workshops: usize,
    trials_of: impl Fn(usize) -> Vec<TrialRow> + Sync,
) -> Prior {
    let mut prior = Prior::geometry();
    if workshops == 0 {
        return prior;
    }
    let step = workshops.div_ceil(SEARCHED).max(1);
    let searched: Vec<CondensedShop> = (0..workshops)
        .step_by(step)
        .map(|shop| Learned::fit(&trials_of(shop), &prior).condensed())
        .map(|condensed| GATES.map(|gate| condensed.gate(gate).clone()))
        .collect();
    let pooled = GATES.map(|gate| Population::before(gate, &of_gate(&searched, gate)));
    let settings = GATES.map(|gate| {
        let [scatter, departure] = pooled[gate.index()].settings();
        Setting { scatter, departure }
    });
    let shops: Vec<usize> = (0..workshops).collect();
    let mut condensed: Vec<CondensedShop> =
        in_parallel(&shops, |shop| condense(&trials_of(*shop), settings, &prior, None));
    for refresh in 0..=REFRESHES {
        let populations = GATES.map(|gate| {
            let of_gate = of_gate(&condensed, gate);
            let mut population = Population::before(gate, &of_gate);
            population.learn(&of_gate);
            population
        });
        if refresh == REFRESHES {
            for gate in GATES {
                prior.gates[gate.index()] = populations[gate.index()].portable();
            }
            break;
        }
        condensed = in_parallel(&shops, |shop| {
            let start = Some((&populations, &condensed[*shop]));
            condense(&trials_of(*shop), settings, &Prior::geometry(), start)
        });
    }
    prior
}

/// One workshop's condensed gates.
type CondensedShop = [CondensedGate; 3];

fn of_gate(shops: &[CondensedShop], gate: Gate) -> Vec<&CondensedGate> {
    shops.iter().map(|shop| &shop[gate.index()]).collect()
}

/// Condenses one workshop at known settings, about what the population says of it if that is known.
fn condense(
    rows: &[TrialRow],
    settings: [Setting; 3],
    geometry: &Prior,
    start: Option<(&[Population; 3], &CondensedShop)>,
) -> CondensedShop {
    let rows: Vec<(&TrialRow, Features)> =
        rows.iter().map(|row| (row, features(row.cell()))).collect();
    let design = Design::new(&rows, geometry);
    GATES.map(|gate| {
        let i = gate.index();
        let layout = &design.gates[i].layout;
        let mut priors: Vec<TermPrior> = column_priors(&design, geometry, gate);
        let mut mode = None;
        if let Some((populations, shops)) = start {
            for (prior, term) in priors.iter_mut().zip(layout.terms()) {
                *prior = populations[i].current(term).unwrap_or(*prior);
            }
            let weights = populations[i].weights_of(&shops[i]);
            let from = layout
                .terms()
                .iter()
                .zip(&priors)
                .map(|(term, prior)| weights.get(term).copied().unwrap_or(prior.mean()));
            mode =
                Some(Mode::starting(from.collect(), design.sites.sites_of_cell.len(), rows.len()));
        }
        let query = ModeQuery {
            sites: &design.sites,
            gate: &design.gates[i],
            prior: &priors,
            write_off_share: write_off_share(gate),
        };
        let Setting { scatter, departure } = settings[i];
        let found = find_mode(query, settings[i], mode.as_ref(), None);
        // The settings are common to all workshops: each bears them out as much as any other.
        let bells = [scatter, departure].map(|setting| Bell { mean: setting.ln(), sd: 0.0 });
        CondensedGate::of_mode(pooled_term, layout, &priors, &found, departure, bells)
    })
}
