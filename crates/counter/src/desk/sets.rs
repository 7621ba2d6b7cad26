//! Recording the sets of an answer, so that their parts are taken.

use serde_json::{Map, Value};
use whirlwright_ledger::{Ledger, NewSet, Recorded, Sets};
use whirlwright_workshop::pairing::{PairBody, PairSet};
use whirlwright_workshop::part::Answer;
use whirlwright_workshop::part::record::{Member, Role};

use super::record::{self, PROGRAM};
use super::wish::Wish;
use crate::error::Trouble;

/// Records the sets. They get the next free numbers, in the answer too, so that the pick list and
/// the record call them by the same name.
///
/// `read_at` is the state of the record the answer rests on; sets whose parts were measured since
/// are refused.
///
/// # Errors
/// A part sits in another set already, was measured since, or the record cannot be written.
pub async fn record(
    ledger: &Ledger,
    lot: &str,
    answer: &mut Answer<PairBody>,
    wish: &Wish,
    read_at: Option<u64>,
) -> Result<Recorded, Trouble> {
    if answer.body.sets.is_empty() {
        return Err(Trouble::Conflict(format!(
            "there is no set to record in lot {lot}"
        )));
    }
    let first = ledger.lot(lot).await?.next_set_number;
    renumber(&mut answer.body, first);
    let json = |value: Result<Value, serde_json::Error>| {
        value.map_err(|e| Trouble::Ours(format!("cannot write the answer for the record: {e}")))
    };
    let sets = Sets {
        lot: lot.to_owned(),
        what: "pair".to_owned(),
        answer: json(serde_json::to_value(&*answer))?,
        options: json(serde_json::to_value(wish))?,
        program: PROGRAM.to_owned(),
        at: record::now(),
        read_at,
        sets: answer.body.sets.iter().map(new_set).collect(),
    };
    Ok(ledger.record_sets(&sets).await?)
}

/// Numbers the sets from `first` on.
fn renumber(body: &mut PairBody, first: u32) {
    let shift = first.saturating_sub(1);
    body.sets.iter_mut().for_each(|set| set.number += shift);
    body.recuts.iter_mut().for_each(|recut| recut.set += shift);
}

fn new_set(set: &PairSet) -> NewSet {
    let four = [
        (Role::LeftHalf, &set.left_half),
        (Role::LeftRim, &set.left_rim),
        (Role::RightHalf, &set.right_half),
        (Role::RightRim, &set.right_rim),
    ];
    let member = |(role, serial): (Role, &String)| Member {
        role,
        serial: serial.clone(),
    };
    let of_four = four
        .into_iter()
        .filter_map(|(role, serial)| Some((role, serial.as_ref()?)));
    let mut members: Vec<Member> = of_four.map(member).collect();
    if members.is_empty() {
        members = [(Role::Left, &set.left), (Role::Right, &set.right)]
            .map(member)
            .to_vec();
    }
    let numbers = [
        ("mass_difference_g", set.mass_difference_g),
        ("unbalance_difference_g_mm", set.unbalance_difference_g_mm),
        ("offset_difference_mm", set.offset_difference_mm),
        ("piece_mass_g", set.piece_mass_g),
        ("left_interference_mm", set.left_interference_mm),
        ("right_interference_mm", set.right_interference_mm),
    ];
    let known = numbers
        .into_iter()
        .filter_map(|(key, value)| Some((key.to_owned(), value?.into())));
    let mut differences: Map<String, Value> = known.collect();
    if let Some(mark) = set.clock_mark {
        differences.insert("clock_mark".to_owned(), mark.into());
    }
    NewSet {
        number: Some(set.number),
        members,
        cost: set.cost,
        differences,
    }
}
