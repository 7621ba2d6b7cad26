//! Who with whom: reads the parts, asks pairing, writes the sheets, records the sets.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_ledger::{Ledger, Recorded};
use whirlwright_workshop::pairing::{PairBody, Progress};
use whirlwright_workshop::part::{Answer, Job, Kind};

use super::question::{Parts, Question};
use super::reading::{self, Reading};
use super::sheets::{self, Sheets};
use super::wish::Wish;
use super::{job, record, sets};
use crate::error::Trouble;

/// The parts, from files or from the record.
#[derive(Debug, Clone, Default, Args)]
#[group(required = true, multiple = true)]
pub struct What {
    /// A file of dressed halves (CSV or XLSX).
    #[arg(long, value_name = "FILE", conflicts_with_all = ["halves", "rims", "parts", "lot"])]
    pub dressed: Option<PathBuf>,
    /// A file of halves; goes with --rims.
    #[arg(long, value_name = "FILE", requires = "rims", conflicts_with_all = ["parts", "lot"])]
    pub halves: Option<PathBuf>,
    /// A file of rims; goes with --halves.
    #[arg(long, value_name = "FILE", requires = "halves")]
    pub rims: Option<PathBuf>,
    /// A file of any one kind of small parts.
    #[arg(long, value_name = "FILE", conflicts_with = "lot")]
    pub parts: Option<PathBuf>,
    /// A lot of the record.
    #[arg(long, value_name = "NAME")]
    pub lot: Option<String>,
}

/// A whole request.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    #[command(flatten)]
    what: What,
    #[command(flatten)]
    wish: Wish,
    #[command(flatten)]
    reading: Reading,
    #[command(flatten)]
    sheets: Sheets,
    /// The job file with limits and design; without it the one that lies beside the parts, if any.
    #[arg(long, value_name = "FILE")]
    job: Option<PathBuf>,
    /// Record the sets, so that their parts are taken.
    #[arg(long, requires = "lot")]
    record: bool,
}

/// The answer, the files that were written, and the receipt where the sets were recorded.
#[derive(Debug)]
pub struct Paired {
    /// What pairing says.
    pub answer: Answer<PairBody>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
    /// The receipt of the record.
    pub recorded: Option<Recorded>,
}

/// Answers a whole request. `stop` hears how far the work has come and may end it.
///
/// # Errors
/// A file, a limit or the job cannot be used (all faults at once), or the record refuses the sets.
pub async fn pair(
    request: Request,
    ledger: &Path,
    stop: impl Fn(Progress) -> bool + Send + 'static,
) -> Result<Paired, Trouble> {
    let job_path = request.job_path();
    let job = job_path.as_deref().map(job::read).transpose()?;
    let mut store = None;
    let parts = match &request.what.lot {
        Some(lot) => {
            let store = store.insert(record::open(ledger).await?);
            of_lot(store, lot, request.record).await?
        }
        None => request.of_files(job.as_ref())?,
    };
    let question = Question::new(
        parts,
        &request.wish,
        job.as_ref().zip(job_path.as_deref()),
        request.job.is_some(),
    )?;
    let mut answer = ask(question, stop).await?;
    if let (Some(store), Some(lot), false) = (&store, &request.what.lot, request.record) {
        answer.cautions.extend(taken_already(store, lot).await?);
    }
    let recorded = match (&store, &request.what.lot, request.record) {
        (Some(store), Some(lot), true) if !answer.body.sets.is_empty() => {
            Some(sets::record(store, lot, &mut answer, &request.wish, None).await?)
        }
        _ => None,
    };
    if let Some(store) = store {
        store.close().await;
    }
    let written = request
        .sheets
        .write(&answer, &sheets::head(&request.lot_name(), job.as_ref()))?;
    Ok(Paired {
        answer,
        written,
        recorded,
    })
}

/// Says that a trial looks at parts which are taken.
async fn taken_already(ledger: &Ledger, lot: &str) -> Result<Option<String>, Trouble> {
    let taken: u64 = ledger
        .lot(lot)
        .await?
        .kinds
        .iter()
        .map(|kind| kind.in_sets)
        .sum();
    Ok((taken > 0).then(|| {
        format!("A trial with the whole lot: {taken} of its parts sit in recorded sets; --record pairs what is free.")
    }))
}

