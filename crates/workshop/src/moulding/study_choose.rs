//! Which setting of a study to take, and what the press's own scatter makes of it.

use super::given::Press;
use super::study_body::{StudyKind, StudyRun};
use crate::part::figures::signed;
use crate::shelf::known;

/// What is chosen and why.
pub(super) struct Chosen {
    pub take: Option<StudyRun>,
    pub why: String,
    pub marks: Vec<(String, f64)>,
}

/// Fills in the scatter from shot to shot, by the differences of neighbouring runs and what the wall does.
pub(super) fn scatter(runs: &mut [StudyRun], probes: &[StudyRun], press: &Press) {
    let wall = slope_of_wall(probes);
    let all = runs.to_vec();
    for run in runs {
        let row: Vec<&StudyRun> = all
            .iter()
            .filter(|r| r.across_at == run.across_at)
            .collect();
        let column: Vec<&StudyRun> = all.iter().filter(|r| r.along_at == run.along_at).collect();
        let melt = slope(&row, run.along_at, |r| r.along_at);
        let hold = slope(&column, run.across_at, |r| r.across_at);
        let (Some(melt), Some(hold), Some(wall)) = (melt, hold, wall) else {
            continue;
        };
        let sum = |k: usize| {
            let parts = [
                melt[k] * press.melt_sd_k,
                hold[k] * press.hold_sd_mpa,
                wall[k] * press.wall_sd_k,
            ];
            parts.iter().map(|p| p * p).sum::<f64>().sqrt()
        };
        (run.shot_sd_g, run.shot_sd_g_mm) = (Some(sum(0)), Some(sum(1)));
    }
}

/// How mass and pull change with a setting, by the runs next to it.
fn slope(runs: &[&StudyRun], at: f64, of: fn(&StudyRun) -> f64) -> Option<[f64; 2]> {
    let mut sorted: Vec<&&StudyRun> = runs.iter().collect();
    sorted.sort_by(|a, b| of(a).total_cmp(&of(b)));
    let place = sorted.iter().position(|r| of(r) == at)?;
    let low = sorted[place.saturating_sub(1)];
    let high = sorted[(place + 1).min(sorted.len() - 1)];
    between(low, high, of)
}

fn slope_of_wall(probes: &[StudyRun]) -> Option<[f64; 2]> {
    between(probes.first()?, probes.last()?, |r| r.wall_degc)
}

fn between(low: &StudyRun, high: &StudyRun, of: fn(&StudyRun) -> f64) -> Option<[f64; 2]> {
    let step = of(high) - of(low);
    (step != 0.0).then(|| {
        [
            (high.mass_g - low.mass_g) / step,
            (high.toward_gate_g_mm - low.toward_gate_g_mm) / step,
        ]
    })
}

/// The setting to take.
pub(super) fn choose(kind: StudyKind, runs: &[StudyRun], base_mass_g: f64) -> Chosen {
    match kind {
        StudyKind::Window => window(runs),
        StudyKind::Freeze | StudyKind::Hold => frozen(runs),
        StudyKind::Fill => flat(runs),
        StudyKind::Cooling => quickest(runs, base_mass_g),
    }
}

/// Of the runs that keep every limit and whose neighbours do, the one whose weight and pull scatter least.
fn window(runs: &[StudyRun]) -> Chosen {
    let inside: Vec<&StudyRun> = runs.iter().filter(|r| r.breaks.is_empty()).collect();
    let roomy: Vec<&StudyRun> = inside
        .iter()
        .copied()
        .filter(|r| has_room(r, runs))
        .collect();
    let pool = if roomy.is_empty() { &inside } else { &roomy };
    let middle = |of: fn(&StudyRun) -> Option<f64>| {
        let mut all: Vec<f64> = pool.iter().filter_map(|r| of(r)).collect();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2)
            .copied()
            .unwrap_or(1.0)
            .max(f64::MIN_POSITIVE)
    };
    let (g, g_mm) = (middle(|r| r.shot_sd_g), middle(|r| r.shot_sd_g_mm));
    let score = |r: &StudyRun| {
        let part = |sd: Option<f64>, by: f64| sd.map_or(f64::INFINITY, |sd| sd / by);
        part(r.shot_sd_g, g).hypot(part(r.shot_sd_g_mm, g_mm))
    };
    let take = pool.iter().min_by(|a, b| score(a).total_cmp(&score(b)));
    let why = match take {
        None => "No run keeps every limit: change the press, the gate or the limits.".to_owned(),
        Some(r) => format!(
            "{} of {} runs keep every limit; of those with room on all sides, melt {:.0} °C with {:.0} MPa scatters least from shot to shot: {:.4} g and {:.4} g·mm (sd) by the press's own scatter.",
            inside.len(),
            runs.len(),
            r.melt_degc,
            r.hold_mpa,
            r.shot_sd_g.unwrap_or(0.0),
            r.shot_sd_g_mm.unwrap_or(0.0)
        ),
    };
    Chosen {
        take: take.map(|r| (*r).clone()),
        why,
        marks: Vec::new(),
    }
}

