//! Integrals of smooth functions over a stretch, with an estimate of the error.

/// Places of Kronrod's 15-point rule on −1 … 1, from the outside to the middle; every second one,
/// from the second on, is a place of Gauss's 7-point rule.
const PLACES: [f64; 8] = [
    0.991_455_371_120_812_6,
    0.949_107_912_342_758_5,
    0.864_864_423_359_769_1,
    0.741_531_185_599_394_4,
    0.586_087_235_467_691_1,
    0.405_845_151_377_397_2,
    0.207_784_955_007_898_47,
    0.0,
];
/// Weights of the 15-point rule.
const FIFTEEN: [f64; 8] = [
    0.022_935_322_010_529_225,
    0.063_092_092_629_978_55,
    0.104_790_010_322_250_18,
    0.140_653_259_715_525_92,
    0.169_004_726_639_267_9,
    0.190_350_578_064_785_4,
    0.204_432_940_075_298_9,
    0.209_482_141_084_727_83,
];
/// Weights of the 7-point rule.
const SEVEN: [f64; 4] = [
    0.129_484_966_168_869_7,
    0.279_705_391_489_276_7,
    0.381_830_050_505_118_9,
    0.417_959_183_673_469_4,
];

/// What was asked for, and whether it was reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Integral<const N: usize> {
    /// The integrals of the `N` functions.
    pub value: [f64; N],
    /// How far each may be off; an upper estimate, not a proof.
    pub error: [f64; N],
    /// Whether every error is within what was asked.
    pub reached: bool,
}

/// Most stretches the whole is cut into.
const MOST_PANELS: usize = 400;

/// The integrals of `N` functions over the same stretch, with an estimate of their errors.
///
/// - **What it finds:** `∫ f dx` from `from` to `to` (either may be the larger), by Gauss's 7-point
///   and Kronrod's 15-point rule; where the two differ too much the worst stretch is halved.
/// - **What must hold:** the functions are finite inside the stretch (the ends are not asked). A
///   kink costs halvings; put it at an end where its place is known.
/// - **`relative`:** the error asked for, as a share of the integral's own size (of `∫|f|`, so that
///   an integral that cancels to nothing does not ask for ever).
/// - **Promised:** a polynomial of degree 22 is met but for rounding. The estimate is that of
///   QUADPACK (R. Piessens and others, 1983, from memory), which is large for smooth functions:
///   the true error is mostly far smaller.
/// - **Cost:** 15 calls where one stretch is enough, and then nothing is allocated.
/// - **On failure:** `reached` is false after 400 stretches, and the best value is given.
pub fn integrate<const N: usize>(
    mut f: impl FnMut(f64) -> [f64; N],
    from: f64,
    to: f64,
    relative: f64,
) -> Integral<N> {
    let whole = Panel::over(&mut f, from, to);
    if whole.is_within(relative) || from == to {
        return Integral {
            value: whole.value,
            error: whole.error,
            reached: true,
        };
    }
    let mut panels = vec![whole];
    loop {
        let sum = Panel::sum(&panels);
        let reached = sum.is_within(relative);
        if reached || panels.len() >= MOST_PANELS {
            return Integral {
                value: sum.value,
                error: sum.error,
                reached,
            };
        }
        let worst = worst(&panels, &sum);
        let (a, b) = (panels[worst].from, panels[worst].to);
        let middle = 0.5 * (a + b);
        panels[worst] = Panel::over(&mut f, a, middle);
        panels.push(Panel::over(&mut f, middle, b));
    }
}

/// One stretch with its integrals.
#[derive(Debug, Clone, Copy)]
struct Panel<const N: usize> {
    from: f64,
    to: f64,
    value: [f64; N],
    error: [f64; N],
    /// The integrals of the functions' sizes.
    size: [f64; N],
}

