//! Runs of the rig: with amplitude and phase, or amplitudes alone.

use toml::de::DeValue;
use whirlwright_workshop::balance::given::{
    AddedMass, Mount, NoPhaseGiven, NoPhaseRun, Noise, PhasedGiven, PlaneGiven, ReadingVector,
    Readings, RunGiven, SensorGiven,
};
use whirlwright_workshop::part::Dimension::{Angle, AngularSpeed, Length, Mass, Share};

use super::rig::{place, sense};
use super::vector::{OneUnit, texts};
use crate::read::job::block::{Block, Faults, Said, Span, kind};

const MOST_RUNS: usize = 200;
const EXAMPLE: &str = "\"170 um at 112 deg\"";

/// What is said of the rig as a whole.
pub(super) struct Rig {
    pub phase_sense: Option<whirlwright_workshop::part::AngleSense>,
    pub noise: Option<Noise>,
    pub mount: Option<Mount>,
    pub phases_are_degrees: bool,
}

pub(super) fn rig(block: Block<'_>) -> Rig {
    let share = block.quantity("scatter", Share).map(|(q, _)| q.value);
    let rig = Rig {
        phase_sense: sense(&block, "phases"),
        noise: share.map(|of_amplitude_share| Noise {
            of_amplitude_share,
            besides_value: 0.0,
        }),
        mount: block.choice("mount", &Mount::ALL.map(|mount| (mount.word(), mount))),
        phases_are_degrees: block.flag("phases_are_degrees").unwrap_or(false),
    };
    block.finish();
    rig
}

/// One run as it is written.
struct Run<'a> {
    name: String,
    span: Span,
    slow_roll: bool,
    speed_rpm: Option<f64>,
    added: Vec<AddedMass>,
    stays_on: bool,
    /// For every pick-up what stands there.
    readings: Vec<Vec<Said<'a>>>,
}

/// Reads all runs; whether they have phases the readings themselves say.
pub(super) fn runs(
    blocks: Vec<Block<'_>>,
    planes: &[PlaneGiven],
    sensors: Vec<SensorGiven>,
    rig: Option<Rig>,
    sense: whirlwright_workshop::part::AngleSense,
    faults: &Faults,
) -> Option<Readings> {
    if let Some(over) = blocks.get(MOST_RUNS) {
        let what = format!(
            "the file has {} runs; at most {MOST_RUNS} were expected",
            blocks.len()
        );
        faults.add(over.span.clone(), what);
        return None;
    }
    let read = |block| run(block, planes, &sensors, faults);
    let runs: Vec<Run<'_>> = blocks.into_iter().filter_map(read).collect();
    let mut all = runs.iter().flat_map(|run| run.readings.iter().flatten());
    let with_phase = all.clone().any(|said| said.text.contains(" at "));
    if with_phase {
        return Some(Readings::Phased(phased(runs, sensors, rig, sense, faults)?));
    }
    if sensors.len() > 1 && all.next().is_some() {
        faults.add(
            0..0,
            format!("the readings have no phase and {} pick-ups; without phase one pick-up was expected", sensors.len()),
        );
        return None;
    }
    Some(Readings::NoPhase(without_phase(&runs, faults)?))
}

fn run<'a>(
    block: Block<'a>,
    planes: &[PlaneGiven],
    sensors: &[SensorGiven],
    faults: &'a Faults,
) -> Option<Run<'a>> {
    #[derive(Clone, Copy, PartialEq)]
    enum Kind {
        First,
        Trial,
        Check,
        SlowRoll,
    }
    let kinds = [
        ("first", Kind::First),
        ("trial", Kind::Trial),
        ("check", Kind::Check),
        ("slow roll", Kind::SlowRoll),
    ];
    let name = block.text("name").map(|said| said.text.to_owned());
    let what = block.choice("kind", &kinds);
    if !block.has("kind") {
        let told = format!(
            "{} has no `kind`; one of first, trial, check, slow roll was expected",
            block.name
        );
        faults.missing(block.span.clone(), told);
    }
    let added = added(&block, planes, faults);
    match what {
        Some(Kind::Trial) if !block.has("added") => faults.missing(
            block.span.clone(),
            "a trial run has no `added`; the trial mass was expected, such as added = { plane = \"left\", mass = \"0.05 g\", angle = \"0 deg\" }",
        ),
        Some(Kind::First | Kind::SlowRoll) if block.has("added") => faults.add(
            block.span.clone(),
            "this run has `added` masses and is no trial run; kind = \"trial\" or \"check\" was expected",
        ),
        _ => {}
    }
    let stays_on = block.flag("stays_on").unwrap_or(false);
    let speed_rpm = block.positive("speed", AngularSpeed).map(|(q, _)| q.value);
    let readings = readings(&block, sensors, faults);
    let (fallback, span) = (block.name.clone(), block.span.clone());
    block.finish();
    Some(Run {
        name: name.unwrap_or(fallback),
        span,
        slow_roll: what? == Kind::SlowRoll,
        speed_rpm,
        added: added?,
        stays_on,
        readings: readings?,
    })
}

