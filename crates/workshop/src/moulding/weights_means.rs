//! Weighings gathered: the middle of the cavities at each hold, each the mean of its shots.
//!
//! The middle and not the mean: a cavity that is off while the gate is open would bend the curve of all.

use whirlwright_kit::describe::{median, moments};

use super::given::Given;
use super::study_plan::first_mpa;
use super::weights_body::WeighedPoint;
use super::weights_faults::NoWeights;

/// Fewest hold times: one more than the numbers that are fitted.
const LEAST_TIMES: usize = 5;

/// One half as weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighing {
    /// The cavity it came from.
    pub cavity: String,
    /// Hold time of its shot.
    pub hold_s: f64,
    /// Hold pressure of its shot; the job's where it is not said.
    pub hold_mpa: Option<f64>,
    /// What it weighs.
    pub mass_g: f64,
}
/// The middle of the cavities at each hold.
pub(super) fn means(given: &Given, weighed: &[Weighing]) -> Result<Vec<WeighedPoint>, NoWeights> {
    let own = first_mpa(&given.process);
    let mut holds: Vec<(f64, f64)> = Vec::new();
    for w in weighed {
        if !(w.mass_g > 0.0 && w.mass_g.is_finite() && w.hold_s > 0.0 && w.hold_s.is_finite()) {
            return Err(NoWeights::Impossible {
                mass_g: w.mass_g,
                hold_s: w.hold_s,
            });
        }
        holds.push((w.hold_mpa.unwrap_or(own), w.hold_s));
    }
    holds.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    holds.dedup();
    if holds.len() < LEAST_TIMES {
        return Err(NoWeights::TooFew {
            read: holds.len(),
            least: LEAST_TIMES,
        });
    }
    let names = names(weighed);
    holds
        .into_iter()
        .map(|(hold_mpa, hold_s)| {
            let at = |w: &&Weighing| w.hold_s == hold_s && w.hold_mpa.unwrap_or(own) == hold_mpa;
            let of_cavity = |name: &String| -> Vec<f64> {
                weighed
                    .iter()
                    .filter(at)
                    .filter(|w| w.cavity == *name)
                    .map(|w| w.mass_g)
                    .collect()
            };
            let mut each = Vec::new();
            for name in &names {
                let masses = of_cavity(name);
                if masses.is_empty() {
                    return Err(NoWeights::CavityMissing {
                        cavity: name.clone(),
                        hold_s,
                    });
                }
                each.push(masses);
            }
            Ok(WeighedPoint {
                hold_s,
                hold_mpa,
                read_g: middle(&each.iter().map(|m| mean(m)).collect::<Vec<_>>()),
                read_sd_g: sd_of_mean(&each),
                before_g: 0.0,
                after_g: 0.0,
            })
        })
        .collect()
}

pub(super) fn names(weighed: &[Weighing]) -> Vec<String> {
    let mut names: Vec<String> = weighed.iter().map(|w| w.cavity.clone()).collect();
    names.sort();
    names.dedup();
    names
}

/// The mean; no number for none.
pub(super) fn mean(values: &[f64]) -> f64 {
    moments(values).map_or(f64::NAN, |m| m.mean)
}

/// Standard deviation of the mean; none for a single number.
pub(super) fn sd_of_one_mean(values: &[f64]) -> Option<f64> {
    let moments = moments(values)?;
    Some(moments.sd? / (moments.count as f64).sqrt())
}

/// Of that middle, taken as wide as the mean's, from how shots of one cavity differ; none where each was weighed once.
fn sd_of_mean(each: &[Vec<f64>]) -> Option<f64> {
    let all: Option<Vec<f64>> = each.iter().map(|masses| sd_of_one_mean(masses)).collect();
    let sum: f64 = all?.iter().map(|sd| sd * sd).sum();
    Some(sum.sqrt() / each.len() as f64)
}

/// The middle of some numbers; no number for none.
pub(super) fn middle(each: &[f64]) -> f64 {
    median(each).unwrap_or(f64::NAN)
}
