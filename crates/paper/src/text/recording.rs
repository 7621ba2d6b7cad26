//! What a recording of a spin says, in the terminal.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::recording::{RecordingBody, Repairs, SpeedFrom};

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// Rows of the table of speeds.
const ROWS: usize = 9;

/// Speed against time, what goes with the turn, what was repaired.
#[must_use]
pub fn recording(answer: &Answer<RecordingBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&body.name);
    for (label, value) in whole(body) {
        page.row(&label, &value);
    }
    speeds(&mut page, body);
    orders(&mut page, body);
    repairs(&mut page, &body.repairs);
    if !body.remarks.is_empty() {
        page.heading("Noticed");
        for remark in &body.remarks {
            page.point(remark);
        }
    }
    page.end(answer)
}

/// The numbers of the whole, as labels and values.
fn whole(body: &RecordingBody) -> Vec<(String, String)> {
    let speed = |rpm: f64| rounding::with_uncertainty(rpm, body.speed_sd_rpm, "rpm");
    let from = match body.speed_from {
        SpeedFrom::Pulses => "pulses of a mark",
        SpeedFrom::Tone => "a tone",
    };
    let mut rows = vec![
        ("speed at first", speed(body.begin_speed_rpm)),
        ("speed at last", speed(body.end_speed_rpm)),
        (
            "heard",
            format!(
                "{}, of it {} to {} used: {}",
                rounding::places(body.heard_s, 1, "s"),
                rounding::number(body.begin_s, 1),
                rounding::places(body.end_s, 1, "s"),
                rounding::places(body.turn_count, 0, "turns")
            ),
        ),
        (
            "followed by",
            format!("{from}, channel {}", body.mark_channel),
        ),
    ];
    if let Some(channel) = body.vibration_channel {
        rows.push(("vibration", format!("channel {channel}")));
    }
    if let (Some(um), Some(sd)) = (body.eccentricity_um, body.eccentricity_um_sd) {
        rows.push(("eccentricity", rounding::with_uncertainty(um, sd, "µm")));
    }
    if let (Some(deg), Some(sd)) = (body.angle_deg, body.angle_deg_sd) {
        let angle = rounding::with_uncertainty(deg, sd, "°");
        rows.push(("angle", format!("{angle} ahead of the mark")));
    }
    rows.into_iter()
        .map(|(label, value)| (label.to_owned(), value))
        .collect()
}

fn speeds(page: &mut Page, body: &RecordingBody) {
    let last = body.track.len().saturating_sub(1);
    let mut table = Table::new(&[">time in s", ">speed in rpm"]);
    let behind = rounding::places_for(body.speed_sd_rpm).clamp(0, 3) as usize;
    for row in 0..ROWS {
        if let Some(point) = body.track.get(row * last / (ROWS - 1)) {
            table.row(vec![
                rounding::number(point.time_s, 1),
                rounding::number(point.speed_rpm, behind),
            ]);
        }
    }
    if !table.is_empty() {
        page.heading("Speed");
        table.write(page);
    }
}

fn orders(page: &mut Page, body: &RecordingBody) {
    if body.orders.is_empty() {
        return;
    }
    page.heading("What goes with the turn");
    let mut table = Table::new(&[
        "",
        "what",
        ">times per turn",
        ">level in % of full scale",
        ">in m/s²",
        ">phase in °",
        ">share in %",
    ]);
    for line in &body.orders {
        let if_found = |text: String| if line.found { text } else { String::new() };
        table.row(vec![
            if line.found { "✓" } else { "–" }.to_owned(),
            line.name.clone(),
            rounding::number(line.order, 3),
            if line.found {
                rounding::number(100.0 * line.amplitude_fraction, 3)
            } else {
                format!("under {}", rounding::number(200.0 * line.noise_fraction, 3))
            },
            if_found(
                line.amplitude_m_per_s2
                    .map_or(String::new(), |a| rounding::number(a, 3)),
            ),
            line.phase_deg
                .map_or(String::new(), |deg| rounding::number(deg, 1)),
            if_found(rounding::number(100.0 * line.share, 1)),
        ]);
    }
    table.write(page);
}

