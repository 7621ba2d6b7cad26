//! What every page needs: the record, the folder, and the last pairings that were reckoned.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use tokio::sync::Mutex;
use whirlwright_ledger::Ledger;
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::{Answer, Job};

use crate::desk::question::{Parts, Question};
use crate::desk::wish::Wish;
use crate::desk::{job, pair, record};
use crate::error::Trouble;

/// What every page needs to know.
#[derive(Debug)]
pub struct Shop {
    /// The record, open while the page is served.
    pub ledger: Ledger,
    /// The folder of the record, where job files are looked for.
    pub folder: PathBuf,
    /// The last answers with the question each belongs to, newest last; one reckoning at a time.
    reckoned: Mutex<Vec<(String, Arc<Answer<PairBody>>)>>,
}

/// Answers kept: a person goes to and fro between a few limits.
const MOST_KEPT: usize = 6;

impl Shop {
    /// Opens the record, and begins one if there is none.
    ///
    /// # Errors
    /// The record cannot be made or used.
    pub async fn open(ledger: &Path) -> Result<Self, Trouble> {
        let folder = match ledger.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        let ledger = record::open_or_begin(ledger).await?;
        Ok(Self {
            ledger,
            folder,
            reckoned: Mutex::default(),
        })
    }

    /// The only job file of the folder, read anew, with its path.
    ///
    /// # Errors
    /// The job file has faults.
    pub fn job(&self) -> Result<Option<(Job, PathBuf)>, Trouble> {
        let path = job::only_one_in(&self.folder);
        path.map(|path| Ok((job::read(&path)?, path))).transpose()
    }

    /// Pairs a lot with these wishes, or gives the answer to the same question again.
    ///
    /// # Errors
    /// The question cannot be put or answered.
    pub async fn pair(
        &self,
        lot: &str,
        wish: &Wish,
        free: bool,
    ) -> Result<Arc<Answer<PairBody>>, Trouble> {
        let job = self.job()?;
        let state = self.ledger.lot(lot).await?.read_at;
        let key = format!("{lot}\n{state}\n{free}\n{wish:?}\n{job:?}");
        let mut reckoned = self.reckoned.lock().await;
        if let Some((_, answer)) = reckoned.iter().find(|(k, _)| *k == key) {
            return Ok(answer.clone());
        }
        let parts: Parts = pair::of_lot(&self.ledger, lot, free).await?;
        let known = job.as_ref().map(|(job, path)| (job, path.as_path()));
        let question = Question::new(parts, wish, known, false)?;
        let answer = Arc::new(pair::ask(question, |_| false).await?);
        if reckoned.len() >= MOST_KEPT {
            reckoned.remove(0);
        }
        reckoned.push((key, answer.clone()));
        Ok(answer)
    }
}
