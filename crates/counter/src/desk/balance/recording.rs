//! The correction of a piece whose recording was tracked at the spin station.

use std::path::{Path, PathBuf};

use clap::Args;
use serde::Deserialize;
use whirlwright_workshop::balance::LimitBody;
use whirlwright_workshop::balance::given::{EccentricityGiven, PlaneGiven, Readings};
use whirlwright_workshop::part::AngleSense;
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::balance_wishes::WayWish;

use super::correct::{self, Correct};
use super::limit;
use crate::desk::job;
use crate::error::Trouble;
use crate::keep;
use crate::read::balance::{PieceSaid, ReadingsFile};

/// A tracked recording and the job of the piece that was heard.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    /// The answer of `spin --recording`, saved with --format json.
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

/// Reads a tracked recording and finds its correction.
///
/// # Errors
/// No such answer, one without eccentricity or angle, a job with faults or without a limit.
pub fn recording(request: &Request) -> Result<Correct, Trouble> {
    let tracked = read(&request.recording)?;
    let job = job::read(&request.job)?;
    let limit = limit::of_job(job.clone(), &request.job)?.body;
    let file = readings(&request.recording, tracked, &job, &limit)?;
    let mut done = correct::of_file(file, Some(job), &request.job)?;
    done.answer.next.insert(0, HALVES.to_owned());
    done.write(request.svg.as_deref(), request.pdf.as_deref())?;
    Ok(done)
}

fn read(path: &Path) -> Result<Tracked, Trouble> {
    let name = path.display();
    let bytes = keep::read(path)?;
    if bytes.starts_with(b"RIFF") {
        return Err(Trouble::Input(format!(
            "{name} is sound; track it first: whirlwright spin --recording {name} --format json > tracked.json"
        )));
    }
    serde_json::from_slice(&bytes).map_err(|why| {
        Trouble::Input(format!(
            "{name} is no answer of `spin --recording` ({why}); one saved with --format json was expected"
        ))
    })
}

fn readings(
    path: &Path,
    tracked: Tracked,
    job: &Job,
    limit: &LimitBody,
) -> Result<ReadingsFile, Trouble> {
    let lacks = |what: &str, todo: &str| {
        Trouble::Input(format!(
            "{}: the recording tells no {what}; {todo}",
            path.display()
        ))
    };
    let eccentricity_um = tracked.eccentricity_um.ok_or_else(|| {
        lacks(
            "eccentricity",
            "record the vibration with a pick-up of known scale beside the mark",
        )
    })?;
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
