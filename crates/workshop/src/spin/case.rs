//! One case of the forecast: every factor at one value, to losses, speeds and sleep.

use whirlwright_kit::ode::NotArrived;

use super::air::Air;
use super::faces::Faces;
use super::given::{FACTORS, Given};
use super::layers::Layers;
use super::losses::{Law, Loss, LossName, Losses};
use super::oil::Oil;
use super::profile::Surfaces;
use super::rim::Rim;
use super::sleep::sleep_s;
use super::speed::in_rad_per_s;
use super::unwind::{Unwinding, Unwound};
use crate::part::spin_factor::Factor;

const GRAM: f64 = 1e-3;
const GRAM_MM2: f64 = 1e-9;
const MICRO: f64 = 1e-6;
const MILLI: f64 = 1e-3;
const MM: f64 = 1e-3;

/// What a lever changes, as factors on what the design has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scales {
    pub inertia: f64,
    pub mass: f64,
    pub radius: f64,
    pub bearing: f64,
    pub viscosity: f64,
    pub throw: f64,
}

impl Scales {
    pub const NONE: Self = Self {
        inertia: 1.0,
        mass: 1.0,
        radius: 1.0,
        bearing: 1.0,
        viscosity: 1.0,
        throw: 1.0,
    };
}

/// One case.
#[derive(Debug, Clone)]
pub(super) struct Case<'a> {
    given: &'a Given,
    surfaces: &'a Surfaces,
    values: [f64; FACTORS],
    scales: Scales,
}

impl<'a> Case<'a> {
    /// The case of these values, in the order of [`Factor::ALL`].
    pub fn new(given: &'a Given, surfaces: &'a Surfaces, values: [f64; FACTORS]) -> Self {
        Self {
            given,
            surfaces,
            values,
            scales: Scales::NONE,
        }
    }

    /// Every factor at its likely value.
    pub fn likely(given: &'a Given, surfaces: &'a Surfaces) -> Self {
        Self::new(given, surfaces, given.ranges.map(|range| range.likely))
    }

    pub fn with(&self, scales: Scales) -> Self {
        Self {
            scales,
            ..self.clone()
        }
    }

    pub fn at(&self, factor: Factor, value: f64) -> Self {
        let mut case = self.clone();
        case.values[factor as usize] = value;
        case
    }

    /// The value of a factor, in the unit of its key.
    pub fn value(&self, factor: Factor) -> f64 {
        self.values[factor as usize]
    }

    pub fn inertia_kg_m2(&self) -> f64 {
        let drawn = self.given.section.polar_inertia_g_mm2 * GRAM_MM2;
        let radius = self.scales.radius * self.scales.radius;
        drawn * self.value(Factor::Inertia) * self.scales.inertia * radius
    }

    pub fn mass_kg(&self) -> f64 {
        self.given.section.mass_g * GRAM * self.scales.mass
    }

    pub fn air(&self) -> Air {
        Air::moist(
            self.value(Factor::Temperature),
            self.value(Factor::Pressure),
            self.value(Factor::Humidity),
        )
    }

    /// Viscosity of the lubricant as it runs.
    pub fn viscosity_cst(&self) -> f64 {
        let line = self.given.viscosity.as_ref();
        let own = line.map_or_else(
            || self.value(Factor::Viscosity),
            |line| line.viscosity_cst(self.value(Factor::Temperature)),
        );
        own * self.scales.viscosity
    }

    /// Everything that slows it.
    pub fn losses(&self) -> Losses {
        let air = self.air();
        let scaled;
        let surfaces = if self.scales.radius == 1.0 {
            self.surfaces
        } else {
            scaled = self.surfaces.scaled(self.scales.radius);
            &scaled
        };
        let bearing = self.scales.bearing;
        let loss = |name, factor, law| Loss { name, factor, law };
        let dry = Law::Constant { coefficient: MICRO };
        let oil = Oil::new(self.viscosity_cst(), self.given.bearing.pitch_mm());
        // The string runs on the bearing; where it rubs a wall it does so beside it.
        let rub = Law::Constant {
            coefficient: MILLI * self.given.bearing.outside_mm * 0.5 * MM,
        };
        let rubs = self.value(Factor::Friction) * self.value(Factor::WallForce);
        let all = vec![
            loss(
                LossName::BearingDry,
                bearing * self.value(Factor::DryTorque),
                dry,
            ),
            loss(
                LossName::BearingOil,
                bearing * self.value(Factor::Oil),
                Law::Oil(oil),
            ),
            loss(
                LossName::Faces,
                1.0,
                Law::Faces(Faces::new(&surfaces.faces, air)),
            ),
            loss(
                LossName::Rim,
                self.value(Factor::Rim),
                Law::Rim(Rim::new(&surfaces.rim, air)),
            ),
            loss(
                LossName::Gap,
                self.value(Factor::Gap),
                Law::Faces(Faces::new(&surfaces.gap, air)),
            ),
            loss(LossName::String, rubs, rub),
        ];
        Losses { all }
    }

    pub fn unwinding(&self) -> Unwinding {
        let given = self.given;
        Unwinding {
            mass_kg: self.mass_kg(),
            inertia_kg_m2: self.inertia_kg_m2(),
            layers: Layers::new(
                0.5 * given.bearing.outside_mm,
                given.string_length_mm,
                given.string_diameter_mm,
                given.gap_mm,
                self.value(Factor::Packing),
            ),
        }
    }

    pub fn hand_m_per_s(&self) -> f64 {
        self.value(Factor::HandSpeed) * self.scales.throw
    }

    /// The way down the string; none where the job says the speed itself.
    pub fn thrown(&self) -> Result<Option<Unwound>, NotArrived> {
        if self.given.speed_is_said {
            return Ok(None);
        }
        let stop = self.value(Factor::StopTime);
        self.unwinding().thrown(self.hand_m_per_s(), stop).map(Some)
    }

    /// The speed after the throw, in rad/s.
    pub fn start_rad_per_s(&self) -> Result<f64, NotArrived> {
        Ok(match self.thrown()? {
            Some(unwound) => unwound.speed_rad_per_s,
            None => in_rad_per_s(self.value(Factor::ThrowSpeed)) * self.scales.throw,
        })
    }

    /// The speed at which it no longer returns, in rad/s.
    pub fn end_rad_per_s(&self) -> f64 {
        in_rad_per_s(self.value(Factor::EndSpeed))
    }

    /// The whole sleep.
    pub fn sleep_s(&self) -> Result<f64, NotArrived> {
        let start = self.start_rad_per_s()?;
        Ok(sleep_s(
            &self.losses(),
            self.inertia_kg_m2(),
            start,
            self.end_rad_per_s(),
        ))
    }
}