/// The masses that were put on; none where a fault was found in them.
fn added(block: &Block<'_>, planes: &[PlaneGiven], faults: &Faults) -> Option<Vec<AddedMass>> {
    let known: Vec<&str> = planes.iter().map(|plane| plane.name.as_str()).collect();
    let blocks = block.blocks("added", true);
    let count = blocks.len();
    let mut masses = Vec::new();
    for one in blocks {
        let plane = if planes.len() == 1 && !one.has("plane") {
            let _ = one.value("plane");
            Some(0)
        } else {
            let said = one.needed_text("plane", "the name of a plane");
            said.and_then(|said| place(said.text, &known, "plane", &said.span, faults))
        };
        let mass = one.needed("mass", Mass);
        let angle = one.needed("angle", Angle);
        let radius_mm = one.positive("radius", Length).map(|(q, _)| q.value);
        if mass == Some(0.0) {
            let what = "the mass that was put on is 0 g: a run without a trial mass tells nothing of the plane; the mass as weighed was expected";
            faults.add(one.span.clone(), what);
        }
        one.finish();
        if let (Some(plane), Some(mass_g), Some(angle_deg)) = (plane, mass, angle) {
            masses.push(AddedMass {
                plane,
                mass_g,
                angle_deg,
                radius_mm,
            });
        }
    }
    (masses.len() == count).then_some(masses)
}

/// What stands under `readings`, for every pick-up; `reading` will do where there is but one.
fn readings<'a>(
    block: &Block<'a>,
    sensors: &[SensorGiven],
    faults: &Faults,
) -> Option<Vec<Vec<Said<'a>>>> {
    let known: Vec<&str> = sensors.iter().map(|sensor| sensor.name.as_str()).collect();
    let single = block.value("reading");
    let Some(value) = block.value("readings") else {
        return match single {
            Some(value) if sensors.len() <= 1 => Some(vec![texts(value, faults, EXAMPLE)]),
            _ => {
                let what = format!(
                    "{} has no `readings`; a reading of every pick-up was expected, such as readings = {{ left = {EXAMPLE} }}",
                    block.name
                );
                faults.missing(block.span.clone(), what);
                None
            }
        };
    };
    let DeValue::Table(_) = value.get_ref() else {
        let what = format!(
            "`readings` is {}; a reading of every pick-up was expected, such as readings = {{ left = {EXAMPLE} }}",
            kind(value.get_ref())
        );
        faults.add(value.span(), what);
        return None;
    };
    let table = block.block("readings", "readings")?;
    let mut found: Vec<Option<Vec<Said<'a>>>> = vec![None; sensors.len()];
    for (key, value) in table.entries() {
        if let Some(n) = place(key.text, &known, "pick-up", &key.span, faults) {
            found[n] = Some(texts(value, faults, EXAMPLE));
        }
    }
    for (sensor, _) in known
        .iter()
        .zip(&found)
        .filter(|(_, found)| found.is_none())
    {
        let what = format!(
            "{} has no reading of the pick-up `{sensor}`; one was expected",
            block.name
        );
        faults.missing(value.span(), what);
    }
    found.into_iter().collect()
}

fn phased(
    runs: Vec<Run<'_>>,
    sensors: Vec<SensorGiven>,
    rig: Option<Rig>,
    sense: whirlwright_workshop::part::AngleSense,
    faults: &Faults,
) -> Option<PhasedGiven> {
    let mut unit = OneUnit::default();
    let mut given = Vec::new();
    let mut whole = true;
    for run in runs {
        let mut vectors: Vec<Vec<ReadingVector>> = Vec::new();
        for of_sensor in &run.readings {
            let read: Vec<ReadingVector> = of_sensor
                .iter()
                .filter_map(|said| unit.vector(said, faults))
                .collect();
            whole &= !read.is_empty() && read.len() == of_sensor.len();
            vectors.push(read);
        }
        let Some(speed_rpm) = run.speed_rpm else {
            faults.missing(
                run.span,
                format!(
                    "{} has no `speed`; the speed of the run was expected, such as \"2400 rpm\"",
                    run.name
                ),
            );
            whole = false;
            continue;
        };
        given.push(RunGiven {
            name: run.name,
            slow_roll: run.slow_roll,
            speed_rpm,
            added: run.added,
            stays_on: run.stays_on,
            readings: vectors,
        });
    }
    let rig = rig.unwrap_or(Rig {
        phase_sense: None,
        noise: None,
        mount: None,
        phases_are_degrees: false,
    });
    whole.then(|| PhasedGiven {
        unit: unit.word(),
        phase_sense: rig.phase_sense.unwrap_or(sense),
        sensors,
        runs: given,
        noise: rig.noise,
        mount: rig.mount,
        phases_are_degrees: rig.phases_are_degrees,
    })
}

fn without_phase(runs: &[Run<'_>], faults: &Faults) -> Option<NoPhaseGiven> {
    let mut unit = OneUnit::default();
    let (mut first_values, mut trials, mut whole) = (Vec::new(), Vec::new(), true);
    for run in runs {
        let said = run.readings.iter().flatten();
        let values: Vec<f64> = said
            .clone()
            .filter_map(|said| unit.plain(said, faults))
            .collect();
        whole &= values.len() == said.count();
        match run.added.as_slice() {
            [] => first_values.extend(values),
            [mass] => trials.push(NoPhaseRun {
                name: run.name.clone(),
                mass_g: mass.mass_g,
                angle_deg: mass.angle_deg,
                values,
            }),
            _ => {
                let what = format!(
                    "{}: {} masses were put on; without phase one was expected",
                    run.name,
                    run.added.len()
                );
                faults.add(run.span.clone(), what);
                whole = false;
            }
        }
    }
    whole.then(|| NoPhaseGiven {
        unit: unit.word(),
        first_values,
        trials,
    })
}
