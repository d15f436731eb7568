//! The coil seen from the side, with the blade at the start and at the stop.

use linkwright_calc::plan::RunSheet;
use linkwright_calc::quantity::Length;

use super::pen::{Anchor, Pen, Stroke, fitting_scale};

/// Room on paper for the drawing itself.
const PAPER_MM: [f64; 2] = [88.0, 33.0];
/// A blade up to this size on paper is drawn whole.
const WHOLE_BLADE_MM: f64 = 20.0;
/// Blank beside the drawing, for lettering.
const BLANK_MM: f64 = 2.0;
/// Room left of the holder for lettering.
const HEAD_START_MM: f64 = 22.0;
/// Room for the words about the blade's halt.
const SETBACK_MM: f64 = 38.0;
/// Room for the words beside the scale bar, and the blank before it.
const SCALE_MM: f64 = 30.0;
/// Room below the coil for dimensions.
const DIMENSIONS_MM: f64 = 14.5;
/// Room to the right for lettering.
const LETTERING_MM: f64 = 26.0;
/// Share of the blade that is drawn at least, from its lowest point up.
const SHOWN_OF_BLADE: f64 = 0.62;

/// Measures of the side view, in millimetres of the thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideView {
    wire_mm: f64,
    inside_mm: f64,
    pitch_mm: f64,
    turns: u32,
    coil_length_mm: f64,
    head_start_mm: f64,
    holder_mm: f64,
    blade_mm: f64,
    hub_mm: Option<f64>,
    projection_mm: f64,
    /// From the blade's axis at the stop to the coil's end.
    setback_mm: Option<f64>,
    uncut: u32,
}

impl SideView {
    /// The view of the longest coil of a sheet.
    pub fn of(sheet: &RunSheet) -> SideView {
        let blade = sheet.blade();
        let first = sheet.coils.groups[0];
        SideView {
            wire_mm: sheet.wire.value.diameter().mm(),
            inside_mm: sheet.ring.open_inside.value.mm(),
            pitch_mm: sheet.coils.pitch.advance().mm(),
            turns: first.relaxed_needed,
            coil_length_mm: first.length.mm(),
            head_start_mm: sheet.coils.head_start.value.mm(),
            holder_mm: sheet.coils.holder.mm(),
            blade_mm: blade.blade.diameter().mm(),
            hub_mm: blade.blade.hub_diameter().map(Length::mm),
            projection_mm: blade.projection.value.mm(),
            setback_mm: sheet.coils.stop_setback.map(Length::mm),
            uncut: blade.verdict.not_severed_at_stop.unwrap_or(0),
        }
    }

    /// Paper millimetres to a millimetre of the thing.
    pub fn scale(&self) -> f64 {
        let (left_mm, right_mm) = self.reach_mm();
        let across = fitting_scale(right_mm - left_mm, PAPER_MM[0])
            .min(fitting_scale(right_mm, PAPER_MM[0] - HEAD_START_MM));
        let high_mm = SHOWN_OF_BLADE * self.blade_mm - self.projection_mm + self.outside_mm();
        across.min(fitting_scale(high_mm, PAPER_MM[1]))
    }

    fn outside_mm(&self) -> f64 {
        self.inside_mm + 2.0 * self.wire_mm
    }

    /// Blade axis at the stop, from the holder's start.
    fn stop_mm(&self) -> f64 {
        self.head_start_mm + self.coil_length_mm - self.setback_mm.unwrap_or(0.0)
    }

    /// Leftmost and rightmost of all.
    fn reach_mm(&self) -> (f64, f64) {
        let radius_mm = self.blade_mm / 2.0;
        (-radius_mm, self.holder_mm.max(self.stop_mm() + radius_mm))
    }

