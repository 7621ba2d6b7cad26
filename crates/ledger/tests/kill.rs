//! Processes that are killed while they write, and processes that write at once.
//!
//! The test starts this very program again as the writer: it imports files and records sets in a
//! loop and says so, a line each, after every call that returned.
#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use common::{file, new_set, part, place, sets};
use sqlx::{ConnectOptions, Connection};
use whirlwright_ledger::{Error, Ledger};
use whirlwright_workshop::part::Kind;

const KILLS: u64 = 200;
const KILLS_A_LEDGER: u64 = 20;
/// Long enough to start, open and write a dozen batches; short enough that many kills fall on
/// the opening and on the first batch.
const LONGEST_LIFE_MS: u64 = 90;
const PARTS_A_FILE: usize = 8;

const PATH: &str = "WHIRLWRIGHT_TEST_LEDGER";
const NAME: &str = "WHIRLWRIGHT_TEST_WRITER";
const BATCHES: &str = "WHIRLWRIGHT_TEST_BATCHES";

/// A small generator of numbers (SplitMix64), so that a seed names a whole run.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
}

fn serials(writer: &str, batch: u64) -> Vec<String> {
    (0..PARTS_A_FILE)
        .map(|place| format!("{writer}-B{batch}-P{place}"))
        .collect()
}

fn file_name(writer: &str, batch: u64) -> String {
    format!("{writer}-B{batch}.csv")
}

/// What the writer does until it is killed or has written enough.
async fn write(path: &Path, writer: &str, batches: u64) {
    let ledger = Ledger::open(path).await.unwrap();
    for batch in 0..batches {
        let parts: Vec<_> = serials(writer, batch)
            .iter()
            .map(|s| part(s, Kind::Half, "10.80"))
            .collect();
        let import = file("D26", &file_name(writer, batch), &parts);
        ledger.import(&import).await.unwrap();
        acknowledge("file", &file_name(writer, batch));
        let pairs = parts
            .chunks(2)
            .map(|two| new_set(&two[0].serial, &two[1].serial))
            .collect();
        let mut chosen = sets("D26", 1, pairs);
        chosen.what = file_name(writer, batch);
        ledger.record_sets(&chosen).await.unwrap();
        acknowledge("sets", &file_name(writer, batch));
    }
    ledger.close().await;
}

/// Straight to the pipe: an acknowledgement must not wait in a buffer.
fn acknowledge(what: &str, name: &str) {
    let mut out = std::io::stdout().lock();
    out.write_all(format!("\nacknowledged {what} {name}\n").as_bytes())
        .unwrap();
    out.flush().unwrap();
}

/// Plays the writer if this process was started as one.
fn am_writer() -> bool {
    let (Ok(path), Ok(writer), Ok(batches)) = (
        std::env::var(PATH),
        std::env::var(NAME),
        std::env::var(BATCHES),
    ) else {
        return false;
    };
    let runtime = tokio::runtime::Runtime::new().unwrap();
    runtime.block_on(write(Path::new(&path), &writer, batches.parse().unwrap()));
    true
}

fn start_writer(test: &str, path: &Path, writer: &str, batches: u64) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args(["--exact", test, "--nocapture"])
        .env(PATH, path)
        .env(NAME, writer)
        .env(BATCHES, batches.to_string())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Whole lines only: what was cut off by the kill was not acknowledged.
fn acknowledged(child: &mut Child) -> Vec<(String, String)> {
    let mut out = BufReader::new(child.stdout.take().unwrap());
    let (mut all, mut line) = (Vec::new(), String::new());
    while out.read_line(&mut line).unwrap_or(0) > 0 {
        if let Some(rest) = line.strip_prefix("acknowledged ")
            && let Some((what, name)) = rest.strip_suffix('\n').and_then(|r| r.split_once(' '))
        {
            all.push((what.to_owned(), name.to_owned()));
        }
        line.clear();
    }
    all
}

/// Opens the ledger again and compares it with everything that was acknowledged.
async fn check(path: &Path, told: &BTreeSet<(String, String)>, seed: u64) {
    let ledger = Ledger::open(path).await.unwrap();
    let lot = match ledger.lot("D26").await {
        Err(Error::NoSuchLot { .. }) if told.is_empty() => return ledger.close().await,
        lot => lot.unwrap(),
    };
    let files: BTreeSet<_> = lot.files.iter().map(|file| file.name.clone()).collect();
    let decisions: BTreeSet<_> = lot.decisions.iter().map(|made| made.what.clone()).collect();
    for (what, name) in told {
        let kept = if what == "file" { &files } else { &decisions };
        assert!(
            kept.contains(name),
            "seed {seed}: {what} {name} was acknowledged and is gone"
        );
    }
    let parts = ledger.parts("D26", Kind::Half).await.unwrap();
    let weighed: BTreeSet<_> = parts
        .iter()
        .filter(|p| p.mass_g.is_some())
        .map(|p| p.serial.clone())
        .collect();
    let whole: BTreeSet<_> = files
        .iter()
        .flat_map(|name| {
            let (writer, batch) = name
                .strip_suffix(".csv")
                .unwrap()
                .rsplit_once("-B")
                .unwrap();
            serials(writer, batch.parse().unwrap())
        })
        .collect();
    assert_eq!(weighed, whole, "seed {seed}: a file is there by halves");
    for decision in &lot.decisions {
        let made: Vec<_> = lot
            .sets
            .iter()
            .filter(|set| set.decision == decision.written.counter)
            .collect();
        let complete = made.iter().all(|set| set.members.len() == 2);
        assert!(
            complete && made.len() == PARTS_A_FILE / 2,
            "seed {seed}: the sets of {} are there by halves",
            decision.what
        );
    }
    assert_eq!(
        lot.sets.len(),
        lot.decisions.len() * PARTS_A_FILE / 2,
        "seed {seed}"
    );
    ledger.close().await;
    let mut plain = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(path)
        .connect()
        .await
        .unwrap();
    let sound: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_all(&mut plain)
        .await
        .unwrap();
    assert_eq!(sound, ["ok"], "seed {seed}");
    let dangling = sqlx::query("PRAGMA foreign_key_check")
        .fetch_all(&mut plain)
        .await
        .unwrap();
    assert!(dangling.is_empty(), "seed {seed}: rows point at nothing");
    plain.close().await.unwrap();
}

