//! Ring sizes as typed: a diameter, which side of the wire it is taken on, and in which state.

use super::length_asked::inside_or_outside;
use super::text::plain;
use super::{Length, QuantityError, Typed, Wanted, parse_length};

/// Where a ring's diameter is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingSide {
    /// Inside the wire.
    Inside,
    /// Outside the wire: two wire diameters more.
    Outside,
}

/// Whether a ring's ends meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingState {
    /// As it leaves the blade.
    Open,
    /// Ends brought together.
    Closed,
}

/// Reads a ring size as typed, such as `6 mm inside`, `1/4" id` or `8 mm od closed`.
///
/// # Units
/// Those of [`parse_length`] with `inside`, `id`, `inner`, `outside`, `od` or `outer`, and with
/// `open` or `closed` if it is said.
/// # Validity
/// One side and at most one state.
/// # Errors
/// [`QuantityError::Unclear`] without a side; otherwise those of [`parse_length`].
/// # Source
/// Spellings: common practice, no source.
///
/// ```
/// use linkwright_calc::quantity::{RingSide, RingState, parse_ring_size};
/// let (size, side, state) = parse_ring_size("6 mm i.d. closed").unwrap();
/// assert_eq!((size.value().mm(), side), (6.0, RingSide::Inside));
/// assert_eq!((size.text(), state), ("6 mm i.d. closed", Some(RingState::Closed)));
/// assert_eq!(
///     parse_ring_size("6 mm ring").unwrap_err().to_string(),
///     "\u{201c}6 mm ring\u{201d} does not say inside or outside diameter; type 6 mm inside \
///      (inside diameter, 6 mm) or 6 mm outside (outside diameter, 6 mm)"
/// );
/// ```
pub fn parse_ring_size(
    text: &str,
) -> Result<(Typed<Length>, RingSide, Option<RingState>), QuantityError> {
    let text = text.trim();
    let not_understood =
        || QuantityError::NotUnderstood { text: text.to_owned(), wanted: Wanted::RingSize };
    let plain = plain(text, Wanted::RingSize)?;
    let mut sides = Vec::new();
    let mut states = Vec::new();
    let (mut rest, mut aside) = (Vec::new(), Vec::new());
    for word in plain.split(' ') {
        match word.replace(['.', '(', ')', ','], "").as_str() {
            "inside" | "id" | "inner" => sides.push(RingSide::Inside),
            "outside" | "od" | "outer" => sides.push(RingSide::Outside),
            "open" => states.push(RingState::Open),
            "closed" => states.push(RingState::Closed),
            "ring" | "rings" | "jump" | "diameter" | "dia" => {}
            _ => {
                rest.push(word);
                continue;
            }
        }
        aside.push(word);
    }
    if sides.len() > 1 || states.len() > 1 {
        return Err(not_understood());
    }
    let size =
        parse_length(&rest.join(" ")).map_err(|error| said_of(text, &aside.join(" "), error))?;
    let Some(side) = sides.pop() else {
        return Err(inside_or_outside(text, size.value().mm()));
    };
    Ok((Typed::new(text, size.value(), size.remark()), side, states.pop()))
}

/// The error of a part of the text, told of the whole.
fn said_of(whole: &str, aside: &str, error: QuantityError) -> QuantityError {
    match error {
        QuantityError::Empty { .. } | QuantityError::NotUnderstood { .. } => {
            QuantityError::NotUnderstood { text: whole.to_owned(), wanted: Wanted::RingSize }
        }
        QuantityError::Unclear(mut question) => {
            whole.clone_into(&mut question.text);
            for reading in &mut question.readings {
                reading.type_instead = format!("{} {aside}", reading.type_instead);
            }
            QuantityError::Unclear(question)
        }
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::{RingSide, RingState, parse_ring_size};
    use crate::quantity::{Ask, QuantityError, Wanted};

    #[test]
    fn sides_and_states_are_read_in_any_order() {
        for (text, mm, side, state) in [
            ("6 mm inside", 6.0, RingSide::Inside, None),
            ("6 mm id", 6.0, RingSide::Inside, None),
            ("6 mm ID open", 6.0, RingSide::Inside, Some(RingState::Open)),
            ("closed 8 mm o.d.", 8.0, RingSide::Outside, Some(RingState::Closed)),
            ("inside diameter 1/4\"", 6.35, RingSide::Inside, None),
            ("8 mm outer diameter rings", 8.0, RingSide::Outside, None),
            ("5,2 mm id", 5.2, RingSide::Inside, None),
        ] {
            let (size, read_side, read_state) = parse_ring_size(text).expect(text);
            assert_eq!((read_side, read_state, size.text()), (side, state, text));
            assert!((size.value().mm() - mm).abs() < 1e-15, "{text}");
        }
    }

    #[test]
    fn a_size_without_its_side_is_asked_about() {
        for text in ["6 mm", "6 mm ring", "6 mm closed"] {
            let error = parse_ring_size(text).expect_err(text);
            let question = error.question().expect(text);
            assert_eq!((question.ask, question.text.as_str()), (Ask::InsideOrOutside, text));
            assert_eq!(question.readings.len(), 2);
            for reading in &question.readings {
                assert!(parse_ring_size(&reading.type_instead).is_ok());
                assert_eq!(reading.mm(), Some(6.0));
            }
        }
    }

    #[test]
    fn two_sides_two_states_or_no_size_are_refused() {
        for text in ["6 mm id od", "6 mm id open closed", "inside", "large inside"] {
            assert_eq!(
                parse_ring_size(text),
                Err(QuantityError::NotUnderstood {
                    text: text.to_owned(),
                    wanted: Wanted::RingSize
                })
            );
        }
        let error = parse_ring_size("6 inside").expect_err("no unit");
        let question = error.question().expect("a question");
        assert_eq!((question.ask, question.text.as_str()), (Ask::LengthUnit, "6 inside"));
        assert!(question.readings.iter().any(|reading| reading.type_instead == "6 mm inside"));
    }
}
