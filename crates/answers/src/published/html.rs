//! A published chart as one page that needs nothing else: no script, no picture, no network.

use askama::Template;

use super::PublishedChart;

#[derive(Template)]
#[template(path = "published_chart.html")]
struct Page<'a> {
    chart: &'a PublishedChart,
    cautions: Vec<&'static str>,
    how_to_read: &'static str,
    style: &'static str,
}

/// How the page looks on a phone, a desk and paper.
const STYLE: &str = include_str!("../../templates/published_chart.css");

impl PublishedChart {
    /// The page.
    ///
    /// # Errors
    /// Those of writing, which a string does not have.
    pub fn html(&self) -> Result<String, askama::Error> {
        Page {
            chart: self,
            cautions: PublishedChart::cautions(),
            how_to_read: PublishedChart::how_to_read(),
            style: STYLE,
        }
        .render()
    }
}
