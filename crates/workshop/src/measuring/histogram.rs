//! Masses in bins that are whole steps of the scale wide, so that no bin is empty only because the
//! scale cannot show a number in it.

use whirlwright_kit::describe;

use super::body::{Histogram, OriginCounts};
use super::readings::Readings;

/// The most bins a picture can bear; one far reading makes them wider, not more.
const MOST_BINS: i64 = 120;

/// More origins than this tell a person nothing in one picture: only the whole is counted.
const MOST_ORIGINS: usize = 64;

/// The distribution of one kind, by origin.
///
/// The bin is twice the quartile range over the cube root of the count (Freedman and Diaconis,
/// 1981, from memory), rounded up to whole steps of the scale.
#[must_use]
pub fn histogram(readings: &Readings) -> Option<Histogram> {
    let units = readings.units();
    let (&least, &most) = (units.iter().min()?, units.iter().max()?);
    let range = most.checked_sub(least)?;
    let step = readings.step_units();
    let bin = bin_units(&units, range, step);
    // Edges lie half a step below a reading; twice the units keeps them whole.
    let place = |unit: i64| -> usize {
        let twice = 2 * (i128::from(unit) - i128::from(least)) + i128::from(step);
        usize::try_from(twice / (2 * i128::from(bin))).unwrap_or(0)
    };
    let bins = place(most) + 1;
    let count = |units: &[i64]| {
        let mut counts = vec![0; bins];
        for &unit in units {
            if let Some(count) = counts.get_mut(place(unit)) {
                *count += 1;
            }
        }
        counts
    };
    let mut by_origin = readings.by_origin();
    if by_origin.len() > MOST_ORIGINS {
        by_origin.clear();
    }
    Some(Histogram {
        kind: readings.kind,
        step_mass_g: step as f64 / readings.per_gram,
        bin_mass_g: bin as f64 / readings.per_gram,
        start_mass_g: (least as f64 - step as f64 / 2.0) / readings.per_gram,
        counts: count(&units),
        by_origin: by_origin
            .into_iter()
            .map(|(origin, units)| OriginCounts {
                origin,
                counts: count(&units),
            })
            .collect(),
    })
}

/// Width of a bin: a whole number of steps, few enough bins.
fn bin_units(units: &[i64], range: i64, step: i64) -> i64 {
    let numbers: Vec<f64> = units.iter().map(|&unit| unit as f64).collect();
    let quartile = |share| describe::quantile(&numbers, share).unwrap_or(0.0);
    let wanted = 2.0 * (quartile(0.75) - quartile(0.25)) / (units.len() as f64).cbrt();
    let steps = (wanted / step as f64).ceil().max(1.0) as i64;
    let least_steps = range / step / MOST_BINS + 1;
    steps.max(least_steps).saturating_mul(step)
}
