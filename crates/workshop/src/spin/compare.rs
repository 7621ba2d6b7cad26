//! Logs side by side: what differs, and whether that is more than the scatter.

use whirlwright_kit::describe::moments;
use whirlwright_kit::least_squares::quantiles::{normal_below, student_beyond};

use super::compare_body::{
    CompareBody, ComparedLog, ComparedPoint, ComparedValue, DifferenceLine, GroupLine, Test,
};
use super::log_curve::time_between;
use super::log_fit::{Fitted, fit_terms};
use super::log_given::{LogGiven, LogRefusal, RPM_PER_RAD_S};
use super::log_judge::{UN_M_PER_N_M, carries, in_kg_m2};
use super::log_laws::Term;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Basis, Trust, Verdict};
use crate::shelf::log_windows;

/// Logs to compare: each with the name it is a repeat of.
#[derive(Debug, Clone)]
pub struct CompareGiven {
    /// Group and log, in the order they came.
    pub logs: Vec<(String, LogGiven)>,
}

/// The law every log of a comparison is fitted with.
const LAW: [Term; 2] = [Term::Constant, Term::ThreeHalves];
/// Points that are fitted of each log.
const MOST_FITTED: usize = 20_000;

struct One<'a> {
    group: &'a str,
    given: &'a LogGiven,
    fitted: Fitted,
    end_rad_s: f64,
}

/// Compares throws or bearings by the terms of their falls and by their sleep.
///
/// Every log is fitted with the same law, a constant torque and one with the speed to the power 1.5. Sleeps are
/// reckoned between the same two speeds, so throws need not be alike. A difference is more than the scatter if
/// chance gives it in one of a hundred comparisons, all of them counted together (Bonferroni).
///
/// # Errors
/// Fewer than two logs, or one that cannot be fitted; it is named.
pub fn compare(given: &CompareGiven) -> Result<Answer<CompareBody>, LogRefusal> {
    let two = LogRefusal::NoFit {
        name: given
            .logs
            .first()
            .map_or(String::new(), |(group, _)| group.clone()),
        why: "two logs or more are wanted for a comparison".to_owned(),
    };
    if given.logs.len() < 2 {
        return Err(two);
    }
    let ones: Vec<One<'_>> = given.logs.iter().map(one).collect::<Result<_, _>>()?;
    let from = ones
        .iter()
        .map(|o| o.fitted.start_rad_s())
        .fold(f64::INFINITY, f64::min);
    let asked = ones.iter().map(|o| o.given.ends_at_rpm).fold(0.0, f64::max) / RPM_PER_RAD_S;
    let lowest = ones.iter().map(|o| o.end_rad_s).fold(0.0, f64::max);
    let ends = if asked < from { asked } else { lowest };
    if ends >= from {
        return Err(LogRefusal::NoFit {
            name: ones[0].given.log.name.clone(),
            why: "the logs have no speed in common: one begins where another ends".to_owned(),
        });
    }
    let torques_known = ones.iter().all(|o| o.given.inertia.is_some());
    let logs: Vec<ComparedLog> = ones
        .iter()
        .map(|o| compared(o, from, ends, torques_known))
        .collect::<Result<_, _>>()?;
    let groups = groups(&logs);
    let differences = differences(&logs, &groups);
    let body = CompareBody {
        from_rpm: from * RPM_PER_RAD_S,
        ends_at_rpm: ends * RPM_PER_RAD_S,
        torques_known,
        logs,
        groups,
        differences,
    };
    Ok(answer(body))
}

fn one((group, given): &(String, LogGiven)) -> Result<One<'_>, LogRefusal> {
    let log = given.log.averaged(MOST_FITTED);
    let fitted = fit_terms(&log, &LAW).map_err(|error| LogRefusal::NoFit {
        name: log.name.clone(),
        why: error.to_string(),
    })?;
    let last = [log.times_s[0], log.times_s[log.times_s.len() - 1]];
    let end_rad_s = fitted.speeds(&last).last().map_or(0.0, |(speed, _)| *speed);
    Ok(One {
        group,
        given,
        fitted,
        end_rad_s,
    })
}