/// Answers a question away from the threads that serve pages and signals.
///
/// # Errors
/// Pairing refuses the question, or the person stopped it.
pub async fn ask(
    question: Question,
    stop: impl Fn(Progress) -> bool + Send + 'static,
) -> Result<Answer<PairBody>, Trouble> {
    let work = move || {
        let ended = std::cell::Cell::new(false);
        let answer = question.answer(&|progress| {
            ended.set(ended.get() || stop(progress));
            ended.get()
        });
        if ended.get() {
            Err(Trouble::Stopped)
        } else {
            answer
        }
    };
    tokio::task::spawn_blocking(work)
        .await
        .unwrap_or_else(|why| Err(Trouble::Ours(format!("a fault in the program: {why}"))))
}

/// The parts of a lot: those that are free, or (for a trial) all of them.
///
/// # Errors
/// No such lot, or nothing in it that can be paired.
pub async fn of_lot(ledger: &Ledger, lot: &str, only_free: bool) -> Result<Parts, Trouble> {
    let mut of_kind = Vec::new();
    for kind in [Kind::Half, Kind::Rim, Kind::Dressed, Kind::Other] {
        of_kind.push(match only_free {
            true => ledger.free_parts(lot, kind).await?,
            false => ledger.parts(lot, kind).await?,
        });
    }
    let [halves, rims, dressed, other] = of_kind
        .try_into()
        .map_err(|_| Trouble::Ours("four kinds of part were asked for".to_owned()))?;
    Ok(
        match (halves.is_empty() && rims.is_empty(), dressed.is_empty()) {
            (true, true) => Parts::Two(other),
            (true, false) => Parts::Two(dressed),
            (false, _) => Parts::Four { halves, rims },
        },
    )
}

impl Request {
    /// The job file that was named, or the only one that lies beside the parts.
    fn job_path(&self) -> Option<PathBuf> {
        let What {
            dressed,
            halves,
            rims,
            ..
        } = &self.what;
        let beside = || {
            let file = [rims, halves, dressed]
                .into_iter()
                .find_map(Option::as_deref);
            let lot = self.what.lot.as_ref().map(|_| Path::new(""));
            // Other small parts are not of this job, wherever they lie.
            job::only_one_in(file.and_then(Path::parent).or(lot)?)
        };
        self.job.clone().or_else(beside)
    }

    /// The name of the lot, or of the file the parts came from.
    fn lot_name(&self) -> String {
        let What {
            dressed,
            halves,
            rims: _,
            parts,
            lot,
        } = &self.what;
        let file = [halves, dressed, parts]
            .into_iter()
            .find_map(Option::as_deref);
        lot.clone()
            .unwrap_or_else(|| file.map(sheets::lot_of_file).unwrap_or_default())
    }

    fn of_files(&self, job: Option<&Job>) -> Result<Parts, Trouble> {
        let windows = job::windows(job);
        let read = |path: &PathBuf, kind| self.reading.file(path, kind, &windows);
        let What {
            dressed,
            halves,
            rims,
            parts,
            ..
        } = &self.what;
        if let (Some(halves), Some(rims)) = (halves, rims) {
            let taken = reading::all(vec![read(halves, Kind::Half), read(rims, Kind::Rim)])?;
            let mut files = taken.into_iter().map(|taken| taken.file.parts);
            let (halves, rims) = (
                files.next().unwrap_or_default(),
                files.next().unwrap_or_default(),
            );
            return Ok(Parts::Four { halves, rims });
        }
        let two = dressed.as_ref().map(|p| (p, Kind::Dressed));
        match two.or(parts.as_ref().map(|p| (p, Kind::Other))) {
            Some((path, kind)) => Ok(Parts::Two(read(path, kind)?.file.parts)),
            None => Err(Trouble::Input("no parts were named".to_owned())),
        }
    }
}
