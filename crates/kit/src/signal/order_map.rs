//! A map of level against order and time, of a fixed size whatever the length.

use std::f64::consts::TAU;
use std::sync::Arc;

use realfft::num_complex::Complex;
use realfft::{RealFftPlanner, RealToComplex};

/// Samples a turn after resampling.
const PER_TURN: usize = 32;
/// Rows an order.
const PER_ORDER: usize = 16;
/// Rows of the map: orders up to 8.
const ROWS: usize = 8 * PER_ORDER + 1;
/// What is so far below the loudest place is as good as nothing, in decibels.
const FLOOR: f32 = -80.0;

/// Gathers a signal sampled in time, with its angle, into columns of power against order.
///
/// The signal is resampled by straight lines to 32 samples a turn, cut into windows of a power of two of
/// turns (Hann), transformed, and its power added to the column of the window's time. Straight lines
/// flatten what has few samples a period: this is for the eye; amplitudes come from a fit.
pub struct OrderMapper {
    begin: f64,
    width: f64,
    turns: usize,
    columns: Vec<(Vec<f32>, u32)>,
    resampled: Vec<f32>,
    window_begin: f64,
    next: f64,
    before: Option<(f64, f32)>,
    transform: Arc<dyn RealToComplex<f32>>,
    output: Vec<Complex<f32>>,
    scratch: Vec<Complex<f32>>,
}

/// The map: levels in decibels below the loudest place.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Map {
    /// Middle of every column.
    pub times: Vec<f64>,
    /// From row to row, beginning at order 0.
    pub step: f64,
    /// One list of levels a column, 0 at most.
    pub columns: Vec<Vec<f32>>,
}

impl OrderMapper {
    /// From `begin` to `end` in `columns` columns; windows of `turns` turns, rounded to a power of two
    /// from 4 to 64.
    #[must_use]
    pub fn new(begin: f64, end: f64, columns: usize, turns: usize) -> Self {
        let turns = turns.clamp(4, 64).next_power_of_two().min(64);
        let columns = columns.max(1);
        let transform = RealFftPlanner::<f32>::new().plan_fft_forward(turns * PER_TURN);
        Self {
            begin,
            width: ((end - begin) / columns as f64).max(f64::MIN_POSITIVE),
            turns,
            columns: vec![(vec![0.0; ROWS], 0); columns],
            resampled: Vec::new(),
            window_begin: begin,
            next: f64::NEG_INFINITY,
            before: None,
            output: transform.make_output_vec(),
            scratch: transform.make_scratch_vec(),
            transform,
        }
    }

    /// Takes a sample at a time and an angle in turns; both ascend.
    pub fn push(&mut self, time: f64, turns: f64, sample: f32) {
        let Some((last, held)) = self.before.replace((turns, sample)) else {
            self.next = turns;
            return;
        };
        while self.next <= turns && turns > last {
            let share = ((self.next - last) / (turns - last)) as f32;
            if self.resampled.is_empty() {
                self.window_begin = time;
            }
            self.resampled.push(held + share * (sample - held));
            self.next += 1.0 / PER_TURN as f64;
            if self.resampled.len() == self.turns * PER_TURN {
                self.window(time);
            }
        }
    }

    fn window(&mut self, time: f64) {
        let mut input = std::mem::take(&mut self.resampled);
        let (length, mean) = (
            input.len() as f64,
            input.iter().sum::<f32>() / input.len() as f32,
        );
        for (n, sample) in input.iter_mut().enumerate() {
            *sample = (*sample - mean) * (0.5 - 0.5 * (TAU * n as f64 / length).cos()) as f32;
        }
        // The lengths are those the plan made, so it cannot fail; a window less would be all.
        if self
            .transform
            .process_with_scratch(&mut input, &mut self.output, &mut self.scratch)
            .is_err()
        {
            return;
        }
        let middle = 0.5 * (self.window_begin + time);
        let column =
            (((middle - self.begin) / self.width).max(0.0) as usize).min(self.columns.len() - 1);
        let (powers, count) = &mut self.columns[column];
        for (row, power) in powers.iter_mut().enumerate() {
            let (from, to) = (row * self.turns, (row + 1) * self.turns);
            let bins = (from.div_ceil(PER_ORDER))
                ..=(to.div_ceil(PER_ORDER).saturating_sub(1)).max(from / PER_ORDER);
            let loudest = bins.map(|bin| self.output[bin.min(self.output.len() - 1)].norm_sqr());
            *power += loudest.fold(0.0, f32::max);
        }
        *count += 1;
        input.clear();
        self.resampled = input;
    }

    /// The map; a column that no window fell into repeats the one before it (or the first that is there).
    #[must_use]
    pub fn finish(self) -> Map {
        let mut columns: Vec<Option<Vec<f32>>> = self
            .columns
            .into_iter()
            .map(|(powers, count)| {
                (count > 0).then(|| powers.iter().map(|p| p / count as f32).collect())
            })
            .collect();
        let loudest = columns
            .iter()
            .flatten()
            .flatten()
            .fold(0.0f32, |top, p| top.max(*p));
        let Some(first) = columns
            .iter()
            .flatten()
            .next()
            .cloned()
            .filter(|_| loudest > 0.0)
        else {
            return Map::default();
        };
        let mut held = first;
        for column in &mut columns {
            match column {
                Some(own) => held.clone_from(own),
                None => *column = Some(held.clone()),
            }
        }
        let level = |power: &f32| (10.0 * (power / loudest).max(1e-30).log10()).max(FLOOR);
        Map {
            times: (0..columns.len())
                .map(|n| self.begin + (n as f64 + 0.5) * self.width)
                .collect(),
            step: 1.0 / PER_ORDER as f64,
            columns: columns
                .iter()
                .flatten()
                .map(|powers| powers.iter().map(level).collect())
                .collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_an_order_stands_in_its_own_row_whatever_the_rate() {
        for turns in [8, 32, 64] {
            let mut map = OrderMapper::new(0.0, 10.0, 20, turns);
            for n in 0..40_000 {
                let time = f64::from(n) / 4000.0;
                let angle = 80.0 * time - 3.0 * time * time;
                map.push(time, angle, (TAU * 3.0 * angle).sin() as f32);
            }
            let map = map.finish();
            assert_eq!((map.columns.len(), map.times.len()), (20, 20));
            for column in &map.columns {
                let loudest = (0..column.len()).max_by(|a, b| column[*a].total_cmp(&column[*b]));
                let order = loudest.expect("rows") as f64 * map.step;
                // A window of so many turns parts orders 1/turns apart; a row is 1/16.
                assert!(
                    (order - 3.0).abs() <= 0.0625f64.max(1.0 / turns as f64),
                    "{order} {turns}"
                );
            }
        }
    }

    #[test]
    fn law_silence_has_no_map() {
        let mut map = OrderMapper::new(0.0, 1.0, 4, 8);
        (0..4000).for_each(|n| map.push(f64::from(n) / 4000.0, f64::from(n) / 50.0, 0.0));
        assert_eq!(map.finish(), Map::default());
    }
}
