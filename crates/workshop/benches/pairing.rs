//! The demo lot and the coins, each beside what the spreadsheet trick would do in the same run.

use whirlwright_workshop::pairing::{
    DressedGiven, Limits, PartsGiven, Recut, pair_dressed, pair_parts,
};
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

const HALVES: &str = include_str!("../../../examples/first_lot/halves.csv");
const RIMS: &str = include_str!("../../../examples/first_lot/rims.csv");
const COINS: &str = include_str!("../../../examples/coins/coins.csv");

fn main() {
    divan::main();
}

fn hundredths(units: i64) -> Decimal {
    Decimal { units, places: 2 }
}

fn lot(text: &str, kind: Kind, column: usize, heavier: i64) -> Vec<LotPart> {
    let part = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let mut part = LotPart::new(fields[0], kind);
        let mass: Option<Decimal> = fields[column].parse().ok();
        part.mass_g = mass.map(|mass| Decimal {
            units: mass.units + heavier,
            places: mass.places,
        });
        part
    };
    text.lines().skip(1).map(part).collect()
}

fn first_lot(heavier: i64, recut: bool) -> PartsGiven {
    let halves = lot(HALVES, Kind::Half, 3, 0);
    let rims = lot(RIMS, Kind::Rim, 3, heavier);
    let mut given = PartsGiven::new(
        halves,
        rims,
        hundredths(10),
        hundredths(5760),
        hundredths(10),
    );
    given.recut = recut.then(|| Recut {
        gram_per_mm: 2.247_81,
        step_mm: hundredths(1),
        most_face_mm: hundredths(25),
    });
    given
}

/// The whole answer; the aim is below 2 s.
#[divan::bench(args = [(0, false), (10, false), (10, true), (20, true)], sample_count = 5)]
fn demo_lot(bencher: divan::Bencher<'_, '_>, (heavier, recut): (i64, bool)) {
    let given = first_lot(heavier, recut);
    bencher.bench(|| pair_parts(&given, &|_| false));
}

/// Baseline: sort both sides, row by row, neighbours together, and count.
#[divan::bench]
fn spreadsheet_trick(bencher: divan::Bencher<'_, '_>) {
    let given = first_lot(10, false);
    let mass = |part: &LotPart| part.mass_g.map_or(0, |mass| mass.units);
    bencher.bench(|| {
        let mut up: Vec<i64> = given.halves.iter().map(mass).collect();
        let mut down: Vec<i64> = given.rims.iter().map(mass).collect();
        up.sort_unstable();
        down.sort_unstable_by(|a, b| b.cmp(a));
        let dressed: Vec<i64> = up.iter().zip(&down).map(|(half, rim)| half + rim).collect();
        let good =
            |two: &&[i64]| (two[0] - two[1]).abs() <= 10 && (two[0] + two[1] - 5760).abs() <= 10;
        dressed.chunks_exact(2).filter(good).count()
    });
}

/// 2,000 real weighings, proved on every pair there is.
#[divan::bench]
fn coins(bencher: divan::Bencher<'_, '_>) {
    let limit = Decimal {
        units: 5,
        places: 3,
    };
    let limits = Limits {
        mass_within_g: Some(limit),
        ..Limits::default()
    };
    let given = DressedGiven::new(lot(COINS, Kind::Other, 2, 0), limits);
    bencher.bench(|| pair_dressed(&given));
}
