//! Properties of the learning: it narrows, recovers, does not mind order or scale, and keeps its word.

use proptest::prelude::{prop_assert, proptest};

use super::fit::LotFit;
use super::prior::{LotPrior, WireState};
use super::share::Bend;
use super::trial::RingTrial;
use super::{CoilTarget, LotStates, Reach, Verdict, choose_mandrel, flow_ratio_read_back};
use crate::metal::{Band, Verified};
use crate::quantity::Length;
use crate::wind::Mandrel;
use crate::wire::Wire;

fn prior(exponent: Option<[f64; 3]>, state: WireState) -> LotPrior {
    let ratio = Band::new([0.0049, 0.0055, 0.0062], "invented", Verified::Estimated).unwrap();
    let exponent = exponent.map(|e| Band::new(e, "invented", Verified::Estimated).unwrap());
    LotPrior::from_bands(&ratio, exponent.as_ref(), state).unwrap()
}

fn hard() -> LotPrior {
    prior(None, WireState::AsBought)
}

fn wire(d_mm: f64) -> Wire {
    Wire::new(Length::from_mm(d_mm)).unwrap()
}

fn rod(mm: f64) -> Mandrel {
    Mandrel::new(Length::from_mm(mm)).unwrap()
}

fn trial(d_mm: f64, rod_mm: f64, read_mm: &[f64], resolution_mm: f64) -> RingTrial {
    let read: Vec<Length> = read_mm.iter().copied().map(Length::from_mm).collect();
    RingTrial::new(wire(d_mm), rod(rod_mm), &read, Length::from_mm(resolution_mm)).unwrap()
}

/// The ring a lot of ratio `q` at 20 % strain and exponent `n` gives, mm.
fn ring_mm(d_mm: f64, rod_mm: f64, q: f64, n: f64) -> f64 {
    let bend = Bend::new(wire(d_mm), rod(rod_mm));
    bend.inside_mm(q.ln() + n * bend.log_strain()).unwrap()
}

#[test]
fn ten_exact_coils_on_each_of_four_rods_give_back_ratio_and_exponent() {
    let (q, n) = (0.0047, 0.12);
    let trials: Vec<RingTrial> = [2.0, 3.0, 5.0, 9.0]
        .iter()
        .flat_map(|&rod_mm| {
            let read = [ring_mm(1.0, rod_mm, q, n); 30];
            std::iter::repeat_n(trial(1.0, rod_mm, &read, 0.0), 10)
        })
        .collect();
    let lot = LotFit::new(&hard(), &trials);
    // What is left of the belief before: the variance of 40 coils of some 1 % against the prior's
    // 18 %, times how far off it began (0.16 in ln q, 0.07 in n).
    assert!((lot.flow_ratio().value.typical / q - 1.0).abs() < 1e-3);
    assert!((lot.transfer_exponent().typical - n).abs() < 0.01);
    assert!(lot.disagreement().unwrap() < 0.5);
}

#[test]
fn a_coil_from_another_state_is_pointed_out() {
    let mut trials: Vec<RingTrial> = [3.0, 3.5, 4.0, 4.5, 5.0]
        .iter()
        .map(|&rod_mm| trial(0.81, rod_mm, &[ring_mm(0.81, rod_mm, 0.0054, 0.0)], 0.01))
        .collect();
    assert!(LotFit::new(&hard(), &trials).cautions().is_empty());
    let soft = ring_mm(0.81, 4.0, 0.0020, 0.0);
    trials.push(trial(0.81, 4.0, &[soft, soft, soft], 0.01));
    let lot = LotFit::new(&hard(), &trials);
    assert!(lot.cautions()[0].to_string().contains("check its mandrel"), "{:?}", lot.cautions());
}

#[test]
fn before_any_reading_the_ring_is_worked_out_and_wide_and_one_reading_sharpens_it() {
    let before = LotFit::new(&hard(), &[]).predict(wire(0.81), rod(3.5)).unwrap();
    assert_eq!(before.basis.word(), "worked out");
    assert_eq!(before.value.reach, Reach::Untried);
    let read = [3.17, 3.16, 3.18];
    let lot = LotFit::new(&hard(), &[trial(0.81, 3.0, &read, 0.01)]);
    let after = lot.predict(wire(0.81), rod(3.5)).unwrap();
    let width = |ring: &super::PredictedRing| ring.high.unwrap().mm() - ring.low.mm();
    // A range of 24 % of the growth becomes one of a coil's and a ring's scatter.
    assert!(width(&after.value) < 0.6 * width(&before.value));
    let here = lot.predict(wire(0.81), rod(3.0)).unwrap();
    assert_eq!(here.basis.to_string(), "tried once");
    assert_eq!(here.value.reach.to_string(), "tried here, 1 trial");
}

