//! How far off the found unbalance may be: propagated to first order, checked by drawing.

use whirlwright_kit::random::SplitMix64;

use super::correct_body::UncertaintyBody;
use super::draws::{normal_pair, quantile};
use super::vectors::Vector;

/// How often all circles hold their true values at once.
pub(super) const COVERAGE: f64 = 0.95;
/// Draws of the check.
pub(super) const DRAWS: u32 = 1000;

/// Circles round the found vectors, plane by plane.
pub(super) struct Circles {
    pub radii_g_mm: Vec<f64>,
    pub body: UncertaintyBody,
}

/// Radius of the circle in standard deviations of its longest direction, so that `planes` circles hold
/// all at once as often as [`COVERAGE`] says; `freedom` degrees stand behind the standard deviation, or
/// it was known.
///
/// In two dimensions both distributions have a closed form: `P = 1 − exp(−k²/2)`, and with `ν` degrees of
/// freedom `P = 1 − (1 + k²/ν)^(−ν/2)`. Circles round ellipses hold more than asked.
pub(super) fn factor(planes: usize, freedom: Option<u32>) -> f64 {
    let outside = 1.0 - COVERAGE.powf(1.0 / planes.max(1) as f64);
    match freedom {
        None => (-2.0 * outside.ln()).sqrt(),
        Some(free) => {
            let free = f64::from(free.max(1));
            (free * (outside.powf(-2.0 / free) - 1.0)).sqrt()
        }
    }
}

/// Standard deviation along the longest direction, of changes `a ε + b ε̄` with round scatter `ε`.
pub(super) fn propagated(changes: &[(Vec<Vector>, Vec<Vector>, f64)], planes: usize) -> Vec<f64> {
    let one = |plane: usize| {
        let (mut size, mut lean) = (0.0, Vector::default());
        for (a, b, sd) in changes {
            let (a, b, variance) = (a[plane], b[plane], sd * sd);
            size += 2.0 * variance * (a.norm_sqr() + b.norm_sqr());
            lean += a * b * (4.0 * variance);
        }
        (0.5 * (size + lean.norm())).sqrt()
    };
    (0..planes).map(one).collect()
}

/// The same for numbers that scatter along a line: `d` is the change for one standard deviation.
pub(super) fn propagated_lines(changes: &[Vec<Vector>], planes: usize) -> Vec<f64> {
    let one = |plane: usize| {
        let size: f64 = changes.iter().map(|d| d[plane].norm_sqr()).sum();
        let lean: Vector = changes.iter().map(|d| d[plane] * d[plane]).sum();
        (0.5 * (size + lean.norm())).sqrt()
    };
    (0..planes).map(one).collect()
}

/// What the circles are reckoned from.
pub(super) struct Basis {
    /// Share shown as the scatter of one component.
    pub noise_share: f64,
    /// Degrees of freedom; none where the scatter was known.
    pub freedom: Option<u32>,
    /// The seed of the check.
    pub seed: u64,
}

/// Circles from propagated standard deviations, made larger where draws of the whole reckoning scatter
/// more. A draw that fails counts as far off.
pub(super) fn circles(
    found: &[Vector],
    sds: &[f64],
    basis: &Basis,
    mut draw: impl FnMut(&mut dyn FnMut() -> Vector) -> Option<Vec<Vector>>,
) -> Circles {
    let planes = found.len();
    let mut stream = SplitMix64::new(basis.seed);
    let mut worst: Vec<f64> = Vec::with_capacity(DRAWS as usize);
    for _ in 0..DRAWS {
        let off = draw(&mut || normal_pair(&mut stream)).map_or(f64::INFINITY, |u| {
            let ratios = u.iter().zip(found).zip(sds);
            ratios
                .map(|((u, found), sd)| {
                    if *sd > 0.0 {
                        (u - found).norm() / sd
                    } else {
                        0.0
                    }
                })
                .fold(0.0, f64::max)
        });
        worst.push(off);
    }
    worst.sort_by(f64::total_cmp);
    let known = factor(planes, None);
    let ratio = quantile(&worst, COVERAGE) / known;
    let ratio = if ratio.is_finite() { ratio } else { f64::MAX };
    let factor = factor(planes, basis.freedom) * ratio.max(1.0);
    let freedom = match basis.freedom {
        Some(free) => format!("repeat readings, {free} degrees of freedom"),
        None => "the stated scatter".to_owned(),
    };
    Circles {
        radii_g_mm: sds.iter().map(|sd| sd * factor).collect(),
        body: UncertaintyBody {
            coverage_share: COVERAGE,
            noise_share: basis.noise_share,
            freedom_number: basis.freedom,
            draws_number: DRAWS,
            drawn_over_propagated_ratio: ratio,
            words: format!(
                "from {freedom}; the circles of all planes together hold the true values 95 times in 100; {DRAWS} draws of the whole reckoning gave {ratio:.2} times the propagated circle, and the larger is stated"
            ),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_factors_are_those_of_the_plane() {
        // One plane, known scatter: k² = −2 ln 0.05.
        assert!((factor(1, None) - 5.991_464_547_107_979f64.sqrt()).abs() < 1e-12);
        // Many degrees of freedom come to the same.
        assert!((factor(2, Some(1_000_000)) / factor(2, None) - 1.0).abs() < 1e-4);
        assert!(factor(2, Some(2)) > 2.0 * factor(2, None));
    }

    #[test]
    fn law_drawn_circles_of_a_plain_sum_are_the_propagated_ones() {
        let found = [Vector::new(1.0, 0.0)];
        let one = Vector::new(1.0, 0.0);
        let sds = propagated(&[(vec![one], vec![Vector::default()], 0.01)], 1);
        assert!((sds[0] - 0.01).abs() < 1e-15);
        let basis = Basis {
            noise_share: 0.01,
            freedom: None,
            seed: 1,
        };
        let circles = circles(&found, &sds, &basis, |draw| {
            Some(vec![found[0] + draw() * 0.01])
        });
        // The 95 % point of 1000 draws is uncertain by some 3 %.
        assert!((circles.body.drawn_over_propagated_ratio - 1.0).abs() < 0.1);
    }
}
