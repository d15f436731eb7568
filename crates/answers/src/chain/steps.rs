//! How a pattern is linked, ring by ring: a picture and a sentence for each step.

use linkwright_linkage::pattern::order::Order;
use linkwright_linkage::pattern::{Image, Kind, Pattern};
use linkwright_linkage::pose::Pose;

use super::figure::{Drawing, Ink, Look, Scene, Tube, View};

/// One step of linking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinkingStep {
    /// What to do.
    pub words: String,
    /// The rings so far, the new ones shaded.
    pub picture: String,
}

/// Rings that a step's picture shows of the piece before, about.
const RINGS_BEFORE: usize = 8;

/// The steps of a pattern in place, the main wire `wire_mm` thick in the measure of the pose: first what
/// to begin with, then one step for each ring of a cell.
pub fn linking_steps(pattern: &Pattern, pose: &Pose, wire_mm: f64) -> Vec<LinkingStep> {
    let order = Order::of(pattern);
    let view = View::of(pose);
    let added: Vec<usize> = order.steps().iter().map(|step| step.ring).collect();
    let here = cell_shown(pattern);
    let ready = before(pattern, here);
    let mut tubes: Vec<Tube> = Vec::new();
    let place = |ring, image, look| Tube::placed(pose, wire_mm, wire_mm, ring, image, look);
    let mut steps = Vec::new();
    if !ready.is_empty() {
        let begun = ready
            .iter()
            .flat_map(|&image| added.iter().map(move |&ring| (ring, image)))
            .map(|(ring, image)| place(ring, image, Look::Plain));
        tubes.extend(begun);
        steps.push(LinkingStep { words: beginning(pattern), picture: drawn(&tubes, view) });
    }
    for (step, &ring) in added.iter().enumerate() {
        tubes.push(place(ring, here, Look::Fresh));
        let words = order.sentence(step);
        steps.push(LinkingStep { words, picture: drawn(&tubes, view) });
        if let Some(last) = tubes.last_mut() {
            last.look = Look::Plain;
        }
    }
    steps
}

fn drawn(tubes: &[Tube], view: View) -> String {
    Drawing::of(&Scene { tubes: tubes.to_vec() }, view, Ink::Black).svg(1.0, "")
}

/// The cell whose rings are added in the pictures.
fn cell_shown(pattern: &Pattern) -> Image {
    match pattern.kind() {
        Kind::Cluster => [0, 0],
        Kind::Chain => [cells_before(pattern), 0],
        Kind::Sheet => [1, 1],
    }
}

/// Cells of chain that are there before: enough to show how it goes on.
fn cells_before(pattern: &Pattern) -> i32 {
    let per_cell = pattern.spec().rings.len().max(1);
    let back = pattern.spec().links.iter().map(|link| link.image[0].abs()).max().unwrap_or(1);
    let shown = i32::try_from(RINGS_BEFORE / per_cell).unwrap_or(1);
    back.max(shown.clamp(1, 4))
}

/// The cells that are there before that one.
fn before(pattern: &Pattern, here: Image) -> Vec<Image> {
    match pattern.kind() {
        Kind::Cluster => Vec::new(),
        Kind::Chain => (0..here[0]).map(|along| [along, 0]).collect(),
        Kind::Sheet => {
            let mut cells: Vec<Image> = (0..3).map(|along| [along, 0]).collect();
            cells.extend((0..here[0]).map(|along| [along, here[1]]));
            cells
        }
    }
}

fn beginning(pattern: &Pattern) -> String {
    let rings = pattern.spec().rings.len();
    let repeat = if rings == 1 { "every ring".to_owned() } else { format!("every {rings} rings") };
    match pattern.kind() {
        Kind::Sheet => format!(
            "Begin with a row linked as in the picture. The pattern repeats with {repeat}; the new rings go \
             to the right of the last and above the row before."
        ),
        _ => format!(
            "Begin with rings linked as in the picture, and hold the first on a loop of spare wire. The \
             pattern repeats with {repeat}; new rings go on at the right."
        ),
    }
}

#[cfg(test)]
mod tests {
    use linkwright_linkage::pattern::{Pattern, craft};

    use super::linking_steps;

    #[test]
    fn every_ring_of_every_pattern_has_its_step_in_which_it_alone_is_shaded() {
        for spec in craft::all() {
            let rings = spec.rings.len();
            let pattern = Pattern::new(spec).expect("valid");
            let steps = linking_steps(&pattern, pattern.start(), pattern.start_wire());
            let name = pattern.name();
            let with_ring = steps.iter().filter(|step| step.picture.contains("body fresh")).count();
            assert_eq!(with_ring, rings, "{name}");
            assert!(steps.iter().all(|step| !step.words.is_empty()), "{name}");
        }
    }
}
