//! Shaken copies of a pose: a few certified steps in random directions, so that a climb starts elsewhere.

use super::certify::certified_fraction;
use super::contact::contacts;
use super::program::{Program, solve};
use super::{Halt, Watch};
use crate::pose::{Pose, Step};

/// Random numbers of a seed, the same on every machine and in every version.
///
/// # Source
/// The split-mix generator of Steele, Lea and Flood (OOPSLA 2014); constants from memory, sequence
/// pinned by a test.
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) const fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly spread from `low` up to `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        // 53 random bits make every double in [0, 1) of that spacing equally likely.
        let share = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * share
    }
}

/// A copy of the pose shaken loose: rings keep clear of each other by the wire to first order, and
/// never pass through each other.
pub(crate) fn shaken(
    pose: &Pose,
    wire: f64,
    dice: &mut Dice,
    watch: &mut dyn Watch,
) -> Result<Pose, Halt> {
    let mut pose = pose.clone();
    let arm = pose.arm();
    let steps = dice.between(2.0, 20.0);
    let box_half_width = arm * dice.between(0.03, 0.3);
    let mut step = 0.0;
    while step < steps {
        watch.tick()?;
        step += 1.0;
        let gain: Vec<f64> = (0..pose.unknowns()).map(|_| dice.between(-1.0, 1.0)).collect();
        let near = contacts(&pose, wire, 4.0 * box_half_width);
        let hold = pose.roll();
        let program = Program {
            gain: &gain,
            contacts: &near,
            wire,
            box_half_width,
            price: 100.0,
            reward_room: false,
            caution: 0.0,
            hold: hold.as_deref(),
        };
        let Some(solved) = solve(&program) else {
            break;
        };
        let move_on = Step(solved.step);
        let fraction = certified_fraction(&pose, &move_on, 0.2 * wire);
        pose = pose.moved(&move_on, fraction);
    }
    Ok(pose)
}

#[cfg(test)]
mod tests {
    use super::Dice;

    #[test]
    fn the_same_seed_throws_the_same_dice() {
        let mut dice = Dice::new(0);
        // First outputs for seed 0, printed in many descriptions of the generator; from memory.
        assert_eq!(dice.next(), 0xE220_A839_7B1D_CDAF);
        assert_eq!(dice.next(), 0x6E78_9E6A_A1B9_65F4);
        let throw = dice.between(2.0, 3.0);
        assert!((2.0..3.0).contains(&throw));
    }
}