fn repairs(page: &mut Page, repairs: &Repairs) {
    let mut lines = Vec::new();
    if repairs.pulse_count > 0 {
        lines.push(format!(
            "{} used, {} missed, {} too many",
            rounding::count(repairs.pulse_count, "pulse", "pulses"),
            repairs.missed_count,
            repairs.doubled_count
        ));
    }
    if repairs.clipped_share > 0.0 {
        let share = rounding::places(100.0 * repairs.clipped_share, 3, "%");
        lines.push(format!("{share} of the samples clipped"));
    }
    if repairs.cut_off_s > 0.0 {
        lines.push(format!(
            "{} cut off the file's end",
            rounding::places(repairs.cut_off_s, 1, "s")
        ));
    }
    if lines.is_empty() {
        return;
    }
    page.heading("Repaired");
    for line in lines {
        page.point(&line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use whirlwright_workshop::part::answer::ANSWER_FORMAT;
    use whirlwright_workshop::part::{Basis, Trust, Verdict};
    use whirlwright_workshop::spin::recording::{OrderLine, OrderMap, TrackPoint};

    fn line(order: f64, name: &str, found: bool) -> OrderLine {
        OrderLine {
            order,
            name: name.to_owned(),
            amplitude_fraction: 0.07,
            amplitude_m_per_s2: Some(1.4),
            noise_fraction: 0.0005,
            phase_deg: found.then_some(37.0),
            share: 0.4,
            found,
        }
    }

    fn invented() -> Answer<RecordingBody> {
        let track = (0..=100).map(|n| TrackPoint {
            time_s: f64::from(n) / 5.0,
            speed_rpm: 4000.0 - 7.0 * f64::from(n),
        });
        Answer {
            whirlwright: ANSWER_FORMAT,
            station: "spin".to_owned(),
            verdict: Verdict::Good,
            headline: "From 4000 to 3300 rpm in 20.0 s, by its pulses.".to_owned(),
            decided_by: "the speed scatters by 0.01 %; 1 % is the limit".to_owned(),
            body: RecordingBody {
                name: "spin.wav\u{1b}[2J".to_owned(),
                heard_s: 20.4,
                speed_from: SpeedFrom::Pulses,
                mark_channel: 1,
                vibration_channel: Some(2),
                begin_s: 0.1,
                end_s: 20.1,
                begin_speed_rpm: 4000.0,
                end_speed_rpm: 3300.0,
                turn_count: 1216.7,
                speed_sd_rpm: 0.42,
                track: track.collect(),
                orders: vec![
                    line(1.0, "unbalance", true),
                    line(4.84, "balls past the inner race", false),
                ],
                map: OrderMap::default(),
                eccentricity_um: Some(8.013),
                eccentricity_um_sd: Some(0.021),
                angle_deg: Some(36.8),
                angle_deg_sd: Some(0.3),
                repairs: Repairs {
                    pulse_count: 1150,
                    missed_count: 61,
                    doubled_count: 24,
                    ..Repairs::default()
                },
                remarks: vec!["both channels carry pulses".to_owned()],
            },
            trust: vec![Trust {
                number: "speed_rpm".to_owned(),
                basis: Basis::Measured,
                why: "± 0.42 rpm (sd)".to_owned(),
            }],
            cautions: vec!["Spin behind a closed guard.".to_owned()],
            next: vec!["fit the losses to this log".to_owned()],
        }
    }

    #[test]
    fn law_every_number_of_the_answer_is_there_with_its_uncertainty() {
        let text = recording(&invented());
        for says in [
            "✓ good   From 4000 to 3300 rpm",
            "4000.00 ± 0.42 rpm",
            "8.013 ± 0.021 µm",
            "36.80 ± 0.30° ahead of the mark",
            "1150 pulses used, 61 missed, 24 too many",
            "under 0.100",
            "both channels carry pulses",
            "! Spin behind a closed guard.",
        ] {
            assert!(text.contains(says), "{says}\n{text}");
        }
        assert!(
            text.lines().all(|line| line.chars().count() <= 100),
            "{text}"
        );
        assert!(!text.contains('\u{1b}'));
    }

    #[test]
    fn law_what_is_not_known_is_not_shown() {
        let mut answer = invented();
        answer.body.eccentricity_um = None;
        answer.body.angle_deg = None;
        answer.body.orders.clear();
        answer.body.track.clear();
        answer.body.repairs = Repairs::default();
        let text = recording(&answer);
        for silent in ["eccentricity", "angle", "per turn", "Repaired", "Speed\n"] {
            assert!(!text.contains(silent), "{silent}\n{text}");
        }
    }
}
