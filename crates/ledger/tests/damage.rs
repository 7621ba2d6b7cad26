//! Files that are no ledger, damaged, newer, torn or write-protected: said in words, never mended.
#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use std::path::Path;

use common::{file, halves, new_set, part, place, sets};
use sqlx::{ConnectOptions, Connection};
use whirlwright_ledger::{Error, Ledger};
use whirlwright_workshop::part::Kind;

/// A closed ledger of a few hundred parts, all of it in one file.
async fn filled(path: &Path) {
    let ledger = Ledger::open(path).await.unwrap();
    let parts: Vec<_> = (1..400)
        .map(|n| part(&format!("D26-H{n:04}"), Kind::Half, "10.80"))
        .collect();
    ledger
        .import(&file("D26", "halves.csv", &parts))
        .await
        .unwrap();
    let pair = vec![new_set("D26-H0001", "D26-H0002")];
    ledger.record_sets(&sets("D26", 5, pair)).await.unwrap();
    ledger.close().await;
}

async fn plain(path: &Path) -> sqlx::SqliteConnection {
    sqlx::sqlite::SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .connect()
        .await
        .unwrap()
}

/// Refused, and not a byte of it changed.
async fn refused(path: &Path) -> Error {
    let before = std::fs::read(path).unwrap();
    let refusal = Ledger::open(path).await.expect_err("it was opened");
    assert_eq!(std::fs::read(path).unwrap(), before, "the file was changed");
    refusal
}

const PAGE: usize = 4096;

/// Overwrites a page of the file, as a bad block would.
fn spoil(path: &Path, page: usize) {
    let mut bytes = std::fs::read(path).unwrap();
    bytes[page * PAGE..(page + 1) * PAGE].fill(0xa5);
    std::fs::write(path, bytes).unwrap();
}

fn pages(path: &Path) -> usize {
    std::fs::read(path).unwrap().len() / PAGE
}

#[tokio::test]
async fn refuses_a_damaged_file_and_offers_the_last_good_copy() {
    let (folder, path) = place();
    filled(&path).await;
    let (good, bad) = (
        folder.path().join("ledger.db.copy-1"),
        folder.path().join("ledger.db.copy-2"),
    );
    let ledger = Ledger::open(&path).await.unwrap();
    ledger.copy_to(&good).await.unwrap();
    ledger.copy_to(&bad).await.unwrap();
    ledger.close().await;
    let late = pages(&path) - 3; // far behind the list of tables
    spoil(&path, late);
    spoil(&bad, late);
    let Error::Damaged { check, copies, .. } = refused(&path).await else {
        panic!("damage was not seen");
    };
    assert_eq!(check, "quick_check");
    assert_eq!(
        copies,
        std::slice::from_ref(&good),
        "a damaged copy is no offer"
    );
    let words = refused(&path).await.to_string();
    assert!(
        words.contains("ledger.db.copy-1") && words.contains("quick_check"),
        "{words}"
    );

    let spoilt = Ledger::open_read_only(&path).await.unwrap();
    assert_eq!(
        spoilt.lots().await.unwrap()[0].lot,
        "D26",
        "what can be read is read"
    );
    let whole = Ledger::open(&good).await.unwrap();
    assert_eq!(whole.parts("D26", Kind::Half).await.unwrap().len(), 399);
}

/// Whichever page is bad, it is seen before anything is read or written.
#[tokio::test]
async fn law_no_bad_page_goes_unseen() {
    let (folder, path) = place();
    filled(&path).await;
    let ledger = Ledger::open(&path).await.unwrap();
    ledger
        .copy_to(&folder.path().join("ledger.db.copy-1"))
        .await
        .unwrap();
    ledger.close().await;
    let good = std::fs::read(&path).unwrap();
    assert!(pages(&path) > 20);
    for page in 0..pages(&path) {
        std::fs::write(&path, &good).unwrap();
        spoil(&path, page);
        let refusal = refused(&path).await;
        let offers = matches!(&refusal, Error::Damaged { copies, .. } if copies.len() == 1);
        assert!(offers, "page {page}: {refusal}");
    }
}

#[tokio::test]
async fn refuses_a_ledger_whose_first_page_is_gone() {
    let (folder, path) = place();
    filled(&path).await;
    let ledger = Ledger::open(&path).await.unwrap();
    ledger
        .copy_to(&folder.path().join("ledger.db.copy-1"))
        .await
        .unwrap();
    ledger.close().await;
    let mut bytes = std::fs::read(&path).unwrap();
    bytes[..100].fill(0);
    std::fs::write(&path, bytes).unwrap();
    let refusal = refused(&path).await;
    assert!(
        matches!(&refusal, Error::Damaged { copies, .. } if copies.len() == 1),
        "{refusal}"
    );
}

