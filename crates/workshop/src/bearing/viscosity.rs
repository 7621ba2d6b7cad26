//! Viscosity falls with temperature: the straight line of ASTM D341 through two listed points.

use crate::shelf::{LISTED_DEGC, Lubricant, viscosity_law};

/// `log log Z = A − B log T` (base 10, T in kelvin), with `Z = ν + 0.7 + exp(−1.47 − 1.84 ν − 0.51 ν²)`.
///
/// Good for oils between about −20 and 120 °C; not for greases as a whole (their base oil is meant) and not
/// below 0.21 cSt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ViscosityLine {
    a: f64,
    b: f64,
}

impl ViscosityLine {
    /// The line through two points of temperature in °C and kinematic viscosity in cSt; none where the
    /// points do not make one (equal temperatures, a viscosity not above nought).
    #[must_use]
    pub fn through(first: (f64, f64), second: (f64, f64)) -> Option<Self> {
        let x = |degc: f64| (degc + viscosity_law().zero_k.number).log10();
        let y = |cst: f64| lifted(cst).log10().log10();
        let b = (y(first.1) - y(second.1)) / (x(second.0) - x(first.0));
        let a = y(first.1) + b * x(first.0);
        (a.is_finite() && b.is_finite() && first.1 > 0.0 && second.1 > 0.0).then_some(Self { a, b })
    }

    /// The line of a lubricant of the shelf.
    #[must_use]
    pub fn of(lubricant: &Lubricant) -> Option<Self> {
        Self::through(
            (LISTED_DEGC[0], lubricant.at_40_degc_cst.number),
            (LISTED_DEGC[1], lubricant.at_100_degc_cst.number),
        )
    }

    /// Kinematic viscosity at a temperature in °C.
    #[must_use]
    pub fn viscosity_cst(&self, temperature_degc: f64) -> f64 {
        let kelvin = temperature_degc + viscosity_law().zero_k.number;
        let lift = 10f64.powf(10f64.powf(self.a - self.b * kelvin.log10()));
        // Solved by Newton: the lift is smooth, and its slope is between 0.5 and 1 above 0.2 cSt.
        let mut cst = (lift - viscosity_law().added_cst.number).max(0.1);
        for _ in 0..20 {
            let step = (lifted(cst) - lift) / slope(cst);
            cst = (cst - step).max(1e-3);
            if step.abs() < 1e-12 * cst {
                break;
            }
        }
        cst
    }

    /// The two coefficients `A` and `B` of the line on the chart, plain numbers.
    #[must_use]
    pub fn chart_coefficient(&self) -> (f64, f64) {
        (self.a, self.b)
    }
}

fn thin(cst: f64) -> f64 {
    let [c0, c1, c2] = &viscosity_law().thin_coefficient;
    (c0.number + c1.number * cst + c2.number * cst * cst).exp()
}

/// `Z` of a viscosity in cSt.
fn lifted(cst: f64) -> f64 {
    cst + viscosity_law().added_cst.number + thin(cst)
}

/// Its derivative.
fn slope(cst: f64) -> f64 {
    let [_, c1, c2] = &viscosity_law().thin_coefficient;
    1.0 + thin(cst) * (c1.number + 2.0 * c2.number * cst)
}
