//! Refuses what contradicts itself before anything is written.

use std::collections::{HashMap, HashSet};

use whirlwright_workshop::part::Measure;

use crate::{Error, Import, ImportRow, NewSet, Sets};

/// Longer serials and lot names are slips of a file, not labels.
const LONGEST_NAME: usize = 64;

pub(crate) fn import(import: &Import) -> Result<(), Error> {
    name("lot", &import.lot)?;
    if import.rows.is_empty() {
        let text = format!(
            "the file `{}` holds no parts; nothing came in",
            import.file_name
        );
        return Err(Error::Refused(text));
    }
    let mut lines: HashMap<&str, u32> = HashMap::with_capacity(import.rows.len());
    for row in &import.rows {
        name("serial", &row.part.serial)?;
        if row.part.kind != import.kind {
            return Err(Error::Refused(format!(
                "part `{}` in line {} is of kind {:?} in a file of kind {:?}; nothing came in",
                row.part.serial, row.line, row.part.kind, import.kind
            )));
        }
        readings(row)?;
        if let Some(first) = lines.insert(&row.part.serial, row.line) {
            return Err(Error::TwiceInFile {
                serial: row.part.serial.clone(),
                first_line: first,
                second_line: row.line,
            });
        }
    }
    Ok(())
}

/// The readings of a row must be the numbers on its part, each once.
fn readings(row: &ImportRow) -> Result<(), Error> {
    for measure in Measure::ALL {
        let mut values = row
            .readings
            .iter()
            .filter(|reading| reading.quantity == measure);
        let value = values.next().map(|reading| reading.value);
        if values.next().is_some() || value != measure.of(&row.part) {
            return Err(Error::Refused(format!(
                "line {} of part `{}` contradicts itself in {measure}; nothing came in",
                row.line, row.part.serial
            )));
        }
    }
    Ok(())
}

pub(crate) fn sets(sets: &Sets) -> Result<(), Error> {
    name("lot", &sets.lot)?;
    let mut seen = HashSet::new();
    for set in &sets.sets {
        members(set)?;
        for member in &set.members {
            if !seen.insert(member.serial.as_str()) {
                return Err(Error::Refused(format!(
                    "part `{}` stands twice in the sets that are to be recorded; nothing was \
                     recorded",
                    member.serial
                )));
            }
        }
    }
    let mut numbers = HashSet::new();
    match sets
        .sets
        .iter()
        .filter_map(|set| set.number)
        .find(|number| !numbers.insert(*number))
    {
        Some(number) => Err(Error::Refused(format!(
            "set number {number} is asked for twice; nothing was recorded"
        ))),
        None => Ok(()),
    }
}

fn members(set: &NewSet) -> Result<(), Error> {
    let mut roles = HashSet::new();
    if set.members.len() < 2 || set.members.iter().any(|member| !roles.insert(member.role)) {
        return Err(Error::Refused(
            "a set needs at least two parts, each in a place of its own; nothing was recorded"
                .to_owned(),
        ));
    }
    if !set.cost.is_finite() {
        return Err(Error::Refused(
            "a set's cost must be a number; nothing was recorded".to_owned(),
        ));
    }
    Ok(())
}

fn name(what: &str, text: &str) -> Result<(), Error> {
    let length = text.chars().count();
    if text.trim() != text || length == 0 || length > LONGEST_NAME {
        return Err(Error::Refused(format!(
            "`{text}` cannot be a {what}: expected 1 to {LONGEST_NAME} characters without spaces \
             around them"
        )));
    }
    Ok(())
}
