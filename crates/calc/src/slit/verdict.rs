//! Whether a blade, as it is set, severs the near wall and spares the far one: every finding.

use super::stop::{reaches_mm, turns_beyond};
use super::{
    Allowances, Blade, DepthSetting, LastTurn, ProjectionWindow, SlitError, projection_window,
};
use crate::coil::{InsideDiameter, Pitch};
use crate::quantity::Length;
use crate::wire::Wire;

/// What a verdict is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VerdictQuery {
    /// The wire.
    pub wire: Wire,
    /// Inside of the open coil.
    pub inside: InsideDiameter,
    /// Pitch of the coil.
    pub pitch: Pitch,
    /// The blade.
    pub blade: Blade,
    /// How its depth is known.
    pub depth: DepthSetting,
    /// What the set-up takes from the window.
    pub allowances: Allowances,
    /// Where the last turn lies when the blade halts, if there is a stop.
    pub last_turn: Option<LastTurn>,
}

/// The verdict: margins, and everything that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// How far the blade reaches below the top of the coil; negative if it ends above.
    pub projection: Length,
    /// Depths at which the slot parts, parts cleanly, and reaches the far wall.
    pub window: ProjectionWindow,
    /// What is left on either side.
    pub margins: Margins,
    /// Distance from the axis within which a turn is severed; nothing if none is.
    pub severed_reach: Option<Length>,
    /// Clear length needed before the first turn; nothing if the blade touches none.
    pub head_start: Option<Length>,
    /// Turns not severed at the stop, if there is one and the blade severs at all.
    pub not_severed_at_stop: Option<u32>,
    /// All that is wrong, worst first; empty if the blade clears.
    pub findings: Vec<Finding>,
}

/// What is left on either side of the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// Projection less that of a clean cut; negative if it does not part cleanly.
    pub beyond_clean: Length,
    /// Far wall less projection, squash taken off but not the margin; negative if it is reached.
    pub before_far_wall: Length,
    /// Deepest projection the hub allows less projection; nothing if the hub is not measured.
    pub under_hub: Option<Length>,
}

/// One thing wrong with a blade as it is set.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Finding {
    /// It ends above the coil's top.
    AboveCoil {
        /// Gap between them.
        gap_mm: f64,
    },
    /// It reaches into the wire but does not part it.
    DoesNotReach {
        /// Depth missing for a clean cut.
        short_by_mm: f64,
    },
    /// It parts the middle of the slot but leaves a rim at its edges.
    LeavesRim {
        /// Depth missing for a clean cut.
        short_by_mm: f64,
    },
    /// It nicks the far wall.
    ReachesFarWall {
        /// Depth too much.
        over_by_mm: f64,
    },
    /// It clears the far wall, by less than the margin wanted.
    MarginThin {
        /// What is left before the far wall.
        left_mm: f64,
        /// Margin wanted.
        wanted_mm: f64,
    },
    /// Its hub meets what lies over the coil.
    HubTouches {
        /// Depth too much.
        over_by_mm: f64,
    },
    /// It would work past its own centre.
    PastBladeCentre {
        /// Depth beyond the blade's radius.
        over_by_mm: f64,
    },
}

impl Finding {
    /// Whether rings cannot be made so: all but a thin margin and a rim.
    #[must_use]
    pub const fn rules_out(self) -> bool {
        !matches!(self, Finding::MarginThin { .. } | Finding::LeavesRim { .. })
    }
}

impl Verdict {
    /// Whether nothing rules the blade out.
    #[must_use]
    pub fn clears(&self) -> bool {
        !self.findings.iter().any(|finding| finding.rules_out())
    }
}

