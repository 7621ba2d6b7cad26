//! Listens to a recording two or three times and answers.

use crate::part::Answer;

use super::body::{RecordingBody, SpeedFrom, TrackPoint};
use super::choose::{Chosen, Followed, choose};
use super::given::{RecordingGiven, RecordingRefusal};
use super::hearing::Hearing;
use super::limits;
use super::lines::{Lines, orbit};
use super::survey::{Splitter, Survey};
use super::tone::Refiner;
use super::words;

/// Clipped by more than this share a vibration's amplitude is too small by more than its uncertainty.
const CLIPPED: f64 = 0.001;
/// Half the speed at so large a share of the whole: the mark passes twice a turn.
const HALF_AT_MOST: f64 = 0.3;
/// Points of the track.
const TRACK_POINTS: f64 = 1000.0;
const TRACK_STEP_S: f64 = 0.1;
/// Places where the deviation of the speed is reckoned.
const DEVIATIONS: usize = 9;
/// A file that is cut off by less than this is not worth a word.
const CUT_OFF_S: f64 = 0.05;

/// Listens to a recording and says what turned in it, how fast, and how true.
///
/// `play` hands every frame of the recording, from its beginning, in blocks of any size, interleaved and
/// with full scale 1, to the sink it is given, and may stop when the sink says `false`. It is called two
/// times where there are pulses and three where there is a tone, so the recording need never be held: memory goes with the
/// number of turns (some tens of bytes each), not with the samples. What lies beyond the longest recording of the shelf
/// is not listened to.
///
/// # Errors
/// The outer error is `play`'s own. The inner one says why there is no answer.
pub fn listen<E>(
    given: &RecordingGiven,
    mut play: impl FnMut(&mut dyn FnMut(&[f32]) -> bool) -> Result<(), E>,
) -> Result<Result<Answer<RecordingBody>, RecordingRefusal>, E> {
    if let Err(refusal) = checked(given) {
        return Ok(Err(refusal));
    }
    let most = (limits::longest_s() * given.rate_hz) as u64;
    let mut survey = Survey::new(given);
    let mut cut = false;
    play(&mut |block| {
        let left = ((most - survey.heard()) as usize).saturating_mul(given.channels);
        survey.push(&block[..block.len().min(left)]);
        cut = block.len() > left;
        !cut
    })?;
    let mut session = match Session::begin(given, survey, cut) {
        Ok(session) => session,
        Err(refusal) => return Ok(Err(refusal)),
    };
    if let Some((mut refiner, rough)) = session.refiner() {
        let (mark, mut splitter) = (session.chosen.mark, Splitter::new(given.channels));
        play(&mut |block| {
            splitter.split(block);
            refiner.push(&splitter.channels[mark], &rough);
            refiner.goes_on(&rough)
        })?;
        session.chosen.followed = Followed::Tone(refiner.finish(rough));
    }
    let (mut hearing, lines) = session.hearing();
    let channel = session.chosen.vibration.unwrap_or(session.chosen.mark);
    let mut splitter = Splitter::new(given.channels);
    play(&mut |block| {
        splitter.split(block);
        hearing.push(&splitter.channels[channel]);
        hearing.goes_on()
    })?;
    Ok(session.end(hearing, &lines))
}

