//! The search box: sizes and words as somebody types them, understood as a search.

use linkwright_calc::metal::{Catalogue, Hardness};
use linkwright_calc::quantity::{Ask, QuantityError, Question, parse_length};
use linkwright_store::records::Outcome;
use linkwright_store::trials::{Length, SizeClue, TrialFilter};

/// Wires this near are taken for the wire that was typed: what drawing, wear of the plate and a
/// rounded second decimal leave open. Own choice.
const WIRE_TOLERANCE_MM: f64 = 0.02;

/// Half a step between two neighbouring American gauges, as a share of the diameter: finer wires are
/// not taken for their neighbours.
const HALF_GAUGE_STEP: f64 = 0.0579;

/// The same for rods. Own choice.
const ROD_TOLERANCE_MM: f64 = 0.05;

/// How a search was understood.
#[derive(Debug, Default)]
pub(super) struct Understood {
    /// What to look for.
    pub(super) filter: TrialFilter,
    /// The same in words, piece by piece.
    pub(super) said: Vec<String>,
    /// What could mean two things; the search takes each of them.
    pub(super) asked: Vec<Question>,
    /// Whether a number stood without its unit.
    pub(super) is_bare: bool,
}

/// What a size is of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Role {
    Wire,
    Rod,
}

/// A size found among the words.
struct Size {
    typed: String,
    /// More than one where it was not clear.
    could_be_mm: Vec<f64>,
    is_gauge: bool,
    role: Option<Role>,
}

/// Understands what was typed into the search box.
pub(super) fn understand(typed: &str, metals: &Catalogue) -> Understood {
    let tokens = tokens(typed);
    let mut out = Understood::default();
    let mut sizes: Vec<Size> = Vec::new();
    let mut says_on = false;
    let mut next_role = None;
    let mut at = 0;
    while let Some(word) = tokens.get(at) {
        at += 1;
        match word.as_str() {
            "on" => {
                says_on |= sizes.len() == 1;
                continue;
            }
            "rod" | "rods" | "mandrel" | "wire" => {
                let role = if word == "wire" { Role::Wire } else { Role::Rod };
                // "6.0 rod" and "rod 6.0" are both said.
                match sizes
                    .last_mut()
                    .filter(|size| size.role.is_none() && is_size(&tokens, at - 2))
                {
                    Some(size) => size.role = Some(role),
                    None => next_role = Some(role),
                }
                continue;
            }
            "ring" | "rings" | "trial" | "trials" | "blade" | "the" | "with" | "a" | "of"
            | "and" => continue,
            _ => {}
        }
        if let Some((from, to)) = days(word) {
            out.said.push(format!("tried from {from} to {to}"));
            out.filter.from = Some(from);
            out.filter.to = Some(to);
            continue;
        }
        if let Some((mut size, used, asked)) = size_at(&tokens[at - 1..]) {
            at += used - 1;
            size.role = next_role.take();
            out.is_bare |= asked.as_ref().is_some_and(|question| question.ask == Ask::LengthUnit);
            out.asked.extend(asked.filter(|question| question.ask != Ask::LengthUnit));
            sizes.push(size);
            continue;
        }
        let two = tokens.get(at).map(|next| format!("{word} {next}"));
        if word_of(two.as_deref(), metals, &mut out) {
            at += 1;
        } else if !word_of(Some(word), metals, &mut out) {
            out.said.push(format!("the word \u{201c}{word}\u{201d}"));
            out.filter.words.push(word.clone());
        }
    }
    take_sizes(sizes, says_on, &mut out);
    out
}

/// A size typed into the field for wire or for rod alone.
pub(super) fn size_of(typed: &str, is_wire: bool) -> Result<SizeClue, QuantityError> {
    let could_be_mm = match parse_length(typed) {
        Ok(length) => vec![length.value().mm()],
        Err(QuantityError::Unclear(question)) => readings(&question),
        Err(other) => return Err(other),
    };
    let role = if is_wire { Role::Wire } else { Role::Rod };
    let clues = could_be_mm.iter().map(|mm| clue(typed, *mm, role)).collect();
    Ok(any(clues))
}

/// Words in small letters, signs that join sizes as "on".
fn tokens(typed: &str) -> Vec<String> {
    let plain = typed.to_lowercase().replace(['\u{d7}', '\u{2a2f}', ';'], " on ");
    let words = plain.split_whitespace();
    words
        .map(|word| word.trim_end_matches(['?', ',', '!', ':']).to_owned())
        .map(|word| if word == "x" || word == "@" { "on".to_owned() } else { word })
        .filter(|word| !word.is_empty())
        .collect()
}

/// Whether the token at a place belongs to a size.
fn is_size(tokens: &[String], at: usize) -> bool {
    tokens.get(at).is_some_and(|word| !matches!(word.as_str(), "on" | "wire" | "rod" | "mandrel"))
}

