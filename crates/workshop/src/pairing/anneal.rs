//! Exchanging parts between sets by the thousand: repairs the last sets that prices alone leave
//! apart, and takes cuts and costs down. Seeded, so the same lot gives the same answer.

use whirlwright_kit::random::SplitMix64;

use super::lot::{Lot, MILLION};
use super::marry::Dressed;
use super::remarry::Duo;

/// What an exchange is worth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weights {
    /// A set outside its limits weighs this much, and up to as much three times again.
    pub outside: i64,
    /// Weight of one step of cutting.
    pub step: i64,
    /// Weight of one rim that is cut at all.
    pub cut: i64,
    /// Share of the pair cost in a thousandth.
    pub cost_per_mille: i64,
    /// Greatest worsening taken at the start.
    pub hottest: i64,
    /// Greatest worsening taken at the end.
    pub coldest: i64,
}

struct Bench<'a> {
    lot: &'a Lot,
    weights: Weights,
    sets: usize,
    /// Halves and rims by place; places 2i and 2i+1 make set i, the last ones are loose.
    halves: Vec<usize>,
    rims: Vec<usize>,
    half_place: Vec<usize>,
    rim_place: Vec<usize>,
    half_order: Vec<usize>,
    rim_order: Vec<usize>,
    half_rank: Vec<usize>,
    rim_rank: Vec<usize>,
    energy: Vec<i64>,
}

/// Places: the sets' parts first, the loose ones behind them in the order of the lot.
fn places(used: &[usize], total: usize) -> (Vec<usize>, Vec<usize>) {
    let mut is_used = vec![false; total];
    used.iter().for_each(|&part| is_used[part] = true);
    let mut parts = used.to_vec();
    parts.extend((0..total).filter(|&part| !is_used[part]));
    let mut place = vec![0; total];
    parts
        .iter()
        .enumerate()
        .for_each(|(at, &part)| place[part] = at);
    (parts, place)
}

fn by_mass(pieces: &[super::lot::Piece]) -> (Vec<usize>, Vec<usize>) {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by_key(|&at| (pieces[at].mass, at));
    let mut rank = vec![0; pieces.len()];
    order
        .iter()
        .enumerate()
        .for_each(|(at, &part)| rank[part] = at);
    (order, rank)
}

impl<'a> Bench<'a> {
    fn new(lot: &'a Lot, start: &[Duo], sets: usize, weights: Weights) -> Self {
        let used =
            |of: fn(&Dressed) -> usize| -> Vec<usize> { start.iter().flatten().map(of).collect() };
        let (halves, half_place) = places(&used(|one| one.half), lot.halves.len());
        let (rims, rim_place) = places(&used(|one| one.rim), lot.rims.len());
        let (half_order, half_rank) = by_mass(&lot.halves);
        let (rim_order, rim_rank) = by_mass(&lot.rims);
        let mut bench = Self {
            lot,
            weights,
            sets,
            halves,
            rims,
            half_place,
            rim_place,
            half_order,
            rim_order,
            half_rank,
            rim_rank,
            energy: vec![0; sets],
        };
        for set in 0..sets {
            bench.energy[set] = bench.weigh(set);
        }
        bench
    }

    fn uncut(&self, place: usize) -> i64 {
        let (half, rim) = (self.halves[place], self.rims[place]);
        self.lot
            .deviation(&self.lot.halves[half], &self.lot.rims[rim], 0)
    }

    fn weigh(&self, set: usize) -> i64 {
        let (l, r) = (2 * set, 2 * set + 1);
        let lot = self.lot;
        if !lot.may_marry(self.halves[l], self.rims[l])
            || !lot.may_marry(self.halves[r], self.rims[r])
            || !lot.may_pair(self.halves[l], self.halves[r])
        {
            return 4 * self.weights.outside;
        }
        let (a, b) = (self.uncut(l), self.uncut(r));
        match lot.least_cut((a, lot.most_steps), (b, lot.most_steps)) {
            Some((k, m)) => {
                let cut =
                    |deviation: i64, steps: u32| deviation - 2 * i64::from(steps) * lot.step_mass;
                let cost = lot.cost_millionths(cut(a, k), cut(b, m));
                i64::from(k + m) * self.weights.step
                    + (i64::from(k > 0) + i64::from(m > 0)) * self.weights.cut
                    + cost * self.weights.cost_per_mille / 1000
            }
            None => {
                let over = ((a - b).abs() - lot.mass_limit).max(0) * MILLION / lot.mass_limit
                    + ((a + b).abs() - lot.piece_limit).max(0) * MILLION / lot.piece_limit;
                self.weights.outside + over.min(3 * self.weights.outside)
            }
        }
    }

