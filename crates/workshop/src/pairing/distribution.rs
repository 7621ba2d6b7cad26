//! How many parts of each origin weigh what.

use std::collections::BTreeMap;

use whirlwright_kit::describe::moments;

use super::body::Histogram;
use crate::part::{Decimal, Kind, LotPart};

/// Most bins over the whole range of a kind.
const MOST_BINS: i64 = 40;

/// One histogram for every kind and origin, all of a kind on the same bins.
pub(super) fn distribution<'a>(parts: impl Iterator<Item = &'a LotPart>) -> Vec<Histogram> {
    let mut kinds: BTreeMap<Kind, BTreeMap<&str, Vec<Decimal>>> = BTreeMap::new();
    for part in parts {
        if let Some(mass) = part.mass_g {
            let origin = part.origin.as_deref().unwrap_or("");
            kinds
                .entry(part.kind)
                .or_default()
                .entry(origin)
                .or_default()
                .push(mass);
        }
    }
    kinds
        .into_iter()
        .flat_map(|(kind, origins)| of_kind(kind, &origins))
        .collect()
}

fn of_kind(kind: Kind, origins: &BTreeMap<&str, Vec<Decimal>>) -> Vec<Histogram> {
    let places = origins
        .values()
        .flatten()
        .map(|mass| mass.places)
        .max()
        .unwrap_or(0);
    let units = |mass: &Decimal| mass.units_at(places).unwrap_or(0);
    let all = || origins.values().flatten().map(units);
    let (least, most) = (all().min().unwrap_or(0), all().max().unwrap_or(0));
    // Whole last digits to a bin: no bin then catches more digits than its neighbour.
    let width = (most - least) / MOST_BINS + 1;
    let bins = ((most - least) / width + 1) as usize;
    let mut histograms = Vec::new();
    for (origin, masses) in origins {
        let mut counts = vec![0u32; bins];
        for mass in masses {
            counts[((units(mass) - least) / width) as usize] += 1;
        }
        let values: Vec<f64> = masses.iter().map(|mass| mass.to_f64()).collect();
        let Some(described) = moments(&values) else {
            continue;
        };
        histograms.push(Histogram {
            kind,
            origin: (*origin).to_owned(),
            count: masses.len(),
            mean_mass_g: described.mean,
            sd_mass_g: described.sd,
            from_mass_g: super::whole::value(least, places),
            step_mass_g: super::whole::value(width, places),
            counts,
        });
    }
    histograms
}
