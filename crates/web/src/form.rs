//! Forms: whose they are, what was typed, and what is wrong with it field by field.

use std::collections::BTreeMap;
use std::fmt::Display;
use std::fmt::Write as _;

use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use axum::{Form, RequestExt};
use hmac::{Hmac, KeyInit, Mac};
use linkwright_store::{Store, StoreError};
use rand::RngExt;
use serde::de::DeserializeOwned;
use sha2::Sha256;

use crate::error::PageError;
use crate::state::App;

/// What vouches for forms: a key kept in the data file, so that a page outlives a restart.
pub(crate) struct Tokens {
    key: Vec<u8>,
}

/// The token of one form as shown once: proof that the page is ours, and the name of this one
/// sending, so that a form sent twice is done once.
#[derive(Clone, Debug)]
pub(crate) struct Token {
    text: String,
}

impl Token {
    /// As it stands in the form.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// The same form sent for one tap of many: a page that sends taps without being shown again
    /// gives each a name of its own, so that two taps count twice and one sent twice counts once.
    pub(crate) fn of_tap(&self, name: &str) -> Token {
        let name: String =
            name.chars().filter(char::is_ascii_alphanumeric).take(TAP_NAME_MOST).collect();
        if name.is_empty() { self.clone() } else { Token { text: format!("{}#{name}", self.text) } }
    }
}

/// Longest name of a tap that is told apart.
const TAP_NAME_MOST: usize = 32;

const SETTING: &str = "form key";

const NO_FORM: &str =
    "what was sent is not a form of this app; open the page and send it from there";

impl Tokens {
    pub(crate) fn of(store: &Store) -> Result<Tokens, StoreError> {
        let kept = match store.setting(SETTING)? {
            Some(kept) => kept,
            None => {
                let fresh = random_hex();
                store.remember(SETTING, &fresh)?;
                fresh
            }
        };
        Ok(Tokens { key: kept.into_bytes() })
    }

    /// A token for a form about to be shown.
    pub(crate) fn fresh(&self) -> Token {
        let name = random_hex();
        let seal = hex(&self.sealed(&name).finalize().into_bytes());
        Token { text: format!("{name}.{seal}") }
    }

    /// The token of a form that came back, if it is one of ours.
    pub(crate) fn vouch(&self, text: &str) -> Option<Token> {
        let (name, seal) = text.split_once('.')?;
        self.sealed(name).verify_slice(&bytes(seal)?).ok()?;
        Some(Token { text: text.to_owned() })
    }

    fn sealed(&self, name: &str) -> Hmac<Sha256> {
        let mut mac = Hmac::<Sha256>::new_from_slice(&self.key)
            .unwrap_or_else(|_| unreachable!("a key of any length will do"));
        mac.update(name.as_bytes());
        mac
    }
}

fn random_hex() -> String {
    let mut bytes = [0_u8; 16];
    rand::rng().fill(&mut bytes);
    hex(&bytes)
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn bytes(hex: &str) -> Option<Vec<u8>> {
    let pairs = hex.as_bytes().chunks(2);
    pairs.map(|pair| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()).collect()
}

/// A form that came back: its token and what was typed into it.
pub(crate) struct Sent<T> {
    pub(crate) token: Token,
    pub(crate) typed: T,
}

impl<T: DeserializeOwned> FromRequest<App> for Sent<T> {
    type Rejection = PageError;

    async fn from_request(request: Request, app: &App) -> Result<Sent<T>, PageError> {
        let Form(pairs) =
            request.extract::<Form<Vec<(String, String)>>, _>().await.map_err(|rejection| {
                match rejection.status() {
                    StatusCode::PAYLOAD_TOO_LARGE => PageError::TooLarge,
                    _ => PageError::Unreadable(NO_FORM.to_owned()),
                }
            })?;
        let token = pairs.iter().find(|(name, _)| name == "token").map(|(_, text)| text.as_str());
        let token = app.tokens().vouch(token.unwrap_or("")).ok_or(PageError::NotOurForm)?;
        let object = pairs
            .into_iter()
            .filter(|(name, _)| name != "token")
            .map(|(name, text)| (name, serde_json::Value::from(text)))
            .collect::<serde_json::Map<_, _>>();
        let typed = serde_json::from_value(serde_json::Value::Object(object))
            .map_err(|error| {
                PageError::Unreadable(format!(
                    "this form did not come back whole ({error}); open the page again and repeat the last entry"
                ))
            })?;
        Ok(Sent { token, typed })
    }
}

/// What is wrong with a form, each complaint beside its field; "" is the form as a whole.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Complaints {
    by_field: BTreeMap<String, String>,
}

