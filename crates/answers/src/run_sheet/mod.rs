//! A planned order as the jeweller sees it: text, page, JSON.

pub mod json;

pub mod ticks;

pub mod rows;

pub mod text;

pub mod figures;

pub mod view;

pub mod html;

/// Whether prices and costs are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Money {
    /// On the jeweller's own sheets.
    Shown,
    /// On sheets for a wall or a class.
    LeftOut,
}
