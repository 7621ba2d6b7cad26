//! The needs of a pair in whole numbers: coordinates, limits, and weights over one denominator.

use super::given::{DressedGiven, Joint, Refusal};
use super::usable::{Needed, Usable};
use super::whole::{common_places, gcd, whole};
use crate::part::{Decimal, LotPart};

/// One thing that must agree.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub name: &'static str,
    pub unit: &'static str,
    pub limit_text: String,
    pub places: u8,
    pub limit: i64,
    /// The readings of the usable parts.
    pub readings: Vec<i64>,
}

/// All needs of a question; `weights[k] · difference²` over `denominator` is a need's cost.
#[derive(Debug, Clone)]
pub(super) struct Needs {
    pub needs: Vec<Need>,
    pub weights: Vec<i64>,
    pub denominator: i64,
    /// Weights had to be rounded: the largest relative error of one. 0 when all is exact.
    pub rounding: f64,
}

type Read = fn(&LotPart) -> Option<Decimal>;

fn asked(given: &DressedGiven) -> Vec<(&'static str, &'static str, Decimal, Read)> {
    let limits = given.limits;
    let mut asked: Vec<(&'static str, &'static str, Decimal, Read)> = Vec::new();
    if let Some(limit) = limits.mass_within_g {
        asked.push(("mass", "g", limit, |part| part.mass_g));
    }
    if let Some(limit) = limits.unbalance_within_g_mm {
        asked.push(("unbalance", "g·mm", limit, |part| part.unbalance_g_mm));
    }
    if let Some(limit) = limits.offset_within_mm {
        asked.push(("offset", "mm", limit, |part| part.offset_mm));
    }
    asked
}

/// What every part must have been measured for.
pub(super) fn needed(given: &DressedGiven) -> Vec<Needed> {
    let mut needed: Vec<Needed> = asked(given)
        .into_iter()
        .map(|(name, _, _, read)| (name, read))
        .collect();
    if matches!(given.joint, Joint::Keyed { .. }) {
        needed.push(("unbalance angle", |part| part.unbalance_angle_deg));
    }
    needed
}

/// Whole numbers of all needs.
pub(super) fn make(given: &DressedGiven, parts: &[Usable<'_>]) -> Result<Needs, Refusal> {
    let mut needs = Vec::new();
    for (name, unit, limit, read) in asked(given) {
        let readings = parts.iter().filter_map(|usable| read(usable.part));
        let places = common_places(readings.clone().chain([limit]));
        needs.push(Need {
            name,
            unit,
            limit_text: limit.to_string(),
            places,
            limit: whole(limit, places, name)?,
            readings: readings
                .map(|reading| whole(reading, places, name))
                .collect::<Result<_, _>>()?,
        });
    }
    let (weights, denominator, rounding) = weigh(&needs, parts.len());
    Ok(Needs {
        needs,
        weights,
        denominator,
        rounding,
    })
}

/// Weights over the least common multiple of the squared limits, lowered to what 64 bits hold.
fn weigh(needs: &[Need], parts: usize) -> (Vec<i64>, i64, f64) {
    let squares: Vec<i128> = needs
        .iter()
        .map(|need| i128::from(need.limit).pow(2))
        .collect();
    // Limits are below 2^31, squares below 2^62: a multiple of two of them fits 128 bits, of three
    // it need not; then floats lead straight to the rounded weights.
    let common = squares.iter().try_fold(1i128, |so_far, square| {
        (so_far / gcd(so_far, *square)).checked_mul(*square)
    });
    // Dearest pair times the number of pairs must stay below 2^57, half of what the solver takes.
    let spread = |need: &Need| {
        let least = need.readings.iter().min().copied().unwrap_or(0);
        let most = need.readings.iter().max().copied().unwrap_or(0);
        let ratio = (most - least).max(need.limit) as f64 / need.limit as f64;
        ratio * ratio
    };
    let dearest: f64 = needs.iter().map(spread).sum::<f64>() * (parts as f64 + 2.0);
    let most = 2f64.powi(57) / dearest.max(1.0);
    if let Some(common) = common
        && common as f64 <= most
    {
        let weights = squares
            .iter()
            .map(|square| (common / square) as i64)
            .collect();
        return (weights, common as i64, 0.0);
    }
    let denominator = most.floor().max(1.0);
    let mut rounding = 0f64;
    let weights = squares
        .iter()
        .map(|square| {
            let exact = denominator / *square as f64;
            let weight = exact.round().max(1.0);
            rounding = rounding.max((weight - exact).abs() / exact);
            weight as i64
        })
        .collect();
    (weights, denominator as i64, rounding)
}

impl Needs {
    /// Whole cost of a pair, whatever its limits.
    pub(super) fn cost(&self, a: usize, b: usize) -> i64 {
        let term = |(need, weight): (&Need, &i64)| {
            let difference = need.readings[a] - need.readings[b];
            difference * difference * weight
        };
        self.needs.iter().zip(&self.weights).map(term).sum()
    }

    /// Whether a pair keeps every limit.
    pub(super) fn within(&self, a: usize, b: usize) -> bool {
        self.needs
            .iter()
            .all(|need| (need.readings[a] - need.readings[b]).abs() <= need.limit)
    }
}
