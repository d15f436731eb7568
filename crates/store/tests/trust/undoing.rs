//! Taking actions back one by one, and what stays in sight of what is gone.

use linkwright_store::records::{Blade, FurtherRing, Holder, OrderLine, RingOrder, Rod};
use linkwright_store::{Act, ChangeKind, Conflict, Id, Store, StoreError};

use crate::bench::{Bench, add_rod, now, rod, rod_names};

fn order(name: &str) -> RingOrder {
    RingOrder {
        name: name.to_owned(),
        asked_on: "2026-11-20".to_owned(),
        due_on: None,
        buyer: "an invented buyer".to_owned(),
        note: String::new(),
        closed_on: None,
    }
}

fn line(order_id: Id<RingOrder>, position: u32) -> OrderLine {
    OrderLine {
        rings: Some(100),
        metal: "copper".to_owned(),
        temper: "soft".to_owned(),
        wire_typed: "18 awg".to_owned(),
        wire_mm: 1.024,
        ring_typed: Some("4 mm inside, open".to_owned()),
        ..OrderLine::begun(order_id, position, format!("line {position}"))
    }
}

/// An order with two lines, added in one action.
fn add_order(store: &Store) -> Id<RingOrder> {
    let with_lines = |act: &Act<'_>| {
        let id = act.add(&order("Necklace"))?;
        act.add(&line(id, 1))?;
        act.add(&line(id, 2))?;
        Ok::<_, StoreError>(id)
    };
    store.act(now(), "Added order Necklace", with_lines).expect("saved")
}

fn lines(store: &Store) -> Vec<OrderLine> {
    let lines = store.read(|view| view.all::<OrderLine>()).expect("read");
    lines.into_iter().map(|line| line.record).collect()
}

fn orders(store: &Store) -> u64 {
    store.read(|view| view.count::<RingOrder>()).expect("read")
}

fn removed_rods(store: &Store) -> Vec<String> {
    let removed = store.read(|view| view.removed::<Rod>()).expect("read");
    let name = |former: Option<serde_json::Map<String, serde_json::Value>>| {
        former.expect("kept")["name"].as_str().expect("text").to_owned()
    };
    removed.into_iter().map(|(_, value)| name(value.former)).collect()
}

#[test]
fn an_order_is_taken_back_with_its_lines() {
    let bench = Bench::new();
    let store = bench.open();
    add_order(&store);
    assert_eq!((orders(&store), lines(&store).len()), (1, 2));
    assert_eq!(store.undo_last(now()).expect("undone"), "Added order Necklace");
    assert_eq!((orders(&store), lines(&store).len()), (0, 0));
}

#[test]
fn a_removed_order_comes_back_with_its_lines_as_they_were() {
    let bench = Bench::new();
    let store = bench.open();
    let id = add_order(&store);
    let before = lines(&store);
    let remove = |act: &Act<'_>| {
        for line in act.all::<OrderLine>()? {
            act.remove(line.id)?;
        }
        act.remove(id)
    };
    store.act(now(), "Removed order Necklace", remove).expect("removed");
    assert_eq!((orders(&store), lines(&store).len()), (0, 0));
    store.undo_last(now()).expect("undone");
    assert_eq!(lines(&store), before);
    assert_eq!(store.read(|view| view.get(id)).expect("back"), order("Necklace"));
}

fn small_ring(order_line_id: Id<OrderLine>, size: u32, rod: &str) -> FurtherRing {
    FurtherRing {
        order_line_id,
        size,
        wire_typed: "0.8 mm".to_owned(),
        wire_mm: Some(0.8),
        ring_typed: None,
        tolerance_typed: None,
        rod_typed: Some(rod.to_owned()),
    }
}

