//! The zero of a function between two places where its signs differ.

/// Why no zero was found.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoRoot {
    /// Both ends have the same sign, or one of them is no number.
    #[error("the function is {low} at {from} and {high} at {to}: no change of sign between them")]
    NotBracketed {
        /// One end.
        from: f64,
        /// The other end.
        to: f64,
        /// The function there.
        low: f64,
        /// The function at the other end.
        high: f64,
    },
}

/// The zero of `f` between `from` and `to`.
///
/// - **What it finds:** a place where `f` changes its sign, by inverse quadratic interpolation where
///   that is safe and by halving elsewhere (T. Chandrupatla, *Advances in Engineering Software* 28
///   (1997) 145, from memory).
/// - **What must hold:** `f` is finite between the ends and has different signs at them (0 counts as
///   either); it need not be smooth.
/// - **`within`:** how far the place may be off; 0 asks for the last digit but one.
/// - **Promised:** the zero is kept between two places of different sign throughout; at most some
///   three times the steps of halving, about 10 for a smooth function.
///
/// # Errors
/// [`NoRoot::NotBracketed`] with both ends and what the function is there.
pub fn root(mut f: impl FnMut(f64) -> f64, from: f64, to: f64, within: f64) -> Result<f64, NoRoot> {
    let (mut x1, mut x2) = (to, from);
    let (mut f1, mut f2) = (f(x1), f(x2));
    let bracketed = (f1 <= 0.0 && f2 >= 0.0) || (f1 >= 0.0 && f2 <= 0.0);
    if !bracketed {
        return Err(NoRoot::NotBracketed {
            from,
            to,
            low: f2,
            high: f1,
        });
    }
    let mut part = 0.5f64;
    loop {
        let (best, least) = if f1.abs() < f2.abs() {
            (x1, f1)
        } else {
            (x2, f2)
        };
        let width = (x2 - x1).abs();
        let enough = 0.5 * within + 2.0 * f64::EPSILON * best.abs();
        // Not `width <= enough` alone: an infinite or absent width must end it too.
        if least == 0.0 || width <= 2.0 * enough || width.is_nan() || width == 0.0 {
            return Ok(best);
        }
        let edge = (enough / width).min(0.5);
        let x = x1 + part.clamp(edge, 1.0 - edge) * (x2 - x1);
        let fx = f(x);
        let (x3, f3);
        if (fx > 0.0) == (f1 > 0.0) {
            (x3, f3) = (x1, f1);
        } else {
            (x3, f3) = (x2, f2);
            (x2, f2) = (x1, f1);
        }
        (x1, f1) = (x, fx);
        let xi = (x1 - x2) / (x3 - x2);
        let phi = (f1 - f2) / (f3 - f2);
        part = if phi * phi < xi && (1.0 - phi).powi(2) < 1.0 - xi {
            f1 / (f2 - f1) * f3 / (f2 - f3)
                + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
        } else {
            0.5
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_known_zeros_are_met_to_the_last_digits() {
        // Two roundings of the place and one of the function near it.
        let within = 4.0 * f64::EPSILON;
        let found = root(|x| x * x - 2.0, 0.0, 2.0, 0.0).unwrap();
        assert!((found / std::f64::consts::SQRT_2 - 1.0).abs() <= within);
        let found = root(f64::cos, 3.0, 0.0, 0.0).unwrap();
        assert!((found / std::f64::consts::FRAC_PI_2 - 1.0).abs() <= within);
        assert_eq!(root(|x| x - 1.0, 1.0, 5.0, 0.0), Ok(1.0));
        // A zero of high order is flat: known no better than its function is.
        let found = root(|x| (x - 0.3).powi(9), -1.0, 2.0, 1e-9).unwrap();
        assert!((found - 0.3).abs() < 1e-6, "{found}");
    }

    #[test]
    fn law_a_step_is_found_by_halving_and_counts_stay_small() {
        let mut calls = 0;
        let found = root(
            |x| {
                calls += 1;
                if x < 0.7 { -1.0 } else { 1.0 }
            },
            0.0,
            1.0,
            1e-12,
        )
        .unwrap();
        assert!(
            (found - 0.7).abs() <= 1e-12 && calls < 3 * 40,
            "{found} {calls}"
        );
    }

    #[test]
    fn law_what_is_not_bracketed_is_refused() {
        assert!(root(|x| x * x + 1.0, -1.0, 1.0, 0.0).is_err());
        assert!(root(|_| f64::NAN, -1.0, 1.0, 0.0).is_err());
    }
}
