//! The forecast as one answer.

use whirlwright_kit::ode::NotArrived;

use super::body::{CurvePoint, LossLine, SpinBody};
use super::case::Case;
use super::catch;
use super::faces::layer_mm;
use super::faults::Refusal;
use super::given::Given;
use super::levers::levers;
use super::lines;
use super::losses::{LossName, Losses};
use super::profile::{Profile, Surfaces};
use super::scatter;
use super::sleep::{decay_s_and_rad_per_s, energies_j, sleep_s, turning_distance};
use super::speed::{Speed, in_rad_per_s, in_rpm};
use super::words;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::spin_factor::Factor;
use crate::shelf::known;

const MICRO: f64 = 1e-6;

/// Throw, sleep and return of a design.
///
/// - **What it finds:** the speed after the throw, the time to the speed at which it no longer returns,
///   what takes the energy, what a change would be worth, and how true it runs.
/// - **What must hold:** a [`Given`], so every number is possible in itself.
/// - **Promised:** the numbers of one case are met to 1e-9; what they rest on is known to the ranges that
///   stand in the answer, and these decide.
///
/// # Errors
/// A throw that no hand makes, with the energy and the hand's speed it would need.
pub fn spin(given: &Given) -> Result<Answer<SpinBody>, Refusal> {
    let bare = Surfaces::default();
    let start = Case::likely(given, &bare)
        .start_rad_per_s()
        .map_err(|lost| stuck(&lost))?;
    is_possible(given, start)?;
    let likely_air = Case::likely(given, &bare).air();
    let layers = known("drag.gap.layers").value * layer_mm(likely_air, start);
    let profile = Profile::of(&given.job, 0.5 * given.bearing.outside_mm);
    let surfaces = profile.surfaces(layers);
    let body = body(given, &surfaces, start).map_err(|lost| stuck(&lost))?;
    let (verdict, decided_by) = words::verdict(&body);
    Ok(Answer {
        whirlwright: ANSWER_FORMAT,
        station: "spin".to_owned(),
        verdict,
        headline: words::headline(&body),
        decided_by,
        trust: words::trust(given, &body),
        cautions: words::cautions(&body),
        next: words::next(&body),
        body,
    })
}

fn stuck(lost: &NotArrived) -> Refusal {
    Refusal::new(
        format!("the way down the string cannot be followed: {lost}"),
        "look at the speed of the hand, the time in which it stops and the string",
    )
}

/// Refuses what no hand does.
fn is_possible(given: &Given, start: f64) -> Result<(), Refusal> {
    let fastest = known("throw.hand.fastest").value;
    let case_surfaces = Surfaces::default();
    let likely = Case::likely(given, &case_surfaces);
    let hand = if given.speed_is_said {
        lines::needed_hands_m_per_s(&likely.unwinding(), start).1
    } else {
        likely.hand_m_per_s()
    };
    if hand <= fastest {
        return Ok(());
    }
    let turning_j = 0.5 * likely.inertia_kg_m2() * start * start;
    let flying = (2.0 * turning_j / likely.mass_kg()).sqrt();
    let (stops_at_once, _) = lines::needed_hands_m_per_s(&likely.unwinding(), start);
    let next =
        "a strong throw gives 3000 to 6000 rpm; measure the speed, or write the hand's speed";
    let what = if given.speed_is_said {
        format!(
            "{:.0} rpm after the throw was read: that is {turning_j:.1} J of turning, as much as the \
             piece has when it flies at {flying:.1} m/s; a hand would need {hand:.1} m/s with nothing \
             lost and {stops_at_once:.0} m/s as hands stop, and no hand throws faster than {fastest} m/s",
            in_rpm(start)
        )
    } else {
        format!(
            "a hand at {hand:.1} m/s was read, and no hand throws faster than {fastest} m/s; it would \
             give {:.0} rpm and {turning_j:.1} J of turning",
            in_rpm(start)
        )
    };
    Err(Refusal::new(what, next))
}

