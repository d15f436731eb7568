//! A whole order: which line first, with which blade, and which reel each coil is cut from.

use crate::metal::Catalogue;
use crate::quantity::{Length, Mass};

use super::cutting_up::{CutList, Pieces, Reel, cut_up};
use super::line::plan_line;
use super::set_ups::{Sequence, SetUp, Way, sequence};
use super::stock::matching;
use super::{LineRefused, Order, OrderLine, PlanError, RunSheet, Trials, Workshop};

/// A blade that is not a line's best may spare a change if it takes no more coils and at most this
/// much more wire.
const MORE_WIRE_ALLOWED: f64 = 1.02;
/// What each step down the ranking of blades costs, in changes: less than one change of a blade.
const RANK_PENALTY: f64 = 0.1;
/// Rods and wires within this of each other are the same.
const SAME_MM: f64 = 0.005;

/// A planned order.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Name of the order.
    pub order: String,
    /// Name of the workshop.
    pub workshop: String,
    /// Run sheets in the order of work.
    pub sheets: Vec<RunSheet>,
    /// Mandrels, blades and wires to put on in all, the first of each included.
    pub changes: u32,
    /// Wire for all lines, by kind.
    pub wires: Vec<WireToCut>,
    /// Working time of all lines in minutes; a line that changes nothing has no set-up.
    pub minutes: f64,
}

/// One kind of wire: which reel each piece is cut from, and what has to be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct WireToCut {
    /// Trade name of the metal.
    pub metal: String,
    /// Temper.
    pub temper: String,
    /// Diameter.
    pub diameter: Length,
    /// Reels in stock, by name; in the order of the cut list.
    pub reels: Vec<String>,
    /// Pieces, each kind with the place of its sheet in [`Plan::sheets`].
    pub pieces: Vec<(usize, Pieces)>,
    /// Where each piece comes from.
    pub cuts: CutList,
    /// Wire to buy.
    pub to_buy: Length,
    /// Its mass.
    pub to_buy_mass: Mass,
}

/// Plans an order: each line by [`plan_line`], then lines and blades in the sequence with the
/// fewest changes, then the reels cut so that little is bought and little is left over.
///
/// # Units
/// As in the types.
/// # Validity
/// Alloys are never mixed: a reel is cut only for lines of its own metal, temper and size.
/// # Errors
/// [`LineRefused`] naming the first line that cannot be planned.
/// # Source
/// [`sequence`](super::sequence()), [`cut_up`]; the choices are the project's own.
pub fn plan(order: &Order, workshop: &Workshop, metals: &Catalogue) -> Result<Plan, LineRefused> {
    plan_with(order, workshop, metals, None)
}

/// The same with what cutting trials taught, where there is any: losses, coils and odds are theirs.
///
/// # Units
/// As in the types.
/// # Validity
/// As [`plan`]; where the trials have no answer for a blade, its losses are the workshop's own.
/// # Errors
/// As [`plan`].
/// # Source
/// As [`plan`]; [`Trials`].
pub fn plan_with(
    order: &Order,
    workshop: &Workshop,
    metals: &Catalogue,
    trials: Option<&dyn Trials>,
) -> Result<Plan, LineRefused> {
    let refused = |line: &OrderLine, problem| LineRefused { line: line.name.clone(), problem };
    let mut by_line: Vec<Vec<RunSheet>> = Vec::with_capacity(order.lines.len());
    for line in &order.lines {
        let mut sheets =
            plan_line(line, workshop, metals, trials).map_err(|problem| refused(line, problem))?;
        let best = (sheets[0].coils.coil_count(), sheets[0].metal_use.wire_length.mm());
        sheets.retain(|sheet| {
            sheet.coils.coil_count() <= best.0
                && sheet.metal_use.wire_length.mm() <= best.1 * MORE_WIRE_ALLOWED
        });
        by_line.push(sheets);
    }
    let ways = ways(&by_line);
    let sequence = sequence(&ways);
    let sheets: Vec<RunSheet> =
        sequence.steps.iter().map(|&(line, way)| by_line[line][way].clone()).collect();
    let minutes = minutes(&sheets, &ways, &sequence, workshop);
    let wires = wires(&sheets, workshop, metals)
        .map_err(|(sheet, problem)| refused(&sheets[sheet].line, problem))?;
    Ok(Plan {
        order: order.name.clone(),
        workshop: workshop.name.clone(),
        sheets,
        changes: sequence.changes,
        wires,
        minutes,
    })
}

