//! The checks a log goes through, one after the other; each says what it mended.

use whirlwright_kit::describe::{median, moments};

use super::spin_log_faults::{LEAST_READINGS, NotALog};

/// One speed at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reading {
    /// When, s.
    pub time_s: f64,
    /// How fast, rad/s.
    pub speed_rad_s: f64,
    /// How much it counts.
    pub weight: f64,
}

/// Every number is one.
pub(super) fn finite(numbers: &[f64], what: &'static str) -> Result<(), NotALog> {
    match numbers.iter().position(|number| !number.is_finite()) {
        Some(at) => Err(NotALog::NotANumber {
            reading: at + 1,
            what,
        }),
        None => Ok(()),
    }
}

/// In order of time: turned round or sorted where that is all that is wrong.
pub(super) fn ordered(
    mut readings: Vec<Reading>,
    repairs: &mut Vec<String>,
) -> Result<Vec<Reading>, NotALog> {
    let backwards = |readings: &[Reading]| {
        readings
            .windows(2)
            .filter(|pair| pair[1].time_s < pair[0].time_s)
            .count()
    };
    let count = backwards(&readings);
    if count == 0 {
        return one_time(readings);
    }
    if count == readings.len() - 1 {
        readings.reverse();
        repairs.push("the newest reading stood first: the order was turned round".to_owned());
        return one_time(readings);
    }
    starts_again(&readings)?;
    readings.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    repairs.push(format!(
        "{count} time(s) stood out of order: the readings were sorted by time"
    ));
    one_time(readings)
}

fn one_time(readings: Vec<Reading>) -> Result<Vec<Reading>, NotALog> {
    match (readings.first(), readings.last()) {
        (Some(first), Some(last)) if readings.len() > 1 && first.time_s == last.time_s => {
            Err(NotALog::OneTime {
                time_s: first.time_s,
            })
        }
        _ => Ok(readings),
    }
}

/// A clock that goes back to near its start after a good part of a log begins a second log.
fn starts_again(readings: &[Reading]) -> Result<(), NotALog> {
    let first_s = readings[0].time_s;
    for (at, pair) in readings.windows(2).enumerate() {
        let (before_s, time_s) = (pair[0].time_s, pair[1].time_s);
        let whole_logs = at + 1 >= LEAST_READINGS && readings.len() - at > LEAST_READINGS;
        if time_s < before_s && whole_logs && time_s - first_s < 0.1 * (before_s - first_s) {
            return Err(NotALog::TwoLogs {
                reading: at + 2,
                time_s,
                before_s,
            });
        }
    }
    Ok(())
}

/// Speeds above nought: a negative sense is turned round, a stop cut off, drop-outs taken out.
pub(super) fn turning(
    mut readings: Vec<Reading>,
    repairs: &mut Vec<String>,
) -> Result<Vec<Reading>, NotALog> {
    let negative = readings.iter().filter(|r| r.speed_rad_s < 0.0).count();
    if negative > 0 && readings.iter().all(|r| r.speed_rad_s <= 0.0) {
        readings
            .iter_mut()
            .for_each(|r| r.speed_rad_s = -r.speed_rad_s);
        repairs.push("every speed was negative: taken as turning the other way".to_owned());
    }
    // A ten-thousandth of the fastest is standing still, whatever the instrument rounds to.
    let still = 1e-4 * readings.iter().map(|r| r.speed_rad_s).fold(0.0, f64::max);
    let Some(last) = readings.iter().rposition(|r| r.speed_rad_s > still) else {
        return Err(NotALog::Constant {
            speed_rad_s: 0.0,
            fall_rad_s: 0.0,
            scatter_rad_s: 0.0,
        });
    };
    let stood = readings.len() - 1 - last;
    if stood > 0 {
        readings.truncate(last + 1);
        repairs.push(format!(
            "{stood} reading(s) after the piece stood still were left out"
        ));
    }
    let count = readings.iter().filter(|r| r.speed_rad_s <= still).count();
    if let Some(first) = readings.iter().position(|r| r.speed_rad_s <= still) {
        if 10 * count > readings.len() {
            return Err(NotALog::Dropouts {
                count,
                readings: readings.len(),
                reading: first + 1,
            });
        }
        readings.retain(|r| r.speed_rad_s > still);
        repairs.push(format!(
            "{count} reading(s) at nought among others were taken for drop-outs and left out"
        ));
    }
    Ok(readings)
}

