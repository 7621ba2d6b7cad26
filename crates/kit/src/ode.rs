//! First-order differential equations, stepped by themselves to an asked accuracy.

/// How accurate, and how long it may take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Error a step may make, as a share of the value.
    pub relative: f64,
    /// Error a step may make where the value is near 0, in the value's own unit.
    pub absolute: f64,
    /// Most steps, refused ones counted.
    pub most_steps: usize,
}

impl Default for Accuracy {
    fn default() -> Self {
        Self {
            relative: 1e-10,
            absolute: 1e-14,
            most_steps: 100_000,
        }
    }
}

/// Why it did not arrive.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NotArrived {
    /// The steps ran out.
    #[error("the steps ran out at {at}: ask for less accuracy or a shorter way")]
    TooManySteps {
        /// How far it came.
        at: f64,
    },
    /// The step became smaller than the place's last digit, or the slope is no number.
    #[error("the step vanished at {at}: the slope is no number or has no bound there")]
    StepVanished {
        /// How far it came.
        at: f64,
    },
}

/// Where it arrived.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrival<const N: usize> {
    /// The place: the end, or where the event happened.
    pub at: f64,
    /// The values there.
    pub y: [f64; N],
    /// Whether it stopped because the event happened.
    pub event: bool,
    /// Steps taken.
    pub steps: usize,
}

/// Follows `y' = slope(t, y)` from `from` to `to`, or until `event` is no longer positive.
///
/// - **Method:** Runge–Kutta of order 5 with an error estimate of order 4 (J. Dormand, P. Prince,
///   *J. Comput. Appl. Math.* 6 (1980) 19, from memory; the tests measure the order), continued
///   with its own order 4 between the steps.
/// - **What must hold:** `slope` is smooth where it is asked; `to` may be before `from`. `event` is
///   asked at the end of every step: one that changes its sign twice within a step is not seen.
/// - **Accuracy:** each step's error is kept below `absolute + relative·|y|`; what is off at the end
///   grows with the way, mostly to a few times that.
/// - **The event's place** is found on the continuation to the last digits of the time, the values
///   there to order 4.
///
/// # Errors
/// The steps ran out, or no step is small enough; both say how far it came.
pub fn follow<const N: usize>(
    mut slope: impl FnMut(f64, &[f64; N]) -> [f64; N],
    from: f64,
    to: f64,
    start: [f64; N],
    accuracy: Accuracy,
    mut event: impl FnMut(f64, &[f64; N]) -> f64,
) -> Result<Arrival<N>, NotArrived> {
    let way = to - from;
    let (mut t, mut y) = (from, start);
    let mut first = slope(t, &y);
    let mut h = way * first_share(&y, &first, way, accuracy);
    let mut steps = 0;
    while t != to {
        if (to - t - h) * way <= 0.0 {
            h = to - t;
        }
        if steps >= accuracy.most_steps {
            return Err(NotArrived::TooManySteps { at: t });
        }
        if t + h == t || h.is_nan() {
            return Err(NotArrived::StepVanished { at: t });
        }
        steps += 1;
        let step = Step::take(&mut slope, t, &y, first, h);
        let error = step.error(&y, accuracy);
        if error <= 1.0 {
            let next = if h == to - t { to } else { t + h };
            if event(next, &step.end) <= 0.0 {
                let theta = crossing(|theta| event(t + theta * h, &step.between(&y, theta)));
                return Ok(Arrival {
                    at: t + theta * h,
                    y: step.between(&y, theta),
                    event: true,
                    steps,
                });
            }
            (t, y, first) = (next, step.end, step.slopes[6]);
        }
        // An error that is no number halves the step until it is one or the step vanishes.
        let grow = 0.9 * error.powf(-0.2);
        h *= if grow.is_nan() {
            0.2
        } else {
            grow.clamp(0.2, 5.0)
        };
    }
    Ok(Arrival {
        at: to,
        y,
        event: false,
        steps,
    })
}

/// The first step as a share of the way: one that changes the values by a hundredth.
fn first_share<const N: usize>(y: &[f64; N], slope: &[f64; N], way: f64, a: Accuracy) -> f64 {
    let scale = |k: usize| a.absolute + a.relative * y[k].abs();
    let size = |v: &[f64; N]| {
        (0..N)
            .map(|k| (v[k] / scale(k)).powi(2))
            .sum::<f64>()
            .sqrt()
    };
    let share = 0.01 * size(y) / (size(slope) * way.abs());
    if share.is_finite() && share > 0.0 {
        share.clamp(1e-6, 0.1)
    } else {
        1e-6
    }
}