/// The size at the head of some words, how many words it takes, and what is unclear about it.
fn size_at(tokens: &[String]) -> Option<(Size, usize, Option<Question>)> {
    const WORDS_MOST: usize = 4;
    let first = tokens.first()?;
    if !first.contains(|letter: char| letter.is_ascii_digit()) && first != "#" && first != "no" {
        return None;
    }
    for words in (1..=WORDS_MOST.min(tokens.len())).rev() {
        let typed = tokens[..words].join(" ");
        let (could_be_mm, asked) = match parse_length(&typed) {
            Ok(length) => (vec![length.value().mm()], None),
            Err(QuantityError::Unclear(question)) => match question.ask {
                Ask::LengthUnit if words == 1 => (readings(&question), Some(question)),
                Ask::GaugeSystem | Ask::CommaOrThousands => (readings(&question), Some(question)),
                _ => continue,
            },
            Err(_) => continue,
        };
        if could_be_mm.iter().all(|mm| *mm <= 0.0) {
            continue;
        }
        let is_gauge = typed.contains("wg")
            || typed.contains("b&s")
            || asked.as_ref().is_some_and(|question| question.ask == Ask::GaugeSystem);
        return Some((Size { typed, could_be_mm, is_gauge, role: None }, words, asked));
    }
    None
}

/// What an unclear size may be in a search: a bare number is millimetres here, since a search
/// records nothing.
fn readings(question: &Question) -> Vec<f64> {
    let all = question.readings.iter();
    match question.ask {
        Ask::LengthUnit => all
            .filter(|reading| {
                reading.type_instead.ends_with(" mm") && reading.label == reading.type_instead
            })
            .filter_map(linkwright_calc::quantity::Reading::mm)
            .take(1)
            .collect(),
        _ => all.filter_map(linkwright_calc::quantity::Reading::mm).collect(),
    }
}

/// Gives each size its part: the one before "on", else the smaller, is the wire.
fn take_sizes(mut sizes: Vec<Size>, says_on: bool, out: &mut Understood) {
    if sizes.len() > 2 {
        out.said.push(format!(
            "only two sizes are looked for; {} is left out",
            sizes[2..].iter().map(|size| size.typed.as_str()).collect::<Vec<_>>().join(", ")
        ));
        sizes.truncate(2);
    }
    let least = |size: &Size| size.could_be_mm.iter().copied().fold(f64::INFINITY, f64::min);
    let other = |role| if role == Role::Wire { Role::Rod } else { Role::Wire };
    if let [one, two] = sizes.as_mut_slice() {
        match (one.role, two.role) {
            (None, None) => {
                let wire_first = says_on || least(one) <= least(two);
                one.role = Some(if wire_first { Role::Wire } else { Role::Rod });
                two.role = one.role.map(other);
            }
            (Some(role), None) => two.role = Some(other(role)),
            (None, Some(role)) => one.role = Some(other(role)),
            (Some(_), Some(_)) => {}
        }
    } else if let [one] = sizes.as_mut_slice()
        && one.role.is_none()
        && (one.is_gauge || says_on)
    {
        one.role = Some(Role::Wire);
    }
    for size in &sizes {
        let typed = size.typed.as_str();
        let clues = size.could_be_mm.iter().map(|mm| match size.role {
            Some(role) => clue(typed, *mm, role),
            None => SizeClue::Any(vec![clue(typed, *mm, Role::Wire), clue(typed, *mm, Role::Rod)]),
        });
        let clue = any(clues.collect());
        out.said.push(in_words(&clue));
        out.filter.sizes.push(clue);
    }
}

fn any(mut clues: Vec<SizeClue>) -> SizeClue {
    match clues.len() {
        1 => clues.remove(0),
        _ => SizeClue::Any(clues),
    }
}

fn clue(typed: &str, mm: f64, role: Role) -> SizeClue {
    let off_mm = match role {
        Role::Rod => ROD_TOLERANCE_MM,
        Role::Wire => {
            // "1.6 mm" is said by whoever means 1.63: half of the digit that was typed.
            let decimals = typed
                .split(['.', ','])
                .nth(1)
                .map_or(0, |rest| rest.chars().take_while(char::is_ascii_digit).count());
            let half_digit_mm =
                if decimals == 1 && !typed.contains(['"', 'i', '\'']) { 0.05 } else { 0.0 };
            WIRE_TOLERANCE_MM.max(half_digit_mm).min(HALF_GAUGE_STEP * mm)
        }
    };
    let length = Length { low_mm: mm - off_mm, high_mm: mm + off_mm };
    if role == Role::Wire { SizeClue::Wire(length) } else { SizeClue::Rod(length) }
}

/// A clue as the page says it.
pub(super) fn in_words(clue: &SizeClue) -> String {
    let between = |length: &Length| format!("{:.2} to {:.2} mm", length.low_mm, length.high_mm);
    match clue {
        SizeClue::Wire(length) => format!("wire {}", between(length)),
        SizeClue::Rod(length) => format!("rod {}", between(length)),
        SizeClue::Either(length) => format!("wire or rod {}", between(length)),
        SizeClue::Any(clues) => clues.iter().map(in_words).collect::<Vec<_>>().join(", or "),
    }
}

