//! Laws of reading files of parts: no bytes bring the reader down, what is written reads back as the
//! same lot, and cells are split as another reader splits them.

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use whirlwright_counter::read::table::{
    ReadOptions, Table, Value, read_lot, table_of_parts, to_csv, to_xlsx,
};
use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn bytes(path: &str) -> Vec<u8> {
    fs::read(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn plain(kind: Kind) -> ReadOptions {
    ReadOptions::new(kind, Windows::practice())
}

fn bad(name: &str) -> Vec<u8> {
    bytes(&format!("validation/lots/bad/{name}"))
}

fn workbook(rows: &[Vec<Value>]) -> Vec<u8> {
    let header = ["serial", "cavity", "mass_g", "spigot_mm", "colour"]
        .map(str::to_owned)
        .to_vec();
    to_xlsx(
        &Table {
            header,
            rows: rows.to_vec(),
        },
        "lot",
    )
    .expect("a workbook")
}

fn text(text: &str) -> Value {
    Value::Text(text.to_owned())
}

fn number(text: &str) -> Value {
    Value::Number(text.parse().expect("a number"))
}

fn any_part() -> impl Strategy<Value = LotPart> {
    let word = "[=+@'-]{0,2}[a-zA-Zäß0-9 ,;\"_.-]{1,12}";
    let words = proptest::option::of(word.prop_map(|word| word.trim().to_owned()));
    let words = words.prop_map(|word| word.filter(|word| !word.is_empty()));
    let mass = (500i64..3000, Just(2u8)).prop_map(|(units, places)| Decimal { units, places });
    let offset =
        proptest::option::of((-500i64..500).prop_map(|units| Decimal { units, places: 3 }));
    (
        "[A-Z][A-Z0-9_-]{0,8}",
        mass,
        offset,
        words.clone(),
        words.clone(),
        words,
    )
        .prop_map(|(serial, mass, offset_mm, origin, colour, tray)| LotPart {
            mass_g: Some(mass),
            offset_mm,
            origin,
            colour,
            tray,
            ..LotPart::new(serial, Kind::Dressed)
        })
}

fn any_lot() -> impl Strategy<Value = Vec<LotPart>> {
    proptest::collection::vec(any_part(), 1..20).prop_map(|mut parts| {
        parts.sort_by(|a, b| a.serial.cmp(&b.serial));
        parts.dedup_by(|a, b| a.serial == b.serial);
        parts
    })
}

fn read_back(name: &str, bytes: &[u8]) -> Vec<LotPart> {
    let lot = read_lot(name, bytes, &plain(Kind::Dressed));
    let mut parts = lot.unwrap_or_else(|refusal| panic!("{refusal}")).parts;
    parts.iter_mut().for_each(|part| part.doubts.clear());
    parts
}

proptest! {
    #[test]
    fn law_what_is_written_reads_back_as_the_same_lot(parts in any_lot()) {
        let table = table_of_parts(Kind::Dressed, &parts);
        let csv = to_csv(&table).expect("a table");
        prop_assert_eq!(&read_back("lot.csv", &csv), &parts);
        let xlsx = to_xlsx(&table, "lot").expect("a workbook");
        prop_assert_eq!(&read_back("lot.xlsx", &xlsx), &parts);
    }

    #[test]
    fn law_no_bytes_bring_the_reader_down(bytes in proptest::collection::vec(any::<u8>(), 0..2000)) {
        let _ = read_lot("any", &bytes, &plain(Kind::Half));
    }

    #[test]
    fn law_no_text_brings_the_reader_down(
        text in "[\"',;\t\r\n.0-9eE+=@ -aHü]{0,300}",
        header in 0usize..2,
        skip_refused in any::<bool>(),
    ) {
        let text = format!("{}{text}", ["", "serial,mass_g,cavity,weighed_at,note\n"][header]);
        let options = ReadOptions { skip_refused, ..plain(Kind::Half) };
        if let Err(refusal) = read_lot("any", text.as_bytes(), &options) {
            prop_assert!(!refusal.findings.is_empty());
        }
    }

    #[test]
    fn law_a_good_file_with_some_bytes_changed_is_read_or_refused(
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
        cut in any::<prop::sample::Index>(),
        is_workbook in any::<bool>(),
    ) {
        let rows = vec![vec![text("H1"), text("1"), number("10.70"), number("48.089"), text("red")]; 3];
        let mut bytes = if is_workbook { workbook(&rows) } else { bad("bom_utf8.csv") };
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = read_lot("changed", &bytes, &plain(Kind::Half));
        bytes.truncate(cut.index(bytes.len()));
        let _ = read_lot("cut", &bytes, &plain(Kind::Half));
    }

    #[test]
    fn twin_cells_are_split_as_another_reader_splits_them(
        rows in proptest::collection::vec(proptest::collection::vec("[a-z,;\"\n ]{0,6}", 3), 1..8),
    ) {
        // A first column of letters keeps rows from being blank, and the writer's quotes are standard.
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(["serial", "mass_g", "note"]).expect("a header");
        for row in &rows {
            let cells = row.iter().enumerate().map(|(at, cell)| if at == 0 { format!("x{cell}") } else { cell.clone() });
            writer.write_record(cells).expect("a row");
        }
        let text = String::from_utf8(writer.into_inner().expect("bytes")).expect("text");
        let ours = whirlwright_counter::read::table::delimited::split(&text).expect("a table");
        if ours.separator == Some(',') {
            let mut theirs = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
            let theirs: Vec<Vec<String>> = theirs
                .records()
                .map(|record| record.expect("a record").iter().map(str::to_owned).collect())
                .collect();
            let ours: Vec<Vec<String>> = ours
                .rows
                .iter()
                .map(|row| row.cells.iter().map(|cell| cell.text.clone().into_owned()).collect())
                .collect();
            prop_assert_eq!(ours, theirs);
        }
    }
}
