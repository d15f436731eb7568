//! What somebody types to find a batch, read as clues.

use linkwright_calc::quantity::{Length, QuantityError, parse_length};
use linkwright_store::BatchClue;

/// A size that is looked for fits what is within this share of it, either way.
const SIZE_WITHIN: f64 = 0.01;
/// Words that join two clues and are none themselves.
const JOINING: &[&str] = &["on", "of", "in", "the", "rings", "ring", "x", "id", "inside"];

/// The clues in a text such as "sterling 18 awg 4.14 drawer 3".
///
/// A number with its unit is a size; a bare number is a size in mm or part of a word.
pub(super) fn clues(typed: &str) -> Result<Vec<BatchClue>, QuantityError> {
    let tokens: Vec<&str> = typed
        .split(|c: char| c.is_whitespace() || c == ';')
        .map(|token| token.trim_end_matches(','))
        .filter(|token| !token.is_empty())
        .collect();
    let mut clues = Vec::new();
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        let number = starts_a_number(token);
        if number && let Some(unit) = tokens.get(at + 1).filter(|unit| !starts_a_number(unit)) {
            match parse_length(&format!("{token} {unit}")) {
                Ok(size) => {
                    clues.push(near(size.value()));
                    at += 2;
                    continue;
                }
                // "18 gauge" is a size of which the system is not said; "4 rings" is none.
                Err(QuantityError::Unclear(question)) if unit.to_lowercase().starts_with('g') => {
                    return Err(QuantityError::Unclear(question));
                }
                Err(_) => {}
            }
        }
        at += 1;
        if JOINING.contains(&token.to_lowercase().as_str()) {
            continue;
        }
        clues.push(match parse_length(token) {
            Ok(size) if number => near(size.value()),
            _ if number => bare(token),
            _ => BatchClue::Word((*token).to_owned()),
        });
    }
    Ok(clues)
}

/// A bare number: a size in mm, or part of a code, a place or a size as typed.
fn bare(token: &str) -> BatchClue {
    let word = BatchClue::Word(token.to_owned());
    match parse_length(&format!("{token} mm")) {
        Ok(size) => BatchClue::Any(vec![near(size.value()), word]),
        Err(_) => word,
    }
}

fn near(size: Length) -> BatchClue {
    let off_mm = SIZE_WITHIN * size.mm();
    BatchClue::Length { low_mm: size.mm() - off_mm, high_mm: size.mm() + off_mm }
}

fn starts_a_number(token: &str) -> bool {
    token.trim_start_matches('.').starts_with(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::clues;
    use linkwright_store::BatchClue;

    fn lengths_mm(typed: &str) -> Vec<f64> {
        let middle = |clue: &BatchClue| match clue {
            BatchClue::Length { low_mm, high_mm } => Some((low_mm + high_mm) / 2.0),
            _ => None,
        };
        clues(typed).expect("clues").iter().filter_map(middle).collect()
    }

    #[test]
    fn a_size_is_read_in_any_system_and_words_stay_words() {
        let found = clues("Sterling, 1.02 mm drawer").expect("clues");
        assert_eq!(found[0], BatchClue::Word("Sterling".to_owned()));
        assert_eq!(found[2], BatchClue::Word("drawer".to_owned()));
        assert!((lengths_mm("copper 16 awg 3/16\"")[0] - 1.2908).abs() < 0.0001);
        assert!((lengths_mm("copper 16 awg 3/16\"")[1] - 4.7625).abs() < 1e-9);
    }

    #[test]
    fn a_bare_number_is_a_size_in_mm_or_part_of_a_word() {
        let [BatchClue::Any(either)] = &clues("4.14").expect("clues")[..] else { panic!("one") };
        assert_eq!(either[1], BatchClue::Word("4.14".to_owned()));
        assert!(matches!(either[0], BatchClue::Length { low_mm, .. } if low_mm < 4.14));
    }

    #[test]
    fn a_bare_gauge_is_asked_about() {
        let error = clues("18 gauge").expect_err("unclear").to_string();
        assert!(error.contains("does not say which gauge"), "{error}");
    }
}
