//! Laws, enumeration and published sums.

use proptest::prelude::*;

use super::*;

/// SplitMix64, the generator of the published instances.
pub(super) struct Mix(pub u64);

impl Mix {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    fn uniform(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }
}

/// The published instances, in thousandths, thousandths and ten-thousandths.
fn gauss(count: u64, seed: u64) -> Vec<[i64; 4]> {
    let mut mix = Mix(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(count));
    let round = |value: f64, parts: f64| (value * parts + 0.5).floor() as i64;
    (0..count)
        .map(|_| {
            let u: [f64; 6] = std::array::from_fn(|_| mix.uniform());
            let (r, turn) = ((-2.0 * u[0].ln()).sqrt(), 2.0 * std::f64::consts::PI * u[1]);
            let x = 32.0 + 0.12 * r * turn.cos();
            let y = 0.25 * (-2.0 * u[2].ln()).sqrt();
            [
                round(x, 1e3),
                round(y, 1e3),
                round(0.02 * r * turn.sin(), 1e4),
                0,
            ]
        })
        .collect()
}

fn plain(coords: &[[i64; 4]]) -> Points<'_> {
    Points {
        coords,
        weights: [9, 1, 1, 0],
        limits: None,
        groups: None,
    }
}

/// A text between quotes after `key = "` in a line.
fn quoted<'a>(line: &'a str, key: &str) -> Option<&'a str> {
    let rest = line.split_once(&format!("{key} = \""))?.1;
    Some(rest.split_once('"')?.0)
}

/// Least cost by full enumeration over subsets.
fn enumerate(n: usize, edges: &[Edge], alone: i64) -> i64 {
    let mut best = vec![0; 1 << n];
    for set in 1..1_usize << n {
        let first = set.trailing_zeros();
        let mut least = best[set & (set - 1)] + alone;
        for edge in edges {
            let pair = (1_usize << edge.a) | (1 << edge.b);
            let with_first = edge.a != edge.b && (edge.a == first || edge.b == first);
            if with_first && set & pair == pair {
                least = least.min(best[set & !pair] + edge.cost);
            }
        }
        best[set] = least;
    }
    best[(1 << n) - 1]
}

/// A random graph with ties, parallel edges and loops.
fn random_graph(mix: &mut Mix, most: u64) -> (usize, Vec<Edge>, i64) {
    let n = mix.below(most + 1);
    let m = if n == 0 { 0 } else { mix.below(n * n / 2 + 2) };
    let range = [2, 5, 20, 1000, 1_000_000][mix.below(5) as usize];
    let alone = [0, range / 4, range / 2, range, 10 * range, 1000 * range][mix.below(6) as usize];
    let mut node = || mix.below(n) as u32;
    let ends: Vec<(u32, u32)> = (0..m).map(|_| (node(), node())).collect();
    let edge = |(a, b)| Edge {
        a,
        b,
        cost: mix.below(range) as i64,
    };
    (
        n as usize,
        ends.into_iter().map(edge).collect(),
        alone as i64,
    )
}

#[test]
fn twin_published_sums_are_found_and_proved() {
    let text = include_str!("../../../../validation/matching/gauss.toml");
    let mut cases = 0;
    let (mut seed, mut count) = (0, 0);
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        if let (Some(s), Some(c)) = (quoted(line, "seed"), quoted(line, "count")) {
            (seed, count) = (s.parse().unwrap(), c.parse().unwrap());
        } else if let (true, Some(sum)) =
            (line.starts_with("value"), quoted(line, "cost_times_90000"))
        {
            let coords = gauss(count, seed);
            let found = match_points(&plain(&coords), 1 << 40);
            assert_eq!(
                found.matching.cost,
                sum.parse::<i128>().unwrap(),
                "{count} points"
            );
            assert!(found.optimal, "{count} points");
            assert_eq!(verify(&plain(&coords), 1 << 40, &found.matching), Ok(()));
            cases += 1;
        }
    }
    assert_eq!(cases, 5, "all cases were read");
}

#[test]
fn closed_form_enumeration_of_small_graphs() {
    let mut mix = Mix(7);
    for round in 0..4000 {
        let (n, edges, alone) = random_graph(&mut mix, 12);
        let found = match_sparse(n, &edges, alone);
        let least = enumerate(n, &edges, alone);
        assert_eq!(
            found.cost,
            i128::from(least),
            "{round}: {n} nodes, {edges:?}, alone {alone}"
        );
        assert_eq!(verify_sparse(n, &edges, alone, &found), Ok(()), "{round}");
    }
}

