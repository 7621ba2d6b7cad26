//! Which holes: the pattern that leaves least, proved so.
//!
//! A plane has `N` places and at each the same levels (a depth, a drill, a weight); a pattern is a choice
//! of so many places with a level each. What is left in the planes, `r₁` and `r₂`, costs
//! `J = Q₁₁|r₁|² + Q₂₂|r₂|² + 2 Q₁₂ Re(r₁ r̄₂)`.
//!
//! The search is exact. In one plane all but the last hole are enumerated; for the last, only places and
//! levels that can end inside a circle are looked at, and the rest cannot. Over two planes the cost is
//! `J = (Q₁₁ − Q₁₂²/Q₂₂)|r₁|² + Q₂₂|r₂ − t|²` with `t = −(Q₁₂/Q₂₂) r₁`: a good pair, found by turns, bounds
//! `|r₁|` by its first term; for every pattern inside that circle, nearest first, the other plane is searched
//! for the pattern nearest to `t`, within what the best pair so far leaves of `J`. Patterns that leave more
//! than is wanted in a plane are out from the start.

use super::vectors::{Vector, at_deg};

/// What one plane offers.
#[derive(Debug, Clone)]
pub(super) struct Offer {
    /// Unbalance to be corrected, g·mm.
    pub unbalance: Vector,
    /// Angles of the open places, ascending by number, with the place's number.
    pub places: Vec<(u32, f64)>,
    /// Unbalance of each level at its angle, g·mm, ascending by size; all of one sign.
    pub levels: Vec<f64>,
    /// Whether levels count against their angle (material taken off).
    pub taken_off: bool,
    /// Two holes stand at least so many degrees apart.
    pub apart_deg: f64,
    /// At most so many holes.
    pub most_holes: u32,
}

/// The cost of what is left.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cost {
    pub q11: f64,
    pub q12: f64,
    pub q22: f64,
}

/// Holes of one plane: place (by index in the offer) and level, and what they leave.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pattern {
    pub holes: Vec<(usize, usize)>,
    pub left: Vector,
}

/// The best pattern with so many holes.
#[derive(Debug, Clone)]
pub(super) struct Best {
    pub planes: Vec<Pattern>,
    pub cost: f64,
    /// Whether nothing was left out for lack of time.
    pub proved: bool,
    /// Patterns looked at one by one.
    pub looked_at: u64,
}

/// Most rounds of improving the first pair: each can only lower the cost, and a handful is enough.
const MOST_ROUNDS: usize = 16;
/// Most patterns looked at one by one before the search gives up its proof.
const MOST: u64 = 20_000_000;
/// Most patterns listed for one plane.
const MOST_LISTED: usize = 200_000;

impl Cost {
    fn of(&self, r1: Vector, r2: Vector) -> f64 {
        let mixed = r1.re * r2.re + r1.im * r2.im;
        self.q11 * r1.norm_sqr() + self.q22 * r2.norm_sqr() + 2.0 * self.q12 * mixed
    }

    /// What one plane costs by itself.
    fn own(&self, plane: usize) -> f64 {
        if plane == 0 { self.q11 } else { self.q22 }
    }

    /// Least cost of what is left in one plane, whatever the other has.
    fn least(&self, plane: usize) -> f64 {
        let (own, others) = (self.own(plane), self.own(1 - plane));
        if others > 0.0 {
            own - self.q12 * self.q12 / others
        } else {
            own
        }
    }

    /// What one plane had best be left with when the other is left with `others`.
    fn target(&self, plane: usize, others: Vector) -> Vector {
        others * (-self.q12 / self.own(plane))
    }
}

/// A walk over the patterns of one plane with a stated number of holes that leave at most a radius.
struct Walk<'a> {
    offer: &'a Offer,
    /// The way of every place, as a level counts there.
    ways: Vec<Vector>,
    /// What is walked towards; `left` is reckoned from here.
    target: Vector,
    radius: f64,
    /// Most that may be left, whatever the target.
    within: f64,
    /// Whether the radius shrinks to the best found.
    shrink: bool,
    holes: Vec<(usize, usize)>,
    found: Vec<Pattern>,
    looked_at: u64,
    cut_short: bool,
}

impl<'a> Walk<'a> {
    fn new(offer: &'a Offer, target: Vector, radius: f64, within: f64, shrink: bool) -> Self {
        let sign = if offer.taken_off { -1.0 } else { 1.0 };
        Self {
            offer,
            ways: offer.places.iter().map(|p| at_deg(sign, p.1)).collect(),
            target,
            radius,
            within,
            shrink,
            holes: Vec::new(),
            found: Vec::new(),
            looked_at: 0,
            cut_short: false,
        }
    }

