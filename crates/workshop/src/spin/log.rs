//! The fit of a log as one answer.

use super::log_body::{LogBody, LogCurvePoint, LogPoint};
use super::log_design::against;
use super::log_fit::{Fitted, fit_terms};
use super::log_given::{LogGiven, LogRefusal, RPM_PER_RAD_S};
use super::log_judge as judge;
use super::log_laws::Term;
use super::log_words as words;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, SpinLog};

/// The most points that are fitted: a longer log is averaged first, which loses nothing that shows.
const MOST_FITTED: usize = 20_000;
/// The points on which other laws are tried, and which the picture shows.
const MOST_TRIED: usize = 1000;
const MOST_SHOWN: usize = 240;

/// Scatter below this share of the first speed is the rounding of our own sums, and asks for no other law.
const FINEST_SHARE: f64 = 1e-8;

/// Fits the loss laws to a measured decay and says how far to trust them.
///
/// - **The law:** `dω/dt = −(a + c ω^1.5)`; a term with `ω` or `ω²` is tried beside it, and taken in only if the log
///   both needs it and tells it apart.
/// - **Method:** least squares on the speeds, the fall integrated to some parts in 10¹⁰, analytic derivatives;
///   uncertainties from the scatter of the residuals, or from the one given with the log.
/// - **Cost:** some milliseconds for 10,000 readings; longer logs than 20,000 are averaged first.
///
/// # Errors
/// A log that no law of this kind can follow.
pub fn fit_log(given: &LogGiven) -> Result<Answer<LogBody>, LogRefusal> {
    let log = given.log.averaged(MOST_FITTED);
    let no_fit = |why: String| LogRefusal::NoFit {
        name: log.name.clone(),
        why,
    };
    let mut fitted = fit_terms(&log, &[Term::Constant, Term::ThreeHalves])
        .map_err(|error| no_fit(error.to_string()))?;
    let short = log.averaged(MOST_TRIED);
    let short_base = if short.times_s.len() == log.times_s.len() {
        None
    } else {
        fit_terms(&short, &fitted.terms).ok()
    };
    let mut tried = Vec::new();
    let mut richer: Option<(f64, Vec<Term>)> = None;
    for added in [Term::Linear, Term::Square] {
        let (line, found) = judge::tried(&short, short_base.as_ref().unwrap_or(&fitted), added);
        let needed = line.told_apart
            && shown_scatter(&fitted) > FINEST_SHARE * fitted.start_rad_s()
            && line.probability < crate::shelf::log_windows().chance_probability.number;
        if let Some(found) = found.filter(|_| needed)
            && richer
                .as_ref()
                .is_none_or(|(least, _)| found.fit.sum_of_squares < *least)
        {
            richer = Some((found.fit.sum_of_squares, found.terms));
        }
        tried.push(line);
    }
    if let Some((_, terms)) = richer {
        fitted = fit_terms(&log, &terms).map_err(|error| no_fit(error.to_string()))?;
    }
    let body = body(given, &log, &fitted, tried).ok_or_else(|| {
        no_fit("the fitted losses do not bring the piece to the end of its sleep".to_owned())
    })?;
    let (verdict, decided_by) = words::verdict(&body);
    Ok(Answer {
        whirlwright: ANSWER_FORMAT,
        station: "spin log".to_owned(),
        verdict,
        headline: words::headline(&body),
        decided_by,
        trust: words::trust(given, &body),
        cautions: words::cautions(),
        next: words::next(&body),
        body,
    })
}

fn body(
    given: &LogGiven,
    log: &SpinLog,
    fitted: &Fitted,
    tried: Vec<super::log_body::TriedLine>,
) -> Option<LogBody> {
    let n = log.times_s.len();
    let start = fitted.start_rad_s();
    let ends = fitted.speeds(&[log.times_s[0], log.times_s[n - 1]]);
    let end = ends.last()?.0;
    let asked = given.ends_at_rpm / RPM_PER_RAD_S;
    // A log that begins below the end of the sleep is followed to its own end.
    let ends_at = if asked < start { asked } else { end };
    let (sleep_s, sleep_sd_s) = fitted.sleep_s(ends_at)?;
    let worth = judge::worth(fitted, ends_at);
    let runs = judge::runs_line(&fitted.fit.scaled)
        .filter(|_| shown_scatter(fitted) > FINEST_SHARE * start);
    Some(LogBody {
        log: log.name.clone(),
        from: log.from,
        readings: log.readings,
        fitted: n,
        repairs: repairs(given, n),
        length_s: fitted.span_s,
        start_rpm: start * RPM_PER_RAD_S,
        start_sd_rpm: fitted.fit.sd(0) * RPM_PER_RAD_S,
        end_rpm: end * RPM_PER_RAD_S,
        speed_ratio: start / end,
        scatter_rpm: shown_scatter(fitted) * RPM_PER_RAD_S,
        scatter_ratio: log.speed_sd_rad_s.map(|sd| shown_scatter(fitted) / sd),
        law: judge::law_words(&fitted.terms),
        terms: judge::term_lines(fitted, given.inertia),
        correlations: judge::correlation_lines(fitted),
        slowing: judge::best_known(fitted, end, given.inertia),
        runs,
        tried,
        advice: judge::advice(fitted, log),
        ends_at_rpm: ends_at * RPM_PER_RAD_S,
        sleep_s,
        sleep_sd_s,
        extrapolated: ends_at < end,
        worth,
        design: against(given, log, fitted),
        points: points(log, fitted),
        curve: curve(log, fitted),
    })
}

/// What the residuals themselves show, whatever uncertainty was given.
fn shown_scatter(fitted: &Fitted) -> f64 {
    (fitted.fit.sum_of_squares / fitted.fit.degrees_of_freedom as f64).sqrt()
}

fn repairs(given: &LogGiven, fitted: usize) -> Vec<String> {
    let mut repairs = given.log.repairs.clone();
    let held = given.log.times_s.len();
    if fitted < held {
        repairs.push(format!("{held} readings averaged to {fitted} for the fit"));
    }
    repairs
}

fn points(log: &SpinLog, fitted: &Fitted) -> Vec<LogPoint> {
    let short = log.averaged(MOST_SHOWN);
    let speeds = fitted.speeds(&short.times_s);
    let point = |(at, (speed, _)): (usize, &(f64, f64))| {
        let (read, curve) = (
            short.speeds_rad_s[at] * RPM_PER_RAD_S,
            speed * RPM_PER_RAD_S,
        );
        LogPoint {
            time_s: short.times_s[at],
            speed_rpm: read,
            fitted_rpm: curve,
            residual_rpm: read - curve,
        }
    };
    speeds.iter().enumerate().map(point).collect()
}

fn curve(log: &SpinLog, fitted: &Fitted) -> Vec<LogCurvePoint> {
    const POINTS: u32 = 120;
    let first = log.times_s[0];
    let times: Vec<f64> = (0..=POINTS)
        .map(|n| first + fitted.span_s * f64::from(n) / f64::from(POINTS))
        .collect();
    let speeds = fitted.speeds(&times);
    let point = |(time_s, (speed, sd)): (&f64, (f64, f64))| LogCurvePoint {
        time_s: *time_s,
        speed_rpm: speed * RPM_PER_RAD_S,
        sd_rpm: sd * RPM_PER_RAD_S,
    };
    times.iter().zip(speeds).map(point).collect()
}