/// How far a single reading may be off the middle of its neighbours before it is set aside: a pulse
/// missed or doubled makes it a half, or twice.
const STRAY_SHARE: f64 = 0.25;

/// Leaves out single readings that lie a quarter and more off the median of the seven around them.
pub(super) fn without_strays(readings: Vec<Reading>, repairs: &mut Vec<String>) -> Vec<Reading> {
    const AROUND: usize = 3;
    let speeds: Vec<f64> = readings.iter().map(|r| r.speed_rad_s).collect();
    let is_stray = |at: usize| {
        at >= AROUND && at + AROUND < speeds.len() && {
            let middle = median(&speeds[at - AROUND..=at + AROUND]).unwrap_or(speeds[at]);
            (speeds[at] - middle).abs() > STRAY_SHARE * middle
        }
    };
    let strays: Vec<usize> = (0..speeds.len()).filter(|at| is_stray(*at)).collect();
    // More than one in ten is no matter of single readings: what follows will say so.
    if strays.is_empty() || 10 * strays.len() > speeds.len() {
        return readings;
    }
    let first_s = readings[strays[0]].time_s;
    repairs.push(format!(
        "{} reading(s) a quarter and more off their neighbours were left out, the first at {first_s} s",
        strays.len()
    ));
    let mut strays = strays.into_iter().peekable();
    let mut kept = Vec::with_capacity(readings.len());
    for (at, reading) in readings.into_iter().enumerate() {
        if strays.next_if_eq(&at).is_none() {
            kept.push(reading);
        }
    }
    kept
}

/// Means of up to [`BLOCKS`] stretches of equally many readings: what falls, rises or stands still is
/// seen in them, not in the noise.
const BLOCKS: usize = 24;

/// Falls as a whole; what stands before the drive let go is cut off.
pub(super) fn falling(
    mut readings: Vec<Reading>,
    repairs: &mut Vec<String>,
) -> Result<Vec<Reading>, NotALog> {
    let each = (readings.len() / BLOCKS).max(1);
    let blocks: Vec<f64> = readings
        .chunks(each)
        .filter_map(|chunk| {
            let speeds: Vec<f64> = chunk.iter().map(|r| r.speed_rad_s).collect();
            moments(&speeds).map(|m| m.mean)
        })
        .collect();
    let scatter = noise(&readings) / (each as f64).sqrt();
    let (first, last) = (blocks[0], blocks[blocks.len() - 1]);
    let top = (0..blocks.len()).fold(0, |top, at| if blocks[at] > blocks[top] { at } else { top });
    let peak = blocks[top];
    // Means of two blocks differ by √2 of their scatter; 4 of these is beyond chance.
    let beyond = 4.0 * std::f64::consts::SQRT_2 * scatter;
    let hair = 1e-6 * peak;
    if (first - last).abs() <= beyond.max(hair) && peak - last <= beyond.max(hair) {
        return Err(NotALog::Constant {
            speed_rad_s: moments(&blocks).map_or(first, |m| m.mean),
            fall_rad_s: first - last,
            scatter_rad_s: beyond,
        });
    }
    let rises = peak - first > beyond.max(0.01 * peak);
    if peak - last <= beyond.max(hair) || (rises && 2 * top >= blocks.len()) {
        return Err(NotALog::Rising {
            from_rad_s: first,
            to_rad_s: peak,
        });
    }
    for at in top + 1..blocks.len() {
        let low = blocks[top..at].iter().copied().fold(peak, f64::min);
        if blocks[at] - low > beyond.max(0.02 * peak) {
            return Err(NotALog::DrivenAgain {
                time_s: readings[at * each].time_s,
                from_rad_s: low,
                to_rad_s: blocks[at],
            });
        }
    }
    if rises {
        let cut = top * each;
        readings.drain(..cut);
        repairs.push(format!(
            "{cut} reading(s) before the drive let go, while the speed still rose, were left out"
        ));
        if readings.len() < LEAST_READINGS {
            return Err(NotALog::TooFew {
                count: readings.len(),
            });
        }
    }
    Ok(readings)
}

