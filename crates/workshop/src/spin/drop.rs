//! A tray of bearings, each spun by finger with a known flywheel or alone, sorted by how freely it turns.

use serde::{Deserialize, Serialize};
use whirlwright_kit::describe::{median, robust};

use super::log_curve::time_between;
use super::log_fit::{Fitted, fit_terms};
use super::log_given::{LogRefusal, RPM_PER_RAD_S};
use super::log_judge::{UN_M_PER_N_M, carries, in_kg_m2};
use super::log_laws::Term;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Basis, SpinLog, Trust, Verdict};
use crate::shelf::log_windows;

/// One bearing of the tray.
#[derive(Debug, Clone, PartialEq)]
pub struct TrayBearing {
    /// Its place or mark.
    pub name: String,
    /// What was measured of it.
    pub reading: TrayReading,
}

/// How a bearing was tried.
#[derive(Debug, Clone, PartialEq)]
pub enum TrayReading {
    /// The log of its run-down with the flywheel.
    Log(SpinLog),
    /// How long it spun alone, flicked by finger, by a stopwatch, in s.
    FreeSpin(f64),
}

/// The tray, and the flywheel's polar inertia with its standard deviation in g·mm², where one was used.
#[derive(Debug, Clone, PartialEq)]
pub struct TrayGiven {
    /// The bearings in the order of the tray.
    pub bearings: Vec<TrayBearing>,
    /// Polar inertia of the flywheel and its standard deviation, g·mm².
    pub flywheel_g_mm2: Option<(f64, f64)>,
}

/// Which tray a bearing goes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TrayClass {
    /// Use it.
    Clean,
    /// Look at it, try it again.
    Look,
    /// Wash it.
    CleanIt,
}

/// The sorted tray.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrayBody {
    /// How many are clean.
    pub clean: usize,
    /// How many to look at.
    pub look: usize,
    /// How many to clean.
    pub clean_it: usize,
    /// The speeds between which torques were taken, the faster first; none where only times were.
    pub between_rpm: Option<(f64, f64)>,
    /// Torque up to which a bearing is clean.
    pub clean_at_most_un_m: f64,
    /// Torque above which it is to be cleaned.
    pub look_at_most_un_m: f64,
    /// Air drag of the flywheel that was taken off, where the logs showed it.
    pub air_un_m: Option<f64>,
    /// The bearings, freest first.
    pub bearings: Vec<TrayLine>,
}

/// One bearing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrayLine {
    /// Its place or mark.
    pub name: String,
    /// Where it goes.
    pub class: TrayClass,
    /// Its mean torque, where a flywheel was used.
    pub torque_un_m: Option<f64>,
    /// Standard deviation of that.
    pub torque_sd_un_m: Option<f64>,
    /// How long it spun alone, where that was timed.
    pub free_spin_s: Option<f64>,
    /// Whether it stands apart from the tray.
    pub outlier: bool,
    /// Why, in words.
    pub words: String,
}

/// A fitted run-down.
struct Run<'a> {
    name: &'a str,
    fitted: Fitted,
    end: f64,
}

/// Sorts a tray of bearings into clean, look and clean it.
///
/// With a flywheel: the mean torque of each bearing between two speeds that every run passes,
/// `I (ω₁ − ω₂)/(t₂ − t₁)` on the fitted curve, less the flywheel's air where three runs or more show it. The trade's
/// finger test calls 3 s clean and 1 s dirty; the time goes with one over the torque, so the same ratio parts the
/// classes. A torque within two standard deviations of a limit goes to the more careful class.
///
/// # Errors
/// An empty tray, runs without the flywheel's inertia, a run that cannot be fitted or that passes no speed all others pass.
pub fn sort_bearings(given: &TrayGiven) -> Result<Answer<TrayBody>, LogRefusal> {
    if given.bearings.is_empty() {
        return Err(refusal(
            "tray",
            "it is empty: at least one bearing is wanted",
        ));
    }
    let runs = runs(given)?;
    let between = common(&runs)?;
    let windows = log_windows();
    let clean_at_most_un_m = windows.clean_torque_un_m.number;
    let look_at_most_un_m =
        clean_at_most_un_m * windows.clean_spin_s.number / windows.dirty_spin_s.number;
    let (mut lines, air_un_m) = match between {
        Some(between) => torques(given, &runs, between)?,
        None => (Vec::new(), None),
    };
    for bearing in &given.bearings {
        if let TrayReading::FreeSpin(time_s) = bearing.reading {
            lines.push(timed(&bearing.name, time_s)?);
        }
    }
    mark_outliers(&mut lines);
    lines.sort_by(|a, b| {
        a.class
            .cmp(&b.class)
            .then(freedom(b).total_cmp(&freedom(a)))
    });
    let count = |class| lines.iter().filter(|line| line.class == class).count();
    let body = TrayBody {
        clean: count(TrayClass::Clean),
        look: count(TrayClass::Look),
        clean_it: count(TrayClass::CleanIt),
        between_rpm: between.map(|(from, to)| (from * RPM_PER_RAD_S, to * RPM_PER_RAD_S)),
        clean_at_most_un_m,
        look_at_most_un_m,
        air_un_m,
        bearings: lines,
    };
    Ok(answer(body))
}

