//! At rest on rods or rollers: small swings, and the angles at which the part comes to stand.
//!
//! A part of polar inertia `I` and unbalance `U` swings about its heavy spot. On rollers `ω² I = g U`; on
//! rods the shaft (radius `r`) rolls, and about the line of touch `ω² (I + m r² − 2 U r) = g U`.

use super::given::{PeriodRun, Refusal, RodsGiven, Support};
use crate::shelf::balance_rules;

/// What the swings tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Swung {
    pub unbalance_g_mm: f64,
    /// Found from two swings or more, where it was not known.
    pub inertia_g_mm2: Option<f64>,
}

fn do_not_fit(what: String) -> Refusal {
    Refusal::DoNotFit {
        what,
        todo: "time ten swings of less than 10 degrees, and check the known mass and its radius",
    }
}

/// Unbalance from periods, one for every swing of `rods`; inertia too where it is not known.
pub(super) fn swung(
    rods: &RodsGiven,
    periods_s: &[f64],
    mass_g: f64,
    inertia_g_mm2: Option<f64>,
) -> Result<Swung, Refusal> {
    let swings: Vec<Swing> = rods
        .swings
        .iter()
        .zip(periods_s)
        .map(|(run, period)| Swing::new(rods.support, run, *period, mass_g))
        .collect();
    match inertia_g_mm2 {
        Some(inertia) => known_inertia(&swings, inertia),
        None => both(&swings),
    }
}

/// One swing: `square (I + more) = pull · |U + m R e^{iφ}|`.
struct Swing {
    square: f64,
    more: f64,
    pull: f64,
    toward: f64,
    across: f64,
}

impl Swing {
    fn new(support: Support, run: &PeriodRun, period_s: f64, mass_g: f64) -> Self {
        let square = (std::f64::consts::TAU / period_s).powi(2);
        let shaft = match support {
            Support::Rods { shaft_radius_mm } => shaft_radius_mm,
            Support::Rollers => 0.0,
        };
        let added = run.mass_g * run.radius_mm;
        let (sin, cos) = run.from_heavy_deg.to_radians().sin_cos();
        Self {
            square,
            more: (mass_g + run.mass_g) * shaft * shaft + added * run.radius_mm,
            pull: balance_rules().free_fall_value + 2.0 * shaft * square,
            toward: added * cos,
            across: added * sin,
        }
    }

    /// Unbalance from this swing alone.
    fn unbalance(&self, inertia: f64) -> Result<f64, Refusal> {
        let all = self.square * (inertia + self.more) / self.pull;
        let along = all * all - self.across * self.across;
        let u = along.max(0.0).sqrt() - self.toward;
        if along < 0.0 || u < 0.0 {
            return Err(do_not_fit(format!(
                "a swing asks for {all:.4} g·mm in all, less than the known mass alone brings"
            )));
        }
        Ok(u)
    }
}

fn known_inertia(swings: &[Swing], inertia: f64) -> Result<Swung, Refusal> {
    let all: Vec<f64> = swings
        .iter()
        .map(|s| s.unbalance(inertia))
        .collect::<Result<_, _>>()?;
    Ok(Swung {
        unbalance_g_mm: all.iter().sum::<f64>() / all.len().max(1) as f64,
        inertia_g_mm2: None,
    })
}

/// Unbalance and inertia by Newton's steps on the least squares of all swings.
fn both(swings: &[Swing]) -> Result<Swung, Refusal> {
    if swings.len() < 2 {
        return Err(Refusal::MissingRun {
            what: "the inertia is not known, and one swing cannot tell it from the unbalance"
                .to_owned(),
            todo: "state the polar inertia, or swing again with a known mass beside the heavy spot"
                .to_owned(),
        });
    }
    let (mut inertia, mut u) = (0.0, 0.0);
    for step in 0..60 {
        // Rows: square · dI − pull · (dW/dU) dU = pull W − square (I + more).
        let (mut a11, mut a12, mut a22, mut b1, mut b2) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for s in swings {
            let size = (u + s.toward).hypot(s.across);
            // From the first guess on the heavy spot's side, or opposite and lighter than the unbalance.
            let slope = if step == 0 || size == 0.0 {
                1.0
            } else {
                (u + s.toward) / size
            };
            let size = if step == 0 { u + s.toward } else { size };
            let (c1, c2) = (s.square, -s.pull * slope);
            let left = s.pull * size - s.square * (inertia + s.more);
            a11 += c1 * c1;
            a12 += c1 * c2;
            a22 += c2 * c2;
            b1 += c1 * left;
            b2 += c2 * left;
        }
        let determinant = a11 * a22 - a12 * a12;
        if determinant.is_nan() || determinant.abs() <= 1e-12 * a11 * a22 {
            return Err(do_not_fit(
                "the swings are alike and tell one number, not two".to_owned(),
            ));
        }
        let (di, du) = (
            (b1 * a22 - b2 * a12) / determinant,
            (b2 * a11 - b1 * a12) / determinant,
        );
        inertia += di;
        u += du;
        if di.abs() <= 1e-13 * inertia.abs() && du.abs() <= 1e-13 * u.abs() {
            break;
        }
    }
    if !(inertia > 0.0 && u > 0.0) {
        return Err(do_not_fit(format!(
            "the swings ask for an inertia of {inertia:.1} g·mm² and {u:.4} g·mm"
        )));
    }
    Ok(Swung {
        unbalance_g_mm: u,
        inertia_g_mm2: Some(inertia),
    })
}

