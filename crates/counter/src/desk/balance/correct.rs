//! What readings say, and what corrects it.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_paper::picture::BalanceView;
use whirlwright_paper::sheet::Head;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::balance::given::{CorrectGiven, Inertia, Readings, Rotor, Work};
use whirlwright_workshop::balance::{self, CorrectBody};
use whirlwright_workshop::design::{self, SectionBody};
use whirlwright_workshop::part::{Answer, Job};

use super::{limit, view};
use crate::desk::{job, section, sheets};
use crate::error::Trouble;
use crate::keep;
use crate::read::balance::{self as readings, PieceSaid, ReadingsFile};

/// A file of readings, the job it belongs to, and where the drawings go.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    /// The file of readings.
    pub readings: PathBuf,
    /// The job file: it says mass, limit, and where a correction may be made.
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Also write the polar plots, the rims with their holes and the holes in the cut as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet with the list for the bench.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// The answer with what its drawings need, and the files that were written.
#[derive(Debug)]
pub struct Correct {
    /// What the balance station says.
    pub answer: Answer<CorrectBody>,
    /// What the pictures show beside it.
    pub view: BalanceView,
    /// What stands at the head of its sheet.
    pub head: Head,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Reads readings, finds unbalance and correction, and writes what was asked for.
///
/// # Errors
/// Every fault of the files at once; readings that have no answer; a file that cannot be written.
pub fn correct(request: &Request) -> Result<Correct, Trouble> {
    let bytes = keep::read(&request.readings)?;
    let name = request.readings.display().to_string();
    let job = request.job.as_deref().map(job::read).transpose()?;
    let path = request.job.as_deref().unwrap_or(Path::new(""));
    let mut done = of_bytes(bytes, &name, job, path)?;
    done.write(request.svg.as_deref(), request.pdf.as_deref())?;
    Ok(done)
}

/// The same for a file that is in memory.
///
/// # Errors
/// Every fault of the file at once; readings that have no answer.
pub fn of_bytes(
    bytes: Vec<u8>,
    name: &str,
    job: Option<Job>,
    job_path: &Path,
) -> Result<Correct, Trouble> {
    let text = String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Trouble::Input(format!(
            "{name} is not UTF-8 text (byte {at}): a file of balance readings was expected"
        ))
    })?;
    let file = readings::read(&text, name).map_err(|faults| Trouble::Input(faults.to_string()))?;
    of_file(file, job, job_path)
}

/// The same for readings that are read already.
///
/// # Errors
/// Readings that have no answer.
pub fn of_file(file: ReadingsFile, job: Option<Job>, job_path: &Path) -> Result<Correct, Trouble> {
    let mut head = sheets::head(&file.name, job.as_ref());
    head.note = file.note.clone().or(head.note);
    let drawn = job.map(|job| Drawn::new(job, job_path)).transpose()?;
    let given = given(&file, drawn.as_ref())?;
    let answer = balance::correct(&given)?;
    let view = view::view(&file, drawn.as_ref().map(|drawn| &drawn.section));
    Ok(Correct {
        answer,
        view,
        head,
        written: Vec::new(),
    })
}

impl Correct {
    /// The pictures as SVG.
    #[must_use]
    pub fn svg(&self) -> String {
        picture::balance(&self.answer.body, &self.view)
    }

    /// The sheet as PDF.
    ///
    /// # Errors
    /// The sheet could not be set.
    pub fn pdf(&self) -> Result<Vec<u8>, Trouble> {
        sheet::balance_sheet(&self.answer, &self.view, &self.head)
            .map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))
    }

    /// Writes picture and sheet where they are wanted.
    ///
    /// # Errors
    /// A file cannot be written.
    pub fn write(&mut self, svg: Option<&Path>, pdf: Option<&Path>) -> Result<(), Trouble> {
        if let Some(path) = svg {
            self.written.push(keep::write(path, self.svg().as_bytes())?);
        }
        if let Some(path) = pdf {
            let sheet = self.pdf()?;
            self.written.push(keep::write(path, &sheet)?);
        }
        Ok(())
    }
}