    /// The drawing as SVG.
    pub fn svg(&self) -> String {
        let scale = self.scale();
        let mut pen = Pen::default();
        // Paper: x from the holder's start, y down from the top of the coil.
        let (x, y) = (|mm: f64| scale * mm, |mm: f64| scale * mm);
        let bottom = y(self.outside_mm());
        let coil_from = x(self.head_start_mm);
        let coil_to = x(self.head_start_mm + self.coil_length_mm);

        self.coil(&mut pen, scale);
        self.blade(&mut pen, scale);
        // The plane that touches the coil's top, and the holder under the coil.
        let (left_mm, right_mm) = self.reach_mm();
        pen.line([x(left_mm), 0.0], [x(right_mm) + 2.0, 0.0], Stroke::Dashed);
        let projection = format!("projection {:.2}", self.projection_mm);
        pen.words([x(right_mm) + 3.0, -1.2], Anchor::Start, &projection);
        pen.line([0.0, bottom], [x(self.holder_mm), bottom], Stroke::Edge);
        for end in [0.0, x(self.holder_mm)] {
            pen.line([end, bottom], [end, bottom + 14.0], Stroke::Thin);
        }
        pen.line([coil_from, bottom], [coil_from, bottom + 5.5], Stroke::Thin);
        pen.line([coil_to, bottom], [coil_to, bottom + 9.5], Stroke::Thin);
        let level = bottom + 4.5;
        pen.level_dimension(0.0, coil_from, level, "");
        let head_start = format!("head start {:.1}", self.head_start_mm);
        pen.words([-1.0, level + 1.0], Anchor::End, &head_start);
        let coil = format!("coil {:.1}, {} turns", self.coil_length_mm, self.turns);
        pen.level_dimension(coil_from, coil_to, level, &coil);
        if let Some(setback_mm) = self.setback_mm {
            let stop = x(self.stop_mm());
            pen.line([stop, 0.0], [stop, bottom + 9.5], Stroke::Dashed);
            pen.level_dimension(stop, coil_to, level + 4.5, "");
            let words = format!("blade halts {setback_mm:.1} short");
            if stop > SETBACK_MM {
                pen.words([stop - 1.0, level + 5.5], Anchor::End, &words);
            } else {
                pen.words([coil_to + 1.5, level + 5.5], Anchor::Start, &words);
            }
        }
        let holder = format!("holder {:.1}", self.holder_mm);
        pen.level_dimension(0.0, x(self.holder_mm), bottom + 14.0, &holder);
        let scale_bar_mm = 10.0;
        pen.scale_bar([x(self.holder_mm) + 4.0, bottom + 14.0], scale, scale_bar_mm);

        // The upper part of a large blade says nothing and is cut off by the edge of the drawing.
        let shown = (WHOLE_BLADE_MM / y(self.blade_mm)).clamp(SHOWN_OF_BLADE, 1.0);
        let top = y(self.projection_mm - shown * self.blade_mm) - 0.3;
        // Lettering of the head start stands left of the holder, whatever the blade.
        let left = x(left_mm).min(-HEAD_START_MM);
        let corner = [left - BLANK_MM, top];
        let right =
            (x(right_mm) + LETTERING_MM).max(x(self.holder_mm) + scale_bar_mm * scale + SCALE_MM);
        let size = [right - left + 2.0 * BLANK_MM, bottom - top + DIMENSIONS_MM + BLANK_MM];
        pen.drawing(corner, size, "Side view", &self.told())
    }

    /// The coil cut along its axis: two rows of wire sections.
    fn coil(&self, pen: &mut Pen, scale: f64) {
        let radius_mm = self.wire_mm / 2.0;
        for turn in 0..self.turns {
            // The ends of the wire lie at the side, so that each row shows every turn once.
            let along_mm =
                self.head_start_mm + radius_mm + (f64::from(turn) + 0.25) * self.pitch_mm;
            let uncut = turn + self.uncut >= self.turns;
            let near = [scale * along_mm, scale * radius_mm];
            // Half a turn on, the wire has climbed half a pitch.
            let far =
                [near[0] + scale * self.pitch_mm / 2.0, scale * (self.outside_mm() - radius_mm)];
            if uncut {
                pen.disc(near, scale * radius_mm, "uncut");
            } else {
                pen.circle(near, scale * radius_mm, Stroke::Thin, "turn");
            }
            pen.circle(far, scale * radius_mm, Stroke::Thin, "turn");
        }
        if self.uncut > 0 {
            let first = f64::from(self.turns.saturating_sub(self.uncut));
            let from = scale * (self.head_start_mm + first * self.pitch_mm);
            let to = scale * (self.head_start_mm + self.coil_length_mm);
            pen.hatched([from, 0.0], [to, scale * self.outside_mm()], "uncut-turns");
            let (_, right_mm) = self.reach_mm();
            let words_at = scale * right_mm + 3.0;
            let level = (scale * self.outside_mm() / 2.0).min(2.7);
            pen.line([to, level], [words_at - 1.0, 2.7], Stroke::Thin);
            let turns = if self.uncut == 1 { "turn" } else { "turns" };
            let words = format!("{} {turns} uncut", self.uncut);
            pen.words([words_at, 3.8], Anchor::Start, &words);
        }
    }

    /// The blade at the stop, and dashed at the start.
    fn blade(&self, pen: &mut Pen, scale: f64) {
        let radius = scale * self.blade_mm / 2.0;
        let height = scale * (self.projection_mm - self.blade_mm / 2.0);
        let stop = [scale * self.stop_mm(), height];
        pen.circle([0.0, height], radius, Stroke::Dashed, "blade-start");
        pen.circle(stop, radius, Stroke::Edge, "blade-stop");
        if let Some(hub_mm) = self.hub_mm {
            pen.circle(stop, scale * hub_mm / 2.0, Stroke::Thin, "hub");
        }
        pen.words([0.0, height + 1.0], Anchor::Middle, "start");
        let beside = stop[0] + radius + 1.5;
        // Clear of the words about the projection, however small the blade.
        let level = height.min(-9.5);
        pen.words([beside, level], Anchor::Start, "blade at the stop");
        let words = format!("\u{d8} {:.2}", self.blade_mm);
        pen.words([beside, level + 4.0], Anchor::Start, &words);
    }

    fn told(&self) -> String {
        format!(
            "A coil of {} turns, {:.1} mm long, in a holder of {:.1} mm, {:.1} mm from its start. The blade, \
             {:.2} mm across, reaches {:.2} mm below the top of the coil. When it halts, {} turns at the end \
             are uncut.",
            self.turns,
            self.coil_length_mm,
            self.holder_mm,
            self.head_start_mm,
            self.blade_mm,
            self.projection_mm,
            self.uncut
        )
    }
}
