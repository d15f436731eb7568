use linkwright_linkage::pattern::{craft, Pattern, Kind};
use linkwright_linkage::solve::*;
fn main() {
    let only = std::env::args().nth(1);
    let starts: u32 = std::env::args().nth(2).map_or(12, |s| s.parse().unwrap());
    for spec in craft::all() {
        if let Some(o) = &only { if !spec.name.contains(o.as_str()) { continue; } }
        let n = spec.name.clone();
        let p = match Pattern::new(spec) { Ok(p) => p, Err(e) => { println!("{n}: {e}"); continue } };
        let t = std::time::Instant::now();
        let f = thickest_wire(&p, Search { starts, seed: 1 }, &mut Patient).unwrap();
        println!("{n:28} limit {:.6} hits {}/{} programs {} {:.2}s", 2.0/f.room-1.0, f.hits, f.starts, f.programs, t.elapsed().as_secs_f64());
        let ars: &[f64] = match n.as_str() { "cable_1in1"=>&[3.0],"double_2in2"=>&[3.,4.0,6.],"box"=>&[5.0,6.0],"byzantine"=>&[3.5,4.0,5.0],"half_persian_3in1"=>&[4.5,5.0,6.0],"half_persian_4in1"=>&[5.5,6.0],"full_persian_6in1"=>&[6.0,7.0],"spiral_4in1"=>&[3.75,4.5],"three_stack_spiral_4in1"=>&[2.8,3.0],"two_row_european_6in1"=>&[4.5,5.0],"japanese_12in2"=>&[6.0],_=>&[4.0]};
        for &ar in ars {
            let d = 2.0/(ar+1.0);
            let pulls: &[Pull] = match p.kind() { Kind::Chain => &[Pull::Along], Kind::Sheet => &[Pull::Along, Pull::Area], Kind::Cluster => &[] };
            for &pull in pulls {
                let t = std::time::Instant::now();
                match taut(&p, d, pull, Search { starts, seed: 1 }, &[], &mut Patient).unwrap() {
                    None => println!("   AR {ar} not possible"),
                    Some(f) => println!("   AR {ar} {pull:?} {:.5} {:?} hits {}/{} room-1 {:.1e} programs {} carrying {} {:.2}s", f.value/d, f.pose.cell.scaled(1.0/d), f.hits, f.starts, f.room/d-1.0, f.programs, f.carrying.len(), t.elapsed().as_secs_f64()),
                }
            }
        }
    }
}
