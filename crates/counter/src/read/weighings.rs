//! Weighed halves of a hold-time study: `cavity,hold_s,mass_g`, a line a half; `hold_mpa` where the pressure was changed too.

use whirlwright_workshop::moulding::Weighing;
use whirlwright_workshop::part::Dimension;

use super::log::header::factor;
use super::table::finding::{FileRefusal, Finding, Findings, shortened};
use super::table::number::{self, Mark};
use super::table::raw::{RawRow, RawTable};
use super::table::{delimited, encoding};

/// The columns a file may have: header words, what stands in them, and whether the file needs it.
const COLUMNS: [(&[&str], Option<Dimension>, bool); 4] = [
    (&["cavity", "cav"], None, true),
    (&["hold", "hold_time"], Some(Dimension::Time), true),
    (&["mass", "weight"], Some(Dimension::Mass), true),
    (
        &["hold_pressure", "pressure"],
        Some(Dimension::Pressure),
        false,
    ),
];
const EXAMPLE: &str = "`cavity,hold_s,mass_g`, and `pressure_mpa` where it was changed too";

/// The place of a column and what one of its numbers is in base units.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Column {
    at: usize,
    factor: f64,
}

/// Reads a file of weighings: everything in it, or nothing and everything that is wrong with it.
///
/// # Errors
/// What cannot be read, each with its line and column.
pub fn read(file: &str, bytes: &[u8]) -> Result<Vec<Weighing>, FileRefusal> {
    let refusal = |findings: Vec<Finding>, good_rows: usize| FileRefusal {
        file: file.to_owned(),
        findings,
        good_rows,
    };
    let whole = |finding: Box<Finding>| refusal(vec![*finding], 0);
    if bytes.is_empty() {
        return Err(refusal(vec![encoding::empty("an empty file (0 bytes)")], 0));
    }
    let decoded = encoding::decode(bytes).map_err(whole)?;
    let mut table = delimited::split(&decoded.text).map_err(whole)?;
    if table.rows.is_empty() {
        return Err(refusal(
            vec![encoding::empty("a file in which nothing stands")],
            0,
        ));
    }
    let header = table.rows.remove(0);
    let columns = columns(&header).map_err(whole)?;
    let mark = mark(&table, &columns).map_err(whole)?;
    let mut findings = Findings::default();
    let mut weighed = Vec::new();
    for row in &table.rows {
        match one(row, &header, &columns, mark) {
            Ok(weighing) => weighed.push(weighing),
            Err(finding) => findings.push(*finding),
        }
    }
    let findings = findings.into_list();
    if findings.is_empty() {
        Ok(weighed)
    } else {
        Err(refusal(findings, weighed.len()))
    }
}

/// The places of cavity, hold time, mass and pressure.
fn columns(header: &RawRow<'_>) -> Result<[Option<Column>; 4], Box<Finding>> {
    let mut found = [None; 4];
    for (at, cell) in header.cells.iter().enumerate() {
        let word = cell.trimmed().to_lowercase().replace([' ', '-'], "_");
        let Some((place, factor)) = meaning(&word) else {
            continue;
        };
        if found[place].is_some() {
            let read = format!("two columns `{}`", COLUMNS[place].0[0]);
            return Err(of_header(header, Some(at + 1), &read));
        }
        found[place] = Some(Column { at, factor });
    }
    let missing = |n: &usize| COLUMNS[*n].2 && found[*n].is_none();
    match (0..COLUMNS.len()).find(missing) {
        Some(n) => Err(of_header(
            header,
            None,
            &format!("no column `{}` with its unit", COLUMNS[n].0[0]),
        )),
        None => Ok(found),
    }
}

fn of_header(header: &RawRow<'_>, column: Option<usize>, read: &str) -> Box<Finding> {
    Box::new(Finding {
        line: Some(header.line),
        column,
        field: "header".to_owned(),
        read: read.to_owned(),
        expected: EXAMPLE.to_owned(),
        advice: "Name the columns so in the first line".to_owned(),
        source_line: shortened(&header.text),
    })
}

/// Which column a word names, and the factor of its unit.
fn meaning(word: &str) -> Option<(usize, f64)> {
    for (place, (names, dimension, _)) in COLUMNS.iter().enumerate() {
        for name in *names {
            let Some(rest) = word.strip_prefix(name) else {
                continue;
            };
            match (dimension, rest.strip_prefix('_')) {
                (None, None) if rest.is_empty() => return Some((place, 1.0)),
                (Some(dimension), Some(unit)) => {
                    if let Some(factor) = factor(unit, *dimension) {
                        return Some((place, factor));
                    }
                }
                _ => {}
            }
        }
    }
    None
}

