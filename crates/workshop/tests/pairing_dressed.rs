//! Pairing parts as they are: against enumeration, other programs, closed forms and laws.

mod lots;

use lots::*;
use proptest::prelude::*;
use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::pairing::{DressedGiven, Joint, Limits, Refusal, pair_dressed};
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Verdict};

#[test]
fn twin_perfect_pairings_of_three_needs_cost_what_other_programs_find() {
    for case in cases(include_str!("../../../validation/pairing/dressed.toml")) {
        let count = number(&case, "inputs", "count") as usize;
        let parts = gauss_lot(count, number(&case, "inputs", "seed") as u64);
        let mut given = DressedGiven::new(parts, three_needs());
        given.all = true;
        let body = pair_dressed(&given).expect("an answer").body;
        let expected = number(&case, "value", "numerator") as f64
            / number(&case, "value", "denominator") as f64;
        // Both are one division of two whole numbers below 2^53: equal to the last bit.
        assert_eq!(body.total_cost, expected, "{count}");
        assert_eq!(body.lower_bound, expected, "{count}");
        assert!(body.optimal && body.sets_optimal && body.sets.len() == count / 2);
    }
}

#[test]
fn closed_form_coins_pair_as_the_one_dimensional_rule_counts() {
    for case in cases(include_str!("../../../validation/pairing/coins.toml")) {
        let within = case["inputs"]["mass_within_g"].as_str().expect("a limit");
        let limit = d(within).units_at(3).expect("three places");
        let mut masses: Vec<i64> = coins()
            .iter()
            .filter_map(|coin| coin.mass_g?.units_at(3))
            .collect();
        masses.sort_unstable();
        let (mut at, mut pairs) = (0, 0);
        while at + 1 < masses.len() {
            let near = masses[at + 1] - masses[at] <= limit;
            pairs += i64::from(near);
            at += if near { 2 } else { 1 };
        }
        let expected = number(&case, "value", "sets");
        assert_eq!(pairs, expected, "the rule itself, {within}");
        let body = pair_dressed(&DressedGiven::new(coins(), mass_only(within)))
            .expect("an answer")
            .body;
        assert_eq!(body.sets.len() as i64, expected, "{within}");
        assert!(body.optimal && body.sets.iter().all(|set| set.within_limits));
        assert_eq!(body.unpaired.len(), 2000 - 2 * body.sets.len());
        assert_eq!(body.distribution.len(), 8, "one histogram for each pack");
    }
}

#[test]
fn law_order_of_the_rows_changes_nothing_but_order() {
    let given = first_lot(10);
    let mut mixed = given.clone();
    mixed.halves = shuffled(&given.halves, 5);
    mixed.rims = shuffled(&given.rims, 6);
    let (one, two) = (find(&given).body, find(&mixed).body);
    assert_eq!(without_order(&one), without_order(&two));
    assert_eq!(one.total_cost, two.total_cost);
    let parts = gauss_lot(301, 4);
    let straight =
        pair_dressed(&DressedGiven::new(parts.clone(), three_needs())).expect("an answer");
    let crossed = DressedGiven::new(shuffled(&parts, 9), three_needs());
    let crossed = pair_dressed(&crossed).expect("an answer");
    assert_eq!(without_order(&straight.body), without_order(&crossed.body));
}