fn checked(given: &RecordingGiven) -> Result<(), RecordingRefusal> {
    let no = |says: String| Err(RecordingRefusal::Question(says));
    let name = &given.name;
    if !(given.rate_hz.is_finite() && given.rate_hz >= 1000.0) {
        return no(format!(
            "{name} has {} frames a second; 8000 to 96,000 are expected",
            given.rate_hz
        ));
    }
    if !(1..=2).contains(&given.channels) {
        return no(format!(
            "{name} has {} channels; 1 or 2 are expected",
            given.channels
        ));
    }
    if given.pulses_per_turn == 0 {
        return no("0 pulses per turn were stated; at least 1 is expected".to_owned());
    }
    let stated = [
        ("mark", given.mark_channel),
        ("vibration", given.vibration_channel),
    ];
    for (what, channel) in stated {
        if let Some(channel) = channel.filter(|channel| !(1..=given.channels).contains(channel)) {
            return no(format!(
                "the {what} was stated to be on channel {channel}; {name} has {}",
                given.channels
            ));
        }
    }
    if given.channels == 2
        && given.mark_channel.is_some()
        && given.mark_channel == given.vibration_channel
    {
        return no(
            "mark and vibration were stated to be on the same channel; name one of them".to_owned(),
        );
    }
    if given
        .full_scale_m_per_s2
        .is_some_and(|scale| !(scale.is_finite() && scale > 0.0))
    {
        return no("the acceleration of full scale must be more than 0 m/s²".to_owned());
    }
    let slowest = given.slowest_rpm.unwrap_or_else(limits::slowest_rpm);
    let fastest = given.fastest_rpm.unwrap_or_else(limits::fastest_rpm);
    if !(slowest > 0.0 && fastest.is_finite() && slowest < fastest) {
        return no(format!(
            "speeds from {slowest} to {fastest} rpm were stated; a range upwards from 0 is expected"
        ));
    }
    // A pulse or a period needs a few samples.
    if fastest / 60.0 * given.pulses_per_turn as f64 > given.rate_hz / 4.0 {
        return no(format!(
            "{fastest} rpm cannot be told at {} frames a second",
            given.rate_hz
        ));
    }
    Ok(())
}

/// What is known between two hearings.
struct Session<'a> {
    given: &'a RecordingGiven,
    chosen: Chosen,
    heard_s: f64,
}

impl<'a> Session<'a> {
    fn begin(
        given: &'a RecordingGiven,
        survey: Survey,
        cut: bool,
    ) -> Result<Self, RecordingRefusal> {
        let name = &given.name;
        let heard_s = survey.heard() as f64 / given.rate_hz;
        let one_twice = survey.is_one_twice();
        let needed_s = limits::shortest_s();
        if heard_s < needed_s {
            return Err(RecordingRefusal::TooShort {
                name: name.clone(),
                heard_s,
                needed_s,
            });
        }
        let shown = survey.finish();
        let wrong: u64 = shown.iter().map(|shown| shown.level.not_finite()).sum();
        if wrong > 0 {
            return Err(RecordingRefusal::Question(format!(
                "{wrong} samples of {name} are no numbers; record again, or write whole numbers"
            )));
        }
        let peak_share = shown
            .iter()
            .map(|shown| shown.level.half_span())
            .fold(0.0, f64::max);
        if peak_share < limits::SILENCE_FRACTION {
            return Err(RecordingRefusal::Silent {
                name: name.clone(),
                peak_share,
            });
        }
        let mut chosen = choose(given, &shown, one_twice)?;
        if cut {
            chosen.remarks.push(format!(
                "only the first {:.0} minutes were listened to; cut longer recordings",
                limits::longest_s() / 60.0
            ));
        } else if let Some(claimed) = given.claimed_frames {
            let missing_s = claimed as f64 / given.rate_hz - heard_s;
            if missing_s > CUT_OFF_S {
                chosen.repairs.cut_off_s = missing_s;
                chosen.remarks.push(format!(
                    "the file is cut off: {heard_s:.1} s of {:.1} s are there, and those were used",
                    heard_s + missing_s
                ));
            }
        }
        let (begin_s, end_s) = chosen.followed.stretch_s();
        chosen.repairs.left_out_s = (heard_s - (end_s - begin_s)).max(0.0);
        Ok(Self {
            given,
            chosen,
            heard_s,
        })
    }

    /// Marks in a turn of what was followed; a tone of several marks is counted down to turns.
    fn per_turn(&self) -> f64 {
        match self.chosen.followed {
            Followed::Pulses(_) => 1.0,
            Followed::Tone(_) => self.given.pulses_per_turn as f64,
        }
    }

    fn refiner(&self) -> Option<(Refiner, super::tone::ToneTrack)> {
        let Followed::Tone(track) = &self.chosen.followed else {
            return None;
        };
        let fastest = track
            .phase
            .rate(track.begin_s)
            .max(track.phase.rate(track.end_s));
        Some((Refiner::new(self.given.rate_hz, fastest), track.clone()))
    }

    fn hearing(&mut self) -> (Hearing, Lines) {
        let lines = Lines::of(self.given, &mut self.chosen.remarks);
        let (phase, stretch) = (
            self.chosen.followed.phase().clone(),
            self.chosen.followed.stretch_s(),
        );
        (
            Hearing::new(self.given.rate_hz, phase, stretch, self.per_turn(), &lines),
            lines,
        )
    }

