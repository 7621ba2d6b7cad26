//! The correction of a piece by a recording: the sound itself, or what the spin station said of it.

use std::io::{BufReader, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use serde::Deserialize;
use whirlwright_workshop::balance::LimitBody;
use whirlwright_workshop::balance::given::{EccentricityGiven, PlaneGiven, Readings};
use whirlwright_workshop::part::AngleSense;
use whirlwright_workshop::part::balance_wishes::WayWish;
use whirlwright_workshop::part::{Answer, Job, Trust};
use whirlwright_workshop::spin::recording::RecordingBody;

use super::correct::{self, Correct};
use super::limit;
use crate::desk::job;
use crate::desk::spin::Stop;
use crate::desk::spin::reading::open;
use crate::desk::spin::recording::{Heard, hear};
use crate::error::Trouble;
use crate::keep;
use crate::read::balance::{PieceSaid, ReadingsFile};

/// A recording and the job of the piece that was heard.
#[derive(Debug, Clone, Args)]
pub struct Request {
    /// The recording (WAV), or the answer of `spin --recording` to it, saved with --format json.
    pub recording: PathBuf,
    /// The job file: it says mass, planes, limit, and where a correction may be made.
    #[arg(long, value_name = "FILE")]
    pub job: PathBuf,
    /// Also write the polar plot and the rims with their holes as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet with the list for the bench.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
    /// What is known of the sound.
    #[command(flatten)]
    pub heard: Heard,
    /// Marks that pass in one turn.
    #[arg(long, value_name = "COUNT", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=100))]
    pub marks: u32,
}

/// The correction, and what was heard where the file is the sound itself.
#[derive(Debug)]
pub struct OfRecording {
    /// What the spin station heard.
    pub heard: Option<Answer<RecordingBody>>,
    /// What follows for the balance.
    pub correct: Correct,
}

/// The keys of a recording's answer that are used here.
#[derive(Debug, Deserialize)]
struct Tracked {
    #[serde(default)]
    name: String,
    eccentricity_um: Option<f64>,
    eccentricity_um_sd: Option<f64>,
    angle_deg: Option<f64>,
}

/// What an orbit of the seat cannot tell, and what follows for the bench.
const HALVES: &str = "make half of the correction on the left rim and half on the right, at the same angle: all \
    of it on one side would make a couple, and of a couple a recording tells nothing";

/// Reads a recording, listens to it where it is sound, and finds its correction.
///
/// # Errors
/// No such recording or answer, one without eccentricity or angle, a job with faults or without a limit; or
/// the person stopped it.
pub fn recording(request: &Request, stop: Stop<'_>) -> Result<OfRecording, Trouble> {
    let path = &request.recording;
    let job = job::read(&request.job)?;
    let limit = limit::of_job(job.clone(), &request.job)?.body;
    let (heard, tracked) = if is_sound(path)? {
        let answer = listen(request, stop)?;
        let tracked = Tracked::of(&answer.body);
        (Some(answer), tracked)
    } else {
        (None, read(path)?)
    };
    let file = readings(path, tracked, heard.as_ref(), &job, &limit)?;
    let mut correct = correct::of_file(file, Some(job), &request.job)?;
    correct.answer.next.insert(0, HALVES.to_owned());
    if let Some(heard) = &heard {
        let of_orbit = |line: &&Trust| ["eccentricity_um", "angle_deg"].contains(&&*line.number);
        let lines = heard.trust.iter().filter(of_orbit).cloned();
        correct.answer.trust.extend(lines);
    }
    correct.write(request.svg.as_deref(), request.pdf.as_deref())?;
    Ok(OfRecording { heard, correct })
}

/// Whether the file begins as a WAV does.
fn is_sound(path: &Path) -> Result<bool, Trouble> {
    let mut begin = Vec::new();
    open(path)?
        .take(4)
        .read_to_end(&mut begin)
        .map_err(|why| Trouble::Input(format!("cannot read {}: {why}", path.display())))?;
    Ok([b"RIFF", b"RF64", b"RIFX"]
        .iter()
        .any(|known| begin == *known))
}

/// What the spin station says of the sound.
fn listen(request: &Request, stop: Stop<'_>) -> Result<Answer<RecordingBody>, Trouble> {
    let name = keep::file_name(&request.recording);
    let sound = BufReader::new(open(&request.recording)?);
    let (answer, _) = hear(&name, sound, None, &request.heard, request.marks, stop)?;
    Ok(answer)
}

impl Tracked {
    fn of(body: &RecordingBody) -> Self {
        Self {
            name: body.name.clone(),
            eccentricity_um: body.eccentricity_um,
            eccentricity_um_sd: body.eccentricity_um_sd,
            angle_deg: body.angle_deg,
        }
    }
}

fn read(path: &Path) -> Result<Tracked, Trouble> {
    serde_json::from_slice(&keep::read(path)?).map_err(|why| {
        Trouble::Input(format!(
            "{} is neither sound (WAV) nor an answer of `spin --recording` saved with --format json ({why}); one of the two was expected",
            path.display()
        ))
    })
}

/// Why there is no eccentricity, and what to do.
fn no_eccentricity(heard: Option<&Answer<RecordingBody>>) -> String {
    let scale = "say what full scale of the pick-up means, such as --full-scale \"20 m/s2\"";
    let Some(heard) = heard else {
        return format!("track it again with its scale: {scale}");
    };
    let body = &heard.body;
    if body.vibration_channel.is_none() {
        return "it has no channel with a vibration: record a pick-up of known scale beside the mark".to_owned();
    }
    match heard
        .trust
        .iter()
        .find(|line| line.number == "amplitude_fraction")
    {
        Some(_) if body.remarks.is_empty() => scale.to_owned(),
        Some(_) => format!(
            "{}; {scale}, and record again where it is clipped",
            body.remarks.join("; ")
        ),
        None => body.remarks.join("; "),
    }
}

fn readings(
    path: &Path,
    tracked: Tracked,
    heard: Option<&Answer<RecordingBody>>,
    job: &Job,
    limit: &LimitBody,
) -> Result<ReadingsFile, Trouble> {
    let lacks = |what: &str, todo: &str| {
        Trouble::Input(format!(
            "{}: the recording tells no {what}; {todo}",
            path.display()
        ))
    };
    let eccentricity_um = tracked
        .eccentricity_um
        .ok_or_else(|| lacks("eccentricity", &no_eccentricity(heard)))?;
    let angle_deg = tracked
        .angle_deg
        .ok_or_else(|| lacks("angle", "record the mark on a channel of its own"))?;
    let name = if tracked.name.is_empty() {
        keep::file_name(path)
    } else {
        tracked.name
    };
    Ok(ReadingsFile {
        name,
        note: job.note.clone(),
        mark: None,
        turns: None,
        sense: AngleSense::WithRotation,
        piece: PieceSaid::default(),
        planes: vec![middle(job, limit)],
        readings: Readings::Eccentricity(EccentricityGiven {
            eccentricity_um,
            uncertainty_um: tracked.eccentricity_um_sd,
            angle_deg,
        }),
        parts: None,
    })
}

/// The one plane an orbit tells of: the middle of the piece, at the radius at which the job works.
fn middle(job: &Job, limit: &LimitBody) -> PlaneGiven {
    let works = job.balance.iter().flat_map(|wishes| &wishes.works);
    let radius = works.clone().find_map(|work| match &work.way {
        WayWish::AxialHole { radius_mm, .. }
        | WayWish::Pin { radius_mm, .. }
        | WayWish::Weight { radius_mm, .. } => Some(*radius_mm),
        WayWish::RadialHole { .. } | WayWish::Pocket { .. } => None,
    });
    PlaneGiven {
        name: "middle".to_owned(),
        x_mm: None,
        radius_mm: radius.unwrap_or(limit.sizes.rim_radius_mm),
        limit_g_mm: Some(limit.limit_g_mm),
    }
}
