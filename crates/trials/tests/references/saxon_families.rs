//! Boys among twelve children of 6115 Saxon families: the published beta-binomial fit.
//! Source: an encyclopedia's article on the beta-binomial law, text seen by the project's reference
//! (`trials.md`, section 10); the article cites Sokal & Rohlf by way of Lindsey, from memory, text
//! not seen. The article prints a = 34.09558, b = 31.5715, log likelihood -12492.9 and, by moments,
//! 34.1350, 31.6085; the reference computed the longer digits anew.

use linkwright_trials::BetaBinomial;

/// Families with 0, 1, .. 12 boys.
const FAMILIES: [u32; 13] = [3, 24, 104, 286, 670, 1033, 1343, 1112, 829, 478, 181, 45, 7];
const CHILDREN: u32 = 12;
/// Article; its search stopped a little early on a flat top.
const ARTICLE: BetaBinomial = BetaBinomial { a: 34.095_58, b: 31.571_5 };
/// Reference.
const MOST_LIKELY: BetaBinomial = BetaBinomial { a: 34.102_85, b: 31.578_23 };
/// Reference.
const LN_LIKELIHOOD: f64 = -12_492.871_359;

fn ln_likelihood(law: BetaBinomial) -> f64 {
    let pmf = law.pmf(CHILDREN);
    FAMILIES.iter().zip(pmf).map(|(families, p)| f64::from(*families) * p.ln()).sum()
}

/// The law of a mean share and the logarithm of a weight: the two hardly lean on each other.
fn law([mean, ln_weight]: [f64; 2]) -> BetaBinomial {
    let weight = ln_weight.exp();
    BetaBinomial { a: mean * weight, b: (1.0 - mean) * weight }
}

/// Climbs along one axis after the other by parabolas through three points.
fn most_likely() -> BetaBinomial {
    let mut place = [0.5, 3.0];
    for _ in 0..60 {
        for (axis, step) in [(0, 1e-4), (1, 3e-3)] {
            let at = |moved: f64| {
                let mut place = place;
                place[axis] += moved;
                ln_likelihood(law(place))
            };
            let (left, here, right) = (at(-step), at(0.0), at(step));
            let bend = (2.0 * here - left - right) / (step * step);
            let slope = (right - left) / (2.0 * step);
            place[axis] += (slope / bend.max(1.0)).clamp(-0.5, 0.5);
        }
    }
    law(place)
}

#[test]
fn the_saxon_families_have_the_printed_most_likely_law() {
    let found = most_likely();
    // A flat top: a tenth of a per cent in either number costs 1e-5 of the log likelihood.
    for (found, printed) in [(found.a, MOST_LIKELY.a), (found.b, MOST_LIKELY.b)] {
        assert!((found / printed - 1.0).abs() < 1e-3, "{found} is not {printed}");
    }
    let off = ln_likelihood(found) - LN_LIKELIHOOD;
    assert!(off.abs() < 1e-4, "{off:e}");
    for article in [(found.a, ARTICLE.a), (found.b, ARTICLE.b)] {
        assert!((article.0 / article.1 - 1.0).abs() < 1e-3, "{article:?}");
    }
    // The article prints one decimal, and no law is likelier than the most likely one.
    assert!((ln_likelihood(ARTICLE) + 12_492.9).abs() < 0.05);
    assert!(ln_likelihood(ARTICLE) <= ln_likelihood(found));
}

#[test]
fn the_saxon_families_have_the_printed_law_of_their_moments() {
    let families: f64 = FAMILIES.iter().map(|f| f64::from(*f)).sum();
    let mean = |of: fn(f64) -> f64| {
        let sums = (0_u32..).zip(FAMILIES);
        sums.map(|(boys, f)| f64::from(f) * of(f64::from(boys))).sum::<f64>() / families
    };
    let n = f64::from(CHILDREN);
    // Chance that a child is a boy, and that two of one family are.
    let (once, twice) = (mean(|boys| boys) / n, mean(|boys| boys * (boys - 1.0)) / (n * (n - 1.0)));
    let found = BetaBinomial::with_moments(once, twice);
    // Six decimals by the reference.
    assert!((found.a - 34.135_021).abs() < 1e-5, "{}", found.a);
    assert!((found.b - 31.608_492).abs() < 1e-5, "{}", found.b);
}
