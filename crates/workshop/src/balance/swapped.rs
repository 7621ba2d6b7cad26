//! Whether the planes in the file are those of the rig.
//!
//! A stiff rig lets a trial act most on the pick-up near it. A piece that turns nearly free does so only if it
//! is long: an unbalance `u` at `p` moves its axle at `s` by `−u (1/M − s p / (Ip − It))`, which is more on
//! the far side where `Ip > It`. Crossed effects alone therefore prove nothing.

use super::given::{CorrectGiven, Mount, PhasedGiven};
use super::influence::Influence;
use super::vectors::Vector;

/// What the data tell of the planes.
pub(super) enum Planes {
    /// Nothing against them.
    Sound,
    /// Swapped, or a piece that turns nearly free.
    Doubtful(String),
    /// Swapped, and why that is sure.
    Swapped(String),
}

/// Effects agree with a model when the part that stands across it is no more than this: mounts, damping and
/// the scale of a pick-up's place move a rig's effects by some tenths, and swapped planes by about one.
const AGREES: f64 = 0.3;

/// Two planes with two pick-ups: decides from mount, drawing, and what the runs are called.
pub(super) fn swapped(
    given: &CorrectGiven,
    runs: &PhasedGiven,
    fitted: &Influence,
    groups: usize,
) -> Planes {
    if given.planes.len() != 2 || runs.sensors.len() != 2 {
        return Planes::Sound;
    }
    let crossed = crossed(given, runs, fitted, groups);
    let (drawn, exchanged) = free_misfits(given, runs, fitted).map_or((false, false), |[a, b]| {
        (a <= AGREES, a > AGREES && b <= AGREES)
    });
    const AS_DRAWN: &str = "with the planes exchanged the readings agree with the piece as it is drawn, and as written they do not";
    const STIFF: &str = "on a stiff rig a trial acts most on the pick-up near it";
    const NAMES: &str = "the runs are named after the other plane too";
    let (a, b) = (&given.planes[0].name, &given.planes[1].name);
    let acted = "every trial acted most on the pick-up at the other plane";
    let sure = |seen: &str, why: &str| {
        Planes::Swapped(format!(
            "{seen}: the trials in `{a}` and `{b}` (or the pick-ups `{}` and `{}`) seem to be swapped, for {why}; look before anything is drilled",
            runs.sensors[0].name, runs.sensors[1].name
        ))
    };
    match (runs.mount, crossed) {
        (Some(Mount::Stiff), true) => sure(acted, STIFF),
        (Some(Mount::Soft), true) if exchanged => sure(acted, AS_DRAWN),
        (Some(Mount::Soft), false) if exchanged => sure(
            "this piece turns free on its soft rig, and every trial acted most on the pick-up near it",
            AS_DRAWN,
        ),
        (None, true) if drawn => Planes::Sound,
        (None, true) if exchanged => sure(acted, AS_DRAWN),
        (None, true) if named_after_the_other(given, runs) => sure(acted, NAMES),
        (None, true) => Planes::Doubtful(format!(
            "{acted}: either the planes are swapped in the file or the piece turns nearly free (a wide piece on soft posts does so by nature). Look which rim carried each trial; then say mount = \"soft\" or \"stiff\" under [rig], and with it the places of planes and pick-ups and the job or the inertia of the piece"
        )),
        (Some(Mount::Soft), _) | (Some(Mount::Stiff) | None, false) => Planes::Sound,
    }
}

/// Whether crossed effects are larger than direct ones at every speed. Their product does not depend on how
/// the pick-ups are scaled.
fn crossed(given: &CorrectGiven, runs: &PhasedGiven, fitted: &Influence, groups: usize) -> bool {
    let near = |sensor: usize, plane: usize| {
        let (s, p) = (runs.sensors[sensor].x_mm?, given.planes[plane].x_mm?);
        Some((s - p).abs())
    };
    // Without places the first pick-up is taken to stand at the first plane.
    let straight = match (near(0, 0), near(1, 1), near(0, 1), near(1, 0)) {
        (Some(a), Some(b), Some(c), Some(d)) => a + b <= c + d,
        _ => true,
    };
    (0..groups).all(|group| {
        let e = |sensor: usize, plane: usize| fitted.effects[(2 * group + sensor, plane)].norm();
        let (direct, cross) = (e(0, 0) * e(1, 1), e(0, 1) * e(1, 0));
        if straight {
            cross > direct
        } else {
            direct > cross
        }
    })
}

/// How far the effects stand across those of the free piece: planes as written, and exchanged. Sines of
/// angles between rows, so that the scale and the lag of a pick-up do not count.
fn free_misfits(given: &CorrectGiven, runs: &PhasedGiven, fitted: &Influence) -> Option<[f64; 2]> {
    let rotor = &given.rotor;
    let inertia = rotor.inertia?;
    let difference = inertia.polar_g_mm2 - inertia.transverse_g_mm2;
    let place = |plane: usize| Some(given.planes[plane].x_mm? - rotor.centre_mm);
    let planes = [place(0)?, place(1)?];
    let mut worst = [0.0f64; 2];
    for row in 0..fitted.effects.nrows() {
        let at = runs.sensors[row % runs.sensors.len()].x_mm? - rotor.centre_mm;
        let free = planes.map(|p| difference / rotor.mass_g - at * p);
        let read = [fitted.effects[(row, 0)], fitted.effects[(row, 1)]];
        worst[0] = worst[0].max(across(read, free));
        worst[1] = worst[1].max(across(read, [free[1], free[0]]));
    }
    worst.iter().all(|w| w.is_finite()).then_some(worst)
}

/// Sine of the angle between two pairs, whatever factor stands before each.
fn across(read: [Vector; 2], free: [f64; 2]) -> f64 {
    let along = (read[0] * free[0] + read[1] * free[1]).norm_sqr();
    let sizes = (read[0].norm_sqr() + read[1].norm_sqr()) * (free[0].powi(2) + free[1].powi(2));
    (1.0 - along / sizes).max(0.0).sqrt()
}

/// Whether the trials of both planes are named after the other one: `left trial` with its mass in `right`.
fn named_after_the_other(given: &CorrectGiven, runs: &PhasedGiven) -> bool {
    let says = |run: &str, plane: usize| {
        let name = given.planes[plane].name.to_lowercase();
        let run = run.to_lowercase();
        run.split(|c: char| !c.is_alphanumeric()).any(|w| w == name)
    };
    let trials = || {
        runs.runs
            .iter()
            .filter(|run| !run.slow_roll && run.added.len() == 1)
            .map(|run| (run.name.as_str(), run.added[0].plane))
    };
    let other = |(run, plane): (&str, usize)| says(run, 1 - plane) && !says(run, plane);
    (0..2).all(|plane| trials().any(|t| t.1 == plane)) && trials().all(other)
}
