//! Our taut lengths beside a general optimiser and a simulator of rigid bodies, on the same chains.

use std::path::Path;

use anyhow::{Context, Result};
use linkwright_linkage::circle::{Circle, distance, linking_number};
use linkwright_linkage::pattern::{Cell, Image, Kind, Pattern, craft, measured_links};
use linkwright_linkage::pose::Pose;
use linkwright_linkage::solve::{Patient, Pull, Search, fitted, room, taut};
use linkwright_linkage::table::{numbers_from_pose, pose_from_numbers};
use linkwright_linkage::vector::Vec3;
use serde_json::{Value, json};

use super::processor_time;
use crate::process::{output, root, target};
use crate::python::chain_peers;

/// (pattern, aspect ratio, length per cell in wires by closed form where there is one).
///
/// Source of the closed forms: `docs/theory/chain.md`, section 6.
const ASKED: [(&str, f64, Option<f64>); 5] = [
    ("cable_1in1", 4.0, Some(4.0)),
    ("double_2in2", 4.0, Some(3.831_502)),
    ("european_4in1_strip3", 4.0, Some(4.242_641)),
    ("half_persian_3in1", 5.0, None),
    ("byzantine", 4.0, None),
];
/// How the simulator pulls: ring radius and wire density are 1.
const PULL: f64 = 0.2;
const DAMPING: f64 = 0.2;
const TIMESTEP: f64 = 0.002;
const STEPS_MOST: u32 = 60_000;

/// Longer than any chain asked about: its rings passed through each other and parted.
const RAN_AWAY: f64 = 100.0;

/// An answer: length per cell in wires, seconds, and how far it can be believed.
struct Answer {
    who: &'static str,
    length: f64,
    seconds: f64,
    /// How deep wires lie in each other, as a share of the wire.
    overlap: f64,
    links_kept: bool,
    remark: String,
}

/// Prints the table.
pub fn run() -> Result<()> {
    println!(
        "Length per cell in wire diameters, pulled taut; seconds on a processor, on one core; overlap as\n\
         a share of the wire. All begin from one valid pose. Ours: {} starts, certified moves. scipy\n\
         SLSQP: one start, rounds within a box of 0.2 radii, two least distances a pair, slopes by\n\
         differences. MuJoCo: a piece of 7 cells of rings of 36 capsules, frictionless, one end held,\n\
         the other pulled.\n",
        Search::default().starts
    );
    for (name, aspect_ratio, exact) in ASKED {
        let spec = craft::named(name).with_context(|| format!("{name} is no pattern"))?;
        let pattern = Pattern::new(spec)?;
        match exact {
            Some(exact) => println!("{name}, aspect ratio {aspect_ratio}: closed form {exact:.4}"),
            None => println!("{name}, aspect ratio {aspect_ratio}"),
        }
        let wire = 2.0 / (aspect_ratio + 1.0);
        let start = fitted(&pattern, wire, Search { starts: 4, seed: 1 }, &mut Patient)?
            .with_context(|| format!("{name} is not possible at {aspect_ratio}"))?
            .pose;
        let question = question(&pattern, &start, wire)?;
        let folder = target().join("versus-chain");
        std::fs::create_dir_all(&folder)?;
        let path = folder.join(format!("{name}.json"));
        std::fs::write(&path, question.to_string())?;
        told(&ours("ours", &pattern, wire, Search::default())?);
        told(&ours("ours, one start", &pattern, wire, Search { starts: 1, seed: 1 })?);
        told(&slsqp(&pattern, &start, wire, &path)?);
        told(&simulated(&pattern, wire, &path)?);
        println!();
    }
    Ok(())
}

fn told(answer: &Answer) {
    let length = if answer.length.abs() < RAN_AWAY {
        format!("{:>8.4}", answer.length)
    } else {
        "ran away".to_owned()
    };
    println!(
        "  {:<16} {length}  {:>8.3} s  overlap {:>6.2} %  links {}{}",
        answer.who,
        answer.seconds,
        100.0 * answer.overlap,
        if answer.links_kept { "kept" } else { "BROKEN" },
        answer.remark
    );
}

fn question(pattern: &Pattern, start: &Pose, wire: f64) -> Result<Value> {
    let Cell::Screw { period, twist_rad, twist_free } = start.cell else {
        anyhow::bail!("{} is no chain", pattern.name());
    };
    let three = |v: Vec3| json!([v.x, v.y, v.z]);
    let ring =
        |circle: Circle| json!({ "centre": three(circle.centre), "normal": three(circle.normal) });
    Ok(json!({
        "wire": wire,
        "period": period,
        "twist_rad": twist_rad,
        "twist_free": twist_free,
        "rings": start.rings.iter().map(|placed| ring(placed.circle)).collect::<Vec<_>>(),
        "pull": PULL,
        "damping": DAMPING,
        "timestep": TIMESTEP,
        "steps_most": STEPS_MOST,
    }))
}

