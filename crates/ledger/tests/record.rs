//! What comes in is what comes out; what contradicts the record is refused, all of it.
#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use common::{at, file, fresh, halves, new_set, part, sets};
use whirlwright_ledger::{Error, Moment};
use whirlwright_workshop::part::{Kind, LotPart, Measure};

#[tokio::test]
async fn law_parts_come_back_as_they_came_in() {
    let (_folder, ledger) = fresh().await;
    let mut parts = halves();
    parts[1].tray = Some("T3-07".to_owned());
    parts[2].doubts = vec!["5.1 sd from the others of cavity 3".to_owned()];
    parts[3].mass_g = None;
    parts.swap(0, 2); // the order of the file, not of the serials
    let receipt = ledger
        .import(&file("D26", "halves.csv", &parts))
        .await
        .unwrap();
    assert_eq!((receipt.new_parts, receipt.new_readings), (4, 3));
    assert_eq!(ledger.parts("D26", Kind::Half).await.unwrap(), parts);
    assert_eq!(
        ledger.parts("D26", Kind::Rim).await.unwrap(),
        Vec::<LotPart>::new()
    );

    let lot = ledger.lot("D26").await.unwrap();
    let counts = &lot.kinds[0];
    assert_eq!(
        (
            counts.parts,
            counts.weighed,
            counts.in_doubt,
            counts.in_sets
        ),
        (4, 3, 1, 0)
    );
    assert_eq!(lot.doubts[0].serial, "D26-H0003");
    assert_eq!(lot.files[0].name, "halves.csv");
    let raw = ledger.file_content(&lot.files[0].sha256).await.unwrap();
    assert_eq!(raw, file("D26", "halves.csv", &parts).raw_bytes);
}

#[tokio::test]
async fn law_the_same_bytes_add_nothing() {
    let (_folder, ledger) = fresh().await;
    let first = ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let mut again = file("D26", "a-copy.csv", &halves());
    again.again = true;
    again.at = at(30);
    let second = ledger.import(&again).await.unwrap();
    assert!(second.already_in);
    assert_eq!((second.new_parts, second.new_readings), (0, 0));
    assert_eq!(second.written, first.written, "it names the first time");
    assert_eq!(ledger.lot("D26").await.unwrap().files.len(), 1);

    let other = ledger
        .import(&file("D27", "halves.csv", &halves()))
        .await
        .unwrap();
    assert!(!other.already_in);
    assert_eq!(other.also_in_lots, ["D26"]);
}

#[tokio::test]
async fn law_a_second_weighing_is_refused_with_both_numbers_until_it_is_said_to_be_one() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let second = [
        part("D26-H0002", Kind::Half, "10.78"),
        part("D26-H0004", Kind::Half, "10.38"),
        part("D26-H0005", Kind::Half, "10.80"),
    ];
    let mut import = file("D26", "second.csv", &second);
    let Err(Error::Clashes { clashes }) = ledger.import(&import).await else {
        panic!("two readings differ and were taken");
    };
    let told: Vec<_> = clashes
        .iter()
        .map(|c| (c.serial.as_str(), c.held.as_str(), c.read.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            ("D26-H0002", "10.77 g", "10.78 g"),
            ("D26-H0004", "10.83 g", "10.38 g")
        ]
    );
    assert_eq!(
        ledger.parts("D26", Kind::Half).await.unwrap(),
        halves(),
        "nothing came in"
    );

    import.again = true;
    let receipt = ledger.import(&import).await.unwrap();
    assert_eq!((receipt.new_parts, receipt.parts_measured_again), (1, 2));
    let parts = ledger.parts("D26", Kind::Half).await.unwrap();
    let masses: Vec<_> = parts
        .iter()
        .map(|part| part.mass_g.unwrap().to_string())
        .collect();
    assert_eq!(masses, ["10.70", "10.78", "10.81", "10.38", "10.80"]);
}

#[tokio::test]
async fn law_a_row_that_says_nothing_new_adds_nothing() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let mut longer = halves();
    longer[0].mass_g = "10.700".parse().ok(); // the same number
    longer.push(part("D26-H0005", Kind::Half, "10.80"));
    let receipt = ledger
        .import(&file("D26", "halves.csv", &longer))
        .await
        .unwrap();
    assert_eq!(
        (
            receipt.new_parts,
            receipt.unchanged_rows,
            receipt.new_readings
        ),
        (1, 4, 1)
    );
    assert_eq!(
        ledger
            .trace("D26-H0001", None)
            .await
            .unwrap()
            .readings
            .len(),
        1
    );
}

