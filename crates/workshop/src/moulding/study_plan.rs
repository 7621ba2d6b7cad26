//! Which runs a study is made of.

use super::given::{Given, HoldStep, Process};
use super::study_body::StudyKind;
use crate::part::Range;
use crate::shelf::known;

/// One run that is to be made.
#[derive(Debug, Clone, PartialEq)]
pub struct StudySetting {
    /// Place along the plot, in the unit of the study's `along`.
    pub along_at: f64,
    /// Which curve or row, in the unit of the study's `across`.
    pub across_at: f64,
    /// Whether it only tells what the mould wall does, and stands on no plot.
    pub is_probe: bool,
    /// The set-up.
    pub process: Process,
}

/// The names of the two scales of a study.
#[must_use]
pub(super) fn scales(kind: StudyKind) -> (&'static str, &'static str) {
    match kind {
        StudyKind::Hold => ("hold time, in s", "hold pressure, in MPa"),
        StudyKind::Freeze => ("hold time, in s", ""),
        StudyKind::Fill => ("time of filling, in s", ""),
        StudyKind::Cooling => ("mould wall, in °C", ""),
        StudyKind::Window => ("melt, in °C", "hold pressure, in MPa"),
    }
}

/// The runs of a study; `freezes_s` is when the gate freezes in the job's own set-up, from the end of filling.
#[must_use]
pub(super) fn settings(
    given: &Given,
    kind: StudyKind,
    freezes_s: f64,
    runs_count: Option<usize>,
) -> Vec<StudySetting> {
    let base = &given.process;
    match kind {
        StudyKind::Hold => {
            let shares = evenly(Range::between(0.4, 1.3), 4);
            let times = hold_times(freezes_s, runs_count.map_or(10, |n| (n / 4).max(3)));
            let held = |share: f64, time_s: f64| {
                let process = with_time(&with_pressure(base, share), time_s);
                at(time_s, first_mpa(&process), process)
            };
            shares
                .iter()
                .flat_map(|share| times.iter().map(|t| held(*share, *t)))
                .collect()
        }
        StudyKind::Freeze => hold_times(freezes_s, runs_count.unwrap_or(18).max(4))
            .into_iter()
            .map(|t| at(t, 0.0, with_time(base, t)))
            .collect(),
        StudyKind::Fill => (0..runs_count.unwrap_or(11).max(3))
            .map(|n| {
                // From a quarter of the time to four times it, in even ratios.
                let share = 2.0 * n as f64 / (runs_count.unwrap_or(11).max(3) - 1) as f64 - 1.0;
                let fill_s = base.fill_s * 4f64.powf(share);
                at(
                    fill_s,
                    0.0,
                    Process {
                        fill_s,
                        ..base.clone()
                    },
                )
            })
            .collect(),
        StudyKind::Cooling => evenly(
            given.resin.handling.wall_degc,
            runs_count.unwrap_or(9).max(3),
        )
        .into_iter()
        .map(|wall_degc| {
            at(
                wall_degc,
                0.0,
                Process {
                    wall_degc,
                    ..base.clone()
                },
            )
        })
        .collect(),
        StudyKind::Window => window(given, runs_count.unwrap_or(63)),
    }
}

/// Melt by hold pressure, about three melts to two pressures; then two runs with another wall.
fn window(given: &Given, runs_count: usize) -> Vec<StudySetting> {
    let rows = ((runs_count as f64 * 7.0 / 9.0).sqrt().round() as usize).clamp(3, 40);
    let columns = (runs_count / rows).clamp(3, 60);
    let base = &given.process;
    let melts = evenly(given.resin.handling.melt_degc, columns);
    let shares = evenly(Range::between(0.4, 1.3), rows);
    let mut all: Vec<StudySetting> = melts
        .iter()
        .flat_map(|melt| shares.iter().map(move |share| (*melt, *share)))
        .map(|(melt_degc, share)| {
            let process = Process {
                melt_degc,
                ..with_pressure(base, share)
            };
            at(melt_degc, first_mpa(&process), process)
        })
        .collect();
    let step = known("mould_study.wall_step").value;
    all.extend([-step, step].map(|k| StudySetting {
        is_probe: true,
        ..at(
            base.melt_degc,
            first_mpa(base),
            Process {
                wall_degc: base.wall_degc + k,
                ..base.clone()
            },
        )
    }));
    all
}

fn at(along_at: f64, across_at: f64, process: Process) -> StudySetting {
    StudySetting {
        along_at,
        across_at,
        is_probe: false,
        process,
    }
}

/// So many values from one end of a range to the other.
fn evenly(range: Range, count: usize) -> Vec<f64> {
    let step = (range.high - range.low) / (count.max(2) - 1) as f64;
    (0..count.max(2))
        .map(|n| range.low + step * n as f64)
        .collect()
}

/// Times from near nothing to half as long again as the gate needs, on tenths of a second.
fn hold_times(freezes_s: f64, count: usize) -> Vec<f64> {
    let last = (1.5 * freezes_s).max(1.0);
    let step = (last / count as f64 * 10.0).ceil() / 10.0;
    // Tenths as a person writes them, without the tail of a product.
    (1..=count)
        .map(|n| (step * n as f64 * 10.0).round() / 10.0)
        .collect()
}

/// The pressure of the first step of a hold.
#[must_use]
pub(super) fn first_mpa(process: &Process) -> f64 {
    process.hold.first().map_or(0.0, |s| s.pressure_mpa)
}

/// The time of all steps of a hold.
#[must_use]
pub(super) fn hold_s(process: &Process) -> f64 {
    process.hold.iter().map(|s| s.time_s).sum()
}

/// The same set-up with every hold pressure this many times as large.
#[must_use]
pub(super) fn with_pressure(process: &Process, ratio: f64) -> Process {
    let step = |s: &HoldStep| HoldStep {
        pressure_mpa: s.pressure_mpa * ratio,
        ..*s
    };
    Process {
        hold: process.hold.iter().map(step).collect(),
        ..process.clone()
    }
}

/// The same set-up held this long: steps are cut at the end, or the last one is lengthened.
#[must_use]
pub(super) fn with_time(process: &Process, time_s: f64) -> Process {
    let mut left = time_s;
    let mut hold = Vec::new();
    for step in &process.hold {
        if left <= 0.0 {
            break;
        }
        let time_s = step.time_s.min(left);
        left -= time_s;
        hold.push(HoldStep { time_s, ..*step });
    }
    if let Some(last) = hold.last_mut() {
        last.time_s += left.max(0.0);
    }
    Process {
        hold,
        ..process.clone()
    }
}
