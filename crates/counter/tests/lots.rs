//! Files of parts: every bad file does what its table says, and every good one is read to the same
//! lot whatever its separator, encoding or kind of file.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use whirlwright_counter::read::table::{
    FileRefusal, Finding, LotFile, ReadOptions, Table, Value, read_lot, to_csv, to_xlsx,
};
use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::Kind;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn bytes(path: &str) -> Vec<u8> {
    fs::read(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn plain(kind: Kind) -> ReadOptions {
    ReadOptions::new(kind, Windows::practice())
}

fn halves(text: &str) -> Result<LotFile, FileRefusal> {
    read_lot("halves.csv", text.as_bytes(), &plain(Kind::Half))
}

fn refused(text: &str) -> FileRefusal {
    halves(text).expect_err(text)
}

fn lines(findings: &[Finding]) -> Vec<usize> {
    let mut lines: Vec<usize> = findings
        .iter()
        .map(|found| found.line.unwrap_or(0))
        .collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

#[derive(Deserialize)]
struct Expectations {
    now: String,
    cavities: Vec<String>,
    file: Vec<Expected>,
}

#[derive(Deserialize)]
struct Expected {
    name: String,
    outcome: String,
    rows: Option<usize>,
    good_rows: Option<usize>,
    #[serde(default)]
    lines: Vec<usize>,
    #[serde(default)]
    flagged: Vec<usize>,
    #[serde(default)]
    doubted: Vec<String>,
    #[serde(default)]
    says: Vec<String>,
}

fn expectations() -> (Expectations, ReadOptions) {
    let text = fs::read_to_string(root().join("validation/lots/expect.toml")).expect("the table");
    let expectations: Expectations = toml::from_str(&text).expect("the table");
    let mut options = plain(Kind::Half);
    options.now = expectations.now.parse().ok();
    options
        .windows
        .half
        .origins
        .clone_from(&expectations.cavities);
    (expectations, options)
}

fn bad(name: &str) -> Vec<u8> {
    bytes(&format!("validation/lots/bad/{name}"))
}

#[test]
fn refuses_and_reads_every_bad_file_as_its_table_says() {
    let (expectations, options) = expectations();
    let mut in_folder: Vec<String> = fs::read_dir(root().join("validation/lots/bad"))
        .expect("the folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let mut in_table: Vec<String> = expectations
        .file
        .iter()
        .map(|expected| expected.name.clone())
        .collect();
    in_folder.sort();
    in_table.sort();
    assert_eq!(in_folder, in_table);
    for expected in &expectations.file {
        let name = &expected.name;
        let said = match read_lot(name, &bad(name), &options) {
            Ok(lot) => {
                assert_eq!(expected.outcome, "accept", "{name} was taken");
                assert_eq!(Some(lot.parts.len()), expected.rows, "{name}");
                assert_eq!(
                    lines(&lot.flags),
                    expected.flagged,
                    "{name}: {:?}",
                    lot.flags
                );
                let doubted = lot.parts.iter().filter(|part| !part.doubts.is_empty());
                let doubted: Vec<_> = doubted.map(|part| part.serial.clone()).collect();
                assert_eq!(doubted, expected.doubted, "{name}");
                format!("{:?} {:?}", lot.remarks, lot.flags)
            }
            Err(refusal) => {
                assert_eq!(expected.outcome, "refuse", "{refusal}");
                assert_eq!(lines(&refusal.findings), expected.lines, "{refusal}");
                assert_eq!(
                    refusal.good_rows,
                    expected.good_rows.unwrap_or(0),
                    "{refusal}"
                );
                assert!(
                    refusal
                        .findings
                        .iter()
                        .all(|found| !found.advice.is_empty()),
                    "{refusal}"
                );
                refusal.to_string()
            }
        };
        for words in &expected.says {
            assert!(
                said.contains(words.as_str()),
                "{name} does not say `{words}`: {said}"
            );
        }
    }
}

#[test]
fn reads_a_bad_file_once_a_person_has_said_how() {
    let (_, options) = expectations();
    let read = |name: &str, options: &ReadOptions| read_lot(name, &bad(name), options);

    let ounces = ReadOptions {
        mass_unit: Some("oz".to_owned()),
        ..options.clone()
    };
    let lot = read("mass_in_ounces.csv", &ounces).expect("ounces, as said");
    // 0.377 oz × 28.349523125 g/oz = 10.687770218 g, kept to four digits beyond those read.
    assert_eq!(lot.parts[0].mass_g, "10.6877702".parse().ok());
    let reading = &lot.rows[0].readings[0];
    assert_eq!(
        (reading.text.as_str(), reading.unit.as_str()),
        ("0.377", "oz")
    );

    let not_weighed = ReadOptions {
        blank_as_not_weighed: true,
        ..options.clone()
    };
    let lot = read("blank_and_text_mass.csv", &not_weighed).expect("blanks, as said");
    let without: Vec<_> = lot
        .parts
        .iter()
        .filter(|part| part.mass_g.is_none())
        .collect();
    assert_eq!((lot.parts.len(), without.len()), (24, 2));
    assert_eq!(without[0].serial, "D26-H0006");

    let skipping = ReadOptions {
        skip_refused: true,
        ..options.clone()
    };
    let lot = read("duplicate_serial_in_file.csv", &skipping).expect("the others");
    assert_eq!((lot.parts.len(), lines(&lot.refused)), (22, vec![5, 12]));
    let lot = read("truncated.csv", &skipping).expect("the others");
    assert_eq!((lot.parts.len(), lines(&lot.refused)), (23, vec![25]));
    // What is wrong with the whole file is not a row that could be left out.
    assert!(read("mass_in_ounces.csv", &skipping).is_err());

    let words = "serial,cavity,-,mass_g,spigot_mm,weighed_at,operator,scale";
    let named = words.split(',').map(str::to_owned).collect();
    let named = ReadOptions {
        columns: Some(named),
        ..options
    };
    let lot = read("missing_header.csv", &named).expect("columns, as said");
    assert_eq!((lot.parts.len(), lot.rows[0].line), (24, 1));
    assert_eq!(lot.parts[0].mass_g, "10.70".parse().ok());
}

#[test]
fn reads_the_example_lots() {
    let halves = read_lot(
        "halves.csv",
        &bytes("examples/first_lot/halves.csv"),
        &plain(Kind::Half),
    );
    let halves = halves.expect("the halves");
    assert_eq!((halves.parts.len(), halves.flags.len()), (480, 0));
    let first = &halves.parts[0];
    assert_eq!(first.origin.as_deref(), Some("1"));
    assert_eq!(
        (first.mass_g, first.fit_mm),
        ("10.70".parse().ok(), "48.089".parse().ok())
    );
    let row = &halves.rows[0];
    assert_eq!(row.weighed_at.as_deref(), Some("2026-03-03T08:00:00+01:00"));
    assert_eq!(row.readings[0].instrument.as_deref(), Some("S1"));
    assert_eq!(row.readings[1].instrument, None);
    assert_eq!(row.notes, [("shot".to_owned(), "1".to_owned())]);
    assert!(row.raw_text.starts_with("D26-H0001,1,1,10.70,"));

    let rims = read_lot(
        "rims.csv",
        &bytes("examples/first_lot/rims.csv"),
        &plain(Kind::Rim),
    );
    let rims = rims.expect("the rims");
    assert_eq!((rims.parts.len(), rims.flags.len()), (500, 0));
    let coins = read_lot(
        "coins.csv",
        &bytes("examples/coins/coins.csv"),
        &plain(Kind::Other),
    );
    let coins = coins.expect("the coins");
    assert_eq!((coins.parts.len(), coins.flags.len()), (2000, 3));

    let rims_as_halves = read_lot(
        "rims.csv",
        &bytes("examples/first_lot/rims.csv"),
        &plain(Kind::Half),
    );
    assert!(
        rims_as_halves
            .expect_err("rims are no halves")
            .to_string()
            .contains("as rims")
    );
}

#[test]
fn reads_every_separator_encoding_and_line_end_to_the_same_lot() {
    let text =
        "serial,cavity,mass_g,spigot_mm,colour\nH1,1,10.70,48.089,grün\nH2,2,10.81,48.070,blau\n";
    let parts = halves(text).expect("plain").parts;
    assert_eq!(parts[0].colour.as_deref(), Some("grün"));
    let comma = text.replace(',', ";").replace('.', ",");
    let utf16 = |unit: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(unit).collect::<Vec<u8>>();
    let latin1: Vec<u8> = text.chars().map(|letter| letter as u8).collect();
    let quoted = text
        .replace("H1,1", "\"H1\",\"1\"")
        .replace("10.81", "\"10.81\"");
    let forms: [(&str, Vec<u8>, &str); 10] = [
        ("semicolons", comma.clone().into_bytes(), "decimal comma"),
        (
            "tabs",
            text.replace(',', "\t").into_bytes(),
            "separator: tab",
        ),
        (
            "tabs and commas",
            comma.replace(';', "\t").into_bytes(),
            "decimal comma",
        ),
        ("named", format!("sep=;\n{comma}").into_bytes(), "semicolon"),
        ("CRLF", text.replace('\n', "\r\n").into_bytes(), "comma (,)"),
        ("CR", text.replace('\n', "\r").into_bytes(), "comma (,)"),
        (
            "no last line end",
            text.trim_end().as_bytes().to_vec(),
            "UTF-8",
        ),
        (
            "UTF-16LE without a mark",
            utf16(u16::to_le_bytes),
            "UTF-16LE without",
        ),
        ("Latin-1", latin1, "Windows-1252 (Latin-1)"),
        ("quoted", quoted.into_bytes(), "UTF-8"),
    ];
    for (name, bytes, said) in forms {
        let lot = read_lot(name, &bytes, &plain(Kind::Half)).expect(name);
        assert_eq!(lot.parts, parts, "{name}");
        assert!(
            lot.remarks.join(" ").contains(said),
            "{name}: {:?}",
            lot.remarks
        );
    }
    let big_endian =
        read_lot("be", &utf16(u16::to_be_bytes), &plain(Kind::Half)).expect("UTF-16BE");
    assert_eq!(big_endian.parts, parts);
}

#[test]
fn reads_units_from_the_header_and_keeps_the_text() {
    let text = "id,mass [oz],spigot [in],unbalance (g·mm),offset_um\nH1,0.377,1.8933,0.30,-12\n";
    let lot = halves(text);
    let lot = lot.expect("units in the header");
    let part = &lot.parts[0];
    assert_eq!(part.mass_g, "10.6877702".parse().ok());
    assert_eq!(part.fit_mm, "48.08982".parse().ok());
    assert_eq!(part.unbalance_g_mm, "0.30".parse().ok());
    assert_eq!(part.offset_mm, "-0.012".parse().ok());
    let texts: Vec<_> = lot.rows[0]
        .readings
        .iter()
        .map(|read| read.text.as_str())
        .collect();
    assert_eq!(texts, ["0.377", "1.8933", "0.30", "-12"]);
}

#[test]
fn refuses_bad_rows_all_at_once_with_their_places() {
    let text = "serial,cavity,mass_g,colour\n\
                H1,1,1e1,red\n\
                H2,1,nan,red\n\
                H 3,1,10.70,red\n\
                H4,1,0,red\n\
                H5,1,\"1,070.5\",red\n\
                H6,1,10.70\n\
                H7,1,10,70,red\n\
                -H8,1,10.70,red\n\
                H9,1,10.70,red\n";
    let refusal = refused(text);
    assert_eq!(
        lines(&refusal.findings),
        [2, 3, 4, 5, 6, 7, 8, 9],
        "{refusal}"
    );
    assert_eq!(refusal.good_rows, 1);
    let first = &refusal.findings[0];
    assert_eq!((first.column, first.field.as_str()), (Some(3), "mass_g"));
    assert_eq!(first.source_line, "H1,1,1e1,red");
    let said = refusal.to_string();
    for words in [
        "without an exponent",
        "a mass of zero",
        "without thousands marks",
        "decimal comma?",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
}

#[test]
fn refuses_headers_that_leave_something_open() {
    for (header, says) in [
        ("serial,mass", "mass without a unit"),
        ("serial,mass [stone]", "not known: stone"),
        ("serial,cavity", "no column of mass_g"),
        ("mass_g,cavity", "no column of serial"),
        ("serail,mass_g", "Is the column `serail` meant?"),
        ("serial,mass_g,mass [oz]", "a second column of mass_g"),
        ("serial,id,mass_g", "a second column of serial"),
        ("one,two", "no header word that is known"),
    ] {
        let row = if header.matches(',').count() == 1 {
            "H1,10.70"
        } else {
            "H1,10.70,10.70"
        };
        let said = refused(&format!("{header}\n{row}\n")).to_string();
        assert!(said.contains(says), "{header}: {said}");
    }
    assert!(
        refused("serial,mass_g\n")
            .to_string()
            .contains("a header and no parts")
    );
    assert!(
        refused("serial,mass_g\n\"H1,10.70\n")
            .to_string()
            .contains("never closed")
    );
    assert!(refused(" \r\n \n").to_string().contains("an empty file"));
}

#[test]
fn reads_unknown_columns_as_notes_and_lists_them() {
    let lot = halves("serial,mass_g,moon,opertor\nH1,10.70,full,bench\n").expect("a lot");
    assert!(
        lot.remarks
            .join(" ")
            .contains("moon, opertor (is operator meant?)"),
        "{:?}",
        lot.remarks
    );
    assert_eq!(lot.rows[0].notes.len(), 2);
}

#[test]
fn refuses_a_lone_cavity_beyond_a_gap_even_if_no_cavities_are_known() {
    let found = read_lot("u", &bad("unknown_cavity.csv"), &plain(Kind::Half));
    assert_eq!(lines(&found.expect_err("cavity 9").findings), [6]);
}

#[test]
fn refuses_more_than_a_lot_can_hold() {
    let big = vec![b'x'; 20_000_001];
    let refusal = read_lot("big", &big, &plain(Kind::Half)).expect_err("20 MB");
    assert!(refusal.to_string().contains("at most 20000000 bytes"));
    let wide = format!("serial,mass_g{}\n", ",x".repeat(300));
    assert!(refused(&wide).to_string().contains("more than 256 columns"));
    let note = format!("serial,mass_g,note\nH1,10.70,{}\n", "n".repeat(2001));
    assert!(
        refused(&note)
            .to_string()
            .contains("longer than 2000 characters")
    );
    let cells = format!(
        "serial,mass_g,note\n{}",
        format!("{}\n", ",".repeat(200)).repeat(30_000)
    );
    assert!(halves(&cells).is_err());
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

#[test]
fn reads_a_workbook_with_the_digits_it_shows() {
    let rows = [
        vec![
            text("H1"),
            number("1"),
            number("10.70"),
            number("48.089"),
            text("=1+1"),
        ],
        vec![
            text("H2"),
            text("2"),
            number("10.8"),
            Value::Blank,
            text("red"),
        ],
    ];
    let lot = read_lot("lot.xlsx", &workbook(&rows), &plain(Kind::Half)).expect("a workbook");
    assert_eq!(lot.parts[0].mass_g, "10.70".parse().ok());
    assert_eq!(lot.rows[0].readings[0].text, "10.70");
    assert_eq!(lot.parts[0].colour.as_deref(), Some("=1+1"));
    assert_eq!(lot.parts[1].origin.as_deref(), Some("2"));
    assert_eq!((lot.parts[1].fit_mm, lot.rows[1].line), (None, 3));
}

#[test]
fn refuses_serials_that_a_workbook_has_made_numbers_of() {
    let rows = [vec![
        number("12"),
        text("1"),
        number("10.70"),
        Value::Blank,
        Value::Blank,
    ]];
    let refusal = read_lot("lot.xlsx", &workbook(&rows), &plain(Kind::Half)).expect_err("12");
    let said = refusal.to_string();
    assert!(
        said.contains("a number: 12") && said.contains("set the cell to text"),
        "{said}"
    );
}

/// An archive whose one file unpacks to `length` zeros.
fn packed(name: &str, length: u64) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    archive
        .start_file(name, zip::write::SimpleFileOptions::default())
        .expect("a file");
    let zeros = vec![0u8; 1 << 20];
    let mut left = length;
    while left > 0 {
        let piece = left.min(zeros.len() as u64);
        archive.write_all(&zeros[..piece as usize]).expect("zeros");
        left -= piece;
    }
    archive.finish().expect("an archive").into_inner()
}

#[test]
fn refuses_a_workbook_that_unpacks_without_end() {
    let bomb = packed("xl/workbook.xml", 201_000_000);
    assert!(
        bomb.len() < 1_000_000,
        "the archive is small: {}",
        bomb.len()
    );
    let said = read_lot("bomb.xlsx", &bomb, &plain(Kind::Half))
        .expect_err("a bomb")
        .to_string();
    assert!(
        said.contains("201000000 bytes once unpacked, as the archive says"),
        "{said}"
    );

    // The same archive saying that it holds ten bytes, in its directory and before the file.
    let mut liar = bomb;
    let said_size = 201_000_000u32.to_le_bytes();
    while let Some(at) = liar.windows(4).position(|four| four == said_size) {
        liar[at..at + 4].copy_from_slice(&10u32.to_le_bytes());
    }
    assert!(read_lot("liar.xlsx", &liar, &plain(Kind::Half)).is_err());

    let other = packed("readme.txt", 10);
    let said = read_lot("other.zip", &other, &plain(Kind::Half))
        .expect_err("a zip")
        .to_string();
    assert!(said.contains("no XLSX workbook"), "{said}");
}

#[test]
fn law_text_written_out_is_never_a_formula() {
    let dangerous = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "''@x"];
    let rows = dangerous
        .map(|note| vec![text("H1"), number("-0.5"), text(note)])
        .to_vec();
    let header = ["serial", "offset_mm", "note"].map(str::to_owned).to_vec();
    let written = to_csv(&Table { header, rows }).expect("a table");
    let mut reader = csv::Reader::from_reader(written.as_slice());
    for record in reader.records() {
        let record = record.expect("a record");
        assert!(record[2].starts_with('\''), "{record:?}");
        assert_eq!(&record[1], "-0.5");
    }
}