fn compared(
    one: &One<'_>,
    from: f64,
    ends: f64,
    torques_known: bool,
) -> Result<ComparedLog, LogRefusal> {
    let fitted = &one.fitted;
    let name = &one.given.log.name;
    let never = || LogRefusal::NoFit {
        name: name.clone(),
        why: "its fitted losses do not bring the piece to the end of the sleep".to_owned(),
    };
    let time = |p: &[f64]| time_between(&fitted.shapes, &p[1..], from, ends);
    let (sleep_s, sleep_sd_s) = fitted.with_sd(time).ok_or_else(never)?;
    let mut values = vec![ComparedValue {
        name: "sleep".to_owned(),
        unit: "s".to_owned(),
        value: sleep_s,
        sd: sleep_sd_s,
        reported: true,
    }];
    let inertia = in_kg_m2(one.given.inertia).filter(|_| torques_known);
    for (at, term) in LAW.iter().enumerate() {
        let grown = (from / fitted.reference_rad_s).powf(term.power().unwrap_or(0.0));
        let scale = grown * inertia.map_or(1.0, |(i, _)| UN_M_PER_N_M * i);
        values.push(ComparedValue {
            name: term.words().to_owned(),
            unit: if inertia.is_some() {
                "µN·m"
            } else {
                "rad/s²"
            }
            .to_owned(),
            value: scale * fitted.theta()[at],
            sd: scale * fitted.fit.sd(at + 1),
            reported: carries(fitted, at),
        });
    }
    Ok(ComparedLog {
        group: one.group.to_owned(),
        log: name.clone(),
        start_rpm: fitted.start_rad_s() * RPM_PER_RAD_S,
        end_rpm: one.end_rad_s * RPM_PER_RAD_S,
        values,
        curve: curve(fitted, from),
    })
}

fn curve(fitted: &Fitted, from: f64) -> Vec<ComparedPoint> {
    const POINTS: u32 = 100;
    let late =
        time_between(&fitted.shapes, fitted.theta(), fitted.start_rad_s(), from).unwrap_or(0.0);
    let times: Vec<f64> = (0..=POINTS)
        .map(|n| fitted.first_s + fitted.span_s * f64::from(n) / f64::from(POINTS))
        .collect();
    let speeds = fitted.speeds(&times);
    let point = |(time_s, (speed, _)): (&f64, (f64, f64))| ComparedPoint {
        time_s: time_s - fitted.first_s - late,
        speed_rpm: speed * RPM_PER_RAD_S,
    };
    times.iter().zip(speeds).map(point).collect()
}

/// Values of one name in one group that are reported.
fn of<'a>(logs: &'a [ComparedLog], group: &'a str, name: &'a str) -> Vec<&'a ComparedValue> {
    logs.iter()
        .filter(|log| log.group == group)
        .flat_map(|log| &log.values)
        .filter(|value| value.name == name && value.reported)
        .collect()
}

fn groups(logs: &[ComparedLog]) -> Vec<GroupLine> {
    let mut lines: Vec<GroupLine> = Vec::new();
    for log in logs {
        if lines.iter().any(|line| line.group == log.group) {
            continue;
        }
        for value in &log.values {
            let values: Vec<f64> = of(logs, &log.group, &value.name)
                .iter()
                .map(|v| v.value)
                .collect();
            let Some(found) = moments(&values) else {
                continue;
            };
            lines.push(GroupLine {
                group: log.group.clone(),
                name: value.name.clone(),
                unit: value.unit.clone(),
                logs: found.count,
                mean: found.mean,
                sd: found.sd,
            });
        }
    }
    lines
}

fn differences(logs: &[ComparedLog], groups: &[GroupLine]) -> Vec<DifferenceLine> {
    let first = &logs[0].group;
    let pairs: Vec<(&GroupLine, &GroupLine)> = groups
        .iter()
        .filter(|line| line.group != *first)
        .filter_map(|line| {
            let against = groups
                .iter()
                .find(|g| g.group == *first && g.name == line.name)?;
            Some((against, line))
        })
        .collect();
    let count = pairs.len() as f64;
    pairs
        .iter()
        .map(|(a, b)| difference(logs, groups, a, b, count))
        .collect()
}

/// Standard deviation of the mean of a group's values as their fits have it.
fn fit_sd(values: &[&ComparedValue]) -> f64 {
    let squares: f64 = values.iter().map(|v| v.sd * v.sd).sum();
    squares.sqrt() / values.len() as f64
}

/// Scatter of the repeats of all groups together, and its degrees of freedom.
fn pooled(groups: &[GroupLine], name: &str) -> (f64, f64) {
    let (mut squares, mut freedom) = (0.0, 0.0);
    for line in groups.iter().filter(|line| line.name == name) {
        if let Some(sd) = line.sd {
            let own = line.logs as f64 - 1.0;
            squares += own * sd * sd;
            freedom += own;
        }
    }
    (
        if freedom > 0.0 {
            (squares / freedom).sqrt()
        } else {
            0.0
        },
        freedom,
    )
}

