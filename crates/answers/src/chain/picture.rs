//! The still picture of an answer, with a ruler where the view shows lengths as they are.

use linkwright_linkage::answer::Drawn;
use linkwright_linkage::solve::{Halt, Watch};

use super::answered::ChainAnswer;
use super::figure::{Drawing, Ink, Scene, View};

/// Rings shown at most.
const RINGS_MOST: usize = 60;
/// Paper the picture may take along.
const PAPER_MM: f64 = 150.0;
/// Enlargements a draughtsman would use, the largest first.
const TIMES: [f64; 10] = [20.0, 15.0, 10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0];

/// The picture; `None` where the rings do not go together.
///
/// # Errors
/// [`Halt`] if the watch stops the solve of the pose.
pub fn picture(answer: &ChainAnswer, watch: &mut dyn Watch) -> Result<Option<String>, Halt> {
    Ok(answer.linked.drawn(watch)?.map(|drawn| svg(answer, &drawn)))
}

fn svg(answer: &ChainAnswer, drawn: &Drawn) -> String {
    let (pose, wire_mm) = (&drawn.pose, drawn.wire.mm());
    let scene = Scene::piece(pose, wire_mm, wire_mm, RINGS_MOST);
    let view = View::of(pose);
    let drawing = Drawing::of(&scene, view, Ink::Black);
    let fits = |times: &f64| times * drawing.width_mm() <= PAPER_MM;
    // A large piece is made smaller than it is, in whole steps too.
    let smaller = (2..).map(|part| 1.0 / f64::from(part));
    let times = TIMES.into_iter().chain(smaller.take(100)).find(fits).unwrap_or(0.01);
    let title = format!(
        "{}, wire {:.2} mm, closed rings {:.2} mm inside, drawn {}",
        answer.title,
        wire_mm,
        answer.rings[0].ring.closed_inside().mm(),
        crate::run_sheet::figures::ratio(times)
    );
    if view.shows_lengths(pose) {
        drawing.svg_with_ruler(times, &title)
    } else {
        drawing.svg(times, &title)
    }
}
