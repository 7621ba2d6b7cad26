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
const STEP: f64 = 0.1;
/// What is plausible for each before anything is weighed, by its name on the shelf.
const PLAUSIBLE: [&str; 3] = [
    "mould_study.gate_time",
    "mould_study.room",
    "mould_study.wall_film",
];
/// A number that is known no better than this share of what was plausible is not told by the weighings.
const UNTOLD: f64 = 0.8;
/// A percent as a share.
const PERCENT: f64 = 0.01;
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
///   middle of the cavities, each held near 1 by what is plausible for it before anything is weighed; what the weighings do not tell better says so.
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
    };
    let start = search.masses(&Trim::NONE)?;
    let found = search.fit()?;
    let trim = Search::trim(&found.parameters);
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
        fitted: Search::ratios(&found),
        left_over_sd_g: left_over_g(&points, &after),
        curve,
        cavities: cavities(weighed, &points),
        gate_freeze_s: foretold.gate_freeze_s,
        foretold_mass_g: foretold.mass_g,
        foretold_sd_g: foretold.sd_g,
        mass_per_mpa_g: foretold.per_mpa_g,
    };
    Ok(words::answer(body))
}

/// Root of the mean square of what is left between means and reckoning.
fn left_over_g(points: &[WeighedPoint], after_g: &[f64]) -> f64 {
    let squares = points
        .iter()
        .zip(after_g)
        .map(|(p, g)| (p.read_g - g).powi(2));
    (squares.sum::<f64>() / points.len() as f64).sqrt()
}

/// The reckoning against the means.
#[derive(Clone, Copy)]
struct Search<'a> {
    ready: &'a Ready,
    points: &'a [WeighedPoint],
    stop: &'a dyn Fn() -> bool,
}

impl Search<'_> {
    fn trim(parameters: &[f64]) -> Trim {
        let ratio = |k: usize| parameters.get(k).map_or(1.0, |p| p.exp());
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

    fn ratios(found: &Fit) -> Vec<FittedRatio> {
        let means = [
            "above 1 the gate stays open longer than reckoned: it is deeper or hotter than drawn",
            "above 1 a gram takes more room than the card says: another grade, colour or filler",
            "below 1 the steel takes heat more slowly than usual: scale in the water lines, or a gap",
        ];
        let trim = Self::trim(&found.parameters);
        let values = [trim.gate_time_ratio, trim.room_ratio, trim.wall_film_ratio];
        (0..NAMES.len())
            .map(|k| {
                // Hardly better known than before anything was weighed.
                let told = found.sd(k) < UNTOLD * known(PLAUSIBLE[k]).value;
                FittedRatio {
                    name: NAMES[k].to_owned(),
                    found_ratio: values[k],
                    // The parameter is the logarithm: its deviation is the ratio's by its size.
                    sd_ratio: told.then(|| values[k] * found.sd(k)),
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
        let mut at = vec![0.0; NAMES.len()];
        for step in 1.. {
            let masses = self.masses(&Self::trim(&at))?;
            let slopes = self.slopes(&at, &masses)?;
            let mut found = self.step(&at, &masses, &slopes)?;
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

    /// One linear step: every mean by its doubt, and every logarithm by what is plausible for it before anything is weighed.
    fn step(&self, at: &[f64], masses: &[f64], slopes: &[Vec<f64>]) -> Result<Fit, NotFitted> {
        let model_share = known("mould_study.model_doubt").value * PERCENT;
        let doubt_g = |n: usize| {
            let read_g = self.points[n].read_sd_g.unwrap_or(0.0);
            read_g.hypot(model_share * masses[n])
        };
        let plausible: Vec<f64> = PLAUSIBLE.iter().map(|name| known(name).value).collect();
        let row = |k: usize, j: usize| if k == j { 1.0 / plausible[k] } else { 0.0 };
        let column = |(k, slope): (usize, &Vec<f64>)| -> Vec<f64> {
            let told = slope.iter().enumerate().map(|(n, s)| s / doubt_g(n));
            told.chain((0..plausible.len()).map(|j| row(k, j)))
                .collect()
        };
        let columns: Vec<Vec<f64>> = slopes.iter().enumerate().map(column).collect();
        let off = masses.iter().zip(self.points).enumerate();
        let off = off.map(|(n, (mass, p))| (p.read_g - mass) / doubt_g(n));
        let own = at.iter().enumerate().map(|(k, at)| -at / plausible[k]);
        let mut found = linear(&columns, &off.chain(own).collect::<Vec<_>>())?;
        // Weighings that happen to lie smoother than their doubt make nothing better known.
        if found.noise_sd < 1.0 {
            let wider = 1.0 / found.noise_sd.max(f64::MIN_POSITIVE).powi(2);
            for entry in &mut found.covariance {
                *entry *= wider;
            }
        }
        Ok(found)
    }

    /// What each fitted logarithm does to the mass at every hold.
    fn slopes(&self, at: &[f64], masses: &[f64]) -> Result<Vec<Vec<f64>>, NoWeights> {
        let mut slopes = Vec::with_capacity(at.len());
        for k in 0..at.len() {
            if k == ROOM {
                // A gram that takes more room by a share is lighter by it, whatever else happens.
                slopes.push(masses.iter().map(|mass| -mass).collect());
                continue;
            }
            let mut stepped = at.to_vec();
            stepped[k] += STEP;
            let moved = self.masses(&Self::trim(&stepped))?;
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
            gradient.push((own(&Search::trim(&stepped), 1.0).mean_mass_g() - mass_g) / STEP);
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
