//! Unwinding: the way down the string, with a hand that moves.

use whirlwright_kit::ode::{Accuracy, NotArrived, follow};

use super::layers::Layers;
use crate::shelf::known;

/// What unwinds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unwinding {
    /// Mass of the piece.
    pub mass_kg: f64,
    /// Its polar moment of inertia.
    pub inertia_kg_m2: f64,
    /// The string.
    pub layers: Layers,
}

/// Where the hand moves: its downward speed at times, straight between them and steady after the last.
#[derive(Debug, Clone, PartialEq)]
pub struct HandMotion {
    /// Times and downward speeds, in s and m/s, the first at 0.
    pub speeds_m_per_s: Vec<(f64, f64)>,
}

/// What the way down gave, every energy in J counted from the hand's last grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unwound {
    /// Time until the string ends.
    pub time_s: f64,
    /// Speed of turning there.
    pub speed_rad_per_s: f64,
    /// Speed along the string there, against the hand.
    pub end_speed_m_per_s: f64,
    /// Energy the piece had when it left the hand.
    pub thrown_j: f64,
    /// Energy gravity gave: the fall along the string and with the hand.
    pub gravity_j: f64,
    /// Energy the hand took out through the string; negative where it put more in.
    pub hand_took_j: f64,
    /// Energy of turning at the end of the string.
    pub turning_j: f64,
    /// Energy of falling there, lost in the jerk.
    pub jerk_j: f64,
}

const MM: f64 = 1e-3;

/// Standard gravity.
#[must_use]
pub fn gravity_m_per_s2() -> f64 {
    known("throw.gravity").value
}

impl Unwinding {
    fn bearing_radius(&self) -> f64 {
        self.layers.bearing_radius_mm * MM
    }

    fn length(&self) -> f64 {
        self.layers.length_mm * MM
    }

    /// The radius with so much unwound, in m.
    fn radius(&self, unwound: f64) -> f64 {
        let growth = self.layers.growth_mm * MM;
        let wound = (self.length() - unwound).max(0.0);
        (self.bearing_radius().powi(2) + growth * wound).sqrt()
    }

    /// Speed in rad/s at the end of the string for an energy in J at a hand that keeps its speed, in closed
    /// form: `½ (I + M r0²) ω² = E`.
    #[must_use]
    pub fn end_speed_rad_per_s(&self, energy_j: f64) -> f64 {
        let whole = self.inertia_kg_m2 + self.mass_kg * self.bearing_radius().powi(2);
        (2.0 * energy_j.max(0.0) / whole).sqrt()
    }

    /// The share of the throw's energy that is kept when the hand stops at once: `M r²/(I + M r²)` with
    /// the full string.
    #[must_use]
    pub fn kept_share(&self) -> f64 {
        let pull = self.mass_kg * (self.layers.full_radius_mm() * MM).powi(2);
        pull / (self.inertia_kg_m2 + pull)
    }

    /// Energy that gravity gives on the whole string, hand at rest.
    #[must_use]
    pub fn fall_j(&self) -> f64 {
        self.mass_kg * gravity_m_per_s2() * self.length()
    }

    /// Speed in rad/s after a throw whose hand stops at once.
    #[must_use]
    pub fn thrown_rad_per_s(&self, hand_m_per_s: f64) -> f64 {
        let kept = 0.5 * self.mass_kg * hand_m_per_s.powi(2) * self.kept_share();
        self.end_speed_rad_per_s(kept + self.fall_j())
    }

    /// Speed in rad/s if nothing of the throw were lost: no throw gives more.
    #[must_use]
    pub fn most_rad_per_s(&self, hand_m_per_s: f64) -> f64 {
        let thrown = 0.5 * self.mass_kg * hand_m_per_s.powi(2);
        self.end_speed_rad_per_s(thrown + self.fall_j())
    }

    /// The way down with a hand that stops evenly in a time, after a throw at its speed.
    ///
    /// # Errors
    /// The steps ran out: a time or a speed far outside of what a hand does.
    pub fn thrown(&self, hand_m_per_s: f64, stop_time_s: f64) -> Result<Unwound, NotArrived> {
        let speeds_m_per_s = vec![(0.0, hand_m_per_s), (stop_time_s, 0.0)];
        self.down(&HandMotion { speeds_m_per_s })
    }