/// Scatter of single readings about the line through their two neighbours, rad/s. A smooth fall leaves
/// nothing; the factor is for independent noise of equal size: 1 + 1/4 + 1/4.
fn noise(readings: &[Reading]) -> f64 {
    let bends: Vec<f64> = readings
        .windows(3)
        .map(|three| {
            (three[1].speed_rad_s - 0.5 * (three[0].speed_rad_s + three[2].speed_rad_s)).abs()
        })
        .collect();
    // Half of a normal distribution lies within 0.6745 deviations.
    const NORMAL_PER_MEDIAN: f64 = 1.482_602_218_505_602;
    NORMAL_PER_MEDIAN * median(&bends).unwrap_or(0.0) / 1.5f64.sqrt()
}

/// Pulses with their place in the count of marks: a gap of whole intervals is counted through, a pulse
/// far too early is left out.
pub(super) fn counted(
    pulses_s: &[f64],
    repairs: &mut Vec<String>,
) -> Result<Vec<(u64, f64)>, NotALog> {
    const REMEMBERED: usize = 7;
    let mut sorted = pulses_s.to_vec();
    sorted.sort_by(f64::total_cmp);
    if sorted != pulses_s {
        repairs.push("pulses stood out of order: they were sorted by time".to_owned());
    }
    let Some(&first_s) = sorted.first() else {
        return Err(NotALog::Empty);
    };
    if sorted.len() < LEAST_READINGS {
        return Err(NotALog::TooFew {
            count: sorted.len(),
        });
    }
    let gaps: Vec<f64> = sorted.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let usual = |at: usize| {
        let from = at.saturating_sub(REMEMBERED / 2);
        let to = (from + REMEMBERED).min(gaps.len());
        median(&gaps[to.saturating_sub(REMEMBERED)..to]).unwrap_or(gaps[at])
    };
    let (mut count, mut doubled, mut missed) = (0u64, 0usize, 0usize);
    let mut found = vec![(0, first_s)];
    let mut last_s = first_s;
    for (at, &pulse_s) in sorted.iter().enumerate().skip(1) {
        let steps = (pulse_s - last_s) / usual(at - 1);
        if !(steps.is_finite() && steps > 0.5) {
            doubled += 1;
            continue;
        }
        // A turn and a half is no longer one turn; noise of that size is a missed pulse.
        let steps = steps.round().max(1.0);
        missed += steps as usize - 1;
        count += steps as u64;
        found.push((count, pulse_s));
        last_s = pulse_s;
    }
    let mended = doubled + missed;
    if 10 * mended > sorted.len() {
        return Err(NotALog::Patchy {
            count: mended,
            pulses: sorted.len(),
        });
    }
    if mended > 0 {
        repairs.push(format!(
            "{missed} missed pulse(s) counted through, {doubled} doubled one(s) left out"
        ));
    }
    Ok(found)
}

/// Speeds over `span` marks each, no two sharing a pulse.
pub(super) fn windows(counted: &[(u64, f64)], span: u64, marks: u32) -> Vec<Reading> {
    let mut readings = Vec::new();
    let mut from = 0;
    while from < counted.len() {
        let (begun, first_s) = counted[from];
        let Some(to) = counted[from..]
            .iter()
            .position(|(count, _)| *count >= begun + span)
            .map(|ahead| from + ahead)
        else {
            break;
        };
        let (ended, last_s) = counted[to];
        // Only whole turns: marks need not stand evenly. A window that a missed pulse ends is left out.
        if ended == begun + span {
            let turns = span as f64 / f64::from(marks);
            readings.push(Reading {
                time_s: 0.5 * (first_s + last_s),
                speed_rad_s: pulse_speed_rad_s(first_s, last_s, turns),
                weight: 1.0,
            });
        }
        from = to + 1;
    }
    readings
}

/// The speed over `turns` turns between two pulses, in rad/s.
#[must_use]
pub fn pulse_speed_rad_s(first_s: f64, last_s: f64, turns: f64) -> f64 {
    std::f64::consts::TAU * turns / (last_s - first_s)
}

/// Standard deviation of a speed over `2 · half_turns` turns between two pulses that are each off by
/// `timing_sd_s`, in rad/s: `ω² σ_t √2 / (4 π m)`.
#[must_use]
pub fn pulse_speed_sd_rad_s(speed_rad_s: f64, timing_sd_s: f64, half_turns: f64) -> f64 {
    speed_rad_s * speed_rad_s * timing_sd_s * std::f64::consts::SQRT_2
        / (4.0 * std::f64::consts::PI * half_turns)
}
