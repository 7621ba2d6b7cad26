//! Lubricants and states of lubrication, from `shelf/lubricants.toml`.

use std::sync::OnceLock;

use toml::Table;

use super::sourced::{Sourced, sourced};
use crate::part::Range;

/// A state of lubrication: what is in the bearing and what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct Lubricant {
    /// Its word in a job file.
    pub id: String,
    /// What a maker would call it.
    pub words: String,
    /// Kinematic viscosity at 40 °C, cSt.
    pub at_40_degc_cst: Sourced,
    /// Kinematic viscosity at 100 °C, cSt.
    pub at_100_degc_cst: Sourced,
    /// How much of a flooded bearing's drag there is, as Palmgren's `f0`.
    pub f0_factor: Range,
    /// Where that range comes from.
    pub f0_whence: Sourced,
    /// Friction torque that does not depend on speed, µN·m.
    pub dry_torque_un_m: Range,
    /// Where that range comes from.
    pub dry_whence: Sourced,
}

/// The two temperatures at which viscosities are listed, in °C: ISO 3448 grades by the first.
pub const LISTED_DEGC: [f64; 2] = [40.0, 100.0];

/// Constants of the law of viscosity against temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct ViscosityLaw {
    /// What is added to the viscosity in cSt before the logarithm.
    pub added_cst: Sourced,
    /// The three coefficients that carry the law below 2 cSt: constant, linear, square.
    pub thin_coefficient: [Sourced; 3],
    /// Kelvin at 0 °C.
    pub zero_k: Sourced,
}

fn file() -> &'static Table {
    static FILE: OnceLock<Table> = OnceLock::new();
    FILE.get_or_init(|| {
        toml::from_str(include_str!("../../../../shelf/lubricants.toml"))
            .expect("a shelf file is TOML")
    })
}

/// Every lubricant, in the order of the file: the least drag first.
#[must_use]
pub fn lubricants() -> &'static [Lubricant] {
    static LUBRICANTS: OnceLock<Vec<Lubricant>> = OnceLock::new();
    LUBRICANTS.get_or_init(|| {
        let table = file()["lubricant"]
            .as_table()
            .expect("lubricants are a table");
        // What stands beside the lubricants in that table is their common source.
        let rows = table
            .iter()
            .filter_map(|(id, row)| Some((id, row.as_table()?)));
        rows.map(|(id, row)| read(id, row)).collect()
    })
}

fn read(id: &str, row: &Table) -> Lubricant {
    let of = |place: &str| sourced(file(), &format!("lubricant.{id}.{place}"));
    let range = |what: &str| {
        let likely = of(&format!("{what}.likely"));
        let range = Range {
            low: of(&format!("{what}.low")).number,
            likely: likely.number,
            high: of(&format!("{what}.high")).number,
        };
        (range, likely)
    };
    let (f0_factor, f0_whence) = range("f0");
    let (dry_torque_un_m, dry_whence) = range("dry");
    Lubricant {
        id: id.to_owned(),
        words: row["words"]
            .as_str()
            .expect("a lubricant has words")
            .to_owned(),
        at_40_degc_cst: of("at_40"),
        at_100_degc_cst: of("at_100"),
        f0_factor,
        f0_whence,
        dry_torque_un_m,
        dry_whence,
    }
}

/// The lubricant a word stands for.
#[must_use]
pub fn lubricant(id: &str) -> Option<&'static Lubricant> {
    lubricants().iter().find(|l| l.id == id)
}

/// The constants of the law of viscosity.
#[must_use]
pub fn viscosity_law() -> &'static ViscosityLaw {
    static LAW: OnceLock<ViscosityLaw> = OnceLock::new();
    LAW.get_or_init(|| {
        let of = |place: &str| sourced(file(), place);
        ViscosityLaw {
            added_cst: of("viscosity.added"),
            thin_coefficient: [
                of("viscosity.thin_0"),
                of("viscosity.thin_1"),
                of("viscosity.thin_2"),
            ],
            zero_k: of("viscosity.zero"),
        }
    })
}