    /// A part of nearly the same mass as `part`, up to some random reach away.
    fn near(order: &[usize], rank: &[usize], part: usize, draws: &mut SplitMix64) -> usize {
        let bits = usize::BITS - order.len().leading_zeros();
        let reach = 1usize << draws.below(bits as usize);
        let offset = 1 + draws.below(reach);
        let at = rank[part];
        let place = if draws.below(2) == 0 {
            at.saturating_sub(offset)
        } else {
            at + offset
        };
        order[place.min(order.len() - 1)]
    }

    fn swap(&mut self, what: usize, i: usize, j: usize) {
        if what != 1 {
            self.halves.swap(i, j);
            self.half_place[self.halves[i]] = i;
            self.half_place[self.halves[j]] = j;
        }
        if what != 0 {
            self.rims.swap(i, j);
            self.rim_place[self.rims[i]] = i;
            self.rim_place[self.rims[j]] = j;
        }
    }

    /// One exchange, taken when it worsens by less than `heat`; returns the change.
    fn exchange(&mut self, heat: i64, draws: &mut SplitMix64) -> i64 {
        let i = draws.below(2 * self.sets);
        let what = draws.below(3);
        let j = match what {
            0 => {
                self.half_place
                    [Self::near(&self.half_order, &self.half_rank, self.halves[i], draws)]
            }
            1 => self.rim_place[Self::near(&self.rim_order, &self.rim_rank, self.rims[i], draws)],
            _ => draws.below(2 * self.sets),
        };
        let (one, two) = (i / 2, j / 2);
        if one == two && (what == 2 || i == j) {
            return 0;
        }
        self.swap(what, i, j);
        let new_one = self.weigh(one);
        let new_two = if two < self.sets && two != one {
            self.weigh(two)
        } else {
            0
        };
        let old_two = if two < self.sets && two != one {
            self.energy[two]
        } else {
            0
        };
        let change = new_one + new_two - self.energy[one] - old_two;
        let taken = change <= 0 || change < ((heat as f64) * draws.uniform().powi(2)) as i64;
        if !taken {
            self.swap(what, i, j);
            return 0;
        }
        self.energy[one] = new_one;
        if two < self.sets && two != one {
            self.energy[two] = new_two;
        }
        change
    }

    /// The sets that keep their limits.
    fn good_sets(&self) -> Vec<Duo> {
        let mut good = Vec::new();
        for set in (0..self.sets).filter(|&set| self.energy[set] < self.weights.outside) {
            let (l, r) = (2 * set, 2 * set + 1);
            let (a, b) = (self.uncut(l), self.uncut(r));
            let lot = self.lot;
            let Some((k, m)) = lot.least_cut((a, lot.most_steps), (b, lot.most_steps)) else {
                continue;
            };
            good.push([(l, a, k), (r, b, m)].map(|(place, uncut, steps)| Dressed {
                half: self.halves[place],
                rim: self.rims[place],
                steps,
                deviation: uncut - 2 * i64::from(steps) * lot.step_mass,
            }));
        }
        good
    }
}

/// Exchanges parts `moves` times, aiming at `target` sets inside their limits.
///
/// Starts from `start` (at most `target` sets); loose parts fill the missing sets. Heat falls
/// evenly on a logarithmic scale. Returns the sets that are inside their limits at the end, or as
/// soon as all are and `until_inside` is set.
pub(super) fn anneal(
    lot: &Lot,
    start: &[Duo],
    target: usize,
    weights: Weights,
    moves: usize,
    until_inside: bool,
    seed: u64,
) -> Vec<Duo> {
    if target == 0 || lot.halves.len() < 2 * target || lot.rims.len() < 2 * target {
        return start.to_vec();
    }
    let mut draws = SplitMix64::new(seed);
    let mut bench = Bench::new(lot, start, target, weights);
    let mut total: i64 = bench.energy.iter().sum();
    let fall = (weights.coldest as f64 / weights.hottest as f64).ln();
    let mut heat = weights.hottest;
    for number in 0..moves {
        /// The heat is reckoned anew after so many moves.
        const STRIDE: usize = 256;
        if number % STRIDE == 0 {
            let share = number as f64 / moves as f64;
            heat = (weights.hottest as f64 * (fall * share).exp()) as i64;
            if until_inside && total < weights.outside {
                break;
            }
        }
        total += bench.exchange(heat, &mut draws);
    }
    bench.good_sets()
}