#[test]
fn further_ring_sizes_of_a_line_are_changed_and_taken_back_with_it() {
    let bench = Bench::new();
    let store = bench.open();
    let order = add_order(&store);
    let in_full = || store.read(|view| view.lines_in_full(order)).expect("read").remove(0);
    let line = in_full().id;
    let keep = |what: &str, rings: &[FurtherRing]| {
        store.act(now(), what, |act| act.keep_further(line, rings)).expect("saved");
    };
    let (two, three) = (small_ring(line, 2, "3 mm"), small_ring(line, 3, "2 mm"));
    keep("Asked for three sizes", &[two.clone(), three.clone()]);
    let number = store.read(|view| view.further_of::<FurtherRing>(line)).expect("read")[0].id;
    let thinner = small_ring(line, 2, "2.5 mm");
    keep("Asked for two sizes", std::slice::from_ref(&thinner));
    assert_eq!(in_full().further, [thinner]);
    let history = store.read(|view| view.former_values(number)).expect("read");
    let kinds: Vec<ChangeKind> = history.iter().map(|value| value.kind).collect();
    assert_eq!(kinds, [ChangeKind::Changed, ChangeKind::Added], "the size keeps its history");
    store.undo_last(now()).expect("undone");
    assert_eq!(in_full().further, [two, three]);
    let whole = in_full();
    store.act(now(), "Removed the line", |act| act.remove_line(line)).expect("removed");
    assert_eq!(store.read(|view| view.count::<FurtherRing>()).expect("read"), 0);
    store.undo_last(now()).expect("undone");
    assert_eq!(in_full(), whole);
    keep("Asked for the same again", &whole.further);
    let last = store.read(|view| view.undoable()).expect("read").expect("an action");
    assert_eq!(last.what, "Asked for three sizes", "what is the same is not written down");
}

#[test]
fn lines_that_changed_places_change_back() {
    let bench = Bench::new();
    let store = bench.open();
    let id = add_order(&store);
    let before = lines(&store);
    let swap = |act: &Act<'_>| {
        let both = act.all::<OrderLine>()?;
        for (at, place) in [(0, 3), (1, 1), (0, 2)] {
            let line = OrderLine { position: place, ..line(id, 1) };
            act.change(both[at].id, &OrderLine { name: both[at].record.name.clone(), ..line })?;
        }
        Ok::<_, StoreError>(())
    };
    store.act(now(), "Moved line 2 up", swap).expect("saved");
    assert_eq!(lines(&store).iter().map(|line| line.position).collect::<Vec<_>>(), [2, 1]);
    store.undo_last(now()).expect("undone");
    assert_eq!(lines(&store), before);
}

#[test]
fn undo_goes_back_one_action_after_the_other_and_what_is_new_comes_first() {
    let bench = Bench::new();
    let store = bench.open();
    let id = add_rod(&store, "4.0");
    store.act(now(), "Changed it", |act| act.change(id, &rod("4.1"))).expect("saved");
    store.act(now(), "Changed it again", |act| act.change(id, &rod("4.2"))).expect("saved");
    assert_eq!(store.undo_last(now()).expect("undone"), "Changed it again");
    assert_eq!(rod_names(&store), ["4.1"]);
    add_rod(&store, "5.0");
    assert_eq!(store.undo_last(now()).expect("undone"), "Added rod 5.0");
    assert_eq!(store.undo_last(now()).expect("undone"), "Changed it");
    assert_eq!(rod_names(&store), ["4.0"]);
    assert_eq!(store.undo_last(now()).expect("undone"), "Added rod 4.0");
    let nothing = store.undo_last(now()).expect_err("nothing is left");
    assert!(matches!(nothing, StoreError::Conflict(Conflict::NothingToUndo)), "{nothing}");
}

#[test]
fn what_others_use_is_not_removed_and_nothing_of_that_action_is_saved() {
    let bench = Bench::new();
    let store = bench.open();
    let blade = store.act(now(), "Added blade", |act| act.add(&blade())).expect("saved");
    store.act(now(), "Added holder", |act| act.add(&holder_with(blade))).expect("saved");
    let remove = |act: &Act<'_>| {
        act.add(&rod("4.0"))?;
        act.remove(blade)
    };
    let error = store.act(now(), "Removed blade", remove).expect_err("refused");
    assert!(matches!(error, StoreError::Conflict(Conflict::Used)), "{error}");
    assert!(rod_names(&store).is_empty());
    let last = store.read(|view| view.last_actions(1)).expect("read");
    assert_eq!(last[0].what, "Added holder", "a refused action is not listed");
}