impl Complaints {
    /// Adds a complaint about a field; the first one stands.
    pub(crate) fn add(&mut self, field: &str, message: impl Display) {
        self.by_field.entry(field.to_owned()).or_insert_with(|| in_words(&message.to_string()));
    }

    /// What is wrong with a field, "" if nothing.
    pub(crate) fn about(&self, field: &str) -> &str {
        self.by_field.get(field).map_or("", String::as_str)
    }

    /// Adds the complaints of a part, each under the name its field has in the whole form.
    pub(crate) fn add_all(&mut self, part: Complaints, named: impl Fn(&str) -> String) {
        for (field, message) in part.by_field {
            self.add(&named(&field), message);
        }
    }

    /// Whether there is nothing to complain about.
    pub(crate) fn is_empty(&self) -> bool {
        self.by_field.is_empty()
    }

    /// Keeps a value that could be read; notes the complaint about one that could not.
    pub(crate) fn take<T, E: Display>(&mut self, field: &str, read: Result<T, E>) -> Option<T> {
        read.map_err(|error| self.add(field, error)).ok()
    }
}

/// A complaint that begins with the name a quantity has in files and commands, said as a person would:
/// "width_mm is 0.01 mm" is of the width.
fn in_words(message: &str) -> String {
    const UNITS: [&str; 7] = ["_mm", "_g", "_n", "_deg", "_rpm", "_mpa", "_g_cm3"];
    let is_name = |name: &str| name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
    let named =
        message.split_once(" is ").filter(|(name, _)| is_name(name)).and_then(|(name, rest)| {
            let bare = UNITS.into_iter().find_map(|unit| name.strip_suffix(unit))?;
            Some(format!("the {} is {rest}", bare.replace('_', " ")))
        });
    named.unwrap_or_else(|| message.to_owned())
}

/// What was typed, or nothing if it is blank.
pub(crate) fn given(typed: &str) -> Option<String> {
    let typed = typed.trim();
    (!typed.is_empty()).then(|| typed.to_owned())
}

#[cfg(test)]
mod tests {
    use linkwright_store::Store;

    use super::{Tokens, in_words};

    #[test]
    fn a_quantity_is_called_as_a_person_would_and_anything_else_is_left_alone() {
        for (given, said) in [
            ("width_mm is 0.01 mm; it must be", "the width is 0.01 mm; it must be"),
            ("closed_inside_diameter_mm is -4 mm", "the closed inside diameter is -4 mm"),
            ("\"18\" does not say which unit", "\"18\" does not say which unit"),
            ("this is it", "this is it"),
        ] {
            assert_eq!(in_words(given), said);
        }
    }

    #[test]
    fn a_token_outlives_a_restart_and_a_forged_one_is_refused() {
        let folder = tempfile::tempdir().expect("a folder");
        let store = Store::open(&folder.path().join("bench.linkwright")).expect("opens");
        let token = Tokens::of(&store).expect("a key").fresh();
        let later = Tokens::of(&store).expect("the same key");
        assert!(later.vouch(token.text()).is_some());
        let (name, seal) = token.text().split_once('.').expect("two parts");
        let other = later.fresh();
        let (other_name, _) = other.text().split_once('.').expect("two parts");
        assert!(later.vouch(&format!("{other_name}.{seal}")).is_none());
        assert!(later.vouch(&format!("{name}.")).is_none());
        assert!(later.vouch("").is_none());
    }
}