/// Takes a word that is an outcome, a temper or a metal.
fn word_of(word: Option<&str>, metals: &Catalogue, out: &mut Understood) -> bool {
    let Some(word) = word else { return false };
    if let Some(outcome) = Outcome::from_word(word) {
        out.said.push(format!("outcome {outcome}"));
        out.filter.outcome = Some(outcome);
    } else if let Some(hardness) = Hardness::from_words(word) {
        out.said.push(format!("temper {hardness}"));
        out.filter.temper = Some(hardness.word().to_owned());
    } else if let Ok(metal) = metals.find(word) {
        out.said.push(format!("metal {}", metal.trade_name()));
        out.filter.metal = Some(metal.key().as_str().to_owned());
    } else {
        return false;
    }
    true
}

/// A year, a month or a day in the order of the calendar, as its first and last day.
fn days(word: &str) -> Option<(String, String)> {
    let parts: Vec<&str> = word.split('-').collect();
    let digits =
        |part: &str, count: usize| part.len() == count && part.bytes().all(|b| b.is_ascii_digit());
    let year = parts.first().filter(|year| digits(year, 4) && (**year).starts_with(['1', '2']))?;
    match parts[1..] {
        [] if year.starts_with("19") || year.starts_with("20") => {
            Some((format!("{year}-01-01"), format!("{year}-12-31")))
        }
        [month] if digits(month, 2) => {
            Some((format!("{year}-{month}-01"), format!("{year}-{month}-31")))
        }
        [month, day] if digits(month, 2) && digits(day, 2) => {
            Some((word.to_owned(), word.to_owned()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::metal::Catalogue;
    use linkwright_store::trials::SizeClue;

    use super::{Understood, understand};

    fn read(typed: &str) -> Understood {
        understand(typed, &Catalogue::built_in())
    }

    /// Whether a search would find a trial of 14 AWG (1.628 mm) on 6.0 mm.
    fn finds(typed: &str) -> bool {
        fn fits(clue: &SizeClue) -> bool {
            match clue {
                SizeClue::Wire(length) => (length.low_mm..=length.high_mm).contains(&1.627_7),
                SizeClue::Rod(length) => (length.low_mm..=length.high_mm).contains(&6.0),
                SizeClue::Either(_) => false,
                SizeClue::Any(clues) => clues.iter().any(fits),
            }
        }
        let understood = read(typed);
        !understood.filter.sizes.is_empty() && understood.filter.sizes.iter().all(fits)
    }

    #[test]
    fn one_trial_is_found_however_it_is_typed() {
        for typed in [
            "14 awg 6 mm",
            "14 AWG on 6 mm",
            "14awg 6mm",
            "1.63 on 6",
            "1.63 x 6.0",
            "1.63\u{d7}6",
            "6 1.63",
            "1.63 mm on 6.0 rod",
            "rod 6.0 wire 1.63",
            "rod 6 mm, wire 14 awg",
            ".064 in on 6 mm",
            "1,63 mm 6 mm",
            "1.6 on 6",
            "14 awg",
            "6 mm",
            "14ga? 6",
        ] {
            assert!(finds(typed), "{typed}: {:?}", read(typed));
        }
    }

    #[test]
    fn other_sizes_are_not_taken_for_it() {
        for typed in
            ["15 awg 6 mm", "1.63 on 6.5", "1.7 on 6", "14 swg 6 mm", "6 on 1.63", "16 awg"]
        {
            assert!(!finds(typed), "{typed}: {:?}", read(typed));
        }
    }

    #[test]
    fn a_gauge_without_its_system_is_asked_back_and_a_bare_number_is_said_to_be_millimetres() {
        let asked = read("14ga? ");
        assert_eq!(asked.asked.len(), 1);
        assert!(asked.asked[0].readings.len() >= 2);
        let bare = read("1.63 on 6");
        assert!(bare.is_bare && bare.asked.is_empty());
        assert_eq!(bare.said, ["wire 1.61 to 1.65 mm", "rod 5.95 to 6.05 mm"]);
        assert!(!read("1.63 mm").is_bare);
    }

    #[test]
    fn words_are_metal_temper_outcome_day_or_themselves() {
        let found = read("half hard brass good 2026-03 wobbly 18 awg");
        assert_eq!(found.filter.temper.as_deref(), Some("half hard"));
        assert!(found.filter.metal.as_deref().is_some_and(|metal| metal.starts_with("brass")));
        assert_eq!(found.filter.outcome.map(|outcome| outcome.word()), Some("good"));
        assert_eq!(found.filter.from.as_deref(), Some("2026-03-01"));
        assert_eq!(found.filter.words, ["wobbly"]);
        assert_eq!(found.filter.sizes.len(), 1);
    }

    #[test]
    fn nothing_typed_looks_for_everything_and_nonsense_never_panics() {
        assert_eq!(read("  ").filter, linkwright_store::trials::TrialFilter::default());
        for typed in ["#", "on on", "1/0", "rod", "99999999 awg", "-3 on -4", "\u{d7}", "1e400"] {
            let _ = read(typed);
        }
    }
}
