//! Cooling in closed form: plates, rods, a touch of two bodies, a freezing front.

use std::f64::consts::{FRAC_2_PI, FRAC_PI_2, PI, SQRT_2};

use whirlwright_kit::normal::below;

/// Terms of a series: the next one is below the last digit from a Fourier number of a hundred-thousandth on.
const TERMS: u32 = 400;
/// First zero of the Bessel function J₀, and 2 over it times J₁ there: what is left of a rod after a while.
const ROD: (f64, f64) = (2.404_825_557_695_773, 1.601_974_696_979_214);

/// What is looked at of a cooling wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// The middle of the wall.
    Centre,
    /// The mean over the wall.
    Mean,
}

/// What is left of the difference to the steel's temperature, as a share, in a plate between two faces of that
/// temperature; at the Fourier number `a t / s²` of the whole thickness.
#[must_use]
pub fn plate_share(fourier_number: f64, look: Look) -> f64 {
    let term = |k: u32| {
        let odd = f64::from(2 * k + 1);
        let fade = (-(odd * PI).powi(2) * fourier_number).exp();
        match look {
            Look::Centre => {
                2.0 * FRAC_2_PI / odd * fade * if k.is_multiple_of(2) { 1.0 } else { -1.0 }
            }
            Look::Mean => 2.0 * FRAC_2_PI * FRAC_2_PI / (odd * odd) * fade,
        }
    };
    (0..TERMS).map(term).sum()
}

/// Time until a plate has so much of the difference left, by the first term of its series; too short by a few parts in a
/// thousand where more than half is left.
#[must_use]
pub fn plate_s(wall_mm: f64, diffusivity_m2_per_s: f64, share: f64, look: Look) -> f64 {
    let first = match look {
        Look::Centre => 2.0 * FRAC_2_PI,
        Look::Mean => 2.0 * FRAC_2_PI * FRAC_2_PI,
    };
    let wall_m = wall_mm / 1000.0;
    (wall_m * wall_m / (PI * PI * diffusivity_m2_per_s) * (first / share).ln()).max(0.0)
}

/// The same by the whole series.
#[must_use]
pub fn plate_by_series_s(wall_mm: f64, diffusivity_m2_per_s: f64, share: f64, look: Look) -> f64 {
    let wall_m = wall_mm / 1000.0;
    let (mut low, mut high) = (0.0, 10.0);
    // A double holds 53 binary digits.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if plate_share(middle, look) > share {
            low = middle;
        } else {
            high = middle;
        }
    }
    low * wall_m * wall_m / diffusivity_m2_per_s
}

/// Time until the middle of a round rod has so much of the difference left, by the first term of its series.
#[must_use]
pub fn rod_s(diameter_mm: f64, diffusivity_m2_per_s: f64, share: f64) -> f64 {
    let radius_m = diameter_mm / 2000.0;
    (radius_m * radius_m / (ROD.0 * ROD.0 * diffusivity_m2_per_s) * (ROD.1 / share).ln()).max(0.0)
}

/// How a body takes up heat at once: conductivity, density and specific heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Conductivity, in W/(m·K).
    pub conducts_w_m_k: f64,
    /// Density.
    pub density_kg_m3: f64,
    /// Specific heat, in J/(kg·K).
    pub stores_j_kg_k: f64,
    /// Temperature before the touch.
    pub temperature_degc: f64,
}

impl Body {
    /// `√(k ρ c)`, in J/(m²·K·s^½).
    #[must_use]
    pub fn effusivity_j(&self) -> f64 {
        (self.conducts_w_m_k * self.density_kg_m3 * self.stores_j_kg_k).sqrt()
    }
}

/// The temperature between two bodies from the moment they touch.
#[must_use]
pub fn contact_degc(one: &Body, other: &Body) -> f64 {
    let (a, b) = (one.effusivity_j(), other.effusivity_j());
    (a * one.temperature_degc + b * other.temperature_degc) / (a + b)
}

/// How much warmer melt gets that loses so much pressure and no heat.
#[must_use]
pub fn shear_heating_k(drop_mpa: f64, density_kg_m3: f64, stores_j_kg_k: f64) -> f64 {
    drop_mpa * 1e6 / (density_kg_m3 * stores_j_kg_k)
}

/// A melt that freezes at one temperature from a wall inward (F. Neumann; H. Carslaw, J. Jaeger).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Freezing {
    /// The wall.
    pub wall_degc: f64,
    /// Where it freezes.
    pub freezes_degc: f64,
    /// The melt far from the wall.
    pub melt_degc: f64,
    /// Diffusivity of the frozen part.
    pub solid_m2_per_s: f64,
    /// Diffusivity of the melt.
    pub melt_m2_per_s: f64,
    /// Conductivity of the melt over that of the frozen part.
    pub conducts_ratio: f64,
    /// Specific heat of the frozen part, in J/(kg·K).
    pub solid_j_kg_k: f64,
    /// Latent heat.
    pub latent_j_kg: f64,
}

impl Freezing {
    /// The number λ of the front at `2 λ √(a t)`, a being the frozen part's diffusivity.
    ///
    /// It is where what the frozen part conducts away is the latent heat and what the melt brings:
    /// `e^{−λ²}/erf λ − (k_m/k_s) √(a_s/a_m) (T_m − T_f)/(T_f − T_w) e^{−λ² a_s/a_m}/erfc(λ√(a_s/a_m)) = √π λ L/(c (T_f − T_w))`.
    #[must_use]
    pub fn front_factor(&self) -> f64 {
        let ratio = (self.solid_m2_per_s / self.melt_m2_per_s).sqrt();
        let below_front = self.freezes_degc - self.wall_degc;
        let over = (self.melt_degc - self.freezes_degc) / below_front;
        let latent = PI.sqrt() * self.latent_j_kg / (self.solid_j_kg_k * below_front);
        let excess = |x: f64| {
            let solid = (-x * x).exp() / erf(x);
            let y = x * ratio;
            let melt = self.conducts_ratio * ratio * over * (-y * y).exp() / (1.0 - erf(y));
            solid - melt - latent * x
        };
        let (mut low, mut high) = (1e-9, 4.0);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if excess(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// Depth of the front after a time.
    #[must_use]
    pub fn front_mm(&self, time_s: f64) -> f64 {
        2000.0 * self.front_factor() * (self.solid_m2_per_s * time_s).sqrt()
    }
}

/// The error function, by the normal distribution.
fn erf(x: f64) -> f64 {
    2.0 * below(x * SQRT_2) - 1.0
}

/// A wall with a film between it and the steel: the first root of `ζ tan ζ = Bi`, half a wall being the length, and what
/// the middle has left of it. Time follows as for the plate.
#[must_use]
pub fn plate_with_film_s(
    wall_mm: f64,
    diffusivity_m2_per_s: f64,
    share: f64,
    biot_ratio: f64,
) -> f64 {
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if middle * middle.tan() < biot_ratio {
            low = middle;
        } else {
            high = middle;
        }
    }
    let root = 0.5 * (low + high);
    let first = 4.0 * root.sin() / (2.0 * root + (2.0 * root).sin());
    let half_m = wall_mm / 2000.0;
    (half_m * half_m / (root * root * diffusivity_m2_per_s) * (first / share).ln()).max(0.0)
}
