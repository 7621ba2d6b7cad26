//! The cases of `validation/spin/`, and the generic piece they are of.
#![allow(dead_code, reason = "each test file uses its own part of this reader")]

use std::collections::BTreeMap;

use toml::{Table, Value};
use whirlwright_workshop::spin::air::Air;
use whirlwright_workshop::spin::faces::{FaceStrip, Faces};
use whirlwright_workshop::spin::oil::Oil;
use whirlwright_workshop::spin::rim::{Rim, RimBand};
use whirlwright_workshop::spin::{Law, Loss, LossName, Losses};

pub const MICRO: f64 = 1e-6;

/// The inputs of a case as numbers.
pub struct Inputs(BTreeMap<String, String>);

impl Inputs {
    pub fn text(&self, key: &str) -> &str {
        self.0
            .get(key)
            .unwrap_or_else(|| panic!("the case has `{key}`"))
    }

    pub fn number(&self, key: &str) -> f64 {
        let text = self.text(key);
        text.parse()
            .unwrap_or_else(|_| panic!("`{key}` is a number: {text}"))
    }
}

pub type Found = Vec<(&'static str, f64)>;

pub fn texts(value: Option<&Value>) -> BTreeMap<String, String> {
    match value {
        Some(Value::Table(table)) => table
            .iter()
            .filter_map(|(key, text)| Some((key.clone(), text.as_str()?.to_owned())))
            .collect(),
        Some(Value::String(text)) => BTreeMap::from([(String::new(), text.clone())]),
        _ => BTreeMap::new(),
    }
}

/// Compares every case of a file with what is reckoned.
pub fn compare(file: &str, reckon: impl Fn(&str, &Inputs) -> Found) {
    let table: Table = file.parse().expect("a case file is TOML");
    let cases = table["case"].as_array().expect("a case file has cases");
    let mut wrong = Vec::new();
    for case in cases {
        let name = case["name"].as_str().expect("a case has a name");
        let inputs = Inputs(texts(case.get("inputs")));
        let relative = case.get("relative").and_then(Value::as_bool) == Some(true);
        let tolerances = texts(case.get("tolerance"));
        let found = reckon(inputs.text("of"), &inputs);
        for (key, text) in texts(case.get("value")) {
            let printed: f64 = text.parse().expect("a value is a number");
            let tolerance = tolerances
                .get(&key)
                .or(tolerances.get(""))
                .expect("a tolerance");
            let tolerance: f64 = tolerance.parse().expect("a tolerance is a number");
            let within = if relative {
                tolerance * printed.abs()
            } else {
                tolerance
            };
            let Some((_, number)) = found.iter().find(|(k, _)| *k == key) else {
                panic!("{name}: nothing reckons `{key}`");
            };
            // What is no number must fail too.
            if number.is_nan() || (number - printed).abs() > within {
                wrong.push(format!("{name}: {key} is {number}, {text} is printed"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The air of the tables.
pub const TABLE_AIR: Air = Air {
    density_kg_m3: 1.2041,
    viscosity_pa_s: 1.8134e-5,
};

pub fn disc(inner_mm: f64, outer_mm: f64, sine_ratio: f64) -> FaceStrip {
    FaceStrip {
        inner_mm,
        outer_mm,
        sine_ratio,
    }
}

/// Two faces of 28 mm and a rim of 20 mm, with a bearing.
pub fn generic(dry_un_m: f64, f0: f64, viscosity_cst: f64, rim_factor: f64) -> Losses {
    let faces = Faces::new(&[disc(0.0, 28.0, 1.0), disc(0.0, 28.0, 1.0)], TABLE_AIR);
    let rim = Rim::new(
        &[RimBand {
            radius_mm: 28.0,
            length_mm: 20.0,
        }],
        TABLE_AIR,
    );
    let loss = |name, factor, law| Loss { name, factor, law };
    let dry = Law::Constant { coefficient: MICRO };
    Losses {
        all: vec![
            loss(LossName::BearingDry, dry_un_m, dry),
            loss(
                LossName::BearingOil,
                f0,
                Law::Oil(Oil::new(viscosity_cst, 9.525)),
            ),
            loss(LossName::Faces, 1.0, Law::Faces(faces)),
            loss(LossName::Rim, rim_factor, Law::Rim(rim)),
        ],
    }
}
