//! Any run of imports, weighings, sets and voids, against a plain model of what must be known.
#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use std::collections::BTreeMap;

use common::{PROGRAM, at, file, fresh, new_set, part, sets};
use proptest::prelude::*;
use whirlwright_ledger::{Error, Ledger};
use whirlwright_workshop::part::Kind;
use whirlwright_workshop::part::record::SetState;

const PARTS: u8 = 6;

#[derive(Debug, Clone)]
enum Act {
    Weigh { parts: Vec<(u8, i64)>, again: bool },
    Pair { left: u8, right: u8 },
    Void { number: u32 },
}

fn act() -> impl Strategy<Value = Act> {
    let weighing = proptest::collection::btree_map(0..PARTS, 1000..1200i64, 1..4);
    prop_oneof![
        3 => (weighing, any::<bool>())
            .prop_map(|(parts, again)| Act::Weigh { parts: parts.into_iter().collect(), again }),
        3 => (0..PARTS, 0..PARTS).prop_map(|(left, right)| Act::Pair { left, right }),
        1 => (1..6u32).prop_map(|number| Act::Void { number }),
    ]
}

#[derive(Debug, Default)]
struct Model {
    /// Every reading of a part, in order; parts in the order they came in.
    readings: Vec<(u8, Vec<i64>)>,
    /// Left, right, measured again since, void.
    sets: BTreeMap<u32, (u8, u8, bool, bool)>,
}

impl Model {
    fn of(&mut self, part: u8) -> Option<&mut Vec<i64>> {
        self.readings
            .iter_mut()
            .find(|(serial, _)| *serial == part)
            .map(|(_, list)| list)
    }

    fn sits(&self, part: u8) -> bool {
        self.sets
            .values()
            .any(|(left, right, _, void)| !void && [*left, *right].contains(&part))
    }
}

fn serial(part: u8) -> String {
    format!("D26-H{part:04}")
}

fn mass(units: i64) -> String {
    format!("{}.{:02}", units / 100, units % 100)
}

async fn weigh(ledger: &Ledger, model: &mut Model, step: u32, parts: &[(u8, i64)], again: bool) {
    let list: Vec<_> = parts
        .iter()
        .map(|(id, m)| part(&serial(*id), Kind::Half, &mass(*m)))
        .collect();
    let mut import = file("D26", &format!("{step}.csv"), &list);
    // Another file each time, even when it says the same.
    import.raw_bytes.extend(format!("# {step}\n").into_bytes());
    (import.again, import.at) = (again, at(step));
    let differs = parts
        .iter()
        .any(|(id, m)| model.of(*id).is_some_and(|r| r.last() != Some(m)));
    let done = ledger.import(&import).await;
    if differs && !again {
        assert!(matches!(done, Err(Error::Clashes { .. })), "{done:?}");
        return;
    }
    let receipt = done.unwrap();
    for (id, m) in parts {
        match model.of(*id) {
            None => model.readings.push((*id, vec![*m])),
            Some(list) if again => {
                list.push(*m);
                for (left, right, measured, void) in model.sets.values_mut() {
                    *measured |= !*void && [*left, *right].contains(id);
                }
            }
            Some(_) => {}
        }
    }
    assert!(!receipt.already_in);
}

async fn pair(ledger: &Ledger, model: &mut Model, step: u32, left: u8, right: u8) {
    let done = ledger
        .record_sets(&sets(
            "D26",
            step,
            vec![new_set(&serial(left), &serial(right))],
        ))
        .await;
    let known = model.of(left).is_some() && model.of(right).is_some();
    let free = !model.sits(left) && !model.sits(right);
    if left != right && known && free {
        let number = model.sets.len() as u32 + 1;
        assert_eq!(done.unwrap().numbers, [number]);
        model.sets.insert(number, (left, right, false, false));
    } else {
        assert!(done.is_err(), "{left} with {right}: {done:?}");
    }
}

async fn void(ledger: &Ledger, model: &mut Model, step: u32, number: u32) {
    let done = ledger
        .void_set("D26", number, "tried", PROGRAM, &at(step))
        .await;
    match model.sets.get_mut(&number) {
        Some((_, _, _, void)) if !*void => {
            done.unwrap();
            *void = true;
        }
        _ => assert!(done.is_err(), "set {number} was voided: {done:?}"),
    }
}

async fn compare(ledger: &Ledger, model: &Model) {
    let parts = ledger.parts("D26", Kind::Half).await.unwrap();
    let told: Vec<_> = parts
        .iter()
        .map(|p| (p.serial.clone(), p.mass_g.unwrap().units))
        .collect();
    let meant: Vec<_> = model
        .readings
        .iter()
        .map(|(id, list)| (serial(*id), *list.last().unwrap()))
        .collect();
    assert_eq!(
        told, meant,
        "the latest reading of each part, in the order they came in"
    );
    for (id, list) in &model.readings {
        let trace = ledger.trace(&serial(*id), None).await.unwrap();
        let told: Vec<_> = trace.readings.iter().map(|r| r.value.units).collect();
        assert_eq!(&told, list, "every reading, in order");
        for (reading, units) in trace.readings.iter().zip(list) {
            assert_eq!(reading.text, mass(*units), "the text as it was read");
            assert_eq!(
                reading.raw_text,
                format!("{},,{}", serial(*id), mass(*units))
            );
        }
        let told: Vec<_> = trace.sets.iter().map(|set| set.number).collect();
        let meant: Vec<_> = (model.sets.iter())
            .filter(|(_, (left, right, _, _))| [left, right].contains(&id))
            .map(|(number, _)| *number)
            .collect();
        assert_eq!(told, meant, "every set it was in");
        assert_eq!(trace.decisions.len(), meant.len());
    }
    let lot = ledger.lot("D26").await.unwrap();
    for (set, (number, (left, right, measured, void))) in lot.sets.iter().zip(&model.sets) {
        assert_eq!(set.number, *number);
        let members: Vec<_> = set.members.iter().map(|m| m.serial.clone()).collect();
        assert_eq!(members, [serial(*left), serial(*right)]);
        let state = (
            matches!(set.state, SetState::Void { .. }),
            set.state == SetState::Good,
        );
        assert_eq!(
            state,
            (*void, !*void && !*measured),
            "state of set {number}"
        );
    }
    assert_eq!(lot.sets.len(), model.sets.len());
}

async fn play(acts: &[Act]) {
    let (_folder, ledger) = fresh().await;
    let mut model = Model::default();
    for (step, act) in (1u32..).zip(acts) {
        match act {
            Act::Weigh { parts, again } => {
                weigh(&ledger, &mut model, step, parts, *again).await;
            }
            Act::Pair { left, right } => pair(&ledger, &mut model, step, *left, *right).await,
            Act::Void { number } => void(&ledger, &mut model, step, *number).await,
        }
    }
    if !model.readings.is_empty() {
        compare(&ledger, &model).await;
    }
    ledger.close().await;
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn law_every_story_is_told_as_it_happened(acts in proptest::collection::vec(act(), 1..24)) {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(play(&acts));
    }
}
