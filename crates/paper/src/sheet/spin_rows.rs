//! The numbers of what was measured of a spin, as labels and values for a sheet or a page.

use whirlwright_workshop::spin::recording::RecordingBody;
use whirlwright_workshop::spin::{CompareBody, LogBody, TrayBody};

use crate::rounding;

type Rows = Vec<(String, String)>;

fn row(label: &str, value: String) -> (String, String) {
    (label.to_owned(), value)
}

/// The numbers of a fitted log.
#[must_use]
pub fn spin_log_rows(body: &LogBody) -> Rows {
    let rpm = |value: f64| rounding::places(value, 0, "rpm");
    let mut rows = vec![
        row("law", body.law.clone()),
        row(
            "speeds",
            format!(
                "{} to {} in {}",
                rpm(body.start_rpm),
                rpm(body.end_rpm),
                rounding::places(body.length_s, 0, "s")
            ),
        ),
        row(
            "sleep",
            format!(
                "{} down to {}{}",
                rounding::with_uncertainty(body.sleep_s, body.sleep_sd_s, "s"),
                rpm(body.ends_at_rpm),
                if body.extrapolated {
                    ", carried on beyond the log"
                } else {
                    ""
                }
            ),
        ),
        row(
            "readings",
            format!(
                "{}, of which {} points were fitted; scatter {}",
                body.readings,
                body.fitted,
                rounding::figures(body.scatter_rpm, 2, "rpm")
            ),
        ),
    ];
    for term in &body.terms {
        rows.push(row(&term.name, term.words.clone()));
    }
    for worth in &body.worth {
        let value =
            rounding::with_uncertainty(worth.half_is_worth_s, worth.half_is_worth_sd_s, "s");
        rows.push(row(
            &format!("half of: {}", worth.name),
            format!("is worth {value} of sleep"),
        ));
    }
    if let Some(runs) = &body.runs {
        rows.push(row("residuals", runs.words.clone()));
    }
    rows.extend(
        body.tried
            .iter()
            .map(|tried| row("also tried", format!("{}: {}", tried.law, tried.words))),
    );
    rows.extend(
        body.advice
            .iter()
            .map(|advice| row("to know it better", advice.words.clone())),
    );
    if let Some(design) = &body.design {
        rows.push(row("against the design", design.words.clone()));
        for factor in design.factors.iter().filter(|factor| factor.reported) {
            let value = rounding::with_uncertainty(factor.factor, factor.factor_sd, "");
            rows.push(row(&factor.name, format!("{value} times the design's law")));
        }
        if let Some(sleep) = design.predicted_sleep_s {
            let [low, likely, high] =
                [sleep.low, sleep.likely, sleep.high].map(|s| rounding::places(s, 0, "s"));
            rows.push(row(
                "foretold from there",
                format!("{likely} ({low} to {high})"),
            ));
        }
    }
    rows.extend(
        body.repairs
            .iter()
            .map(|repair| row("mended or noted", repair.clone())),
    );
    rows
}

/// The numbers of a comparison.
#[must_use]
pub fn compare_rows(body: &CompareBody) -> Rows {
    let between = format!(
        "{} to {}",
        rounding::places(body.from_rpm, 0, "rpm"),
        rounding::places(body.ends_at_rpm, 0, "rpm")
    );
    let mut rows = vec![row("sleeps reckoned", between)];
    for line in &body.groups {
        let value = match line.sd {
            Some(sd) => rounding::with_uncertainty(line.mean, sd, &line.unit),
            None => rounding::figures(line.mean, 3, &line.unit),
        };
        let logs = rounding::count(line.logs, "log", "logs");
        rows.push(row(&line.group, format!("{}: {value} ({logs})", line.name)));
    }
    rows.extend(
        body.differences
            .iter()
            .map(|d| row("difference", d.words.clone())),
    );
    rows
}

/// The numbers of a tray.
#[must_use]
pub fn tray_rows(body: &TrayBody) -> Rows {
    let un_m = |value: f64| rounding::places(value, 0, "µN·m");
    let mut rows = vec![
        row(
            "clean",
            format!("{}, up to {}", body.clean, un_m(body.clean_at_most_un_m)),
        ),
        row(
            "to look at",
            format!("{}, up to {}", body.look, un_m(body.look_at_most_un_m)),
        ),
        row("to be washed", body.clean_it.to_string()),
    ];
    if let Some(air) = body.air_un_m {
        rows.push(row(
            "air of the disc",
            format!("{} taken off", rounding::figures(air, 2, "µN·m")),
        ));
    }
    rows.extend(
        body.bearings
            .iter()
            .map(|line| row(&line.name, line.words.clone())),
    );
    rows
}

/// The numbers of a recording.
#[must_use]
pub fn recording_rows(body: &RecordingBody) -> Rows {
    let rpm = |value: f64| rounding::places(value, 0, "rpm");
    let mut rows = vec![
        row(
            "speeds",
            format!(
                "{} at {} to {} at {}; sd of a speed {}",
                rpm(body.begin_speed_rpm),
                rounding::places(body.begin_s, 1, "s"),
                rpm(body.end_speed_rpm),
                rounding::places(body.end_s, 1, "s"),
                rounding::figures(body.speed_sd_rpm, 2, "rpm")
            ),
        ),
        row(
            "pulses",
            format!(
                "{} used, {} missed, {} doubled",
                body.repairs.pulse_count, body.repairs.missed_count, body.repairs.doubled_count
            ),
        ),
    ];
    if let Some(eccentricity) = body.eccentricity_um {
        let sd = body.eccentricity_um_sd.unwrap_or(0.0);
        rows.push(row(
            "eccentricity",
            rounding::with_uncertainty(eccentricity, sd, "µm"),
        ));
    }
    if let Some(angle) = body.angle_deg {
        let sd = body.angle_deg_sd.unwrap_or(0.0);
        rows.push(row(
            "its angle",
            format!(
                "{} from the mark",
                rounding::with_uncertainty(angle, sd, "°")
            ),
        ));
    }
    for order in &body.orders {
        let level = match order.amplitude_m_per_s2 {
            Some(amplitude) => rounding::figures(amplitude, 3, "m/s²"),
            None => format!(
                "{} of full scale",
                rounding::figures(100.0 * order.amplitude_fraction, 2, "%")
            ),
        };
        let found = if order.found {
            level
        } else {
            "not above the noise".to_owned()
        };
        rows.push(row(
            &order.name,
            format!("order {}: {found}", rounding::figures(order.order, 4, "")),
        ));
    }
    rows.extend(
        body.remarks
            .iter()
            .map(|remark| row("noted", remark.clone())),
    );
    rows
}
