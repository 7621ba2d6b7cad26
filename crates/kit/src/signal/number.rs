//! Counting pulses of something that turns: which pulse is which turn, what was missed, what is too much.

use crate::describe;

/// Intervals looked at together to find a place to begin.
const START_INTERVALS: usize = 12;
/// A beginning is steady when the robust deviation of its intervals is below this share of the median.
const STEADY: f64 = 0.05;
/// Counted pulses that the next one is foretold from.
const FORETELL_FROM: usize = 16;
/// A pulse counts if it lies within this share of a period of where it was foretold.
const WITHIN: f64 = 0.2;
/// After so many missed pulses in a row the count is lost, and the run ends.
const MOST_MISSED: i64 = 12;
/// Beginnings tried before it is said that this is no steady turning.
const MOST_RUNS: usize = 40;

/// Pulses with their whole numbers, of the longest unbroken run.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Counted {
    /// Times of the pulses that were used, ascending, in the unit given.
    pub times: Vec<f64>,
    /// The number of each pulse; the first is 0, missed pulses leave gaps.
    pub numbers: Vec<i64>,
    /// Which of the given pulses each one is.
    pub places: Vec<usize>,
    /// Pulses that should have come within the run and did not.
    pub missed: usize,
    /// Pulses within the run that should not have come.
    pub surplus: usize,
}

/// Counts pulses: foretells each from those before by a parabola through the last sixteen, takes the
/// nearest within a fifth of a period, and steps over up to twelve missed ones.
///
/// `times` ascending, in any unit; `shortest` and `longest` period believed, in that unit. Counting
/// begins where twelve intervals agree best to 5 % (robust, so a few missed or doubled pulses do no harm)
/// and goes forwards and backwards from there; after a break it begins again, and the run with the most
/// pulses is given. None if no place is steady. What it needs: fewer than about a third of the pulses
/// missing, and a period that changes by less than a tenth from one to the next.
#[must_use]
pub fn count(times: &[f64], shortest: f64, longest: f64) -> Option<Counted> {
    let mut best: Option<Counted> = None;
    let mut from = 0;
    for _ in 0..MOST_RUNS {
        let Some((start, period)) = beginning(&times[from..], shortest, longest) else {
            break;
        };
        let start = from + start;
        let forward: Vec<f64> = times[start..].to_vec();
        let ahead = walk(&forward, period);
        let backward: Vec<f64> = times[from..=start].iter().rev().map(|time| -time).collect();
        let behind = walk(&backward, period);
        let run = join(times, start, &behind, &ahead);
        let next = run
            .places
            .last()
            .map_or(start + 1, |last| last + 1)
            .max(start + 1);
        if best
            .as_ref()
            .is_none_or(|best| run.times.len() > best.times.len())
        {
            best = Some(run);
        }
        from = next;
    }
    best
}

/// The first place where a stretch of intervals is as steady as the steadiest, within a factor.
fn beginning(times: &[f64], shortest: f64, longest: f64) -> Option<(usize, f64)> {
    let stretches = times
        .windows(START_INTERVALS + 1)
        .enumerate()
        .step_by(START_INTERVALS / 2);
    let mut best: Option<(usize, f64, f64)> = None;
    for (at, stretch) in stretches {
        let gaps: Vec<f64> = stretch.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let Some((middle, spread)) = describe::robust(&gaps) else {
            continue;
        };
        let rough = spread / middle;
        if middle < shortest || middle > longest || rough > STEADY {
            continue;
        }
        // A pulse to begin with must itself be a true one: its next interval is near the median.
        let Some(own) = gaps
            .iter()
            .position(|gap| (gap / middle - 1.0).abs() < WITHIN / 2.0)
        else {
            continue;
        };
        if best.is_none_or(|(_, _, least)| rough < least) {
            best = Some((at + own, middle, rough));
        }
        if rough < STEADY / 10.0 {
            break;
        }
    }
    best.map(|(at, period, _)| (at, period))
}

