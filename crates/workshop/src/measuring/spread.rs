//! Count, mean and spread by kind and by origin, and what the origins do to the mass, in words.

use whirlwright_kit::describe::Moments;

use super::body::Spread;
use super::readings::Readings;
use super::windows::doubt_distance;

/// The spread of a whole kind.
#[must_use]
pub fn of_kind(readings: &Readings) -> Option<Spread> {
    spread(readings, None, &readings.units())
}

/// The spread of every origin of a kind, the origins in order.
#[must_use]
pub fn of_origins(readings: &Readings) -> Vec<Spread> {
    let groups = readings.by_origin().into_iter();
    groups
        .filter_map(|(origin, units)| spread(readings, origin, &units))
        .collect()
}

fn spread(readings: &Readings, origin: Option<String>, units: &[i64]) -> Option<Spread> {
    let Moments { count, mean, sd } = readings.moments_g(units)?;
    let (&least, &most) = (units.iter().min()?, units.iter().max()?);
    let grams = |units: i64| units as f64 / readings.per_gram;
    Some(Spread {
        kind: readings.kind,
        origin,
        count,
        mean_mass_g: mean,
        sd_mass_g: sd,
        min_mass_g: grams(least),
        max_mass_g: grams(most),
        range_mass_g: (i128::from(most) - i128::from(least)) as f64 / readings.per_gram,
    })
}

/// What the origins of one kind do to the mass; none where fewer than two have a spread.
///
/// Heaviest and lightest mean are set beside the standard error of their difference. The trade's
/// imbalance of a mould is (heaviest − lightest) / heaviest.
#[must_use]
pub fn differences(origins: &[Spread]) -> Option<String> {
    let named = || origins.iter().filter(|spread| spread.origin.is_some());
    let by_mean = |a: &&Spread, b: &&Spread| a.mean_mass_g.total_cmp(&b.mean_mass_g);
    let (heavy, light) = (named().max_by(by_mean)?, named().min_by(by_mean)?);
    let (heavy_origin, light_origin) = (heavy.origin.as_ref()?, light.origin.as_ref()?);
    if heavy_origin == light_origin {
        return None;
    }
    let apart = heavy.mean_mass_g - light.mean_mass_g;
    let error = (square_of_error(heavy)? + square_of_error(light)?).sqrt();
    let kind = heavy.kind;
    let word = kind.origin_word();
    if apart <= doubt_distance() * error {
        return Some(format!(
            "the {} of {} {} weigh alike: {word} {heavy_origin} is {apart:.3} g above {word} \
             {light_origin}, with a standard error of {error:.3} g",
            kind.words(),
            named().count(),
            kind.origin_words(),
        ));
    }
    Some(format!(
        "{word} {heavy_origin} is the heaviest ({:.3} g on average) and {word} {light_origin} the \
         lightest ({:.3} g): {apart:.3} g apart, with a standard error of {error:.3} g; imbalance \
         {:.1} % of the heaviest",
        heavy.mean_mass_g,
        light.mean_mass_g,
        100.0 * apart / heavy.mean_mass_g,
    ))
}

fn square_of_error(spread: &Spread) -> Option<f64> {
    let sd = spread.sd_mass_g?;
    Some(sd * sd / spread.count as f64)
}