fn mark(table: &RawTable<'_>, columns: &[Option<Column>; 4]) -> Result<Mark, Box<Finding>> {
    let places: Vec<usize> = columns.iter().skip(1).flatten().map(|c| c.at).collect();
    let texts = table.rows.iter().flat_map(|row| {
        let of = |at: &usize| Some((row.line, row.cells.get(*at)?.trimmed()));
        places.iter().filter_map(of).collect::<Vec<_>>()
    });
    number::find_mark(texts, table.separator).map_err(|(read, expected)| {
        Box::new(Finding {
            field: "numbers".to_owned(),
            read,
            expected,
            advice: "Write all numbers alike".to_owned(),
            ..Finding::default()
        })
    })
}

fn one(
    row: &RawRow<'_>,
    header: &RawRow<'_>,
    columns: &[Option<Column>; 4],
    mark: Mark,
) -> Result<Weighing, Box<Finding>> {
    let found = |column: Column, read: String, expected: String| {
        Box::new(Finding {
            line: Some(row.line),
            column: Some(column.at + 1),
            field: header.cells[column.at].trimmed().to_owned(),
            read,
            expected,
            advice: "Put it right, or take the line out".to_owned(),
            source_line: shortened(&row.text),
        })
    };
    let text = |column: Column| row.cells.get(column.at).map_or("", |cell| cell.trimmed());
    let number = |column: Column| {
        let read = number::read(text(column), mark);
        let value = read.map_err(|expected| {
            let said = if text(column).is_empty() {
                "nothing".to_owned()
            } else {
                format!("`{}`", text(column))
            };
            found(column, said, expected.to_string())
        })?;
        let value = value.to_f64() * column.factor;
        if value > 0.0 {
            Ok(value)
        } else {
            Err(found(
                column,
                format!("`{}`", text(column)),
                "a number above 0".to_owned(),
            ))
        }
    };
    let [Some(cavity), Some(hold), Some(mass), pressure] = *columns else {
        return Err(of_header(header, None, "too few columns"));
    };
    if text(cavity).is_empty() {
        return Err(found(
            cavity,
            "nothing".to_owned(),
            "the cavity's number or mark".to_owned(),
        ));
    }
    Ok(Weighing {
        cavity: text(cavity).to_owned(),
        hold_s: number(hold)?,
        hold_mpa: pressure.map(number).transpose()?,
        mass_g: number(mass)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_halves_in_any_order_of_columns_and_either_mark() {
        let read = |text: &str| read("w.csv", text.as_bytes()).expect(text);
        let plain = read("cavity,hold_s,mass_g\n1,2.5,10.70\n2,2.5,10.71\n");
        assert_eq!(
            (plain.len(), plain[1].mass_g, plain[0].hold_mpa),
            (2, 10.71, None)
        );
        let comma = read("mass_mg;cavity;hold_ms;pressure_mpa\n10700,5;A;2500;40\n");
        assert!((comma[0].mass_g - 10.7005).abs() < 1e-12 && (comma[0].hold_s - 2.5).abs() < 1e-12);
        assert_eq!(
            (comma[0].cavity.as_str(), comma[0].hold_mpa),
            ("A", Some(40.0))
        );
    }

    #[test]
    fn refuses_what_is_no_weighing_and_says_where() {
        for (text, said) in [
            ("", "empty file"),
            (
                "cavity,hold,mass_g\n1,2,10\n",
                "no column `hold` with its unit",
            ),
            ("cavity,hold_s,mass_furlong\n1,2,10\n", "no column `mass`"),
            (
                "cavity,hold_s,mass_g\n1,2,\n",
                "line 2, column 3, mass_g: read nothing",
            ),
            ("cavity,hold_s,mass_g\n1,2,ten\n", "read `ten`"),
            ("cavity,hold_s,mass_g\n1,-2,10\n", "a number above 0"),
            (
                "cavity,hold_s,mass_g\n,2,10\n",
                "the cavity's number or mark",
            ),
            (
                "cavity,cavity,hold_s,mass_g\n1,1,2,10\n",
                "two columns `cavity`",
            ),
            ("cavity,hold_s,mass_g\n1,2\n", "read nothing"),
        ] {
            let why = read("w.csv", text.as_bytes()).expect_err(text).to_string();
            assert!(why.contains(said), "{text}: {why}");
        }
    }
}
