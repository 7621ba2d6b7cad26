//! Which pairing a page is about: the recorded one, or a trial.

use std::sync::Arc;

use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::{Answer, Kind};

use super::Shop;
use crate::desk::wish::Wish;
use crate::error::Trouble;

/// The pairing a page shows: the recorded one, or a trial with other limits.
#[derive(Debug)]
pub struct Sight {
    /// What pairing says.
    pub answer: Arc<Answer<PairBody>>,
    /// What it was asked with.
    pub wish: Wish,
    /// The state of the record it rests on, where it can be recorded.
    pub to_record: Option<u64>,
    /// When it was recorded.
    pub recorded: Option<String>,
    /// Parts of the lot that sit in sets of the record.
    in_sets: u64,
}

impl Sight {
    /// Whether halves and rims are paired four and four.
    pub fn four(&self) -> bool {
        self.answer
            .body
            .distribution
            .iter()
            .any(|h| h.kind == Kind::Rim)
    }

    /// Recorded or a trial, in words.
    pub fn standing(&self) -> String {
        match (&self.recorded, self.in_sets) {
            (Some(when), _) => format!("Recorded {when}."),
            (None, 0) => "A trial: nothing is recorded yet.".to_owned(),
            (None, taken) => format!(
                "A trial with the whole lot: {taken} of its parts sit in recorded sets, so it cannot be recorded."
            ),
        }
    }
}

/// The pairing to show: without wishes the last recorded one, if there is one; otherwise a trial.
pub async fn sight(shop: &Shop, lot: &str, wish: &Wish) -> Result<Sight, Trouble> {
    let record = shop.ledger.lot(lot).await?;
    let in_sets = record.kinds.iter().map(|k| k.in_sets).sum();
    let last = record
        .decisions
        .iter()
        .rev()
        .find(|d| d.what == "pair" && d.sets > 0);
    if let (Some(last), true, true) = (last, *wish == Wish::default(), in_sets > 0) {
        let answer = shop.ledger.decision_answer(last.written.counter).await?;
        let unread = |e| Trouble::Ours(format!("the recorded answer cannot be read: {e}"));
        return Ok(Sight {
            answer: Arc::new(serde_json::from_value(answer).map_err(unread)?),
            wish: serde_json::from_value(last.options.clone()).unwrap_or_default(),
            to_record: None,
            recorded: Some(
                last.written
                    .time
                    .get(..16)
                    .unwrap_or_default()
                    .replace('T', " "),
            ),
            in_sets,
        });
    }
    let free = in_sets == 0;
    let answer = shop.pair(lot, wish, free).await?;
    let to_record = free.then_some(record.read_at);
    Ok(Sight {
        answer,
        wish: wish.clone(),
        to_record,
        recorded: None,
        in_sets,
    })
}
