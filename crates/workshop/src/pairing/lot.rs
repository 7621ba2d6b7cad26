//! Halves and rims in whole numbers: who may meet whom, and what comes of it.

use std::collections::BTreeSet;

use super::body::LeftOver;
use super::given::{PartsGiven, Refusal};
use super::usable::{Needed, Usable, colour_numbers, sort_out};
use super::whole::{common_places, whole};
use crate::part::LotPart;

/// One half or rim in whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Piece {
    pub mass: i64,
    pub fit: i64,
    /// 0 where no colour is written or none is asked for.
    pub colour: u32,
    /// Non-zero for a part that is named in a forbidden pair, so that it is like no other.
    pub named: u32,
}

/// The lot in whole numbers; masses in units of `10^-places` g.
///
/// A dressed half's *deviation* is twice its mass less the piece's mass: twice, so that half of an
/// odd piece mass stays whole. Two deviations a, b make a set when `|a − b| ≤ mass_limit` and
/// `|a + b| ≤ piece_limit`.
#[derive(Debug, Clone)]
pub(super) struct Lot {
    pub places: u8,
    /// One last digit of the scale, in the same units.
    pub digit: i64,
    pub fit_places: u8,
    pub halves: Vec<Piece>,
    pub rims: Vec<Piece>,
    pub piece_mass: i64,
    /// Twice the allowed mass difference.
    pub mass_limit: i64,
    /// Twice the allowed difference of the piece's mass.
    pub piece_limit: i64,
    pub fit_window: Option<(i64, i64)>,
    /// Mass of one lathe step of face; 0 where nothing may be cut.
    pub step_mass: i64,
    pub most_steps: u32,
    /// Half and rim that must not meet.
    pub not_married: BTreeSet<(usize, usize)>,
    /// Halves that must not meet, smaller first.
    pub not_paired: BTreeSet<(usize, usize)>,
}

/// The lot with the parts it was made of.
#[derive(Debug)]
pub(super) struct Sorted<'a> {
    pub lot: Lot,
    pub halves: Vec<Usable<'a>>,
    pub rims: Vec<Usable<'a>>,
    pub left_out: Vec<LeftOver>,
}

/// Places behind the point that a lathe step's mass is kept with: a microgram, a ten-thousandth of
/// what the scale shows, so that its rounding never decides.
const CUT_PLACES: u8 = 6;

/// What a question needs of every part.
fn needed(given: &PartsGiven) -> Vec<Needed> {
    let mut needed: Vec<Needed> = vec![("mass", |part| part.mass_g)];
    if given.fit_window.is_some() {
        needed.push(("fit diameter", |part| part.fit_mm));
    }
    needed
}

/// Makes whole numbers of the lot.
pub(super) fn make(given: &PartsGiven) -> Result<Sorted<'_>, Refusal> {
    let needed = needed(given);
    let (halves, mut left_out) = sort_out(&given.halves, &needed, given.include_doubtful);
    let (rims, more_out) = sort_out(&given.rims, &needed, given.include_doubtful);
    left_out.extend(more_out);
    let every = || halves.iter().chain(&rims).map(|usable| usable.part);
    let limits = [
        given.mass_within_g,
        given.piece_mass_g,
        given.piece_within_g,
    ];
    let mut places = common_places(every().filter_map(|part| part.mass_g).chain(limits));
    let shown = places;
    if given.recut.is_some() {
        places = places.max(CUT_PLACES);
    }
    let window = given
        .fit_window
        .map(|window| [window.at_least_mm, window.at_most_mm]);
    let fits = every()
        .filter_map(|part| part.fit_mm)
        .chain(window.into_iter().flatten());
    let fit_places = common_places(fits);
    let colours = colour_numbers(every().map(|part| part.colour.as_deref()));
    let named = named_numbers(given, every());
    let mut pieces = Vec::new();
    for ((part, colour), named) in every().zip(colours).zip(named) {
        let mass = part
            .mass_g
            .map_or(Ok(0), |mass| whole(mass, places, "a mass"))?;
        let fit = match (given.fit_window, part.fit_mm) {
            (Some(_), Some(fit)) => whole(fit, fit_places, "a fit diameter")?,
            _ => 0,
        };
        let colour = if given.colour_must_agree { colour } else { 0 };
        pieces.push(Piece {
            mass,
            fit,
            colour,
            named,
        });
    }
    let rim_pieces = pieces.split_off(halves.len());
    let fit_window = match window {
        Some([least, most]) => Some((
            whole(least, fit_places, "the fit window")?,
            whole(most, fit_places, "the fit window")?,
        )),
        None => None,
    };
    let (step_mass, most_steps) = steps(given, places)?;
    let (not_married, not_paired) = forbids(given, &halves, &rims);
    let lot = Lot {
        places,
        digit: 10i64.pow(u32::from(places - shown)),
        fit_places,
        halves: pieces,
        rims: rim_pieces,
        piece_mass: whole(given.piece_mass_g, places, "the piece mass")?,
        mass_limit: 2 * whole(given.mass_within_g, places, "the mass limit")?,
        piece_limit: 2 * whole(given.piece_within_g, places, "the piece limit")?,
        fit_window,
        step_mass,
        most_steps,
        not_married,
        not_paired,
    };
    Ok(Sorted {
        lot,
        halves,
        rims,
        left_out,
    })
}

