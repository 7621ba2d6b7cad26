//! Lots and helpers that the pairing tests share.
#![allow(dead_code, reason = "each test file uses its own part of these")]

use std::collections::BTreeSet;

use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::pairing::{Limits, PairBody, PartsGiven, Recut, pair_parts};
use whirlwright_workshop::part::{Answer, Decimal, Kind, LotPart};

pub const HALVES: &str = include_str!("../../../../examples/first_lot/halves.csv");
pub const RIMS: &str = include_str!("../../../../examples/first_lot/rims.csv");
pub const COINS: &str = include_str!("../../../../examples/coins/coins.csv");

pub fn d(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

pub fn lot(text: &str, kind: Kind, heavier: i64) -> Vec<LotPart> {
    let part = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let mut part = LotPart::new(fields[0], kind);
        let mass = d(fields[3]);
        part.mass_g = Some(Decimal {
            units: mass.units + heavier,
            places: mass.places,
        });
        part.fit_mm = Some(d(fields[4]));
        part.origin = Some(fields[1].to_owned());
        part
    };
    text.lines().skip(1).map(part).collect()
}

pub fn first_lot(heavier: i64) -> PartsGiven {
    PartsGiven::new(
        lot(HALVES, Kind::Half, 0),
        lot(RIMS, Kind::Rim, heavier),
        d("0.10"),
        d("57.60"),
        d("0.10"),
    )
}

/// Face of a 58/48 ring of 2.70 g/cm³.
pub fn ring_cut() -> Recut {
    let gram_per_mm = std::f64::consts::PI / 4.0 * (58.0 * 58.0 - 48.0 * 48.0) * 2.70e-3;
    Recut {
        gram_per_mm,
        step_mm: d("0.01"),
        most_face_mm: d("0.25"),
    }
}

pub fn find(given: &PartsGiven) -> Answer<PairBody> {
    pair_parts(given, &|_| false).expect("an answer")
}

pub fn cases(text: &str) -> Vec<toml::Table> {
    let table: toml::Table = text.parse().expect("a case file");
    let cases = table["case"].as_array().expect("cases");
    cases
        .iter()
        .map(|case| case.as_table().expect("a case").clone())
        .collect()
}

pub fn number(case: &toml::Table, block: &str, key: &str) -> i64 {
    case[block][key]
        .as_str()
        .expect("a text")
        .parse()
        .expect("a whole number")
}

/// The lots of `validation/twin/pairing/gauss_lot.py`.
pub fn gauss_lot(count: usize, seed: u64) -> Vec<LotPart> {
    let mut draws = SplitMix64::new(
        seed.wrapping_mul(0x9E37_79B9_7F4A_7C15)
            .wrapping_add(count as u64),
    );
    let rounded = |value: f64, places: u8| Decimal {
        units: (value * 10f64.powi(i32::from(places)) + 0.5).floor() as i64,
        places,
    };
    (0..count)
        .map(|number| {
            let u: Vec<f64> = (0..6).map(|_| draws.uniform()).collect();
            let radius = (-2.0 * u[0].ln()).sqrt();
            let angle = 2.0 * std::f64::consts::PI * u[1];
            let mut part = LotPart::new(format!("P{number:06}"), Kind::Dressed);
            part.mass_g = Some(rounded(32.0 + 0.12 * radius * angle.cos(), 3));
            part.unbalance_g_mm = Some(rounded(0.25 * (-2.0 * u[2].ln()).sqrt(), 3));
            part.offset_mm = Some(rounded(0.02 * radius * angle.sin(), 4));
            part
        })
        .collect()
}

pub fn three_needs() -> Limits {
    Limits {
        mass_within_g: Some(d("0.1")),
        unbalance_within_g_mm: Some(d("0.3")),
        offset_within_mm: Some(d("0.03")),
    }
}

pub fn mass_only(within: &str) -> Limits {
    Limits {
        mass_within_g: Some(d(within)),
        ..Limits::default()
    }
}

pub fn coins() -> Vec<LotPart> {
    let coin = |line: &str| {
        let fields: Vec<&str> = line.split(',').collect();
        let mut part = LotPart::new(fields[0], Kind::Other);
        part.origin = Some(fields[1].to_owned());
        part.mass_g = Some(d(fields[2]));
        part
    };
    COINS.lines().skip(1).map(coin).collect()
}

/// Every set is inside its limits and no part is used twice, reckoned anew from the readings.
pub fn check_sets(given: &PartsGiven, body: &PairBody) {
    let mass = |parts: &[LotPart], id: &str| {
        let part = parts
            .iter()
            .find(|part| part.serial == id)
            .expect("a part of the lot");
        part.mass_g.expect("a mass").to_f64()
    };
    let mut used = BTreeSet::new();
    for set in &body.sets {
        let ids = [
            &set.left_half,
            &set.left_rim,
            &set.right_half,
            &set.right_rim,
        ];
        let ids: Vec<&str> = ids
            .into_iter()
            .map(|id| id.as_deref().expect("four parts"))
            .collect();
        assert!(
            ids.iter().all(|id| used.insert((*id).to_owned())),
            "{ids:?} used twice"
        );
        let cut = |rim: &str| {
            body.recuts
                .iter()
                .find(|cut| cut.id == rim)
                .map_or(0.0, |cut| cut.mass_g)
        };
        let left = mass(&given.halves, ids[0]) + mass(&given.rims, ids[1]) - cut(ids[1]);
        let right = mass(&given.halves, ids[2]) + mass(&given.rims, ids[3]) - cut(ids[3]);
        // Readings of two digits and cuts of six, summed in floats: far below a microgram.
        let slack = 1e-9;
        assert!((left - right).abs() <= given.mass_within_g.to_f64() + slack);
        let piece = (left + right - given.piece_mass_g.to_f64()).abs();
        assert!(
            piece <= given.piece_within_g.to_f64() + slack,
            "{ids:?}: {piece}"
        );
        assert_eq!(set.left, format!("{}+{}", ids[0], ids[1]));
    }
    assert!(body.sets.len() <= body.possible_sets_upper_bound);
    assert!(body.lower_bound <= body.total_cost);
}

pub fn shuffled<T: Clone>(parts: &[T], seed: u64) -> Vec<T> {
    let mut draws = SplitMix64::new(seed);
    let mut parts = parts.to_vec();
    for at in (1..parts.len()).rev() {
        parts.swap(at, draws.below(at + 1));
    }
    parts
}

pub type Four = (BTreeSet<String>, bool);

pub fn without_order(body: &PairBody) -> BTreeSet<Four> {
    let set = |set: &whirlwright_workshop::pairing::PairSet| {
        (
            [set.left.clone(), set.right.clone()].into_iter().collect(),
            set.within_limits,
        )
    };
    body.sets.iter().map(set).collect()
}

/// Sets of two by trying everything.
pub fn most_pairs(may: &dyn Fn(usize, usize) -> Option<f64>, left: &[usize]) -> (usize, f64) {
    let Some((&first, rest)) = left.split_first() else {
        return (0, 0.0);
    };
    let mut best = most_pairs(may, rest);
    for (at, &mate) in rest.iter().enumerate() {
        if let Some(cost) = may(first, mate) {
            let mut others = rest.to_vec();
            others.remove(at);
            let (sets, more) = most_pairs(may, &others);
            if (sets + 1, -(more + cost)) > (best.0, -best.1) {
                best = (sets + 1, more + cost);
            }
        }
    }
    best
}
