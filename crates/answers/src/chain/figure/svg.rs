//! The drawing as SVG, in hundredths of a millimetre.

use std::fmt::Write as _;

use linkwright_linkage::vector::Vec3;

use super::scene::{Look, Scene, Tube};
use super::seen_from::View;
use super::strands::{Strand, at, strands};

/// With what the rings are drawn.
///
/// Every mark carries a class, so that a page may colour it by its style sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Black outlines on white wire, for paper.
    Black,
    /// The same, with a streak of light along the wire, which a page colours.
    Shining,
}

/// Rings as seen from somewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    marks: String,
    left_mm: f64,
    top_mm: f64,
    width_mm: f64,
    height_mm: f64,
}

/// Width of the outline, as a share of the wire; it lies within the wire, so that rings that touch
/// touch in the drawing.
const EDGE: f64 = 0.14;
/// Blank round the drawing, in the largest wires.
const BLANK: f64 = 0.4;
/// Furthest that one curve follows a ring.
const CURVE_RAD: f64 = std::f64::consts::PI / 6.0;
/// How far a strand runs on under the one that is drawn over its end, in wires.
const UNDER: f64 = 0.2;
/// How far the wire covers the end of its own outline, in wires.
const COVER: f64 = 0.06;
/// How far the streak of light runs on, so that it is whole where strands meet.
const STREAK: f64 = 0.3;
/// Units of the drawing in a millimetre.
const UNITS: f64 = 100.0;

impl Drawing {
    /// A scene as seen from somewhere.
    pub fn of(scene: &Scene, view: View, ink: Ink) -> Drawing {
        let mut marks = String::new();
        for strand in strands(scene, view) {
            draw(&mut marks, &scene.tubes[strand.ring], &strand, view, ink);
        }
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        let mut widest = 0.0_f64;
        for tube in &scene.tubes {
            let middle = view.sees(tube.circle.centre);
            widest = widest.max(tube.wire_mm);
            for (axis, (middle, way)) in
                [(middle.x, view.right), (middle.y, view.up)].into_iter().enumerate()
            {
                let half = tube.circle.half_extent(way) + 0.5 * tube.wire_mm;
                low[axis] = low[axis].min(middle - half);
                high[axis] = high[axis].max(middle + half);
            }
        }
        if scene.tubes.is_empty() {
            (low, high) = ([0.0; 2], [0.0; 2]);
        }
        let blank = BLANK * widest;
        Drawing {
            marks,
            left_mm: low[0] - blank,
            top_mm: -high[1] - blank,
            width_mm: high[0] - low[0] + 2.0 * blank,
            height_mm: high[1] - low[1] + 2.0 * blank,
        }
    }

    /// Width with its blank.
    pub const fn width_mm(&self) -> f64 {
        self.width_mm
    }

    /// Height with its blank.
    pub const fn height_mm(&self) -> f64 {
        self.height_mm
    }

    /// The picture `times` as large as the thing, told to those who cannot see it by its title; one
    /// without a title is left out by a screen reader.
    pub fn svg(&self, times: f64, title: &str) -> String {
        self.framed(times, title, "", 0.0)
    }

    /// The same above a ruler in millimetres; for a view that shows lengths as they are.
    pub fn svg_with_ruler(&self, times: f64, title: &str) -> String {
        let (ruler, high_mm) = self.ruler();
        self.framed(times, title, &ruler, high_mm)
    }

