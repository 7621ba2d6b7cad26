//! Logs: every bad file does what its table says, and a log is read alike whatever its separator,
//! encoding or length.

use std::fs;
use std::io::{BufReader, Cursor, Read};
use std::path::{Path, PathBuf};

use serde::Deserialize;
use whirlwright_counter::read::log::{LogFile, LogOptions, read_log, read_tray};
use whirlwright_counter::read::table::FileRefusal;
use whirlwright_workshop::spin::LogGiven;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn options() -> LogOptions {
    LogOptions {
        marks: 1,
        ..LogOptions::default()
    }
}

fn log_with(bytes: &[u8], options: &LogOptions) -> Result<LogFile, FileRefusal> {
    read_log("log.csv", Cursor::new(bytes), options, &mut |_| false)
        .map_err(|refusal| refusal.expect("nobody stopped it"))
}

fn log(text: &str) -> Result<LogFile, FileRefusal> {
    log_with(text.as_bytes(), &options())
}

#[derive(Deserialize)]
struct Expectations {
    file: Vec<Expected>,
}

#[derive(Deserialize)]
struct Expected {
    name: String,
    outcome: String,
    readings: Option<usize>,
    #[serde(default)]
    lines: Vec<usize>,
    #[serde(default)]
    says: Vec<String>,
}

/// The file again, or why no throw has such speeds.
fn believed(file: LogFile) -> Result<LogFile, String> {
    match LogGiven::new(file.log.clone()) {
        Ok(_) => Ok(file),
        Err(why) => Err(why.to_string()),
    }
}

#[test]
fn refuses_and_reads_every_bad_log_as_its_table_says() {
    let folder = root().join("validation/logs");
    let text = fs::read_to_string(folder.join("expect.toml")).expect("the table");
    let table: Expectations = toml::from_str(&text).expect("the table");
    let mut in_folder: Vec<String> = fs::read_dir(folder.join("bad"))
        .expect("the folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let mut in_table: Vec<String> = table.file.iter().map(|e| e.name.clone()).collect();
    in_folder.sort();
    in_table.sort();
    assert_eq!(in_folder, in_table);
    for expected in &table.file {
        let name = &expected.name;
        let bytes = fs::read(folder.join("bad").join(name)).expect("the file");
        let said = match log_with(&bytes, &options()).map(believed) {
            Ok(Err(why)) => {
                assert_eq!(expected.outcome, "refuse", "{name}: {why}");
                assert_eq!(expected.lines, [0], "{name}: {why}");
                why
            }
            Ok(Ok(file)) => {
                assert_eq!(
                    expected.outcome, "accept",
                    "{name} was taken: {:?}",
                    file.log.repairs
                );
                if let Some(readings) = expected.readings {
                    assert_eq!(
                        file.log.times_s.len(),
                        readings,
                        "{name}: {:?}",
                        file.log.repairs
                    );
                }
                format!("{:?} {:?}", file.remarks, file.log.repairs)
            }
            Err(refusal) => {
                assert_eq!(expected.outcome, "refuse", "{refusal}");
                let lines: Vec<usize> = refusal
                    .findings
                    .iter()
                    .map(|f| f.line.unwrap_or(0))
                    .collect();
                if !expected.lines.is_empty() {
                    assert_eq!(lines, expected.lines, "{refusal}");
                }
                assert!(
                    refusal.findings.iter().all(|f| !f.advice.is_empty()),
                    "{refusal}"
                );
                refusal.to_string()
            }
        };
        for words in &expected.says {
            assert!(
                said.contains(words.as_str()),
                "{name} lacks {words:?}: {said}"
            );
        }
    }
}

/// A curve that halves its speed in a minute.
fn curve() -> Vec<(f64, f64)> {
    (0..50)
        .map(|n| f64::from(n) * 2.0)
        .map(|t| (t, 4000.0 / (1.0 + t / 60.0)))
        .collect()
}

#[test]
fn law_a_log_is_the_same_whatever_its_separator_unit_and_line_end() {
    let plain = |head: &str, row: &dyn Fn(f64, f64) -> String, end: &str| {
        let lines: Vec<String> = curve().into_iter().map(|(t, n)| row(t, n)).collect();
        format!("{head}{end}{}{end}", lines.join(end))
    };
    let first =
        log(&plain("time_s,speed_rpm", &|t, n| format!("{t},{n}"), "\n")).expect("it is a log");
    let comma = |value: f64| value.to_string().replace('.', ",");
    let others = [
        plain("Time [s]\tSpeed [rpm]", &|t, n| format!("{t}\t{n}"), "\r\n"),
        plain(
            "t_s;speed in rpm;",
            &|t, n| format!("{};{};", comma(t), comma(n)),
            "\r",
        ),
        plain(
            "\"time_ms\",\"rpm\"",
            &|t, n| format!("\"{}\",\"{n}\"", 1000.0 * t),
            "\n",
        ),
        plain(
            "speed_rad_s,time_min",
            &|t, n| format!("{},{}", n / 9.549_296_585_513_721, t / 60.0),
            "\n",
        ),
        plain(
            "# a note\n\nspeed (Hz);time (s)",
            &|t, n| format!("{};{t}", n / 60.0),
            "\n",
        ),
    ];
    for text in others {
        let other = log(&text).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(other.log.times_s.len(), first.log.times_s.len());
        let pairs = first.log.speeds_rad_s.iter().zip(&other.log.speeds_rad_s);
        // Two products are rounded.
        let off = pairs.map(|(a, b)| (a / b - 1.0).abs()).fold(0.0, f64::max);
        assert!(off < 8.0 * f64::EPSILON, "{off}: {}", &text[..60]);
    }
}

#[test]
fn reads_what_the_person_says_beforehand_of_the_unit() {
    let text: String = curve()
        .iter()
        .map(|(t, n)| format!("{t},{}\n", n / 10.0))
        .collect();
    let text = format!("time_s,speed_rpm\n{text}");
    let slow = believed(log(&text).expect("it is a log")).expect_err("a slow start is doubted");
    assert!(slow.contains("400 rpm"), "{slow}");
    let said = |speed_unit| LogOptions {
        speed_unit: Some(speed_unit),
        ..options()
    };
    let rpm = log_with(text.as_bytes(), &said(0.104_719_755)).expect("the unit was said");
    assert!((rpm.log.speeds_rad_s[0] - 41.887_902).abs() < 1e-6);
    let rad_s = log_with(text.as_bytes(), &said(1.0)).expect("the unit was said");
    assert_eq!(rad_s.log.speeds_rad_s[0], 400.0);
}

#[test]
fn reads_round_lines_that_cannot_be_read_when_asked() {
    let mut lines: Vec<String> = curve().iter().map(|(t, n)| format!("{t},{n}")).collect();
    lines[5] = "10,broken".to_owned();
    lines[9] = "18".to_owned();
    let text = format!("time_s,speed_rpm\n{}\n", lines.join("\n"));
    let refusal = log(&text).expect_err("two lines are broken");
    assert_eq!(
        refusal.findings.iter().map(|f| f.line).collect::<Vec<_>>(),
        [Some(7), Some(11)]
    );
    assert_eq!(refusal.good_rows, 48);
    let skipping = LogOptions {
        skip_refused: true,
        ..options()
    };
    let file = log_with(text.as_bytes(), &skipping).expect("the rest is a log");
    assert_eq!((file.log.times_s.len(), file.refused.len()), (48, 2));
    assert!(file.log.repairs[0].contains("2 line(s)"));
}

/// Ten million lines, made as they are read.
struct Long {
    next: u32,
    line: Vec<u8>,
    at: usize,
}

const MANY: u32 = 10_000_000;

impl Read for Long {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.at == self.line.len() {
            if self.next > MANY {
                return Ok(0);
            }
            let time = f64::from(self.next) / 1e5;
            self.line = format!("{time:.5},{:.2}\n", 4000.0 / (1.0 + time / 60.0)).into_bytes();
            if self.next == 0 {
                self.line = b"time_s,speed_rpm\n".to_vec();
            }
            self.next += 1;
            self.at = 0;
        }
        let some = (self.line.len() - self.at).min(buffer.len());
        buffer[..some].copy_from_slice(&self.line[self.at..self.at + some]);
        self.at += some;
        Ok(some)
    }
}

