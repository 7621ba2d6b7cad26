//! Runs without phase: a trial mass at two, three or more places, amplitudes alone.
//!
//! With the response `α` a positive number, every run reads `A = α |U + m|`. Squared and less the first run
//! this is linear in `s = α²` and `w = s U`: `A² − A₀² = s |m|² + 2 w·m`. Three places tell `s` and `w`; two
//! leave two answers, by `|w|² = s A₀²`.

use whirlwright_kit::complex_fit::{ComplexMatrix, inverse};

use super::given::Refusal;
use super::vectors::Vector;

/// The unbalance, and the other one that fits as well where there are but two places.
#[derive(Debug, Clone, Copy)]
pub(super) struct WithoutPhase {
    pub unbalance: Vector,
    pub other: Option<Vector>,
    /// Root mean square of what is left, over the first amplitude.
    pub misfit_share: f64,
}

fn do_not_fit(what: &str) -> Refusal {
    Refusal::DoNotFit {
        what: what.to_owned(),
        todo: "check that every run was at the same speed with the same trial mass, and measure again",
    }
}

/// From the first amplitude and the trials (mass vector, amplitude).
pub(super) fn without_phase(first: f64, trials: &[(Vector, f64)]) -> Result<WithoutPhase, Refusal> {
    let candidates = match trials.len() {
        0 | 1 => {
            return Err(Refusal::MissingRun {
                what: format!("{} trial place without phase", trials.len()),
                todo: "put the same trial mass at three places, a third of a turn apart (two leave two answers)".to_owned(),
            });
        }
        2 => two_places(first, trials)?,
        _ => vec![linear(first, trials)?],
    };
    let mut found: Vec<(Vector, f64)> = candidates
        .into_iter()
        .map(|(s, u)| refined(s, u, first, trials))
        .collect();
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    let Some(&(unbalance, misfit)) = found.first() else {
        return Err(do_not_fit("no unbalance reads so"));
    };
    Ok(WithoutPhase {
        unbalance,
        other: found.get(1).map(|(u, _)| *u),
        misfit_share: misfit,
    })
}

/// `s` and `U` of three places or more, by least squares of the squares.
fn linear(first: f64, trials: &[(Vector, f64)]) -> Result<(f64, Vector), Refusal> {
    let row = |(m, _): &(Vector, f64)| [m.norm_sqr(), 2.0 * m.re, 2.0 * m.im];
    let real = |x: f64| Vector::new(x, 0.0);
    let a = ComplexMatrix::from_fn(trials.len(), 3, |r, c| real(row(&trials[r])[c]));
    let b = ComplexMatrix::from_fn(trials.len(), 1, |r, _| {
        real(trials[r].1.powi(2) - first * first)
    });
    let inverse = inverse(&a).ok_or_else(|| Refusal::MissingRun {
        what: "the trial places do not tell the direction (all on one line, or one place twice)"
            .to_owned(),
        todo: "put the trial mass at places a third of a turn apart".to_owned(),
    })?;
    let x = inverse.pseudo * b;
    let s = x[(0, 0)].re;
    if s.is_nan() || s <= 0.0 {
        return Err(do_not_fit(
            "the trials lower the reading more than any mass can",
        ));
    }
    Ok((s, Vector::new(x[(1, 0)].re, x[(2, 0)].re) / s))
}

/// Both answers of two places.
fn two_places(first: f64, trials: &[(Vector, f64)]) -> Result<Vec<(f64, Vector)>, Refusal> {
    let (m1, m2) = (trials[0].0, trials[1].0);
    let square = |n: usize| trials[n].1.powi(2) - first * first;
    let cross = m1.re * m2.im - m1.im * m2.re;
    // Places on one line, to a hair: across it nothing is measured.
    let on_a_line = cross.abs() < 1e-9 * m1.norm() * m2.norm();
    let mut out = Vec::new();
    if on_a_line {
        let way = m1 / m1.norm();
        let (a, b) = (m1.norm(), m2.re * way.re + m2.im * way.im);
        let determinant = a * a * 2.0 * b - b * b * 2.0 * a;
        if determinant.abs() < 1e-12 * a.powi(3) {
            return Err(Refusal::MissingRun {
                what: "both trials were at one place".to_owned(),
                todo: "put the trial mass at places a third of a turn apart".to_owned(),
            });
        }
        let s = (square(0) * 2.0 * b - square(1) * 2.0 * a) / determinant;
        let along = (square(1) * a * a - square(0) * b * b) / determinant;
        let across = s * first * first - along * along;
        if s.is_nan() || s <= 0.0 || across < -1e-9 * along * along {
            return Err(do_not_fit("no unbalance reads so"));
        }
        for sign in [1.0, -1.0] {
            let w = way * Vector::new(along, sign * across.max(0.0).sqrt());
            out.push((s, w / s));
        }
        return Ok(out);
    }
    // w = p + s q from the two linear equations.
    let solve =
        |r1: f64, r2: f64| Vector::new(r1 * m2.im - r2 * m1.im, r2 * m1.re - r1 * m2.re) / cross;
    let p = solve(0.5 * square(0), 0.5 * square(1));
    let q = solve(-0.5 * m1.norm_sqr(), -0.5 * m2.norm_sqr());
    let (a, c) = (q.norm_sqr(), p.norm_sqr());
    let b = 2.0 * (p.re * q.re + p.im * q.im) - first * first;
    let root = b * b - 4.0 * a * c;
    if root < -1e-9 * b * b {
        return Err(do_not_fit("no unbalance reads so"));
    }
    for sign in [1.0, -1.0] {
        let s = (-b + sign * root.max(0.0).sqrt()) / (2.0 * a);
        if s > 0.0 {
            out.push((s, (p + q * s) / s));
        }
    }
    Ok(out)
}

