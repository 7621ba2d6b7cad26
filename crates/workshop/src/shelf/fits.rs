//! Tolerance grades and fundamental deviations of ISO 286, from `shelf/fits.toml`.

use std::sync::OnceLock;

/// One row of the table: sizes over `over_mm` up to and including `upto_mm`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SizeStep {
    over_mm: u32,
    upto_mm: u32,
    /// Grade or letter, and the value in whole micrometres.
    cells: Vec<(String, i32)>,
}

impl SizeStep {
    /// The width of a grade in µm; none where the table has no such grade.
    #[must_use]
    pub fn grade_um(&self, grade: u32) -> Option<f64> {
        self.cell(&format!("IT{grade}"))
    }

    /// The fundamental deviation of a shaft's letter in µm: the upper one of `f` and `g`, the lower
    /// one of the letters from `k` on.
    #[must_use]
    pub fn deviation_um(&self, letter: &str) -> Option<f64> {
        self.cell(letter)
    }

    fn cell(&self, key: &str) -> Option<f64> {
        let found = self.cells.iter().find(|(name, _)| name == key)?;
        Some(f64::from(found.1))
    }
}

/// The grades the table has.
pub const GRADES: std::ops::RangeInclusive<u32> = 5..=11;

/// The row for a size; none outside the table (over 3 up to and including 80 mm).
#[must_use]
pub fn size_step(size_mm: f64) -> Option<&'static SizeStep> {
    steps()
        .iter()
        .find(|s| f64::from(s.over_mm) < size_mm && size_mm <= f64::from(s.upto_mm))
}

/// The least and the largest size of the table in mm; the least itself is outside.
#[must_use]
pub fn sizes_mm() -> (f64, f64) {
    let ends = steps().first().zip(steps().last());
    ends.map_or((0.0, 0.0), |(a, b)| {
        (f64::from(a.over_mm), f64::from(b.upto_mm))
    })
}

fn steps() -> &'static [SizeStep] {
    static STEPS: OnceLock<Vec<SizeStep>> = OnceLock::new();
    STEPS.get_or_init(|| read(include_str!("../../../../shelf/fits.toml")))
}

/// Reads the table; the file is part of the program, and a test reads every row.
fn read(text: &str) -> Vec<SizeStep> {
    let table: toml::Table = toml::from_str(text).expect("a shelf file is TOML");
    let mut steps: Vec<SizeStep> = table.iter().filter_map(|(k, v)| step(k, v)).collect();
    steps.sort_by_key(|s| s.over_mm);
    steps
}

fn step(key: &str, row: &toml::Value) -> Option<SizeStep> {
    let over_mm = key.strip_prefix("over-")?.parse().ok()?;
    let row = row.as_table()?;
    let value = |cell: &toml::Value| cell.get("value")?.as_str()?.parse::<i32>().ok();
    let upto_mm = u32::try_from(value(row.get("upto")?)?).ok()?;
    let named = row.iter().filter(|(name, _)| *name != "upto");
    let cells = named
        .filter_map(|(name, cell)| Some((name.clone(), value(cell)?)))
        .collect();
    Some(SizeStep {
        over_mm,
        upto_mm,
        cells,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_rows_follow_each_other_and_hold_every_grade() {
        let steps = steps();
        assert_eq!(steps.len(), 10);
        assert_eq!(sizes_mm(), (3.0, 80.0));
        for pair in steps.windows(2) {
            assert_eq!(pair[0].upto_mm, pair[1].over_mm);
        }
        for step in steps {
            let widths: Vec<f64> = GRADES.map(|g| step.grade_um(g).unwrap()).collect();
            assert!(widths.windows(2).all(|w| w[0] < w[1]), "{widths:?}");
        }
    }

    #[test]
    fn law_a_size_belongs_to_the_row_it_ends() {
        assert!(size_step(3.0).is_none() && size_step(80.001).is_none());
        assert!(size_step(f64::NAN).is_none());
        assert_eq!(size_step(50.0).unwrap().grade_um(7), Some(25.0));
        assert_eq!(size_step(50.001).unwrap().grade_um(7), Some(30.0));
        assert_eq!(size_step(24.0).unwrap().deviation_um("t"), None);
    }
}
