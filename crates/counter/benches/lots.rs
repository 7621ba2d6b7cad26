//! Reading 100,000 rows of parts, beside the same rows merely split into cells by the `csv` crate.

use std::fmt::Write;

use whirlwright_counter::read::table::{ReadOptions, read_lot, table_of_parts, to_xlsx};
use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

fn main() {
    divan::main();
}

const ROWS: usize = 100_000;

/// A spread of masses about as wide as a lot's, without a random number.
fn mass(row: usize) -> i64 {
    1080 + (row * 7919 % 41) as i64 - 20
}

fn text() -> String {
    let mut text = "serial,cavity,shot,mass_g,spigot_mm,weighed_at,operator,scale\n".to_owned();
    for row in 0..ROWS {
        let (cavity, hundredths) = (row % 4 + 1, mass(row));
        let (hour, minute, second) = (row / 3600 % 24, row / 60 % 60, row % 60);
        let day = row / 86_400 + 3;
        let (whole, part) = (hundredths / 100, hundredths % 100);
        writeln!(
            text,
            "D26-H{row:06},{cavity},{row},{whole}.{part:02},48.089,\
             2026-03-{day:02}T{hour:02}:{minute:02}:{second:02}+01:00,moulder,S1"
        )
        .expect("a string takes everything");
    }
    text
}

fn options() -> ReadOptions {
    ReadOptions {
        now: "2026-12-01T00:00:00Z".parse().ok(),
        ..ReadOptions::new(Kind::Half, Windows::practice())
    }
}

#[divan::bench]
fn read_100_000_rows(bencher: divan::Bencher) {
    let (text, options) = (text(), options());
    bencher.bench(|| {
        read_lot("halves.csv", text.as_bytes(), &options)
            .expect("a lot")
            .parts
            .len()
    });
}

#[divan::bench]
fn baseline_csv_crate_splits_100_000_rows(bencher: divan::Bencher) {
    let text = text();
    bencher.bench(|| {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        reader
            .records()
            .map(|record| record.expect("a record").len())
            .sum::<usize>()
    });
}

#[divan::bench(sample_count = 5)]
fn read_100_000_rows_of_a_workbook(bencher: divan::Bencher) {
    let parts: Vec<LotPart> = (0..ROWS)
        .map(|row| LotPart {
            mass_g: Some(Decimal {
                units: mass(row),
                places: 2,
            }),
            origin: Some((row % 4 + 1).to_string()),
            ..LotPart::new(format!("D26-H{row:06}"), Kind::Half)
        })
        .collect();
    let bytes = to_xlsx(&table_of_parts(Kind::Half, &parts), "D26").expect("a workbook");
    let options = options();
    bencher.bench(|| {
        read_lot("halves.xlsx", &bytes, &options)
            .expect("a lot")
            .parts
            .len()
    });
}