fn refusal(name: &str, why: &str) -> LogRefusal {
    LogRefusal::NoFit {
        name: name.to_owned(),
        why: why.to_owned(),
    }
}

fn runs(given: &TrayGiven) -> Result<Vec<Run<'_>>, LogRefusal> {
    let mut runs = Vec::new();
    for bearing in &given.bearings {
        let TrayReading::Log(log) = &bearing.reading else {
            continue;
        };
        let log = log.averaged(5000);
        let fitted = fit_terms(&log, &[Term::Constant, Term::ThreeHalves])
            .or_else(|_| fit_terms(&log, &[Term::Constant]))
            .map_err(|error| refusal(&bearing.name, &error.to_string()))?;
        let last = [log.times_s[0], log.times_s[log.times_s.len() - 1]];
        let end = fitted.speeds(&last).last().map_or(0.0, |(speed, _)| *speed);
        runs.push(Run {
            name: &bearing.name,
            fitted,
            end,
        });
    }
    if !runs.is_empty()
        && given
            .flywheel_g_mm2
            .is_none_or(|(i, _)| !(i.is_finite() && i > 0.0))
    {
        return Err(refusal(
            runs[0].name,
            "a run-down gives a torque only with the flywheel's polar inertia: say it in g·mm²",
        ));
    }
    Ok(runs)
}