#[tokio::test]
async fn law_another_quantity_of_a_known_part_is_no_clash() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let mut spigot = LotPart::new("D26-H0002", Kind::Half);
    spigot.fit_mm = "48.089".parse().ok();
    let receipt = ledger
        .import(&file("D26", "spigots.csv", &[spigot]))
        .await
        .unwrap();
    assert_eq!((receipt.new_parts, receipt.new_readings), (0, 1));
    let half = &ledger.parts("D26", Kind::Half).await.unwrap()[1];
    assert_eq!(half.mass_g, "10.77".parse().ok());
    assert_eq!(half.fit_mm, "48.089".parse().ok());
}

#[tokio::test]
async fn law_a_doubt_stands_until_its_reading_is_replaced() {
    let (_folder, ledger) = fresh().await;
    let mut doubtful = part("D26-H0001", Kind::Half, "10.38");
    doubtful.doubts = vec!["far from the others of its cavity".to_owned()];
    ledger
        .import(&file("D26", "halves.csv", &[doubtful.clone()]))
        .await
        .unwrap();

    let mut spigot = LotPart::new("D26-H0001", Kind::Half);
    spigot.fit_mm = "48.089".parse().ok();
    ledger
        .import(&file("D26", "spigots.csv", &[spigot]))
        .await
        .unwrap();
    let doubts = |parts: Vec<LotPart>| parts[0].doubts.clone();
    assert_eq!(
        doubts(ledger.parts("D26", Kind::Half).await.unwrap()),
        doubtful.doubts
    );

    let mut weighed = file(
        "D26",
        "again.csv",
        &[part("D26-H0001", Kind::Half, "10.83")],
    );
    weighed.again = true;
    ledger.import(&weighed).await.unwrap();
    assert_eq!(
        doubts(ledger.parts("D26", Kind::Half).await.unwrap()),
        Vec::<String>::new()
    );
}

#[tokio::test]
async fn law_input_that_contradicts_itself_leaves_no_trace() {
    let (_folder, ledger) = fresh().await;
    let one = part("D26-H0001", Kind::Half, "10.70");
    let twice = file("D26", "twice.csv", &[one.clone(), one.clone()]);
    assert!(matches!(
        ledger.import(&twice).await,
        Err(Error::TwiceInFile {
            first_line: 2,
            second_line: 3,
            ..
        })
    ));
    let empty = file("D26", "empty.csv", &[]);
    let mixed = file(
        "D26",
        "mixed.csv",
        &[one.clone(), part("D26-R0001", Kind::Rim, "17.98")],
    );
    let mut other_number = file("D26", "number.csv", std::slice::from_ref(&one));
    other_number.rows[0].readings[0].value = "10.71".parse().unwrap();
    let mut no_number = file("D26", "none.csv", std::slice::from_ref(&one));
    no_number.rows[0].readings.clear();
    let unnamed = file("", "lot.csv", std::slice::from_ref(&one));
    let blank = file("D26", "blank.csv", &[part(" ", Kind::Half, "10.70")]);
    let long = file(
        "D26",
        "long.csv",
        &[part(&"H".repeat(65), Kind::Half, "10.70")],
    );
    for import in [empty, mixed, other_number, no_number, unnamed, blank, long] {
        let refused = ledger.import(&import).await;
        assert!(
            matches!(refused, Err(Error::Refused(_))),
            "{}: {refused:?}",
            import.file_name
        );
    }
    assert_eq!(ledger.lots().await.unwrap(), []);
}

#[tokio::test]
async fn law_the_latest_reading_counts_even_when_the_clock_went_back() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let times = [
        "1970-01-01T00:00:00Z",
        "2031-01-01T00:00:00Z",
        "2026-03-03T09:00:00+01:00",
    ];
    for (index, time) in times.into_iter().enumerate() {
        let mass = format!("10.{}", 90 + index);
        let mut again = file("D26", "again.csv", &[part("D26-H0001", Kind::Half, &mass)]);
        (again.again, again.at) = (true, Moment::parse(time).unwrap());
        let written = ledger.import(&again).await.unwrap().written;
        assert!(written.clock_doubtful, "{time} was taken for sure");
        let latest = ledger.parts("D26", Kind::Half).await.unwrap()[0].mass_g;
        assert_eq!(latest, mass.parse().ok(), "after {time}");
    }
    let trace = ledger.trace("D26-H0001", None).await.unwrap();
    let counters: Vec<u64> = trace.readings.iter().map(|r| r.written.counter).collect();
    assert!(counters.is_sorted());
    let counting: Vec<bool> = trace.readings.iter().map(|r| !r.superseded).collect();
    assert_eq!(counting, [false, false, false, true]);
}

