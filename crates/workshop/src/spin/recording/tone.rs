//! Speed from a tone, where there are no pulses: first roughly, then by its phase.

use whirlwright_kit::describe;
use whirlwright_kit::signal::decimate::Decimator;
use whirlwright_kit::signal::orders::OrderFit;
use whirlwright_kit::signal::phase::{Phase, PhaseFit};
use whirlwright_kit::signal::ridge::{Ridge, follow, without_standing};

use super::survey::Shown;

const KNOT_S: f64 = 1.0;
const LEAST_KNOTS: f64 = 8.0;
/// A line found in more than this share of all frames stands still.
const STANDING: f64 = 0.6;
/// What slows by less than this share in a stretch may be standing.
const SLOWING: f64 = 0.02;
/// A ratio of rates is a whole number if it is so within this share.
const WHOLE: f64 = 0.015;
/// A change from frame to frame is a jump when it is this share, and so many times the median change.
const JUMP: f64 = 0.02;
const JUMP_TIMES: f64 = 6.0;
/// Share of a stretch's frames that must bear the tone.
const LEAST_BORNE: f64 = 0.8;
/// A stretch must last so long, or be nearly all of a short recording, and so large a share of a long one.
const LEAST_S: f64 = 3.0;
const NEARLY_ALL: f64 = 0.75;
const LEAST_SHARE: f64 = 0.15;
/// Robust scatter of the rates about the smooth curve, as a share of the rate.
const MOST_SCATTER: f64 = 0.01;
/// Lines of half the rate at this mean level make it doubtful.
const DOUBTFUL: f64 = 0.8;
/// Turns, and seconds at least, in a window of the phase.
const WINDOW_TURNS: f64 = 5.0;
const WINDOW_S: f64 = 0.25;
/// A phase is used when the amplitude is so many deviations; and it must be so in this share of windows.
const CLEAR: f64 = 5.0;
const MOSTLY: f64 = 0.7;
/// Phases to a knot at the least, so that the angle does not sway between them.
const PHASES_PER_KNOT: f64 = 3.0;
/// The rough rate keeps the ends straight: weight of one of its values against a phase, and their distance.
const ROUGH_WEIGHT: f64 = 0.02;
const ROUGH_STEP_S: f64 = 0.25;

/// A tone that was followed.
#[derive(Debug, Clone)]
pub(super) struct ToneTrack {
    /// Turns against time.
    pub phase: Phase,
    /// Where it begins.
    pub begin_s: f64,
    /// Where it ends.
    pub end_s: f64,
    /// Standard deviation of what was observed about the curve: rates at first (in turns a second), turns
    /// once the phase has made it finer.
    pub scatter: f64,
    /// Mean score of its frames.
    pub score: f64,
    /// Whether half the rate is borne out too.
    pub doubtful: bool,
}

/// Follows the tone of a channel; in words what was seen instead, if it is none.
///
/// # Errors
/// What was heard instead of a steady tone.
pub(super) fn follow_tone(shown: &Shown, slowest: f64, fastest: f64) -> Result<ToneTrack, String> {
    let all = follow(&shown.frames, slowest, fastest, shown.blur_hz);
    let moving = without_standing(&shown.frames, shown.blur_hz, STANDING);
    let moving = follow(&moving, slowest, fastest, shown.blur_hz);
    // A hum stands still, a free piece slows: where both are there, it is the piece that is asked for. A piece
    // that slows little loses its lowest lines as standing: what is left then is an overtone of it.
    if slows_by(&moving) > SLOWING
        && !is_overtone(&moving, &all)
        && let Ok(track) = judged(&moving, shown)
    {
        return Ok(track);
    }
    judged(&all, shown)
}

/// Whether one ridge is a whole multiple of another through half of the time they share.
fn is_overtone(ridge: &Ridge, of: &Ridge) -> bool {
    let (mut shared, mut multiples) = (0, 0);
    for step in &ridge.steps {
        let Ok(at) = of
            .steps
            .binary_search_by(|other| other.time.total_cmp(&step.time))
        else {
            continue;
        };
        let ratio = step.rate / of.steps[at].rate;
        shared += 1;
        if ratio > 1.5 && (ratio / ratio.round() - 1.0).abs() < WHOLE {
            multiples += 1;
        }
    }
    2 * multiples > shared
}

/// Share of its rate that a stretch loses from its beginning to its end.
fn slows_by(ridge: &Ridge) -> f64 {
    match (ridge.steps.first(), ridge.steps.last()) {
        (Some(first), Some(last)) => 1.0 - last.rate / first.rate,
        _ => 0.0,
    }
}

