//! A workshop's trials made into what it can share.

use linkwright_calc::metal::Catalogue;
use linkwright_trials::{Condensed, Learned, Prior, TrialRow};

/// What a workshop's own trials say about the terms all workshops share, about geometry's prior:
/// what others taught is not in it, so that nothing counts twice.
///
/// Metals of the built-in table are shared by key; an alloy of the workshop's own is not named.
pub fn condense(trials: &[TrialRow]) -> Condensed {
    let known = Catalogue::built_in();
    let is_shared = |name: &str| known.metals().iter().any(|metal| metal.key().as_str() == name);
    Learned::fit(trials, &Prior::geometry()).condensed_with_metals(is_shared)
}
