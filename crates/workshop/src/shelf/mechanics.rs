//! Stiffness, growth and safe strains of materials, from `shelf/mechanics.toml`.

use std::sync::OnceLock;

use crate::part::Range;

/// What a press fit asks of a material; typical figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Mechanics {
    /// The material's word, as in [`super::material`].
    pub id: String,
    /// Short-time modulus of elasticity, in MPa.
    pub modulus_mpa: Range,
    /// Poisson's ratio.
    pub poisson_ratio: Range,
    /// Linear thermal expansion, in 1/K.
    pub expansion_per_k: f64,
    /// Stress at which a metal takes a set of 0.2 %, in MPa.
    pub proof_stress_mpa: Option<f64>,
    /// Largest safe strain for minutes, once, as a share.
    pub short_strain_share: Option<f64>,
    /// Largest safe strain for years, as a share.
    pub long_strain_share: Option<Range>,
    /// Creep modulus after 1 h and after 1000 h, in MPa.
    pub creep_mpa: Option<(f64, f64)>,
    /// Temperatures it is used at, in °C.
    pub temperature_degc: Option<(f64, f64)>,
    /// Growth from dry to room air, as a share.
    pub moisture_strain_share: Option<f64>,
    /// How each figure is known, in words; says `from memory` where one is.
    pub why: Vec<String>,
}

/// What the shelf knows of a material's mechanics.
#[must_use]
pub fn mechanics(id: &str) -> Option<&'static Mechanics> {
    static ALL: OnceLock<Vec<Mechanics>> = OnceLock::new();
    let all = ALL.get_or_init(|| read(include_str!("../../../../shelf/mechanics.toml")));
    all.iter().find(|m| m.id == id)
}

/// Reads the file; it is part of the program, and a test reads every row.
fn read(text: &str) -> Vec<Mechanics> {
    let table: toml::Table = toml::from_str(text).expect("a shelf file is TOML");
    let row = |(id, row): (&String, &toml::Value)| {
        let row = row.as_table().expect("a material is a table");
        mechanics_of(id, row).expect("a material has modulus, poisson and expansion")
    };
    table.iter().map(row).collect()
}

fn mechanics_of(id: &str, row: &toml::Table) -> Option<Mechanics> {
    /// A percent as a share.
    const PERCENT: f64 = 0.01;
    let number = |field: &str, key: &str| row.get(field)?.get(key)?.as_str()?.parse::<f64>().ok();
    let one = |field: &str| number(field, "value");
    let range = |field: &str| {
        let likely = one(field)?;
        let (low, high) = (number(field, "low"), number(field, "high"));
        Some(Range {
            low: low.unwrap_or(likely),
            likely,
            high: high.unwrap_or(likely),
        })
    };
    Some(Mechanics {
        id: id.to_owned(),
        modulus_mpa: range("modulus")?,
        poisson_ratio: range("poisson")?,
        expansion_per_k: one("expansion")?,
        proof_stress_mpa: one("proof_stress"),
        short_strain_share: one("short_strain").map(|s| s * PERCENT),
        long_strain_share: range("long_strain").map(|s| s.map(|x| x * PERCENT)),
        creep_mpa: one("creep_1h").zip(one("creep_1000h")),
        temperature_degc: one("least_temperature").zip(one("most_temperature")),
        moisture_strain_share: one("moisture_strain"),
        why: why(row),
    })
}

/// The figures by how they are known, one sentence a way of knowing.
fn why(row: &toml::Table) -> Vec<String> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (field, cell) in row {
        let text = |key: &str| cell.get(key).and_then(toml::Value::as_str).unwrap_or("");
        let from = match text("tag") {
            "read" => format!("read in {}, {}", text("source"), text("locator")),
            "memory" => "from memory".to_owned(),
            tag => tag.to_owned(),
        };
        let value = format!(
            "{} {} {}",
            field.replace('_', " "),
            text("value"),
            text("unit")
        );
        let value = value.trim_end_matches(" 1").to_owned();
        match groups.iter_mut().find(|(known, _)| *known == from) {
            Some((_, values)) => values.push(value),
            None => groups.push((from, vec![value])),
        }
    }
    let sentence = |(from, values): (String, Vec<String>)| format!("{}: {from}", values.join(", "));
    groups.into_iter().map(sentence).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_material_is_stiff_and_knows_its_limits() {
        let all = read(include_str!("../../../../shelf/mechanics.toml"));
        assert!(all.len() >= 17);
        for m in &all {
            assert!(crate::shelf::material(&m.id).is_some(), "{}", m.id);
            assert!(m.modulus_mpa.is_in_order() && m.modulus_mpa.low > 0.0);
            assert!((0.0..0.5).contains(&m.poisson_ratio.high), "{}", m.id);
            let strain = m.short_strain_share.zip(m.long_strain_share);
            assert!(strain.is_some() != m.proof_stress_mpa.is_some(), "{}", m.id);
            if let Some((short, long)) = strain {
                assert!(long.high < short, "{}: long strain above short", m.id);
                let (hour, later) = m.creep_mpa.unwrap();
                assert!(
                    later < hour && hour <= m.modulus_mpa.high,
                    "{} creeps",
                    m.id
                );
            }
        }
    }

    #[test]
    fn law_what_is_from_memory_says_so() {
        let why = mechanics("pc-abs").unwrap().why.join("; ");
        assert!(why.contains("from memory") && why.contains("modulus 2350 MPa"));
    }
}