    fn framed(&self, times: f64, title: &str, below: &str, below_mm: f64) -> String {
        let height_mm = self.height_mm + below_mm;
        let named = if title.is_empty() {
            "aria-hidden=\"true\">".to_owned()
        } else {
            format!("role=\"img\"><title>{}</title>", escaped(title))
        };
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"linked\" viewBox=\"{:.0} {:.0} {:.0} {:.0}\" \
             width=\"{:.2}mm\" height=\"{:.2}mm\" fill=\"none\" stroke=\"#000\" stroke-linejoin=\"round\" \
             {named}{}{below}</svg>",
            UNITS * self.left_mm,
            UNITS * self.top_mm,
            UNITS * self.width_mm,
            UNITS * height_mm,
            times * self.width_mm,
            times * height_mm,
            self.marks
        )
    }

    /// Marks of a ruler under the drawing and the height they take: a line each millimetre, a longer one
    /// each five, a number each ten (each of them, where the piece is short).
    fn ruler(&self) -> (String, f64) {
        // Lettering in the measure of the drawing, so that it is read at any size.
        let letter_mm = (0.035 * self.width_mm).max(0.06 * self.height_mm);
        let top_mm = self.top_mm + self.height_mm + 0.3 * letter_mm;
        let whole_mm = self.width_mm.floor();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "`as` saturates; a picture is some millimetres wide"
        )]
        let upto = (whole_mm as u32).min(400);
        let numbered = if upto <= 12 {
            1
        } else if upto <= 40 {
            5
        } else {
            10
        };
        let mut marks = String::from("<g class=\"ruler\">");
        let unit = |mm: f64| UNITS * mm;
        let mut line = |x1: f64, y1: f64, x2: f64, y2: f64| {
            let _ = write!(
                marks,
                "<path d=\"M{:.0} {:.0}L{:.0} {:.0}\" stroke-width=\"{:.1}\"/>",
                unit(x1),
                unit(y1),
                unit(x2),
                unit(y2),
                unit(0.06 * letter_mm)
            );
        };
        let right_mm = self.left_mm + f64::from(upto);
        line(self.left_mm, top_mm, right_mm, top_mm);
        for step in 0..=upto {
            let x = self.left_mm + f64::from(step);
            let long = if step % 10 == 0 {
                0.9
            } else if step % 5 == 0 {
                0.7
            } else {
                0.4
            };
            line(x, top_mm, x, top_mm + long * letter_mm);
        }
        for step in (0..=upto).step_by(numbered) {
            let x = self.left_mm + f64::from(step);
            let anchor = if step == 0 { "start" } else { "middle" };
            let last = step + u32::try_from(numbered).unwrap_or(1) > upto;
            let (anchor, words) = if last && step > 0 {
                ("end", format!("{step} mm"))
            } else {
                (anchor, step.to_string())
            };
            let _ = write!(
                marks,
                "<text x=\"{:.0}\" y=\"{:.0}\" font-size=\"{:.0}\" text-anchor=\"{anchor}\" fill=\"#000\" \
                 stroke=\"none\">{words}</text>",
                unit(x),
                unit(top_mm + 2.0 * letter_mm),
                unit(letter_mm)
            );
        }
        marks.push_str("</g>");
        (marks, 2.7 * letter_mm)
    }
}

fn draw(marks: &mut String, tube: &Tube, strand: &Strand, view: View, ink: Ink) {
    let wire = tube.wire_mm;
    let round = |share: f64| share * wire / tube.circle.radius;
    // A strand that runs on under another is longer than what is seen of it; elsewhere the wire covers
    // the end of its own outline, which would show as a fine line across it.
    let ends = |cover: f64| {
        let more = strand.runs_on.map(|on| if on { round(UNDER) } else { 0.0 } + round(cover));
        (strand.from_rad - more[0], strand.to_rad + more[1])
    };
    let fresh = if tube.look == Look::Fresh { " fresh" } else { "" };
    let (from, to) = ends(0.0);
    let edge = path(tube, view, from, to, strand.whole);
    let _ =
        write!(marks, "<path class=\"edge\" d=\"{edge}\" stroke-width=\"{:.0}\"/>", UNITS * wire);
    let (from, to) = ends(COVER);
    let body = path(tube, view, from, to, strand.whole);
    let white = if tube.look == Look::Fresh { "#999" } else { "#fff" };
    let _ = write!(
        marks,
        "<path class=\"body{fresh}\" d=\"{body}\" stroke=\"{white}\" stroke-width=\"{:.0}\"/>",
        UNITS * wire * (1.0 - 2.0 * EDGE)
    );
    if ink == Ink::Shining {
        // Light from above and to the left falls on the side of the wire that faces it.
        let aside = UNITS * wire * 0.13;
        let (from, to) = ends(STREAK);
        let streak = path(tube, view, from, to, strand.whole);
        let _ = write!(
            marks,
            "<path class=\"shine{fresh}\" d=\"{streak}\" stroke=\"{white}\" stroke-width=\"{:.0}\" \
             transform=\"translate({:.0} {:.0})\"/>",
            UNITS * wire * 0.2,
            -aside,
            -aside
        );
    }
}

