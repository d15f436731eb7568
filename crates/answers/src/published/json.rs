//! A published chart as JSON, unrounded.

use serde_json::{Value, json};

use super::{Place, PublishedChart};

impl PublishedChart {
    /// One object: what the chart is, and every place in order.
    ///
    /// # Units
    /// As the ends of the keys say; shares and chances of one.
    pub fn as_json(&self) -> Value {
        let place = |place: &Place| {
            json!({
                "wire_mm": place.wire_mm,
                "mandrel_mm": place.mandrel_mm,
                "blade": place.blade,
                "blade_dia_mm": place.blade_dia_mm,
                "blade_kerf_mm": place.blade_kerf_mm,
                "blade_teeth": place.blade_teeth,
                "axis_height_mm": place.axis_height_mm,
                "cut": place.cut,
                "good_share": place.good_share,
                "good_share_80": place.good_share_80,
                "chance_of_90": place.chance_of_90,
                "outlook": place.outlook().words(),
                "trials_here": place.trials_here,
                "rests_on": if place.trials_here > 0 { "tried" } else { "worked out" },
            })
        };
        json!({
            "kind": "blade chart",
            "metal": self.metal_key,
            "temper": self.temper,
            "date": self.date,
            "version": self.version,
            "trials": self.trials,
            "rests_on": self.rests_on(),
            "places": self.places().map(place).collect::<Vec<_>>(),
            "cautions": PublishedChart::cautions(),
        })
    }
}