#[test]
#[ignore = "once in a while: 100,000 graphs take half a minute"]
fn closed_form_enumeration_of_many_small_graphs() {
    let mut mix = Mix(11);
    for round in 0..100_000 {
        let (n, edges, alone) = random_graph(&mut mix, 12);
        let found = match_sparse(n, &edges, alone);
        assert_eq!(
            found.cost,
            i128::from(enumerate(n, &edges, alone)),
            "{round}"
        );
        assert_eq!(verify_sparse(n, &edges, alone, &found), Ok(()), "{round}");
    }
}

#[test]
fn law_larger_graphs_carry_their_proof() {
    let mut mix = Mix(3);
    for round in 0..400 {
        let (n, edges, alone) = random_graph(&mut mix, 120);
        let found = match_sparse(n, &edges, alone);
        assert_eq!(verify_sparse(n, &edges, alone, &found), Ok(()), "{round}");
    }
}

#[test]
fn law_points_with_limits_groups_and_forbids_are_proved_pair_by_pair() {
    let mut mix = Mix(5);
    for round in 0..600 {
        let n = mix.below(70) as usize;
        let range = [1, 3, 12, 100, 5000][mix.below(5) as usize];
        let coords: Vec<[i64; 4]> = (0..n)
            .map(|_| std::array::from_fn(|_| mix.below(range) as i64 - 7))
            .collect();
        let groups: Vec<u32> = (0..n).map(|_| mix.below(3) as u32).collect();
        let mut limit = || (mix.below(2) == 0).then(|| mix.below(range) as i64);
        let limits = [limit(), limit(), None, limit()];
        let weights = std::array::from_fn(|_| mix.below(3) as i64);
        let alone = [0, 7, 1000, 1 << 40][mix.below(4) as usize];
        let points = Points {
            coords: &coords,
            weights,
            limits: (mix.below(2) == 0).then_some(limits),
            groups: (mix.below(2) == 0).then_some(&groups[..]),
        };
        let sparse = mix.below(2) == 0;
        let allowed = |a: u32, b: u32| !sparse || !(a + b).is_multiple_of(3);
        let found = match_points_where(&points, alone, allowed);
        assert!(found.optimal, "{round}");
        assert_eq!(
            verify_where(&points, alone, allowed, &found.matching),
            Ok(()),
            "{round}"
        );
    }
}

#[test]
fn law_one_too_many_stays_alone_and_all_pairs_are_looked_at() {
    // Whoever stays alone lifts the dual values of all others above every cost, within one set.
    let near = Some([Some(100), Some(300), Some(300), None]);
    for (limits, alone_cost) in [(None, 1 << 40), (near, 1 << 40), (None, MOST_COST)] {
        let coords = gauss(2001, 1);
        let points = Points {
            limits,
            ..plain(&coords)
        };
        let found = match_points(&points, alone_cost);
        let alone = found.matching.mate.iter().filter(|mate| mate.is_none());
        assert!(alone.count() % 2 == 1);
        assert!(found.optimal);
        assert_eq!(verify(&points, alone_cost, &found.matching), Ok(()));
    }
}

#[test]
fn closed_form_many_equal_points_on_a_line() {
    // One measure of few digits: some hundred points at each value, all as near as any other.
    let mut coords = gauss(10_001, 1);
    for point in &mut coords {
        *point = [point[0], 0, 0, 0];
    }
    let found = match_points(&plain(&coords), 1 << 40);
    assert!(found.optimal);
    // Of 5,000 pairs a point, a few dozen are looked at: near neighbours and rounds of 8.
    assert!(found.edges < 30 * coords.len(), "{} pairs", found.edges);
    // On a line, with one left out, neighbours in order are the cheapest pairs.
    let mut line: Vec<i64> = coords.iter().map(|point| point[0]).collect();
    line.sort_unstable();
    let cost = |pair: &[i64]| i128::from(9 * (pair[1] - pair[0]).pow(2));
    let without = |left: usize| {
        let (low, high) = (&line[..left], &line[left + 1..]);
        low.chunks(2).chain(high.chunks(2)).map(cost).sum::<i128>()
    };
    let least = (0..line.len()).step_by(2).map(without).min();
    assert_eq!(
        least.map(|least| least + (1 << 40)),
        Some(found.matching.cost)
    );
}

#[test]
fn law_identical_points_cost_nothing() {
    let coords = vec![[5, 5, 5, 5]; 10_000];
    let found = match_points(&plain(&coords), 1 << 40);
    assert_eq!((found.matching.cost, found.optimal), (0, true));
    assert!(found.edges < 100_000, "{} pairs listed", found.edges);
    let odd = match_points(&plain(&coords[1..]), 12);
    assert_eq!((odd.matching.cost, odd.optimal), (12, true));
}

