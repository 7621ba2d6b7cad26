//! Throws or bearings beside each other: the difference, and whether it is more than the scatter.

use std::path::{Path, PathBuf};

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::{CompareBody, CompareGiven, compare};

use super::files::{Files, head, table};
use super::reading::Reading;
use super::{Spun, Stop, log};
use crate::desk::job;
use crate::error::Trouble;
use crate::read::log::LogFile;

/// Compares the logs of several files and writes what was asked for.
///
/// # Errors
/// A file is no log of a spin-down, or they cannot be compared.
pub fn compare_files(
    paths: &[PathBuf],
    job: Option<&Path>,
    reading: &Reading,
    files: &Files,
    stop: Stop<'_>,
) -> Result<Spun<CompareBody>, Trouble> {
    let mut read = Vec::new();
    for path in paths {
        // `dry=throw.csv` says what the throw is a repeat of.
        let said = path.to_string_lossy();
        let (group, path) = match said.split_once('=') {
            Some((group, rest)) if !path.exists() => (Some(group.to_owned()), PathBuf::from(rest)),
            _ => (None, path.clone()),
        };
        read.push((group, reading.file(&path, stop)?));
    }
    let answer = answer(read, job, reading)?;
    let design = job.map(job::read).transpose()?;
    let body = &answer.body;
    let head = head(&format!("{} throws", body.logs.len()), design.as_ref());
    let drawing = picture::spin::compare_drawing(body);
    let rows = body.logs.iter().enumerate().flat_map(|(n, log)| {
        log.curve
            .iter()
            .map(move |p| vec![(n + 1) as f64, p.time_s, p.speed_rpm])
    });
    let written = files.write(
        &drawing,
        || {
            sheet::spin_test_sheet(
                &answer,
                &head,
                std::slice::from_ref(&drawing),
                &sheet::compare_rows(body),
            )
        },
        Some(table("log,time_s,speed_rpm", rows)),
    )?;
    Ok(Spun { answer, written })
}

/// Compares logs that were read, each with what it is a repeat of where that was said.
///
/// # Errors
/// They cannot be compared.
pub fn answer(
    read: Vec<(Option<String>, LogFile)>,
    job: Option<&Path>,
    reading: &Reading,
) -> Result<Answer<CompareBody>, Trouble> {
    let groups = groups(&read);
    let mut logs = Vec::new();
    let mut remarks = Vec::new();
    for (group, (_, file)) in groups.into_iter().zip(read) {
        let name = file.log.name.clone();
        remarks.extend(
            file.log
                .repairs
                .iter()
                .map(|repair| format!("{name}: {repair}")),
        );
        remarks.extend(
            file.refused
                .iter()
                .map(|finding| format!("{name}: left out: {finding}")),
        );
        let given = reading.given(file.log)?;
        let given = match job {
            Some(path) => log::against(given, path)?.0,
            None => given,
        };
        logs.push((group, given));
    }
    let mut answer =
        compare(&CompareGiven { logs }).map_err(|why| Trouble::Input(why.to_string()))?;
    if let Some(trust) = answer.trust.first_mut()
        && !remarks.is_empty()
    {
        trust
            .why
            .push_str(&format!("; the logs: {}", remarks.join("; ")));
    }
    Ok(answer)
}

/// What each log is a repeat of: what was said; or else its name without the number at its end, where that
/// leaves two things to compare; or else its own name.
fn groups(read: &[(Option<String>, LogFile)]) -> Vec<String> {
    let own = |(group, file): &(Option<String>, LogFile)| {
        group.clone().unwrap_or_else(|| file.log.name.clone())
    };
    let shared = |one: &(Option<String>, LogFile)| match one {
        (Some(group), _) => group.clone(),
        (None, file) => without_number(&file.log.name).to_owned(),
    };
    let gathered: Vec<String> = read.iter().map(shared).collect();
    let two = gathered.iter().any(|group| *group != gathered[0]);
    if two {
        gathered
    } else {
        read.iter().map(own).collect()
    }
}

/// `throw_dry_3.csv` is a repeat of `throw_dry`.
fn without_number(name: &str) -> &str {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let bare = stem
        .trim_end_matches(|c: char| c.is_ascii_digit())
        .trim_end_matches(['_', '-', ' ', '(', '#']);
    if bare.is_empty() { stem } else { bare }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_a_log_is_a_repeat_of_from_its_name() {
        for (name, group) in [
            ("throw_dry_3.csv", "throw_dry"),
            ("a.csv", "a"),
            ("oiled-12.txt", "oiled"),
            ("7.csv", "7"),
            ("bearing (2).csv", "bearing (2)"),
        ] {
            assert_eq!(without_number(name), group);
        }
    }
}
