//! Marrying, recutting and pairing: against enumeration, an integer program and laws.

mod lots;

use std::cell::Cell;

use lots::*;
use proptest::prelude::*;
use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::pairing::{FitWindow, MoreRims, PartsGiven, pair_parts};
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

#[test]
fn twin_first_lot_brings_as_many_sets_as_the_integer_program() {
    for case in cases(include_str!("../../../validation/pairing/first_lot.toml")) {
        let given = first_lot(number(&case, "inputs", "heavier_hundredths"));
        let body = find(&given).body;
        let expected = number(&case, "value", "sets") as usize;
        check_sets(&given, &body);
        assert_eq!(body.possible_sets_upper_bound, expected);
        assert_eq!(body.sets.len(), expected);
        assert!(body.sets_optimal);
        let simple = &body.baselines;
        assert!(
            simple
                .as_it_comes_sets
                .max(simple.sheet_sets)
                .max(simple.trays_sets)
                <= expected
        );
    }
}

#[test]
fn twin_recut_plan_is_lighter_than_dressing_every_half_alone() {
    let mut given = first_lot(10);
    given.recut = Some(ring_cut());
    let answer = find(&given);
    check_sets(&given, &answer.body);
    let sum = answer.body.recut_sum.expect("a recut plan");
    assert_eq!(answer.body.sets.len(), 240);
    assert!(answer.body.sets_optimal);
    // Dressing every half within 0.05 g by itself cuts 22.9 g; the linear relaxation of the whole
    // question (twin) says that no plan cuts less than 19.71 g.
    assert!(sum.mass_g < 22.9 && sum.mass_g >= 19.71, "{sum:?}");
    assert!(
        sum.least_possible_mass_g <= 19.74,
        "one step above the relaxation at most: {sum:?}"
    );
    assert!(sum.largest_face_mm <= 0.25);
    let rows: Vec<u32> = answer.body.recuts.iter().map(|cut| cut.place.row).collect();
    assert!(rows.is_sorted(), "tray order");
    let total: f64 = answer.body.recuts.iter().map(|cut| cut.mass_g).sum();
    assert!((total - sum.mass_g).abs() < 1e-9);
    for cut in &answer.body.recuts {
        let steps = cut.face_mm / 0.01;
        assert!(
            (steps - steps.round()).abs() < 1e-9,
            "whole steps of the lathe"
        );
        assert!((cut.mass_before_g - cut.mass_g - cut.mass_after_g).abs() < 1e-9);
    }
}

#[test]
fn law_fit_window_holds_in_every_set() {
    let mut given = first_lot(0);
    given.fit_window = Some(fit_window());
    let body = find(&given).body;
    check_sets(&given, &body);
    assert!(
        body.sets.len() >= 239,
        "{} of {}",
        body.sets.len(),
        body.possible_sets_upper_bound
    );
    for set in &body.sets {
        for fit in [set.left_interference_mm, set.right_interference_mm] {
            let fit = fit.expect("an interference");
            assert!((0.07 - 1e-12..=0.11 + 1e-12).contains(&fit));
        }
    }
    let dressed = body
        .sets
        .iter()
        .flat_map(|set| [set.left_mass_g, set.right_mass_g])
        .flatten();
    let near = dressed
        .filter(|mass| (mass - 28.80).abs() <= 0.05 + 1e-9)
        .count();
    assert!(
        near >= 478,
        "{near} dressed halves within 0.05 g of half the piece"
    );
}

fn fit_window() -> FitWindow {
    FitWindow {
        at_least_mm: d("0.070"),
        at_most_mm: d("0.110"),
    }
}

#[test]
fn law_sets_without_recut_are_the_sets_of_the_question_without_recut() {
    for (heavier, fit) in [(10, false), (15, false), (10, true)] {
        let mut given = first_lot(heavier);
        given.fit_window = fit.then(fit_window);
        let plain = find(&given).body;
        given.recut = Some(ring_cut());
        let recut = find(&given).body;
        let told = recut.recut_sum.expect("a recut plan").sets_without;
        assert_eq!(told, plain.set_count, "rims 0.{heavier} g heavy, fit {fit}");
        assert!(recut.set_count >= plain.set_count);
    }
}

#[test]
fn law_a_fit_window_takes_no_set_from_the_heavy_lot() {
    // Proved by the bound of the same run, and by the integer program without the window.
    let mut given = first_lot(10);
    let without = find(&given).body.set_count;
    given.fit_window = Some(fit_window());
    let body = find(&given).body;
    check_sets(&given, &body);
    assert_eq!(body.set_count, without);
    assert!(body.sets_optimal);
}

#[test]
fn law_same_question_same_bytes() {
    let mut given = first_lot(10);
    given.more_rims = Some(MoreRims {
        count: 40,
        draws: 2,
        seed: 3,
    });
    let text = |given: &PartsGiven| serde_json::to_string(&find(given)).expect("json");
    assert_eq!(text(&given), text(&given));
}

#[test]
fn law_more_rims_never_take_a_set_away() {
    let mut given = first_lot(10);
    given.more_rims = Some(MoreRims {
        count: 40,
        draws: 3,
        seed: 1,
    });
    let body = find(&given).body;
    let more = &body.leftovers.if_more[0];
    assert!(more.more_sets_least >= 0 && more.more_sets_most <= 30);
    assert!(more.more_sets > 0.0, "rims are what is short here");
    assert!(!body.leftovers.wish.is_empty());
}