#[test]
fn twin_small_lots_with_colours_and_forbids_by_full_enumeration() {
    let mut draws = SplitMix64::new(77);
    for round in 0..120 {
        let mut parts = gauss_lot(draws.below(9), round);
        for part in &mut parts {
            part.colour = Some(["red", "blue"][draws.below(2)].to_owned());
        }
        let name = |at: usize| format!("P{at:06}");
        let forbidden: Vec<(usize, usize)> = (0..draws.below(6))
            .map(|_| (draws.below(8), draws.below(8)))
            .collect();
        let mut given = DressedGiven::new(parts.clone(), three_needs());
        given.limits.mass_within_g = Some(d("0.2"));
        given.limits.offset_within_mm = Some(d("0.04"));
        given.all = round % 3 == 0;
        given.colour_must_agree = round % 2 == 0;
        given.forbidden = forbidden.iter().map(|&(a, b)| (name(a), name(b))).collect();
        let may = |a: usize, b: usize| {
            let banned = forbidden.contains(&(a, b)) || forbidden.contains(&(b, a));
            let colours = !given.colour_must_agree || parts[a].colour == parts[b].colour;
            let share = |read: fn(&LotPart) -> Option<Decimal>, limit: f64| {
                let reading = |at: usize| read(&parts[at]).expect("a reading").to_f64();
                (reading(a) - reading(b)) / limit
            };
            let shares = [
                share(|part| part.mass_g, 0.2),
                share(|part| part.unbalance_g_mm, 0.3),
                share(|part| part.offset_mm, 0.04),
            ];
            let inside = given.all || shares.iter().all(|share| share.abs() <= 1.0 + 1e-9);
            (!banned && colours && inside).then(|| shares.iter().map(|share| share * share).sum())
        };
        let everyone: Vec<usize> = (0..parts.len()).collect();
        let (sets, cost) = most_pairs(&may, &everyone);
        let body = pair_dressed(&given).expect("an answer").body;
        assert_eq!(body.sets.len(), sets, "round {round}");
        // Sums of at most a dozen squares in floats.
        assert!(
            (body.total_cost - cost).abs() <= 1e-9 * cost.max(1.0),
            "round {round}"
        );
        assert!(body.optimal && body.lower_bound <= body.total_cost);
        assert_eq!(body.unpaired.len(), parts.len() - 2 * sets);
    }
}

#[test]
fn law_clock_marks_bring_the_sets_in() {
    let mut draws = SplitMix64::new(20_261_125);
    let mut normal = || (-2.0 * draws.uniform().ln()).sqrt();
    let mut turns = SplitMix64::new(3);
    let part = |number: usize| {
        let (size, angle) = (0.35 * normal(), 360.0 * turns.uniform());
        let mut part = LotPart::new(format!("D{number:03}"), Kind::Dressed);
        part.unbalance_g_mm = Some(Decimal {
            units: (size * 1000.0).round() as i64,
            places: 3,
        });
        part.unbalance_angle_deg = Some(Decimal {
            units: (angle * 10.0).round() as i64,
            places: 1,
        });
        part
    };
    let parts: Vec<LotPart> = (0..480).map(part).collect();
    let limits = Limits {
        unbalance_within_g_mm: Some(d("0.5")),
        ..Limits::default()
    };
    let mut given = DressedGiven::new(parts, limits);
    given.joint = Joint::Keyed { marks: 8 };
    let body = pair_dressed(&given).expect("an answer").body;
    assert!(body.sets.len() >= 238 && body.optimal);
    let score = &body.scores.runs_true;
    assert!(score.known && score.mean <= 0.10, "{score:?}");
    for set in &body.sets {
        assert!(set.within_limits && set.clock_mark.is_some_and(|mark| (1..=8).contains(&mark)));
    }
    given.joint = Joint::Free;
    let free = pair_dressed(&given).expect("an answer").body;
    assert!(free.sets.iter().all(|set| set.clocking.len() == 2));
}

