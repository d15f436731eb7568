//! How a metal looks on the page: a class that the style sheet gives three colours.

use linkwright_calc::metal::{Family, Metal};

/// The class of a metal, by its family and, for gold, by the colour in its name.
pub(super) fn metal_class(metal: &Metal) -> &'static str {
    let name = metal.trade_name().as_str().to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| name.contains(word));
    match metal.family() {
        Family::Silver => "metal-silver",
        Family::Gold | Family::GoldFilled if says(&["white", "palladium"]) => "metal-pale",
        Family::Gold | Family::GoldFilled if says(&["rose", "red", "pink"]) => "metal-rose",
        Family::Gold | Family::GoldFilled => "metal-gold",
        Family::Copper => "metal-copper",
        Family::Brass => "metal-brass",
        Family::Bronze => "metal-bronze",
        Family::NickelSilver => "metal-pale",
        Family::Aluminium => "metal-aluminium",
        Family::Titanium => "metal-titanium",
        Family::Niobium => "metal-niobium",
        _ => "metal-steel",
    }
}

#[cfg(test)]
mod tests {
    use linkwright_calc::metal::Catalogue;

    use super::metal_class;

    #[test]
    fn metals_of_different_colour_look_different() {
        let metals = Catalogue::built_in();
        let class = |name: &str| metal_class(metals.find(name).expect("known"));
        assert_eq!(class("sterling"), "metal-silver");
        assert_eq!(class("copper"), "metal-copper");
        assert_ne!(class("copper"), class("sterling"));
        // Every metal has some class of the style sheet.
        let sheet = include_str!("../../../assets/chain.css");
        for metal in metals.metals() {
            let class = metal_class(metal);
            assert!(sheet.contains(&format!(".{class} {{")), "{class}");
        }
    }
}