/// Mean of angles and half their spread.
pub(super) fn at_rest(angles_deg: &[f64]) -> (f64, f64) {
    let sum: super::vectors::Vector = angles_deg
        .iter()
        .map(|a| super::vectors::at_deg(1.0, *a))
        .sum();
    let mean = super::vectors::angle_deg(sum);
    let off = angles_deg
        .iter()
        .map(|a| (a - mean + 180.0).rem_euclid(360.0) - 180.0);
    let (low, high) = off.fold((0.0f64, 0.0f64), |(l, h), o| (l.min(o), h.max(o)));
    (mean, 0.5 * (high - low))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rods(support: Support, known: &[(f64, f64)]) -> RodsGiven {
        let swing = |&(mass_g, from_heavy_deg): &(f64, f64)| PeriodRun {
            periods_s: vec![1.0],
            mass_g,
            radius_mm: 26.0,
            from_heavy_deg,
        };
        RodsGiven {
            support,
            rest_angles_deg: vec![0.0],
            swings: known.iter().map(swing).collect(),
            rolling_arm_um: None,
        }
    }

    /// The period by the equation of motion itself: `(I_cg + m d²) θ̈ = −W g θ`, `d` from the centre of mass
    /// to where it touches.
    fn period(rods: &RodsGiven, run: &PeriodRun, inertia: f64, mass: f64, u: f64) -> f64 {
        let added = run.mass_g * run.radius_mm;
        let (sin, cos) = run.from_heavy_deg.to_radians().sin_cos();
        let all = (u + added * cos).hypot(added * sin);
        let total = mass + run.mass_g;
        let off = all / total;
        let about_centre = inertia + added * run.radius_mm - total * off * off;
        let pivot = match rods.support {
            Support::Rods { shaft_radius_mm } => shaft_radius_mm - off,
            Support::Rollers => off,
        };
        let about_touch = about_centre + total * pivot * pivot;
        std::f64::consts::TAU * (about_touch / (all * balance_rules().free_fall_value)).sqrt()
    }

    #[test]
    fn law_swings_bring_back_unbalance_and_inertia() {
        let (inertia, mass, u) = (27_000.0, 63.0, 0.9);
        for support in [
            Support::Rollers,
            Support::Rods {
                shaft_radius_mm: 2.0,
            },
        ] {
            let rods = rods(support, &[(0.0, 0.0), (0.02, 0.0), (0.1, 75.0)]);
            let periods: Vec<f64> = rods
                .swings
                .iter()
                .map(|run| period(&rods, run, inertia, mass, u))
                .collect();
            let known = swung(&rods, &periods, mass, Some(inertia)).unwrap();
            assert!((known.unbalance_g_mm / u - 1.0).abs() < 1e-12, "{known:?}");
            let both = swung(&rods, &periods, mass, None).unwrap();
            assert!((both.unbalance_g_mm / u - 1.0).abs() < 1e-9, "{both:?}");
            assert!((both.inertia_g_mm2.unwrap() / inertia - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn law_one_swing_does_not_do_for_two_unknowns() {
        let rods = rods(Support::Rollers, &[(0.0, 0.0)]);
        assert!(swung(&rods, &[3.0], 63.0, None).is_err());
    }

    #[test]
    fn closed_form_angles_at_rest_are_met_round_the_turn() {
        let (mean, half) = at_rest(&[350.0, 20.0, 350.0, 20.0]);
        assert!((mean - 5.0).abs() < 1e-12 && (half - 15.0).abs() < 1e-12);
    }
}
