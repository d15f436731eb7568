//! A form as its page shows it.

use askama::Template;

use super::kept::{Field, Typed, Way, text};
use crate::form::Complaints;
use crate::frame::Frame;

/// A field with what stands in it and what is wrong with that.
pub(super) struct FieldView {
    field: Field,
    value: String,
    complaint: String,
}

impl FieldView {
    /// The fields with what was typed into them.
    pub(super) fn all(
        fields: Vec<Field>,
        typed: &Typed,
        complaints: &Complaints,
    ) -> Vec<FieldView> {
        fields
            .into_iter()
            .map(|field| FieldView {
                value: text(typed, field.name).to_owned(),
                complaint: complaints.about(field.name).to_owned(),
                field,
            })
            .collect()
    }
}

/// The form of something new, or of a change.
#[derive(Template)]
#[template(path = "pages/workshop/form.html")]
pub(super) struct FormPage {
    pub(super) frame: Frame,
    /// Part of the address and heading of the list it belongs to; "" if it belongs to none.
    pub(super) path: &'static str,
    pub(super) many: &'static str,
    pub(super) title: String,
    pub(super) back: String,
    /// What is wrong with the form as a whole.
    pub(super) whole: String,
    pub(super) fields: Vec<FieldView>,
}