    fn take(&mut self, left: Vector) {
        self.looked_at += 1;
        if left.norm() > self.radius || (left + self.target).norm() > self.within {
            return;
        }
        if self.shrink {
            self.radius = left.norm();
            self.found.clear();
        } else if self.found.len() >= MOST_LISTED {
            self.cut_short = true;
            return;
        }
        self.found.push(Pattern {
            holes: self.holes.clone(),
            left: left + self.target,
        });
    }

    /// Patterns with `count` more holes beyond those chosen; `left` is what they leave.
    fn go(&mut self, count: u32, left: Vector) {
        if self.looked_at > MOST {
            self.cut_short = true;
            return;
        }
        match count {
            0 => self.take(left),
            1 => self.last(left),
            _ => self.more(count, left),
        }
    }

    fn more(&mut self, count: u32, left: Vector) {
        let largest = self.offer.levels.last().map_or(0.0, |l| l.abs());
        let from = self.holes.last().map_or(0, |(place, _)| place + 1);
        for place in from..self.offer.places.len() {
            if !self.is_free(place) {
                continue;
            }
            let way = self.ways[place];
            for level in 0..self.offer.levels.len() {
                let next = left + way * self.offer.levels[level].abs();
                self.looked_at += 1;
                // What is left must be within reach of the holes still to come.
                if next.norm() <= f64::from(count - 1) * largest + self.radius {
                    self.holes.push((place, level));
                    self.go(count - 1, next);
                    self.holes.pop();
                }
            }
        }
    }

    /// The last hole: at each place only levels that end inside the circle.
    fn last(&mut self, left: Vector) {
        let from = self.holes.last().map_or(0, |(place, _)| place + 1);
        for place in from..self.offer.places.len() {
            let way = self.ways[place];
            // |left + way·u|² = u² + 2 u b + |left|², u the size of the level.
            let b = left.re * way.re + left.im * way.im;
            let root = self.radius * self.radius - left.norm_sqr() + b * b;
            if root < 0.0 || !self.is_free(place) {
                continue;
            }
            let (low, high) = (-b - root.sqrt(), -b + root.sqrt());
            let levels = &self.offer.levels;
            // A rounding more on either side: `take` looks again.
            let slack = 1e-12 * (left.norm() + self.radius);
            let first = levels.partition_point(|l| l.abs() < low - slack);
            let mut level = first;
            while level < levels.len() && levels[level].abs() <= high + slack {
                self.holes.push((place, level));
                self.take(left + way * levels[level].abs());
                self.holes.pop();
                level += 1;
            }
        }
    }

    fn is_free(&self, place: usize) -> bool {
        let angle = |n: usize| self.offer.places[n].1;
        self.holes.iter().all(|(other, _)| {
            let off = (angle(place) - angle(*other)).rem_euclid(360.0);
            off.min(360.0 - off) >= self.offer.apart_deg - 1e-9
        })
    }
}

/// What a walk towards one target found.
struct Nearest {
    pattern: Option<Pattern>,
    whole: bool,
    looked_at: u64,
}

/// The pattern of one plane with exactly `count` holes that leaves the nearest to `target`, no farther from it
/// than `radius` and no more than `within`.
fn nearest(offer: &Offer, count: u32, target: Vector, radius: f64, within: f64) -> Nearest {
    let mut walk = Walk::new(offer, target, radius, within, true);
    walk.go(count, offer.unbalance - target);
    Nearest {
        pattern: walk.found.pop(),
        whole: !walk.cut_short,
        looked_at: walk.looked_at,
    }
}

/// The best pattern with exactly so many holes in each plane, of those that leave no more than `within` in
/// each.
///
/// # Errors
/// There is none, or no room for the holes; whether that is proved.
pub(super) fn best(
    offers: &[Offer],
    counts: &[u32],
    cost: &Cost,
    within: &[f64],
) -> Result<Best, bool> {
    let mut firsts = Vec::new();
    let (mut proved, mut looked_at) = (true, 0);
    for ((offer, count), within) in offers.iter().zip(counts).zip(within) {
        // No pattern ends outside this circle.
        let largest = offer.levels.last().map_or(0.0, |l| l.abs());
        let all = offer.unbalance.norm() + f64::from(*count) * largest;
        let found = nearest(offer, *count, Vector::default(), all.min(*within), *within);
        proved &= found.whole;
        looked_at += found.looked_at;
        firsts.push(found.pattern.ok_or(found.whole)?);
    }
    let value = |planes: &[Pattern]| match planes {
        [one] => cost.q11 * one.left.norm_sqr(),
        [one, two, ..] => cost.of(one.left, two.left),
        [] => 0.0,
    };
    let mut best = Best {
        cost: value(&firsts),
        planes: firsts,
        proved,
        looked_at,
    };
    // One plane, or planes that do not mix: the nearest of each is the best.
    if offers.len() == 2 && cost.q12 != 0.0 {
        let mut pair = Pair {
            offers,
            counts,
            cost,
            within,
            best: &mut best,
        };
        pair.by_turns();
        pair.whole();
    }
    Ok(best)
}