#[test]
fn a_metal_that_hardens_carries_its_ring_to_another_rod_by_its_exponent() {
    let soft = prior(Some([0.40, 0.49, 0.55]), WireState::Annealed);
    let seen = ring_mm(1.0, 3.0, 0.0027, 0.49);
    let lot = LotFit::new(&soft, &[trial(1.0, 3.0, &[seen; 20], 0.0)]);
    let carried = lot.predict(wire(1.0), rod(9.0)).unwrap().value.inside_diameter.mm();
    let (true_mm, without) = (
        ring_mm(1.0, 9.0, 0.0027, 0.49),
        // The ratio read back on 3 mm, taken as it stands to 9 mm.
        ring_mm(1.0, 9.0, flow_ratio_read_back(wire(1.0), rod(3.0), Length::from_mm(seen)), 0.0),
    );
    // The belief before still pulls the reading by some 5 % of a difference of 0.7 in ln q.
    assert!((carried - true_mm).abs() < 0.3 * (without - true_mm), "{carried} {true_mm} {without}");
}

#[test]
fn equal_readings_of_a_coarse_scale_do_not_average_out_their_rounding() {
    let width = |resolution_mm: f64| {
        let read = [3.2; 40];
        let ratio = LotFit::new(&hard(), &[trial(0.81, 3.0, &read, resolution_mm)]).flow_ratio();
        (ratio.value.high / ratio.value.low).ln()
    };
    // A step of 0.1 mm on a growth of 0.2 mm is 0.14 in ln q; 0.01 mm is lost beside a coil's scatter.
    assert!(width(0.1) > 1.8 * width(0.01), "{} {}", width(0.1), width(0.01));
}

#[test]
fn of_two_rods_the_one_with_the_better_chance_leads_even_if_its_middle_is_farther() {
    // On 3.5 mm the tried wire comes to 3.56, 0.06 over, nearly always; annealed and untried it
    // comes to 3.58 with a range of which more lies within 0.05.
    let read = [3.56; 20];
    let tried =
        LotFit::new(&hard(), &std::array::from_fn::<_, 8, _>(|_| trial(0.81, 3.5, &read, 0.0)));
    let ratio = Band::new([0.0019, 0.0020, 0.0021], "invented", Verified::Estimated).unwrap();
    let soft = LotPrior::from_bands(&ratio, None, WireState::Annealed).unwrap();
    let choice = choose_mandrel(
        &CoilTarget {
            wire: wire(0.81),
            inside_diameter: Length::from_mm(3.5),
            tolerance: Length::from_mm(0.05),
        },
        &[rod(3.5)],
        LotStates { as_bought: &tried, annealed: Some(&LotFit::new(&soft, &[])) },
    )
    .unwrap();
    let [first, second] = choice.candidates.as_slice() else { panic!("two candidates") };
    assert_eq!((first.state, second.state), (WireState::Annealed, WireState::AsBought));
    assert!(first.chance > second.chance && first.miss > second.miss);
}

#[test]
fn an_odd_rod_is_named_where_neither_mandrel_nor_shank_hits() {
    let choice = choose_mandrel(
        &CoilTarget {
            wire: wire(0.4),
            inside_diameter: Length::from_mm(200.0),
            tolerance: Length::from_mm(0.05),
        },
        &[rod(3.0)],
        LotStates { as_bought: &LotFit::new(&hard(), &[]), annealed: None },
    )
    .unwrap();
    // A hoop of 200 mm of 0.4 mm wire: a rod of some 33 mm would do it, no tenth hits it.
    assert!(matches!(choice.verdict, Verdict::OddRod { .. }), "{}", choice.verdict);
    let bad = CoilTarget {
        wire: wire(0.4),
        inside_diameter: Length::from_mm(4.0),
        tolerance: Length::from_mm(-0.05),
    };
    let lot = LotFit::new(&hard(), &[]);
    let error = choose_mandrel(&bad, &[], LotStates { as_bought: &lot, annealed: None });
    assert_eq!(error.unwrap_err().limit.field, "tolerance_mm");
}

