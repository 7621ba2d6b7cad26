//! Which orders mean something, and what the windows say of each.

use whirlwright_kit::signal::orders::Window;

use super::body::OrderLine;
use super::given::RecordingGiven;

/// Two orders nearer than this cannot be parted in a window.
const APART: f64 = 0.03;
/// An order stands out when its mean power is so many times that of noise alone, and so many standard
/// errors of it more.
const TIMES: f64 = 2.0;
const ERRORS: f64 = 5.0;

/// The orders asked for, with their names.
#[derive(Debug, Clone)]
pub(super) struct Lines {
    lines: Vec<(f64, String)>,
}

/// The unbalance and half of it come first; half is asked for as a witness against a wrong speed.
const UNBALANCE: usize = 0;
const HALF: usize = 1;

/// The orbit of the axis, from all windows together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Orbit {
    /// Amplitude per square of the rate in rad/s, in the signal's unit.
    pub amplitude: f64,
    /// Standard deviation of it.
    pub amplitude_sd: f64,
    /// Lead over the mark in degrees.
    pub angle_deg: f64,
    /// Standard deviation of it.
    pub angle_deg_sd: f64,
}

impl Lines {
    /// What can be asked: unbalance and ovality always, the wobble with the design's inertia ratio, the bearing
    /// with its geometry. An order too near to one before it is left out, and a remark says so.
    #[must_use]
    pub fn of(given: &RecordingGiven, remarks: &mut Vec<String>) -> Self {
        let mut asked = vec![(1.0, "unbalance"), (0.5, "half"), (2.0, "ovality or pads")];
        asked.extend(
            given
                .inertia_ratio
                .map(|ratio| (1.0 / ratio, "free wobble (nutation)")),
        );
        if let Some(bearing) = given.bearing {
            asked.extend([
                (bearing.cage_order, "cage of the bearing"),
                (bearing.outer_race_order, "balls past the outer race"),
                (bearing.inner_race_order, "balls past the inner race"),
                (bearing.ball_order, "ball about itself"),
            ]);
        }
        let mut lines: Vec<(f64, String)> = Vec::new();
        for (order, name) in asked {
            if !(order.is_finite() && order > 0.0) {
                continue;
            }
            match lines.iter().find(|(other, _)| (order - other).abs() < APART) {
                Some((_, other)) => remarks.push(format!(
                    "the order of the {name} ({order:.3}) lies too near to that of the {other}: not told apart"
                )),
                None => lines.push((order, name.to_owned())),
            }
        }
        Self { lines }
    }

    /// For the fit: the orders, and that unbalance goes with the square of the speed.
    #[must_use]
    pub fn fitted(&self) -> Vec<(f64, bool)> {
        self.lines
            .iter()
            .enumerate()
            .map(|(at, (order, _))| (*order, at == UNBALANCE))
            .collect()
    }

    /// The highest of them.
    #[must_use]
    pub fn highest_order(&self) -> f64 {
        self.lines
            .iter()
            .fold(0.0, |top, (order, _)| top.max(*order))
    }

    /// What the windows say of every order but the half.
    #[must_use]
    pub fn told(&self, windows: &[Window], scale: Option<f64>, mark: bool) -> Vec<OrderLine> {
        if windows.is_empty() {
            return Vec::new();
        }
        let power = windows.iter().map(|window| window.power).sum::<f64>() / windows.len() as f64;
        let line = |(at, (order, name)): (usize, &(f64, String))| {
            let sum = self.summed(windows, at);
            let phase = sum.b.atan2(sum.a).to_degrees();
            let is_whole = (order - order.round()).abs() < f64::EPSILON;
            OrderLine {
                order: *order,
                name: name.clone(),
                amplitude_fraction: sum.amplitude(),
                amplitude_m_per_s2: scale.map(|scale| scale * sum.amplitude()),
                noise_fraction: sum.noise.sqrt(),
                phase_deg: (mark && is_whole && sum.found).then_some(phase),
                share: (0.5 * sum.amplitude().powi(2) / power.max(f64::MIN_POSITIVE)).min(1.0),
                found: sum.found,
            }
        };
        self.lines
            .iter()
            .enumerate()
            .filter(|(at, _)| *at != HALF)
            .map(line)
            .collect()
    }

    /// Amplitude at half the speed over that at the speed, where the half stands out.
    #[must_use]
    pub fn half_ratio(&self, windows: &[Window]) -> Option<f64> {
        let half = self.summed(windows, HALF);
        let whole = self.summed(windows, UNBALANCE);
        (half.found && windows.len() > 1)
            .then(|| half.amplitude() / whole.amplitude().max(f64::MIN_POSITIVE))
    }

    fn summed(&self, windows: &[Window], at: usize) -> Summed {
        let n = windows.len() as f64;
        let mut sum = Summed {
            a: 0.0,
            b: 0.0,
            square: 0.0,
            noise: 0.0,
            found: false,
        };
        for window in windows {
            let gain = if at == UNBALANCE { window.gain } else { 1.0 };
            let (a, b) = window.parts[at];
            sum.a += gain * a / n;
            sum.b += gain * b / n;
            sum.square += gain * gain * (a * a + b * b) / n;
            sum.noise += gain * gain * 2.0 * window.variances[at] / n;
        }
        sum.found = sum.square > sum.noise * TIMES.max(1.0 + ERRORS / n.sqrt());
        sum
    }
}

/// Sums over windows: mean parts, mean square amplitude, and what noise alone would give of it.
struct Summed {
    a: f64,
    b: f64,
    square: f64,
    noise: f64,
    found: bool,
}

impl Summed {
    fn amplitude(&self) -> f64 {
        (self.square - self.noise).max(0.0).sqrt()
    }
}

/// The orbit from all windows, each weighted by what it knows; none without windows.
#[must_use]
pub(super) fn orbit(windows: &[Window]) -> Option<Orbit> {
    let weight = |window: &Window| 1.0 / window.variances[UNBALANCE].max(f64::MIN_POSITIVE);
    let total: f64 = windows.iter().map(weight).sum();
    if windows.is_empty() || !total.is_finite() {
        return None;
    }
    let mean = |of: fn(&(f64, f64)) -> f64| {
        windows
            .iter()
            .map(|window| weight(window) * of(&window.parts[UNBALANCE]))
            .sum::<f64>()
            / total
    };
    let (a, b) = (mean(|part| part.0), mean(|part| part.1));
    let amplitude = a.hypot(b);
    // From the scatter between windows where there are several, else from the fit's own residual.
    let count = windows.len() as f64;
    let scatter: f64 = windows
        .iter()
        .map(|window| {
            let (x, y) = window.parts[UNBALANCE];
            weight(window) * ((x - a).powi(2) + (y - b).powi(2))
        })
        .sum();
    let sd = if windows.len() >= 3 {
        (scatter / (2.0 * total * (count - 1.0))).sqrt()
    } else {
        (1.0 / total).sqrt()
    };
    Some(Orbit {
        amplitude,
        amplitude_sd: sd,
        angle_deg: b.atan2(a).to_degrees(),
        angle_deg_sd: (sd / amplitude.max(f64::MIN_POSITIVE))
            .min(std::f64::consts::PI)
            .to_degrees(),
    })
}
