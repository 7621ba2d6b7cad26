//! Materials with their densities, from `shelf/polymers.toml`, `metals.toml` and `elastomers.toml`.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::part::job::MaterialKind;

/// A material of the shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its word in a job file.
    pub id: String,
    /// What kind of material.
    pub kind: MaterialKind,
    /// Density in g/cm³.
    pub density_g_cm3: f64,
    /// The density as the source prints it.
    pub density_text: String,
    /// How the value is known: `read`, `memory`, `practice`, `derived` or `invented`.
    pub tag: String,
    /// The key of the source.
    pub source: String,
    /// Where in the source.
    pub locator: String,
    /// A remark on the value.
    pub note: String,
}

impl Material {
    /// Where the density comes from and how far it may be off, in one sentence.
    #[must_use]
    pub fn why(&self) -> String {
        let from = match self.tag.as_str() {
            "read" => format!("read in {}, {}", self.source, self.locator),
            "memory" => "from memory".to_owned(),
            "practice" => "common practice, no source".to_owned(),
            tag => tag.to_owned(),
        };
        let note = if self.note.is_empty() {
            String::new()
        } else {
            format!("; {}", self.note)
        };
        format!("{} g/cm3 for {}, {from}{note}", self.density_text, self.id)
    }
}

#[derive(Deserialize)]
struct Row {
    density: Value,
}

#[derive(Deserialize)]
struct Value {
    value: String,
    unit: String,
    tag: String,
    source: String,
    #[serde(default)]
    locator: String,
    #[serde(default)]
    note: String,
}

const FILES: [(MaterialKind, &str); 3] = [
    (
        MaterialKind::Polymer,
        include_str!("../../../../shelf/polymers.toml"),
    ),
    (
        MaterialKind::Metal,
        include_str!("../../../../shelf/metals.toml"),
    ),
    (
        MaterialKind::Elastomer,
        include_str!("../../../../shelf/elastomers.toml"),
    ),
];

/// Every material, in the order of the files.
#[must_use]
pub fn materials() -> &'static [Material] {
    static MATERIALS: OnceLock<Vec<Material>> = OnceLock::new();
    MATERIALS.get_or_init(|| {
        FILES
            .iter()
            .flat_map(|(kind, text)| read(*kind, text))
            .collect()
    })
}

/// The material a word stands for.
#[must_use]
pub fn material(id: &str) -> Option<&'static Material> {
    materials().iter().find(|m| m.id == id)
}

/// Reads one file of materials; the file is part of the program, and a test reads every row.
fn read(kind: MaterialKind, text: &str) -> Vec<Material> {
    let table: toml::Table = toml::from_str(text).expect("a shelf file is TOML");
    let mut found = Vec::new();
    for (id, row) in table {
        let Row { density } = row.try_into().expect("a material has a density");
        assert_eq!(
            density.unit, "g/cm3",
            "the density of {id} is kept in g/cm3"
        );
        let density_g_cm3 = density.value.parse().expect("a density is a number");
        found.push(Material {
            id,
            kind,
            density_g_cm3,
            density_text: density.value,
            tag: density.tag,
            source: density.source,
            locator: density.locator,
            note: density.note,
        });
    }
    found
}