/// One direction: numbers counted from the first time, their places in `times`.
fn walk(times: &[f64], period: f64) -> Vec<(i64, usize)> {
    let mut counted: Vec<(i64, usize)> = vec![(0, 0)];
    let mut at = 1;
    loop {
        let (last, _) = counted[counted.len() - 1];
        let foretold = Foretold::from(&counted, times, period);
        let Some((number, place)) = next(times, at, last, &foretold) else {
            return counted;
        };
        counted.push((number, place));
        at = place + 1;
    }
}

/// The next pulse that lies near a foretold one, the nearest where several do.
fn next(times: &[f64], from: usize, last: i64, foretold: &Foretold) -> Option<(i64, usize)> {
    let mut found: Option<(i64, usize, f64)> = None;
    for (place, time) in times.iter().enumerate().skip(from) {
        let ahead = (foretold.number_at(*time) - last as f64).round() as i64;
        if ahead > MOST_MISSED + 1 || found.is_some_and(|(number, ..)| last + ahead > number) {
            break;
        }
        if ahead < 1 {
            continue;
        }
        let off = ((time - foretold.time_of(last + ahead)) / foretold.period).abs();
        if off < WITHIN && found.is_none_or(|(_, _, least)| off < least) {
            found = Some((last + ahead, place, off));
        }
    }
    found.map(|(number, place, _)| (number, place))
}

/// Where pulses are expected, as a parabola about the last counted one.
struct Foretold {
    last: f64,
    time: f64,
    period: f64,
    bend: f64,
}

impl Foretold {
    fn from(counted: &[(i64, usize)], times: &[f64], period: f64) -> Self {
        let tail = &counted[counted.len().saturating_sub(FORETELL_FROM)..];
        let (last, place) = counted[counted.len() - 1];
        let origin = times[place];
        let points: Vec<(f64, f64)> = tail
            .iter()
            .map(|(number, place)| ((number - last) as f64, times[*place] - origin))
            .collect();
        let fit = match points.len() {
            0..4 => None,
            4..8 => fitted(&points, 2),
            _ => fitted(&points, 3),
        };
        let [early, slope, bend] = fit.unwrap_or([0.0, period, 0.0]);
        Self {
            last: last as f64,
            time: origin + early,
            period: slope,
            bend,
        }
    }

    fn time_of(&self, number: i64) -> f64 {
        let n = number as f64 - self.last;
        self.time + n * (self.period + n * self.bend)
    }

    fn number_at(&self, time: f64) -> f64 {
        // One step of Newton from the straight line is enough for a period that changes slowly.
        let n = (time - self.time) / self.period;
        let slope = self.period + 2.0 * n * self.bend;
        if slope <= 0.0 {
            return self.last + n;
        }
        self.last + n - n * n * self.bend / slope
    }
}

/// Least squares of degree `terms − 1` (2 or 3 terms) by normal equations about the origin.
fn fitted(points: &[(f64, f64)], terms: usize) -> Option<[f64; 3]> {
    let mut matrix = [[0.0; 4]; 3];
    for &(x, y) in points {
        let powers = [1.0, x, x * x];
        for row in 0..terms {
            for column in 0..terms {
                matrix[row][column] += powers[row] * powers[column];
            }
            matrix[row][3] += powers[row] * y;
        }
    }
    for pivot in 0..terms {
        let divisor = matrix[pivot][pivot];
        if divisor.abs() < f64::MIN_POSITIVE {
            return None;
        }
        for row in 0..terms {
            if row == pivot {
                continue;
            }
            let factor = matrix[row][pivot] / divisor;
            let from = matrix[pivot];
            for (to, value) in matrix[row].iter_mut().zip(from) {
                *to -= factor * value;
            }
        }
    }
    let mut answer = [0.0; 3];
    for (row, value) in answer.iter_mut().enumerate().take(terms) {
        *value = matrix[row][3] / matrix[row][row];
    }
    (answer[1] > 0.0).then_some(answer)
}

