//! One pattern, set in metal, wire and ring.

use std::collections::BTreeMap;
use std::sync::Arc;

use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use linkwright_answers::chain::figure::{Drawing, Ink, Scene, View as Eye};
use linkwright_answers::chain::{ChainAnswer, cautions};
use linkwright_answers::printout::both_lengths;
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::metal::Catalogue;
use linkwright_calc::quantity::{Length, parse_length};
use linkwright_linkage::pattern::{Kind, Pattern};
use linkwright_linkage::table;
use linkwright_store::View;
use linkwright_store::records::WireLot;

use super::answers::{Answered, answered, handling, made_ready};
use super::asked::{Asked, FIELDS, FURTHER, address};
use super::bar::Bar;
use super::list::capital;
use super::look::metal_class;
use super::measured::{PieceRow, Pieces, can_be_measured};
use super::numbers::{Number, handling_numbers, how_sure, numbers, verdict};
use super::picture::{rings_most, typical_aspect_ratio};
use super::question::{Question, pattern_named, read, size_typed};
use super::rods::{KerfInUse, RodRing, kerf_in_use, next_to, rings_off_rods};
use super::too_small::{WaysOut, asked_of, first_that_goes};
use crate::error::PageError;
use crate::form::Complaints;
use crate::frame::Frame;
use crate::pages::orders::sized;
use crate::patterns::{known_patterns, solver};
use crate::planning::metals_for_names;
use crate::state::App;

#[derive(Template)]
#[template(path = "pages/chain/show.html")]
struct Show {
    frame: Frame,
    title: String,
    name: String,
    is_sheet: bool,
    is_cluster: bool,
    asked: Asked,
    complaints: Complaints,
    metals: Vec<(String, String)>,
    tempers: Vec<String>,
    /// Size and name of each wire on the shelf.
    wires: Vec<(String, String)>,
    /// Names of the fields of further ring sizes.
    further: Vec<(&'static str, &'static str)>,
    kerf: String,
    wire_echo: String,
    answer: Option<Shown>,
    pieces: Vec<PieceRow>,
    can_be_measured: bool,
    measured: MeasuredForm,
}

/// What was typed of a measured piece.
#[derive(Clone, Debug, Default)]
pub(super) struct MeasuredForm {
    pub(super) rings: String,
    pub(super) length: String,
    pub(super) note: String,
}

/// What the page shows of an answer.
struct Shown {
    possible: bool,
    verdict: String,
    /// What would do where the rings do not go together.
    ways_out: Option<WaysOut>,
    how_sure: String,
    numbers: Vec<Number>,
    cautions: Vec<String>,
    still: Option<String>,
    is_aslant: bool,
    metal_class: &'static str,
    /// For the script: wire and inside diameters in millimetres, density.
    wire_mm: f64,
    inside_mm: f64,
    density_g_cm3: f64,
    /// Real over worked-out length, by measured pieces.
    ratio: f64,
    least_mm: f64,
    most_mm: f64,
    /// Whether the table knows these rings, so that a slider can move.
    slides: bool,
    bar: String,
    rods: Vec<RodRow>,
    /// Rods whose rings lie beyond the bar.
    rods_left_out: usize,
    rods_of: String,
    rows_address: String,
    scene_address: String,
    make_address: String,
    card_address: String,
    /// How the chain handles, once it was asked for; a sentence where that is not known.
    handling: Option<Result<Vec<Number>, String>>,
    handling_address: String,
}

/// A rod of the table under the bar.
struct RodRow {
    name: String,
    rod: String,
    closed: String,
    basis: String,
    ratio: String,
    verdict: String,
    class: &'static str,
    rings: String,
    next: &'static str,
    address: String,
}

/// What the page takes from the records whatever is asked.
pub(super) struct Shelf {
    /// Metal, temper and size of the first lot of wire.
    lot: Option<[String; 3]>,
    /// Size and name of each wire.
    wires: Vec<(String, String)>,
    /// Key and name of each metal.
    metals: Vec<(String, String)>,
    pub(super) kerf: Option<KerfInUse>,
}

