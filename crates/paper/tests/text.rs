//! Answers in the terminal.

mod invented;

use whirlwright_paper::text;
use whirlwright_workshop::part::record::{
    DecisionRecord, FileRecord, KindCount, LotLine, LotRecord, Measure, Member, PartDoubt,
    ReadingRecord, Role, SetRecord, SetState, Trace, Written,
};
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

/// Widest line a table may have.
const WIDEST: usize = 100;

fn written(counter: u64) -> Written {
    let time = "2026-03-03T09:12:00+01:00".to_owned();
    Written {
        counter,
        time,
        clock_doubtful: counter == 3,
    }
}

fn set(number: u32, state: SetState) -> SetRecord {
    let member = |role, serial: &str| Member {
        role,
        serial: serial.to_owned(),
    };
    SetRecord {
        lot: "D26".to_owned(),
        number,
        members: vec![
            member(Role::LeftHalf, "D26-H0012"),
            member(Role::LeftRim, "D26-R0301"),
            member(Role::RightHalf, "D26-H0077"),
            member(Role::RightRim, "D26-R0009"),
        ],
        cost: 0.04,
        differences: Default::default(),
        decision: 4,
        written: written(4),
        state,
    }
}

fn record() -> LotRecord {
    LotRecord {
        lot: "D26".to_owned(),
        read_at: 6,
        next_set_number: 3,
        kinds: vec![KindCount {
            kind: Kind::Half,
            parts: 480,
            weighed: 479,
            in_doubt: 1,
            in_sets: 4,
        }],
        files: vec![FileRecord {
            name: "halves.csv".to_owned(),
            kind: Kind::Half,
            sha256: "0123456789abcdef".repeat(4),
            bytes: 30_000,
            rows: 480,
            written: written(1),
        }],
        doubts: vec![PartDoubt {
            serial: "D26-H0018".to_owned(),
            kind: Kind::Half,
            doubts: vec!["10.38 g lies 8 robust standard deviations from its cavity".to_owned()],
        }],
        sets: vec![
            set(1, SetState::Good),
            set(
                2,
                SetState::Broken {
                    measured_again: vec!["D26-R0009".to_owned()],
                },
            ),
        ],
        decisions: vec![decision()],
    }
}

fn decision() -> DecisionRecord {
    DecisionRecord {
        lot: "D26".to_owned(),
        what: "pair".to_owned(),
        program: "whirlwright 0.1.0".to_owned(),
        options: serde_json::Value::Null,
        sets: 2,
        written: written(3),
    }
}

fn trace_of(serial: &str) -> Trace {
    let mut part = LotPart::new(serial, Kind::Half);
    part.mass_g = Some(Decimal {
        units: 1083,
        places: 2,
    });
    part.origin = Some("3".to_owned());
    let reading = |counter, text: &str, superseded| ReadingRecord {
        quantity: Measure::MassG,
        text: text.to_owned(),
        unit: "g".to_owned(),
        value: Decimal {
            units: 1083,
            places: 2,
        },
        instrument: Some("S1".to_owned()),
        operator: Some("moulder".to_owned()),
        noted_at: None,
        file: "halves.csv".to_owned(),
        file_sha256: "0".repeat(64),
        line: 13,
        raw_text: "D26-H0012,3,1,10.38".to_owned(),
        superseded,
        written: written(counter),
    };
    Trace {
        lot: "D26".to_owned(),
        part,
        readings: vec![reading(1, "10.38", true), reading(3, "10.83", false)],
        sets: vec![set(1, SetState::Good)],
        decisions: vec![decision()],
    }
}

#[test]
fn pinned_a_pairing_reads_like_an_answer_at_the_bench() {
    insta::assert_snapshot!("pair_four_parts", text::pair(&invented::four_parts(12)));
    insta::assert_snapshot!("pair_dressed", text::pair(&invented::dressed(6)));
}

#[test]
fn pinned_a_section_reads_like_an_answer_at_the_bench() {
    insta::assert_snapshot!("section", text::section(&invented::section()));
}

#[test]
fn pinned_a_lot_looked_over_reads_like_an_answer_at_the_bench() {
    insta::assert_snapshot!("measuring", text::measuring(&invented::measuring()));
}

#[test]
fn pinned_the_record_reads_in_order() {
    insta::assert_snapshot!("lot", text::lot(&record()));
    insta::assert_snapshot!("trace", text::trace(&trace_of("D26-H0012")));
    let line = |lot: &str| LotLine {
        lot: lot.to_owned(),
        parts: 980,
        sets: 240,
        first: written(1),
        last: written(3),
    };
    insta::assert_snapshot!("lots", text::lots(&[line("D26"), line("D27")]));
    insta::assert_snapshot!("no_lots", text::lots(&[]));
}

#[test]
fn law_no_line_is_too_wide_and_none_ends_in_a_blank() {
    let texts = [
        text::pair(&invented::four_parts(1000)),
        text::pair(&invented::four_parts(1)),
        text::pair(&invented::four_parts(0)),
        text::section(&invented::section()),
        text::measuring(&invented::measuring()),
        text::lot(&record()),
        text::trace(&trace_of("D26-H0012")),
    ];
    for line in texts.iter().flat_map(|text| text.lines()) {
        assert!(line.chars().count() <= WIDEST, "{line}");
        assert_eq!(line.trim_end(), line);
    }
}

#[test]
fn law_terminal_codes_in_a_serial_do_nothing() {
    let mut answer = invented::dressed(2);
    answer.headline = invented::HOSTILE.to_owned();
    answer.body.sets[0].left = invented::HOSTILE.to_owned();
    answer.body.left_over[0].id = invented::HOSTILE.to_owned();
    let mut record = record();
    record.lot = invented::HOSTILE.to_owned();
    record.doubts[0].serial = invented::HOSTILE.to_owned();
    let texts = [
        text::pair(&answer),
        text::lot(&record),
        text::trace(&trace_of(invented::HOSTILE)),
    ];
    for text in texts {
        assert!(text.contains("script"), "the serial is shown");
        assert!(
            !text.chars().any(|c| c.is_control() && c != '\n'),
            "{text:?}"
        );
    }
}
