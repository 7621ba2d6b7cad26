//! Sets: a part sits in one at most, a number is used once, a new weighing breaks what it touches.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use common::{at, file, fresh, halves, new_set, part, sets};
use whirlwright_ledger::Error;
use whirlwright_workshop::part::Kind;
use whirlwright_workshop::part::record::SetState;

#[tokio::test]
async fn law_a_part_sits_in_one_standing_set_at_most() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let first = sets("D26", 5, vec![new_set("D26-H0001", "D26-H0002")]);
    assert_eq!(ledger.record_sets(&first).await.unwrap().numbers, [1]);

    let overlapping = vec![
        new_set("D26-H0003", "D26-H0004"),
        new_set("D26-H0002", "D26-H0001"),
    ];
    let Err(Error::Taken { taken }) = ledger
        .record_sets(&sets("D26", 6, overlapping.clone()))
        .await
    else {
        panic!("a part was put in a second set");
    };
    let told: Vec<_> = taken
        .iter()
        .map(|part| (part.serial.as_str(), part.set))
        .collect();
    assert_eq!(told, [("D26-H0001", 1), ("D26-H0002", 1)]);
    let lot = ledger.lot("D26").await.unwrap();
    assert_eq!(
        (lot.sets.len(), lot.decisions.len()),
        (1, 1),
        "nothing of it was recorded"
    );
    let free = ledger.free_parts("D26", Kind::Half).await.unwrap();
    assert_eq!(
        free.iter().map(|p| &*p.serial).collect::<Vec<_>>(),
        ["D26-H0003", "D26-H0004"]
    );

    ledger
        .void_set("D26", 1, "wrong tray", "0.1.0", &at(7))
        .await
        .unwrap();
    let recorded = ledger
        .record_sets(&sets("D26", 8, overlapping))
        .await
        .unwrap();
    assert_eq!(recorded.numbers, [2, 3], "number 1 is never used again");
    let mut asked = new_set("D26-H0001", "D26-H0002");
    asked.number = Some(1);
    ledger
        .void_set("D26", 3, "wrong tray", "0.1.0", &at(9))
        .await
        .unwrap();
    assert!(matches!(
        ledger.record_sets(&sets("D26", 9, vec![asked])).await,
        Err(Error::NumberUsed {
            number: 1,
            next: 4,
            ..
        })
    ));
    assert!(matches!(
        ledger.void_set("D26", 1, "again", "0.1.0", &at(9)).await,
        Err(Error::AlreadyVoid { .. })
    ));
    assert!(matches!(
        ledger.void_set("D26", 9, "no such", "0.1.0", &at(9)).await,
        Err(Error::NoSuchSet { number: 9, .. })
    ));
}

#[tokio::test]
async fn law_sets_that_contradict_themselves_are_refused() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let mut alone = new_set("D26-H0001", "D26-H0002");
    alone.members.pop();
    let mut same_place = new_set("D26-H0001", "D26-H0002");
    same_place.members[1].role = same_place.members[0].role;
    let mut endless = new_set("D26-H0001", "D26-H0002");
    endless.cost = f64::NAN;
    let with_itself = new_set("D26-H0001", "D26-H0001");
    for set in [alone, same_place, endless, with_itself] {
        let refused = ledger.record_sets(&sets("D26", 5, vec![set])).await;
        assert!(matches!(refused, Err(Error::Refused(_))), "{refused:?}");
    }
    let unknown = ledger
        .record_sets(&sets("D26", 5, vec![new_set("D26-H0001", "H9")]))
        .await;
    assert!(matches!(unknown, Err(Error::NoSuchPart { .. })));
    assert!(ledger.lot("D26").await.unwrap().decisions.is_empty());
}

#[tokio::test]
async fn law_a_part_measured_again_breaks_its_set() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let read_at = ledger.lot("D26").await.unwrap().read_at;
    let pair = vec![
        new_set("D26-H0001", "D26-H0002"),
        new_set("D26-H0003", "D26-H0004"),
    ];
    ledger
        .record_sets(&sets("D26", 5, pair.clone()))
        .await
        .unwrap();
    let mut again = file(
        "D26",
        "again.csv",
        &[part("D26-H0002", Kind::Half, "10.60")],
    );
    again.again = true;
    assert_eq!(ledger.import(&again).await.unwrap().broken_sets, [1]);

    let states: Vec<_> = ledger
        .lot("D26")
        .await
        .unwrap()
        .sets
        .into_iter()
        .map(|set| set.state)
        .collect();
    assert_eq!(
        states,
        [
            SetState::Broken {
                measured_again: vec!["D26-H0002".to_owned()]
            },
            SetState::Good
        ]
    );
    let trace = ledger.trace("D26-H0001", None).await.unwrap();
    assert!(
        trace.sets[0]
            .state
            .label()
            .starts_with("broken: needs new measures")
    );

    // A pairing that was reckoned before the new weighing must not be recorded after it.
    ledger
        .void_set("D26", 1, "measured again", "0.1.0", &at(7))
        .await
        .unwrap();
    let mut late = sets("D26", 8, vec![pair[0].clone()]);
    late.read_at = Some(read_at);
    let Err(Error::MeasuredSince { serials }) = ledger.record_sets(&late).await else {
        panic!("sets that rest on an old weighing were recorded");
    };
    assert_eq!(serials, ["D26-H0002"]);
    late.read_at = Some(ledger.lot("D26").await.unwrap().read_at);
    assert_eq!(ledger.record_sets(&late).await.unwrap().numbers, [3]);
    assert_eq!(
        ledger.lot("D26").await.unwrap().sets[2].state,
        SetState::Good
    );
}