fn join(times: &[f64], start: usize, behind: &[(i64, usize)], ahead: &[(i64, usize)]) -> Counted {
    let back = behind
        .iter()
        .skip(1)
        .rev()
        .map(|(number, place)| (-number, start - place));
    let all: Vec<(i64, usize)> = back
        .chain(ahead.iter().map(|(number, place)| (*number, start + place)))
        .collect();
    let (first, begin) = all[0];
    let (last, end) = all[all.len() - 1];
    Counted {
        times: all.iter().map(|(_, place)| times[*place]).collect(),
        numbers: all.iter().map(|(number, _)| number - first).collect(),
        places: all.iter().map(|(_, place)| *place).collect(),
        missed: (last - first) as usize + 1 - all.len(),
        surplus: end - begin + 1 - all.len(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    /// Pulses of a turning that slows by `slowing` a second from `first` turns a second.
    fn slowing(first: f64, slowing: f64, seconds: f64) -> Vec<f64> {
        let turns = |t: f64| first / slowing * (1.0 - (-slowing * t).exp());
        let all = turns(seconds) as i64;
        (0..all)
            .map(|k| -(1.0 - k as f64 * slowing / first).ln() / slowing)
            .collect()
    }

    #[test]
    fn law_missed_and_doubled_pulses_are_counted_and_the_numbers_are_right() {
        for seed in 0..50 {
            let mut draws = SplitMix64::new(seed);
            let exact = slowing(70.0, 0.05, 20.0);
            let (mut times, mut kept) = (Vec::new(), Vec::new());
            let (mut missed, mut doubled) = (0, 0);
            for (k, time) in exact.iter().enumerate() {
                let ends = k < 20 || k + 20 > exact.len();
                if !ends && draws.uniform() < 0.05 {
                    missed += 1;
                    continue;
                }
                times.push(time + 2e-5 * (draws.uniform() - 0.5));
                kept.push(k as i64);
                if !ends && draws.uniform() < 0.02 {
                    doubled += 1;
                    times.push(time + (0.1 + 0.8 * draws.uniform()) / 70.0);
                }
            }
            times.sort_by(f64::total_cmp);
            let counted = count(&times, 1.0 / 300.0, 1.0).expect("steady");
            assert_eq!(
                (counted.missed, counted.numbers.last()),
                (missed, kept.last()),
                "{seed}"
            );
            // A doubled pulse may take the place of the true one next to it, never change a number.
            assert_eq!(counted.surplus, doubled, "{seed}");
            let first = counted.times[0];
            for (time, number) in counted.times.iter().zip(&counted.numbers) {
                let truth = exact[*number as usize];
                assert!(
                    (time - first - (truth - exact[0])).abs() < WITHIN / 25.0,
                    "{seed} {number}"
                );
            }
        }
    }

    #[test]
    fn law_chance_times_are_no_turning() {
        let mut draws = SplitMix64::new(3);
        let mut time = 0.0;
        let times: Vec<f64> = (0..2000)
            .map(|_| {
                time -= draws.uniform().ln() / 50.0;
                time
            })
            .collect();
        let run = count(&times, 1.0 / 300.0, 1.0).map_or(0, |run| run.times.len());
        assert!(
            run < 60,
            "{run} of 2000 chance pulses were counted as one run"
        );
    }

    #[test]
    fn law_a_break_ends_a_run_and_the_longest_is_given() {
        let mut times = slowing(70.0, 0.05, 4.0);
        let later: Vec<f64> = slowing(50.0, 0.05, 8.0)
            .iter()
            .map(|time| time + 6.0)
            .collect();
        times.extend(&later);
        let counted = count(&times, 1.0 / 300.0, 1.0).expect("steady");
        assert_eq!(
            (counted.times.len(), counted.missed, counted.surplus),
            (later.len(), 0, 0)
        );
        assert_eq!(count(&[], 0.01, 1.0), None);
        assert_eq!(count(&[1.0, 2.0], 0.01, 9.0), None);
    }
}
