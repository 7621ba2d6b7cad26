//! Readings with amplitude and phase: what they tell, how sure, and what looks wrong.

use super::correct_body::{Arrow, Effect, Method, TrialWorth};
use super::found::Found;
use super::given::{CorrectGiven, PhasedGiven, Refusal};
use super::influence::{Influence, Ready, fit, other, ready, rows_of};
use super::swapped::{Planes, swapped};
use super::uncertainty::{Basis, circles, propagated};
use super::vectors::{Vector, angle_deg};
use crate::shelf::balance_rules;

/// What phased runs tell.
pub(super) fn phased(given: &CorrectGiven, runs: &PhasedGiven) -> Result<Found, Refusal> {
    let ready = ready(given, runs)?;
    let fitted = fit(&ready)?;
    let mut found = Found::new(Method::InfluenceCoefficients, fitted.unbalance.clone());
    found.now = fitted
        .unbalance
        .iter()
        .zip(&ready.stays)
        .map(|(u, m)| u + m)
        .collect();
    let changes = fitted.sensitivities(&ready);
    if ready.scatter.is_known() {
        let sds = propagated(&changes, given.planes.len());
        let basis = Basis {
            noise_share: ready.scatter.share(),
            freedom: ready.scatter.freedom(),
            seed: given.seed,
        };
        found.circles = Some(circles(&fitted.unbalance, &sds, &basis, |draw| {
            fit(&ready.shaken(draw)).ok().map(|f| f.unbalance)
        }));
    }
    found.arrows = arrows(runs, &ready, &fitted);
    found.effects = effects(given, runs, &ready, &fitted);
    found.trials = (0..given.planes.len())
        .map(|plane| trial(given, &ready, &fitted, plane))
        .collect();
    doubts(given, runs, &ready, &fitted, &mut found);
    Ok(found)
}

fn arrows(runs: &PhasedGiven, ready: &Ready, fitted: &Influence) -> Vec<Arrow> {
    let mut out = Vec::new();
    for (row, (group, sensor)) in rows_of(&ready.groups, runs.sensors.len()).enumerate() {
        for run in &group.runs {
            let said = &runs.runs[run.number];
            let reading = run.readings[sensor];
            out.push(Arrow {
                run: said.name.clone(),
                sensor: runs.sensors[sensor].name.clone(),
                speed_rpm: said.speed_rpm,
                amplitude_value: reading.norm(),
                phase_deg: angle_deg(reading),
                unit: runs.unit.clone(),
                repeats: said.readings[sensor].len(),
                fitted_value: fitted.fitted(row, &run.masses).norm(),
            });
        }
    }
    out
}

fn effects(
    given: &CorrectGiven,
    runs: &PhasedGiven,
    ready: &Ready,
    fitted: &Influence,
) -> Vec<Effect> {
    let mut out = Vec::new();
    for (row, (group, sensor)) in rows_of(&ready.groups, runs.sensors.len()).enumerate() {
        for (plane, named) in given.planes.iter().enumerate() {
            let effect = fitted.effects[(row, plane)];
            out.push(Effect {
                plane: named.name.clone(),
                sensor: runs.sensors[sensor].name.clone(),
                speed_rpm: group.speed_rpm,
                per_g_mm_value: effect.norm(),
                phase_deg: angle_deg(effect),
                unit: runs.unit.clone(),
            });
        }
    }
    out
}

