//! Counted masses as pictures need them, from whichever answer brought them.

use whirlwright_workshop::measuring::MeasuringBody;
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Kind;

use crate::words;

/// The parts of one kind, one row an origin; all rows share the bins.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Which kind of part.
    pub kind: Kind,
    /// Lower edge of the first bin in g.
    pub start_mass_g: f64,
    /// Width of a bin in g.
    pub bin_mass_g: f64,
    /// The rows.
    pub rows: Vec<Row>,
}

/// The parts of one origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What to call it, such as `cavity 3`.
    pub label: String,
    /// How many parts.
    pub count: usize,
    /// Mean mass in g.
    pub mean_mass_g: f64,
    /// Standard deviation of the mass in g; none for one part.
    pub sd_mass_g: Option<f64>,
    /// Parts in each bin.
    pub counts: Vec<usize>,
}

impl Family {
    /// The same without the empty bins at both ends.
    #[must_use]
    pub fn trimmed(&self) -> Self {
        let filled = |n: &usize| {
            self.rows
                .iter()
                .any(|row| row.counts.get(*n).is_some_and(|c| *c > 0))
        };
        let bins = self.bins();
        let first = (0..bins).find(filled).unwrap_or(0);
        let last = (0..bins).rev().find(filled).map_or(bins, |n| n + 1);
        let mut family = self.clone();
        family.start_mass_g += self.bin_mass_g * first as f64;
        for row in &mut family.rows {
            row.counts.resize(bins, 0);
            row.counts = row.counts[first..last].to_vec();
        }
        family
    }

    /// How many parts in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.rows.iter().map(|row| row.count).sum()
    }

    /// How many bins.
    #[must_use]
    pub fn bins(&self) -> usize {
        self.rows
            .iter()
            .map(|row| row.counts.len())
            .max()
            .unwrap_or(0)
    }

    /// Upper edge of the last bin in g.
    #[must_use]
    pub fn end_mass_g(&self) -> f64 {
        self.start_mass_g + self.bin_mass_g * self.bins() as f64
    }

    /// The fullest bin of any row.
    #[must_use]
    pub fn highest(&self) -> usize {
        self.rows
            .iter()
            .flat_map(|row| row.counts.iter().copied())
            .max()
            .unwrap_or(0)
    }
}

/// The families of a pairing.
#[must_use]
pub fn of_pairing(body: &PairBody) -> Vec<Family> {
    let mut families: Vec<Family> = Vec::new();
    for histogram in &body.distribution {
        let (start, bin) = (histogram.from_mass_g, histogram.step_mass_g);
        let row = Row {
            label: label(histogram.kind, &histogram.origin),
            count: histogram.count,
            mean_mass_g: histogram.mean_mass_g,
            sd_mass_g: histogram.sd_mass_g,
            counts: histogram.counts.iter().map(|n| *n as usize).collect(),
        };
        let fits = |f: &&mut Family| f.kind == histogram.kind && same_bin(f.bin_mass_g, bin);
        match families.iter_mut().find(fits) {
            Some(family) => add_row(family, start, row),
            None => families.push(Family {
                kind: histogram.kind,
                start_mass_g: start,
                bin_mass_g: bin,
                rows: vec![row],
            }),
        }
    }
    families
}

/// The families of a look over a lot.
#[must_use]
pub fn of_measuring(body: &MeasuringBody) -> Vec<Family> {
    body.histograms
        .iter()
        .map(|histogram| {
            let rows = histogram.by_origin.iter().map(|origin| {
                let spread = body
                    .by_origin
                    .iter()
                    .find(|s| s.kind == histogram.kind && s.origin == origin.origin);
                Row {
                    label: label(histogram.kind, origin.origin.as_deref().unwrap_or_default()),
                    count: origin.counts.iter().sum(),
                    mean_mass_g: spread.map_or(f64::NAN, |s| s.mean_mass_g),
                    sd_mass_g: spread.and_then(|s| s.sd_mass_g),
                    counts: origin.counts.clone(),
                }
            });
            Family {
                kind: histogram.kind,
                start_mass_g: histogram.start_mass_g,
                bin_mass_g: histogram.bin_mass_g,
                rows: rows.collect(),
            }
        })
        .collect()
}

fn label(kind: Kind, origin: &str) -> String {
    if origin.is_empty() {
        return format!("all {}", words::kinds(kind));
    }
    // A file may write `cavity 3` where another writes `3`.
    let bare = !origin.is_empty() && origin.chars().count() <= 3;
    if bare {
        format!("{} {origin}", words::origin(kind))
    } else {
        origin.to_owned()
    }
}

fn same_bin(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

/// Rows whose first bins differ are set to a common first bin.
fn add_row(family: &mut Family, start: f64, mut row: Row) {
    let bin = family.bin_mass_g;
    if bin.is_nan() || bin <= 0.0 {
        family.rows.push(row);
        return;
    }
    let shift = ((start - family.start_mass_g) / bin).round();
    // Bins a thousand apart are no histogram; leave such rows as they are.
    let many = (shift.abs() as usize).min(1000);
    if shift > 0.0 {
        row.counts.splice(0..0, std::iter::repeat_n(0, many));
    } else if shift < 0.0 {
        for other in &mut family.rows {
            other.counts.splice(0..0, std::iter::repeat_n(0, many));
        }
        family.start_mass_g = start;
    }
    family.rows.push(row);
    let bins = family.bins();
    for row in &mut family.rows {
        row.counts.resize(bins, 0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(counts: &[usize]) -> Row {
        Row {
            label: String::new(),
            count: counts.iter().sum(),
            mean_mass_g: 0.0,
            sd_mass_g: None,
            counts: counts.to_vec(),
        }
    }

    #[test]
    fn law_rows_are_set_to_one_first_bin() {
        let mut family = Family {
            kind: Kind::Half,
            start_mass_g: 10.0,
            bin_mass_g: 0.1,
            rows: vec![row(&[1, 2])],
        };
        add_row(&mut family, 10.2, row(&[5]));
        add_row(&mut family, 9.9, row(&[7]));
        let counts: Vec<&[usize]> = family.rows.iter().map(|r| r.counts.as_slice()).collect();
        assert_eq!(counts, [&[0, 1, 2, 0][..], &[0, 0, 0, 5], &[7, 0, 0, 0]]);
        assert_eq!(family.start_mass_g, 9.9);
        assert_eq!(family.count(), 15);
        let trimmed = Family {
            rows: vec![row(&[0, 0, 3, 0]), row(&[0, 1])],
            ..family
        }
        .trimmed();
        assert_eq!(trimmed.rows[0].counts, [0, 3]);
        assert_eq!(trimmed.rows[1].counts, [1, 0]);
        assert!((trimmed.start_mass_g - 10.0).abs() < 1e-12);
    }
}