/// Judges a blade as it is set for one coil.
///
/// Margins against [`projection_window`], the hub against `(Db - hub)/2 - clearance`, and the
/// turns left at the stop by [`stop_end`](super::stop_end). All findings are given, not the first.
///
/// # Units
/// Lengths.
/// # Validity
/// Coil straight, blade plane parallel to its axis.
/// # Errors
/// - [`SlitError::Coil`] if the pitch is below the wire;
/// - [`SlitError::SlotBesideBore`] if the slot's edge lies outside the hole.
/// # Source
/// Mechanics D1-D9.
///
/// ```
/// use linkwright_calc::coil::{InsideDiameter, Pitch};
/// use linkwright_calc::quantity::Length;
/// use linkwright_calc::slit::{
///     Allowances, Blade, BladeParts, DepthSetting, Finding, Kerf, Projection, VerdictQuery, verdict,
/// };
/// use linkwright_calc::wire::Wire;
/// let mm = Length::from_mm;
/// // 26 AWG on a 2.5 mm rod, blade 3 mm deep: the far side at 2.98 is nicked.
/// let judged = verdict(&VerdictQuery {
///     wire: Wire::new(mm(0.405)).unwrap(),
///     inside: InsideDiameter::new(mm(2.58)).unwrap(),
///     pitch: Pitch::new(mm(0.41)).unwrap(),
///     blade: Blade::new(BladeParts {
///         diameter: mm(31.75), kerf: Kerf::new(mm(0.2)).unwrap(), teeth: None, hub_diameter: None,
///     }).unwrap(),
///     depth: DepthSetting::Projection(Projection::new(mm(3.0)).unwrap()),
///     allowances: Allowances::NONE,
///     last_turn: None,
/// }).unwrap();
/// assert!(matches!(judged.findings[..], [Finding::ReachesFarWall { .. }]));
/// assert!(!judged.clears());
/// ```
pub fn verdict(query: &VerdictQuery) -> Result<Verdict, SlitError> {
    let VerdictQuery { wire, inside, pitch, blade, depth, allowances, last_turn } = *query;
    let pitch_mm = pitch.clearing(wire)?.advance().mm();
    let window = projection_window(wire, inside, blade.kerf(), allowances)?;
    let c_mm = depth.signed_projection_mm(blade);
    let d_mm = wire.diameter().mm();
    let blade_mm = blade.diameter().mm();
    let radius_mm = blade_mm / 2.0;

    let clean_mm = window.clean_with_offset.mm();
    let before_far_mm = window.far_wall_with_offset.mm() - allowances.squash().mm() - c_mm;
    let under_hub_mm = blade
        .hub_diameter()
        .map(|hub| (blade_mm - hub.mm()) / 2.0 - allowances.hub_clearance().mm() - c_mm);

    let mut findings = Vec::new();
    if c_mm <= 0.0 {
        findings.push(Finding::AboveCoil { gap_mm: -c_mm });
    } else if c_mm < d_mm {
        findings.push(Finding::DoesNotReach { short_by_mm: clean_mm - c_mm });
    } else if c_mm < clean_mm {
        findings.push(Finding::LeavesRim { short_by_mm: clean_mm - c_mm });
    }
    if c_mm > radius_mm {
        findings.push(Finding::PastBladeCentre { over_by_mm: c_mm - radius_mm });
    }
    if before_far_mm <= 0.0 {
        findings.push(Finding::ReachesFarWall { over_by_mm: -before_far_mm });
    }
    if let Some(under_mm) = under_hub_mm
        && under_mm < 0.0
    {
        findings.push(Finding::HubTouches { over_by_mm: -under_mm });
    }
    let wanted_mm = allowances.margin().mm();
    if before_far_mm > 0.0 && before_far_mm < wanted_mm {
        findings.push(Finding::MarginThin { left_mm: before_far_mm, wanted_mm });
    }

    let works = (0.0..=radius_mm).contains(&c_mm);
    let reaches = works.then(|| reaches_mm(blade_mm, c_mm, d_mm));
    let severed_mm = reaches.filter(|_| c_mm >= d_mm).map(|(severed_mm, _)| severed_mm);
    Ok(Verdict {
        projection: Length::from_mm(c_mm),
        window,
        margins: Margins {
            beyond_clean: Length::from_mm(c_mm - clean_mm),
            before_far_wall: Length::from_mm(before_far_mm),
            under_hub: under_hub_mm.map(Length::from_mm),
        },
        severed_reach: severed_mm.map(Length::from_mm),
        head_start: reaches.map(|(_, touched_mm)| Length::from_mm(touched_mm)),
        not_severed_at_stop: severed_mm
            .zip(last_turn)
            .map(|(severed_mm, last_turn)| turns_beyond(last_turn, severed_mm, pitch_mm)),
        findings,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

    use super::*;
    use crate::slit::{AllowanceParts, AxisHeight, BladeParts, Kerf, Projection};
    use crate::slit::{StopQuery, stop_end};

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    fn blade(diameter_mm: f64, hub_mm: f64) -> Blade {
        Blade::new(BladeParts {
            diameter: mm(diameter_mm),
            kerf: Kerf::new(mm(0.3)).unwrap(),
            teeth: None,
            hub_diameter: Some(mm(hub_mm)),
        })
        .unwrap()
    }

    fn query(inside_mm: f64, c_mm: f64) -> VerdictQuery {
        VerdictQuery {
            wire: Wire::new(mm(1.0)).unwrap(),
            inside: InsideDiameter::new(mm(inside_mm)).unwrap(),
            pitch: Pitch::new(mm(1.01)).unwrap(),
            blade: blade(22.0, 12.0),
            depth: DepthSetting::Projection(Projection::new(mm(c_mm)).unwrap()),
            allowances: Allowances::new(AllowanceParts {
                blade_offset: mm(0.1),
                squash: mm(0.1),
                margin: mm(0.5),
                hub_clearance: mm(0.5),
            })
            .unwrap(),
            last_turn: Some(LastTurn::from_blade_centre(mm(6.0)).unwrap()),
        }
    }

    fn findings(query: &VerdictQuery) -> Vec<Finding> {
        verdict(query).unwrap().findings
    }

    #[test]
    fn all_that_is_wrong_is_found_and_not_only_the_first() {
        // 5.5 deep on a ring 2 wide inside, with 4.5 allowed by the hub.
        let found = findings(&query(2.0, 5.5));
        // Far wall 3 - 0.0318 (0.25 aside on a radius of 1) - 0.1 of squash.
        assert!(
            matches!(found[..],
                [Finding::ReachesFarWall { over_by_mm: far }, Finding::HubTouches { over_by_mm: hub }]
                if (far - 2.6318).abs() < 5e-5 && (hub - 1.0).abs() < 1e-12),
            "{found:?}"
        );
    }

    #[test]
    fn a_blade_just_through_the_wire_leaves_a_rim_and_still_makes_rings() {
        // 0.25 aside on a radius of 2.5 lies 0.01253 lower.
        let judged = verdict(&query(5.0, 1.005)).unwrap();
        assert!(
            matches!(judged.findings[..], [Finding::LeavesRim { short_by_mm }]
                if (short_by_mm - 0.00753).abs() < 5e-6),
            "{judged:?}"
        );
        assert!(judged.clears());
    }

    #[test]
    fn a_thin_margin_is_told_with_what_is_left() {
        // Far wall 6 - 0.0125 - 0.1 of squash; 5.6 deep leaves 0.2875.
        let deep = VerdictQuery { blade: blade(40.0, 12.0), ..query(5.0, 5.6) };
        let found = findings(&deep);
        assert!(
            matches!(found[..], [Finding::MarginThin { left_mm, wanted_mm }]
                if (left_mm - 0.2875).abs() < 5e-5 && wanted_mm.to_bits() == 0.5_f64.to_bits()),
            "{found:?}"
        );
    }

    #[test]
    fn a_small_blade_on_the_axis_of_a_large_one_is_judged_and_not_refused() {
        let measured = Projection::new(mm(2.0)).unwrap();
        let axis = AxisHeight::from_measured(blade(38.1, 12.0), measured).unwrap();
        let small = VerdictQuery { depth: DepthSetting::AxisHeight(axis), ..query(5.0, 0.0) };
        let judged = verdict(&small).unwrap();
        // 22 mm reaches 8.05 less than 38.1 mm, so it ends 6.05 above the coil.
        assert!(
            matches!(judged.findings[..], [Finding::AboveCoil { gap_mm }]
                if (gap_mm - 6.05).abs() < 1e-12),
            "{judged:?}"
        );
        assert_eq!((judged.severed_reach, judged.not_severed_at_stop), (None, None));
    }

    #[test]
    fn a_slot_wider_than_the_hole_is_refused() {
        assert!(matches!(verdict(&query(0.4, 1.2)), Err(SlitError::SlotBesideBore { .. })));
    }

    proptest! {
        #[test]
        fn nothing_is_found_exactly_between_the_ends_of_the_window(
            inside_mm in 1.0..8.0, c_mm in 0.5..6.0,
        ) {
            let judged = verdict(&query(inside_mm, c_mm)).unwrap();
            let within = c_mm >= judged.window.clean_with_offset.mm()
                && c_mm <= judged.window.most_with_offset.mm()
                && c_mm <= 4.5;
            prop_assert_eq!(judged.findings.is_empty(), within, "{:?}", judged);
        }

        #[test]
        fn the_stop_end_of_a_verdict_is_that_of_the_stop_formula(c_mm in 1.1..4.4) {
            let query = query(5.0, c_mm);
            let judged = verdict(&query).unwrap();
            let stop = stop_end(StopQuery {
                blade: query.blade,
                projection: Projection::new(mm(c_mm)).unwrap(),
                wire: query.wire,
                pitch: query.pitch,
                last_turn: query.last_turn.unwrap(),
                sagitta: mm(0.0),
            })
            .unwrap();
            prop_assert_eq!(judged.not_severed_at_stop, Some(stop.turns_not_severed));
            prop_assert_eq!(judged.severed_reach, Some(stop.severed_reach));
            prop_assert_eq!(judged.head_start, Some(stop.touched_reach));
        }

        #[test]
        fn a_deeper_blade_is_never_further_from_the_far_wall(c_mm in 0.5..6.0, by_mm in 0.0..1.0) {
            let left = |c_mm| verdict(&query(5.0, c_mm)).unwrap().margins.before_far_wall;
            prop_assert!(left(c_mm + by_mm) <= left(c_mm));
        }
    }
}