/// What the trials of a plane were worth: the change they made, over the first reading and over its own
/// scatter.
fn trial(given: &CorrectGiven, ready: &Ready, fitted: &Influence, plane: usize) -> TrialWorth {
    let rules = balance_rules();
    let sensors = ready.groups[0].runs[0].readings.len();
    let (mut size, mut change, mut over_noise) = (0.0f64, 0.0f64, None::<f64>);
    for (row, (group, sensor)) in rows_of(&ready.groups, sensors).enumerate() {
        let masses = group.runs.iter().map(|r| r.masses[plane]);
        let first = group.runs[0].masses[plane];
        let trial = masses.map(|m| (m - first).norm()).fold(0.0, f64::max);
        let effect = fitted.effects[(row, plane)].norm() * trial;
        size = size.max(trial);
        let reading = fitted.first[(row, 0)].norm();
        change = change.max(if reading > 0.0 {
            effect / reading
        } else {
            f64::MAX
        });
        let variance = group.coefficient_variance(plane, sensor);
        if variance > 0.0 {
            let ratio = effect / (2.0 * variance).sqrt() / trial.max(f64::MIN_POSITIVE);
            over_noise = Some(over_noise.map_or(ratio, |known: f64| known.max(ratio)));
        }
    }
    let enough = match over_noise {
        Some(ratio) => ratio >= rules.trial_over_noise_ratio,
        None => change >= rules.trial_change_share,
    };
    let lacks = match over_noise {
        Some(ratio) => rules.trial_over_noise_ratio / ratio.max(0.1),
        None => rules.trial_change_share / change.max(0.01),
    };
    let better = if enough { size } else { size * lacks };
    let radius = given.planes[plane].radius_mm;
    let at = angle_deg(-fitted.unbalance[plane]);
    let name = &given.planes[plane].name;
    let noise = over_noise.map_or_else(
        || "no repeats tell its scatter".to_owned(),
        |ratio| format!("{ratio:.1} times its own standard uncertainty"),
    );
    let words = if enough {
        format!(
            "plane `{name}`: {size:.3} g·mm changed the reading by {:.0} %, {noise}: enough",
            100.0 * change
        )
    } else {
        format!(
            "plane `{name}`: {size:.3} g·mm changed the reading by {:.0} % only, {noise}: too little to go by; try {:.3} g at radius {radius} mm, at {at:.0} deg, slow run first",
            100.0 * change,
            better / radius
        )
    };
    TrialWorth {
        plane: name.clone(),
        trial_g_mm: size,
        change_share: change,
        change_over_noise_ratio: over_noise,
        enough,
        better_mass_g: better / radius,
        better_at_deg: at,
        words,
    }
}

/// What the data themselves say against the readings.
fn doubts(
    given: &CorrectGiven,
    runs: &PhasedGiven,
    ready: &Ready,
    fitted: &Influence,
    found: &mut Found,
) {
    // A coefficient that is no more than its scatter corrects nothing.
    const NOTHING: f64 = 3.0;
    for trial in &found.trials {
        if !trial.enough {
            found.doubts.push(trial.words.clone());
        }
        found.forbids |= trial.change_over_noise_ratio.is_some_and(|r| r < NOTHING);
    }
    match swapped(given, runs, fitted, ready.groups.len()) {
        Planes::Sound => {}
        Planes::Doubtful(words) => found.doubts.push(words),
        Planes::Swapped(words) => {
            found.doubts.push(words);
            found.forbids = true;
        }
    }
    // Above this the planes act so alike that an error of a hundredth doubles.
    const ALIKE: f64 = 30.0;
    let condition = fitted.inverse.condition_number;
    if condition > ALIKE {
        found.doubts.push(format!(
            "the planes act nearly alike on the pick-ups (condition {condition:.0}): errors of the readings grow as much; set the planes farther apart, add a pick-up or a second speed"
        ));
    }
    if let Some(misfit) = ready.misfit_share(fitted) {
        let turned = ready.turned_over();
        let other_way = fit(&turned).ok().and_then(|f| turned.misfit_share(&f));
        // A tenth is far above the scatter of a rig worth the name.
        const OFF: f64 = 0.1;
        if misfit > OFF && other_way.is_some_and(|o| o < 0.2 * misfit) {
            found.doubts.push(format!(
                "the runs fit only if phases are counted {} and the masses' angles {}: look at which way the rig counts",
                other(runs.phase_sense).word(),
                given.sense.word()
            ));
            found.forbids = true;
        } else if misfit > OFF {
            found.doubts.push(format!(
                "the runs do not fit one another: {:.0} % of the readings are left over; a mass or a plane was written down wrongly, or the speed differed",
                100.0 * misfit
            ));
            found.forbids = true;
        }
    }
}

/// The unbalance of phased readings alone, plane by plane in g·mm from the mark: the solve without its
/// uncertainty, for whoever needs nothing else.
///
/// # Errors
/// As [`crate::balance::correct`].
pub fn solve(
    given: &CorrectGiven,
    runs: &PhasedGiven,
) -> Result<Vec<crate::part::Unbalance>, Refusal> {
    let solved = fit(&ready(given, runs)?)?.unbalance;
    Ok(solved
        .into_iter()
        .map(|u: Vector| super::vectors::unbalance(u))
        .collect())
}