/// A stretch of a ring as curves; a whole ring is closed.
fn path(tube: &Tube, view: View, from: f64, to: f64, whole: bool) -> String {
    let pieces = ((to - from) / CURVE_RAD).ceil().max(1.0);
    let step = (to - from) / pieces;
    // Control points that follow a circle to parts in a million; they project as points do.
    let reach = 4.0 / 3.0 * (step / 4.0).tan();
    let (first, along) = at(tube.circle, from);
    let mut pen = Pen::at(view.sees(first));
    let (mut last, mut last_along) = (first, along);
    let mut angle = from;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a full turn has a dozen pieces"
    )]
    for _ in 0..pieces as usize {
        angle += step;
        let (next, next_along) = at(tube.circle, angle);
        let bends = [last + last_along * reach, next - next_along * reach, next];
        pen.curve(bends.map(|point| view.sees(point)));
        (last, last_along) = (next, next_along);
    }
    if whole {
        pen.path.push('z');
    }
    pen.path
}

/// Writes a path in whole units, each point from the one before as it was rounded.
struct Pen {
    path: String,
    at: [i64; 2],
}

impl Pen {
    fn at(point: Vec3) -> Pen {
        let at = rounded(point);
        Pen { path: format!("M{} {}", at[0], at[1]), at }
    }

    fn curve(&mut self, points: [Vec3; 3]) {
        let points = points.map(rounded);
        let mut sign = 'c';
        for point in points {
            for (to, from) in point.into_iter().zip(self.at) {
                let by = to - from;
                let gap = if sign == 'c' {
                    sign = ' ';
                    "c"
                } else if by < 0 {
                    ""
                } else {
                    " "
                };
                let _ = write!(self.path, "{gap}{by}");
            }
        }
        self.at = points[2];
    }
}

fn rounded(point: Vec3) -> [i64; 2] {
    // Upwards is down on a screen.
    #[expect(clippy::cast_possible_truncation, reason = "`as` saturates")]
    let units = [point.x, -point.y].map(|mm| (UNITS * mm).round() as i64);
    units
}

fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::pattern::{Pattern, craft};

    use super::{Drawing, Ink, Scene, View};

    #[test]
    fn a_drawing_measures_what_it_shows() {
        // Two cable rings of inside diameter 4 and wire 1: from end to end two pitches and two wires.
        let cable = Pattern::new(craft::named("cable_1in1").expect("known")).expect("valid");
        let entry = linkwright_linkage::table::entries()
            .iter()
            .find(|entry| entry.name == "cable_1in1")
            .expect("in the table");
        let row = entry.rows.iter().rev().find(|row| row.aspect_ratio <= 4.0).expect("a row");
        let pose = entry.pose_below(&cable, 4.0).expect("a pose");
        let wire = 2.0 / (row.aspect_ratio + 1.0);
        let scene = Scene::of(&pose, wire, 1.0, &[[0, 0], [1, 0]]);
        let drawing = Drawing::of(&scene, View::of(&pose), Ink::Black);
        let blank = 2.0 * super::BLANK;
        let wanted = 2.0 * row.aspect_ratio + 2.0 + blank;
        // Poses are kept to seven digits.
        assert!((drawing.width_mm() - wanted).abs() < 1e-3, "{}", drawing.width_mm());
        let svg = drawing.svg(10.0, "two rings");
        assert!(svg.contains(&format!("width=\"{:.2}mm\"", 10.0 * drawing.width_mm())));
        assert!(svg.contains("<title>two rings</title>"));
    }

    #[test]
    fn a_picture_without_title_is_left_to_the_eye() {
        let cable = Pattern::new(craft::named("cable_1in1").expect("known")).expect("valid");
        let scene = Scene::piece(cable.start(), cable.start_wire(), 1.0, 6);
        let svg = Drawing::of(&scene, View::of(cable.start()), Ink::Black).svg(1.0, "");
        assert!(svg.contains("aria-hidden=\"true\"") && !svg.contains("<title>"));
    }
}