fn blade() -> Blade {
    Blade {
        name: "fine".to_owned(),
        diameter_typed: "25 mm".to_owned(),
        diameter_mm: 25.0,
        kerf_typed: "0.3 mm".to_owned(),
        kerf_mm: 0.3,
        teeth: Some(110),
        hub_typed: None,
        hub_mm: None,
        fitted_on: None,
        rings_before: 0,
        cut_before_mm2: 0.0,
        retired_on: None,
        retired_why: String::new(),
        note: String::new(),
    }
}

fn holder_with(blade: Id<Blade>) -> Holder {
    Holder {
        name: "brass".to_owned(),
        length_typed: "60 mm".to_owned(),
        head_start_typed: None,
        stop_setback_typed: None,
        squash_typed: "0.1 mm".to_owned(),
        margin_typed: "0.3 mm".to_owned(),
        projection_blade_id: Some(blade),
        projection_typed: Some("2 mm".to_owned()),
        in_use: true,
        note: String::new(),
    }
}

#[test]
fn a_form_sent_twice_is_done_once() {
    let bench = Bench::new();
    let store = bench.open();
    let send = |name: &str| {
        store.act_once(now(), "Added a rod", "token-1", |act| act.add(&rod(name))).expect("sent")
    };
    assert!(send("4.0").is_some());
    assert!(send("4.0").is_none());
    assert_eq!(rod_names(&store), ["4.0"]);
    store.undo_last(now()).expect("undone");
    assert!(send("4.0").is_none(), "sent once more after it was undone, it stays undone");
    assert!(rod_names(&store).is_empty());
}

#[test]
fn a_removed_record_stays_in_sight_until_it_is_back() {
    let bench = Bench::new();
    let store = bench.open();
    let (four, five) = (add_rod(&store, "4.0"), add_rod(&store, "5.0"));
    store.act(now(), "Removed rod 4.0", |act| act.remove(four)).expect("removed");
    store.act(now(), "Removed rod 5.0", |act| act.remove(five)).expect("removed");
    assert_eq!(removed_rods(&store), ["5.0", "4.0"]);
    let history = store.read(|view| view.former_values(five)).expect("read");
    assert_eq!(history[0].kind, ChangeKind::Removed);
    store.undo_last(now()).expect("undone");
    assert_eq!(removed_rods(&store), ["4.0"]);
}

#[test]
fn what_was_added_by_mistake_and_undone_is_not_listed_as_removed() {
    let bench = Bench::new();
    let store = bench.open();
    add_rod(&store, "4.0");
    store.undo_last(now()).expect("undone");
    assert!(removed_rods(&store).is_empty());
}

#[test]
fn the_number_of_a_removed_record_is_not_given_to_another() {
    let bench = Bench::new();
    let store = bench.open();
    let four = add_rod(&store, "4.0");
    store.act(now(), "Removed rod 4.0", |act| act.remove(four)).expect("removed");
    let five = add_rod(&store, "5.0");
    assert_ne!(five, four);
    assert_eq!(store.read(|view| view.former_values(five)).expect("read").len(), 1);
}

#[test]
fn the_list_of_actions_turns_page_by_page() {
    let bench = Bench::with_rods(5);
    let store = bench.open();
    let page = |before| store.read(|view| view.actions(before, 2)).expect("read");
    let mut seen = Vec::new();
    let mut before = None;
    loop {
        let actions = page(before);
        let Some(last) = actions.last() else { break };
        before = Some(last.number);
        seen.extend(actions.into_iter().map(|action| action.what));
    }
    let newest_first: Vec<String> = (1..=5).rev().map(|at| format!("Added rod r{at}")).collect();
    assert_eq!(seen, newest_first);
}
