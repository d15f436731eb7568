//! Sizes as typed, shown back in both systems so that a slip is seen at once.

use linkwright_answers::printout::both_lengths;
use linkwright_calc::gauge::in_both_systems;
use linkwright_calc::quantity::{parse_length, parse_ring_size};

/// A length in millimetres and inches, with what an unclear unit was taken for; "" if it cannot be
/// read.
pub(super) fn length(typed: &str) -> String {
    let Ok(length) = parse_length(typed) else { return String::new() };
    with_remark(both_lengths(length.value().mm()), length.remark())
}

/// A wire in millimetres, inches and both gauges; "" if it cannot be read.
pub(super) fn wire(typed: &str) -> String {
    let Ok(length) = parse_length(typed) else { return String::new() };
    if length.value().mm() <= 0.0 {
        return String::new();
    }
    with_remark(in_both_systems(length.value()).to_string(), length.remark())
}

/// A ring in millimetres and inches; "" if it cannot be read.
pub(super) fn ring(typed: &str) -> String {
    let Ok((size, _, _)) = parse_ring_size(typed) else { return String::new() };
    with_remark(both_lengths(size.value().mm()), size.remark())
}

fn with_remark(shown: String, remark: Option<impl std::fmt::Display>) -> String {
    match remark {
        None => shown,
        Some(remark) => format!("{shown}; {remark}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{length, ring, wire};

    #[test]
    fn a_size_is_shown_in_both_systems_and_nothing_is_made_of_what_cannot_be_read() {
        assert_eq!(length("3/16 in"), "4.763 mm (0.1875 in)");
        assert!(
            wire("18 awg").starts_with("1.024 mm, 0.0403 in, 18 AWG exactly"),
            "{}",
            wire("18 awg")
        );
        assert!(wire("16 swg").contains("read as the British"), "{}", wire("16 swg"));
        assert_eq!(ring("5 mm outside closed"), "5.000 mm (0.1969 in)");
        assert_eq!(wire("18"), "");
    }
}
