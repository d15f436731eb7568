//! When two chains of the same links have the same signs.

use crate::pattern::PatternSpec;

/// Whether two sets of signs are the same but for rings turned round, or for a mirror.
pub(super) fn alike(one: &PatternSpec, other: &PatternSpec) -> bool {
    let mut mirrored = other.clone();
    for link in &mut mirrored.links {
        link.sign = -link.sign;
    }
    let signs = plain_signs(one);
    signs == plain_signs(other) || signs == plain_signs(&mirrored)
}

/// Signs of the links with every ring turned so that the first link which ties it to the others is
/// positive: of two sets of signs that differ only by turning rings round, the same one.
fn plain_signs(spec: &PatternSpec) -> Vec<i8> {
    let mut turned = vec![0_i8; spec.rings.len()];
    if let Some(first) = turned.first_mut() {
        *first = 1;
    }
    // Each round ties at least one more ring, if any can be.
    for _ in 0..spec.rings.len() {
        for link in &spec.links {
            let (a, b) = (turned[link.first], turned[link.second]);
            if a != 0 && b == 0 {
                turned[link.second] = a * link.sign;
            } else if a == 0 && b != 0 {
                turned[link.first] = b * link.sign;
            }
        }
    }
    spec.links.iter().map(|link| link.sign * turned[link.first] * turned[link.second]).collect()
}