/// Numbers rods and wires that are the same alike, so that changes can be counted.
fn ways(by_line: &[Vec<RunSheet>]) -> Vec<Vec<Way>> {
    let mut rods_mm: Vec<f64> = Vec::new();
    let mut kinds: Vec<Kind> = Vec::new();
    let mut line_ways = Vec::with_capacity(by_line.len());
    for sheets in by_line {
        let mut ways = Vec::with_capacity(sheets.len());
        for (rank, sheet) in (0_u32..).zip(sheets) {
            let rod_mm = sheet.rod.mandrel.diameter().mm();
            let set_up = SetUp {
                mandrel: number_of(&mut rods_mm, rod_mm, |a, b| (a - b).abs() < SAME_MM),
                blade: sheet.blade().number,
                wire: number_of(&mut kinds, Kind::of(sheet), Kind::same),
            };
            ways.push(Way { set_up, penalty: RANK_PENALTY * f64::from(rank) });
        }
        line_ways.push(ways);
    }
    line_ways
}

/// The place of an item in a list, put there if it is new.
fn number_of<T>(list: &mut Vec<T>, item: T, same: impl Fn(&T, &T) -> bool) -> usize {
    list.iter().position(|known| same(known, &item)).unwrap_or_else(|| {
        list.push(item);
        list.len() - 1
    })
}

/// A kind of wire.
struct Kind {
    metal: String,
    temper: String,
    d_mm: f64,
}

impl Kind {
    fn of(sheet: &RunSheet) -> Kind {
        Kind {
            metal: sheet.metal.key.clone(),
            temper: sheet.metal.temper.clone(),
            d_mm: sheet.wire.value.diameter().mm(),
        }
    }

    fn same(&self, other: &Kind) -> bool {
        self.metal == other.metal
            && self.temper == other.temper
            && (self.d_mm - other.d_mm).abs() < SAME_MM
    }
}

/// A line that follows one with the same rod, blade and wire needs no set-up of its own.
fn minutes(
    sheets: &[RunSheet],
    ways: &[Vec<Way>],
    sequence: &Sequence,
    workshop: &Workshop,
) -> f64 {
    let mut before: Option<SetUp> = None;
    let mut minutes = 0.0;
    for (sheet, &(line, way)) in sheets.iter().zip(&sequence.steps) {
        let set_up = ways[line][way].set_up;
        minutes += sheet.minutes;
        if before == Some(set_up) {
            minutes -= workshop.minutes.set_up;
        }
        before = Some(set_up);
    }
    minutes
}

fn wires(
    sheets: &[RunSheet],
    workshop: &Workshop,
    metals: &Catalogue,
) -> Result<Vec<WireToCut>, (usize, PlanError)> {
    let mut kinds: Vec<(Kind, Vec<usize>)> = Vec::new();
    for (at, sheet) in sheets.iter().enumerate() {
        let kind = Kind::of(sheet);
        match kinds.iter_mut().find(|(known, _)| known.same(&kind)) {
            Some((_, of_kind)) => of_kind.push(at),
            None => kinds.push((kind, vec![at])),
        }
    }
    kinds
        .into_iter()
        .map(|(_, of_kind)| {
            wire_to_cut(&of_kind, sheets, workshop, metals).map_err(|error| (of_kind[0], error))
        })
        .collect()
}

fn wire_to_cut(
    of_kind: &[usize],
    sheets: &[RunSheet],
    workshop: &Workshop,
    metals: &Catalogue,
) -> Result<WireToCut, PlanError> {
    let first = &sheets[of_kind[0]];
    let metal = metals.find(&first.metal.key)?;
    let temper = metal.temper_for_wire(&first.metal.temper, first.wire.value)?.value;
    let stock: Vec<_> = matching(workshop, metal, temper, first.wire.value).collect();
    let reels: Vec<Reel> =
        stock.iter().map(|lot| Reel { length: lot.lot.length_on_hand().value }).collect();
    let pieces: Vec<(usize, Pieces)> = of_kind
        .iter()
        .flat_map(|&at| {
            let groups = sheets[at].coils.groups.iter();
            groups.map(move |group| (at, Pieces { length: group.wire, count: group.coils }))
        })
        .collect();
    let only_pieces: Vec<Pieces> = pieces.iter().map(|(_, pieces)| *pieces).collect();
    let cuts = cut_up(&reels, &only_pieces)?;
    let to_buy = cuts.length_to_buy(&only_pieces);
    Ok(WireToCut {
        metal: first.metal.name.clone(),
        temper: first.metal.temper.clone(),
        diameter: first.wire.value.diameter(),
        reels: stock.iter().map(|lot| lot.name.clone()).collect(),
        pieces,
        cuts,
        to_buy,
        to_buy_mass: first.wire.value.mass(to_buy, first.metal.density.value),
    })
}
