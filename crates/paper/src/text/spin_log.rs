//! A log of a spin-down, logs side by side, and a tray of bearings, in the terminal.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::{CompareBody, LogBody, TermLine, TrayBody, TrayClass};

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// What a log says of the losses, and what it cannot say.
#[must_use]
pub fn spin_log(answer: &Answer<LogBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    fall(&mut page, body);
    terms(&mut page, body);
    worth(&mut page, body);
    cannot(&mut page, body);
    if let Some(design) = &body.design {
        page.heading("Against the design");
        page.point(&design.words);
        if let Some(sleep) = design.predicted_sleep_s {
            page.point(&format!(
                "predicted sleep {} ({} to {}); by the log {}",
                rounding::places(sleep.likely, 0, "s"),
                rounding::places(sleep.low, 0, ""),
                rounding::places(sleep.high, 0, "s"),
                rounding::places(body.sleep_s, 0, "s")
            ));
        }
    }
    if !body.repairs.is_empty() {
        page.heading("What was mended");
        for repair in &body.repairs {
            page.point(repair);
        }
    }
    page.end(answer)
}

fn fall(page: &mut Page, body: &LogBody) {
    page.heading(&format!("Log {}", body.log));
    page.row(
        "readings",
        &format!(
            "{} over {}, scatter {}",
            body.readings,
            rounding::places(body.length_s, 0, "s"),
            rounding::figures(body.scatter_rpm, 2, "rpm")
        ),
    );
    page.row(
        "speed",
        &format!(
            "{} to {}, {} to 1",
            rounding::places(body.start_rpm, 0, "rpm"),
            rounding::places(body.end_rpm, 0, "rpm"),
            rounding::number(body.speed_ratio, 2)
        ),
    );
    let beyond = if body.extrapolated {
        ", beyond the last reading"
    } else {
        ""
    };
    page.row(
        "sleep",
        &format!(
            "{} down to {}{beyond}",
            rounding::with_uncertainty(body.sleep_s, body.sleep_sd_s, "s"),
            rounding::places(body.ends_at_rpm, 0, "rpm")
        ),
    );
    if let Some(runs) = &body.runs {
        page.row("residuals", &runs.words);
    }
}

fn size(term: &TermLine) -> String {
    match (term.torque_un_m, term.torque_sd_un_m) {
        (Some(torque), Some(sd)) => rounding::with_uncertainty(torque, sd, "µN·m"),
        _ => rounding::with_uncertainty(
            term.slowing_rad_per_s2,
            term.slowing_sd_rad_per_s2,
            "rad/s²",
        ),
    }
}

fn terms(page: &mut Page, body: &LogBody) {
    page.heading("What slows it, at the first speed");
    for term in &body.terms {
        let value = if term.reported {
            format!(
                "{}, {} of all; {}",
                size(term),
                rounding::places(100.0 * term.share, 0, "%"),
                term.words
            )
        } else {
            term.words.clone()
        };
        page.row(&term.name, &value);
    }
    page.row(
        "all together",
        &format!(
            "{} at {}, known to {}",
            match body.slowing.torque_un_m {
                Some(torque) => rounding::figures(torque, 3, "µN·m"),
                None => rounding::figures(body.slowing.slowing_rad_per_s2, 3, "rad/s²"),
            },
            rounding::places(body.slowing.at_rpm, 0, "rpm"),
            rounding::figures(100.0 * body.slowing.open_share, 2, "%")
        ),
    );
    for pair in &body.correlations {
        page.row(
            "correlation",
            &rounding::number(pair.correlation_coefficient, 4),
        );
    }
}

fn worth(page: &mut Page, body: &LogBody) {
    page.heading("What half of each is worth");
    for line in &body.worth {
        page.point(&format!(
            "{}: {} of sleep ({} of the energy)",
            line.name,
            rounding::with_uncertainty(line.half_is_worth_s, line.half_is_worth_sd_s, "s"),
            rounding::places(100.0 * line.energy_share, 0, "%")
        ));
    }
}

fn cannot(page: &mut Page, body: &LogBody) {
    page.heading("What the log says to other laws");
    for line in &body.tried {
        page.point(&line.words);
    }
    page.heading("How long to log");
    for line in &body.advice {
        page.point(&line.words);
    }
}

/// Logs side by side.
#[must_use]
pub fn spin_compare(answer: &Answer<CompareBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&format!(
        "Every log from {} to {}",
        rounding::places(body.from_rpm, 0, "rpm"),
        rounding::places(body.ends_at_rpm, 0, "rpm")
    ));
    for log in &body.logs {
        let values = log.values.iter().map(|value| {
            if value.reported {
                format!(
                    "{} {}",
                    value.name,
                    rounding::with_uncertainty(value.value, value.sd, &value.unit)
                )
            } else {
                format!("{} not told apart", value.name)
            }
        });
        page.row(&log.log, &values.collect::<Vec<_>>().join("; "));
    }
    page.heading("Differences");
    for difference in &body.differences {
        page.point(&difference.words);
    }
    page.end(answer)
}

/// A tray of bearings, sorted.
#[must_use]
pub fn spin_tray(answer: &Answer<TrayBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("The tray, freest first");
    let mut table = Table::new(&["bearing", "class", ">µN·m", ">free spin s", "apart"]);
    for line in &body.bearings {
        table.row(vec![
            line.name.clone(),
            class(line.class).to_owned(),
            line.torque_un_m
                .map_or(String::new(), |torque| rounding::number(torque, 1)),
            line.free_spin_s
                .map_or(String::new(), |time| rounding::number(time, 1)),
            if line.outlier { "apart" } else { "" }.to_owned(),
        ]);
    }
    table.write(&mut page);
    page.end(answer)
}

/// The word on the tray.
fn class(class: TrayClass) -> &'static str {
    match class {
        TrayClass::Clean => "✓ clean",
        TrayClass::Look => "▲ look",
        TrayClass::CleanIt => "■ clean it",
    }
}
