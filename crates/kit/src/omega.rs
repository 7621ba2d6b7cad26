//! The solution of `x + ln x = s`.

/// The positive `x` with `x + ln x = s` (Wright's omega; Lambert's W of `e^s`).
///
/// - **What it is for:** laws of the form `1/√c = a + b ln(r√c)` are this in disguise, and need no
///   iteration from outside.
/// - **Method:** a start good to some hundredths and two steps of fourth order, or, from 3 to 19, a start
///   good to 3e-5 and one step (F. Fritsch, R. Shafer,
///   W. Crowley, *Commun. ACM* 16 (1973) 123, from memory).
/// - **Range:** any `s` from −700 to 1e300; below −700 the answer is `e^s`, which is near or at 0.
/// - **Promised:** within some 4 roundings of the true value.
#[must_use]
#[inline]
pub fn omega(s: f64) -> f64 {
    if s < -50.0 {
        // x = e^(s − x) and x is below the last digit of s.
        return s.exp();
    }
    if (MIDDLE - HALF..=MIDDLE + HALF).contains(&s) {
        let t = (s - MIDDLE) / HALF;
        return better(s, FIT.iter().rev().fold(0.0, |sum, c| sum * t + c));
    }
    let start = if s > 2.0 {
        s - s.ln() * s / (1.0 + s)
    } else {
        start_below_2(s)
    };
    better(s, better(s, start))
}

/// The stretch on which the start is a polynomial.
const MIDDLE: f64 = 11.0;
const HALF: f64 = 8.0;
/// The polynomial through omega at eight Chebyshev places of that stretch: within 3e-5 of it, which one
/// step of fourth order brings to the last digits.
const FIT: [f64; 8] = [
    8.822_628_56,
    7.185_576_43,
    0.299_370_453,
    -0.137_637_446,
    0.060_606_906_3,
    -0.031_472_618_4,
    0.028_373_961,
    -0.013_361_234_1,
];

/// One step of fourth order.
#[inline]
fn better(s: f64, x: f64) -> f64 {
    let off = s - x - x.ln();
    let one = 1.0 + x;
    let q = 2.0 * one * (one + off * (2.0 / 3.0));
    x * (1.0 + off * (q - off) / (one * (q - 2.0 * off)))
}

fn start_below_2(s: f64) -> f64 {
    if s < -1.0 {
        let e = s.exp();
        e * (1.0 - e + 1.5 * e * e)
    } else {
        // The tangent at s = 1 (where x is 1) and its bend.
        let d = s - 1.0;
        1.0 + 0.5 * d + 0.0625 * d * d - d * d * d / 192.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_it_solves_its_equation() {
        assert!((omega(1.0) - 1.0).abs() <= f64::EPSILON);
        for n in 0..4000 {
            let s = -45.0 + 0.05 * f64::from(n);
            let x = omega(s);
            // The equation's terms are of the size of s (or of ln x): each is rounded once, and x
            // answers to an error of s by x/(1 + x).
            let within = 4.0 * f64::EPSILON * (1.0 + s.abs());
            assert!((x + x.ln() - s).abs() <= within, "s {s}: {x}");
        }
        assert!((omega(-60.0) / (-60f64).exp() - 1.0).abs() < 1e-15);
    }

    #[test]
    fn law_it_rises_all_the_way() {
        let mut last = 0.0;
        for n in 0..3000 {
            let x = omega(-55.0 + 0.1 * f64::from(n));
            assert!(x > last);
            last = x;
        }
    }
}
