//! `gauge`: a number of a system to its diameter, or a diameter to the nearest of each system.

use linkwright_calc::gauge::{Gauge, GaugeSystem, nearest};
use linkwright_calc::limits::{GAUGE_NUMBER, WIRE_DIAMETER};
use linkwright_calc::quantity::Length;

use crate::batch::asks::Ask;
use crate::batch::inputs::Inputs;
use crate::batch::reply::Reply;
use crate::refusal::Refusal;

pub static GAUGE: Ask =
    Ask { name: "gauge", keys: &["system", "number", "diameter_mm"], answer: answer_gauge };

const SYSTEMS: [(&str, GaugeSystem); 2] =
    [("awg", GaugeSystem::Awg), ("british_standard", GaugeSystem::BritishStandard)];

const SOURCE: &str = "AWG: ASTM B258 rule; British: sizes of the standard of 1884";

fn answer_gauge(inputs: &Inputs) -> Result<Reply, Refusal> {
    if inputs.has("diameter_mm") {
        inputs.refuse_beside("diameter_mm", &["system", "number"])?;
        return answer_nearest(inputs);
    }
    let system = inputs.one_of("system", &SYSTEMS)?;
    let number = inputs.integer("number", GAUGE_NUMBER)?;
    let diameter = system
        .gauge(number)
        .and_then(Gauge::diameter)
        .map_err(|error| inputs.bench("number", error))?;
    Ok(Reply::new()
        .number("wire_diameter_mm", diameter.mm())
        .number("wire_diameter_in", diameter.inches())
        .source(SOURCE))
}

fn answer_nearest(inputs: &Inputs) -> Result<Reply, Refusal> {
    let diameter = Length::from_mm(inputs.number("diameter_mm", WIRE_DIAMETER)?);
    let near = nearest(diameter);
    let error_mm = |gauge: Gauge| {
        let gauge = gauge.diameter();
        gauge
            .map(|gauge| (diameter - gauge).mm())
            .map_err(|error| inputs.bench("diameter_mm", error))
    };
    Ok(Reply::new()
        .number("wire_diameter_mm", diameter.mm())
        .value("awg_number", near.awg.number())
        .number("awg_error_mm", error_mm(near.awg)?)
        .number("awg_error_percent", near.awg_error_percent)
        .value("british_standard_number", near.british.number())
        .number("british_standard_error_mm", error_mm(near.british)?)
        .number("british_standard_error_percent", near.british_error_percent)
        .source(SOURCE))
}