/// Two speeds that every run passes; none without runs.
fn common(runs: &[Run<'_>]) -> Result<Option<(f64, f64)>, LogRefusal> {
    let Some(slowest) = runs
        .iter()
        .min_by(|a, b| a.fitted.start_rad_s().total_cmp(&b.fitted.start_rad_s()))
    else {
        return Ok(None);
    };
    let from = slowest.fitted.start_rad_s();
    let to = runs.iter().map(|run| run.end).fold(0.0, f64::max);
    // Less than a twentieth of fall in common is no basis.
    if to > 0.95 * from {
        return Err(refusal(
            slowest.name,
            "it starts no faster than another run ends: flick it harder, or log the others longer",
        ));
    }
    Ok(Some((from, to)))
}

fn torques(
    given: &TrayGiven,
    runs: &[Run<'_>],
    (from, to): (f64, f64),
) -> Result<(Vec<TrayLine>, Option<f64>), LogRefusal> {
    let Some((inertia, inertia_sd)) = in_kg_m2(given.flywheel_g_mm2) else {
        return Ok((Vec::new(), None));
    };
    let air_un_m = air(runs, from, to).map(|slowing| UN_M_PER_N_M * inertia * slowing);
    let mut lines = Vec::new();
    for run in runs {
        let mean = |p: &[f64]| {
            let time = time_between(&run.fitted.shapes, &p[1..], from, to)?;
            Some((from - to) / time)
        };
        let (slowing, sd) = run.fitted.with_sd(mean).ok_or_else(|| {
            refusal(
                run.name,
                "its fitted losses do not bring it to the common speed",
            )
        })?;
        let whole = UN_M_PER_N_M * inertia * slowing;
        let torque = whole - air_un_m.unwrap_or(0.0);
        let torque_sd = whole * (sd / slowing).hypot(inertia_sd / inertia);
        lines.push(sorted(run.name, torque, torque_sd));
    }
    Ok((lines, air_un_m))
}

/// Mean slowing of the flywheel's air between the speeds: the median of the runs that show it, if three do.
fn air(runs: &[Run<'_>], from: f64, to: f64) -> Option<f64> {
    let shown: Vec<f64> = runs
        .iter()
        .filter(|run| run.fitted.terms.len() > 1 && carries(&run.fitted, 1))
        .map(|run| {
            let theta = run.fitted.theta()[1];
            // The speed's mean over the fall stands for its mean over the time: both ends are near.
            let middle = 0.5 * (from + to);
            theta * (middle / run.fitted.reference_rad_s).powf(1.5)
        })
        .collect();
    if shown.len() < 3 {
        None
    } else {
        median(&shown)
    }
}

fn sorted(name: &str, torque: f64, sd: f64) -> TrayLine {
    let windows = log_windows();
    let clean = windows.clean_torque_un_m.number;
    let look = clean * windows.clean_spin_s.number / windows.dirty_spin_s.number;
    let class = if torque + 2.0 * sd <= clean {
        TrayClass::Clean
    } else if torque - 2.0 * sd > look {
        TrayClass::CleanIt
    } else {
        TrayClass::Look
    };
    let words = match class {
        TrayClass::Clean => format!("holds back with {torque:.1} µN·m: clean"),
        TrayClass::Look => format!("holds back with {torque:.1} µN·m: look at it and try it again"),
        TrayClass::CleanIt => {
            format!("holds back with {torque:.1} µN·m, more than {look:.0}: clean it")
        }
    };
    TrayLine {
        name: name.to_owned(),
        class,
        torque_un_m: Some(torque),
        torque_sd_un_m: Some(sd),
        free_spin_s: None,
        outlier: false,
        words,
    }
}

fn timed(name: &str, time_s: f64) -> Result<TrayLine, LogRefusal> {
    if !(time_s.is_finite() && time_s >= 0.0) {
        return Err(refusal(
            name,
            "its time is no number of seconds from 0 upwards",
        ));
    }
    let windows = log_windows();
    let (clean, dirty) = (windows.clean_spin_s.number, windows.dirty_spin_s.number);
    let (class, words) = if time_s >= clean {
        (TrayClass::Clean, format!("spins {time_s} s: clean"))
    } else if time_s >= dirty {
        (
            TrayClass::Look,
            format!("spins {time_s} s, less than {clean}: look at it and try it again"),
        )
    } else {
        (
            TrayClass::CleanIt,
            format!("spins {time_s} s, less than {dirty}: clean it"),
        )
    };
    Ok(TrayLine {
        name: name.to_owned(),
        class,
        torque_un_m: None,
        torque_sd_un_m: None,
        free_spin_s: Some(time_s),
        outlier: false,
        words,
    })
}

/// How freely a bearing turns, for an order: a time, or one over a torque.
fn freedom(line: &TrayLine) -> f64 {
    line.free_spin_s
        .or(line.torque_un_m.map(|torque| 1.0 / torque.max(1e-6)))
        .unwrap_or(0.0)
}

/// Bearings that stand apart: 3.5 robust deviations of the logarithm, in a tray of at least eight of one kind of
/// reading; one that is far stiffer than the rest is looked at, whatever its torque. (The limit of Iglewicz and Hoaglin, from memory.)
fn mark_outliers(lines: &mut [TrayLine]) {
    const LEAST: usize = 8;
    const FAR: f64 = 3.5;
    // A spread below a fiftieth is finer than such a test is.
    const FLOOR: f64 = 0.02;
    for by_time in [false, true] {
        let kind = |line: &TrayLine| line.free_spin_s.is_some() == by_time;
        let logs: Vec<f64> = lines
            .iter()
            .filter(|l| kind(l))
            .map(|l| freedom(l).max(1e-12).ln())
            .collect();
        let Some((middle, spread)) = robust(&logs).filter(|_| logs.len() >= LEAST) else {
            continue;
        };
        for line in lines.iter_mut().filter(|l| kind(l)) {
            let away = (freedom(line).max(1e-12).ln() - middle) / spread.max(FLOOR);
            if away.abs() > FAR {
                line.outlier = true;
                if away < 0.0 && line.class == TrayClass::Clean {
                    // Inside the limits, yet something is wrong with it.
                    line.class = TrayClass::Look;
                }
                line.words.push_str(if away > 0.0 {
                    "; far freer than the tray: is a shield or the cage missing?"
                } else {
                    "; far stiffer than the tray: dirt, dried oil, or a bent ring"
                });
            }
        }
    }
}

fn answer(body: TrayBody) -> Answer<TrayBody> {
    let all = body.bearings.len();
    let verdict = if body.clean == all {
        Verdict::Good
    } else if body.clean_it == 0 {
        Verdict::Look
    } else {
        Verdict::Stop
    };
    let named = |class: TrayClass| {
        let names = body
            .bearings
            .iter()
            .filter(|b| b.class == class)
            .map(|b| b.name.as_str());
        names.collect::<Vec<_>>().join(", ")
    };
    let mut next = Vec::new();
    if body.clean_it > 0 {
        next.push(format!("wash and try again: {}", named(TrayClass::CleanIt)));
    }
    if body.look > 0 {
        next.push(format!("look at and try again: {}", named(TrayClass::Look)));
    }
    for line in body.bearings.iter().filter(|b| b.outlier) {
        next.push(format!("{} {}", line.name, line.words));
    }
    if next.is_empty() {
        next.push("use them".to_owned());
    }
    let worst = body
        .bearings
        .last()
        .map_or(String::new(), |b| format!("{} {}", b.name, b.words));
    let basis = log_windows();
    let trust = vec![
        Trust {
            number: "class".to_owned(),
            basis: Basis::Assumed,
            why: format!(
                "{}, {}; torque limits follow from {}, {}",
                basis.clean_spin_s.note,
                basis.clean_spin_s.whence(),
                basis.clean_torque_un_m.note,
                basis.clean_torque_un_m.whence()
            ),
        },
        Trust {
            number: "torque_un_m".to_owned(),
            basis: Basis::Computed,
            why: match body.air_un_m {
                Some(air) => format!(
                    "mean torque of the fitted run, less {air:.1} µN·m of air at the flywheel"
                ),
                None => "mean torque of the fitted run, the flywheel's air counted in".to_owned(),
            },
        },
    ];
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "spin tray".to_owned(),
        verdict,
        headline: format!(
            "Of {all} bearings {} are clean, {} to look at, {} to clean.",
            body.clean, body.look, body.clean_it
        ),
        decided_by: worst,
        trust,
        cautions: vec![
            "Solvents for washing bearings burn: ventilate, keep sparks away, wear gloves; blow dry without letting the \
             air spin the bearing, for it can burst its cage and throw balls."
                .to_owned(),
        ],
        next,
        body,
    }
}
