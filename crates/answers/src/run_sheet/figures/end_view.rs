//! The coil seen from its end, with the blade in the near wall.

use linkwright_calc::plan::RunSheet;

use super::pen::{Anchor, Pen, Stroke, fitting_scale};

/// Room on paper for the ring.
const PAPER_MM: f64 = 28.0;
/// Room beside the ring for lettering.
const LETTERING_MM: f64 = 33.0;
/// Room left of the blade for lettering.
const NEAR_WALL_MM: f64 = 18.0;
/// Blank around the drawing.
const BLANK_MM: f64 = 2.0;

/// Measures of the end view, in millimetres of the thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndView {
    wire_mm: f64,
    inside_mm: f64,
    kerf_mm: f64,
    projection_mm: f64,
    clean_mm: f64,
    far_wall_mm: f64,
}

impl EndView {
    /// The view for the blade of a sheet.
    pub fn of(sheet: &RunSheet) -> EndView {
        let blade = sheet.blade();
        EndView {
            wire_mm: sheet.wire.value.diameter().mm(),
            inside_mm: sheet.ring.open_inside.value.mm(),
            kerf_mm: blade.blade.kerf().width().mm(),
            projection_mm: blade.projection.value.mm(),
            clean_mm: blade.verdict.window.clean_with_offset.mm(),
            // As the plates hold the coil: squash taken off.
            far_wall_mm: (blade.projection.value + blade.verdict.margins.before_far_wall).mm(),
        }
    }

    /// The view of a coil as it sits on its rod, touching nothing: for a cell of the blade chart.
    /// `None` where the blade does not part the near wall or reaches the far one, since then there
    /// is no clearance to draw.
    pub fn of_cell(wire_mm: f64, rod_mm: f64, kerf_mm: f64, projection_mm: f64) -> Option<EndView> {
        let far_wall_mm = wire_mm + rod_mm;
        (wire_mm < projection_mm && projection_mm < far_wall_mm).then_some(EndView {
            wire_mm,
            inside_mm: rod_mm,
            kerf_mm,
            projection_mm,
            clean_mm: wire_mm,
            far_wall_mm,
        })
    }

    /// Paper millimetres to a millimetre of the thing.
    pub fn scale(&self) -> f64 {
        fitting_scale(self.inside_mm + 2.0 * self.wire_mm, PAPER_MM)
    }

    /// The drawing as SVG.
    pub fn svg(&self) -> String {
        let scale = self.scale();
        let outer = scale * (self.inside_mm / 2.0 + self.wire_mm);
        let inner = scale * self.inside_mm / 2.0;
        // Paper: x from the coil's axis, y down from the top of the coil.
        let y = |mm: f64| scale * mm;
        let mut pen = Pen::default();
        pen.circle([0.0, outer], outer, Stroke::Edge, "outside");
        pen.circle([0.0, outer], inner, Stroke::Edge, "inside");
        let half_kerf = scale * self.kerf_mm / 2.0;
        let above = -5.0;
        pen.rectangle(
            [-half_kerf, above],
            [half_kerf, y(self.projection_mm)],
            Stroke::Edge,
            "blade",
        );
        pen.line([-outer - 1.0, 0.0], [outer + 4.0, 0.0], Stroke::Dashed);

        let at = outer + 3.0;
        let levels = [self.clean_mm, self.projection_mm, self.far_wall_mm];
        for mm in levels {
            pen.line([half_kerf, y(mm)], [at + 1.5, y(mm)], Stroke::Thin);
        }
        let beyond_mm = self.projection_mm - self.clean_mm;
        let before_mm = self.far_wall_mm - self.projection_mm;
        pen.upright_dimension(
            at,
            y(self.clean_mm),
            y(self.projection_mm),
            &format!("{beyond_mm:.2} past a clean cut"),
        );
        pen.upright_dimension(
            at,
            y(self.projection_mm),
            y(self.far_wall_mm),
            &format!("{before_mm:.2} to the far wall"),
        );
        let kerf = format!("kerf {:.2}", self.kerf_mm);
        pen.words([half_kerf + 1.2, above + 2.0], Anchor::Start, &kerf);
        pen.words([0.0, outer + 0.55 * inner], Anchor::Middle, "far wall");
        let leader = -half_kerf - 4.0;
        pen.words([-half_kerf - 1.2, above + 2.0], Anchor::End, "near wall");
        pen.line([leader, above + 2.8], [leader, y(self.wire_mm / 2.0)], Stroke::Thin);
        pen.scale_bar([-outer, 2.0 * outer + 4.0], scale, scale_bar_mm(scale));

        let left = outer.max(NEAR_WALL_MM) + BLANK_MM;
        let corner = [-left, above - BLANK_MM];
        let size = [
            left + outer + 3.0 + LETTERING_MM + BLANK_MM,
            2.0 * outer - above + 5.0 + 2.0 * BLANK_MM,
        ];
        pen.drawing(corner, size, "End view", &self.told())
    }

    fn told(&self) -> String {
        format!(
            "The end of the coil: wire of {:.2} mm around a hole of {:.2} mm. The blade, {:.2} mm thick, \
             reaches {:.2} mm below the top; the near wall is cut cleanly from {:.2} mm and the far wall \
             begins at {:.2} mm.",
            self.wire_mm,
            self.inside_mm,
            self.kerf_mm,
            self.projection_mm,
            self.clean_mm,
            self.far_wall_mm
        )
    }
}

/// A bar of a round number of millimetres, at least a finger's breadth on paper.
fn scale_bar_mm(scale: f64) -> f64 {
    [1.0, 2.0, 5.0, 10.0].into_iter().find(|mm| mm * scale >= 8.0).unwrap_or(20.0)
}
