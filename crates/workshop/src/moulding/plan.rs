//! What the press is told, over time.

use super::cells::Hollow;
use super::fill::Drive;
use super::given::Given;
use super::scale::{CM3, MEGA};

/// The press lets go of its pressure over this time, in s.
const RELEASE_S: f64 = 0.25;
/// Steps of the hold: the first after a change, how each grows, the longest, and the longest while pressure is let go, in s.
const FIRST_STEP_S: f64 = 0.02;
const GROWS_BY: f64 = 1.04;
const LONGEST_STEP_S: f64 = 0.12;
const RELEASE_STEP_S: f64 = 0.02;

/// The course the press is told to take, in SI units.
#[derive(Debug, Clone)]
pub struct Plan {
    /// While speed rules.
    pub speed: Drive,
    /// Room of the cavities that is filled at the switch-over.
    pub switch_m3: f64,
    /// Largest flow of the press, in m³/s (unit here).
    most_flow_factor: f64,
    /// End of each step of the hold after the switch-over, and its pressure.
    hold: Vec<(f64, f64)>,
    cooling_s: f64,
}

impl Plan {
    /// That of a set-up: the speed is so that the feed and the share of the cavities are full in the time said.
    #[must_use]
    pub fn of(given: &Given, hollow: &Hollow) -> Self {
        let cavities = hollow.cavities_room_m3();
        let switch_m3 = given.process.switch_share * cavities;
        let asked = (hollow.room_m3() - cavities + switch_m3) / given.process.fill_s;
        let most_flow_factor = given.press.most_cm3_per_s * CM3;
        let mut end = 0.0;
        let hold = given.process.hold.iter().map(|step| {
            end += step.time_s;
            (end, step.pressure_mpa.min(given.press.most_mpa) * MEGA)
        });
        Self {
            hold: hold.collect(),
            speed: Drive {
                flow_factor: asked.min(most_flow_factor),
                most_pa: given.press.most_mpa * MEGA,
            },
            switch_m3,
            most_flow_factor,
            cooling_s: given.process.cooling_s,
        }
    }

    /// When the hold ends after the switch-over.
    #[must_use]
    pub fn hold_s(&self) -> f64 {
        self.hold.last().map_or(0.0, |(end, _)| *end)
    }

    /// When the mould opens after the switch-over.
    #[must_use]
    pub fn end_s(&self) -> f64 {
        self.hold_s() + self.cooling_s
    }

    /// Pressure at the nozzle so long after the switch-over.
    #[must_use]
    pub fn nozzle_pa(&self, after_s: f64) -> f64 {
        let now = self.hold.iter().find(|(end, _)| after_s <= *end + 1e-9);
        now.map_or_else(
            || {
                let last = self.hold.last().map_or(0.0, |(_, p)| *p);
                let gone = (after_s - self.hold_s()) / RELEASE_S;
                last * (1.0 - gone).clamp(0.0, 1.0)
            },
            |(_, p)| *p,
        )
    }

    /// What drives the filling so long after the switch-over.
    #[must_use]
    pub fn pressing(&self, after_s: f64) -> Drive {
        Drive {
            flow_factor: self.most_flow_factor,
            most_pa: self.nozzle_pa(after_s),
        }
    }

    /// The next step of time of the hold after one of `before_s`, cut so that it ends where the pressure changes.
    #[must_use]
    pub fn step_s(&self, after_s: f64, before_s: Option<f64>) -> f64 {
        let is_change = |at: f64| (after_s - at).abs() < 1e-9;
        let changed = self.hold.iter().any(|(end, _)| is_change(*end))
            || is_change(self.hold_s() + RELEASE_S);
        let mut step = match before_s {
            Some(before) if !changed => (before * GROWS_BY).min(LONGEST_STEP_S),
            _ => FIRST_STEP_S,
        };
        let releasing =
            after_s >= self.hold_s() - 1e-9 && after_s < self.hold_s() + RELEASE_S - 1e-9;
        if releasing {
            step = step.min(RELEASE_STEP_S);
        }
        let ends = self.hold.iter().map(|(end, _)| *end);
        let ends = ends.chain([self.hold_s() + RELEASE_S, self.end_s()]);
        for end in ends.filter(|end| *end > after_s + 1e-9) {
            step = step.min(end - after_s);
        }
        step
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan() -> Plan {
        Plan {
            speed: Drive {
                flow_factor: 1.0,
                most_pa: 1.0,
            },
            switch_m3: 1.0,
            most_flow_factor: 1.0,
            hold: vec![(2.0, 5e7), (3.0, 3e7)],
            cooling_s: 4.0,
        }
    }

    #[test]
    fn law_pressure_follows_the_steps_and_is_let_go_evenly() {
        let plan = plan();
        for (at, mpa) in [
            (0.0, 50.0),
            (2.0, 50.0),
            (2.1, 30.0),
            (3.125, 15.0),
            (3.3, 0.0),
        ] {
            assert!((plan.nozzle_pa(at) - mpa * 1e6).abs() < 1.0, "{at}");
        }
    }

    #[test]
    fn law_steps_of_time_end_where_the_pressure_changes() {
        let plan = plan();
        let (mut at, mut before, mut seen) = (0.0, None, Vec::new());
        while at < plan.end_s() - 1e-9 {
            let step = plan.step_s(at, before);
            assert!(step > 0.0);
            at += step;
            before = Some(step);
            seen.push(at);
        }
        for end in [2.0, 3.0, 3.25, 7.0] {
            assert!(seen.iter().any(|at| (at - end).abs() < 1e-9), "{end}");
        }
    }
}