fn body(given: &Given, surfaces: &Surfaces, start: f64) -> Result<SpinBody, NotArrived> {
    let likely = Case::likely(given, surfaces);
    let losses = likely.losses();
    let end = likely.end_rad_per_s();
    let (sleep, speed) = scatter::ranges(given, surfaces)?;
    let distance = turning_distance(&losses, start, end);
    Ok(SpinBody {
        name: given.job.name.clone(),
        revision: given.job.revision.clone(),
        sleep_s: sleep,
        sleep_at_least_s: given.sleep_at_least_s,
        speed_rpm: speed.map(in_rpm),
        ends_at_rpm: given.range(Factor::EndSpeed),
        throw: lines::throw(given, &likely)?,
        string: lines::string(&likely),
        air: lines::air(&likely, surfaces, start),
        losses: loss_lines(&likely, &losses, start, end),
        curve: curve(&likely, &losses, start, end),
        levers: levers(given, surfaces)?,
        range_from: scatter::spent(given, surfaces)?,
        turn: lines::turn(given, &likely, start, distance),
        wobble: lines::wobble(given, start),
        climb: lines::climb(&likely),
        bearing: catch::line(given, &likely, in_rpm(start)),
    })
}

/// Every loss that takes something, the largest first.
fn loss_lines(likely: &Case<'_>, losses: &Losses, start: f64, end: f64) -> Vec<LossLine> {
    let inertia = likely.inertia_kg_m2();
    let energies = energies_j(losses, inertia, start, end);
    let whole: f64 = energies.iter().sum();
    let sleep = sleep_s(losses, inertia, start, end);
    let at =
        |loss: &super::losses::Loss, rad_per_s: f64| loss.torque_n_m(Speed::new(rad_per_s)) / MICRO;
    let line = |(loss, energy_j): (&super::losses::Loss, f64)| LossLine {
        loss: loss.name,
        name: loss.name.word().to_owned(),
        share: if whole > 0.0 { energy_j / whole } else { 0.0 },
        energy_j,
        torque_at_start_un_m: at(loss, start),
        torque_at_end_un_m: at(loss, end),
        half_gone_adds_s: sleep_s(&losses.scaled(loss.name, 0.5), inertia, start, end) - sleep,
        factor: loss.factor,
        law: words::law(loss.name).to_owned(),
    };
    let lines = losses.all.iter().zip(energies);
    let mut lines: Vec<LossLine> = lines
        .filter(|(loss, _)| loss.torque_n_m(Speed::new(start)) > 0.0)
        .map(line)
        .collect();
    lines.sort_by(|a, b| b.share.total_cmp(&a.share));
    lines
}

/// How many steps the picture of the decay has.
const CURVE_STEPS: usize = 120;

fn curve(likely: &Case<'_>, losses: &Losses, start: f64, end: f64) -> Vec<CurvePoint> {
    if start <= end {
        return Vec::new();
    }
    let point = |(time_s, rad_per_s): (f64, f64)| {
        let of = |is: &dyn Fn(LossName) -> bool| -> f64 {
            let these = losses.all.iter().filter(|loss| is(loss.name));
            these
                .map(|loss| loss.torque_n_m(Speed::new(rad_per_s)) / MICRO)
                .sum()
        };
        CurvePoint {
            time_s,
            speed_rpm: in_rpm(rad_per_s),
            bearing_un_m: of(&LossName::is_bearing),
            faces_un_m: of(&|name| name == LossName::Faces),
            rim_un_m: of(&|name| name == LossName::Rim),
            gap_un_m: of(&|name| name == LossName::Gap),
            string_un_m: of(&|name| name == LossName::String),
        }
    };
    let decay = decay_s_and_rad_per_s(losses, likely.inertia_kg_m2(), start, end, CURVE_STEPS);
    decay.into_iter().map(point).collect()
}

/// Every loss of a design with its factor at its likely value: what a log is held against.
///
/// `speed_rpm` is where it starts: the faster, the thinner the layer of air that a wall carries along.
#[must_use]
pub fn likely_losses(given: &Given, speed_rpm: f64) -> Losses {
    let air = Case::likely(given, &Surfaces::default()).air();
    let layers = known("drag.gap.layers").value * layer_mm(air, in_rad_per_s(speed_rpm));
    let profile = Profile::of(&given.job, 0.5 * given.bearing.outside_mm);
    Case::likely(given, &profile.surfaces(layers)).losses()
}
