//! What the terms of the log odds are called in the files and in words.

use linkwright_trials::{SMOOTH_TERMS, STEPS, Term, pooled_term};

use super::PoolFileError;
use super::field::Field;

/// Longest key of a metal, letters.
const METAL_CHARS_MOST: usize = 40;

/// What a term is called in the files, such as `sever_1` or `metal:copper_c110`; `None` for a term
/// that is not shared.
///
/// ```
/// use linkwright_answers::pool::term_name;
/// use linkwright_trials::Term;
/// assert_eq!(term_name(&Term::Sever(0)).as_deref(), Some("sever_1"));
/// assert_eq!(term_name(&Term::Operator("Ann".into())), None);
/// ```
pub fn term_name(term: &Term) -> Option<String> {
    if !pooled_term(term) {
        return None;
    }
    Some(match term {
        Term::Intercept => "intercept".to_owned(),
        Term::Sever(step) => format!("sever_{}", step + 1),
        Term::Far(step) => format!("far_{}", step + 1),
        Term::Crush(step) => format!("crush_{}", step + 1),
        Term::Smooth(wave) => format!("smooth_{}", wave + 1),
        Term::Teeth => "teeth".to_owned(),
        Term::Kerf => "kerf".to_owned(),
        Term::Tape => "tape".to_owned(),
        Term::Lubricant => "lubricant".to_owned(),
        Term::Sharpness => "sharpness".to_owned(),
        Term::Metal(key) => format!("metal:{key}"),
        Term::Blade(..) | Term::Operator(_) => return None,
    })
}

/// What a term stands for, as a jeweller says it.
pub fn term_in_words(term: &Term) -> String {
    match term {
        Term::Intercept => "no margin at all".to_owned(),
        Term::Sever(step) => format!("margin past the near wall, step {}", step + 1),
        Term::Far(step) => format!("margin off the far wall, step {}", step + 1),
        Term::Crush(step) => format!("stiffness against the clamp, step {}", step + 1),
        Term::Smooth(wave) => format!("sizes, wave {}", wave + 1),
        Term::Teeth => "teeth in the wire".to_owned(),
        Term::Kerf => "thin kerf".to_owned(),
        Term::Tape => "tape".to_owned(),
        Term::Lubricant => "lubricant".to_owned(),
        Term::Sharpness => "a sharp blade".to_owned(),
        Term::Metal(key) => format!("metal {key}"),
        Term::Blade(name, _) => format!("blade {name}"),
        Term::Operator(name) => format!("operator {name}"),
    }
}

/// The term of a name.
pub(super) fn read_term(field: &Field<'_>) -> Result<Term, PoolFileError> {
    let name = field.text()?;
    let numbered = |stem: &str, terms: usize| -> Option<usize> {
        let number = name.strip_prefix(stem)?.strip_prefix('_')?;
        // One spelling for each: no signs, no zeros before the number.
        (1..=terms).find(|known| known.to_string() == number).map(|number| number - 1)
    };
    let term = match name {
        "intercept" => Some(Term::Intercept),
        "teeth" => Some(Term::Teeth),
        "kerf" => Some(Term::Kerf),
        "tape" => Some(Term::Tape),
        "lubricant" => Some(Term::Lubricant),
        "sharpness" => Some(Term::Sharpness),
        _ => None,
    };
    let is_key = |key: &str| {
        !key.is_empty()
            && key.len() <= METAL_CHARS_MOST
            && key.bytes().all(|letter| matches!(letter, b'a'..=b'z' | b'0'..=b'9' | b'_'))
    };
    let term = term
        .or_else(|| numbered("sever", STEPS).map(Term::Sever))
        .or_else(|| numbered("far", STEPS).map(Term::Far))
        .or_else(|| numbered("crush", STEPS).map(Term::Crush))
        .or_else(|| numbered("smooth", SMOOTH_TERMS).map(Term::Smooth))
        .or_else(|| {
            let key = name.strip_prefix("metal:").filter(|key| is_key(key))?;
            Some(Term::Metal(key.into()))
        });
    term.ok_or_else(|| {
        field.kind("the name of a shared term, such as \"intercept\", \"sever_1\" or \"metal:copper_c110\"")
    })
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::*;

    fn read(name: &str) -> Result<Term, PoolFileError> {
        read_term(&Field::whole(&Value::from(name)))
    }

    #[test]
    fn every_shared_term_is_read_back_from_its_name() {
        let mut terms = vec![
            Term::Intercept,
            Term::Teeth,
            Term::Kerf,
            Term::Tape,
            Term::Lubricant,
            Term::Sharpness,
            Term::Metal("copper_c110".into()),
        ];
        terms.extend((0..STEPS).flat_map(|i| [Term::Sever(i), Term::Far(i), Term::Crush(i)]));
        terms.extend((0..SMOOTH_TERMS).map(Term::Smooth));
        for term in terms {
            assert_eq!(read(&term_name(&term).expect("shared")), Ok(term));
        }
    }

    #[test]
    fn a_name_in_another_spelling_is_refused() {
        for name in ["sever_0", "sever_6", "sever_01", "sever", "blade_1", "metal:", "metal:My own"]
        {
            assert!(read(name).is_err(), "{name}");
        }
    }
}
