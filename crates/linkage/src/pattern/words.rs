//! How the order of linking names rings that are already there.

use super::cell::Image;
use super::spec::Kind;

/// "a", "a and b", "a, b and c".
pub(super) fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The ring `back` places before the new one, in a chain with one ring a cell.
pub(super) fn ring_back(back: i32) -> String {
    match back {
        1 => "the last ring".to_owned(),
        2 => "the last ring but one".to_owned(),
        _ => format!("the ring {back} places back"),
    }
}

/// Rings by the cell they are in (how many cells and rows back) and their number on the card; rings of
/// one cell stand together. `name_this` says "of this repeat" of those in the new ring's own cell.
pub(super) fn rings_told(kind: Kind, rings: &[(Image, usize)], name_this: bool) -> String {
    let mut cells: Vec<(Image, Vec<usize>)> = Vec::new();
    for &(back, number) in rings {
        match cells.iter_mut().find(|(cell, _)| *cell == back) {
            Some((_, numbers)) => numbers.push(number),
            None => cells.push((back, vec![number])),
        }
    }
    let mut rows: Vec<(i32, Vec<String>)> = Vec::new();
    for (back, mut numbers) in cells {
        numbers.sort_unstable();
        let told = told_in_row(kind, back, &numbers, name_this);
        match rows.iter_mut().find(|(row, _)| *row == back[1]) {
            Some((_, parts)) => parts.push(told),
            None => rows.push((back[1], vec![told])),
        }
    }
    let told = rows.into_iter().map(|(row, parts)| match row {
        0 => listed(&parts),
        1 => format!("{} in the row before", listed(&parts)),
        _ => format!("{} {row} rows back", listed(&parts)),
    });
    listed(&told.collect::<Vec<_>>())
}

fn told_in_row(kind: Kind, back: Image, numbers: &[usize], name_this: bool) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    let word = if numbers.len() == 1 { "ring" } else { "rings" };
    let rings = format!("{word} {}", listed(&numbers));
    match back {
        [0, 0] if name_this && kind != Kind::Cluster => format!("{rings} of this repeat"),
        [0, 0] => rings,
        [1, 0] => format!("{rings} of the repeat before"),
        [along, 0] => format!("{rings} of the repeat {along} back"),
        [0, _] => format!("{rings} straight back"),
        [1, _] => format!("{rings} one to the left"),
        [-1, _] => format!("{rings} one to the right"),
        [along, _] if along > 0 => format!("{rings} {along} to the left"),
        [along, _] => format!("{rings} {} to the right", along.unsigned_abs()),
    }
}