/// Times of the stages, as shares of the step.
const C: [f64; 7] = [0.0, 0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
/// What each stage takes of the slopes before it; the last row is the step itself.
const A: [[f64; 6]; 7] = [
    [0.0; 6],
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [
        19372.0 / 6561.0,
        -25360.0 / 2187.0,
        64448.0 / 6561.0,
        -212.0 / 729.0,
        0.0,
        0.0,
    ],
    [
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18656.0,
        0.0,
    ],
    [
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
/// The step of order 5 less that of order 4.
const E: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// One step with all its slopes.
struct Step<const N: usize> {
    h: f64,
    slopes: [[f64; N]; 7],
    end: [f64; N],
}

impl<const N: usize> Step<N> {
    fn take(
        slope: &mut impl FnMut(f64, &[f64; N]) -> [f64; N],
        t: f64,
        y: &[f64; N],
        first: [f64; N],
        h: f64,
    ) -> Self {
        let mut slopes = [[0.0; N]; 7];
        slopes[0] = first;
        let mut end = *y;
        for stage in 1..7 {
            end = std::array::from_fn(|k| {
                let sum: f64 = (0..stage).map(|s| A[stage][s] * slopes[s][k]).sum();
                y[k] + h * sum
            });
            slopes[stage] = slope(t + C[stage] * h, &end);
        }
        Self { h, slopes, end }
    }

    /// The largest error, as a share of what is allowed.
    fn error(&self, y: &[f64; N], a: Accuracy) -> f64 {
        let share = |k: usize| {
            let off: f64 = (0..7).map(|s| E[s] * self.slopes[s][k]).sum();
            let allowed = a.absolute + a.relative * y[k].abs().max(self.end[k].abs());
            (self.h * off / allowed).abs()
        };
        // `max` alone would pass over what is no number.
        let larger = |most: f64, share: f64| {
            if most.is_nan() || share.is_nan() {
                f64::NAN
            } else {
                most.max(share)
            }
        };
        (0..N).map(share).fold(0.0, larger)
    }

    /// The values the share `theta` into the step: the cubic through both ends with both slopes,
    /// raised to order 4 by the middle of the step (L. Shampine's weights, from memory).
    fn between(&self, y: &[f64; N], theta: f64) -> [f64; N] {
        const D: [f64; 7] = [
            -12_715_105_075.0 / 11_282_082_432.0,
            0.0,
            87_487_479_700.0 / 32_700_410_799.0,
            -10_690_763_975.0 / 1_880_347_072.0,
            701_980_252_875.0 / 199_316_789_632.0,
            -1_453_857_185.0 / 822_651_844.0,
            69_997_945.0 / 29_380_423.0,
        ];
        std::array::from_fn(|k| {
            let rise = self.end[k] - y[k];
            let early = self.h * self.slopes[0][k] - rise;
            let late = rise - self.h * self.slopes[6][k] - early;
            let middle: f64 = (0..7).map(|s| D[s] * self.slopes[s][k]).sum::<f64>() * self.h;
            let rest = 1.0 - theta;
            y[k] + theta * (rise + rest * (early + theta * (late + rest * middle)))
        })
    }
}

/// Where a value that is positive at 0 and not at 1 stops being positive, by halving.
fn crossing(mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if value(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    fn never<const N: usize>(_: f64, _: &[f64; N]) -> f64 {
        1.0
    }

    #[test]
    fn closed_form_decay_and_oscillation() {
        let accuracy = Accuracy::default();
        let decay = follow(|_, y| [-y[0]], 0.0, 3.0, [1.0], accuracy, never).unwrap();
        // Some steps of 1e-10 each, none of them adding to the next by much.
        assert!((decay.y[0] / (-3f64).exp() - 1.0).abs() < 1e-9, "{decay:?}");
        let swing = |_: f64, y: &[f64; 2]| [y[1], -y[0]];
        let round = follow(
            swing,
            0.0,
            std::f64::consts::TAU,
            [1.0, 0.0],
            accuracy,
            never,
        )
        .unwrap();
        assert!(
            (round.y[0] - 1.0).abs() < 2e-9 && round.y[1].abs() < 2e-9,
            "{round:?}"
        );
        // Backwards it comes home.
        let home = follow(|_, y| [-y[0]], 3.0, 0.0, decay.y, accuracy, never).unwrap();
        assert!((home.y[0] - 1.0).abs() < 2e-9);
    }

    #[test]
    fn closed_form_the_event_stops_it_where_it_happens() {
        let fall = |_: f64, y: &[f64; 2]| [y[1], -2.0];
        let found = follow(fall, 0.0, 10.0, [9.0, 0.0], Accuracy::default(), |_, y| {
            y[0]
        })
        .unwrap();
        // 9 = t², met exactly by a method of order 5 and its continuation.
        assert!(found.event && (found.at - 3.0).abs() < 1e-12, "{found:?}");
    }

    #[test]
    fn order_the_error_falls_with_the_fifth_power_and_between_steps_with_the_fifth_locally() {
        let slope = |t: f64, y: &[f64; 1]| [y[0] * t.cos()];
        let exact = |t: f64| t.sin().exp();
        let off = |count: u32| {
            let h = 2.0 / f64::from(count);
            let mut y = [1.0];
            for n in 0..count {
                let t = h * f64::from(n);
                y = Step::take(&mut { slope }, t, &y, slope(t, &y), h).end;
            }
            (y[0] - exact(2.0)).abs()
        };
        let order = (off(20) / off(40)).log2();
        assert!((order - 5.0).abs() < 0.3, "order {order}");
        let middle = |h: f64| {
            let y = [1.0];
            let step = Step::take(&mut { slope }, 0.0, &y, slope(0.0, &y), h);
            (step.between(&y, 0.5)[0] - exact(0.5 * h)).abs()
        };
        let order = (middle(0.2) / middle(0.1)).log2();
        assert!(order > 4.6, "order {order}");
    }

    #[test]
    fn law_what_cannot_be_followed_is_said() {
        let accuracy = Accuracy {
            most_steps: 50,
            ..Accuracy::default()
        };
        let slow = follow(|t, _| [(1e4 * t).sin()], 0.0, 100.0, [0.0], accuracy, never);
        assert!(matches!(slow, Err(NotArrived::TooManySteps { .. })));
        let lost = follow(
            |_, _| [f64::NAN],
            0.0,
            1.0,
            [1.0],
            Accuracy::default(),
            never,
        );
        assert!(
            matches!(lost, Err(NotArrived::StepVanished { .. })),
            "{lost:?}"
        );
        let blown = follow(
            |_, y| [y[0] * y[0]],
            0.0,
            2.0,
            [1.0],
            Accuracy::default(),
            never,
        );
        assert!(blown.is_err(), "{blown:?}");
    }
}