/// Mass of one step of face in last digits, and how many steps a rim may lose.
fn steps(given: &PartsGiven, places: u8) -> Result<(i64, u32), Refusal> {
    /// A rim that may be cut in more steps than this is not cut on a lathe any more.
    const MOST_STEPS: f64 = 2_000.0;
    let Some(recut) = given.recut else {
        return Ok((0, 0));
    };
    let count = (recut.most_face_mm.to_f64() / recut.step_mm.to_f64() + 1e-9).floor();
    let mass = recut.gram_per_mm * recut.step_mm.to_f64() * 10f64.powi(i32::from(places));
    if count > MOST_STEPS || mass < 1.0 || mass > f64::from(u32::MAX) {
        return Err(Refusal::TooFine {
            what: "the lathe's step",
        });
    }
    Ok((mass.round() as i64, count as u32))
}

fn named_numbers<'a>(given: &PartsGiven, parts: impl Iterator<Item = &'a LotPart>) -> Vec<u32> {
    let names: BTreeSet<&str> = given
        .forbidden
        .iter()
        .flat_map(|(a, b)| [a.as_str(), b.as_str()])
        .collect();
    parts
        .zip(1u32..)
        .map(|(part, number)| {
            if names.contains(part.serial.as_str()) {
                number
            } else {
                0
            }
        })
        .collect()
}

type Forbids = BTreeSet<(usize, usize)>;

fn forbids(given: &PartsGiven, halves: &[Usable<'_>], rims: &[Usable<'_>]) -> (Forbids, Forbids) {
    let find = |parts: &[Usable<'_>], serial: &str| {
        parts
            .binary_search_by(|usable| usable.part.serial.as_str().cmp(serial))
            .ok()
    };
    let (mut married, mut paired) = (BTreeSet::new(), BTreeSet::new());
    for (a, b) in &given.forbidden {
        for (a, b) in [(a, b), (b, a)] {
            match (find(halves, a), find(halves, b), find(rims, b)) {
                (Some(half), _, Some(rim)) => {
                    married.insert((half, rim));
                }
                (Some(one), Some(two), None) if one != two => {
                    paired.insert((one.min(two), one.max(two)));
                }
                _ => {}
            }
        }
    }
    (married, paired)
}

impl Lot {
    /// Deviation of a half with a rim that has lost `steps` of face.
    pub(super) fn deviation(&self, half: &Piece, rim: &Piece, steps: u32) -> i64 {
        2 * (half.mass + rim.mass - i64::from(steps) * self.step_mass) - self.piece_mass
    }

    /// Whether fit and colour let this rim go on this half.
    pub(super) fn agree(&self, half: &Piece, rim: &Piece) -> bool {
        let fits = self.fit_window.is_none_or(|(least, most)| {
            let interference = half.fit - rim.fit;
            least <= interference && interference <= most
        });
        fits && (half.colour == rim.colour || half.colour == 0 || rim.colour == 0)
    }

    /// Whether this rim may go on this half.
    pub(super) fn may_marry(&self, half: usize, rim: usize) -> bool {
        self.agree(&self.halves[half], &self.rims[rim])
            && (self.not_married.is_empty() || !self.not_married.contains(&(half, rim)))
    }

    /// Whether two halves may be in one piece, mass apart.
    pub(super) fn may_pair(&self, a: usize, b: usize) -> bool {
        self.halves[a].colour == self.halves[b].colour
            && (self.not_paired.is_empty() || !self.not_paired.contains(&(a.min(b), a.max(b))))
    }

    /// Whether two deviations keep both limits.
    pub(super) fn in_limits(&self, a: i64, b: i64) -> bool {
        (a - b).abs() <= self.mass_limit && (a + b).abs() <= self.piece_limit
    }

    /// Largest deviation that can have a partner at all.
    pub(super) fn reach(&self) -> i64 {
        (self.mass_limit + self.piece_limit) / 2
    }

    /// With equal limits `in_limits` is `|a| + |b| ≤ limit`, and the cost is a sum over the two.
    pub(super) fn equal_limits(&self) -> bool {
        self.mass_limit == self.piece_limit
    }

    /// Cost of a set as a fraction: numerator over [`Self::cost_denominator`].
    pub(super) fn cost_numerator(&self, a: i64, b: i64) -> i128 {
        let (mass, piece) = (i128::from(self.mass_limit), i128::from(self.piece_limit));
        let (difference, sum) = (i128::from(a - b), i128::from(a + b));
        difference * difference * piece * piece + sum * sum * mass * mass
    }