/// Least squares of the amplitudes themselves (Gauss and Newton), from a first guess.
fn refined(s: f64, u: Vector, first: f64, trials: &[(Vector, f64)]) -> (Vector, f64) {
    let (mut alpha, mut u) = (s.sqrt(), u);
    let all: Vec<(Vector, f64)> = std::iter::once((Vector::default(), first))
        .chain(trials.iter().copied())
        .collect();
    let misfit = |alpha: f64, u: Vector| {
        let left = all
            .iter()
            .map(|(m, a)| (alpha * (u + m).norm() - a).powi(2));
        (left.sum::<f64>() / all.len() as f64).sqrt()
    };
    let mut best = misfit(alpha, u);
    for _ in 0..50 {
        let real = |x: f64| Vector::new(x, 0.0);
        let a = ComplexMatrix::from_fn(all.len(), 3, |r, c| {
            let v = u + all[r].0;
            let size = v.norm().max(f64::MIN_POSITIVE);
            real([size, alpha * v.re / size, alpha * v.im / size][c])
        });
        let b = ComplexMatrix::from_fn(all.len(), 1, |r, _| {
            real(all[r].1 - alpha * (u + all[r].0).norm())
        });
        let Some(inverse) = inverse(&a) else { break };
        let step = inverse.pseudo * b;
        let (next_alpha, next) = (
            alpha + step[(0, 0)].re,
            u + Vector::new(step[(1, 0)].re, step[(2, 0)].re),
        );
        let after = misfit(next_alpha, next);
        if after.is_nan() || after >= best {
            break;
        }
        (alpha, u, best) = (next_alpha, next, after);
    }
    (u, if first > 0.0 { best / first } else { best })
}

#[cfg(test)]
mod tests {
    use super::super::vectors::at_deg;
    use super::*;

    fn reading(u: Vector, masses: &[Vector]) -> (f64, Vec<(Vector, f64)>) {
        const RESPONSE: f64 = 3.7;
        let read = |m: &Vector| (*m, RESPONSE * (u + m).norm());
        (RESPONSE * u.norm(), masses.iter().map(read).collect())
    }

    #[test]
    fn law_three_places_bring_back_the_unbalance() {
        let u = at_deg(2.3, 77.0);
        let masses = [at_deg(1.0, 0.0), at_deg(1.4, 120.0), at_deg(1.0, 230.0)];
        let (first, trials) = reading(u, &masses);
        let found = without_phase(first, &trials).unwrap();
        assert!((found.unbalance - u).norm() < 1e-9 && found.other.is_none());
    }

    #[test]
    fn law_two_places_leave_two_answers_and_one_is_true() {
        let u = at_deg(0.8, 200.0);
        for second in [90.0, 120.0, 180.0] {
            let (first, trials) = reading(u, &[at_deg(1.0, 0.0), at_deg(1.0, second)]);
            let found = without_phase(first, &trials).unwrap();
            let near = |v: Vector| (v - u).norm() < 1e-7;
            assert!(
                near(found.unbalance) || found.other.is_some_and(near),
                "{second}: {found:?}"
            );
        }
    }

    #[test]
    fn law_no_answer_from_trials_that_tell_no_direction() {
        let (first, trials) = reading(at_deg(1.0, 10.0), &[at_deg(1.0, 0.0); 3]);
        assert!(without_phase(first, &trials).is_err());
        assert!(without_phase(first, &trials[..1]).is_err());
    }
}
