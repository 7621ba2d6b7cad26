//! Balance: a two-plane solve, and the search for holes at 64 places over two planes.
//!
//! Baseline: the same in NumPy, `validation/twin/balance/numpy_balance.py`, whose figures stand in
//! `numpy_balance.txt` beside it (two planes one after the other, without a proof across them).

#[path = "../tests/balance/rig.rs"]
#[allow(dead_code, reason = "the bench uses its own part of the rig")]
mod rig;

use rig::{free_rotor_runs, given, polar};
use whirlwright_workshop::balance::given::{Depths, PlaneWork, Readings, Way, Work, WorkSection};
use whirlwright_workshop::balance::{correct, solve};
use whirlwright_workshop::part::Outline;
use whirlwright_workshop::part::job::Side;

fn main() {
    divan::main();
}

fn readings() -> whirlwright_workshop::balance::CorrectGiven {
    let truth = [polar(0.9, 40.0), polar(0.7, 255.0)];
    let runs = free_rotor_runs(&truth, 2, 1, false, &mut |v, _| v);
    given(2, runs, None)
}

/// Three runs, two pick-ups, two planes.
#[divan::bench]
fn two_plane_solve(bencher: divan::Bencher) {
    let given = readings();
    let Readings::Phased(phased) = given.readings.clone() else {
        return;
    };
    bencher.bench(|| solve(divan::black_box(&given), divan::black_box(&phased)));
}

/// 32 places a plane, 20 depths, two holes a plane at most; the holes' volumes reckoned too.
#[divan::bench]
fn holes_at_64_places(bencher: divan::Bencher) {
    let mut given = readings();
    let plane = |n: usize, side: Side, path: &str| {
        let read = Outline::read(path).expect("the bench's ring is a path");
        PlaneWork {
            plane: n,
            way: Way::AxialHole {
                diameters_mm: vec![2.5],
                radius_mm: 26.5,
                point_angle_deg: 118.0,
                depths: Depths {
                    least_mm: 0.5,
                    most_mm: 4.3,
                    step_mm: 0.2,
                },
            },
            section: Some(WorkSection {
                piece: "rim".to_owned(),
                side,
                density_g_cm3: 2.7,
                why: "as the bench says".to_owned(),
                loops: read.loops.iter().map(|l| l.segments.clone()).collect(),
            }),
            places: 32,
            first_deg: 0.0,
            closed: Vec::new(),
            most_holes: 2,
        }
    };
    given.work = Some(Work {
        planes: vec![
            plane(
                0,
                Side::Left,
                "M -13.5 24 L -13.5 29 L -21.5 29 L -21.5 24 Z",
            ),
            plane(1, Side::Right, "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z"),
        ],
        least_wall_mm: 0.9,
        wobble_weight: 1.0,
    });
    bencher.bench(|| correct(divan::black_box(&given)));
}
