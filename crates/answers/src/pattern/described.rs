//! What a pattern file says, in the types of `linkage`.

use linkwright_calc::quantity::{RingSide, RingState, parse_ring_size};
use linkwright_calc::wire::Wire;
use linkwright_linkage::answer::ClosedRing;
use linkwright_linkage::pattern::find::{LinkList, Repeat};
use linkwright_linkage::pattern::{Cell, Link, PatternSpec, RingSpec, SizeSpec, craft};
use linkwright_linkage::vector::Vec3;
use toml::Spanned;

use super::entry::{Back, PatternFile, RingEntry, SizeEntry, ThroughEntry};
use crate::chain::bare;
use crate::files::document::{Document, FileError};

/// A pattern as the file describes it, not yet tried.
pub struct Described {
    pub(super) document: Document,
    pub(super) file: PatternFile,
    /// The pattern.
    pub lay: Lay,
    /// The ring of each size, main one first.
    pub rings: Vec<ClosedRing>,
    /// Which of the chains found is meant, from 1.
    pub which: Option<usize>,
}

/// How the file lays the rings.
#[derive(Debug, PartialEq)]
pub enum Lay {
    /// By a rough place of every ring.
    Places(PatternSpec),
    /// By the order of linking alone.
    Order(LinkList),
}

/// Most rings a repeat may have, and most rings that one passes through.
const MOST_RINGS: usize = 60;
const MOST_THROUGH: usize = 40;
/// Most ring sizes.
const MOST_SIZES: usize = 12;
/// Other sizes may be this many times larger or smaller than the main one.
const SIZE_RATIO: f64 = 20.0;
/// Largest number that a place may hold.
const FARTHEST_MM: f64 = 10_000.0;
/// Most repeats back.
const FARTHEST_BACK: i32 = 20;
/// Longest name.
const NAME_CHARS: usize = 60;

impl Described {
    /// Reads a file already at hand.
    ///
    /// # Errors
    /// [`FileError`] says what is wrong: line, field, value, and what would do.
    pub fn read(document: &Document) -> Result<Described, FileError> {
        let file: PatternFile = document.entries()?;
        let reader = Reader { document, file: &file };
        let (rings, sizes) = reader.sizes()?;
        let lay = reader.lay(&rings, sizes)?;
        let which = reader.which(&lay)?;
        Ok(Described { document: document.clone(), lay, rings, which, file })
    }

    /// Whether its key is this one, however it is spaced.
    pub fn has_key_of(&self, other: &str) -> bool {
        bare(self.file.pattern.get_ref()) == bare(other)
    }

    /// Names of the rings, in the order of the file.
    pub fn ring_names(&self) -> Vec<&str> {
        self.file.ring.iter().map(|ring| ring.name.get_ref().as_str()).collect()
    }
}

struct Reader<'a> {
    document: &'a Document,
    file: &'a PatternFile,
}