#[tokio::test]
async fn reads_the_whole_story_of_a_part() {
    let (_folder, ledger) = fresh().await;
    let mut import = file("D26", "halves.csv", &halves());
    import.rows[0].operator = Some("moulder".to_owned());
    import.rows[0].noted_at = Some("2026-03-03T08:00:00+01:00".to_owned());
    import.rows[0].readings[0].instrument = Some("S1".to_owned());
    import.rows[0].readings[0].text = "0.3774".to_owned();
    import.rows[0].readings[0].unit = "oz".to_owned();
    ledger.import(&import).await.unwrap();
    let pair = vec![
        new_set("D26-H0001", "D26-H0002"),
        new_set("D26-H0003", "D26-H0004"),
    ];
    ledger.record_sets(&sets("D26", 5, pair)).await.unwrap();
    ledger
        .void_set("D26", 1, "left half scratched", "0.1.0", &at(6))
        .await
        .unwrap();

    let trace = ledger.trace("D26-H0001", Some("D26")).await.unwrap();
    let reading = &trace.readings[0];
    assert_eq!(reading.quantity, Measure::MassG);
    assert_eq!(
        (reading.text.as_str(), reading.unit.as_str()),
        ("0.3774", "oz")
    );
    assert_eq!(reading.value.to_string(), "10.70");
    assert_eq!((reading.file.as_str(), reading.line), ("halves.csv", 2));
    assert_eq!(reading.raw_text, "D26-H0001,1,10.70");
    assert_eq!(reading.operator.as_deref(), Some("moulder"));
    assert_eq!(reading.instrument.as_deref(), Some("S1"));
    assert_eq!(trace.sets.len(), 1);
    assert_eq!(trace.sets[0].members[1].serial, "D26-H0002");
    assert_eq!(trace.sets[0].differences["mass_difference_g"], 0.02);
    assert_eq!(trace.sets[0].state.label(), "void: left half scratched");
    assert_eq!(trace.decisions[0].options["mass_within"], "0.1 g");
    let answer = ledger
        .decision_answer(trace.decisions[0].written.counter)
        .await
        .unwrap();
    assert_eq!(answer["total_cost"], 4);
}

#[tokio::test]
async fn reads_a_line_as_it_stood_in_a_file_that_is_no_plain_text() {
    let (_folder, ledger) = fresh().await;
    let mut import = file("D26", "halves.xlsx", &halves());
    import.raw_bytes = vec![0x50, 0x4b, 0x03, 0x04, 0xff, 0xfe];
    ledger.import(&import).await.unwrap();
    let trace = ledger.trace("D26-H0002", None).await.unwrap();
    assert_eq!(trace.readings[0].raw_text, "D26-H0002,2,10.77");
}

#[tokio::test]
async fn refuses_an_unknown_name_and_offers_the_near_one() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let told = |error: Error| error.to_string();
    let part = ledger
        .trace("d26-h00O2", None)
        .await
        .map_err(told)
        .unwrap_err();
    assert!(part.contains("did you mean `D26-H0002`?"), "{part}");
    let far = ledger.trace("X", None).await.map_err(told).unwrap_err();
    assert!(!far.contains("did you mean"), "{far}");
    let lot = ledger.lot("D62").await.map_err(told).unwrap_err();
    assert!(lot.contains("did you mean `D26`?"), "{lot}");

    ledger
        .import(&file("D27", "halves.csv", &halves()))
        .await
        .unwrap();
    let Err(Error::SeveralLots { lots, .. }) = ledger.trace("D26-H0002", None).await else {
        panic!("two lots hold it and one was picked");
    };
    assert_eq!(lots, ["D26", "D27"]);
    assert_eq!(
        ledger.trace("D26-H0002", Some("D27")).await.unwrap().lot,
        "D27"
    );
}

#[tokio::test]
async fn reads_the_list_of_lots() {
    let (_folder, ledger) = fresh().await;
    ledger
        .import(&file("D27", "halves.csv", &halves()))
        .await
        .unwrap();
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    ledger
        .record_sets(&sets("D27", 5, vec![new_set("D26-H0001", "D26-H0002")]))
        .await
        .unwrap();
    let lots = ledger.lots().await.unwrap();
    let told: Vec<_> = lots
        .iter()
        .map(|l| (l.lot.as_str(), l.parts, l.sets, l.last.counter))
        .collect();
    assert_eq!(told, [("D27", 4, 1, 3), ("D26", 4, 0, 2)]);
}
