//! Turning parts against each other before anything is cut: it costs nothing.
//!
//! With `S` the static unbalance and `C` the couple about the centre of mass, what is made small is
//! `(S/m)² + w (C r / (Ip − It))²`: the seat's orbit and the rim's wobble, in µm. Turning one part (with all
//! that sits on it) makes this a cosine of its angle, so the best angle of one joint is found in closed form.

use super::free_rotor::tilt_rad;
use super::given::{ClockGiven, ClockJoint, Rotor};
use super::vectors::{Vector, at_deg, couple, unbalance, vector};
use super::work_body::{ClockBody, ClockState, ClockTurn};
use crate::part::AngleSense;

/// Most arrangements tried one by one.
const MOST: u64 = 500_000;
/// Starting angles of a free joint.
const STARTS: u32 = 24;
/// Rounds of single joints until nothing moves.
const ROUNDS: u32 = 200;

/// Weights of static squared and couple squared.
#[derive(Clone, Copy)]
struct Weights(f64, f64);

struct Clock<'a> {
    given: &'a ClockGiven,
    /// Every part's unbalance at angle 0, and its place from the centre of mass.
    parts: Vec<(Vector, f64)>,
    /// For every joint which parts it turns.
    turned: Vec<Vec<bool>>,
}

/// The best angles, and what the two ends of the bargain would leave.
pub(super) fn clocking(rotor: &Rotor, given: &ClockGiven) -> ClockBody {
    let clock = Clock::new(rotor, given);
    let seat = rotor.mass_g.powi(-2);
    let wobble = rotor
        .inertia
        .zip(rotor.rim_radius_mm)
        .map(|(inertia, radius)| {
            (radius / (inertia.polar_g_mm2 - inertia.transverse_g_mm2)).powi(2)
        });
    // Without inertia the couple counts as a static unbalance at the parts' mean distance.
    let arm = clock.parts.iter().map(|(_, x)| x * x).sum::<f64>() / clock.parts.len().max(1) as f64;
    let couple_weight = wobble
        .filter(|w| w.is_finite())
        .unwrap_or(seat / arm.max(f64::MIN_POSITIVE));
    let (angles, proved) = clock.best(Weights(seat, given.wobble_weight * couple_weight));
    // The other end counts by a millionth, so that of equal ones the better is taken.
    let (least_static, _) = clock.best(Weights(seat, 1e-6 * couple_weight));
    let (least_couple, _) = clock.best(Weights(1e-6 * seat, couple_weight));
    let still = vec![0.0; given.joints.len()];
    let state = |angles: &[f64]| clock.state(rotor, angles);
    ClockBody {
        turns: clock.turns(&angles),
        before: state(&still),
        after: state(&angles),
        least_static: state(&least_static),
        least_couple: state(&least_couple),
        words: format!(
            "seat's orbit against {} times the rim's wobble, both in µm and squared; {}",
            given.wobble_weight,
            if proved {
                "no other setting of the joints leaves less"
            } else {
                "the best of many starts, each brought to where no single joint gains"
            }
        ),
    }
}

impl<'a> Clock<'a> {
    fn new(rotor: &Rotor, given: &'a ClockGiven) -> Self {
        let parts = given.parts.iter().map(|p| {
            let u = vector(p.unbalance);
            let u = if p.sense == AngleSense::AgainstRotation {
                u.conj()
            } else {
                u
            };
            (u, p.x_mm - rotor.centre_mm)
        });
        let count = given.parts.len();
        let sits_on = |mut part: usize, joint: usize| {
            // Up the chain from the part; joint n belongs to part n + 1.
            for _ in 0..count {
                if part == joint + 1 {
                    return true;
                }
                if part == 0 {
                    return false;
                }
                part = given.joints.get(part - 1).map_or(0, |(on, _)| *on);
            }
            false
        };
        Self {
            given,
            parts: parts.collect(),
            turned: (0..given.joints.len())
                .map(|joint| (0..count).map(|part| sits_on(part, joint)).collect())
                .collect(),
        }
    }

    /// Static and couple with the joints at these angles (degrees, with rotation).
    fn sums(&self, angles: &[f64]) -> (Vector, Vector) {
        let (mut s, mut c) = (Vector::default(), Vector::default());
        for (n, (u, x)) in self.parts.iter().enumerate() {
            let turn: f64 = angles
                .iter()
                .zip(&self.turned)
                .filter(|(_, turned)| turned[n])
                .map(|(a, _)| *a)
                .sum();
            let u = u * at_deg(1.0, turn);
            s += u;
            c += u * *x;
        }
        (s, c)
    }

    fn cost(&self, angles: &[f64], w: Weights) -> f64 {
        let (s, c) = self.sums(angles);
        w.0 * s.norm_sqr() + w.1 * c.norm_sqr()
    }

