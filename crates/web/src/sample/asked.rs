//! What was asked for in the sample's year.

/// What a line asks for.
#[derive(Clone, Copy)]
pub(super) enum What {
    Rings(u32),
    /// Length over all and clasp set.
    Chain(&'static str, &'static str),
    /// Pattern of two ring sizes, length over all, clasp set and rod of the second size.
    Linked(&'static str, &'static str, &'static str, &'static str),
    /// Kits, rings in each, spare in each.
    Kits(u32, u32, u32),
}

/// The ring that is wanted.
#[derive(Clone, Copy)]
pub(super) enum Wanted {
    /// Whatever comes off this rod.
    Off(&'static str),
    /// A size and how far it may be off.
    Size(&'static str, &'static str),
}

/// One line: what it is called, what it asks for, of which lot, which ring.
pub(super) type Line = (&'static str, What, &'static str, Wanted);

/// One order: its day, name, buyer's code and lines.
pub(super) type Asked = (i64, &'static str, &'static str, &'static [Line]);

use Wanted::{Off, Size};
use What::{Chain, Kits, Linked, Rings};

/// The orders of the year in the order they came.
pub(super) const ORDERS: &[Asked] = &[
    (6, "winter class", "", &[("copper kits", Kits(10, 96, 6), "copper, class", Off("5.0 mm"))]),
    (
        11,
        "Ferry Lane 14",
        "K3",
        &[("necklace", Chain("450 mm", "12 mm"), "silver reel 7", Off("4.0 mm"))],
    ),
    (
        19,
        "stock, thin copper",
        "",
        &[("practice rings", Rings(600), "copper, thin", Off("3.5 mm"))],
    ),
    (
        27,
        "Mill Row 2",
        "K5",
        &[("bracelet", Chain("190 mm", "10 mm"), "silver reel 7", Off("4.0 mm"))],
    ),
    (34, "brass set", "K8", &[("rings", Rings(240), "brass 20", Off("4.0 mm"))]),
    (
        43,
        "earrings for the fair",
        "",
        &[("small rings", Rings(320), "silver reel 8", Off("3.0 mm"))],
    ),
    (52, "nickel silver belt", "K2", &[("belt rings", Rings(400), "nickel silver", Off("6.0 mm"))]),
    (66, "bronze cuff", "K9", &[("cuff rings", Rings(180), "bronze 14", Off("8.0 mm"))]),
    (
        73,
        "spring class",
        "",
        &[
            ("copper kits", Kits(13, 96, 6), "copper, class", Off("5.0 mm")),
            ("thin kits", Kits(13, 40, 4), "copper, thin", Off("3.5 mm")),
        ],
    ),
    (84, "Quay 7", "K3", &[("necklace", Chain("420 mm", "12 mm"), "silver reel 8", Off("3.0 mm"))]),
    (
        91,
        "gold filled fine",
        "K11",
        &[("necklace", Chain("450 mm", "10 mm"), "gold filled 3", Off("3.0 mm"))],
    ),
    (
        99,
        "heavy links",
        "K5",
        &[("bracelet", Chain("210 mm", "14 mm"), "silver, heavy", Off("6.0 mm"))],
    ),
    (108, "stock, bronze", "", &[("rings", Rings(300), "bronze 14", Off("7.0 mm"))]),
    (117, "repair of Ferry Lane 14", "K3", &[("links", Rings(12), "silver reel 7", Off("4.0 mm"))]),
    (
        126,
        "springy chain",
        "K4",
        &[("chain", Chain("500 mm", "12 mm"), "silver, springy", Off("4.5 mm"))],
    ),
    (134, "brass set, second", "K8", &[("rings", Rings(360), "brass 20", Off("4.0 mm"))]),
    (143, "fine silver sample", "", &[("rings", Rings(120), "fine silver 2", Off("3.0 mm"))]),
    (
        152,
        "summer fair",
        "",
        &[
            ("small rings", Rings(500), "silver reel 8", Off("3.0 mm")),
            ("larger rings", Rings(260), "silver reel 7", Off("5.0 mm")),
        ],
    ),
    (163, "fine copper", "", &[("rings", Rings(700), "copper, fine", Off("2.5 mm"))]),
    (
        171,
        "Mill Row 9",
        "K6",
        &[("necklace", Chain("400 mm", "10 mm"), "silver reel 7", Off("4.0 mm"))],
    ),
    (184, "nickel silver key rings", "", &[("rings", Rings(200), "nickel silver", Off("9.0 mm"))]),
    (
        196,
        "gold filled, second",
        "K11",
        &[("bracelet", Chain("180 mm", "10 mm"), "gold filled 3", Off("3.0 mm"))],
    ),
    (207, "bronze mesh trial", "", &[("rings", Rings(420), "bronze 14", Off("8.0 mm"))]),
    (219, "autumn class", "", &[("copper kits", Kits(12, 96, 6), "copper, class", Off("5.0 mm"))]),
    (
        228,
        "heavy links, second",
        "K5",
        &[("necklace", Chain("450 mm", "16 mm"), "silver, heavy", Off("6.0 mm"))],
    ),
    (
        239,
        "stock, thin copper",
        "",
        &[("practice rings", Rings(800), "copper, thin", Off("3.5 mm"))],
    ),
    (
        251,
        "Ferry Lane 20",
        "K7",
        &[("necklace", Chain("450 mm", "12 mm"), "silver reel 7", Off("4.0 mm"))],
    ),
    (
        262,
        "brass, a size to hit",
        "K8",
        &[("rings", Rings(150), "brass 20", Size("3.72 mm inside open", "0.10 mm"))],
    ),
    (274, "fine silver earrings", "K12", &[("rings", Rings(160), "fine silver 2", Off("3.0 mm"))]),
    (285, "fine copper, second", "", &[("rings", Rings(500), "copper, fine", Off("2.5 mm"))]),
    (
        297,
        "Quay 11",
        "K3",
        &[("bracelet", Chain("185 mm", "12 mm"), "silver reel 8", Off("3.0 mm"))],
    ),
    (
        309,
        "advent fair",
        "",
        &[
            ("small rings", Rings(400), "silver reel 8", Off("3.0 mm")),
            ("bronze rings", Rings(200), "bronze 14", Off("7.0 mm")),
        ],
    ),
    (322, "evening class", "", &[("copper kits", Kits(12, 96, 6), "copper, class", Off("5.0 mm"))]),
    (
        331,
        "springy bracelet",
        "K4",
        &[("bracelet", Chain("190 mm", "10 mm"), "silver, springy", Off("4.5 mm"))],
    ),
    (
        343,
        "nickel silver, third",
        "K2",
        &[("belt rings", Rings(250), "nickel silver", Off("6.0 mm"))],
    ),
    (
        352,
        "Ferry Lane 31",
        "K7",
        &[("necklace", Chain("420 mm", "12 mm"), "silver reel 7", Off("4.0 mm"))],
    ),
    (
        357,
        "Mill Row 2, again",
        "K5",
        &[(
            "bracelet",
            Linked("large_and_small", "190 mm", "10 mm", "3.5 mm"),
            "silver reel 7",
            Off("5.0 mm"),
        )],
    ),
    (
        359,
        "school open day",
        "",
        &[("copper kits", Kits(24, 20, 2), "copper, thin", Off("3.5 mm"))],
    ),
];

/// Orders from the end of the list that no run was started for yet.
pub(super) const NOT_STARTED: usize = 2;