#[test]
fn law_stopping_gives_the_best_so_far() {
    let calls = Cell::new(0);
    let given = first_lot(10);
    let stop = |_| {
        calls.set(calls.get() + 1);
        calls.get() > 3
    };
    let answer = pair_parts(&given, &stop).expect("an answer");
    assert!(answer.body.sets.len() > 100);
    assert!(!answer.body.optimal);
    check_sets(&given, &answer.body);
}

/// Most sets of four by trying every marriage and every pairing.
fn most_fours(
    halves: &[i64],
    rims: &[i64],
    limits: (i64, i64, i64),
    dressed: &mut Vec<i64>,
    used: &mut Vec<bool>,
) -> usize {
    let (mass, piece, piece_mass) = limits;
    if dressed.len() == halves.len() {
        let may = |a: usize, b: usize| {
            let (a, b) = (dressed[a], dressed[b]);
            let both = a > 0 && b > 0;
            (both && (a - b).abs() <= mass && (a + b - piece_mass).abs() <= piece).then_some(0.0)
        };
        let everyone: Vec<usize> = (0..dressed.len()).collect();
        return most_pairs(&may, &everyone).0;
    }
    let half = halves[dressed.len()];
    dressed.push(0);
    let mut best = most_fours(halves, rims, limits, dressed, used);
    dressed.pop();
    for rim in 0..rims.len() {
        if !used[rim] {
            used[rim] = true;
            dressed.push(half + rims[rim]);
            best = best.max(most_fours(halves, rims, limits, dressed, used));
            dressed.pop();
            used[rim] = false;
        }
    }
    best
}

#[test]
fn twin_small_lots_of_four_parts_by_full_enumeration() {
    let mut draws = SplitMix64::new(5);
    let (mut reached, mut rounds) = (0, 0);
    for round in 0..120 {
        let halves: Vec<i64> = (0..2 + draws.below(4))
            .map(|_| 1080 + draws.below(40) as i64 - 20)
            .collect();
        let rims: Vec<i64> = (0..2 + draws.below(4))
            .map(|_| 1800 + draws.below(40) as i64 - 20)
            .collect();
        let (mass, piece) = [(10, 10), (10, 5), (4, 12)][round % 3];
        let best = most_fours(
            &halves,
            &rims,
            (mass, piece, 5760),
            &mut Vec::new(),
            &mut vec![false; rims.len()],
        );
        let make = |masses: &[i64], kind, letter: &str| -> Vec<LotPart> {
            let part = |(at, &units): (usize, &i64)| {
                let mut part = LotPart::new(format!("{letter}{at}"), kind);
                part.mass_g = Some(Decimal { units, places: 2 });
                part
            };
            masses.iter().enumerate().map(part).collect()
        };
        let given = PartsGiven::new(
            make(&halves, Kind::Half, "H"),
            make(&rims, Kind::Rim, "R"),
            Decimal {
                units: mass,
                places: 2,
            },
            d("57.60"),
            Decimal {
                units: piece,
                places: 2,
            },
        );
        let body = find(&given).body;
        check_sets(&given, &body);
        assert!(
            body.sets.len() <= best,
            "round {round}: more than there are"
        );
        assert!(
            best <= body.possible_sets_upper_bound,
            "round {round}: the bound is no bound"
        );
        rounds += 1;
        reached += usize::from(body.sets.len() == best);
    }
    // The search is exact in its steps, not as a whole; on lots this small it misses none here.
    assert_eq!(reached, rounds);
}

fn small_lot() -> impl Strategy<Value = (Vec<i64>, Vec<i64>, i64, i64)> {
    let masses = |middle: i64| proptest::collection::vec(middle - 25..middle + 25, 0..40);
    (masses(1080), masses(1800), 1i64..15, 1i64..15)
}

fn parts_of(masses: &[i64], kind: Kind, letter: &str) -> Vec<LotPart> {
    let part = |(at, &units): (usize, &i64)| {
        let mut part = LotPart::new(format!("{letter}{at:03}"), kind);
        part.mass_g = Some(Decimal { units, places: 2 });
        part
    };
    masses.iter().enumerate().map(part).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn law_never_worse_than_the_simple_ways_and_never_above_the_bound(
        (halves, rims, mass, piece) in small_lot(),
        recut in proptest::bool::ANY,
    ) {
        let mut given = PartsGiven::new(
            parts_of(&halves, Kind::Half, "H"),
            parts_of(&rims, Kind::Rim, "R"),
            Decimal { units: mass, places: 2 },
            d("57.60"),
            Decimal { units: piece, places: 2 },
        );
        given.recut = recut.then(ring_cut);
        let body = find(&given).body;
        check_sets(&given, &body);
        let simple = &body.baselines;
        let best = simple.as_it_comes_sets.max(simple.trays_sets).max(simple.sheet_sets);
        prop_assert!(body.sets.len() >= best.max(simple.half_and_rim_trays_sets.unwrap_or(0)));
        prop_assert_eq!(body.unpaired.len() + 4 * body.sets.len(), halves.len() + rims.len());
    }
}
