//! The masses of a lot, sorted by kind and origin, as whole last digits.

use std::collections::BTreeMap;

use whirlwright_kit::describe::{self, Moments};

use crate::part::{Decimal, Kind, LotPart};

/// Masses of one kind in whole units of the finest last digit among them.
#[derive(Debug, Clone)]
pub struct Readings {
    /// What kind of parts.
    pub kind: Kind,
    /// How many of the units go into a gram.
    pub per_gram: f64,
    /// The masses, in the order of the parts.
    pub masses: Vec<Mass>,
}

/// One mass.
#[derive(Debug, Clone)]
pub struct Mass {
    /// Which of the parts handed in.
    pub part: usize,
    /// Its cavity, insert or pack.
    pub origin: Option<String>,
    /// The mass in the units of the readings.
    pub units: i64,
}

/// The reading in whole units of `10^-places`, rounded half away from zero where digits are lost.
fn units_near(reading: Decimal, places: u8) -> Option<i64> {
    let Some(fewer) = reading.places.checked_sub(places) else {
        return reading.units_at(places);
    };
    let ten = 10i64.checked_pow(u32::from(fewer))?;
    Some(
        reading
            .units
            .checked_add(reading.units.signum() * (ten / 2))?
            / ten,
    )
}

/// A cavity `10` stands after `9`, and both before words.
pub fn origin_order(origin: &Option<String>) -> (u8, u64, Option<String>) {
    match origin {
        Some(word) => match word.parse() {
            Ok(number) => (0, number, Some(word.clone())),
            Err(_) => (1, 0, Some(word.clone())),
        },
        None => (2, 0, None),
    }
}

impl Readings {
    /// The weighed parts of one kind; none if there are none.
    ///
    /// Masses with so many digits that they share no 64-bit unit are left out of the exact
    /// reckoning by taking a coarser unit: the finest that all of them can bear.
    #[must_use]
    pub fn of(parts: &[LotPart], kind: Kind) -> Option<Self> {
        let weighed = || {
            parts
                .iter()
                .enumerate()
                .filter(|(_, part)| part.kind == kind)
                .filter_map(|(at, part)| Some((at, part, part.mass_g?)))
        };
        let finest = weighed().map(|(_, _, mass)| mass.places).max()?;
        let shared = (0..=finest)
            .rev()
            .find(|&places| weighed().all(|(_, _, mass)| units_near(mass, places).is_some()))?;
        let masses = weighed()
            .filter_map(|(part, lot_part, mass)| {
                let units = units_near(mass, shared)?;
                Some(Mass {
                    part,
                    origin: lot_part.origin.clone(),
                    units,
                })
            })
            .collect();
        Some(Self {
            kind,
            per_gram: 10f64.powi(i32::from(shared)),
            masses,
        })
    }

    /// The masses by origin, the origins in order.
    #[must_use]
    pub fn by_origin(&self) -> Vec<(Option<String>, Vec<i64>)> {
        let mut groups: BTreeMap<_, (Option<String>, Vec<i64>)> = BTreeMap::new();
        for mass in &self.masses {
            let group = groups.entry(origin_order(&mass.origin));
            group
                .or_insert_with(|| (mass.origin.clone(), Vec::new()))
                .1
                .push(mass.units);
        }
        groups.into_values().collect()
    }

    /// All masses, in the units of the readings.
    #[must_use]
    pub fn units(&self) -> Vec<i64> {
        self.masses.iter().map(|mass| mass.units).collect()
    }

    /// The step of the scale, in the units of the readings: the least distance of two readings
    /// that differ, or one unit where all are alike.
    #[must_use]
    pub fn step_units(&self) -> i64 {
        let mut sorted = self.units();
        sorted.sort_unstable();
        let gaps = sorted
            .windows(2)
            .filter_map(|pair| pair[1].checked_sub(pair[0]));
        gaps.filter(|&gap| gap > 0).min().unwrap_or(1)
    }

    /// Mean and standard deviation in grams.
    ///
    /// The first reading is taken off as a whole number, which costs no digit, before the two
    /// passes: masses that agree in their first seven digits still give a spread good to the last.
    #[must_use]
    pub fn moments_g(&self, units: &[i64]) -> Option<Moments> {
        let first = *units.first()?;
        let away: Vec<f64> = units
            .iter()
            .map(|&unit| (i128::from(unit) - i128::from(first)) as f64)
            .collect();
        let moments = describe::moments(&away)?;
        Some(Moments {
            mean: (first as f64 + moments.mean) / self.per_gram,
            sd: moments.sd.map(|sd| sd / self.per_gram),
            ..moments
        })
    }
}