#[tokio::test]
async fn refuses_what_is_no_ledger_and_leaves_it_alone() {
    let (folder, path) = place();
    std::fs::write(&path, "serial,mass_g\nD26-H0001,10.70\n").unwrap();
    assert!(matches!(refused(&path).await, Error::NotALedger { .. }));

    let other = folder.path().join("other.db");
    let mut connection = plain(&other).await;
    sqlx::query("CREATE TABLE notes (text)")
        .execute(&mut connection)
        .await
        .unwrap();
    connection.close().await.unwrap();
    let refusal = refused(&other).await;
    assert!(
        refusal.to_string().contains("another program's"),
        "{refusal}"
    );

    let nowhere = folder.path().join("no").join("such").join("ledger.db");
    assert!(matches!(
        Ledger::open(&nowhere).await,
        Err(Error::CannotOpen { .. })
    ));
    assert!(matches!(
        Ledger::open(folder.path()).await,
        Err(Error::CannotOpen { .. })
    ));
    assert!(matches!(
        Ledger::open_read_only(&nowhere).await,
        Err(Error::NotThere { .. })
    ));
}

#[tokio::test]
async fn refuses_a_newer_format_and_names_the_program_it_needs() {
    let (_folder, path) = place();
    filled(&path).await;
    let mut connection = plain(&path).await;
    for sql in [
        "INSERT INTO _sqlx_migrations VALUES (7, 'later', 0, TRUE, x'00', 0)",
        "INSERT INTO entries (what, time, clock_doubtful, program)
         VALUES ('import', '2026-03-04T08:00:00+01:00', 0, '3.1.4')",
    ] {
        sqlx::query(sql).execute(&mut connection).await.unwrap();
    }
    connection.close().await.unwrap();
    let words = refused(&path).await.to_string();
    assert!(
        words.contains("format 7") && words.contains("Whirlwright 3.1.4"),
        "{words}"
    );
    assert!(matches!(
        Ledger::open_read_only(&path).await,
        Err(Error::Newer { .. })
    ));
}

#[tokio::test]
async fn refuses_to_write_where_it_may_only_read() {
    let (_folder, path) = place();
    filled(&path).await;
    let ledger = Ledger::open_read_only(&path).await.unwrap();
    assert_eq!(ledger.lot("D26").await.unwrap().sets.len(), 1);
    let import = file("D27", "halves.csv", &halves());
    assert!(matches!(ledger.import(&import).await, Err(Error::ReadOnly)));
}

#[tokio::test]
async fn refuses_to_copy_over_a_file() {
    let (folder, path) = place();
    filled(&path).await;
    let taken = folder.path().join("taken");
    std::fs::write(&taken, "").unwrap();
    let ledger = Ledger::open(&path).await.unwrap();
    assert!(matches!(
        ledger.copy_to(&taken).await,
        Err(Error::CannotOpen { .. })
    ));
}

/// The power went while the journal was being written: whatever part of it reached the disk,
/// whole batches are there in their order, and nothing else.
#[tokio::test]
async fn law_a_torn_journal_costs_whole_batches_from_the_end() {
    const BATCHES: usize = 6;
    let (folder, path) = place();
    let ledger = Ledger::open(&path).await.unwrap();
    for batch in 0..BATCHES {
        let parts: Vec<_> = (0..9)
            .map(|n| part(&format!("B{batch}-P{n}"), Kind::Half, "10.80"))
            .collect();
        ledger
            .import(&file("D26", &format!("{batch}.csv"), &parts))
            .await
            .unwrap();
    }
    let main = std::fs::read(&path).unwrap();
    let journal = std::fs::read(folder.path().join("ledger.db-wal")).unwrap();
    let mut seen = std::collections::BTreeSet::new();
    for tear in 0..=40 {
        let torn = tempfile::tempdir().unwrap();
        let copy = torn.path().join("ledger.db");
        std::fs::write(&copy, &main).unwrap();
        // Cut inside a frame as a rule, and leave rubbish where the rest should be.
        let mut part = journal[..journal.len() * tear / 40].to_vec();
        part.extend([0x5a; 700]);
        std::fs::write(torn.path().join("ledger.db-wal"), part).unwrap();
        let reopened = Ledger::open(&copy).await.unwrap();
        let files = match reopened.lot("D26").await {
            Err(Error::NoSuchLot { .. }) => 0,
            lot => lot.unwrap().files.len(),
        };
        let parts = match files {
            0 => 0,
            _ => reopened.parts("D26", Kind::Half).await.unwrap().len(),
        };
        assert_eq!(
            parts,
            files * 9,
            "torn at {tear}/40: a batch is there by halves"
        );
        seen.insert(files);
    }
    assert!(
        seen.len() > 3 && seen.contains(&BATCHES),
        "the tears fell on {seen:?} only"
    );
}