fn judged(ridge: &Ridge, shown: &Shown) -> Result<ToneTrack, String> {
    let (Some(first), Some(last)) = (ridge.steps.first(), ridge.steps.last()) else {
        return Err("no line stands out of the noise for long".to_owned());
    };
    let lasts = last.time - first.time + shown.hop_s;
    let of = ridge.of_frames as f64;
    let share = ridge.frames as f64 / of;
    let borne = ridge.steps.len() as f64 / ridge.frames as f64;
    if borne < LEAST_BORNE || share < LEAST_SHARE || (lasts < LEAST_S && share < NEARLY_ALL) {
        return Err(format!(
            "the longest tone that neither jumps nor breaks off lasts {lasts:.1} s of {:.1} s",
            of * shown.hop_s
        ));
    }
    let (begin, end) = (first.time, last.time);
    let mut fit = PhaseFit::new(begin, end, KNOT_S.min((end - begin) / LEAST_KNOTS));
    ridge
        .steps
        .iter()
        .for_each(|step| fit.rate(step.time, step.rate, 1.0));
    let phase = fit
        .solve()
        .ok_or("no line stands out of the noise for long")?;
    let off: Vec<f64> = ridge
        .steps
        .iter()
        .map(|step| step.rate / phase.rate(step.time) - 1.0)
        .collect();
    let (_, spread) = describe::robust(&off).unwrap_or((0.0, 1.0));
    if spread > MOST_SCATTER {
        return Err(format!(
            "the strongest tone wavers by {:.1} % from one moment to the next",
            spread * 100.0
        ));
    }
    if let Some(jump) = jump(ridge) {
        return Err(format!(
            "the longest tone jumps by {:.0} %, as music does",
            jump * 100.0
        ));
    }
    let mean = |of: fn(&whirlwright_kit::signal::ridge::Step) -> f64| {
        ridge.steps.iter().map(of).sum::<f64>() / ridge.steps.len() as f64
    };
    Ok(ToneTrack {
        begin_s: begin,
        end_s: end,
        scatter: phase.residual,
        score: mean(|step| step.score),
        doubtful: mean(|step| step.below) > DOUBTFUL,
        phase,
    })
}

/// The largest change from frame to frame, where it stands out from the others.
fn jump(ridge: &Ridge) -> Option<f64> {
    let changes: Vec<f64> = ridge
        .steps
        .windows(2)
        .map(|pair| (pair[1].rate / pair[0].rate).ln().abs())
        .collect();
    let median = describe::median(&changes)?;
    let most = changes.iter().copied().fold(0.0, f64::max);
    (most > JUMP && most > JUMP_TIMES * median).then_some(most)
}

/// The second hearing of a tone: the phase of its first multiple against the rough angle.
pub(super) struct Refiner {
    decimator: Decimator,
    step_s: f64,
    kept: Vec<f32>,
    at: u64,
    fit: OrderFit,
    window_begin: Option<(f64, f64)>,
    phases: Vec<(f64, f64, f64)>,
    windows: usize,
}

impl Refiner {
    /// For samples at this rate and turnings up to `fastest` a second.
    #[must_use]
    pub fn new(rate_hz: f64, fastest: f64) -> Self {
        let decimator = Decimator::new((rate_hz * Decimator::PASS / (4.0 * fastest)) as usize);
        Self {
            step_s: decimator.factor() as f64 / rate_hz,
            decimator,
            kept: Vec::new(),
            at: 0,
            fit: OrderFit::new(&[(1.0, false), (2.0, false), (3.0, false)]),
            window_begin: None,
            phases: Vec::new(),
            windows: 0,
        }
    }

    /// Takes samples of the tone's channel.
    pub fn push(&mut self, samples: &[f32], rough: &ToneTrack) {
        let mut kept = std::mem::take(&mut self.kept);
        kept.clear();
        self.decimator.push(samples, &mut kept);
        for sample in &kept {
            let time = self.at as f64 * self.step_s;
            self.at += 1;
            if time < rough.begin_s || time > rough.end_s {
                continue;
            }
            let turns = rough.phase.turns(time);
            let (begin, turned) = *self.window_begin.get_or_insert((time, turns));
            self.fit.push(turns, 1.0, f64::from(*sample));
            if turns - turned >= WINDOW_TURNS && time - begin >= WINDOW_S {
                self.window(0.5 * (begin + time));
            }
        }
        self.kept = kept;
    }

    /// Whether anything that is still to come matters.
    #[must_use]
    pub fn goes_on(&self, rough: &ToneTrack) -> bool {
        self.at as f64 * self.step_s <= rough.end_s
    }

    fn window(&mut self, time: f64) {
        self.window_begin = None;
        self.windows += 1;
        let Some(window) = self.fit.take() else {
            return;
        };
        let ((a, b), variance) = (window.parts[0], window.variances[0]);
        if a * a + b * b < CLEAR * CLEAR * variance {
            return;
        }
        self.phases.push((
            time,
            b.atan2(a),
            (a * a + b * b) / variance.max(f64::MIN_POSITIVE),
        ));
    }

    /// The finer track; the rough one where the tone is too faint for its phase.
    #[must_use]
    pub fn finish(self, rough: ToneTrack) -> ToneTrack {
        if (self.phases.len() as f64) < MOSTLY * self.windows as f64 || self.phases.len() < 4 {
            return rough;
        }
        let lasts = rough.end_s - rough.begin_s;
        let step = KNOT_S.max(PHASES_PER_KNOT * lasts / self.phases.len() as f64);
        let mut fit = PhaseFit::new(rough.begin_s, rough.end_s, step);
        for n in 0..(lasts / ROUGH_STEP_S) as usize {
            let time = rough.begin_s + (n as f64 + 0.5) * ROUGH_STEP_S;
            fit.rate(time, rough.phase.rate(time), ROUGH_WEIGHT);
        }
        let mut last = self.phases[0].1;
        for (time, phase, _) in &self.phases {
            let ahead = phase - last;
            last += ahead - std::f64::consts::TAU * (ahead / std::f64::consts::TAU).round();
            fit.turns(
                *time,
                rough.phase.turns(*time) + last / std::f64::consts::TAU,
                1.0,
            );
        }
        match fit.solve() {
            Some(phase) => ToneTrack {
                scatter: phase.residual,
                phase,
                ..rough
            },
            None => rough,
        }
    }
}