#[test]
fn closed_form_none_one_two_three() {
    for n in 0..4 {
        let coords: Vec<[i64; 4]> = (0..n).map(|x| [x * x, 0, 0, 0]).collect();
        let found = match_points(&plain(&coords), 1000);
        assert_eq!(
            found.matching.cost,
            [0, 1000, 9, 1009][n as usize],
            "{n} points"
        );
        assert!(found.optimal);
    }
    assert_eq!(match_sparse(0, &[], 5).cost, 0);
    assert_eq!(match_sparse(3, &[], 5).cost, 15);
    let odd = [
        Edge {
            a: 1,
            b: 1,
            cost: -4,
        },
        Edge {
            a: 0,
            b: 9,
            cost: 1,
        },
    ];
    assert_eq!(
        match_sparse(3, &odd, 5).cost,
        15,
        "a loop and an edge to nowhere are no edges"
    );
}

#[test]
fn law_nothing_allowed_leaves_all_alone() {
    let coords = gauss(50, 3);
    let points = Points {
        limits: Some([Some(-1), None, None, None]),
        ..plain(&coords)
    };
    let found = match_points(&points, 77);
    assert_eq!((found.matching.cost, found.optimal), (50 * 77, true));
    assert_eq!(found.matching.mate, vec![None; 50]);
}

#[test]
fn law_largest_numbers_do_not_wrap() {
    let coords = [
        [i64::MIN, 0, 0, 0],
        [i64::MAX, 0, 0, 0],
        [i64::MAX, 1, 0, 0],
    ];
    let points = Points {
        weights: [i64::MAX; 4],
        ..plain(&coords)
    };
    let found = match_points(&points, i64::MAX);
    assert!(found.optimal);
    assert_eq!(verify(&points, i64::MAX, &found.matching), Ok(()));
    let edges = [
        Edge {
            a: 0,
            b: 1,
            cost: i64::MAX,
        },
        Edge {
            a: 1,
            b: 2,
            cost: MOST_COST,
        },
    ];
    let found = match_sparse(3, &edges, i64::MAX);
    assert_eq!(found.cost, 2 * i128::from(MOST_COST));
}

#[test]
fn law_a_broken_proof_is_refused() {
    let coords = gauss(40, 1);
    let found = match_points(&plain(&coords), 1 << 40).matching;
    let mut dearer = found.clone();
    dearer.duals.value_times_2[3] += 2;
    assert!(verify(&plain(&coords), 1 << 40, &dearer).is_err());
    let mut cheaper = found.clone();
    cheaper.duals.value_times_2[3] -= 2;
    assert!(matches!(
        verify(&plain(&coords), 1 << 40, &cheaper),
        Err(Unproved::Gap { .. })
    ));
    let mut single = found;
    single.mate[0] = None;
    assert!(matches!(
        verify(&plain(&coords), 1 << 40, &single),
        Err(Unproved::Broken(_))
    ));
}

proptest! {
    #[test]
    fn law_order_of_points_does_not_change_the_cost(
        coords in prop::collection::vec(prop::array::uniform4(-40_i64..40), 0..60),
        turn in 0_usize..60,
    ) {
        let found = match_points(&plain(&coords), 500);
        let mut other = coords.clone();
        other.reverse();
        if !other.is_empty() {
            let by = turn % other.len();
            other.rotate_left(by);
        }
        let again = match_points(&plain(&other), 500);
        prop_assert!(found.optimal && again.optimal);
        prop_assert_eq!(found.matching.cost, again.matching.cost);
    }

    #[test]
    fn law_never_dearer_than_taking_them_as_they_come(
        coords in prop::collection::vec(prop::array::uniform4(-400_i64..400), 0..80),
    ) {
        let points = plain(&coords);
        let alone = 1 << 30;
        let pairs = coords.chunks(2).enumerate().map(|(i, pair)| match pair {
            [_, _] => points.cost(2 * i, 2 * i + 1).unwrap(),
            _ => alone,
        });
        let as_it_comes: i64 = pairs.sum();
        prop_assert!(match_points(&points, alone).matching.cost <= i128::from(as_it_comes));
    }

    #[test]
    fn law_a_dearer_edge_never_makes_a_matching_cheaper(
        seed in 0_u64..1_000_000,
        pick in 0_usize..1000,
    ) {
        let (n, mut edges, alone) = random_graph(&mut Mix(seed), 40);
        let before = match_sparse(n, &edges, alone).cost;
        if !edges.is_empty() {
            let pick = pick % edges.len();
            edges[pick].cost += 1;
        }
        let after = match_sparse(n, &edges, alone).cost;
        prop_assert!(before <= after && after <= before + 1);
    }
}
