//! Following one turning through frames of lines: its rate is what most lines are whole multiples of.

use super::frames::{Frame, Line};

/// Multiples of the rate that are looked for.
const MULTIPLES: usize = 6;
/// A line's weight ends at this level: a loud line is no better proof than a clear one.
const ENOUGH: f64 = 5.0;
/// Up to this level a line may as well be noise.
const UNSURE: f64 = 2.0;
/// A missing first multiple costs so much, any other a little.
const FIRST_MISSING: f64 = 3.0;
const OTHER_MISSING: f64 = 0.3;
/// Candidates of a frame.
const MOST: usize = 12;
/// Logarithm of the rate's change from frame to frame that costs half a unit.
const DRIFT: f64 = 0.02;
/// What a jump costs at most, and what falling silent or coming back costs.
const JUMP: f64 = 10.0;
const PAUSE: f64 = 3.0;
/// A change larger than this (and a little more for every frame left out) does not belong to the stretch; so
/// many frames that do not, or are silent, are left out before it ends.
const BREAK: f64 = 0.045;
const BREAK_MORE: f64 = 0.01;
const BRIDGED: usize = 4;
/// What a candidate must score to be better than silence.
const LEAST_SCORE: f64 = 2.5;

/// One frame of a followed rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Middle of the frame.
    pub time: f64,
    /// The rate, from all multiples found, in cycles per unit of time.
    pub rate: f64,
    /// How well the lines bear it out (2.5 is the least; one clear line gives 3.5, a clear comb over 15).
    pub score: f64,
    /// Whether the lines bear out half or a third of the rate too, to the level of those lines.
    pub below: f64,
}

/// The longest stretch over which one rate was followed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ridge {
    /// Its frames, in time; frames without a line are left out.
    pub steps: Vec<Step>,
    /// Frames of the stretch, those left out included.
    pub frames: usize,
    /// Frames of the whole signal.
    pub of_frames: usize,
}

#[derive(Debug, Clone, Copy)]
struct Candidate {
    rate: f64,
    score: f64,
    below: f64,
}

/// Follows the rate between `slowest` and `fastest` through frames whose lines are good to `blur`
/// (in cycles per unit of time; one bin of the unpadded transform does).
///
/// Every line, its half, third and quarter is a candidate. A candidate gains the capped levels of the lines
/// at its first six multiples (the n-th weighted by 1/√n), loses for a missing first multiple, and loses
/// the levels of lines at odd multiples of its half and of its thirds: so a rate is not
/// taken for its half (whose first multiple is missing) nor for its double (whose half is there). The path
/// through all frames is the dearest by dynamic programming, with a price on change, on a jump and on silence.
/// A tone alone is taken as the first multiple; whether it is the second of something silent cannot be seen.
#[must_use]
pub fn follow(frames: &[Frame], slowest: f64, fastest: f64, blur: f64) -> Ridge {
    let candidates: Vec<Vec<Candidate>> = frames
        .iter()
        .map(|frame| candidates(&frame.lines, slowest, fastest, blur))
        .collect();
    let path = dearest(&candidates);
    longest(frames, &path)
}

fn candidates(lines: &[Line], slowest: f64, fastest: f64, blur: f64) -> Vec<Candidate> {
    let mut found: Vec<Candidate> = Vec::new();
    for line in lines {
        for part in 1..=4 {
            let rate = f64::from(line.frequency) / f64::from(part);
            if rate < slowest || rate > fastest {
                continue;
            }
            let candidate = scored(lines, rate, blur);
            let near =
                |other: &Candidate| (other.rate / rate - 1.0).abs() < 0.25 * blur / rate.max(blur);
            match found.iter_mut().find(|other| near(other)) {
                Some(other) if other.score >= candidate.score => {}
                Some(other) => *other = candidate,
                None => found.push(candidate),
            }
        }
    }
    found.retain(|candidate| candidate.score >= LEAST_SCORE);
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    found.truncate(MOST);
    found
}