proptest! {
    #[test]
    fn the_posterior_narrows_with_coils_that_agree(q in 0.003..0.008, d_mm in 0.4..2.0) {
        let mut last = f64::INFINITY;
        for coils in 0..5 {
            let trials: Vec<RingTrial> = (0..coils)
                .map(|_| trial(d_mm, 4.0 * d_mm, &[ring_mm(d_mm, 4.0 * d_mm, q, 0.05)], 0.01))
                .collect();
            let ratio = LotFit::new(&hard(), &trials).flow_ratio().value;
            let width = (ratio.high / ratio.low).ln();
            prop_assert!(width < last, "{coils} coils: {width} after {last}");
            last = width;
        }
    }

    #[test]
    fn the_order_of_readings_and_trials_does_not_matter(a in 3.05..3.3, b in 3.05..3.3, c in 4.1..4.5) {
        let (one, two) = (trial(0.8, 3.0, &[a, b], 0.01), trial(0.8, 4.0, &[c], 0.01));
        let turned = trial(0.8, 3.0, &[b, a], 0.01);
        let forth = LotFit::new(&hard(), &[one, two.clone()]);
        let back = LotFit::new(&hard(), &[two, turned]);
        prop_assert!(forth == back);
    }

    #[test]
    fn all_lengths_scaled_alike_leave_the_ratio(k in 0.1..10.0, a in 3.05..3.3, c in 4.1..4.5) {
        let fit = |k: f64| {
            let trials =
                [trial(0.8 * k, 3.0 * k, &[a * k], 0.01 * k), trial(0.8 * k, 4.0 * k, &[c * k], 0.01 * k)];
            LotFit::new(&hard(), &trials).flow_ratio().value.typical
        };
        // Growth is a difference of nearly equal lengths: rounding of 1e-16 over some 1 %.
        prop_assert!((fit(k) / fit(1.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn no_readings_however_odd_give_a_number_that_is_none(
        d_mm in 0.2..3.0, over in 1.0..60.0, grown in -0.09..3.0, again in -0.09..3.0, step in 0.0..1.0,
    ) {
        let rod_mm: f64 = d_mm * over;
        let trials = [
            trial(d_mm, rod_mm, &[f64::max(0.1, rod_mm * (1.0 + grown))], step),
            trial(d_mm, rod_mm * 1.3, &[f64::max(0.1, rod_mm * 1.3 * (1.0 + again))], step),
        ];
        let lot = LotFit::new(&hard(), &trials);
        let ratio = lot.flow_ratio().value;
        prop_assert!(ratio.low > 0.0 && ratio.low < ratio.typical && ratio.typical < ratio.high);
        if let Some(ring) = lot.predict(wire(d_mm), rod(rod_mm * 1.1)) {
            let ring = ring.value;
            prop_assert!(ring.low < ring.inside_diameter && ring.low.mm() > rod_mm * 1.0999);
            prop_assert!(ring.high.is_none_or(|high| high > ring.inside_diameter));
            let chance = ring.chance_between(ring.low, ring.inside_diameter);
            prop_assert!((0.0..=0.9).contains(&chance));
        }
    }
}

/// Even numbers between 0 and 1 from a seed, by a 64-bit mixing counter, and normal ones from them.
struct Dice(u64);

impl Dice {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
        let even = ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64;
        even
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }
}

/// Share of simulated lots whose next ring on an untried rod lies in the 80 % range.
fn coverage(state: WireState, rods_mm: &[f64], coils: usize, seed: u64) -> f64 {
    let (d_mm, resolution_mm) = (1.0, 0.01);
    let exponent = match state {
        WireState::AsBought => None,
        WireState::Annealed => Some([0.40, 0.49, 0.55]),
    };
    let before = prior(exponent, state);
    let mut dice = Dice(seed);
    let lots = 800;
    let mut held = 0;
    for _ in 0..lots {
        let log_q = before.log_ratio.0 + before.log_ratio.1 * dice.normal();
        let n = before.exponent.0 + before.exponent.1 * dice.normal();
        let coil_sd = 0.03;
        let ring = |rod_mm: f64, coil: f64, dice: &mut Dice| {
            let mean = ring_mm(d_mm, rod_mm, (log_q + coil).exp(), n);
            mean + 0.002 * (mean + d_mm) * dice.normal()
        };
        let trials: Vec<RingTrial> = (0..coils)
            .map(|i| {
                let rod_mm = rods_mm[i % rods_mm.len()];
                let coil = coil_sd * dice.normal();
                let read = [(); 3].map(|()| {
                    let true_mm = ring(rod_mm, coil, &mut dice);
                    (true_mm / resolution_mm).round() * resolution_mm
                });
                trial(d_mm, rod_mm, &read, resolution_mm)
            })
            .collect();
        let coil = coil_sd * dice.normal();
        let next = ring(6.0, coil, &mut dice);
        let predicted = LotFit::new(&before, &trials).predict(wire(d_mm), rod(6.0)).unwrap().value;
        held += u32::from(predicted.low.mm() <= next && next <= predicted.high.unwrap().mm());
    }
    f64::from(held) / f64::from(lots)
}

#[test]
fn four_of_five_simulated_rings_lie_in_the_range() {
    for (state, coils, seed) in [
        (WireState::AsBought, 0, 1),
        (WireState::AsBought, 1, 2),
        (WireState::AsBought, 3, 3),
        (WireState::AsBought, 12, 4),
        (WireState::Annealed, 0, 5),
        (WireState::Annealed, 1, 6),
        (WireState::Annealed, 3, 7),
    ] {
        let share = coverage(state, &[3.0, 4.0, 8.0], coils, seed);
        // 800 lots: 0.80 +- 0.014 by chance, so 0.03 to either side; the range may be up to 0.08
        // too wide, since the coil scatter of the simulation is below the mean of the belief.
        assert!((0.77..=0.88).contains(&share), "{state:?} after {coils} coils: {share}");
    }
}
