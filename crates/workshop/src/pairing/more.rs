//! What more rims would bring: simulated deliveries, and the masses that would help most.

use whirlwright_kit::random::SplitMix64;

use super::body::{IfMore, Leftovers};
use super::effort::Effort;
use super::given::{MoreRims, Progress};
use super::lot::Lot;
use super::marry::FINE;
use super::remarry::Duo;
use super::search::{Found, search_from};

/// Advice about the parts that are left.
pub(super) fn leftovers(
    lot: &Lot,
    found: &Found,
    more: Option<MoreRims>,
    stop: &dyn Fn(Progress) -> bool,
) -> Leftovers {
    let mut advice = Leftovers::default();
    let every_half = found.sets.len() >= lot.halves.len() / 2;
    if every_half {
        if more.is_some() && !lot.halves.is_empty() {
            advice.wish.push(
                "Every half has its set: more rims would bring nothing, more halves would."
                    .to_owned(),
            );
        }
        return advice;
    }
    if let Some(more) = more
        && !lot.rims.is_empty()
        && let Some(line) = simulate(lot, &found.sets, more, stop)
    {
        advice.if_more.push(line);
    }
    advice.wish.extend(wish(lot, found));
    advice
}

/// Draws deliveries from the lot's own rims and searches again.
fn simulate(
    lot: &Lot,
    start: &[Duo],
    more: MoreRims,
    stop: &dyn Fn(Progress) -> bool,
) -> Option<IfMore> {
    let now = start.len();
    let mut draws = SplitMix64::new(more.seed);
    let mut gains: Vec<i64> = Vec::new();
    for draw in 0..more.draws {
        let share = 0.95 + 0.05 * draw as f64 / more.draws.max(1) as f64;
        if stop(Progress {
            share,
            doing: "drawing more rims",
            sets: now,
        }) {
            break;
        }
        let mut larger = lot.clone();
        for _ in 0..more.count {
            let mut rim = lot.rims[draws.below(lot.rims.len())];
            rim.named = 0;
            larger.rims.push(rim);
        }
        let found = search_from(&larger, start.to_vec(), Effort::COUNT, &|_| false)
            .sets
            .len();
        // More rims never take a set away: the sets of now are still there.
        gains.push(found.saturating_sub(now) as i64);
    }
    let (least, most) = (*gains.iter().min()?, *gains.iter().max()?);
    let mean = gains.iter().sum::<i64>() as f64 / gains.len() as f64;
    let what = format!("{} more rims of this kind", more.count);
    let sentence = format!(
        "If {what} come: {mean:+.0} sets ({least:+} to {most:+} in {} simulated deliveries, seed {}).",
        gains.len(),
        more.seed
    );
    Some(IfMore {
        what,
        count: more.count,
        more_sets: mean,
        more_sets_least: least,
        more_sets_most: most,
        draws: gains.len(),
        seed: more.seed,
        sentence,
    })
}

/// Which band of rim masses is worth most at the prices that proved the bound.
fn wish(lot: &Lot, found: &Found) -> Option<String> {
    let (least, most) = (
        lot.rims.iter().map(|rim| rim.mass).min()?,
        lot.rims.iter().map(|rim| rim.mass).max()?,
    );
    let band = lot.mass_limit / 2;
    let step = (band / 10).max(1);
    let worth: Vec<(i64, f64)> = (0..)
        .map(|count| least - 2 * band + count * step)
        .take_while(|mass| *mass <= most + 2 * band)
        .map(|mass| (mass, found.worth.rim(lot, mass) as f64 / FINE as f64))
        .collect();
    let window = (band / step) as usize + 1;
    let mean =
        |run: &[(i64, f64)]| run.iter().map(|(_, worth)| worth).sum::<f64>() / run.len() as f64;
    let best = worth
        .windows(window)
        .max_by(|a, b| mean(a).total_cmp(&mean(b)))?;
    // A tenth of a set for a rim is not worth asking for.
    if mean(best) < 0.1 {
        return None;
    }
    let text = |mass: i64| format!("{:.2}", super::whole::value(mass, lot.places));
    Some(format!(
        "Rims of {} to {} g would help most: about {:.1} sets for each of the first few.",
        text(best[0].0),
        text(best[window - 1].0),
        mean(best)
    ))
}
