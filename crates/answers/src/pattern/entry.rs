//! A pattern file as written; `docs/pattern-file.md` describes each key.

use serde::Deserialize;
use toml::Spanned;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PatternFile {
    pub pattern: Spanned<String>,
    pub title: Spanned<String>,
    pub linking: Option<Spanned<String>>,
    /// Which of the chains found by the order of linking is meant.
    pub which: Option<Spanned<u32>>,
    pub repeat: RepeatEntry,
    #[serde(default)]
    pub ring_size: Vec<SizeEntry>,
    #[serde(default)]
    pub ring: Vec<RingEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SizeEntry {
    pub name: Spanned<String>,
    pub wire: Spanned<String>,
    pub ring: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RepeatEntry {
    /// `chain`, `sheet` or `none`.
    #[serde(rename = "as")]
    pub kind: Spanned<String>,
    pub along_mm: Option<Spanned<f64>>,
    pub aside_mm: Option<Spanned<f64>>,
    pub across_mm: Option<Spanned<f64>>,
    pub twist_deg: Option<Spanned<f64>>,
    pub twist_free: Option<Spanned<bool>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RingEntry {
    pub name: Spanned<String>,
    pub size: Option<Spanned<String>>,
    pub centre_mm: Option<Spanned<[f64; 3]>>,
    pub normal: Option<Spanned<[f64; 3]>>,
    #[serde(default)]
    pub through: Vec<Spanned<ThroughEntry>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ThroughEntry {
    pub ring: Spanned<String>,
    /// Repeats back, or repeats and rows.
    pub back: Option<Spanned<Back>>,
    /// `front` or `back`.
    pub from: Option<Spanned<String>>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(untagged)]
pub(super) enum Back {
    Along(i32),
    Both([i32; 2]),
}