/// Score of a rate, and the rate itself made better by all its multiples.
fn scored(lines: &[Line], rate: f64, blur: f64) -> Candidate {
    let reach = lines
        .iter()
        .map(|line| f64::from(line.frequency))
        .fold(0.0, f64::max)
        + blur;
    let (mut score, mut sum, mut weights) = (0.0, 0.0, 0.0);
    for multiple in 1..=MULTIPLES {
        let n = multiple as f64;
        match line_at(
            lines,
            n * rate,
            (0.25 * blur).max(0.01 * n * rate).min(0.2 * rate),
        ) {
            Some(line) => {
                let level = f64::from(line.level).min(ENOUGH);
                score += level / n.sqrt();
                // A line's place is equally good whatever its multiple, so its rate is n times better; one that
                // is hardly higher than noise may be noise.
                let weight = (level - UNSURE).max(0.01).powi(2) * n * n;
                sum += weight * f64::from(line.frequency) / n;
                weights += weight;
            }
            None if multiple == 1 => score -= FIRST_MISSING,
            None if n * rate < reach => score -= OTHER_MISSING,
            None => {}
        }
    }
    let between = [(0.5, 1.0), (1.5, 1.0), (1.0 / 3.0, 0.7), (2.0 / 3.0, 0.7)];
    let below: f64 = between
        .iter()
        .filter_map(|(share, weight)| {
            let line = line_at(
                lines,
                share * rate,
                (0.4 * blur).max(0.01 * rate).min(0.06 * rate),
            )?;
            Some(weight * f64::from(line.level).min(ENOUGH))
        })
        .sum();
    let rate = if weights > 0.0 { sum / weights } else { rate };
    Candidate {
        rate,
        score: score - below,
        below,
    }
}

/// The highest line within a distance of a frequency.
fn line_at(lines: &[Line], frequency: f64, within: f64) -> Option<&Line> {
    // Lines come with the highest first.
    lines
        .iter()
        .find(|line| (f64::from(line.frequency) - frequency).abs() <= within)
}

/// The path of the highest sum: for every frame a candidate, or none.
fn dearest(frames: &[Vec<Candidate>]) -> Vec<Option<Candidate>> {
    let mut sums: Vec<Vec<f64>> = Vec::new();
    let mut back: Vec<Vec<usize>> = Vec::new();
    for (at, here) in frames.iter().enumerate() {
        let mut sum = Vec::with_capacity(here.len() + 1);
        let mut from = Vec::with_capacity(here.len() + 1);
        for candidate in here.iter().map(Some).chain([None]) {
            let own = candidate.map_or(0.0, |candidate| candidate.score);
            let (place, best) = match at.checked_sub(1) {
                None => (0, 0.0),
                Some(before) => best_before(&frames[before], &sums[before], candidate),
            };
            sum.push(best + own);
            from.push(place);
        }
        sums.push(sum);
        back.push(from);
    }
    let mut path = vec![None; frames.len()];
    let Some(last) = sums.last() else { return path };
    let mut place = (0..last.len())
        .max_by(|a, b| last[*a].total_cmp(&last[*b]))
        .unwrap_or(0);
    for at in (0..frames.len()).rev() {
        path[at] = frames[at].get(place).copied();
        place = back[at][place];
    }
    path
}

fn best_before(before: &[Candidate], sums: &[f64], to: Option<&Candidate>) -> (usize, f64) {
    let price = |from: Option<&Candidate>| match (from, to) {
        (Some(from), Some(to)) => (0.5 * ((to.rate / from.rate).ln() / DRIFT).powi(2)).min(JUMP),
        (None, None) => 0.0,
        _ => PAUSE,
    };
    let mut best = (0, f64::NEG_INFINITY);
    for (place, sum) in sums.iter().enumerate() {
        let value = sum - price(before.get(place));
        if value > best.1 {
            best = (place, value);
        }
    }
    best
}

/// The longest stretch without a jump or a long silence.
fn longest(frames: &[Frame], path: &[Option<Candidate>]) -> Ridge {
    let mut best = Ridge {
        of_frames: frames.len(),
        ..Ridge::default()
    };
    let mut stretch = Ridge {
        of_frames: frames.len(),
        ..Ridge::default()
    };
    let (mut first, mut last) = (0, 0);
    for (at, place) in path.iter().enumerate() {
        let Some(candidate) = place else { continue };
        let gap = at - last;
        let away = stretch
            .steps
            .last()
            .map_or(0.0, |step| (candidate.rate / step.rate).ln().abs());
        let is_off = away > BREAK + BREAK_MORE * gap.saturating_sub(1) as f64;
        if is_off && gap <= BRIDGED {
            continue;
        }
        let broken = !stretch.steps.is_empty() && (is_off || gap > BRIDGED + 1);
        if broken && stretch.steps.len() > best.steps.len() {
            best.clone_from(&stretch);
        }
        if broken || stretch.steps.is_empty() {
            stretch.steps.clear();
            first = at;
        }
        last = at;
        stretch.frames = last - first + 1;
        stretch.steps.push(Step {
            time: frames[at].time,
            rate: candidate.rate,
            score: candidate.score,
            below: candidate.below,
        });
    }
    if stretch.steps.len() > best.steps.len() {
        stretch
    } else {
        best
    }
}