impl Shelf {
    fn of(view: &View<'_>) -> Result<Arc<Shelf>, PageError> {
        view.worked_out("shelf of the chain page", || {
            let bench = view.bench(None)?;
            let lots = || bench.wire.iter().map(|shelf| &shelf.lot.record);
            let size = |lot: &WireLot| {
                lot.measured_diameter_typed.as_ref().unwrap_or(&lot.diameter_typed).clone()
            };
            let metals = metals_for_names(view)?;
            Ok(Shelf {
                lot: lots().next().map(|lot| [lot.metal.clone(), lot.temper.clone(), size(lot)]),
                wires: lots()
                    .map(|lot| (size(lot), format!("{}, {} {}", lot.name, lot.metal, lot.temper)))
                    .collect(),
                metals: metals
                    .metals()
                    .iter()
                    .map(|metal| (metal.key().to_string(), metal.trade_name().to_string()))
                    .collect(),
                kerf: kerf_in_use(&bench.blades),
            })
        })
    }
}

/// Everything asked, blanks filled in from the workshop.
pub(super) struct InFull {
    pub(super) asked: Asked,
    pub(super) metals: Arc<Catalogue>,
    pub(super) shelf: Arc<Shelf>,
    pub(super) pieces: Pieces,
    pub(super) question: Result<Question, Complaints>,
}

/// What is asked, with what was left blank taken from the shelf: the first lot of wire, and a ring of the
/// pattern's usual proportion that a rod gives.
pub(super) fn asked_in_full(
    view: &View<'_>,
    pattern: &Pattern,
    asked: &Asked,
) -> Result<InFull, PageError> {
    let (shelf, metals) = (Shelf::of(view)?, metals_for_names(view)?);
    let lot = shelf.lot.as_ref();
    let mut full = asked.clone();
    // By its key, whatever it was called.
    if let Ok(metal) = metals.find(asked.at("metal")) {
        full = full.with("metal", metal.key().as_str());
    }
    full = full.or("metal", lot.map_or("sterling", |lot| lot[0].as_str())).or("state", "closed");
    if full.at("temper").is_empty() {
        let on_shelf = lot.filter(|lot| lot[0] == full.at("metal")).map(|lot| lot[1].clone());
        let first = || {
            let metal = metals.find(full.at("metal")).ok()?;
            metal.tempers().first().map(|temper| temper.name().to_string())
        };
        if let Some(temper) = on_shelf.or_else(first) {
            full = full.or("temper", temper);
        }
    }
    if full.at("wire").is_empty() {
        full = full.or("wire", lot.map_or("1.0 mm", |lot| lot[2].as_str()));
    }
    if full.at("inside").is_empty()
        && let Ok(wire) = parse_length(full.at("wire"))
    {
        let least = known_patterns(view)?.aspect_ratio_min(pattern).unwrap_or(4.0);
        let mm = typical_aspect_ratio(least) * wire.value().mm();
        full = full.or("inside", format!("{mm:.2} mm"));
    }
    let pieces = Pieces::of(view, pattern)?;
    let own_kerf = shelf.kerf.as_ref().map(|used| used.kerf);
    let question = read(pattern, &full, &metals, own_kerf, (pieces.correction, solver(view)));
    Ok(InFull { asked: full, metals, shelf, pieces, question })
}

pub(super) async fn show(
    State(app): State<App>,
    Query(typed): Query<BTreeMap<String, String>>,
) -> Result<Response, PageError> {
    let asked = Asked::of(&typed);
    page(&app, asked, MeasuredForm::default(), Complaints::default()).await
}