/// What a job says of the piece.
struct Drawn {
    job: Job,
    section: SectionBody,
    /// Permissible unbalance, grade, speed and rim radius, where the job asks for balance.
    limit: Option<balance::LimitBody>,
}

impl Drawn {
    fn new(job: Job, path: &Path) -> Result<Self, Trouble> {
        let section = design::section(&section::of_job(job.clone(), path)?).body;
        // A job without a [balance] block still says mass and inertia.
        let limit = match job.balance {
            Some(_) => Some(limit::of_job(job.clone(), path)?.body),
            None => None,
        };
        Ok(Self {
            job,
            section,
            limit,
        })
    }
}

fn given(file: &ReadingsFile, drawn: Option<&Drawn>) -> Result<CorrectGiven, Trouble> {
    let limit = drawn.and_then(|drawn| drawn.limit.as_ref());
    let wishes = drawn.and_then(|drawn| drawn.job.balance.as_ref());
    let said = &file.piece;
    let work = match drawn {
        Some(drawn) => {
            let rim = wishes
                .and_then(|wishes| wishes.rim.as_deref())
                .unwrap_or("rim");
            Work::of_job(&drawn.job, rim, &file.planes)?
        }
        None => None,
    };
    let own = said.limit_g_mm.is_some() || said.grade_mm_per_s.is_some();
    let mut clocking = file.parts.clone();
    if let (Some(clocking), Some(weight)) = (&mut clocking, wishes.and_then(|w| w.wobble_weight)) {
        clocking.wobble_weight = weight;
    }
    Ok(CorrectGiven {
        rotor: rotor(file, said, drawn)?,
        speed_rpm: said.speed_rpm.or(limit.map(|limit| limit.speed_rpm)),
        limit_g_mm: said
            .limit_g_mm
            .or(limit.filter(|_| !own).map(|limit| limit.limit_g_mm)),
        grade_mm_per_s: said
            .grade_mm_per_s
            .or(limit.filter(|_| !own).map(|limit| limit.grade_mm_per_s)),
        sense: file.sense,
        planes: file.planes.clone(),
        readings: file.readings.clone(),
        work,
        clocking,
        seed: wishes.and_then(|wishes| wishes.seed).unwrap_or(1),
    })
}

/// What turned on the rig: what the file says of it goes before the job.
fn rotor(file: &ReadingsFile, said: &PieceSaid, drawn: Option<&Drawn>) -> Result<Rotor, Trouble> {
    let section = drawn.map(|drawn| &drawn.section);
    let radius = said.rim_radius_mm.or_else(|| {
        let limit = drawn.and_then(|drawn| drawn.limit.as_ref());
        limit.map(|limit| limit.sizes.rim_radius_mm)
    });
    let drawn = section.map(|section| Rotor::of_section(section, radius));
    let inertia = said.polar_g_mm2.zip(said.transverse_g_mm2);
    let inertia = inertia.map(|(polar_g_mm2, transverse_g_mm2)| Inertia {
        polar_g_mm2,
        transverse_g_mm2,
    });
    let mass_g = said.mass_g.or(drawn.as_ref().map(|rotor| rotor.mass_g));
    let mass_g = mass_g.ok_or_else(|| {
        let reads_no_mass = matches!(file.readings, Readings::Indexed(_));
        let why = if reads_no_mass { "the limit" } else { "limit and effect" };
        Trouble::Input(format!(
            "the mass of {} is not known, and {why} cannot be reckoned without it: write mass = \"63.0 g\" under [piece], or name its job with --job",
            file.name
        ))
    })?;
    Ok(Rotor {
        name: file.name.clone(),
        mass_g,
        centre_mm: said
            .centre_mm
            .or(drawn.as_ref().map(|rotor| rotor.centre_mm))
            .unwrap_or(0.0),
        inertia: inertia.or(drawn.and_then(|rotor| rotor.inertia)),
        rim_radius_mm: radius,
    })
}
