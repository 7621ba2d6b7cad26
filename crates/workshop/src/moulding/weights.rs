//! Weighed halves of a hold-time study against the reckoning: which uncertain numbers fit them, and what each cavity says.

use whirlwright_kit::least_squares::{Fit, NotFitted, linear};

use super::cycle::shoot;
use super::given::Given;
use super::ready::Ready;
use super::study_plan::{first_mpa, with_pressure, with_time};
use super::trim::Trim;
use super::weights_body::{FittedRatio, WeighedPoint, WeightsBody};
use super::weights_cavities::cavities;
use super::weights_faults::NoWeights;
use super::weights_means::{Weighing, means};
use super::weights_words as words;
use crate::part::Answer;
use crate::shelf::known;

/// Step of a ratio by which the slope is taken: large against what the grid jumps by, small against the curve's bend.
const STEP: f64 = 0.02;
/// Which of the numbers is the room the resin takes.
const ROOM: usize = 1;
/// The names of what is fitted, in the order of the parameters.
const NAMES: [&str; 3] = [
    "freezing time of the gate",
    "room the resin takes",
    "heat passed to the steel",
];

/// Fits the uncertain numbers to the weighings; `stop` is asked before every shot.
///
/// - **What it finds:** the ratios of freezing time of the gate, specific volume and heat passed to the steel, by least squares on the
///   means over the cavities; a number the weighings do not tell (its standard deviation above the range that is plausible) is held at 1.
/// - **What must hold:** every cavity weighed at every hold time; hold times before and after the freezing.
/// - **Promised:** the foretold mass carries the covariance of the fit.
///
/// # Errors
/// See [`NoWeights`].
pub fn weights(
    ready: &Ready,
    weighed: &[Weighing],
    stop: &dyn Fn() -> bool,
) -> Result<Answer<WeightsBody>, NoWeights> {
    let ready = &ready.alike();
    let given = &ready.given;
    let points = means(given, weighed)?;
    let search = Search {
        ready,
        points: &points,
        stop,
        fitted: [true; 3],
    };
    let start = search.masses(&Trim::NONE)?;
    let (search, found) = told_apart(search)?;
    let trim = search.trim(&found.parameters);
    let after = search.masses(&trim)?;
    let curve = points
        .iter()
        .zip(start.iter().zip(&after))
        .map(|(p, (before_g, after_g))| WeighedPoint {
            before_g: *before_g,
            after_g: *after_g,
            ..*p
        })
        .collect();
    let foretold = Foretold::of(&search, &found, &trim)?;
    let body = WeightsBody {
        piece: given.piece.clone(),
        resin: given.resin.id.clone(),
        weighings_count: weighed.len(),
        fitted: search.ratios(&found),
        left_over_sd_g: found.noise_sd,
        curve,
        cavities: cavities(weighed, &points),
        gate_freeze_s: foretold.gate_freeze_s,
        foretold_mass_g: foretold.mass_g,
        foretold_sd_g: foretold.sd_g,
        mass_per_mpa_g: foretold.per_mpa_g,
    };
    Ok(words::answer(body))
}

/// The reckoning against the means.
#[derive(Clone, Copy)]
struct Search<'a> {
    ready: &'a Ready,
    points: &'a [WeighedPoint],
    stop: &'a dyn Fn() -> bool,
    /// Which of the three numbers are fitted.
    fitted: [bool; 3],
}

/// Fits all three; what the weighings do not tell is held at 1 and the rest is fitted again.
fn told_apart(mut search: Search<'_>) -> Result<(Search<'_>, Fit), NoWeights> {
    let plausible = known("mould_study.plausible").value;
    loop {
        let count = search.fitted.iter().filter(|f| **f).count();
        let found = search.fit();
        let worst = match &found {
            Ok(found) => (0..count)
                .map(|n| found.sd(n))
                .enumerate()
                .max_by(|a, b| a.1.total_cmp(&b.1)),
            // Nothing tells them apart: the film goes first, it acts least.
            Err(NoWeights::NotFitted(NotFitted::Singular)) if count > 1 => {
                Some((count - 1, f64::INFINITY))
            }
            Err(_) => None,
        };
        match (found, worst) {
            (Ok(found), Some((_, sd))) if sd <= plausible || count == 1 => {
                return Ok((search, found));
            }
            (_, Some((n, _))) => {
                let held = (0..3).filter(|k| search.fitted[*k]).nth(n);
                if let Some(k) = held {
                    search.fitted[k] = false;
                }
            }
            (Err(why), None) => return Err(why),
            (Ok(found), None) => return Ok((search, found)),
        }
    }
}

