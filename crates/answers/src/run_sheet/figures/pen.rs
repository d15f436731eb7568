//! A pen that draws in paper millimetres; ink is the colour of the text around the drawing.

use std::fmt::Write;

/// Height of lettering on paper.
const LETTERING_MM: f64 = 3.2;
/// Distance of the lines of a hatching, along an edge.
const HATCH_MM: f64 = 1.1;
/// Length of an arrow's head.
const ARROW_MM: f64 = 1.4;

/// Marks made so far.
#[derive(Default)]
pub struct Pen {
    marks: String,
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// The edge of a thing.
    Edge,
    /// A dimension or a leader.
    Thin,
    /// Something at another time or out of sight.
    Dashed,
}

/// Where lettering stands to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

impl Stroke {
    const fn attributes(self) -> &'static str {
        match self {
            Stroke::Edge => "stroke-width=\"0.35\"",
            Stroke::Thin => "stroke-width=\"0.18\"",
            Stroke::Dashed => "stroke-width=\"0.25\" stroke-dasharray=\"1.6 1\"",
        }
    }
}

impl Pen {
    /// A straight line.
    pub fn line(&mut self, from: [f64; 2], to: [f64; 2], stroke: Stroke) {
        self.mark(format_args!(
            "<line x1=\"{:.3}\" y1=\"{:.3}\" x2=\"{:.3}\" y2=\"{:.3}\" {}/>",
            from[0],
            from[1],
            to[0],
            to[1],
            stroke.attributes()
        ));
    }

    /// A circle; `class` names it for whoever measures the drawing.
    pub fn circle(&mut self, centre: [f64; 2], radius: f64, stroke: Stroke, class: &str) {
        self.mark(format_args!(
            "<circle class=\"{class}\" cx=\"{:.3}\" cy=\"{:.3}\" r=\"{radius:.3}\" {}/>",
            centre[0],
            centre[1],
            stroke.attributes()
        ));
    }

    /// A filled disc, for a wire that is cut across.
    pub fn disc(&mut self, centre: [f64; 2], radius: f64, class: &str) {
        self.mark(format_args!(
            "<circle class=\"{class}\" cx=\"{:.3}\" cy=\"{:.3}\" r=\"{radius:.3}\" fill=\"currentColor\" stroke=\"none\"/>",
            centre[0], centre[1]
        ));
    }

    /// A rectangle from corner to corner.
    pub fn rectangle(&mut self, from: [f64; 2], to: [f64; 2], stroke: Stroke, class: &str) {
        self.mark(format_args!(
            "<rect class=\"{class}\" x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\" {}/>",
            from[0],
            from[1],
            to[0] - from[0],
            to[1] - from[1],
            stroke.attributes()
        ));
    }

    /// A rectangle filled with slanting lines, for what stays as it is.
    pub fn hatched(&mut self, from: [f64; 2], to: [f64; 2], class: &str) {
        self.rectangle(from, to, Stroke::Thin, class);
        let (wide, high) = (to[0] - from[0], to[1] - from[1]);
        // Each line rises to the right; `along` is where it would meet the bottom edge.
        let mut along = HATCH_MM - high;
        while along < wide {
            let low = [along.max(0.0), (-along).max(0.0)];
            let top = (along + high).min(wide);
            self.line(
                [from[0] + low[0], to[1] - low[1]],
                [from[0] + top, to[1] - (top - along)],
                Stroke::Thin,
            );
            along += HATCH_MM;
        }
    }

    /// Lettering on a base line.
    pub fn words(&mut self, at: [f64; 2], anchor: Anchor, words: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        if words.is_empty() {
            return;
        }
        let words = escaped(words);
        self.mark(format_args!(
            "<text x=\"{:.3}\" y=\"{:.3}\" text-anchor=\"{anchor}\" font-size=\"{LETTERING_MM}\" fill=\"currentColor\" stroke=\"none\">{words}</text>",
            at[0], at[1]
        ));
    }