    /// See [`Self::cost_numerator`].
    pub(super) fn cost_denominator(&self) -> i128 {
        let (mass, piece) = (i128::from(self.mass_limit), i128::from(self.piece_limit));
        mass * mass * piece * piece
    }

    /// Cost of a set in whole millionths, rounded down: for steering, and for bounds.
    pub(super) fn cost_millionths(&self, a: i64, b: i64) -> i64 {
        // Floats: each term is a square of a ratio of whole numbers below 2^53.
        let mass = (a - b) as f64 / self.mass_limit as f64;
        let piece = (a + b) as f64 / self.piece_limit as f64;
        ((mass * mass + piece * piece) * MILLION as f64) as i64
    }

    /// Fewest steps off two rims together that bring two dressed halves into one set, then least
    /// cost; `None` where no cut does.
    pub(super) fn least_cut(&self, first: (i64, u32), second: (i64, u32)) -> Option<(u32, u32)> {
        let (a, b) = (first.0, second.0);
        if self.in_limits(a, b) {
            return Some((0, 0));
        }
        if self.step_mass == 0 {
            return None;
        }
        // Every step takes the same off the sum: the number of steps follows from the sum alone.
        let step = 2 * self.step_mass;
        let over = a + b - self.piece_limit;
        let fewest = if over > 0 {
            (over + step - 1) / step
        } else {
            0
        };
        // A sum already too light leaves no steps at all: the quotient is then below 0.
        let most = (a + b + self.piece_limit)
            .div_euclid(step)
            .min(i64::from(first.1 + second.1));
        (fewest..=most).find_map(|total| self.split(first, second, total))
    }

    /// Splits `total` steps over two rims so that the limits are kept: on one rim alone if that
    /// does, otherwise as even as the masses become.
    fn split(&self, first: (i64, u32), second: (i64, u32), total: i64) -> Option<(u32, u32)> {
        let step = 2 * self.step_mass;
        let difference = |on_first: i64| {
            (first.0 - on_first * step - (second.0 - (total - on_first) * step)).abs()
        };
        let least = (total - i64::from(second.1)).max(0);
        let most = total.min(i64::from(first.1));
        if least > most {
            return None;
        }
        // Even masses: on_first − (total − on_first) = (a − b) / step.
        let even = ((first.0 - second.0).div_euclid(step) + total).div_euclid(2);
        let alone = [0, total]
            .into_iter()
            .filter(|on_first| (least..=most).contains(on_first));
        let near = [even, even + 1].map(|on_first| on_first.clamp(least, most));
        let keeps = |on_first: &i64| difference(*on_first) <= self.mass_limit;
        let best = alone
            .filter(keeps)
            .min_by_key(|&on_first| (difference(on_first), on_first));
        let best = best.or_else(|| {
            near.into_iter()
                .filter(keeps)
                .min_by_key(|&on_first| (difference(on_first), on_first))
        })?;
        Some((best as u32, (total - best) as u32))
    }
}

/// Parts in a whole cost.
pub(super) const MILLION: i64 = 1_000_000;

#[cfg(test)]
mod tests {
    use super::*;

    fn lot(mass_limit: i64, piece_limit: i64, step_mass: i64) -> Lot {
        Lot {
            places: 2,
            digit: 1,
            fit_places: 0,
            halves: Vec::new(),
            rims: Vec::new(),
            piece_mass: 0,
            mass_limit,
            piece_limit,
            fit_window: None,
            step_mass,
            most_steps: 5,
            not_married: BTreeSet::new(),
            not_paired: BTreeSet::new(),
        }
    }

    #[test]
    fn twin_least_cut_by_trying_every_two_cuts() {
        for (mass, piece, step) in [(20, 20, 4), (22, 2, 5), (3, 18, 2), (6, 6, 3)] {
            let lot = lot(mass, piece, step);
            for a in -40..80 {
                for b in -40..80 {
                    let cut = |steps: u32| 2 * i64::from(steps) * step;
                    let tries = (0..=5u32).flat_map(|k| (0..=5u32).map(move |l| (k, l)));
                    let good = tries.filter(|&(k, l)| lot.in_limits(a - cut(k), b - cut(l)));
                    let fewest = good.map(|(k, l)| k + l).min();
                    let found = lot.least_cut((a, 5), (b, 5));
                    assert_eq!(
                        found.map(|(k, l)| k + l),
                        fewest,
                        "{a} {b} {mass} {piece} {step}"
                    );
                    let keeps = found.is_none_or(|(k, l)| lot.in_limits(a - cut(k), b - cut(l)));
                    assert!(keeps && found.is_none_or(|(k, l)| k.max(l) <= 5));
                }
            }
        }
    }
}
