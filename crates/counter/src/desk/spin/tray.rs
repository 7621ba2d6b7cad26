//! A tray of bearings, flicked by finger with a known flywheel: which are good, which are to be washed.

use std::io::{BufRead, BufReader};
use std::path::Path;

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::part::{Answer, Dimension};
use whirlwright_workshop::shelf::known;
use whirlwright_workshop::spin::{TrayBearing, TrayBody, TrayGiven, TrayReading, sort_bearings};

use super::Spun;
use super::files::{Files, head};
use super::reading::{Reading, open, typed};
use crate::error::Trouble;
use crate::keep;
use crate::read::log::read_tray;

/// Sorts the tray of a file and writes what was asked for.
///
/// # Errors
/// The file is no tray, or a bearing cannot be judged.
pub fn sort_file(
    path: &Path,
    flywheel: Option<&str>,
    reading: &Reading,
    files: &Files,
) -> Result<Spun<TrayBody>, Trouble> {
    let name = keep::file_name(path);
    let answer = answer(&name, BufReader::new(open(path)?), flywheel, reading)?;
    let head = head(&name, None);
    let drawing = picture::spin::tray_drawing(&answer.body);
    let written = files.write(
        &drawing,
        || {
            sheet::spin_test_sheet(
                &answer,
                &head,
                std::slice::from_ref(&drawing),
                &sheet::tray_rows(&answer.body),
            )
        },
        None,
    )?;
    Ok(Spun { answer, written })
}

/// Sorts a tray that was sent.
///
/// # Errors
/// As [`sort_file`].
pub fn answer(
    name: &str,
    reader: impl BufRead,
    flywheel: Option<&str>,
    reading: &Reading,
) -> Result<Answer<TrayBody>, Trouble> {
    let doubt = known("throw.inertia.doubt").value;
    let inertia = flywheel
        .map(|text| typed("--flywheel", text, Dimension::Inertia))
        .transpose()?;
    let file = read_tray(name, reader, &reading.options()?)?;
    let bearings = file.logs.into_iter().map(|log| TrayBearing {
        name: log.name.clone(),
        reading: TrayReading::Log(log),
    });
    let given = TrayGiven {
        bearings: bearings.collect(),
        flywheel_g_mm2: inertia.map(|inertia| (inertia, doubt * inertia)),
    };
    let mut answer = sort_bearings(&given).map_err(|why| {
        let asked = if inertia.is_none() {
            "; the disc's inertia is said with --flywheel \"900 g·mm2\""
        } else {
            ""
        };
        Trouble::Input(format!("{name}: {why}{asked}"))
    })?;
    answer.next.extend(
        file.refused
            .iter()
            .map(|finding| format!("test again what was left out: {finding}")),
    );
    Ok(answer)
}
