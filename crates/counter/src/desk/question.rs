//! From parts and wishes to the question pairing answers.

use std::path::Path;

use whirlwright_workshop::pairing::{
    DressedGiven, MoreRims, PairBody, PartsGiven, Progress, pair_dressed, pair_parts,
};
use whirlwright_workshop::part::job::PairingWishes;
use whirlwright_workshop::part::{Answer, Decimal, Job, LotPart, Trust};

use super::limits::{self, Faults};
use super::recut;
use super::wish::Wish;
use crate::error::Trouble;

/// The parts to be paired.
#[derive(Debug, Clone)]
pub enum Parts {
    /// Dressed halves, or any one kind: two make a set.
    Two(Vec<LotPart>),
    /// Halves and rims apart: four make a set.
    Four {
        /// The halves.
        halves: Vec<LotPart>,
        /// The rims.
        rims: Vec<LotPart>,
    },
}

/// A question in full, ready to be answered.
#[derive(Debug, Clone)]
pub struct Question {
    given: Given,
    trust: Vec<Trust>,
}

#[derive(Debug, Clone)]
enum Given {
    Two(Box<DressedGiven>),
    Four(Box<PartsGiven>),
}

impl Question {
    /// Puts the question together; `job` with the path of its file.
    ///
    /// Limits that were typed go before the job file's. A job file that was not named gives its
    /// limits only where none were typed: what lies beside a table must not narrow what was asked.
    ///
    /// # Errors
    /// Everything that cannot be read or is missing, at once.
    pub fn new(
        parts: Parts,
        wish: &Wish,
        job: Option<(&Job, &Path)>,
        named: bool,
    ) -> Result<Self, Trouble> {
        let base = job
            .map(|(job, _)| job)
            .filter(|_| named || !wish.sets_limits());
        let wishes = limits::wishes(wish, base)?;
        let forbidden = limits::forbidden(wish)?;
        match parts {
            Parts::Two(parts) => two(parts, wish, &wishes, forbidden),
            Parts::Four { halves, rims } => {
                let mut question = four(halves, rims, wish, &wishes, forbidden)?;
                if let (true, Given::Four(given)) = (wish.recut, &mut question.given) {
                    let allowed = recut::allowed(wish, job)?;
                    given.recut = Some(allowed.recut);
                    question.trust.push(allowed.trust);
                }
                Ok(question)
            }
        }
    }

    /// Answers it; `stop` hears how far the work has come and may end it.
    ///
    /// # Errors
    /// Pairing refuses the question.
    pub fn answer(&self, stop: &dyn Fn(Progress) -> bool) -> Result<Answer<PairBody>, Trouble> {
        let mut answer = match &self.given {
            Given::Two(given) => pair_dressed(given)?,
            Given::Four(given) => pair_parts(given, stop)?,
        };
        answer.trust.extend(self.trust.iter().cloned());
        Ok(answer)
    }
}

fn two(
    parts: Vec<LotPart>,
    wish: &Wish,
    wishes: &PairingWishes,
    forbidden: Vec<(String, String)>,
) -> Result<Question, Trouble> {
    let mut faults = Faults::default();
    let typed = [
        ("piece-mass", wish.piece_mass.is_some()),
        ("piece-within", wish.piece_within.is_some()),
        ("fit-window", wish.fit_window.is_some()),
        ("recut", wish.recut),
    ];
    faults.note_typed(
        &typed,
        "this goes with halves and rims that are not yet put together",
    );
    faults.settle()?;
    let given = DressedGiven {
        all: wish.all,
        joint: limits::joint(wishes),
        colour_must_agree: wishes.colour_must_agree.unwrap_or(false),
        forbidden,
        // A tray that is handed in as it is gets paired as it is; the answer names what is in doubt.
        // Only a lot's halves and rims wait for the second weighing.
        include_doubtful: true,
        ..DressedGiven::new(parts, limits::of_two(wishes))
    };
    Ok(Question {
        given: Given::Two(Box::new(given)),
        trust: Vec::new(),
    })
}

fn four(
    halves: Vec<LotPart>,
    rims: Vec<LotPart>,
    wish: &Wish,
    wishes: &PairingWishes,
    forbidden: Vec<(String, String)>,
) -> Result<Question, Trouble> {
    let mut faults = Faults::default();
    let typed = [
        ("all", wish.all),
        ("clock-marks", wish.clock_marks.is_some()),
        ("unbalance-within", wish.unbalance_within.is_some()),
        ("offset-within", wish.offset_within.is_some()),
    ];
    faults.note_typed(
        &typed,
        "this goes with dressed halves, which can be measured as they will run",
    );
    let mut needed = |flag, value: Option<Decimal>, example| {
        if value.is_none() {
            faults.note(
                flag,
                &format!("not given; say it (\"{example}\") or name a job file with --job"),
            );
        }
        value
    };
    let needs = (
        needed("mass-within", wishes.mass_within_g, "0.1 g"),
        needed("piece-mass", wishes.piece_mass_g, "57.60 g"),
        needed("piece-within", wishes.piece_within_g, "0.1 g"),
    );
    faults.settle()?;
    let (Some(mass_within), Some(piece_mass), Some(piece_within)) = needs else {
        return Err(Trouble::Input("a limit is missing".to_owned()));
    };
    let given = PartsGiven {
        fit_window: limits::fit(wishes),
        colour_must_agree: wishes.colour_must_agree.unwrap_or(false),
        forbidden,
        include_doubtful: wish.include_doubtful,
        more_rims: Some(MoreRims::default()),
        ..PartsGiven::new(halves, rims, mass_within, piece_mass, piece_within)
    };
    Ok(Question {
        given: Given::Four(Box::new(given)),
        trust: Vec::new(),
    })
}