/// The same frames without the lines that stay where they are: those found within a sixth of `blur` of the
/// same frequency in more than `share` of all frames. What slows down keeps its lines.
#[must_use]
pub fn without_standing(frames: &[Frame], blur: f64, share: f64) -> Vec<Frame> {
    let cell = |frequency: f32| (f64::from(frequency) / (0.1 * blur)).round() as usize;
    let mut counts: Vec<usize> = Vec::new();
    for line in frames.iter().flat_map(|frame| &frame.lines) {
        let at = cell(line.frequency);
        if counts.len() <= at + 1 {
            counts.resize(at + 2, 0);
        }
        counts[at] += 1;
    }
    let most = share * frames.len() as f64;
    let stands = |line: &Line| {
        let at = cell(line.frequency);
        let around: usize = counts[at.saturating_sub(1)..=at + 1].iter().sum();
        around as f64 > most
    };
    let kept = frames.iter().map(|frame| Frame {
        time: frame.time,
        lines: frame
            .lines
            .iter()
            .filter(|line| !stands(line))
            .copied()
            .collect(),
    });
    kept.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frames(rate: impl Fn(f64) -> f64, multiples: &[(f64, f32)]) -> Vec<Frame> {
        (0..200)
            .map(|n| {
                let time = 0.128 * f64::from(n);
                let mut lines: Vec<Line> = multiples
                    .iter()
                    .map(|(order, level)| Line {
                        frequency: (order * rate(time)) as f32,
                        level: *level,
                    })
                    .collect();
                lines.sort_by(|a, b| b.level.total_cmp(&a.level));
                Frame { time, lines }
            })
            .collect()
    }

    #[test]
    fn law_neither_half_nor_double_is_taken() {
        let slowing = |time: f64| 90.0 * (-0.05 * time).exp();
        let patterns: [&[(f64, f32)]; 5] = [
            &[(1.0, 7.0)],
            &[(1.0, 5.0), (2.0, 9.0)],
            &[(1.0, 3.0), (2.0, 9.0), (4.0, 9.0)],
            &[
                (1.0, 6.0),
                (2.0, 6.0),
                (3.0, 6.0),
                (4.0, 6.0),
                (5.0, 6.0),
                (6.0, 6.0),
                (7.0, 6.0),
            ],
            &[
                (1.0, 6.0),
                (3.0, 6.0),
                (5.0, 6.0),
                (1.19, 5.0),
                (0.4167, 4.0),
            ],
        ];
        for pattern in patterns {
            let ridge = follow(&frames(slowing, pattern), 4.0, 200.0, 2.0);
            assert_eq!(ridge.steps.len(), 200, "{pattern:?}");
            for step in &ridge.steps {
                assert!(
                    (step.rate / slowing(step.time) - 1.0).abs() < 1e-3,
                    "{step:?} {pattern:?}"
                );
            }
        }
    }

    #[test]
    fn law_a_standing_line_is_taken_out_and_a_slowing_one_stays() {
        let slowing = |time: f64| 90.0 * (-0.05 * time).exp();
        let mut hum = frames(slowing, &[(1.0, 5.0)]);
        for frame in &mut hum {
            frame.lines.insert(
                0,
                Line {
                    frequency: 50.0,
                    level: 9.0,
                },
            );
        }
        let cleared = without_standing(&hum, 2.0, 0.6);
        assert!(
            cleared
                .iter()
                .flat_map(|frame| &frame.lines)
                .all(|line| line.level < 9.0)
        );
        let ridge = follow(&cleared, 4.0, 200.0, 2.0);
        assert!(
            ridge.frames > 190 && (ridge.steps[0].rate / 90.0 - 1.0).abs() < 1e-6,
            "{ridge:?}"
        );
    }

    #[test]
    fn law_no_lines_no_ridge() {
        assert!(
            follow(&frames(|_| 50.0, &[]), 4.0, 200.0, 2.0)
                .steps
                .is_empty()
        );
        assert!(follow(&[], 4.0, 200.0, 2.0).steps.is_empty());
    }
}
