//! Workshop: what there is and what every coil costs; rods, blades, holders, wire, own metals.

mod kept;

mod form_page;

mod routes;

mod habits;

mod rods;

mod blades;

mod wear;

pub(crate) mod holders;

mod lots;

mod metals;

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::Html;
use axum::routing::get;
use linkwright_store::records::{Blade, Holder, MetalOverlay, Rod, WireLot, Workshop};
use linkwright_store::{Id, Saved, View};

use kept::Kept;
use wear::{UsualLife, Wear};

use crate::error::PageError;
use crate::frame::Frame;
use crate::planning::stocks;
use crate::state::App;

pub(crate) use wear::lives_used;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/workshop", get(index))
        .merge(habits::routes())
        .merge(routes::of::<WireLot>())
        .merge(routes::of::<Rod>())
        .merge(routes::of::<Blade>())
        .merge(routes::of::<Holder>())
        .merge(routes::of::<MetalOverlay>())
}

/// One kind of thing, as the index shows it.
struct Card {
    path: &'static str,
    many: &'static str,
    one: &'static str,
    in_use: usize,
    away: usize,
    /// What wants doing.
    wants: Vec<String>,
}

impl Card {
    fn of<T: Kept>(
        view: &View<'_>,
        wants: impl Fn(&Saved<T>) -> Result<Option<String>, PageError>,
    ) -> Result<Card, PageError> {
        let all = view.all::<T>()?;
        let away = all.iter().filter(|one| one.record.put_away().is_some()).count();
        let mut wanted = Vec::new();
        for one in all.iter().filter(|one| one.record.put_away().is_none()) {
            wanted.extend(wants(one)?);
        }
        Ok(Card {
            path: T::PATH,
            many: T::MANY,
            one: T::NAME,
            in_use: all.len() - away,
            away,
            wants: wanted,
        })
    }
}

#[derive(Template)]
#[template(path = "pages/workshop/index.html")]
struct Index {
    frame: Frame,
    name: String,
    habits: Vec<(&'static str, String)>,
    cards: Vec<Card>,
}

async fn index(State(app): State<App>) -> Result<Html<String>, PageError> {
    let at = app.clone();
    let page = app
        .read(move |view| {
            let workshop = view.get(Id::<Workshop>::new(1))?;
            let usual = UsualLife::of(view)?;
            let stock = stocks(view)?;
            let mut holders = Card::of(view, |_: &Saved<Holder>| Ok(None))?;
            if view.holder_in_use()?.is_none() {
                holders.wants.push("no holder is in use: plans need one".to_owned());
            }
            let cards = vec![
                Card::of(view, |lot: &Saved<WireLot>| {
                    let name = &lot.record.name;
                    let low = lots::running_low(lot, &stock, view)?;
                    let unmeasured = lot.record.measured_diameter_mm.is_none();
                    Ok(low
                        .map(|low| format!("{name} is running low: {low}"))
                        .or_else(|| unmeasured.then(|| format!("{name} was never measured"))))
                })?,
                Card::of(view, |Saved { record, .. }: &Saved<Rod>| {
                    let unmeasured = record.measured_mm.is_none();
                    Ok(unmeasured.then(|| format!("{} was never measured", record.name)))
                })?,
                Card::of(view, |blade: &Saved<Blade>| {
                    let wear = Wear::of(blade, view)?;
                    let past = usual.and_then(|usual| usual.far_past(&wear));
                    Ok(past.map(|past| format!("{} is {past}", blade.record.name)))
                })?,
                holders,
                Card::of(view, |_: &Saved<MetalOverlay>| Ok(None))?,
            ];
            Ok(Index {
                frame: Frame::of(&at, view, "workshop")?,
                name: workshop.name.clone(),
                habits: habits::in_words(&workshop, view)?,
                cards,
            })
        })
        .await?;
    Ok(Html(page.render()?))
}