/// SIGKILL, two hundred times, at moments drawn from a seed.
#[test]
fn law_a_kill_loses_nothing_acknowledged_and_leaves_nothing_by_halves() {
    if am_writer() {
        return;
    }
    let this = "law_a_kill_loses_nothing_acknowledged_and_leaves_nothing_by_halves";
    let seed = std::env::var("WHIRLWRIGHT_KILL_SEED")
        .ok()
        .and_then(|s| s.parse().ok());
    let seed: u64 = seed.unwrap_or(20_260_303);
    say(&format!(
        "seed {seed} (another one: WHIRLWRIGHT_KILL_SEED=…)"
    ));
    let (mut numbers, runtime) = (Numbers(seed), tokio::runtime::Runtime::new().unwrap());
    let (mut all, mut at_work, begun) = (0, 0, Instant::now());
    for ledger in 0..KILLS / KILLS_A_LEDGER {
        let (_folder, path) = place();
        let mut told = BTreeSet::new();
        for kill in 0..KILLS_A_LEDGER {
            let life = Duration::from_micros(numbers.next() % (LONGEST_LIFE_MS * 1000));
            let mut child = start_writer(this, &path, &format!("L{ledger}K{kill}"), u64::MAX);
            std::thread::sleep(life);
            assert!(
                child.try_wait().unwrap().is_none(),
                "seed {seed}: the writer fell over"
            );
            child.kill().unwrap();
            let lines = acknowledged(&mut child);
            child.wait().unwrap();
            (all, at_work) = (all + lines.len(), at_work + usize::from(!lines.is_empty()));
            told.extend(lines);
            runtime.block_on(check(&path, &told, seed));
        }
    }
    let seconds = begun.elapsed().as_secs_f64();
    say(&format!(
        "{KILLS} kills, {at_work} of them at work, {all} acknowledgements, {seconds:.1} s"
    ));
    assert!(
        at_work > 20,
        "only {at_work} writers got so far as to write: the test shows nothing"
    );
}

/// Several processes at once, from the making of the file on: each waits for its turn.
#[test]
fn law_processes_that_write_at_once_lose_nothing() {
    if am_writer() {
        return;
    }
    let this = "law_processes_that_write_at_once_lose_nothing";
    let (_folder, path) = place();
    let writers = ["A", "B", "C"];
    let mut children: Vec<_> = writers
        .iter()
        .map(|writer| start_writer(this, &path, writer, 10))
        .collect();
    let mut told = BTreeSet::new();
    for child in &mut children {
        told.extend(acknowledged(child));
        assert!(
            child.wait().unwrap().success(),
            "a writer failed instead of waiting"
        );
    }
    assert_eq!(told.len(), writers.len() * 10 * 2);
    let runtime = tokio::runtime::Runtime::new().unwrap();
    runtime.block_on(check(&path, &told, 0));
    let numbers = runtime.block_on(async {
        let lot = Ledger::open(&path).await.unwrap().lot("D26").await.unwrap();
        lot.sets.iter().map(|set| set.number).collect::<Vec<_>>()
    });
    assert_eq!(numbers, (1..=120).collect::<Vec<_>>(), "each number once");
}

/// A writer that waits in vain is told so in words, and the one that holds the file loses nothing.
#[tokio::test]
async fn refuses_to_wait_for_ever_for_another_writer() {
    let (_folder, path) = place();
    let ledger = Ledger::open(&path).await.unwrap();
    let mut other = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(&path)
        .connect()
        .await
        .unwrap();
    let held = other.begin_with("BEGIN IMMEDIATE").await.unwrap();
    let import = file("D26", "halves.csv", &common::halves());
    let refused = ledger.import(&import).await;
    assert!(matches!(refused, Err(Error::Busy { .. })), "{refused:?}");
    held.rollback().await.unwrap();
    ledger.import(&import).await.unwrap();
}

fn say(text: &str) {
    let mut out = std::io::stderr().lock();
    out.write_all(format!("{text}\n").as_bytes()).unwrap();
}
