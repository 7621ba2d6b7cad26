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
    /// The origins, in order.
    pub origins: Vec<Option<String>>,
    /// The masses, in the order of the parts.
    pub masses: Vec<Mass>,
}

/// One mass.
#[derive(Debug, Clone, Copy)]
pub struct Mass {
    /// Which of the parts handed in.
    pub part: usize,
    /// Which of [`Readings::origins`].
    pub origin: usize,
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

/// A cavity `10` stands after `9`, both before words, and no origin at the end.
fn in_order(origin: Option<&str>) -> (u8, u64, Option<&str>) {
    match origin {
        Some(word) => match word.parse() {
            Ok(number) => (0, number, origin),
            Err(_) => (1, 0, origin),
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
        let mut places: BTreeMap<_, usize> = BTreeMap::new();
        for (_, part, _) in weighed() {
            places.entry(in_order(part.origin.as_deref())).or_default();
        }
        for (at, place) in places.values_mut().enumerate() {
            *place = at;
        }
        let masses = weighed()
            .filter_map(|(at, part, mass)| {
                let origin = *places.get(&in_order(part.origin.as_deref()))?;
                Some(Mass {
                    part: at,
                    origin,
                    units: units_near(mass, shared)?,
                })
            })
            .collect();
        let origins = places
            .keys()
            .map(|(.., origin)| origin.map(str::to_owned))
            .collect();
        Some(Self {
            kind,
            per_gram: 10f64.powi(i32::from(shared)),
            origins,
            masses,
        })
    }

    /// The masses by origin, as the origins stand.
    #[must_use]
    pub fn by_origin(&self) -> Vec<(Option<String>, Vec<i64>)> {
        let origins = self.origins.iter().cloned();
        let mut groups: Vec<_> = origins.map(|origin| (origin, Vec::new())).collect();
        for mass in &self.masses {
            if let Some((_, units)) = groups.get_mut(mass.origin) {
                units.push(mass.units);
            }
        }
        groups
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