    /// The best angle of one joint, all others held: the cost is a cosine of it.
    fn best_of(&self, joint: usize, angles: &[f64], w: Weights) -> f64 {
        let mut still = Vector::default();
        let (all_s, all_c) = self.sums(angles);
        let (mut turned_s, mut turned_c) = (Vector::default(), Vector::default());
        for (n, (u, x)) in self.parts.iter().enumerate() {
            if self.turned[joint][n] {
                let turn: f64 = (0..angles.len())
                    .filter(|j| self.turned[*j][n])
                    .map(|j| angles[j])
                    .sum();
                let u = u * at_deg(1.0, turn);
                turned_s += u;
                turned_c += u * *x;
            }
        }
        still += turned_s * (all_s - turned_s).conj() * w.0;
        still += turned_c * (all_c - turned_c).conj() * w.1;
        // Cost = constant + 2 Re(κ e^{iδ}), δ the further turn: least at δ = π − arg κ.
        let further = if still.norm() > 0.0 {
            180.0 - still.arg().to_degrees()
        } else {
            0.0
        };
        let free = (angles[joint] + further).rem_euclid(360.0);
        match self.given.joints[joint].1 {
            ClockJoint::Free => free,
            // A cosine is least at the allowed angle nearest to its lowest place.
            ClockJoint::Marks(marks) => {
                let pitch = 360.0 / f64::from(marks.max(1));
                ((free / pitch).round() * pitch).rem_euclid(360.0)
            }
        }
    }

    /// The best angles, and whether that is proved.
    fn best(&self, w: Weights) -> (Vec<f64>, bool) {
        let joints = self.given.joints.len();
        if joints == 0 {
            return (Vec::new(), true);
        }
        // All joints but the last run through their marks (or starts); the last is set in closed form.
        let steps: Vec<u32> = self.given.joints[..joints - 1]
            .iter()
            .map(|(_, joint)| match joint {
                ClockJoint::Free => STARTS,
                ClockJoint::Marks(marks) => (*marks).max(1),
            })
            .collect();
        let all: u64 = steps.iter().map(|s| u64::from(*s)).product();
        let keyed = self.given.joints[..joints - 1]
            .iter()
            .all(|(_, joint)| matches!(joint, ClockJoint::Marks(_)));
        let tried = all.min(MOST);
        let mut best: Option<(f64, Vec<f64>)> = None;
        for n in 0..tried {
            let mut rest = n;
            let mut angles: Vec<f64> = steps
                .iter()
                .map(|s| {
                    let mark = rest % u64::from(*s);
                    rest /= u64::from(*s);
                    360.0 * mark as f64 / f64::from(*s)
                })
                .collect();
            angles.push(0.0);
            angles[joints - 1] = self.best_of(joints - 1, &angles, w);
            if !keyed {
                self.settle(&mut angles, w);
            }
            let cost = self.cost(&angles, w);
            if best
                .as_ref()
                .is_none_or(|(known, _)| cost < known - 1e-15 * known)
            {
                best = Some((cost, angles));
            }
        }
        let angles = best.map_or_else(|| vec![0.0; joints], |(_, angles)| angles);
        (angles, keyed && all <= MOST)
    }

    /// Joint by joint until nothing moves.
    fn settle(&self, angles: &mut [f64], w: Weights) {
        let mut known = self.cost(angles, w);
        for _ in 0..ROUNDS {
            for joint in 0..angles.len() {
                let best = self.best_of(joint, angles, w);
                let before = std::mem::replace(&mut angles[joint], best);
                if self.cost(angles, w) > known {
                    angles[joint] = before;
                }
            }
            let now = self.cost(angles, w);
            if now >= known * (1.0 - 1e-14) {
                break;
            }
            known = now;
        }
    }

    fn state(&self, rotor: &Rotor, angles: &[f64]) -> ClockState {
        let (s, c) = self.sums(angles);
        let wobble = rotor.inertia.zip(rotor.rim_radius_mm);
        ClockState {
            static_unbalance: unbalance(s),
            couple: couple(c),
            seat_um: s.norm() / rotor.mass_g * 1e3,
            wobble_um: wobble.map(|(inertia, radius)| tilt_rad(c.norm(), inertia) * radius * 1e3),
        }
    }

    fn turns(&self, angles: &[f64]) -> Vec<ClockTurn> {
        let turn = |(n, angle): (usize, &f64)| {
            let (on, joint) = self.given.joints[n];
            ClockTurn {
                part: self.given.parts[n + 1].name.clone(),
                on: self.given.parts[on].name.clone(),
                turn_deg: *angle,
                mark_number: match joint {
                    ClockJoint::Free => None,
                    ClockJoint::Marks(marks) => {
                        let marks = marks.max(1);
                        Some((angle / 360.0 * f64::from(marks)).round() as u32 % marks + 1)
                    }
                },
            }
        };
        angles.iter().enumerate().map(turn).collect()
    }
}
