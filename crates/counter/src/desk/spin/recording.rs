//! What a recording of a spin says: its speed, its orders, its eccentricity.

use std::io::{BufReader, Read, Seek};
use std::path::Path;

use clap::Args;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::part::{Answer, Dimension, Job};
use whirlwright_workshop::spin::recording::{BearingOrders, RecordingBody, RecordingGiven, listen};
use whirlwright_workshop::{design, spin};

use super::files::{Files, head, table};
use super::reading::{open, typed};
use super::{Spun, Stop};
use crate::desk::section;
use crate::error::Trouble;
use crate::keep;
use crate::read::wav::{NotAWav, Wav};

/// What is known of a recording beforehand.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Recordings")]
pub struct Heard {
    /// The channel with the mark, 1 or 2; found by itself when not said.
    #[arg(long, value_name = "CHANNEL", value_parser = clap::value_parser!(u8).range(1..=2))]
    pub mark_channel: Option<u8>,
    /// The channel with the vibration, 1 or 2.
    #[arg(long, value_name = "CHANNEL", value_parser = clap::value_parser!(u8).range(1..=2))]
    pub vibration_channel: Option<u8>,
    /// What full scale of the vibration channel means, such as "50 m/s2"; without it no eccentricity.
    #[arg(long, value_name = "ACCELERATION")]
    pub full_scale: Option<String>,
    /// The slowest speed looked for, such as "300 rpm".
    #[arg(long, value_name = "SPEED")]
    pub slowest: Option<String>,
    /// The fastest speed looked for, such as "8000 rpm".
    #[arg(long, value_name = "SPEED")]
    pub fastest: Option<String>,
}

/// Hears the recording of a file and writes what was asked for.
///
/// # Errors
/// The file is no recording, or nothing that turns is heard in it; or the person stopped it.
pub fn hear_file(
    path: &Path,
    job: Option<&Path>,
    heard: &Heard,
    marks: u32,
    files: &Files,
    stop: Stop<'_>,
) -> Result<Spun<RecordingBody>, Trouble> {
    let name = keep::file_name(path);
    let (answer, design) = hear(&name, BufReader::new(open(path)?), job, heard, marks, stop)?;
    let body = &answer.body;
    let head = head(&name, design.as_ref());
    let drawing = picture::spin::recording_drawing(body);
    let rows = body.track.iter().map(|p| vec![p.time_s, p.speed_rpm]);
    let written = files.write(
        &drawing,
        || {
            sheet::spin_test_sheet(
                &answer,
                &head,
                std::slice::from_ref(&drawing),
                &sheet::recording_rows(body),
            )
        },
        Some(table("time_s,speed_rpm", rows)),
    )?;
    Ok(Spun { answer, written })
}

/// Hears a recording; with a job, its free wobble and its bearing are looked for by their orders.
///
/// # Errors
/// As [`hear_file`].
pub fn hear(
    name: &str,
    reader: impl Read + Seek,
    job: Option<&Path>,
    heard: &Heard,
    marks: u32,
    stop: Stop<'_>,
) -> Result<(Answer<RecordingBody>, Option<Job>), Trouble> {
    let told = |why: NotAWav| Trouble::Input(why.to_string());
    let mut wav = Wav::open(name, reader).map_err(told)?;
    let mut given = asked(
        RecordingGiven::new(name, wav.rate_hz(), wav.channels()),
        heard,
        marks,
    )?;
    given.claimed_frames = wav.claimed_frames();
    let mut design = None;
    if let Some(path) = job {
        design = Some(of_design(&mut given, path)?);
    }
    let all = given.claimed_frames.unwrap_or(u64::MAX).max(1) as f64 * given.channels as f64;
    let (mut turn, mut stopped) = (0, false);
    let played = listen(&given, |sink| {
        // It is played two or three times; the bar counts them as three.
        turn += 1;
        let mut samples = 0;
        wav.play(&mut |block| {
            samples += block.len();
            let share = (f64::from(turn - 1) + (samples as f64 / all).min(1.0)) / 3.0;
            stopped |= stop(share, "listening");
            !stopped && sink(block)
        })
    });
    let answer = played.map_err(told)?;
    if stopped {
        return Err(Trouble::Stopped);
    }
    let answer = answer.map_err(|why| Trouble::Input(why.to_string()))?;
    Ok((answer, design))
}

/// What was said beforehand.
fn asked(given: RecordingGiven, heard: &Heard, marks: u32) -> Result<RecordingGiven, Trouble> {
    let speed = |flag: &str, said: &Option<String>| {
        said.as_ref()
            .map(|text| typed(flag, text, Dimension::AngularSpeed))
            .transpose()
    };
    let full_scale = heard.full_scale.as_ref();
    Ok(RecordingGiven {
        pulses_per_turn: marks as usize,
        mark_channel: heard.mark_channel.map(usize::from),
        vibration_channel: heard.vibration_channel.map(usize::from),
        full_scale_m_per_s2: full_scale
            .map(|text| typed("--full-scale", text, Dimension::Acceleration))
            .transpose()?,
        slowest_rpm: speed("--slowest", &heard.slowest)?,
        fastest_rpm: speed("--fastest", &heard.fastest)?,
        ..given
    })
}

/// What a design says of the orders to look for.
fn of_design(given: &mut RecordingGiven, path: &Path) -> Result<Job, Trouble> {
    let checked = section::given(path)?;
    let body = design::section(&checked).body;
    given.inertia_ratio = Some(body.inertia_ratio);
    let told = |why: spin::Refusal| Trouble::Input(format!("{}: {why}", path.display()));
    let answer = spin::spin(&spin::Given::new(&checked).map_err(told)?).map_err(told)?;
    let bearing = answer.body.bearing;
    given.bearing = Some(BearingOrders {
        cage_order: bearing.cage_order,
        outer_race_order: bearing.outer_race_order,
        inner_race_order: bearing.inner_race_order,
        ball_order: bearing.ball_order,
    });
    Ok(checked.job().clone())
}
