//! Which channel is the mark, which the vibration, and whether pulses or a tone give the speed.

use whirlwright_kit::signal::pulse::Pulse;

use super::body::{Repairs, SpeedFrom};
use super::given::{RecordingGiven, RecordingRefusal};
use super::limits;
use super::pulses::PulseTrack;
use super::survey::Shown;
use super::tone::{ToneTrack, follow_tone};

/// A tone is preferred to pulses that cover less than this share of its stretch.
const PULSES_AT_LEAST: f64 = 0.5;

/// What the speed was followed by.
#[derive(Debug, Clone)]
pub(super) enum Followed {
    /// Pulses of a mark.
    Pulses(PulseTrack),
    /// A tone.
    Tone(ToneTrack),
}

impl Followed {
    /// Turns against time.
    #[must_use]
    pub fn phase(&self) -> &whirlwright_kit::signal::phase::Phase {
        match self {
            Self::Pulses(track) => &track.phase,
            Self::Tone(track) => &track.phase,
        }
    }

    /// Where the steady part begins and ends, in s.
    #[must_use]
    pub fn stretch_s(&self) -> (f64, f64) {
        match self {
            Self::Pulses(track) => (track.begin_s, track.end_s),
            Self::Tone(track) => (track.begin_s, track.end_s),
        }
    }

    /// Which it is.
    #[must_use]
    pub fn kind(&self) -> SpeedFrom {
        match self {
            Self::Pulses(_) => SpeedFrom::Pulses,
            Self::Tone(_) => SpeedFrom::Tone,
        }
    }
}

/// The choice, with what has to be said about it.
#[derive(Debug, Clone)]
pub(super) struct Chosen {
    /// What the speed was followed by.
    pub followed: Followed,
    /// Index of the channel it was followed on.
    pub mark: usize,
    /// Index of the channel of the vibration.
    pub vibration: Option<usize>,
    /// Share of the vibration channel (or the only one) that is clipped.
    pub repairs: Repairs,
    /// What was taken otherwise than stated, or noticed.
    pub remarks: Vec<String>,
}

/// Chooses among the channels.
///
/// # Errors
/// Nothing that turns steadily, or something of which half or double the speed is as likely.
pub(super) fn choose(
    given: &RecordingGiven,
    shown: &[Shown],
    one_twice: bool,
) -> Result<Chosen, RecordingRefusal> {
    let mut remarks = Vec::new();
    let channels = if one_twice {
        remarks.push("both channels carry the same: read as one".to_owned());
        1
    } else {
        shown.len()
    };
    let range = range_hz(given);
    let pulses: Vec<Option<PulseTrack>> = shown[..channels]
        .iter()
        .map(|shown| best_pulses(given, shown, range))
        .collect();
    let stated = |channel: Option<usize>| channel.map(|channel| (channel - 1).min(channels - 1));
    let mark = mark_of(
        stated(given.mark_channel),
        stated(given.vibration_channel),
        &pulses,
        &mut remarks,
    );
    let marks = given.pulses_per_turn as f64;
    let (followed, mark) = match &pulses[mark] {
        Some(track) => {
            let tone = follow_tone(&shown[mark], range.0 * marks, range.1 * marks);
            prefer(track, &tone, mark, &mut remarks)
        }
        None => tone_of(
            given,
            &shown[..channels],
            stated(given.mark_channel),
            range,
            &mut remarks,
        )?,
    };
    refuse_doubt(given, &followed)?;
    let other = (channels == 2).then_some(1 - mark);
    let audible = other.filter(|other| shown[*other].level.half_span() >= limits::SILENCE_FRACTION);
    let vibration = if followed.kind() == SpeedFrom::Pulses {
        if audible.is_some_and(|other| pulses[other].is_some()) {
            remarks.push(
                "both channels carry pulses of a mark: the other one is taken as the vibration"
                    .to_owned(),
            );
        }
        audible
    } else {
        // A tone may itself be the vibration; where it was stated to be the mark, the other channel is.
        let beside = audible.filter(|_| given.mark_channel.is_some());
        stated(given.vibration_channel).or(beside).or(Some(mark))
    };
    Ok(Chosen {
        repairs: repairs(&followed, &shown[vibration.unwrap_or(mark)]),
        followed,
        mark,
        vibration,
        remarks,
    })
}

/// Slowest and fastest turning looked for, in turns a second.
#[must_use]
pub(super) fn range_hz(given: &RecordingGiven) -> (f64, f64) {
    (
        given.slowest_rpm.unwrap_or_else(limits::slowest_rpm) / 60.0,
        given.fastest_rpm.unwrap_or_else(limits::fastest_rpm) / 60.0,
    )
}

fn best_pulses(
    given: &RecordingGiven,
    shown: &Shown,
    (slowest, fastest): (f64, f64),
) -> Option<PulseTrack> {
    let of = |pulses: &[Pulse]| {
        PulseTrack::of(
            pulses,
            given.rate_hz,
            given.pulses_per_turn,
            slowest,
            fastest,
        )
    };
    match (of(&shown.up), of(&shown.down)) {
        (Some(up), Some(down)) => Some(if up.scatter <= down.scatter { up } else { down }),
        (up, down) => up.or(down),
    }
}

