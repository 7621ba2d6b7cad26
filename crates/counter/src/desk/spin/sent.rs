//! What was measured and sent from a page: the same questions as the command's, by one word each.

use std::io::Cursor;
use std::path::Path;

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::recording::RecordingBody;
use whirlwright_workshop::spin::{CompareBody, LogBody, TrayBody};

use super::reading::Reading;
use super::recording::{Heard, hear};
use super::{compare, log, tray};
use crate::error::Trouble;
use crate::read::log::LogFile;

/// What a form sends; texts as they were typed, empty where nothing was.
#[derive(Debug, Default)]
pub struct Sent {
    /// `log`, `recording`, `compare` or `bearings`.
    pub kind: String,
    /// Name of the job file; empty for none.
    pub job: String,
    /// Marks in a turn.
    pub marks: String,
    /// Unit of the speeds; empty for the header's.
    pub speed_unit: String,
    /// Full scale of the pick-up.
    pub full_scale: String,
    /// Inertia of the disc a tray was flicked on.
    pub flywheel: String,
    /// Leave out lines that cannot be read.
    pub skip_refused: bool,
    /// Names and bytes.
    pub files: Vec<(String, Vec<u8>)>,
}

/// The answer to what was sent.
#[derive(Debug)]
pub enum Measured {
    /// To a log.
    Log(Answer<LogBody>),
    /// To a recording.
    Recording(Answer<RecordingBody>),
    /// To several throws.
    Compared(Answer<CompareBody>),
    /// To a tray of bearings.
    Tray(Answer<TrayBody>),
}

/// Answers what was sent, held against a job where one was chosen.
///
/// # Errors
/// A file is not what it was said to be, or something typed cannot be read.
pub fn measured(sent: Sent, job: Option<&Path>) -> Result<Measured, Trouble> {
    let said = |text: &String| Some(text.clone()).filter(|text| !text.is_empty());
    let reading = Reading {
        marks: marks(&sent.marks)?,
        speed_unit: said(&sent.speed_unit),
        skip_refused: sent.skip_refused,
    };
    let read = |(name, bytes): &(String, Vec<u8>)| -> Result<LogFile, Trouble> {
        reading.log(name, Cursor::new(bytes), &mut |_| false)
    };
    let first = sent
        .files
        .first()
        .ok_or_else(|| Trouble::Input("no file was chosen".to_owned()))?;
    match sent.kind.as_str() {
        "log" => Ok(Measured::Log(log::answer(read(first)?, job, &reading)?.0)),
        "recording" => {
            let heard = Heard {
                full_scale: said(&sent.full_scale),
                ..Heard::default()
            };
            let (name, bytes) = first;
            let heard = hear(
                name,
                Cursor::new(bytes),
                job,
                &heard,
                reading.marks,
                &mut |_, _| false,
            )?;
            Ok(Measured::Recording(heard.0))
        }
        "compare" => {
            let all = sent.files.iter().map(|file| Ok((None, read(file)?)));
            let all = all.collect::<Result<Vec<_>, Trouble>>()?;
            Ok(Measured::Compared(compare::answer(all, job, &reading)?))
        }
        "bearings" => {
            let flywheel = said(&sent.flywheel);
            let sorted = tray::answer(
                &first.0,
                Cursor::new(&first.1),
                flywheel.as_deref(),
                &reading,
            )?;
            Ok(Measured::Tray(sorted))
        }
        other => Err(Trouble::Input(format!(
            "`{other}` is not one of the kinds of file the form has"
        ))),
    }
}

fn marks(text: &str) -> Result<u32, Trouble> {
    if text.is_empty() {
        return Ok(1);
    }
    let marks = text.parse().ok().filter(|marks| (1..=100).contains(marks));
    marks.ok_or_else(|| {
        Trouble::Input(format!(
            "marks in a turn: `{text}` was read; a whole number from 1 to 100 was expected"
        ))
    })
}
