//! The four numbers of a run sheet that are looked up most.

use linkwright_calc::plan::RunSheet;

/// One of the numbers read at arm's length.
pub struct Key {
    /// What it is.
    pub label: &'static str,
    /// The number with its unit.
    pub value: String,
    /// What belongs to it.
    pub note: String,
}

/// The four numbers that are looked up most, in the order of the bench.
pub fn keys(sheet: &RunSheet) -> [Key; 4] {
    let rod = Key {
        label: "Rod",
        value: format!("{:.2} mm", sheet.rod.mandrel.diameter().mm()),
        note: format!("rod {}, wire {}", sheet.rod.name, sheet.rod.state.word()),
    };
    let wind: Vec<String> = sheet
        .coils
        .groups
        .iter()
        .map(|group| format!("{} \u{d7} {}", group.coils, group.wound.get()))
        .collect();
    let rings: Vec<String> =
        sheet.coils.groups.iter().map(|group| group.slit.get().to_string()).collect();
    let wind = Key {
        label: "Coils \u{d7} wound turns",
        value: wind.join(" + "),
        note: format!("{} rings from each", rings.join(", then ")),
    };
    let blade = sheet.blade();
    let blade = Key {
        label: "Blade, projection",
        value: format!("{:.2} mm", blade.projection.value.mm()),
        note: blade.name.clone(),
    };
    let good = Key {
        label: "Good rings",
        value: sheet.to_make.good.get().to_string(),
        note: format!("{} asked for + {} spare", sheet.to_make.asked.get(), sheet.to_make.spare),
    };
    [rod, wind, blade, good]
}