/// The channel with the mark: the stated one, unless the other one alone has pulses.
fn mark_of(
    stated: Option<usize>,
    vibration: Option<usize>,
    pulses: &[Option<PulseTrack>],
    remarks: &mut Vec<String>,
) -> usize {
    let best = (0..pulses.len())
        .filter(|channel| pulses[*channel].is_some())
        .min_by(|a, b| scatter(&pulses[*a]).total_cmp(&scatter(&pulses[*b])));
    let meant = stated.or(vibration
        .filter(|_| pulses.len() == 2)
        .map(|channel| 1 - channel));
    match (meant, best) {
        (Some(meant), Some(best)) if pulses[meant].is_none() => {
            remarks.push(format!(
                "the mark was stated to be on channel {}, but the pulses are on channel {}: read that way",
                meant + 1,
                best + 1
            ));
            best
        }
        (Some(meant), _) => meant,
        (None, best) => best.unwrap_or(0),
    }
}

fn scatter(track: &Option<PulseTrack>) -> f64 {
    track.as_ref().map_or(f64::INFINITY, |track| track.scatter)
}

/// Pulses, unless a tone on the same channel was followed for far longer.
fn prefer(
    pulses: &PulseTrack,
    tone: &Result<ToneTrack, String>,
    mark: usize,
    remarks: &mut Vec<String>,
) -> (Followed, usize) {
    if let Ok(tone) = tone {
        let (long, short) = (tone.end_s - tone.begin_s, pulses.end_s - pulses.begin_s);
        if short < PULSES_AT_LEAST * long {
            remarks.push(format!(
                "pulses could be counted for {short:.1} s alone, a tone was followed for {long:.1} s: the speed is \
                 the tone's"
            ));
            return (Followed::Tone(tone.clone()), mark);
        }
    }
    (Followed::Pulses(pulses.clone()), mark)
}

/// The channel whose tone is borne out best.
fn tone_of(
    given: &RecordingGiven,
    shown: &[Shown],
    stated: Option<usize>,
    (slowest, fastest): (f64, f64),
    remarks: &mut Vec<String>,
) -> Result<(Followed, usize), RecordingRefusal> {
    let marks = given.pulses_per_turn as f64;
    let mut best: Option<(ToneTrack, usize)> = None;
    let mut why = None;
    for (channel, shown) in shown.iter().enumerate() {
        // With several marks a turn the tone is that of the marks; its turns are counted down below.
        match follow_tone(shown, slowest * marks, fastest * marks) {
            Ok(track) => {
                let value = |track: &ToneTrack| track.score * (track.end_s - track.begin_s);
                if best
                    .as_ref()
                    .is_none_or(|(best, _)| value(&track) > value(best))
                {
                    best = Some((track, channel));
                }
            }
            Err(says) => why = why.or(Some(says)),
        }
    }
    let Some((track, channel)) = best else {
        return Err(refused(given, shown, why.unwrap_or_default()));
    };
    if let Some(stated) = stated.filter(|stated| *stated != channel) {
        remarks.push(format!(
            "channel {} was stated to be the mark, but the clearer tone is on channel {}: read that way",
            stated + 1,
            channel + 1
        ));
    }
    Ok((Followed::Tone(track), channel))
}

/// Share of clipped samples from which clipping is the likelier reason for finding nothing.
const MUCH_CLIPPED: f64 = 0.02;

fn refused(given: &RecordingGiven, shown: &[Shown], why: String) -> RecordingRefusal {
    let share = shown
        .iter()
        .map(|shown| shown.level.clipped_share())
        .fold(0.0, f64::max);
    if share > MUCH_CLIPPED {
        return RecordingRefusal::Clipped {
            name: given.name.clone(),
            share: 100.0 * share,
        };
    }
    RecordingRefusal::NoSteadyTone {
        name: given.name.clone(),
        why,
    }
}

fn refuse_doubt(given: &RecordingGiven, followed: &Followed) -> Result<(), RecordingRefusal> {
    let doubt = |why: String| {
        Err(RecordingRefusal::NotEnough {
            name: given.name.clone(),
            why,
        })
    };
    match followed {
        Followed::Pulses(PulseTrack {
            uneven: Some(early),
            ..
        }) => doubt(format!(
            "every second pulse comes {:.1} % of a turn early, as two marks a turn would",
            50.0 * early
        )),
        Followed::Tone(track) if track.doubtful && given.slowest_rpm.is_none() => {
            let rpm = 60.0 * track.phase.rate(track.begin_s);
            doubt(format!("{rpm:.0} rpm and half of it are borne out alike"))
        }
        _ => Ok(()),
    }
}

fn repairs(followed: &Followed, shown: &Shown) -> Repairs {
    let mut repairs = Repairs {
        clipped_share: shown.level.clipped_share(),
        ..Repairs::default()
    };
    if let Followed::Pulses(track) = followed {
        repairs.pulse_count = track.used;
        repairs.missed_count = track.missed;
        repairs.doubled_count = track.surplus;
    }
    repairs
}
