//! Validation cases with their inputs: numbers in, numbers compared.
#![allow(dead_code, reason = "each test file uses its own part of this reader")]

use serde::Deserialize;

#[derive(Deserialize)]
pub struct Cases {
    pub case: Vec<Case>,
}

#[derive(Deserialize)]
pub struct Case {
    pub name: String,
    pub inputs: toml::Table,
    pub value: toml::Table,
    pub tolerance: toml::Value,
    #[serde(default)]
    pub relative: bool,
}

impl Case {
    pub fn input(&self, key: &str) -> Option<f64> {
        let text = self.inputs.get(key)?.as_str()?;
        Some(
            text.parse()
                .unwrap_or_else(|_| panic!("{}: {key}", self.name)),
        )
    }

    pub fn need(&self, key: &str) -> f64 {
        self.input(key)
            .unwrap_or_else(|| panic!("{} has no {key}", self.name))
    }

    /// Every value of the case against what `ours` gives for its key.
    pub fn check(&self, ours: impl Fn(&str) -> f64) {
        for (key, printed) in &self.value {
            let exact: f64 = printed.as_str().expect("a text").parse().expect("a number");
            let size = self.tolerance.get(key).unwrap_or(&self.tolerance);
            let size: f64 = size.as_str().expect("a text").parse().expect("a number");
            let slack = if self.relative {
                size * exact.abs()
            } else {
                size
            };
            let found = ours(key);
            assert!(
                (found - exact).abs() <= slack,
                "{} {key}: {found} against {exact}",
                self.name
            );
        }
    }
}

pub fn cases(text: &str) -> Vec<Case> {
    let cases: Cases = toml::from_str(text).expect("cases");
    assert!(!cases.case.is_empty());
    cases.case
}