    fn end(
        mut self,
        hearing: Hearing,
        lines: &Lines,
    ) -> Result<Answer<RecordingBody>, RecordingRefusal> {
        let (windows, map) = hearing.finish();
        let is_pulses = self.chosen.followed.kind() == SpeedFrom::Pulses;
        // With several marks a turn it is not known which of them was the first.
        let mark = is_pulses && self.given.pulses_per_turn == 1;
        let vibration = self.chosen.vibration;
        if vibration.is_some()
            && mark
            && lines
                .half_ratio(&windows)
                .is_some_and(|ratio| ratio > HALF_AT_MOST)
        {
            return Err(RecordingRefusal::NotEnough {
                name: self.given.name.clone(),
                why:
                    "the vibration also comes every second pulse, as two marks a turn would make it"
                        .to_owned(),
            });
        }
        let scale = self.given.full_scale_m_per_s2;
        let is_clipped = self.chosen.repairs.clipped_share > CLIPPED;
        if is_clipped && vibration.is_some() {
            self.chosen.remarks.push(format!(
                "{:.2} % of the vibration is clipped: its amplitudes are too small, and no eccentricity is given",
                100.0 * self.chosen.repairs.clipped_share
            ));
        }
        let orbit = orbit(&windows).filter(|_| vibration.is_some() && !is_clipped);
        let um = |amplitude: f64| scale.map(|scale| 1e6 * scale * amplitude);
        let (begin_s, end_s) = self.chosen.followed.stretch_s();
        let (track, speed_sd_rpm) = self.track();
        let phase = self.chosen.followed.phase();
        let body = RecordingBody {
            name: self.given.name.clone(),
            heard_s: self.heard_s,
            speed_from: self.chosen.followed.kind(),
            mark_channel: self.chosen.mark + 1,
            vibration_channel: vibration.map(|channel| channel + 1),
            begin_s,
            end_s,
            begin_speed_rpm: track.first().map_or(0.0, |point| point.speed_rpm),
            end_speed_rpm: track.last().map_or(0.0, |point| point.speed_rpm),
            turn_count: (phase.turns(end_s) - phase.turns(begin_s)) / self.per_turn(),
            speed_sd_rpm,
            track,
            orders: if vibration.is_some() {
                lines.told(&windows, scale, mark)
            } else {
                Vec::new()
            },
            map,
            eccentricity_um: orbit.and_then(|orbit| um(orbit.amplitude)),
            eccentricity_um_sd: orbit.and_then(|orbit| um(orbit.amplitude_sd)),
            angle_deg: orbit.filter(|_| mark).map(|orbit| orbit.angle_deg),
            angle_deg_sd: orbit.filter(|_| mark).map(|orbit| orbit.angle_deg_sd),
            repairs: self.chosen.repairs,
            remarks: self.chosen.remarks,
        };
        Ok(words::answer(body, self.given))
    }

    /// Speed against time in even steps, and the median of its deviation.
    fn track(&self) -> (Vec<TrackPoint>, f64) {
        let (begin_s, end_s) = self.chosen.followed.stretch_s();
        let (phase, per_turn) = (self.chosen.followed.phase(), self.per_turn());
        let steps = ((end_s - begin_s) / TRACK_STEP_S)
            .clamp(2.0, TRACK_POINTS)
            .round();
        let at = |share: f64| begin_s + share * (end_s - begin_s);
        let rpm = |turns_per_s: f64| 60.0 * turns_per_s / per_turn;
        let track = (0..=steps as usize).map(|n| {
            let time_s = at(n as f64 / steps);
            TrackPoint {
                time_s,
                speed_rpm: rpm(phase.rate(time_s)),
            }
        });
        let scatter = match &self.chosen.followed {
            Followed::Pulses(track) => track.scatter,
            Followed::Tone(track) => track.scatter,
        };
        let deviations: Vec<f64> = (0..DEVIATIONS)
            .map(|n| rpm(phase.rate_deviation(at((n as f64 + 0.5) / DEVIATIONS as f64), scatter)))
            .collect();
        (
            track.collect(),
            whirlwright_kit::describe::median(&deviations).unwrap_or(0.0),
        )
    }
}
