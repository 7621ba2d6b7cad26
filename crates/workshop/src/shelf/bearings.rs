//! Ball bearings by their dimensions, and the constants of their laws, from `shelf/bearings.toml`.

use std::sync::OnceLock;

use toml::Table;

use super::sourced::{Sourced, sourced};

/// A bearing of the shelf, by its dimensions alone.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfBearing {
    /// Its word in a job file: bore, outside and width.
    pub id: String,
    /// Bore, mm.
    pub bore_mm: Sourced,
    /// Outside diameter, mm.
    pub outside_mm: Sourced,
    /// Width, mm.
    pub width_mm: Sourced,
    /// How many balls.
    pub balls: Sourced,
    /// Diameter of a ball, mm.
    pub ball_mm: Sourced,
}

/// The constants of rating, contact and friction.
#[derive(Debug, Clone, PartialEq)]
pub struct BearingLaws {
    /// Radius of the inner groove by the ball's diameter.
    pub inner_groove_ratio: Sourced,
    /// Radius of the outer groove by the ball's diameter.
    pub outer_groove_ratio: Sourced,
    /// Modulus of elasticity of the rings and balls, in GPa.
    pub modulus_gpa: Sourced,
    /// Poisson's ratio of the same.
    pub poisson_ratio: Sourced,
    /// Contact pressure at which the static rating stands, MPa.
    pub static_pressure_mpa: Sourced,
    /// Largest ball load by the mean one, under a radial load.
    pub ball_load_factor: Sourced,
    /// Factors of radial and axial load in the equivalent static load.
    pub radial_factor: Sourced,
    /// The same of the axial load.
    pub axial_factor: Sourced,
    /// Static safety below which running is no longer quiet.
    pub quiet_safety_ratio: Sourced,
    /// Static safety below which a lasting mark is to be expected.
    pub least_safety_ratio: Sourced,
    /// Palmgren: coefficient of the viscous torque.
    pub viscous_coefficient: Sourced,
    /// Palmgren: viscosity times speed at which the branches meet, in cSt rpm.
    pub branch_cst_rpm: Sourced,
    /// Palmgren: coefficient below that.
    pub slow_coefficient: Sourced,
    /// Palmgren: least and largest factor of the load torque.
    pub f1_factor: [Sourced; 2],
    /// Exponent of load by rating in it.
    pub f1_exponent: Sourced,
    /// Coefficient of friction of the one-line rule.
    pub simple_coefficient: Sourced,
    /// Standard gravity, m/s².
    pub gravity_m_per_s2: Sourced,
    /// How many times its weight a piece pulls in a hard catch.
    pub catch_jerk_ratio: Sourced,
}

fn file() -> &'static Table {
    static FILE: OnceLock<Table> = OnceLock::new();
    FILE.get_or_init(|| {
        toml::from_str(include_str!("../../../../shelf/bearings.toml"))
            .expect("a shelf file is TOML")
    })
}

/// Every bearing, in the order of the file.
#[must_use]
pub fn bearings() -> &'static [ShelfBearing] {
    static BEARINGS: OnceLock<Vec<ShelfBearing>> = OnceLock::new();
    BEARINGS.get_or_init(|| {
        let table = file()["bearing"].as_table().expect("bearings are a table");
        let one = |id: &String| {
            let of = |what: &str| {
                let inner = table[id].as_table().expect("a bearing is a table");
                sourced(inner, what)
            };
            ShelfBearing {
                id: id.clone(),
                bore_mm: of("bore"),
                outside_mm: of("outside"),
                width_mm: of("width"),
                balls: of("balls"),
                ball_mm: of("ball"),
            }
        };
        table.keys().map(one).collect()
    })
}

/// The bearing a word stands for.
#[must_use]
pub fn bearing(id: &str) -> Option<&'static ShelfBearing> {
    bearings().iter().find(|b| b.id == id)
}

/// The constants of the laws.
#[must_use]
pub fn bearing_laws() -> &'static BearingLaws {
    static LAWS: OnceLock<BearingLaws> = OnceLock::new();
    LAWS.get_or_init(|| {
        let of = |place: &str| sourced(file(), place);
        BearingLaws {
            inner_groove_ratio: of("rating.inner_groove"),
            outer_groove_ratio: of("rating.outer_groove"),
            modulus_gpa: of("rating.modulus"),
            poisson_ratio: of("rating.poisson"),
            static_pressure_mpa: of("rating.pressure"),
            ball_load_factor: of("rating.ball_load"),
            radial_factor: of("rating.radial"),
            axial_factor: of("rating.axial"),
            quiet_safety_ratio: of("rating.quiet_safety"),
            least_safety_ratio: of("rating.least_safety"),
            viscous_coefficient: of("friction.viscous"),
            branch_cst_rpm: of("friction.branch"),
            slow_coefficient: of("friction.slow"),
            f1_factor: [of("friction.f1_least"), of("friction.f1_most")],
            f1_exponent: of("friction.f1_exponent"),
            simple_coefficient: of("friction.simple"),
            gravity_m_per_s2: of("load.gravity"),
            catch_jerk_ratio: of("load.catch_jerk"),
        }
    })
}