/// The page, with what is wrong with a measured piece that was sent.
pub(super) async fn page(
    app: &App,
    asked: Asked,
    form: MeasuredForm,
    wrong: Complaints,
) -> Result<Response, PageError> {
    ready(app, &asked).await?;
    let at = app.clone();
    let page = app.read(move |view| Show::of(&at, view, &asked, form, wrong)).await?;
    let refused = !page.complaints.is_empty();
    let status = if refused { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    Ok((status, Html(page.render()?)).into_response())
}

/// Has what an address asks worked out before a page is made of it.
pub(super) async fn ready(app: &App, asked: &Asked) -> Result<(), PageError> {
    let with_handling = !asked.at("handling").is_empty();
    let asked = asked.clone();
    let question = app
        .read(move |view| {
            let pattern = pattern_named(view, asked.at("pattern"))?;
            Ok(asked_in_full(view, &pattern, &asked)?.question.ok())
        })
        .await?;
    match question {
        Some(question) => made_ready(question, with_handling).await,
        None => Ok(()),
    }
}

impl Show {
    fn of(
        app: &App,
        view: &View<'_>,
        asked: &Asked,
        measured: MeasuredForm,
        wrong: Complaints,
    ) -> Result<Show, PageError> {
        let pattern = pattern_named(view, asked.at("pattern"))?;
        let full = asked_in_full(view, &pattern, asked)?;
        let (answer, complaints) = match &full.question {
            Err(complaints) => (None, complaints.clone()),
            Ok(question) => match answered(question) {
                Ok(answered) => {
                    (Some(Shown::of(view, &pattern, &full, question, &answered)?), wrong)
                }
                Err(said) => {
                    let mut complaints = Complaints::default();
                    complaints.add("inside", said);
                    (None, complaints)
                }
            },
        };
        let tempers = full.metals.find(full.asked.at("metal")).map_or_else(
            |_| Vec::new(),
            |metal| metal.tempers().iter().map(|temper| temper.name().to_string()).collect(),
        );
        let wire_echo = parse_length(full.asked.at("wire"))
            .ok()
            .filter(|length| length.value().mm() > 0.0)
            .map_or_else(String::new, |length| in_both_systems(length.value()).to_string());
        Ok(Show {
            frame: Frame::of(app, view, "chain")?,
            title: capital(&pattern.spec().title),
            name: pattern.name().to_owned(),
            is_sheet: pattern.kind() == Kind::Sheet,
            is_cluster: pattern.kind() == Kind::Cluster,
            complaints,
            metals: full.shelf.metals.clone(),
            tempers,
            wires: full.shelf.wires.clone(),
            further: FURTHER
                .into_iter()
                .take(pattern.spec().sizes.len().saturating_sub(1))
                .collect(),
            kerf: full.shelf.kerf.as_ref().map_or_else(String::new, |used| {
                format!("{} if left blank ({})", both_lengths(used.kerf.width().mm()), used.from)
            }),
            wire_echo,
            asked: full.asked,
            answer,
            pieces: full.pieces.rows,
            can_be_measured: can_be_measured(&pattern),
            measured,
        })
    }

    fn about(&self, field: &str) -> &str {
        self.complaints.about(field)
    }

    /// What the form of a measured piece says again, so that it is kept with its rings.
    fn said(&self) -> Vec<(&'static str, &str)> {
        FIELDS
            .into_iter()
            .map(|field| (field, self.asked.at(field)))
            .filter(|(_, text)| !text.is_empty())
            .collect()
    }

    fn metal_key(&self) -> &str {
        self.asked.at("metal")
    }

    fn is_wrong(&self, field: &str) -> bool {
        !self.about(field).is_empty()
    }
}

impl Shown {
    fn of(
        view: &View<'_>,
        pattern: &Pattern,
        full: &InFull,
        question: &Question,
        answered: &Arc<Answered>,
    ) -> Result<Shown, PageError> {
        let answer = &answered.answer;
        let ring = answer.rings[0].ring;
        let (wire_mm, inside_mm) = (ring.wire().diameter().mm(), ring.closed_inside().mm());
        let least_mm = answer.linked.aspect_ratio_min * wire_mm;
        let entry = table::entry(pattern);
        let own_proportion = answer.rings.iter().skip(1).all(|used| used.by_proportion);
        let slides = own_proportion && entry.is_some_and(|entry| entry.rows.len() > 1);
        let last =
            entry.and_then(|entry| entry.rows.last()).map_or(f64::MAX, |row| row.aspect_ratio);
        let most_mm = wire_mm * last.min(1.6 * answer.linked.aspect_ratio_min + 1.0);
        let rods = match &full.shelf.kerf {
            None => Arc::default(),
            Some(kerf) => rings_off_rods(
                view,
                &question.metal,
                full.asked.at("temper"),
                question.wire,
                kerf.kerf,
            )?,
        };
        let bar = Bar { wire_mm, least_mm, most_mm, chosen_mm: inside_mm, rods: &rods.rings };
        let (still, is_aslant) = answered.still.get_or_init(|| still(pattern, answered)).clone();
        let rows = rod_rows(&rods.rings, &bar, &full.asked, answered);
        Ok(Shown {
            possible: answer.possible(),
            verdict: verdict(answer),
            ways_out: WaysOut::of(answer, &rods.rings, &full.asked),
            how_sure: how_sure(answer),
            numbers: numbers(answer),
            cautions: cautions(answer),
            still,
            is_aslant,
            metal_class: metal_class(&question.metal),
            wire_mm,
            inside_mm,
            density_g_cm3: answer.metal.as_ref().map_or(0.0, |metal| metal.density.g_cm3()),
            ratio: if question.correction.pieces > 0 { question.correction.ratio } else { 1.0 },
            least_mm,
            most_mm,
            slides,
            bar: bar.svg(),
            rods_left_out: rods.rings.len() - rows.len(),
            rods: rows,
            rods_of: rods.of.clone(),
            rows_address: address("/chain/rows", [("pattern", pattern.name())].into_iter()),
            scene_address: full.asked.address("/chain/scene"),
            make_address: make_address(pattern, &full.asked, answer),
            card_address: full.asked.address("/chain/card"),
            handling: (!full.asked.at("handling").is_empty())
                .then(|| handling(question, answered).map(|handling| handling_numbers(&handling))),
            handling_address: full.asked.clone().with("handling", "yes").address("/chain/pattern"),
        })
    }
}

/// The still picture, and whether it is seen aslant so that no ruler can be laid to it.
fn still(pattern: &Pattern, answered: &Answered) -> (Option<String>, bool) {
    let Some(drawn) = &answered.drawn else { return (None, false) };
    let wire_mm = drawn.wire.mm();
    let eye = Eye::of(&drawn.pose);
    let scene = Scene::piece(&drawn.pose, wire_mm, wire_mm, rings_most(pattern.kind()));
    let drawing = Drawing::of(&scene, eye, Ink::Shining);
    let title = format!(
        "{}: {} rings of {:.2} mm wire, to scale",
        capital(&pattern.spec().title),
        scene.tubes.len(),
        wire_mm
    );
    let is_aslant = !eye.shows_lengths(&drawn.pose);
    let picture =
        if is_aslant { drawing.svg(1.0, &title) } else { drawing.svg_with_ruler(1.0, &title) };
    (Some(picture), is_aslant)
}

/// The rods of the bar, and those next up and next down wherever they are.
fn rod_rows(rods: &[RodRing], bar: &Bar<'_>, asked: &Asked, answered: &Answered) -> Vec<RodRow> {
    let linked = &answered.answer.linked;
    let main = answered.answer.rings[0].ring;
    let wire_mm = main.wire().diameter().mm();
    let entry = table::entries().iter().find(|entry| entry.name == answered.answer.name);
    let per_cell: usize = linked.rings_per_cell.iter().sum();
    let own = answered.answer.rings.iter().skip(1).all(|used| used.by_proportion);
    let [above, below] = next_to(rods, main.closed_inside());
    let least_mm = linked.aspect_ratio_min * wire_mm;
    let first = if linked.possible() { None } else { first_that_goes(rods, least_mm, wire_mm) };
    let marked = [first, above, below];
    rods.iter()
        .enumerate()
        .filter(|(at, ring)| bar.shows(ring.closed.mm()) || marked.contains(&Some(*at)))
        .map(|(at, ring)| {
            let ratio = ring.closed.mm() / wire_mm;
            let spare = ratio - linked.aspect_ratio_min;
            let (verdict, class) = if spare < 0.0 {
                (format!("too small by {:.2} mm", -spare * wire_mm), "off")
            } else if spare < 0.1 {
                ("stiff".to_owned(), "warn")
            } else {
                ("goes".to_owned(), "good")
            };
            let read = entry.filter(|_| own).and_then(|entry| entry.at(ratio));
            let rings = read.map_or_else(String::new, |read| {
                let (along_mm, across_mm) = (read.advance * wire_mm, read.across * wire_mm);
                if across_mm > 0.0 {
                    format!("{:.2} per cm\u{b2}", per_cell as f64 * 100.0 / (along_mm * across_mm))
                } else {
                    format!("{:.2} per cm", per_cell as f64 * 10.0 / along_mm)
                }
            });
            RodRow {
                name: ring.name.clone(),
                rod: size_beside(&ring.name, ring.rod),
                closed: both_lengths(ring.closed.mm()),
                basis: ring.open.basis.word().to_owned(),
                ratio: format!("{ratio:.2}"),
                verdict,
                class,
                rings,
                next: match at {
                    at if Some(at) == first => "first that goes",
                    at if Some(at) == above => "next up",
                    at if Some(at) == below => "next down",
                    _ => "",
                },
                address: asked_of(asked, ring),
            }
        })
        .collect()
}

/// What stands after the name of a rod: its unit where the name is its size, or else its size.
fn size_beside(name: &str, rod: Length) -> String {
    let is_called_so = name.parse::<f64>().is_ok_and(|named| (named - rod.mm()).abs() < 0.005);
    if is_called_so { "mm".to_owned() } else { format!("{:.2} mm", rod.mm()) }
}

/// A rod by its name, with its size.
pub(super) fn called(name: &str, rod: Length) -> String {
    match size_beside(name, rod) {
        unit if unit == "mm" => format!("{name} mm"),
        size => format!("{name} ({size})"),
    }
}

/// The order form begun with this chain and all its ring sizes.
fn make_address(pattern: &Pattern, asked: &Asked, answer: &ChainAnswer) -> String {
    let kind = if pattern.kind() == Kind::Cluster { "kits" } else { "chain" };
    let mut pairs: Vec<(String, String)> =
        [("kind", kind), ("pattern", pattern.name())].map(owned).into();
    pairs.extend(["metal", "temper"].map(|field| owned((field, asked.at(field)))));
    let wires = std::iter::once("wire").chain(FURTHER.map(|(wire, _)| wire));
    let wires = wires.map(|field| asked.at(field)).chain(std::iter::repeat(""));
    for ((size, used), wire) in (1..).zip(&answer.rings).zip(wires) {
        // A further size left blank has the pattern's own proportion.
        let wire = match wire {
            "" => size_typed(used.ring.wire().diameter().mm()),
            typed => typed.to_owned(),
        };
        let inside = format!("{} inside closed", size_typed(used.ring.closed_inside().mm()));
        pairs.push((sized("wire", size), wire));
        pairs.push((sized("ring", size), inside));
        pairs.push((sized("tolerance", size), "0.05 mm".to_owned()));
    }
    let piece = ["length", "across", "clasp"].map(|field| (field, asked.at(field)));
    pairs.extend(piece.into_iter().filter(|(_, typed)| !typed.is_empty()).map(owned));
    address("/orders/new", pairs.iter().map(|(field, typed)| (field.as_str(), typed.as_str())))
}

fn owned((field, typed): (&str, &str)) -> (String, String) {
    (field.to_owned(), typed.to_owned())
}
