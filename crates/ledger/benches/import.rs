//! How long a large lot takes to come in and to be read back, beside what the disk itself needs.
//!
//! Baselines, in the same run: the file's bytes written to a plain file and synced (what no record
//! can beat), and one statement a value row through the same driver (the plain way to write it).

use std::io::Write;
use std::path::Path;

use divan::Bencher;
use sqlx::{ConnectOptions, Connection};
use whirlwright_ledger::{Import, ImportRow, Ledger, Moment};
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

fn main() {
    divan::main();
}

const ROWS: u32 = 100_000;

/// A lot of parts with mass, unbalance and offset, as a weighing table would give it.
fn lot(rows: u32) -> Import {
    let mut text = "serial,cavity,mass_g,unbalance_g_mm,offset_mm\n".to_owned();
    let mut list = Vec::new();
    for number in 1..=rows {
        let mut part = LotPart::new(format!("B7-H{number:06}"), Kind::Dressed);
        let spread = i64::from(number * 7919 % 61);
        part.mass_g = Some(Decimal {
            units: 2870 + spread,
            places: 2,
        });
        part.unbalance_g_mm = Some(Decimal {
            units: 5 + spread,
            places: 2,
        });
        part.offset_mm = Some(Decimal {
            units: spread - 30,
            places: 3,
        });
        part.origin = Some((number % 8 + 1).to_string());
        let line = format!(
            "{},{},{:.2},{:.2},{:.3}",
            part.serial,
            number % 8 + 1,
            28.70 + spread as f64 / 100.0,
            0.05 + spread as f64 / 100.0,
            (spread - 30) as f64 / 1000.0
        );
        text.push_str(&line);
        text.push('\n');
        list.push(ImportRow::from_part(number + 1, line, part));
    }
    Import {
        lot: "B7".to_owned(),
        kind: Kind::Dressed,
        file_name: "dressed.csv".to_owned(),
        raw_bytes: text.into_bytes(),
        rows: list,
        again: false,
        at: Moment::parse("2026-03-03T08:00:00+01:00").expect("a time"),
        program: "bench".to_owned(),
    }
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Runtime::new().expect("a runtime")
}

/// One new ledger a run; the import is durable when the call returns.
#[divan::bench(sample_count = 7, sample_size = 1)]
fn import_100_000_rows(bencher: Bencher) {
    let (rt, import) = (runtime(), lot(ROWS));
    bencher
        .with_inputs(|| {
            let folder = tempfile::tempdir().expect("a folder");
            let ledger = rt.block_on(Ledger::open(&folder.path().join("ledger.db")));
            (folder, ledger.expect("a ledger"))
        })
        .bench_values(|(folder, ledger)| {
            rt.block_on(ledger.import(&import)).expect("an import");
            (folder, ledger)
        });
}

#[divan::bench(sample_count = 7, sample_size = 1)]
fn read_back_100_000_parts(bencher: Bencher) {
    let (rt, folder) = (runtime(), tempfile::tempdir().expect("a folder"));
    let ledger = rt
        .block_on(Ledger::open(&folder.path().join("ledger.db")))
        .expect("a ledger");
    rt.block_on(ledger.import(&lot(ROWS))).expect("an import");
    bencher.bench_local(|| {
        rt.block_on(ledger.parts("B7", Kind::Dressed))
            .expect("parts")
    });
}

#[divan::bench(sample_count = 7, sample_size = 1)]
fn open_with_100_000_parts(bencher: Bencher) {
    let (rt, folder) = (runtime(), tempfile::tempdir().expect("a folder"));
    let path = folder.path().join("ledger.db");
    let ledger = rt.block_on(Ledger::open(&path)).expect("a ledger");
    rt.block_on(ledger.import(&lot(ROWS))).expect("an import");
    rt.block_on(ledger.close());
    bencher.bench_local(|| rt.block_on(Ledger::open(&path)).expect("a ledger"));
}

#[divan::bench(sample_count = 7, sample_size = 1)]
fn baseline_bytes_to_a_plain_file_and_sync(bencher: Bencher) {
    let import = lot(ROWS);
    let folder = tempfile::tempdir().expect("a folder");
    bencher.bench_local(|| {
        let mut file = std::fs::File::create(folder.path().join("plain.csv")).expect("a file");
        file.write_all(&import.raw_bytes).expect("bytes");
        file.sync_all().expect("a sync");
    });
}

/// The same number of readings, one statement each, in one transaction, without any other table.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn baseline_one_statement_a_reading(bencher: Bencher) {
    let (rt, import) = (runtime(), lot(ROWS));
    bencher
        .with_inputs(|| tempfile::tempdir().expect("a folder"))
        .bench_values(|folder| {
            rt.block_on(one_by_one(&folder.path().join("plain.db"), &import))
                .expect("rows");
            folder
        });
}

async fn one_by_one(path: &Path, import: &Import) -> Result<(), sqlx::Error> {
    let options = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true);
    let mut connection = options.connect().await?;
    sqlx::query("CREATE TABLE readings (serial TEXT, quantity TEXT, text TEXT)")
        .execute(&mut connection)
        .await?;
    let mut tx = connection.begin().await?;
    for row in &import.rows {
        for reading in &row.readings {
            sqlx::query("INSERT INTO readings VALUES (?, ?, ?)")
                .bind(row.part.serial.as_str())
                .bind(reading.quantity.key())
                .bind(reading.text.as_str())
                .execute(&mut *tx)
                .await?;
        }
    }
    tx.commit().await
}