impl Search<'_> {
    fn trim(&self, parameters: &[f64]) -> Trim {
        let mut next = parameters.iter();
        let mut ratio = |k: usize| {
            let p = if self.fitted[k] {
                next.next().copied()
            } else {
                None
            };
            p.map_or(1.0, f64::exp)
        };
        Trim {
            gate_time_ratio: ratio(0),
            room_ratio: ratio(1),
            wall_film_ratio: ratio(2),
        }
    }

    /// Mean mass of a half at every hold.
    fn masses(&self, trim: &Trim) -> Result<Vec<f64>, NoWeights> {
        let given = trim.of(&self.ready.given);
        let mut masses = Vec::with_capacity(self.points.len());
        for p in self.points {
            if (self.stop)() {
                return Err(NoWeights::Stopped);
            }
            let own_mpa = first_mpa(&given.process);
            let pressed = with_pressure(&given.process, p.hold_mpa / own_mpa);
            let process = with_time(&pressed, p.hold_s);
            let made = shoot(
                &Given {
                    process,
                    ..given.clone()
                },
                &self.ready.middle,
            );
            if let Some(why) = made.short_because() {
                return Err(NoWeights::Short {
                    hold_s: p.hold_s,
                    why,
                });
            }
            masses.push(made.mean_mass_g());
        }
        Ok(masses)
    }

    fn ratios(&self, found: &Fit) -> Vec<FittedRatio> {
        let means = [
            "above 1 the gate stays open longer than reckoned: it is deeper or hotter than drawn",
            "above 1 a gram takes more room than the card says: another grade, colour or filler",
            "below 1 the steel takes heat more slowly than usual: scale in the water lines, or a gap",
        ];
        let trim = self.trim(&found.parameters);
        let values = [trim.gate_time_ratio, trim.room_ratio, trim.wall_film_ratio];
        let mut next = 0..found.parameters.len();
        (0..3)
            .map(|k| {
                let place = if self.fitted[k] { next.next() } else { None };
                FittedRatio {
                    name: NAMES[k].to_owned(),
                    found_ratio: values[k],
                    // The parameter is the logarithm: its deviation is the ratio's by its size.
                    sd_ratio: place.map(|n| values[k] * found.sd(n)),
                    means: means[k].to_owned(),
                }
            })
            .collect()
    }
}

/// Most steps of the search; a curve that a shot can follow is met in three or four.
const MOST_STEPS: usize = 6;
/// No step changes a ratio by more than this share: farther off, the slopes mean little.
const FARTHEST: f64 = 0.3;
/// A step that changes every ratio by less is the last: far below what a scale can tell.
const NEAR: f64 = 2e-3;

impl Search<'_> {
    /// Gauss and Newton with the slopes of the shots; the covariance is that of the last linear step.
    fn fit(&self) -> Result<Fit, NoWeights> {
        let count = self.fitted.iter().filter(|f| **f).count();
        let mut at = vec![0.0; count];
        for step in 1.. {
            let masses = self.masses(&self.trim(&at))?;
            let slopes = self.slopes(&at, &masses)?;
            let pairs = masses.iter().zip(self.points);
            let off: Vec<f64> = pairs.map(|(mass, p)| p.read_g - mass).collect();
            let mut found = linear(&slopes, &off)?;
            let change: Vec<f64> = found.parameters.clone();
            for (at, change) in at.iter_mut().zip(&change) {
                *at += change.clamp(-FARTHEST, FARTHEST);
            }
            found.parameters.clone_from(&at);
            if step == MOST_STEPS || change.iter().all(|c| c.abs() < NEAR) {
                return Ok(found);
            }
        }
        Err(NoWeights::Stopped)
    }

    /// What each fitted logarithm does to the mass at every hold.
    fn slopes(&self, at: &[f64], masses: &[f64]) -> Result<Vec<Vec<f64>>, NoWeights> {
        let mut slopes = Vec::with_capacity(at.len());
        for (k, which) in (0..3).filter(|k| self.fitted[*k]).enumerate() {
            if which == ROOM {
                // A gram that takes more room by a share is lighter by it, whatever else happens.
                slopes.push(masses.iter().map(|mass| -mass).collect());
                continue;
            }
            let mut stepped = at.to_vec();
            stepped[k] += STEP;
            let moved = self.masses(&self.trim(&stepped))?;
            let slope = |(moved, mass): (f64, &f64)| (moved - mass) / STEP;
            slopes.push(moved.into_iter().zip(masses).map(slope).collect());
        }
        Ok(slopes)
    }
}

/// The job's own set-up with the fitted numbers.
struct Foretold {
    mass_g: f64,
    sd_g: f64,
    per_mpa_g: f64,
    gate_freeze_s: Option<f64>,
}

impl Foretold {
    fn of(search: &Search<'_>, found: &Fit, trim: &Trim) -> Result<Self, NoWeights> {
        let own = |trim: &Trim, ratio: f64| {
            let given = trim.of(&search.ready.given);
            let process = with_pressure(&given.process, ratio);
            shoot(
                &Given {
                    process,
                    ..given.clone()
                },
                &search.ready.middle,
            )
        };
        let made = own(trim, 1.0);
        let mass_g = made.mean_mass_g();
        let mut gradient = Vec::new();
        for k in 0..found.parameters.len() {
            let mut stepped = found.parameters.clone();
            stepped[k] += STEP;
            gradient.push((own(&search.trim(&stepped), 1.0).mean_mass_g() - mass_g) / STEP);
        }
        let more = own(trim, 1.0 + STEP).mean_mass_g() - mass_g;
        Ok(Self {
            mass_g,
            sd_g: found.sd_along(&gradient),
            per_mpa_g: more / (STEP * first_mpa(&search.ready.given.process)),
            gate_freeze_s: made.gate_freeze_s(),
        })
    }
}
