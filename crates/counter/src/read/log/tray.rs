//! A tray of bearings in one file: `bearing,time_s,speed_rpm`, a line a reading.

use std::collections::BTreeMap;
use std::io::BufRead;

use whirlwright_workshop::part::{LogGatherer, SpinLog};

use super::header::Holds;
use super::lines::Lines;
use super::one::{LogOptions, first, no_log, too_many};
use super::{row, units};
use crate::read::table::caps;
use crate::read::table::finding::{FileRefusal, Finding, Findings, shortened};

/// The most bearings of one tray.
const MOST_BEARINGS: usize = 2_000;
/// The most lines of one tray.
const MOST_LINES: usize = 5_000_000;

/// A tray that was read.
#[derive(Debug, Clone)]
pub struct TrayFile {
    /// One log a bearing, in the order in which they first stand in the file.
    pub logs: Vec<SpinLog>,
    /// How the file was understood.
    pub remarks: Vec<String>,
    /// Lines and bearings that were left out because the person said so.
    pub refused: Vec<Finding>,
}

/// Reads a tray.
///
/// # Errors
/// Every line that cannot be read and every bearing whose readings are no spin-down, at once.
pub fn read_tray(
    file: &str,
    reader: impl BufRead,
    options: &LogOptions,
) -> Result<TrayFile, FileRefusal> {
    let refusal = |findings: Vec<Finding>, good_rows: usize| FileRefusal {
        file: file.to_owned(),
        findings,
        good_rows,
    };
    let whole = |finding: Box<Finding>| refusal(vec![*finding], 0);
    let mut lines = Lines::open(reader).map_err(whole)?;
    let mut remarks: Vec<String> = lines.remark.take().into_iter().collect();
    let header = first(&mut lines, options, &mut remarks).map_err(whole)?;
    remarks.extend(header.unused());
    let of = |what, is: fn(&Holds) -> bool| header.only(what, is).map_err(whole);
    let bearing = of("bearings", |h| *h == Holds::Bearing)?;
    let time = of("times", |h| matches!(h, Holds::Time(_)))?;
    let speed = of("speeds", |h| matches!(h, Holds::Speed(_)))?;
    let factor = |at: usize| match header.holds[at] {
        Holds::Time(factor) | Holds::Speed(factor) => factor,
        _ => 1.0,
    };
    let (time_factor, speed_factor) = (factor(time), factor(speed));
    let mut findings = Findings::default();
    let mut tray = Tray::default();
    loop {
        let number = lines.number + 1;
        let line = match lines.next_line() {
            Ok(None) => break,
            Ok(Some(line)) if line.trim().is_empty() || line.starts_with('#') => continue,
            Ok(Some(line)) => line,
            Err(finding) => return Err(refusal(vec![*finding], tray.count)),
        };
        if tray.count == MOST_LINES {
            return Err(refusal(vec![too_many(MOST_LINES, "lines")], tray.count));
        }
        let read = row::cells(line, number, &header).and_then(|cells| {
            let time_s = row::number(&cells, time, number, &header)? * time_factor;
            let speed_rad_s = row::number(&cells, speed, number, &header)? * speed_factor;
            tray.take(
                cells[bearing].trim_matches('"'),
                number,
                time_s,
                speed_rad_s,
            )
        });
        if let Err(finding) = read {
            findings.push(*finding);
        }
    }
    let count = tray.count;
    let logs = tray.finish(&mut findings);
    let refused = findings.into_list();
    if !refused.is_empty() && !options.skip_refused {
        return Err(refusal(refused, count));
    }
    if logs.is_empty() {
        return Err(refusal(vec![no_log("no bearing with readings")], count));
    }
    Ok(TrayFile {
        logs,
        remarks,
        refused,
    })
}

/// Bearings that fill with readings.
#[derive(Default)]
struct Tray {
    places: BTreeMap<String, usize>,
    logs: Vec<(String, LogGatherer)>,
    count: usize,
}

impl Tray {
    fn take(
        &mut self,
        bearing: &str,
        line: usize,
        time_s: f64,
        speed_rad_s: f64,
    ) -> Result<(), Box<Finding>> {
        let refused = |read: String, expected: String, advice: &str| {
            Box::new(Finding {
                line: Some(line),
                field: "bearing".to_owned(),
                read,
                expected,
                advice: advice.to_owned(),
                ..Finding::default()
            })
        };
        if bearing.is_empty() {
            let expected = "the bearing's number or mark".to_owned();
            return Err(refused(
                "nothing".to_owned(),
                expected,
                "Write which bearing it was",
            ));
        }
        if bearing.chars().count() > caps::ID_LETTERS {
            let expected = format!("at most {} characters", caps::ID_LETTERS);
            return Err(refused(shortened(bearing), expected, "Write a short mark"));
        }
        let next = self.logs.len();
        let place = match self.places.get(bearing) {
            Some(place) => *place,
            None if next == MOST_BEARINGS => {
                let read = format!("more than {MOST_BEARINGS} bearings");
                let expected = format!("at most {MOST_BEARINGS} in one tray");
                return Err(refused(read, expected, "Cut the file into trays"));
            }
            None => {
                self.places.insert(bearing.to_owned(), next);
                self.logs
                    .push((bearing.to_owned(), LogGatherer::new(bearing)));
                next
            }
        };
        self.logs[place].1.push(time_s, speed_rad_s);
        self.count += 1;
        Ok(())
    }

    fn finish(self, findings: &mut Findings) -> Vec<SpinLog> {
        let mut logs = Vec::new();
        for (name, gathered) in self.logs {
            match gathered.finish(None) {
                Ok(log) => match units::doubt(&log) {
                    None => logs.push(log),
                    Some(doubt) => findings.push(Finding {
                        field: format!("bearing {name}, {}", doubt.field),
                        ..doubt
                    }),
                },
                Err(why) => findings.push(Finding {
                    field: format!("bearing {name}"),
                    ..no_log(&why.to_string())
                }),
            }
        }
        logs
    }
}
