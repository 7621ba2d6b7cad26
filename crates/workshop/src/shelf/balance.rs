//! Balance quality grades and what the balance station takes for granted, from
//! `shelf/balance_grades.toml` and `shelf/balance.toml`.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::part::Range;

/// A balance quality grade.
#[derive(Debug, Clone, PartialEq)]
pub struct Grade {
    /// Its name, `G 6.3`.
    pub name: String,
    /// Permissible eccentricity times angular speed.
    pub grade_mm_per_s: f64,
    /// What the standard's table names for it.
    pub examples: String,
    /// How the row is known.
    pub tag: String,
}

/// What the station takes for granted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BalanceRules {
    /// Least share of the permissible unbalance for one of two planes.
    pub plane_least_share: f64,
    /// Largest share for one of two planes.
    pub plane_most_share: f64,
    /// A measuring error below this share of the limit is left out.
    pub error_left_out_share: f64,
    /// A trial that changes the reading by less than this share tells little.
    pub trial_change_share: f64,
    /// A trial's change over its standard uncertainty that is enough.
    pub trial_over_noise_ratio: f64,
    /// Lever arm of rolling friction on rods.
    pub rolling_arm_um: Range,
    /// Stretch of the string under a hanging piece.
    pub string_stretch_mm: Range,
    /// Acceleration of free fall, mm/s²; its unit is not among those of names.
    pub free_fall_value: f64,
}

#[derive(Deserialize)]
struct GradeRow {
    value: String,
    tag: String,
    examples: String,
}

const GRADES: &str = include_str!("../../../../shelf/balance_grades.toml");
const RULES: &str = include_str!("../../../../shelf/balance.toml");

/// Every grade, the finest first.
#[must_use]
pub fn grades() -> &'static [Grade] {
    static READ: OnceLock<Vec<Grade>> = OnceLock::new();
    READ.get_or_init(|| {
        let table: toml::Table = toml::from_str(GRADES).expect("a shelf file is TOML");
        let mut found: Vec<Grade> = table.into_iter().map(|(_, row)| grade(row)).collect();
        found.sort_by(|a, b| a.grade_mm_per_s.total_cmp(&b.grade_mm_per_s));
        found
    })
}

fn grade(row: toml::Value) -> Grade {
    let row: GradeRow = row
        .try_into()
        .expect("a grade has a value, a tag and examples");
    Grade {
        name: format!("G {}", row.value),
        grade_mm_per_s: row.value.parse().expect("a grade is a number"),
        examples: row.examples,
        tag: row.tag,
    }
}

/// What the balance station takes for granted.
#[must_use]
pub fn balance_rules() -> &'static BalanceRules {
    static READ: OnceLock<BalanceRules> = OnceLock::new();
    READ.get_or_init(|| {
        let table: toml::Table = toml::from_str(RULES).expect("a shelf file is TOML");
        let number = |path: &[&str]| {
            let (last, around) = path.split_last().expect("a value stands under a name");
            let inner = around
                .iter()
                .try_fold(&table, |at, key| at.get(*key)?.as_table());
            let value = inner.and_then(|t| t.get(*last)?.get("value")?.as_str());
            value
                .and_then(|text| text.parse().ok())
                .expect("the shelf has every rule the station asks for")
        };
        let range = |name: &str| Range {
            low: number(&[name, "low"]),
            likely: number(&[name, "likely"]),
            high: number(&[name, "high"]),
        };
        BalanceRules {
            plane_least_share: number(&["plane_share", "least"]),
            plane_most_share: number(&["plane_share", "most"]),
            error_left_out_share: number(&["error_left_out"]),
            trial_change_share: number(&["trial", "change"]),
            trial_over_noise_ratio: number(&["trial", "over_noise"]),
            rolling_arm_um: range("rolling_arm"),
            string_stretch_mm: range("string_stretch"),
            free_fall_value: number(&["free_fall"]),
        }
    })
}