#[test]
fn reads_ten_million_lines_in_little_memory_and_says_that_it_averaged() {
    let long = || {
        let (next, line, at) = (0, Vec::new(), 0);
        BufReader::new(Long { next, line, at })
    };
    let mut looks = 0;
    let file = read_log("long.csv", long(), &options(), &mut |_| {
        looks += 1;
        false
    })
    .expect("it is a log");
    assert!(looks > 100, "it can be stopped on the way");
    assert_eq!(file.log.readings, MANY as usize);
    assert!(file.log.times_s.len() <= 65_536);
    assert!(
        file.log
            .repairs
            .iter()
            .any(|r| r.contains("10000000 readings averaged")),
        "{:?}",
        file.log.repairs
    );
    let stopped = read_log("long.csv", long(), &options(), &mut |_| true);
    assert!(matches!(stopped, Err(None)));
}

#[test]
fn reads_a_tray_of_bearings_and_refuses_those_that_are_no_spin_down() {
    let rows = |bearing: &str, half_s: f64| -> String {
        let at = (0..20).map(|n| f64::from(n) * 0.5);
        at.map(|t| format!("{bearing},{t},{:.1}\n", 900.0 / (1.0 + t / half_s)))
            .collect()
    };
    let good = format!(
        "bearing,time_s,speed_rpm\n{}{}",
        rows("B1", 4.0),
        rows("B2", 8.0)
    );
    let tray =
        read_tray("tray.csv", Cursor::new(good.as_bytes()), &options()).expect("two bearings");
    let names: Vec<&str> = tray.logs.iter().map(|log| log.name.as_str()).collect();
    assert_eq!(names, ["B1", "B2"]);
    assert_eq!(tray.logs[0].times_s.len(), 20);
    let bad = format!(
        "{good}B3,0,900\n,0.5,800\nB4,zero,1\n{}",
        rows("B5", -100.0)
    );
    let refusal =
        read_tray("tray.csv", Cursor::new(bad.as_bytes()), &options()).expect_err("faults");
    let told = refusal.to_string();
    for words in ["bearing B3", "line 43", "line 44", "bearing B5", "rises"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let skipping = LogOptions {
        skip_refused: true,
        ..options()
    };
    let tray = read_tray("tray.csv", Cursor::new(bad.as_bytes()), &skipping).expect("two are left");
    assert_eq!(tray.logs.len(), 2);
    let no_bearing = "time_s,speed_rpm\n0,900\n";
    let refusal = read_tray("tray.csv", Cursor::new(no_bearing.as_bytes()), &options());
    assert!(
        refusal
            .expect_err("which?")
            .to_string()
            .contains("no column of bearings")
    );
}
