//! An independent method: soft wires pulled and relaxed, extrapolated to no pull.
//!
//! Source: the method is common in granular mechanics and written for this test alone; no text.
//!
//! Energy `sum (d - f)^2 / 2 - F L` over all contacts nearer than the wire, minimised by damped
//! dynamics with restarts (FIRE). Forces and torques are put on the rings as a mechanic would; neither
//! the linear programs nor the gradients of the crate are used. The pull is halved and the lengths
//! extrapolated to zero pull.

use linkwright_linkage::circle::{Closest, DistanceProfile};
use linkwright_linkage::pattern::{Cell, Pattern, craft};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::solve::{Patient, Pull, Search, taut};
use linkwright_linkage::vector::{Rotation, Vec3};

struct Forces {
    on_centre: Vec<Vec3>,
    torque: Vec<Vec3>,
    on_period: f64,
}

fn period_of(pose: &Pose) -> f64 {
    match pose.cell {
        Cell::Screw { period, .. } => period,
        _ => unreachable!("chains only"),
    }
}

fn set_period(pose: &mut Pose, to: f64) {
    if let Cell::Screw { period, .. } = &mut pose.cell {
        *period = to;
    }
}

fn forces(pose: &Pose, wire: f64, pull: f64) -> Forces {
    let rings = pose.rings.len();
    let mut sum = Forces {
        on_centre: vec![Vec3::ZERO; rings],
        torque: vec![Vec3::ZERO; rings],
        on_period: pull,
    };
    for copy in 0..8 {
        for i in 0..rings {
            for j in 0..rings {
                if copy == 0 && i >= j {
                    continue;
                }
                let (first, second) = (pose.rings[i].circle, pose.placed(j, [copy, 0]));
                if (first.centre - second.centre).norm() > first.radius + second.radius + wire {
                    continue;
                }
                let profile = DistanceProfile::new(first, second);
                profile.visit_below(wire, false, |near: Closest| {
                    let push =
                        (near.on_first - near.on_second) * ((wire - near.distance) / near.distance);
                    sum.on_centre[i] += push;
                    sum.torque[i] += (near.on_first - first.centre).cross(push);
                    // These chains have no twist: a copy is only shifted.
                    sum.on_centre[j] += -push;
                    sum.torque[j] += (near.on_second - second.centre).cross(-push);
                    sum.on_period += -push.z * f64::from(copy);
                });
            }
        }
    }
    sum
}

fn relaxed(mut pose: Pose, wire: f64, pull: f64) -> Pose {
    let rings = pose.rings.len();
    let (mut step, mut damping, mut downhill) = (0.05, 0.1, 0);
    let zero = || (vec![Vec3::ZERO; rings], vec![Vec3::ZERO; rings], 0.0_f64);
    let (mut v, mut w, mut u) = zero();
    for _ in 0..30_000 {
        let f = forces(&pose, wire, pull);
        let mut power = u * f.on_period;
        let (mut force_sq, mut speed_sq) = (f.on_period.powi(2), u * u);
        for i in 0..rings {
            power += v[i].dot(f.on_centre[i]) + w[i].dot(f.torque[i]);
            force_sq += f.on_centre[i].dot(f.on_centre[i]) + f.torque[i].dot(f.torque[i]);
            speed_sq += v[i].dot(v[i]) + w[i].dot(w[i]);
        }
        if force_sq.sqrt() < 1e-6 * pull {
            break;
        }
        if power > 0.0 {
            downhill += 1;
            let turn = damping * (speed_sq / force_sq).sqrt();
            for i in 0..rings {
                v[i] = v[i] * (1.0 - damping) + f.on_centre[i] * turn;
                w[i] = w[i] * (1.0 - damping) + f.torque[i] * turn;
            }
            u = u * (1.0 - damping) + f.on_period * turn;
            if downhill > 5 {
                step = (step * 1.1_f64).min(0.4);
                damping *= 0.99;
            }
        } else {
            downhill = 0;
            step *= 0.5;
            damping = 0.1;
            (v, w, u) = zero();
        }
        for i in 0..rings {
            v[i] += f.on_centre[i] * step;
            w[i] += f.torque[i] * step;
            let circle = &mut pose.rings[i].circle;
            circle.centre += v[i] * step;
            let turn = w[i] * step;
            if let Some(axis) = turn.unit() {
                circle.normal = Rotation::about(axis, turn.norm()).turn(circle.normal);
                circle.normal = circle.normal.unit().expect("unit");
            }
        }
        u += f.on_period * step;
        let period = period_of(&pose) + u * step;
        set_period(&mut pose, period);
    }
    pose
}

#[test]
fn soft_wires_pulled_ever_more_gently_are_as_long_as_the_solver_says() {
    for (name, ar) in [
        ("box", 5.0),
        ("half_persian_3in1", 4.5),
        ("two_row_european_6in1", 4.5),
        ("full_persian_6in1", 6.0),
        ("european_4in1_strip3", 4.0),
        ("half_persian_4in1", 5.5),
    ] {
        let pattern = Pattern::new(craft::named(name).expect("known")).expect("valid");
        let wire = 2.0 / (ar + 1.0);
        let search = Search { starts: 8, seed: 1 };
        let found = taut(&pattern, wire, Pull::Along, search, &[], &mut Patient)
            .expect("not stopped")
            .expect("possible");
        // Pushed together a little, so that the relaxation has to find the length by itself.
        let mut pose = found.pose.clone();
        set_period(&mut pose, found.value * 0.995);
        let mut lengths = Vec::new();
        for halvings in 0..4 {
            pose = relaxed(pose, wire, 2e-3 / f64::from(1 << halvings));
            lengths.push(period_of(&pose));
        }
        // Length is smooth in the pull: two rounds of Richardson's extrapolation.
        let once = |a: f64, b: f64| 2.0 * b - a;
        let twice = |a: f64, b: f64, c: f64| (4.0 * once(b, c) - once(a, b)) / 3.0;
        let soft = twice(lengths[1], lengths[2], lengths[3]);
        let off = (soft - found.value) / found.value;
        // The two methods share no discretisation; the issue asks for 5e-4.
        assert!(off.abs() < 5e-4, "{name}: soft {soft}, solved {}, {lengths:?}", found.value);
    }
}