#[test]
fn law_impossible_wishes_are_answered_in_words() {
    let none = pair_dressed(&DressedGiven::new(Vec::new(), mass_only("0.1"))).expect("an answer");
    assert_eq!(none.verdict, Verdict::Stop);
    assert!(
        none.headline.contains("No sets possible because"),
        "{}",
        none.headline
    );
    let one =
        pair_dressed(&DressedGiven::new(gauss_lot(1, 1), mass_only("0.1"))).expect("an answer");
    assert!(one.headline.contains("only one part") && one.body.unpaired.len() == 1);
    let mut barred = DressedGiven::new(gauss_lot(2, 1), mass_only("5"));
    barred.forbidden = vec![("P000000".to_owned(), "P000001".to_owned())];
    let barred = pair_dressed(&barred).expect("an answer");
    assert!(barred.body.sets.is_empty() && barred.verdict == Verdict::Stop);
    for wrong in ["0", "-0.1"] {
        let refused = pair_dressed(&DressedGiven::new(gauss_lot(4, 1), mass_only(wrong)));
        assert!(matches!(refused, Err(Refusal::NotPositive { .. })));
    }
    let nothing = pair_dressed(&DressedGiven::new(gauss_lot(4, 1), Limits::default()));
    assert_eq!(nothing.err(), Some(Refusal::NothingAsked));
    let fine =
        pair_dressed(&DressedGiven::new(gauss_lot(50, 1), mass_only("0.0005"))).expect("words");
    assert!(
        fine.cautions
            .iter()
            .any(|caution| caution.contains("under the 0.001 g step"))
    );
    let mut twice = gauss_lot(4, 1);
    twice[3].serial = twice[0].serial.clone();
    assert!(matches!(
        pair_dressed(&DressedGiven::new(twice, mass_only("0.1"))),
        Err(Refusal::Twice { .. })
    ));
    let mut empty = first_lot(0);
    empty.rims.clear();
    assert!(find(&empty).headline.contains("no rims"));
    empty.halves.clear();
    assert_eq!(find(&empty).verdict, Verdict::Stop);
}

#[test]
fn law_parts_in_doubt_or_unmeasured_are_left_out_with_the_reason() {
    let mut parts = gauss_lot(41, 2);
    parts[0].mass_g = None;
    parts[1].doubts.push("10.38 looks like 10.83".to_owned());
    let mut given = DressedGiven::new(parts, mass_only("0.1"));
    let body = pair_dressed(&given).expect("an answer").body;
    let why = |id: &str| {
        body.left_over
            .iter()
            .find(|part| part.id == id && part.left_out)
            .map(|part| part.why.as_str())
    };
    assert!(why("P000000").is_some_and(|why| why.contains("mass was not measured")));
    assert!(why("P000001").is_some_and(|why| why.contains("10.38 looks like")));
    given.include_doubtful = true;
    let body = pair_dressed(&given).expect("an answer").body;
    assert!(body.left_over.iter().filter(|part| part.left_out).count() == 1);
}

#[test]
fn law_an_odd_lot_leaves_the_part_that_makes_the_total_least() {
    let parts = gauss_lot(7, 11);
    let mut given = DressedGiven::new(parts.clone(), three_needs());
    given.all = true;
    let body = pair_dressed(&given).expect("an answer").body;
    assert_eq!((body.sets.len(), body.unpaired.len()), (3, 1));
    for alone in 0..parts.len() {
        let mut rest = parts.clone();
        rest.remove(alone);
        let mut without = DressedGiven::new(rest, three_needs());
        without.all = true;
        let other = pair_dressed(&without).expect("an answer").body.total_cost;
        assert!(body.total_cost <= other);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn law_dressed_pairs_are_never_worse_than_sorted_neighbours(
        count in 0usize..60,
        seed in 0u64..1000,
        all in proptest::bool::ANY,
    ) {
        let mut given = DressedGiven::new(gauss_lot(count, seed), three_needs());
        given.all = all;
        let body = pair_dressed(&given).expect("an answer").body;
        let simple = &body.baselines;
        prop_assert!(body.optimal);
        prop_assert!(all || body.sets.len() >= simple.sheet_sets.max(simple.as_it_comes_sets));
        prop_assert!(!all || body.sets.len() == count / 2);
        prop_assert!(body.lower_bound <= body.total_cost);
        prop_assert_eq!(body.unpaired.len() + 2 * body.sets.len(), count);
    }
}
