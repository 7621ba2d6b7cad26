//! The air a piece turns in: density by CIPM-2007, viscosity by Sutherland.

use crate::shelf::known;

/// Air as the drag laws need it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Density.
    pub density_kg_m3: f64,
    /// Dynamic viscosity.
    pub viscosity_pa_s: f64,
}

impl Air {
    /// Moist air of a temperature, a pressure and a relative humidity.
    ///
    /// Density by CIPM-2007 (A. Picard and others, *Metrologia* 45 (2008) 149; coefficients on the
    /// shelf, from memory), made for 15 to 27 °C and 60 to 110 kPa and smooth far beyond; viscosity of
    /// dry air by Sutherland's law (moisture lowers it by less than 1 % in a room).
    #[must_use]
    pub fn moist(temperature_degc: f64, pressure_kpa: f64, humidity_percent: f64) -> Self {
        const PASCAL: f64 = 1e3;
        const PERCENT: f64 = 1e-2;
        let (t, p) = (temperature_degc, pressure_kpa * PASCAL);
        let kelvin = t + known("air.kelvin_at_zero").value;
        Self {
            density_kg_m3: density_kg_m3(t, kelvin, p, humidity_percent * PERCENT),
            viscosity_pa_s: sutherland_pa_s(kelvin),
        }
    }

    /// Kinematic viscosity; infinite in a vacuum.
    #[must_use]
    pub fn kinematic_m2_per_s(&self) -> f64 {
        self.viscosity_pa_s / self.density_kg_m3
    }
}

fn cipm(name: &str) -> f64 {
    known(&format!("air.cipm.{name}")).value
}

fn density_kg_m3(celsius: f64, kelvin: f64, pascal: f64, humidity: f64) -> f64 {
    let saturation = (cipm("saturation_square") * kelvin * kelvin
        + cipm("saturation_linear") * kelvin
        + cipm("saturation_constant")
        + cipm("saturation_inverse") / kelvin)
        .exp();
    let enhancement = cipm("enhancement_constant")
        + cipm("enhancement_pressure") * pascal
        + cipm("enhancement_square") * celsius * celsius;
    // Nothing but vapour is the most there can be.
    let vapour = if pascal > 0.0 {
        (humidity * enhancement * saturation / pascal).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let first = cipm("a0")
        + (cipm("a1") + cipm("a2") * celsius) * celsius
        + (cipm("b0") + cipm("b1") * celsius) * vapour
        + (cipm("c0") + cipm("c1") * celsius) * vapour * vapour;
    let second = cipm("d") + cipm("e") * vapour * vapour;
    let ratio = pascal / kelvin;
    let compressibility = 1.0 - ratio * first + ratio * ratio * second;
    let lighter = 1.0 - cipm("molar_mass_water") / cipm("molar_mass_dry");
    pascal * cipm("molar_mass_dry") / (compressibility * cipm("gas_constant") * kelvin)
        * (1.0 - vapour * lighter)
}

fn sutherland_pa_s(kelvin: f64) -> f64 {
    let offset = known("air.sutherland.temperature").value;
    known("air.sutherland.factor").value * kelvin * kelvin.sqrt() / (kelvin + offset)
}
