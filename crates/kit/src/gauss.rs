//! Places and weights of Gauss's rule on −1 … 1.

/// `n` places with their weights: polynomials up to degree `2n − 1` are met exactly.
///
/// Method: Newton on the Legendre polynomial from the cosine guess; both good to a few roundings up to
/// some hundred places.
#[must_use]
pub fn legendre(n: usize) -> Vec<(f64, f64)> {
    let polynomial = |x: f64| {
        let (mut before, mut now) = (1.0, x);
        for k in 2..=n {
            let k = k as f64;
            (before, now) = (now, ((2.0 * k - 1.0) * x * now - (k - 1.0) * before) / k);
        }
        let slope = n as f64 * (x * now - before) / (x * x - 1.0);
        (now, slope)
    };
    let place = |i: usize| {
        let mut x = (std::f64::consts::PI * (i as f64 + 0.75) / (n as f64 + 0.5)).cos();
        for _ in 0..8 {
            let (value, slope) = polynomial(x);
            x -= value / slope;
        }
        let (_, slope) = polynomial(x);
        (x, 2.0 / ((1.0 - x * x) * slope * slope))
    };
    match n {
        0 => Vec::new(),
        1 => vec![(0.0, 2.0)],
        _ => (0..n).map(place).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_rule_meets_every_power_up_to_its_degree() {
        for n in [1, 2, 5, 12, 24] {
            let rule = legendre(n);
            for power in 0..2 * n as i32 {
                let sum: f64 = rule.iter().map(|(x, w)| w * x.powi(power)).sum();
                let exact = if power % 2 == 0 {
                    2.0 / f64::from(power + 1)
                } else {
                    0.0
                };
                // A few roundings of weights that add up to 2.
                assert!((sum - exact).abs() < 1e-14, "{n} {power}: {sum}");
            }
        }
    }
}