impl Reader<'_> {
    fn key(&self) -> Result<String, FileError> {
        let typed = &self.file.pattern;
        let key = typed.get_ref();
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        if key.is_empty() || key.len() > NAME_CHARS || !key.chars().all(plain) {
            let message = "a pattern's key has small letters a to z, digits and _ only, 60 at most";
            return Err(self.document.wrong("pattern", typed, message));
        }
        // However it is spaced, so that neither stands in the other's way where a name is typed.
        if let Some(there) = craft::all().iter().find(|spec| bare(&spec.name) == bare(key)) {
            let message = format!(
                "a pattern that comes with the program has that key, {}; choose another",
                there.name
            );
            return Err(self.document.wrong("pattern", typed, &message));
        }
        Ok(key.clone())
    }

    fn sizes(&self) -> Result<(Vec<ClosedRing>, Vec<SizeSpec>), FileError> {
        let entries = &self.file.ring_size;
        let Some(first) = entries.first() else {
            let message = "add a [[ring_size]] with name, wire and ring, the main one first";
            return Err(self.document.missing("ring_size", message));
        };
        if let Some(beyond) = entries.get(MOST_SIZES) {
            let message = format!("at most {MOST_SIZES} ring sizes are taken");
            return Err(self.document.wrong("ring_size name", &beyond.name, &message));
        }
        let mut rings: Vec<ClosedRing> = Vec::new();
        let mut sizes = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            let within = self.document.within(&format!("ring size \"{}\"", entry.name.get_ref()));
            if names(entries[..index].iter().map(|size| &size.name), entry.name.get_ref()) {
                return Err(within.wrong("name", &entry.name, "two ring sizes have that name"));
            }
            let ring = closed_ring(entry, &within)?;
            let main = *rings.first().unwrap_or(&ring);
            let across = |ring: &ClosedRing| (ring.inside() + ring.wire().diameter()).mm();
            let share = SizeSpec {
                radius: across(&ring) / across(&main),
                wire: ring.wire().diameter().mm() / main.wire().diameter().mm(),
            };
            let near = |share: f64| (1.0 / SIZE_RATIO..=SIZE_RATIO).contains(&share);
            if !near(share.radius) || !near(share.wire) {
                let message = format!(
                    "rings and wires of one pattern may differ by a factor of {SIZE_RATIO} from those \
                     of the main size, \"{}\"",
                    first.name.get_ref()
                );
                return Err(within.wrong("ring", &entry.ring, &message));
            }
            rings.push(ring);
            sizes.push(if index == 0 { SizeSpec::MAIN } else { share });
        }
        Ok((rings, sizes))
    }

    fn lay(&self, rings: &[ClosedRing], sizes: Vec<SizeSpec>) -> Result<Lay, FileError> {
        let entries = &self.file.ring;
        let Some(first) = entries.first() else {
            let message = "add a [[ring]] with a name for every ring of one repeat";
            return Err(self.document.missing("ring", message));
        };
        if let Some(beyond) = entries.get(MOST_RINGS) {
            let message = format!("at most {MOST_RINGS} rings a repeat are taken");
            return Err(self.document.wrong("ring name", &beyond.name, &message));
        }
        let name = self.key()?;
        let title = self.words("title", &self.file.title)?;
        let linking = match &self.file.linking {
            Some(typed) => self.words("linking", typed)?,
            None => String::new(),
        };
        let indices =
            entries.iter().map(|ring| self.size_of(ring)).collect::<Result<Vec<_>, _>>()?;
        let links = self.links()?;
        if first.centre_mm.is_none() {
            self.no_places()?;
            let repeat = self.repeat()?;
            return Ok(Lay::Order(LinkList {
                name,
                title,
                linking,
                sizes,
                rings: indices,
                links,
                repeat,
            }));
        }
        let radius_mm =
            rings.first().map_or(1.0, |ring| 0.5 * (ring.inside() + ring.wire().diameter()).mm());
        let cell = self.cell(radius_mm)?;
        let placed = entries.iter().zip(indices).map(|(ring, size)| {
            let within = self.within(ring);
            let message = "every ring has a rough place or none has: add centre_mm = [x, y, z]";
            let centre =
                ring.centre_mm.as_ref().ok_or_else(|| within.missing("centre_mm", message))?;
            let message = "say which way its face looks: normal = [x, y, z]";
            let normal = ring.normal.as_ref().ok_or_else(|| within.missing("normal", message))?;
            Ok(RingSpec {
                size,
                centre: vector(&within, "centre_mm", centre)? * (1.0 / radius_mm),
                normal: vector(&within, "normal", normal)?,
            })
        });
        let rings = placed.collect::<Result<Vec<_>, FileError>>()?;
        Ok(Lay::Places(PatternSpec { name, title, linking, sizes, rings, links, cell }))
    }

    fn which(&self, lay: &Lay) -> Result<Option<usize>, FileError> {
        let Some(typed) = &self.file.which else {
            return Ok(None);
        };
        if matches!(lay, Lay::Places(_)) {
            let message = "rough places say which chain is meant; leave it out";
            return Err(self.document.wrong("which", typed, message));
        }
        match usize::try_from(*typed.get_ref()) {
            Ok(which @ 1..) => Ok(Some(which)),
            _ => Err(self.document.wrong("which", typed, "the chains found are counted from 1")),
        }
    }

    fn words(&self, field: &str, typed: &Spanned<String>) -> Result<String, FileError> {
        let words = typed.get_ref();
        if words.chars().count() > 300 || words.chars().any(char::is_control) {
            return Err(self.document.wrong(field, typed, "one line of at most 300 letters"));
        }
        Ok(words.clone())
    }

    pub(super) fn within(&self, ring: &RingEntry) -> Document {
        self.document.within(&format!("ring \"{}\"", ring.name.get_ref()))
    }

    fn size_of(&self, ring: &RingEntry) -> Result<usize, FileError> {
        let (within, sizes) = (self.within(ring), &self.file.ring_size);
        if ring.name.get_ref().is_empty() || ring.name.get_ref().len() > NAME_CHARS {
            return Err(within.wrong("name", &ring.name, "a name of 1 to 60 letters"));
        }
        let Some(typed) = &ring.size else {
            return if sizes.len() == 1 {
                Ok(0)
            } else {
                Err(within.missing("size", "there are several ring sizes: say which one it is"))
            };
        };
        let found = sizes.iter().position(|size| size.name.get_ref() == typed.get_ref());
        found.ok_or_else(|| {
            let known: Vec<&str> = sizes.iter().map(|s| s.name.get_ref().as_str()).collect();
            let message = format!("no [[ring_size]] has that name; there are {}", known.join(", "));
            within.wrong("size", typed, &message)
        })
    }

    fn no_places(&self) -> Result<(), FileError> {
        for ring in &self.file.ring {
            let message = "every ring has a rough place or none has: the first ring has none";
            let within = self.within(ring);
            if let Some(typed) = &ring.centre_mm {
                return Err(within.wrong("centre_mm", typed, message));
            }
            if let Some(typed) = &ring.normal {
                return Err(within.wrong("normal", typed, message));
            }
        }
        let repeat = &self.file.repeat;
        for (field, typed) in [
            ("along_mm", &repeat.along_mm),
            ("aside_mm", &repeat.aside_mm),
            ("across_mm", &repeat.across_mm),
        ] {
            if let Some(typed) = typed {
                let message = "goes with rough places; by the order of linking it is looked for";
                return Err(self.document.within("repeat").wrong(field, typed, message));
            }
        }
        Ok(())
    }

    fn links(&self) -> Result<Vec<Link>, FileError> {
        let mut links = Vec::new();
        for (at, ring) in self.file.ring.iter().enumerate() {
            let within = self.within(ring);
            if names(self.file.ring[..at].iter().map(|ring| &ring.name), ring.name.get_ref()) {
                return Err(within.wrong("name", &ring.name, "two rings have that name"));
            }
            if let Some(beyond) = ring.through.get(MOST_THROUGH) {
                let message = format!("a ring may pass through {MOST_THROUGH} others at most");
                return Err(within.wrong("through", beyond, &message));
            }
            for through in &ring.through {
                links.push(self.link(at, through.get_ref(), &within)?);
            }
        }
        Ok(links)
    }

    fn link(
        &self,
        at: usize,
        through: &ThroughEntry,
        within: &Document,
    ) -> Result<Link, FileError> {
        let earlier = through.ring.get_ref();
        let found = self.file.ring.iter().position(|ring| ring.name.get_ref() == earlier);
        let Some(first) = found else {
            return Err(within.wrong("through ring", &through.ring, "no [[ring]] has that name"));
        };
        let image = match through.back.as_ref().map(|back| *back.get_ref()) {
            None => [0, 0],
            Some(Back::Along(cells)) => [cells, 0],
            Some(Back::Both(cells)) => cells,
        };
        if let Some(typed) = &through.back {
            let message = match self.file.repeat.kind.get_ref().as_str() {
                "none" if image != [0, 0] => "a piece that does not repeat has no repeats back",
                "chain" if image[1] != 0 => "a chain has no rows: give one number of repeats",
                _ if image[1] < 0 || (image[1] == 0 && image[0] < 0) => {
                    "a ring passes through rings that are there already: count rows and repeats back"
                }
                _ if image
                    .iter()
                    .any(|cells| cells.unsigned_abs() > FARTHEST_BACK.unsigned_abs()) =>
                {
                    "at most 20 repeats back are taken"
                }
                _ => "",
            };
            if !message.is_empty() {
                return Err(within.wrong("through back", typed, message));
            }
        }
        if image == [0, 0] && first >= at {
            let message = "a ring passes through rings that are there already: within one repeat, \
                           those further up in the file; or add back = 1 for the repeat before";
            return Err(within.wrong("through ring", &through.ring, message));
        }
        let sign = match &through.from {
            None => 0,
            Some(typed) => match typed.get_ref().as_str() {
                // Against the earlier ring's normal, which stands out of its front.
                "front" => -1,
                "back" => 1,
                _ => {
                    let message = "say from = \"front\" or from = \"back\", or leave it out";
                    return Err(within.wrong("through from", typed, message));
                }
            },
        };
        Ok(Link { first, second: at, image, sign })
    }

    fn repeat(&self) -> Result<Repeat, FileError> {
        let entry = &self.file.repeat;
        let twist_free = entry.twist_free.as_ref().is_some_and(|free| *free.get_ref());
        match self.kind()? {
            "chain" => Ok(Repeat::Chain { twist_rad: self.twist_rad()?, twist_free }),
            "sheet" => Ok(Repeat::Sheet),
            _ => Ok(Repeat::Not),
        }
    }

    /// `chain`, `sheet` or `none`, with nothing said that does not belong to it.
    fn kind(&self) -> Result<&str, FileError> {
        let (entry, document) = (&self.file.repeat, self.document.within("repeat"));
        let kind = entry.kind.get_ref().as_str();
        let twists = || {
            let deg = entry
                .twist_deg
                .as_ref()
                .map(|typed| document.wrong("twist_deg", typed, ONLY_CHAINS));
            let free =
                || entry.twist_free.as_ref().map(|t| document.wrong("twist_free", t, ONLY_CHAINS));
            deg.or_else(free)
        };
        let rows = || {
            let aside =
                entry.aside_mm.as_ref().map(|typed| document.wrong("aside_mm", typed, ONLY_SHEETS));
            aside.or_else(|| {
                entry
                    .across_mm
                    .as_ref()
                    .map(|typed| document.wrong("across_mm", typed, ONLY_SHEETS))
            })
        };
        let along = || {
            let message = "a piece that does not repeat has no advance";
            entry.along_mm.as_ref().map(|typed| document.wrong("along_mm", typed, message))
        };
        let trouble = match kind {
            "chain" => rows(),
            "sheet" => twists(),
            "none" => twists().or_else(rows).or_else(along),
            _ => {
                let message = "say as = \"chain\", as = \"sheet\" or as = \"none\"";
                Some(document.wrong("as", &entry.kind, message))
            }
        };
        trouble.map_or(Ok(kind), Err)
    }

    fn twist_rad(&self) -> Result<f64, FileError> {
        let Some(typed) = &self.file.repeat.twist_deg else {
            return Ok(0.0);
        };
        if typed.get_ref().abs() <= 360.0 {
            return Ok(typed.get_ref().to_radians());
        }
        let message = "a turn of at most 360 degrees either way per repeat";
        Err(self.document.within("repeat").wrong("twist_deg", typed, message))
    }

    fn cell(&self, radius_mm: f64) -> Result<Cell, FileError> {
        let (entry, document) = (&self.file.repeat, self.document.within("repeat"));
        let advance = |field: &str, typed: &Option<Spanned<f64>>| {
            let message = "with rough places, say how far the next repeat is";
            let typed = typed.as_ref().ok_or_else(|| document.missing(field, message))?;
            let mm = *typed.get_ref();
            if mm > 0.0 && mm <= FARTHEST_MM {
                return Ok(mm / radius_mm);
            }
            Err(document.wrong(field, typed, "between 0 and 10000 mm, and more than nothing"))
        };
        match self.kind()? {
            "chain" => Ok(Cell::Screw {
                period: advance("along_mm", &entry.along_mm)?,
                twist_rad: self.twist_rad()?,
                twist_free: entry.twist_free.as_ref().is_some_and(|free| *free.get_ref()),
            }),
            "sheet" => Ok(Cell::Lattice {
                along: advance("along_mm", &entry.along_mm)?,
                shear: match &entry.aside_mm {
                    None => 0.0,
                    Some(typed) if typed.get_ref().abs() <= FARTHEST_MM => {
                        typed.get_ref() / radius_mm
                    }
                    Some(typed) => {
                        return Err(document.wrong(
                            "aside_mm",
                            typed,
                            "at most 10000 mm either way",
                        ));
                    }
                },
                across: advance("across_mm", &entry.across_mm)?,
            }),
            _ => Ok(Cell::Cluster),
        }
    }
}

