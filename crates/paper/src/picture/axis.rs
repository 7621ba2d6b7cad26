//! A straight scale with round numbers on it.

/// A scale from a value range to a length on the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axis {
    /// The value at the start.
    pub from: f64,
    /// The value at the end.
    pub to: f64,
    /// Where the start lies.
    pub start: f64,
    /// Where the end lies.
    pub end: f64,
}

impl Axis {
    /// A scale that is never of no length: a single value gets room on both sides.
    #[must_use]
    pub fn new(from: f64, to: f64, start: f64, end: f64) -> Self {
        let (from, to) = if from.is_finite() && to.is_finite() {
            (from, to)
        } else {
            (0.0, 1.0)
        };
        let room = if to > from {
            0.0
        } else {
            (from.abs() * 0.01).max(0.01)
        };
        Self {
            from: from - room,
            to: to.max(from) + room,
            start,
            end,
        }
    }

    /// Where a value lies.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        self.start + (value - self.from) / (self.to - self.from) * (self.end - self.start)
    }

    /// Round values along the scale, about `wanted` of them, and the figures behind their point.
    #[must_use]
    pub fn ticks(&self, wanted: usize) -> (Vec<f64>, usize) {
        let rough = (self.to - self.from) / wanted.max(1) as f64;
        let power = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .map(|n| n * power)
            .find(|step| *step >= rough * 0.999)
            .unwrap_or(power * 10.0);
        let places = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
        // A tick that only rounding pushed past the end still belongs to the scale.
        let slack = step * 1e-6;
        let first = ((self.from - slack) / step).ceil() as i64;
        let last = ((self.to + slack) / step).floor() as i64;
        ((first..=last).map(|n| n as f64 * step).collect(), places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_ticks_are_round_and_inside() {
        for (from, to) in [
            (10.6, 11.05),
            (-0.3, 0.3),
            (0.0, 1e-4),
            (57.5, 57.7),
            (3.0, 3.0),
            (0.0, 987.0),
        ] {
            let axis = Axis::new(from, to, 0.0, 500.0);
            let (ticks, places) = axis.ticks(6);
            assert!((2..=13).contains(&ticks.len()), "{from} {to}: {ticks:?}");
            for tick in ticks {
                assert!(tick >= axis.from - 1e-9 && tick <= axis.to + 1e-9);
                let shown: f64 = format!("{tick:.places$}").parse().unwrap();
                assert!((shown - tick).abs() < 1e-9, "{tick} is shown as {shown}");
            }
        }
    }

    #[test]
    fn law_a_scale_is_never_of_no_length() {
        for (from, to) in [(5.0, 5.0), (0.0, 0.0), (f64::NAN, 1.0), (2.0, 1.0)] {
            let axis = Axis::new(from, to, 0.0, 100.0);
            assert!(axis.to > axis.from && axis.at(axis.to) == 100.0);
        }
    }
}
