//! Levers: what a change of the design does to the sleep, everything else at its likely value.

use whirlwright_kit::ode::NotArrived;

use super::body::{Lever, LeverPoint};
use super::case::{Case, Scales};
use super::given::Given;
use super::profile::Surfaces;
use crate::part::spin_factor::Factor;

/// Places of a lever, as factors on what the design has.
const FACTORS: [f64; 9] = [0.5, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.5, 2.0];

/// Sleep against inertia, mass, radius, bearing torque, viscosity and throw.
///
/// - Inertia alone: the mass moved outward or inward, outline and mass kept.
/// - Mass alone: it takes part in the throw, and not in the sleep.
/// - Radius: the outline's radii and the radius of gyration together, mass kept.
/// - Bearing torque: dry and oil together.
pub(super) fn levers(given: &Given, surfaces: &Surfaces) -> Result<Vec<Lever>, NotArrived> {
    let likely = Case::likely(given, surfaces);
    let section = &given.section;
    let start = likely.start_rad_per_s()?;
    let middle = (start * likely.end_rad_per_s()).sqrt();
    let losses = likely.losses();
    let bearing: f64 = losses
        .all
        .iter()
        .filter(|loss| loss.name.is_bearing())
        .map(|loss| loss.torque_n_m(super::speed::Speed::new(middle)))
        .sum();
    let (throw, throw_unit, throw_at) = if given.speed_is_said {
        (
            "speed after the throw",
            "rpm",
            likely.value(Factor::ThrowSpeed),
        )
    } else {
        ("speed of the hand", "m/s", likely.value(Factor::HandSpeed))
    };
    let one = Scales::NONE;
    let of = |name: &str, unit: &str, likely_at: f64, scale: &dyn Fn(f64) -> Scales| {
        let points = FACTORS.iter().map(|&by| {
            Ok(LeverPoint {
                at: likely_at * by,
                sleep_s: likely.with(scale(by)).sleep_s()?,
            })
        });
        Ok(Lever {
            name: name.to_owned(),
            unit: unit.to_owned(),
            likely_at,
            points: points.collect::<Result<_, _>>()?,
        })
    };
    Ok(vec![
        of("inertia", "g·mm²", section.polar_inertia_g_mm2, &|by| {
            Scales { inertia: by, ..one }
        })?,
        of("mass", "g", section.mass_g, &|by| Scales {
            mass: by,
            ..one
        })?,
        of("rim radius", "mm", 0.5 * section.diameter_mm, &|by| {
            Scales { radius: by, ..one }
        })?,
        of("bearing torque", "µN·m", bearing * 1e6, &|by| Scales {
            bearing: by,
            ..one
        })?,
        of(
            "lubricant viscosity",
            "cSt",
            likely.viscosity_cst(),
            &|by| Scales {
                viscosity: by,
                ..one
            },
        )?,
        of(throw, throw_unit, throw_at, &|by| Scales {
            throw: by,
            ..one
        })?,
    ])
}