const ONLY_CHAINS: &str = "only a chain can twist from repeat to repeat";
const ONLY_SHEETS: &str = "only a sheet has rows";

fn names<'a>(mut of: impl Iterator<Item = &'a Spanned<String>>, name: &str) -> bool {
    of.any(|other| other.get_ref() == name)
}

fn closed_ring(entry: &SizeEntry, document: &Document) -> Result<ClosedRing, FileError> {
    let wire = document.length("wire", &entry.wire)?;
    let wire = document.parsed("wire", &entry.wire, Wire::new(wire))?;
    let (size, side, state) =
        document.parsed("ring", &entry.ring, parse_ring_size(entry.ring.get_ref()))?;
    if state != Some(RingState::Closed) {
        let message = "a pattern is linked of closed rings: give the closed ring's size and add the \
                       word closed";
        return Err(document.wrong("ring", &entry.ring, message));
    }
    let inside = match side {
        RingSide::Inside => size.value(),
        RingSide::Outside => size.value() - wire.diameter() - wire.diameter(),
    };
    document.parsed("ring", &entry.ring, ClosedRing::new(wire, inside))
}

fn vector(document: &Document, field: &str, typed: &Spanned<[f64; 3]>) -> Result<Vec3, FileError> {
    let numbers = *typed.get_ref();
    if numbers.iter().all(|number| number.abs() <= FARTHEST_MM) {
        return Ok(Vec3::new(numbers[0], numbers[1], numbers[2]));
    }
    Err(document.wrong(field, typed, "three numbers, each between -10000 and 10000"))
}