fn difference(
    logs: &[ComparedLog],
    groups: &[GroupLine],
    a: &GroupLine,
    b: &GroupLine,
    comparisons: f64,
) -> DifferenceLine {
    let offset = b.mean - a.mean;
    let [fit_a, fit_b] = [a, b].map(|line| fit_sd(&of(logs, &line.group, &line.name)));
    let of_fits = fit_a.hypot(fit_b);
    let (na, nb) = (a.logs as f64, b.logs as f64);
    let (pooled_sd, freedom) = pooled(groups, &a.name);
    // Repeats that agree better than their own fits allow do so by luck.
    let (test, sd, chance) = match (a.sd, b.sd) {
        (Some(sa), Some(sb)) => {
            let (va, vb) = (sa * sa / na, sb * sb / nb);
            let freedom = (va + vb).powi(2) / (va * va / (na - 1.0) + vb * vb / (nb - 1.0));
            let sd = (va + vb).sqrt().max(of_fits);
            (
                Test::Welch,
                sd,
                student_beyond(offset / sd, freedom.max(1.0)),
            )
        }
        _ if freedom > 0.0 => {
            let sd = (pooled_sd * (1.0 / na + 1.0 / nb).sqrt()).max(of_fits);
            (Test::Pooled, sd, student_beyond(offset / sd, freedom))
        }
        _ => (
            Test::FitOnly,
            of_fits,
            2.0 * normal_below(-(offset / of_fits).abs()),
        ),
    };
    let probability = (chance * comparisons).min(1.0);
    let more_than_scatter = probability < log_windows().chance_probability.number;
    DifferenceLine {
        words: words(a, b, offset, sd, test, more_than_scatter),
        first: a.group.clone(),
        second: b.group.clone(),
        name: a.name.clone(),
        unit: a.unit.clone(),
        difference_offset: offset,
        sd,
        test,
        probability,
        more_than_scatter,
    }
}

fn words(a: &GroupLine, b: &GroupLine, offset: f64, sd: f64, test: Test, more: bool) -> String {
    let judged = match (test, more) {
        (Test::FitOnly, true) => {
            "more than the readings' noise; with one throw each nothing says how far throws differ by themselves"
        }
        (Test::FitOnly, false) => "no more than the readings' noise",
        (_, true) => "more than the scatter of the repeats",
        (_, false) => "no more than the scatter of the repeats",
    };
    format!(
        "{} of {} less {}: {offset:+.3} ± {sd:.3} {}, {judged}",
        a.name, b.group, a.group, a.unit
    )
}

fn answer(body: CompareBody) -> Answer<CompareBody> {
    let lone = body.differences.iter().any(|d| d.test == Test::FitOnly);
    let sleep = body.differences.iter().filter(|d| d.name == "sleep");
    let said: Vec<String> = sleep.clone().map(|d| d.words.clone()).collect();
    let headline = if said.is_empty() {
        format!(
            "{} repeats of one thing; there is nothing to set against it.",
            body.logs.len()
        )
    } else {
        format!(
            "From {:.0} to {:.0} rpm: {}.",
            body.from_rpm,
            body.ends_at_rpm,
            said.join("; ")
        )
    };
    let least = sleep.map(|d| d.probability).fold(1.0, f64::min);
    let mut next = Vec::new();
    if lone || said.is_empty() {
        next.push("throw each at least three times: only repeats tell what scatter is".to_owned());
    }
    for difference in body
        .differences
        .iter()
        .filter(|d| d.more_than_scatter && d.name != "sleep")
    {
        next.push(format!("what differs: {}", difference.words));
    }
    if next.is_empty() {
        next.push("keep what is simpler: the difference does not show".to_owned());
    }
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "spin compare".to_owned(),
        verdict: if lone || said.is_empty() { Verdict::Look } else { Verdict::Good },
        headline,
        decided_by: format!("the likeliest difference of sleep comes by chance with probability {least:.2e}"),
        trust: vec![
            Trust {
                number: "differences".to_owned(),
                basis: Basis::Computed,
                why: "Welch's test where both have repeats, the pooled scatter where others have them, else the fits' own \
                      uncertainty; the probability is for all comparisons together"
                    .to_owned(),
            },
            Trust {
                number: "sleep".to_owned(),
                basis: Basis::Computed,
                why: "of the fitted law, between the same two speeds for all; below a log's last speed it is carried on"
                    .to_owned(),
            },
        ],
        cautions: super::log_words::cautions(),
        next,
        body,
    }
}