    /// The way down with any motion of the hand; the piece leaves it with the hand's first speed.
    ///
    /// - **Law:** with `ℓ` unwound, `r(ℓ)` the radius, `a` the hand's downward acceleration:
    ///   `(M + I/r²) ℓ'' + ½ (I K / r⁴) ℓ'² = M (g − a)`; the string pulls with `M (g − a − ℓ'')`.
    /// - **Method:** stepped while the hand's speed changes; once it is steady the rest is closed by energy
    ///   and the time by one more run.
    ///
    /// # Errors
    /// The steps ran out.
    pub fn down(&self, hand: &HandMotion) -> Result<Unwound, NotArrived> {
        let first = hand.speeds_m_per_s.first().map_or(0.0, |s| s.1);
        let mut at = Place {
            time: 0.0,
            hand: first,
            y: [0.0; 4],
        };
        let mut done = false;
        for pair in hand.speeds_m_per_s.windows(2) {
            let ((t0, v0), (t1, v1)) = (pair[0], pair[1]);
            // A hand that stops at once gives a jerk, not a pull: the string takes it inelastically.
            if t1 <= t0 {
                self.jerk(&mut at, v0, v1);
                continue;
            }
            done = self.stretch(&mut at, t0, t1, v0, v1)?;
            if done {
                break;
            }
        }
        if !done {
            let last = hand.speeds_m_per_s.last().map_or(0.0, |s| s.1);
            // A hand that falls away faster than the piece unwinds never sees the end of its string.
            let until = at.time + 1e3;
            let from = at.time;
            self.stretch(&mut at, from, until, last, last)?;
        }
        Ok(self.account(first, &at))
    }

    /// A sudden change of the hand's speed.
    fn jerk(&self, at: &mut Place, before: f64, after: f64) {
        let r = self.radius(at.y[0]);
        let pull = self.mass_kg * r * r;
        let kept = pull / (self.inertia_kg_m2 + pull);
        // The string's blow P changes M(v + ℓ') by −P and I ℓ'/r by P r.
        let gained = kept * (before - after);
        let energy = |hand: f64, rate: f64| {
            0.5 * self.mass_kg * (hand + rate).powi(2)
                + 0.5 * self.inertia_kg_m2 * (rate / r).powi(2)
        };
        let rate = at.y[1] + gained;
        at.y[2] += energy(before, at.y[1]) - energy(after, rate);
        at.y[1] = rate;
        at.hand = after;
    }

    /// One stretch of evenly changing hand speed; true when the string ended in it.
    fn stretch(
        &self,
        at: &mut Place,
        t0: f64,
        t1: f64,
        v0: f64,
        v1: f64,
    ) -> Result<bool, NotArrived> {
        let (mass, inertia) = (self.mass_kg, self.inertia_kg_m2);
        let growth = self.layers.growth_mm * MM;
        let pull = gravity_m_per_s2() - (v1 - v0) / (t1 - t0);
        let slope = |t: f64, y: &[f64; 4]| {
            let r2 = self.radius(y[0]).powi(2);
            let bend = 0.5 * inertia * growth / (r2 * r2) * y[1] * y[1];
            let acceleration = (mass * pull - bend) / (mass + inertia / r2);
            let hand = v0 + (v1 - v0) * (t - t0) / (t1 - t0);
            let tension = mass * (pull - acceleration);
            [y[1], acceleration, tension * hand, hand]
        };
        let accuracy = Accuracy {
            relative: 1e-12,
            absolute: 1e-13,
            ..Accuracy::default()
        };
        let length = self.length();
        let ends = |_: f64, y: &[f64; 4]| length - y[0];
        let arrived = follow(slope, t0, t1, at.y, accuracy, ends)?;
        (at.time, at.y) = (arrived.at, arrived.y);
        at.hand = v0 + (v1 - v0) * (arrived.at - t0) / (t1 - t0);
        Ok(arrived.event)
    }

    fn account(&self, thrown_m_per_s: f64, at: &Place) -> Unwound {
        let [unwound, rate, took, way] = at.y;
        let speed = rate / self.radius(unwound);
        Unwound {
            time_s: at.time,
            speed_rad_per_s: speed,
            end_speed_m_per_s: rate,
            thrown_j: 0.5 * self.mass_kg * thrown_m_per_s.powi(2),
            gravity_j: self.mass_kg * gravity_m_per_s2() * (unwound + way),
            hand_took_j: took,
            turning_j: 0.5 * self.inertia_kg_m2 * speed * speed,
            jerk_j: 0.5 * self.mass_kg * (at.hand + rate).powi(2),
        }
    }
}

/// How far it has come.
struct Place {
    time: f64,
    /// Speed of the hand.
    hand: f64,
    /// Unwound, its rate, energy taken by the hand, way of the hand.
    y: [f64; 4],
}