fn ours(who: &'static str, pattern: &Pattern, wire: f64, search: Search) -> Result<Answer> {
    let (took, found) =
        processor_time(|| taut(pattern, wire, Pull::Along, search, &[], &mut Patient));
    let found = found?.context("not possible")?;
    let remark = format!(", {} of {} climbs met it", found.hits, found.starts);
    Ok(of_pose(who, pattern, &found.pose, wire, took.as_secs_f64(), remark))
}

fn of_pose(
    who: &'static str,
    pattern: &Pattern,
    pose: &Pose,
    wire: f64,
    seconds: f64,
    remark: String,
) -> Answer {
    let numbers = numbers_from_pose(pose);
    // A chain's numbers end with its advance and its twist.
    let period = numbers.get(numbers.len() - 2).copied().unwrap_or(f64::NAN);
    Answer {
        who,
        length: period / wire,
        seconds,
        overlap: (1.0 - room(pose) / wire).max(0.0),
        links_kept: measured_links(pose) == measured_links(pattern.start()),
        remark,
    }
}

fn slsqp(pattern: &Pattern, start: &Pose, wire: f64, question: &Path) -> Result<Answer> {
    let said = asked("slsqp", question)?;
    let numbers = floats(&said["pose"])?;
    let pose = pose_from_numbers(start, &numbers).context("a pose of another size")?;
    let seconds = said["seconds"].as_f64().context("no seconds")?;
    let remark = format!(", {} steps: {}", said["steps"], said["ended"].as_str().unwrap_or("?"));
    Ok(of_pose("scipy SLSQP", pattern, &pose, wire, seconds, remark))
}

/// Length from the middle cells of the piece, links and overlap of all its rings.
fn simulated(pattern: &Pattern, wire: f64, question: &Path) -> Result<Answer> {
    let said = asked("mujoco", question)?;
    let rings: Vec<Circle> = said["rings"]
        .as_array()
        .context("no rings")?
        .iter()
        .map(|ring| {
            let at = floats(ring)?;
            let normal = Vec3::new(at[3], at[4], at[5]).unit().context("no normal")?;
            Ok(Circle { centre: Vec3::new(at[0], at[1], at[2]), normal, radius: 1.0 })
        })
        .collect::<Result<_>>()?;
    let cells = usize::try_from(said["cells"].as_u64().context("no cells")?)?;
    let per_cell = rings.len() / cells;
    let middle = |cell: usize| {
        let of_cell = rings[cell * per_cell..(cell + 1) * per_cell].iter();
        of_cell.map(|ring| ring.centre.z).sum::<f64>() / per_cell as f64
    };
    // The cells at the ends hang in fewer rings.
    let (first, last) = (2, cells - 2);
    let period = (middle(last) - middle(first)) / (last - first) as f64;
    let mut nearest = f64::INFINITY;
    let mut links_kept = true;
    for (b, second) in rings.iter().enumerate() {
        for (a, first) in rings[..b].iter().enumerate() {
            let apart = (second.centre - first.centre).norm();
            let sign = linking_number(*first, *second);
            let wanted = wanted(pattern, per_cell, a, b);
            links_kept &= sign == wanted;
            if apart < 2.0 + wire {
                nearest = nearest.min(distance(*first, *second));
            }
        }
    }
    debug_assert_eq!(pattern.kind(), Kind::Chain);
    Ok(Answer {
        who: "MuJoCo",
        length: period / wire,
        seconds: said["seconds"].as_f64().context("no seconds")?,
        overlap: (1.0 - nearest / wire).max(0.0),
        links_kept,
        remark: format!(", {} steps, {cells} cells", said["steps"]),
    })
}

/// The sign that two rings of a piece, numbered cell by cell, should be linked with; 0 for none.
fn wanted(pattern: &Pattern, per_cell: usize, a: usize, b: usize) -> i8 {
    let count = |n: usize| i32::try_from(n).unwrap_or(i32::MAX);
    let image: Image = [count(b / per_cell) - count(a / per_cell), 0];
    let (i, j) = (a % per_cell, b % per_cell);
    let ends =
        |l: &linkwright_linkage::pattern::Link| (l.first, l.second, l.image) == (i, j, image);
    let links = pattern.spec().links.iter().map(|link| link.ahead());
    links.into_iter().find(ends).map_or(0, |link| link.sign)
}

fn asked(word: &str, question: &Path) -> Result<Value> {
    let mut command = chain_peers()?;
    // One core, as ours.
    command.envs(["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"].map(|name| (name, "1")));
    command.arg(root().join("xtask/peers/chain.py")).arg(word).arg(question);
    let printed = output(&mut command)?;
    let last = printed.lines().last().context("it said nothing")?;
    serde_json::from_str(last).with_context(|| format!("{word} said {last}"))
}

fn floats(value: &Value) -> Result<Vec<f64>> {
    let numbers = value.as_array().context("no numbers")?;
    numbers.iter().map(|number| number.as_f64().context("no number")).collect()
}
