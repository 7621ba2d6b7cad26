//! The answer in words: verdict, headline, how far to trust it, cautions, what to do next.

use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Basis, Trust, Verdict};

use super::body::{RecordingBody, SpeedFrom};
use super::given::RecordingGiven;

/// A speed is good to this share, or somebody should look.
const GOOD_SPEED: f64 = 0.01;
/// Shares of missed or doubled pulses from which the sensor should be looked at.
const MANY_REPAIRS: f64 = 0.1;

/// Puts the body into the form of every answer.
#[must_use]
pub(super) fn answer(body: RecordingBody, given: &RecordingGiven) -> Answer<RecordingBody> {
    let (verdict, decided_by) = judged(&body);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "spin".to_owned(),
        verdict,
        headline: headline(&body),
        decided_by,
        trust: trust(&body, given),
        cautions: vec![
            "Spin behind a closed guard that would stop a loose rim, wear eye protection, keep out of the \
             plane of the rims; the stand's manual and local rules come first."
                .to_owned(),
        ],
        next: next(&body, given),
        body,
    }
}

fn judged(body: &RecordingBody) -> (Verdict, String) {
    let least = body.begin_speed_rpm.min(body.end_speed_rpm);
    let share = body.speed_sd_rpm / least.max(f64::MIN_POSITIVE);
    let repairs = &body.repairs;
    let all = repairs.pulse_count.max(1) as f64;
    let mended = (repairs.missed_count + repairs.doubled_count) as f64 / all;
    if share > GOOD_SPEED {
        return (
            Verdict::Look,
            format!(
                "the speed scatters by {:.1} %; 1 % is the limit",
                100.0 * share
            ),
        );
    }
    if body.speed_from == SpeedFrom::Pulses && mended > MANY_REPAIRS {
        return (
            Verdict::Look,
            format!("{:.0} % of the pulses had to be repaired", 100.0 * mended),
        );
    }
    if let Some(first) = body.remarks.first() {
        return (Verdict::Look, first.clone());
    }
    (
        Verdict::Good,
        format!(
            "the speed scatters by {:.3} %; 1 % is the limit",
            100.0 * share
        ),
    )
}

fn headline(body: &RecordingBody) -> String {
    let from = match body.speed_from {
        SpeedFrom::Pulses => "its pulses",
        SpeedFrom::Tone => "its tone",
    };
    let mut says = format!(
        "From {:.0} to {:.0} rpm in {:.1} s, by {from}",
        body.begin_speed_rpm,
        body.end_speed_rpm,
        body.end_s - body.begin_s
    );
    if let Some(um) = body.eccentricity_um {
        says.push_str(&format!("; the axis runs {um:.2} µm out of true"));
        if let Some(deg) = body.angle_deg {
            says.push_str(&format!(" at {deg:.0}° from the mark"));
        }
    }
    says.push('.');
    says
}

fn line(number: &str, basis: Basis, why: String) -> Trust {
    Trust {
        number: number.to_owned(),
        basis,
        why,
    }
}

fn trust(body: &RecordingBody, given: &RecordingGiven) -> Vec<Trust> {
    let repairs = &body.repairs;
    let mut trust = Vec::new();
    match body.speed_from {
        SpeedFrom::Pulses => trust.push(line(
            "speed_rpm",
            Basis::Measured,
            format!(
                "± {:.3} rpm (sd, from the scatter of {} pulses about a smooth angle); {} missed and {} doubled \
                 or stray pulses were repaired; the recorder's clock is taken as true",
                body.speed_sd_rpm, repairs.pulse_count, repairs.missed_count, repairs.doubled_count
            ),
        )),
        SpeedFrom::Tone => trust.push(line(
            "speed_rpm",
            Basis::Measured,
            format!(
                "± {:.3} rpm (sd); the tone is taken as {} per turn, which nothing in the sound can prove: \
                 check one speed with a mark",
                body.speed_sd_rpm,
                match given.pulses_per_turn {
                    1 => "once".to_owned(),
                    many => format!("{many} times"),
                }
            ),
        )),
    }
    if let (Some(um), Some(sd)) = (body.eccentricity_um, body.eccentricity_um_sd) {
        trust.push(line(
            "eccentricity_um",
            Basis::Measured,
            format!(
                "{um:.3} ± {sd:.3} µm (sd, from the scatter between windows of turns), as far as the stated scale of {} \
                 m/s² at full scale is true and the pick-up moves with the axis",
                given.full_scale_m_per_s2.unwrap_or(0.0)
            ),
        ));
    } else if body.vibration_channel.is_some() {
        trust.push(line(
            "amplitude_fraction",
            Basis::Measured,
            "relative to full scale: without the scale of the pick-up no eccentricity can be told"
                .to_owned(),
        ));
    }
    if let Some(sd) = body.angle_deg_sd {
        trust.push(line(
            "angle_deg",
            Basis::Measured,
            format!(
                "± {sd:.2}° (sd); from the middle of the mark in the sense of rotation, at the place where the \
                 pick-up sits; a mark that is not the same on both flanks shifts it by part of its width"
            ),
        ));
    }
    if body.orders.iter().any(|order| order.order.fract() != 0.0) {
        trust.push(line(
            "orders",
            Basis::Computed,
            "where the wobble and the bearing should be heard follows from the design's inertia ratio and the \
             bearing's geometry, rolling without slip (from memory); slip shifts the bearing's by some per cent"
                .to_owned(),
        ));
    }
    trust.push(line(
        "longest and shortest recording, speed range",
        Basis::Assumed,
        "common practice, no source".to_owned(),
    ));
    trust
}

fn next(body: &RecordingBody, given: &RecordingGiven) -> Vec<String> {
    let mut next = Vec::new();
    if body.repairs.clipped_share > 0.0 {
        next.push("turn the gain down and record again".to_owned());
    }
    if body.speed_from == SpeedFrom::Tone {
        next.push("for the angle, mark one spot of a rim and record it with a light sensor on the second channel".to_owned());
    } else if body.vibration_channel.is_none() {
        next.push(
            "for the eccentricity, record a pick-up on the string holder on the second channel"
                .to_owned(),
        );
    }
    if body.vibration_channel.is_some() && given.full_scale_m_per_s2.is_none() {
        next.push("state what full scale means in m/s² to have the eccentricity in µm".to_owned());
    }
    next.push("fit the losses to this log".to_owned());
    next
}