    /// A dimension along a level line, its words above the middle.
    pub fn level_dimension(&mut self, from_x: f64, to_x: f64, y: f64, words: &str) {
        self.line([from_x, y], [to_x, y], Stroke::Thin);
        if (to_x - from_x).abs() > 3.0 * ARROW_MM {
            self.arrow([from_x, y], [1.0, 0.0]);
            self.arrow([to_x, y], [-1.0, 0.0]);
        }
        self.words([f64::midpoint(from_x, to_x), y - 0.9], Anchor::Middle, words);
    }

    /// A dimension along an upright line, its words to the right.
    pub fn upright_dimension(&mut self, x: f64, from_y: f64, to_y: f64, words: &str) {
        self.line([x, from_y], [x, to_y], Stroke::Thin);
        if (to_y - from_y).abs() > 2.0 * ARROW_MM {
            self.arrow([x, from_y], [0.0, 1.0]);
            self.arrow([x, to_y], [0.0, -1.0]);
        } else {
            // Too narrow for heads inside: the line runs on and the heads point in from outside.
            let (top, bottom) = (from_y.min(to_y), from_y.max(to_y));
            self.line([x, top], [x, top - 2.5], Stroke::Thin);
            self.line([x, bottom], [x, bottom + 2.5], Stroke::Thin);
            self.arrow([x, top], [0.0, -1.0]);
            self.arrow([x, bottom], [0.0, 1.0]);
        }
        self.words([x + 2.0, f64::midpoint(from_y, to_y) + 1.1], Anchor::Start, words);
    }

    /// An open arrow head at a point, its tail lying in the given direction.
    fn arrow(&mut self, tip: [f64; 2], tail: [f64; 2]) {
        let (back, side) = (ARROW_MM, 0.35 * ARROW_MM);
        for turn in [1.0, -1.0] {
            let end = [
                tip[0] + back * tail[0] - turn * side * tail[1],
                tip[1] + back * tail[1] + turn * side * tail[0],
            ];
            self.line(tip, end, Stroke::Thin);
        }
    }

    /// A bar that shows how long some millimetres of the thing are on paper.
    pub fn scale_bar(&mut self, at: [f64; 2], scale: f64, thing_mm: f64) {
        let to = at[0] + scale * thing_mm;
        self.line(at, [to, at[1]], Stroke::Edge);
        for x in [at[0], to] {
            self.line([x, at[1] - 0.8], [x, at[1] + 0.8], Stroke::Edge);
        }
        let words = format!("{thing_mm} mm, {}", ratio(scale));
        self.words([to + 1.5, at[1] + 1.0], Anchor::Start, &words);
    }

    /// The drawing on a sheet of the given corner points, named for those who cannot see it.
    pub fn drawing(self, corner: [f64; 2], size: [f64; 2], title: &str, told: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"{:.2} {:.2} {:.2} {:.2}\" \
             width=\"{:.2}mm\" fill=\"none\" stroke=\"currentColor\">\
             <title>{}</title><desc>{}</desc>{}</svg>",
            corner[0],
            corner[1],
            size[0],
            size[1],
            size[0],
            escaped(title),
            escaped(told),
            self.marks
        )
    }

    fn mark(&mut self, mark: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.marks.write_fmt(mark);
    }
}

/// A scale as draughtsmen write it.
pub fn ratio(scale: f64) -> String {
    if scale >= 1.0 {
        return format!("{scale}:1");
    }
    // At most three digits, without the noughts at the end: 1:1.25, 1:2.
    let times = format!("{:.2}", 1.0 / scale);
    format!("1:{}", times.trim_end_matches('0').trim_end_matches('.'))
}

/// The largest of the usual scales at which a thing fits.
pub fn fitting_scale(thing_mm: f64, paper_mm: f64) -> f64 {
    const USUAL: [f64; 16] =
        [20.0, 15.0, 12.0, 10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.5, 1.0, 0.8, 1.0 / 1.5, 0.5, 0.4];
    let fits = USUAL.into_iter().find(|scale| scale * thing_mm <= paper_mm);
    // Beyond all of them the drawing is fitted, and says its odd scale.
    fits.unwrap_or(paper_mm / thing_mm)
}

fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