impl<const N: usize> Panel<N> {
    fn over(f: &mut impl FnMut(f64) -> [f64; N], from: f64, to: f64) -> Self {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        let centre = f(middle);
        let mut fifteen = centre.map(|y| y * FIFTEEN[7]);
        let mut seven = centre.map(|y| y * SEVEN[3]);
        let mut size = fifteen.map(f64::abs);
        for (n, place) in PLACES.iter().take(7).enumerate() {
            let (low, high) = (f(middle - half * place), f(middle + half * place));
            for k in 0..N {
                let both = low[k] + high[k];
                fifteen[k] += FIFTEEN[n] * both;
                size[k] += FIFTEEN[n] * (low[k].abs() + high[k].abs());
                if n % 2 == 1 {
                    seven[k] += SEVEN[n / 2] * both;
                }
            }
        }
        let error = std::array::from_fn(|k| {
            let apart = ((fifteen[k] - seven[k]) * half).abs();
            let scale = size[k] * half.abs();
            // QUADPACK's estimate: the difference of the rules shrinks with the 2/3 power of the
            // error of the better one; 200 is its safety.
            let share = if scale > 0.0 {
                200.0 * apart / scale
            } else {
                0.0
            };
            let smooth = scale * share * share.sqrt();
            smooth.min(apart).max(4.0 * f64::EPSILON * scale)
        });
        Self {
            from,
            to,
            value: fifteen.map(|y| y * half),
            error,
            size: size.map(|y| y * half.abs()),
        }
    }

    fn is_within(&self, relative: f64) -> bool {
        // The rounding of the sum is no ground for more halving.
        let asked = relative.max(8.0 * f64::EPSILON);
        (0..N).all(|k| self.error[k] <= asked * self.size[k])
    }

    fn sum(panels: &[Self]) -> Self {
        let mut sum = panels[0];
        for panel in &panels[1..] {
            for k in 0..N {
                sum.value[k] += panel.value[k];
                sum.error[k] += panel.error[k];
                sum.size[k] += panel.size[k];
            }
        }
        sum
    }
}

/// The stretch whose error is the largest share of what all of them make.
fn worst<const N: usize>(panels: &[Panel<N>], sum: &Panel<N>) -> usize {
    let share = |panel: &Panel<N>| {
        (0..N)
            .filter(|k| sum.size[*k] > 0.0)
            .map(|k| panel.error[k] / sum.size[k])
            .fold(0.0, f64::max)
    };
    let mut found = (0, -1.0);
    for (n, panel) in panels.iter().enumerate() {
        let share = share(panel);
        if share > found.1 {
            found = (n, share);
        }
    }
    found.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_polynomials_up_to_degree_22_are_met() {
        for degree in 0..=22i32 {
            let found = integrate(|x| [x.powi(degree)], 0.0, 1.0, 0.0);
            let exact = 1.0 / f64::from(degree + 1);
            // Fifteen products and their sum.
            assert!(
                (found.value[0] / exact - 1.0).abs() < 30.0 * f64::EPSILON,
                "degree {degree}: {found:?}"
            );
        }
        // Degree 24 is the first even one that is not met: its remainder is seen.
        let first = Panel::over(&mut |x: f64| [x.powi(24)], -1.0, 1.0);
        assert!((first.value[0] * 12.5 - 1.0).abs() > 1e-10);
    }

    #[test]
    fn closed_form_smooth_functions_and_a_kink() {
        let found = integrate(|x| [x.exp(), x.cos()], 0.0, 1.0, 1e-12);
        let exact = [std::f64::consts::E - 1.0, 1f64.sin()];
        for (value, exact) in found.value.iter().zip(exact) {
            assert!((value / exact - 1.0).abs() < 1e-14 && found.reached);
        }
        let found = integrate(|x| [(x - 0.3).abs().sqrt()], 0.0, 1.0, 1e-10);
        let exact = (0.3f64.powf(1.5) + 0.7f64.powf(1.5)) / 1.5;
        assert!(
            found.reached && (found.value[0] - exact).abs() <= 1e-10,
            "{found:?}"
        );
    }

    #[test]
    fn law_the_error_is_never_said_to_be_smaller_than_it_is() {
        for k in 1..40 {
            let rate = f64::from(k);
            let found = integrate(|x| [(rate * x).sin() + 1.0], 0.0, 1.0, 1e-6);
            let exact = 1.0 + (1.0 - rate.cos()) / rate;
            assert!(
                (found.value[0] - exact).abs() <= found.error[0],
                "{rate}: {found:?}"
            );
        }
    }

    #[test]
    fn law_turned_about_it_changes_its_sign_and_nothing_is_nothing() {
        let there = integrate(|x| [x.sin()], 0.0, 2.0, 1e-9).value[0];
        let back = integrate(|x| [x.sin()], 2.0, 0.0, 1e-9).value[0];
        assert!((there + back).abs() < 4.0 * f64::EPSILON);
        assert_eq!(integrate(|x| [x], 1.0, 1.0, 1e-9).value, [0.0]);
    }
}