/// Whether the runs on both sides, along and across, keep every limit too.
fn has_room(run: &StudyRun, runs: &[StudyRun]) -> bool {
    let next = |same: fn(&StudyRun) -> f64, of: fn(&StudyRun) -> f64| {
        let line = runs.iter().filter(|r| same(r) == same(run));
        let above = line
            .clone()
            .filter(|r| of(r) > of(run))
            .min_by(|a, b| of(a).total_cmp(&of(b)));
        let below = line
            .filter(|r| of(r) < of(run))
            .max_by(|a, b| of(a).total_cmp(&of(b)));
        [above, below]
            .iter()
            .all(|r| r.is_some_and(|r| r.breaks.is_empty()))
    };
    next(|r| r.across_at, |r| r.along_at) && next(|r| r.along_at, |r| r.across_at)
}

/// The shortest hold after which the weight no longer rises, for the highest pressure that keeps every limit.
fn frozen(runs: &[StudyRun]) -> Chosen {
    let keeps = |r: &&StudyRun| r.breaks.is_empty();
    let pressure = runs
        .iter()
        .filter(keeps)
        .map(|r| r.hold_mpa)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut curve: Vec<&StudyRun> = runs.iter().filter(|r| r.hold_mpa == pressure).collect();
    curve.sort_by(|a, b| a.hold_s.total_cmp(&b.hold_s));
    let (Some(last), gain) = (curve.last(), known("mould_study.still_gains").value * 0.01) else {
        return Chosen {
            take: None,
            why: "No hold keeps every limit.".to_owned(),
            marks: Vec::new(),
        };
    };
    let settled = curve
        .iter()
        .find(|r| (last.mass_g - r.mass_g).abs() <= gain * last.mass_g);
    let longer = known("mould_study.hold_longer").value;
    let Some(first) = settled.filter(|r| r.hold_s < last.hold_s) else {
        return Chosen {
            take: None,
            why: "The weight still changes at the longest hold: lengthen the study.".to_owned(),
            marks: Vec::new(),
        };
    };
    let wanted = first.hold_s + longer;
    let take = curve.iter().find(|r| r.hold_s >= wanted).unwrap_or(last);
    Chosen {
        take: Some((**take).clone()),
        why: format!(
            "At {pressure:.0} MPa the weight stops rising (within {:.1} %) after {:.1} s of hold: that is the freezing of the gate on the scale. Hold {longer:.1} s longer, {wanted:.1} s. Shorter, melt runs back out of the gate: the half is light, and its pull is another.",
            100.0 * gain,
            first.hold_s
        ),
        marks: vec![("weight settles".to_owned(), first.hold_s)],
    }
}

/// Where the pressure changes least with the time of filling, on a scale of ratios.
fn flat(runs: &[StudyRun]) -> Chosen {
    let mut all: Vec<&StudyRun> = runs.iter().filter(|r| r.breaks.is_empty()).collect();
    all.sort_by(|a, b| a.fill_s.total_cmp(&b.fill_s));
    let least = all
        .iter()
        .min_by(|a, b| a.switch_mpa.total_cmp(&b.switch_mpa))
        .copied();
    let Some(least) = least else {
        return Chosen {
            take: None,
            why: "No time of filling keeps every limit.".to_owned(),
            marks: Vec::new(),
        };
    };
    Chosen {
        why: format!(
            "The pressure is least at a filling of {:.2} s ({:.0} MPa): faster, flow costs pressure; slower, the melt freezes on the way. About there a change of viscosity changes least.",
            least.fill_s, least.switch_mpa
        ),
        marks: vec![("least pressure".to_owned(), least.fill_s)],
        take: Some(least.clone()),
    }
}

fn quickest(runs: &[StudyRun], base_mass_g: f64) -> Chosen {
    let with_time = runs.iter().filter(|r| r.cooling_s.is_some());
    let take = with_time.min_by(|a, b| {
        a.cooling_s
            .partial_cmp(&b.cooling_s)
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    let why = take.map_or_else(
        || "No wall cools it.".to_owned(),
        |r| {
            format!(
                "A wall of {:.0} °C lets it out first, after {:.1} s; it weighs {} g against the job's own wall. A colder wall freezes the gate earlier too.",
                r.wall_degc,
                r.cooling_s.unwrap_or(0.0),
                signed(r.mass_g - base_mass_g, 3)
            )
        },
    );
    Chosen {
        take: take.cloned(),
        why,
        marks: Vec::new(),
    }
}
