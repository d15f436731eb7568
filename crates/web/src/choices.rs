//! How one device wants the pages shown; kept in a cookie of that device.

use axum::extract::Request;
use axum::http::HeaderMap;
use axum::http::header::COOKIE;
use axum::middleware::Next;
use axum::response::Response;

/// The colours a device is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Scheme {
    /// As the device is set.
    #[default]
    Device,
    /// Light paper.
    Light,
    /// Dark bench.
    Dark,
    /// Black and white with heavy lines.
    Contrast,
}

/// How one device wants the pages shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Choices {
    /// Its colours.
    pub(crate) scheme: Scheme,
    /// Whether it is held in the left hand.
    pub(crate) left_hand: bool,
}

/// Name of the cookie.
pub(crate) const COOKIE_NAME: &str = "looks";

tokio::task_local! {
    /// The choices of the request being answered. They are looks only, so they travel beside the
    /// request instead of through every page's arguments.
    static OF_THIS_REQUEST: Choices;
}

impl Scheme {
    /// Every scheme, in the order the page offers them.
    pub(crate) const ALL: [Scheme; 4] =
        [Scheme::Device, Scheme::Light, Scheme::Dark, Scheme::Contrast];

    /// Its name in the cookie, the form and the style sheet.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Scheme::Device => "device",
            Scheme::Light => "light",
            Scheme::Dark => "dark",
            Scheme::Contrast => "contrast",
        }
    }

    /// Its name as a person reads it.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Scheme::Device => "as this device is set",
            Scheme::Light => "light paper",
            Scheme::Dark => "dark bench",
            Scheme::Contrast => "high contrast",
        }
    }

    /// The scheme of this name.
    pub(crate) fn named(name: &str) -> Option<Scheme> {
        Scheme::ALL.into_iter().find(|scheme| scheme.name() == name)
    }
}

impl Choices {
    /// The choices of the request being answered; nothing chosen outside of one.
    pub(crate) fn of_this_request() -> Choices {
        OF_THIS_REQUEST.try_with(|choices| *choices).unwrap_or_default()
    }

    /// Does something with these as the choices of the request being answered.
    pub(crate) fn around<T>(self, doing: impl FnOnce() -> T) -> T {
        OF_THIS_REQUEST.sync_scope(self, doing)
    }

    /// The classes they put on the body.
    pub(crate) fn body_classes(self) -> String {
        let scheme = match self.scheme {
            Scheme::Device => "",
            other => other.name(),
        };
        [scheme, if self.left_hand { "left" } else { "" }].join(" ").trim().to_owned()
    }

    /// As the cookie keeps them.
    pub(crate) fn cookie_value(self) -> String {
        format!("{}.{}", self.scheme.name(), if self.left_hand { "left" } else { "right" })
    }

    fn from_headers(headers: &HeaderMap) -> Choices {
        let cookies = headers.get_all(COOKIE).iter().filter_map(|cookie| cookie.to_str().ok());
        let kept = cookies
            .flat_map(|cookies| cookies.split(';'))
            .filter_map(|cookie| cookie.trim().split_once('='))
            .find(|(name, _)| *name == COOKIE_NAME);
        let Some((scheme, hand)) = kept.and_then(|(_, value)| value.split_once('.')) else {
            return Choices::default();
        };
        Choices { scheme: Scheme::named(scheme).unwrap_or_default(), left_hand: hand == "left" }
    }
}

/// Answers every request with the choices of the device that asks.
pub(crate) async fn carry(request: Request, next: Next) -> Response {
    let choices = Choices::from_headers(request.headers());
    OF_THIS_REQUEST.scope(choices, next.run(request)).await
}

#[cfg(test)]
mod tests {
    use axum::http::{HeaderMap, HeaderValue};

    use super::{Choices, Scheme};

    fn read(cookie: &'static str) -> Choices {
        let mut headers = HeaderMap::new();
        headers.insert("cookie", HeaderValue::from_static(cookie));
        Choices::from_headers(&headers)
    }

    #[test]
    fn choices_come_back_from_their_cookie() {
        for scheme in Scheme::ALL {
            for left_hand in [false, true] {
                let choices = Choices { scheme, left_hand };
                let cookie = format!("other=1; looks={}", choices.cookie_value());
                let mut headers = HeaderMap::new();
                headers.insert("cookie", HeaderValue::from_str(&cookie).expect("plain"));
                assert_eq!(Choices::from_headers(&headers), choices);
            }
        }
    }

    #[test]
    fn a_meddled_cookie_chooses_nothing() {
        assert_eq!(read("looks=<script>.left").scheme, Scheme::Device);
        assert_eq!(read("looks="), Choices::default());
        assert_eq!(read("unrelated"), Choices::default());
    }
}
