//! The possible range of rings as a bar, with the rods that give them.

use std::fmt::Write as _;

use super::rods::RodRing;

/// Width of the bar's drawing, in its own units; a phone shows it one to one.
const WIDE: f64 = 360.0;
/// Blank at both ends.
const BLANK: f64 = 10.0;
/// Where things stand, downwards.
const ROD_LETTERS: [f64; 2] = [16.0, 33.0];
const TOP: f64 = 42.0;
const BOTTOM: f64 = 66.0;
const HIGH: f64 = 104.0;
/// Room that a rod's name takes.
const LETTERS_WIDE: f64 = 40.0;
/// Makers leave this much above the smallest aspect ratio. Common practice, no source: 0.1 to 0.3.
const STIFF: f64 = 0.1;

/// What a bar shows; lengths are closed inside diameters.
pub(super) struct Bar<'a> {
    pub(super) wire_mm: f64,
    pub(super) least_mm: f64,
    pub(super) most_mm: f64,
    pub(super) chosen_mm: f64,
    pub(super) rods: &'a [RodRing],
}

impl Bar<'_> {
    fn ends_mm(&self) -> [f64; 2] {
        let low = (self.least_mm - 1.2 * self.wire_mm).min(self.chosen_mm - 0.2 * self.wire_mm);
        [low.max(0.0), self.most_mm.max(self.chosen_mm + 0.2 * self.wire_mm)]
    }

    /// Whether a ring lies within the bar.
    pub(super) fn shows(&self, mm: f64) -> bool {
        let [low, high] = self.ends_mm();
        (low..=high).contains(&mm)
    }

    fn x(&self, mm: f64) -> f64 {
        let [low, high] = self.ends_mm();
        BLANK + (WIDE - 2.0 * BLANK) * ((mm - low) / (high - low)).clamp(0.0, 1.0)
    }

    /// The drawing; what it says stands in words beside it.
    pub(super) fn svg(&self) -> String {
        let [low, high] = self.ends_mm();
        let mut marks = String::new();
        let mut zone = |class: &str, from: f64, to: f64| {
            let (from, to) = (self.x(from), self.x(to));
            let _ = write!(
                marks,
                "<rect class=\"{class}\" x=\"{from:.1}\" y=\"{TOP}\" width=\"{:.1}\" height=\"{:.1}\"/>",
                (to - from).max(0.0),
                BOTTOM - TOP
            );
        };
        let stiff = self.least_mm + STIFF * self.wire_mm;
        zone("not", low, self.least_mm);
        zone("stiff", self.least_mm, stiff);
        zone("good", stiff, high);
        // Slanting lines where rings do not go together: not by colour alone.
        let (from, to) = (self.x(low), self.x(self.least_mm));
        let mut at = from + 4.0;
        while at + 8.0 < to {
            let _ = write!(marks, "<path class=\"slant\" d=\"M{at:.1} {BOTTOM}l8 -24\"/>");
            at += 8.0;
        }
        let mut taken = [f64::NEG_INFINITY; 2];
        for ring in self.rods.iter().filter(|ring| self.shows(ring.closed.mm())) {
            let x = self.x(ring.closed.mm());
            let _ = write!(marks, "<path class=\"rod\" d=\"M{x:.1} {}V{BOTTOM}\"/>", TOP - 5.0);
            let row = (0..2).find(|row| x - taken[*row] >= LETTERS_WIDE);
            if let Some(row) = row {
                taken[row] = x;
                let inside = x.clamp(0.5 * LETTERS_WIDE, WIDE - 0.5 * LETTERS_WIDE);
                let _ = write!(
                    marks,
                    "<text x=\"{inside:.1}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
                    ROD_LETTERS[1 - row],
                    escaped(&shortened(&ring.name))
                );
            }
        }
        let x = self.x(self.chosen_mm);
        let _ = write!(
            marks,
            "<path class=\"chosen\" d=\"M{x:.1} {BOTTOM}l-7 13h14z\"/><text x=\"{:.1}\" y=\"{:.1}\" \
             text-anchor=\"middle\" class=\"chosen-size\">{:.2} mm</text>",
            x.clamp(32.0, WIDE - 32.0),
            BOTTOM + 29.0,
            self.chosen_mm
        );
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"range\" viewBox=\"0 0 {WIDE} {HIGH}\" \
             data-low=\"{low:.4}\" data-high=\"{high:.4}\" aria-hidden=\"true\">{marks}</svg>"
        )
    }
}

/// A rod's name as far as there is room.
fn shortened(name: &str) -> String {
    const LETTERS: usize = 5;
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    name.chars().take(LETTERS - 1).chain(['\u{2026}']).collect()
}

fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use linkwright_calc::basis::{Answer, Basis};
    use linkwright_calc::quantity::Length;

    use super::{Bar, RodRing};

    fn ring(name: &str, mm: f64) -> RodRing {
        let closed = Length::from_mm(mm);
        let open = Answer { value: closed, basis: Basis::tried(1), cautions: Vec::new() };
        RodRing { name: name.to_owned(), rod: closed, open, closed }
    }

    #[test]
    fn every_rod_within_the_bar_has_its_mark_and_names_never_run_into_each_other() {
        let rods: Vec<RodRing> =
            (0..30).map(|n| ring("<4.25>", 3.0 + 0.05 * f64::from(n))).collect();
        let bar = Bar { wire_mm: 1.0, least_mm: 3.2, most_mm: 6.0, chosen_mm: 3.9, rods: &rods };
        let svg = bar.svg();
        assert_eq!(svg.matches("class=\"rod\"").count(), 30);
        assert!(svg.contains("&lt;4.2\u{2026}"));
        let names = svg.matches("</text>").count();
        assert!((2..15).contains(&names), "{names}");
    }
}
