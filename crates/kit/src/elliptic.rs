//! Complete elliptic integrals by the arithmetic-geometric mean.

/// Complete elliptic integrals of one parameter `m = k²`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CompleteElliptic {
    /// `K(m)`, of the first kind.
    pub k: f64,
    /// `E(m)`, of the second kind.
    pub e: f64,
    /// `D(m) = (K − E)/m`, without the cancellation of that difference.
    pub d: f64,
    /// `B(m) = (E − (1 − m) K)/m`, likewise.
    pub b: f64,
}

/// The integrals for the complementary modulus `k' = √(1 − m)`, from 0 to 1.
///
/// The arithmetic-geometric mean of 1 and `k'` doubles its figures at every step, so it ends after at most ten
/// for any `k'` above 1e-300. `K = π/2M`, `E = K (1 − m s)`, `D = K s`, `B = K (1 − s)` with
/// `m s = Σ 2^(n−1) c_n²`. Every one is good to a few units in the last place, near `m = 0` too; near `m = 1` the
/// rounding of `1 − m s` costs `E` and `B` a factor of `K`.
/// `k' = 0` gives infinite `K` and `D`, and 1 for the others. Source: M. Abramowitz, I. Stegun, Handbook of
/// Mathematical Functions, 17.6, from memory.
#[must_use]
pub fn complete_elliptic(complementary: f64) -> CompleteElliptic {
    const MOST_STEPS: usize = 64;
    let first = complementary.clamp(0.0, 1.0);
    if first == 0.0 {
        return CompleteElliptic {
            k: f64::INFINITY,
            e: 1.0,
            d: f64::INFINITY,
            b: 1.0,
        };
    }
    let m = (1.0 - first) * (1.0 + first);
    // c₁²/m with the small difference taken out.
    let (mut a, mut b) = (0.5 * (1.0 + first), first.sqrt());
    let (mut share, mut power) = (0.5 + 0.25 * (1.0 - first) / (1.0 + first), 1.0);
    let mut c = 0.5 * (1.0 - first);
    for _ in 0..MOST_STEPS {
        if c <= f64::EPSILON * a {
            break;
        }
        // The next c from this one: c²/(4 a) of the next mean.
        let mean = 0.5 * (a + b);
        c = c * c / (4.0 * mean);
        b = (a * b).sqrt();
        a = mean;
        power *= 2.0;
        share += power * c * c / m;
    }
    let k = std::f64::consts::FRAC_PI_2 / a;
    CompleteElliptic {
        k,
        e: k * (1.0 - m * share),
        d: k * share,
        b: k * (1.0 - share),
    }
}