/// The search over two planes that mix.
struct Pair<'a> {
    offers: &'a [Offer],
    counts: &'a [u32],
    cost: &'a Cost,
    within: &'a [f64],
    best: &'a mut Best,
}

impl Pair<'_> {
    /// Betters one plane for what the other is left with, by turns, until nothing changes.
    fn by_turns(&mut self) {
        for round in 0..MOST_ROUNDS {
            let plane = round % 2;
            let other = self.best.planes[1 - plane].clone();
            if !self.better(plane, &other) && round > 0 {
                break;
            }
        }
    }

    /// Looks for a pattern of `plane` that beside `other` costs less than the best pair.
    fn better(&mut self, plane: usize, other: &Pattern) -> bool {
        let rest = self.best.cost - self.cost.least(1 - plane) * other.left.norm_sqr();
        // A rounding more, so that nothing on the circle itself is lost.
        let radius = (rest.max(0.0) / self.cost.own(plane)).sqrt() * (1.0 + 1e-9);
        let target = self.cost.target(plane, other.left);
        let (offer, within) = (&self.offers[plane], self.within[plane]);
        let found = nearest(offer, self.counts[plane], target, radius, within);
        self.best.proved &= found.whole;
        self.best.looked_at += found.looked_at;
        let Some(pattern) = found.pattern else {
            return false;
        };
        let value = match plane {
            0 => self.cost.of(pattern.left, other.left),
            _ => self.cost.of(other.left, pattern.left),
        };
        let less = value < self.best.cost;
        if less {
            self.best.cost = value;
            self.best.planes[plane] = pattern;
            self.best.planes[1 - plane] = other.clone();
        }
        less
    }

    /// Every pattern of the plane with fewer of them that may still be part of a better pair.
    fn whole(&mut self) {
        let size = |plane: usize| {
            let settings = self.offers[plane].places.len() * self.offers[plane].levels.len();
            f64::from(self.counts[plane]) * (settings.max(1) as f64).ln()
        };
        let outer = usize::from(size(1) < size(0));
        let least = self.cost.least(outer);
        let radius = if least > 0.0 {
            (self.best.cost / least).sqrt() * (1.0 + 1e-9) + f64::MIN_POSITIVE
        } else {
            f64::INFINITY
        };
        let within = self.within[outer];
        let origin = Vector::default();
        let mut walk = Walk::new(
            &self.offers[outer],
            origin,
            radius.min(within),
            within,
            false,
        );
        walk.go(self.counts[outer], self.offers[outer].unbalance);
        self.best.proved &= !walk.cut_short;
        self.best.looked_at += walk.looked_at;
        let mut ones = walk.found;
        ones.sort_by(|a, b| a.left.norm_sqr().total_cmp(&b.left.norm_sqr()));
        for one in ones {
            if least * one.left.norm_sqr() > self.best.cost {
                break;
            }
            if self.best.looked_at > MOST {
                self.best.proved = false;
                break;
            }
            self.better(1 - outer, &one);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use whirlwright_kit::random::SplitMix64;

    fn offer(draws: &mut SplitMix64, places: u32, levels: usize, most_holes: u32) -> Offer {
        let size = 2.0 * draws.uniform();
        Offer {
            unbalance: at_deg(size, 360.0 * draws.uniform()),
            places: (0..places)
                .map(|n| (n, 360.0 * f64::from(n) / f64::from(places)))
                .collect(),
            levels: (1..=levels).map(|n| -0.3 * n as f64).collect(),
            taken_off: true,
            apart_deg: 0.0,
            most_holes,
        }
    }

    const ANY: [f64; 2] = [f64::INFINITY; 2];

    #[test]
    fn law_of_patterns_within_the_goals_none_is_better() {
        let mut draws = SplitMix64::new(23);
        let mut met = 0;
        for _ in 0..60 {
            let offers = [offer(&mut draws, 7, 3, 2), offer(&mut draws, 6, 2, 2)];
            let cost = Cost {
                q11: 1.0,
                q12: -0.97,
                q22: 1.0,
            };
            let goals = [0.25, 0.25];
            let found = best(&offers, &[2, 2], &cost, &goals).ok();
            let near = |n: usize| -> Vec<Vector> {
                let all = all(&offers[n], 2).into_iter();
                all.filter(|left| left.norm() <= goals[n]).collect()
            };
            let (ones, twos) = (near(0), near(1));
            let least = ones
                .iter()
                .flat_map(|a| twos.iter().map(|b| cost.of(*a, *b)))
                .fold(f64::INFINITY, f64::min);
            assert_eq!(found.is_some(), least.is_finite());
            if let Some(found) = found {
                met += 1;
                assert!(found.proved && (found.cost - least).abs() < 1e-13);
            }
        }
        assert!(met > 5, "{met}");
    }

    /// Every pattern there is.
    fn all(offer: &Offer, count: u32) -> Vec<Vector> {
        let mut sums = vec![(0usize, offer.unbalance)];
        for _ in 0..count {
            let mut next = Vec::new();
            for (from, left) in sums {
                for place in from..offer.places.len() {
                    for level in &offer.levels {
                        next.push((
                            place + 1,
                            left + at_deg(1.0, offer.places[place].1) * *level,
                        ));
                    }
                }
            }
            sums = next;
        }
        sums.into_iter().map(|(_, left)| left).collect()
    }

    #[test]
    fn law_no_pattern_is_better_than_the_one_found() {
        let mut draws = SplitMix64::new(17);
        for trial in 0..60 {
            let offers = [offer(&mut draws, 7, 3, 2), offer(&mut draws, 6, 2, 2)];
            let mixed = 2.0 * draws.uniform() - 1.0;
            let cost = Cost {
                q11: 1.0,
                q12: 0.99 * mixed,
                q22: 1.0,
            };
            for counts in [[0, 1], [1, 1], [2, 1], [2, 2]] {
                let found = best(&offers, &counts, &cost, &ANY).unwrap();
                let (ones, twos) = (all(&offers[0], counts[0]), all(&offers[1], counts[1]));
                let least = ones
                    .iter()
                    .flat_map(|a| twos.iter().map(|b| cost.of(*a, *b)))
                    .fold(f64::INFINITY, f64::min);
                assert!(found.proved);
                // Roundings of sums of some ten numbers of size one.
                assert!(
                    (found.cost - least).abs() < 1e-13,
                    "{trial} {counts:?}: {} {least}",
                    found.cost
                );
            }
        }
    }

    #[test]
    fn law_a_search_over_two_drills_and_many_depths_is_proved() {
        let mut draws = SplitMix64::new(5);
        for _ in 0..10 {
            let mut offers = [offer(&mut draws, 24, 72, 2), offer(&mut draws, 24, 72, 2)];
            for plane in &mut offers {
                plane.levels = (1..=72).map(|n| -0.02 * f64::from(n)).collect();
                plane.apart_deg = 12.0;
            }
            // A wobble that counts fifty times the seat.
            let cost = Cost {
                q11: 51.0,
                q12: -49.0,
                q22: 51.0,
            };
            for counts in [[1, 1], [1, 2], [2, 1], [2, 2]] {
                assert!(
                    best(&offers, &counts, &cost, &ANY).unwrap().proved,
                    "{counts:?}"
                );
            }
        }
    }

    #[test]
    fn law_holes_keep_apart_and_no_room_is_none() {
        let mut draws = SplitMix64::new(2);
        let mut plane = offer(&mut draws, 8, 2, 3);
        plane.apart_deg = 100.0;
        let cost = Cost {
            q11: 1.0,
            q12: 0.0,
            q22: 1.0,
        };
        let found = best(std::slice::from_ref(&plane), &[2], &cost, &ANY).unwrap();
        let angles: Vec<f64> = found.planes[0]
            .holes
            .iter()
            .map(|(p, _)| plane.places[*p].1)
            .collect();
        for (n, a) in angles.iter().enumerate() {
            for b in &angles[..n] {
                let off = (a - b).rem_euclid(360.0);
                assert!(off.min(360.0 - off) >= 100.0);
            }
        }
        // Eight places 45 degrees apart have no three that stand 100 degrees apart.
        assert!(best(&[plane], &[3], &cost, &ANY).is_err());
    }
}
