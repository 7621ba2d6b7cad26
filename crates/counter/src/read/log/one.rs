//! One log out of a file, line by line in bounded memory.

use std::io::BufRead;

use serde::Serialize;
use whirlwright_workshop::part::{LogGatherer, NotALog, SpinLog};

use super::header::{self, Header, Holds};
use super::lines::Lines;
use super::{row, units};
use crate::read::table::finding::{FileRefusal, Finding, Findings};

/// The most lines that are read: half a day at a thousand readings a second.
pub const MOST_LINES: usize = 50_000_000;
/// The most pulses that are held: eight hours at 4000 rpm.
pub const MOST_PULSES: usize = 2_000_000;
/// Lines between two looks at whether the person wants to stop.
const LOOK_EVERY: usize = 65_536;

/// What the person said beforehand about a log.
#[derive(Debug, Clone, Default)]
pub struct LogOptions {
    /// Speeds are in this unit, whatever the header says: so many rad/s are one of it.
    pub speed_unit: Option<f64>,
    /// Leave out lines that cannot be read, and list them.
    pub skip_refused: bool,
    /// Marks that pass in one turn.
    pub marks: u32,
}

/// A log that was read, with what was noticed on the way.
#[derive(Debug, Clone, Serialize)]
pub struct LogFile {
    /// The log.
    pub log: SpinLog,
    /// How the file was understood.
    pub remarks: Vec<String>,
    /// Lines that were left out because the person said so.
    pub refused: Vec<Finding>,
}

/// Reads one log.
///
/// `stop` is told how many bytes were read and may end the reading.
///
/// # Errors
/// Every line that cannot be read, at once; or what makes it no log of a spin-down. None inside:
/// the reading was ended by `stop`.
pub fn read_log(
    file: &str,
    reader: impl BufRead,
    options: &LogOptions,
    stop: &mut dyn FnMut(u64) -> bool,
) -> Result<LogFile, Option<FileRefusal>> {
    let refusal = |findings: Vec<Finding>, good_rows: usize| {
        Some(FileRefusal {
            file: file.to_owned(),
            findings,
            good_rows,
        })
    };
    let mut lines = Lines::open(reader).map_err(|f| refusal(vec![*f], 0))?;
    let mut remarks: Vec<String> = lines.remark.take().into_iter().collect();
    let header = first(&mut lines, options, &mut remarks).map_err(|f| refusal(vec![*f], 0))?;
    let mut log = Building::new(file, &header).map_err(|f| refusal(vec![*f], 0))?;
    remarks.extend(header.unused());
    let mut findings = Findings::default();
    loop {
        let number = lines.number + 1;
        match lines.next_line() {
            Ok(None) => break,
            Ok(Some(line)) if line.trim().is_empty() || line.starts_with('#') => {}
            Ok(Some(line)) => {
                if let Err(finding) = log.take(line, number, &header) {
                    findings.push(*finding);
                }
            }
            Err(finding) => return Err(refusal(vec![*finding], log.count())),
        }
        if number > MOST_LINES {
            return Err(refusal(vec![too_many(MOST_LINES, "lines")], log.count()));
        }
        if number.is_multiple_of(LOOK_EVERY) && stop(lines.bytes) {
            return Err(None);
        }
    }
    let refused = findings.into_list();
    if !(refused.is_empty() || options.skip_refused) {
        return Err(refusal(refused, log.count()));
    }
    let count = log.count();
    let log = log.finish(options.marks.max(1));
    let mut log = log.map_err(|why| refusal(vec![no_log(&why.to_string())], count))?;
    if let Some(doubt) = units::doubt(&log) {
        return Err(refusal(vec![doubt], count));
    }
    if !refused.is_empty() {
        log.repairs.insert(
            0,
            format!(
                "{} line(s) that could not be read were left out, as asked",
                refused.len()
            ),
        );
    }
    Ok(LogFile {
        log,
        remarks,
        refused,
    })
}

/// The header, after notes and blank lines; notes are kept as remarks.
pub(super) fn first(
    lines: &mut Lines<'_>,
    options: &LogOptions,
    remarks: &mut Vec<String>,
) -> Result<Header, Box<Finding>> {
    /// Notes kept; an instrument may write a page of them.
    const MOST_NOTES: usize = 5;
    loop {
        let number = lines.number + 1;
        let Some(line) = lines.next_line()? else {
            return Err(Box::new(Finding {
                field: "file".to_owned(),
                read: "no header and no readings".to_owned(),
                expected: "a header such as time_s,speed_rpm and a line for every reading"
                    .to_owned(),
                advice: "Choose the right file, or log again".to_owned(),
                ..Finding::default()
            }));
        };
        if let Some(note) = line.trim().strip_prefix('#') {
            if remarks.len() < MOST_NOTES {
                remarks.push(format!("note: {}", note.trim()));
            }
        } else if !line.trim().is_empty() {
            return header::read(line, number, options.speed_unit);
        }
    }
}

pub(super) fn no_log(why: &str) -> Finding {
    Finding {
        field: "log".to_owned(),
        read: why.to_owned(),
        expected: "the log of a piece that slows down".to_owned(),
        advice: "Look at the log, or log again".to_owned(),
        ..Finding::default()
    }
}

pub(super) fn too_many(most: usize, what: &str) -> Finding {
    Finding {
        field: "file".to_owned(),
        read: format!("more than {most} {what}"),
        expected: format!("at most {most} {what} in one log"),
        advice: "Cut the log, or keep every tenth reading".to_owned(),
        ..Finding::default()
    }
}

/// A log that grows.
enum Building {
    Speeds {
        time: (usize, f64),
        speed: (usize, f64),
        log: LogGatherer,
    },
    Pulses {
        pulse: (usize, f64),
        name: String,
        times_s: Vec<f64>,
    },
}

impl Building {
    fn new(name: &str, header: &Header) -> Result<Self, Box<Finding>> {
        let factor = |at: usize| match header.holds[at] {
            Holds::Time(factor) | Holds::Speed(factor) | Holds::Pulse(factor) => factor,
            Holds::Bearing | Holds::Other => 1.0,
        };
        let is_pulse = |holds: &Holds| matches!(holds, Holds::Pulse(_));
        if header.holds.iter().any(is_pulse) {
            let at = header.only("pulses", is_pulse)?;
            return Ok(Self::Pulses {
                pulse: (at, factor(at)),
                name: name.to_owned(),
                times_s: Vec::new(),
            });
        }
        let time = header.only("times", |holds| matches!(holds, Holds::Time(_)))?;
        let speed = header.only("speeds", |holds| matches!(holds, Holds::Speed(_)))?;
        Ok(Self::Speeds {
            time: (time, factor(time)),
            speed: (speed, factor(speed)),
            log: LogGatherer::new(name),
        })
    }

    fn take(&mut self, line: &str, number: usize, header: &Header) -> Result<(), Box<Finding>> {
        let cells = row::cells(line, number, header)?;
        match self {
            Self::Speeds { time, speed, log } => {
                let time_s = row::number(&cells, time.0, number, header)? * time.1;
                let speed_rad_s = row::number(&cells, speed.0, number, header)? * speed.1;
                log.push(time_s, speed_rad_s);
            }
            Self::Pulses { pulse, times_s, .. } => {
                if times_s.len() == MOST_PULSES {
                    let mut finding = too_many(MOST_PULSES, "pulses");
                    finding.line = Some(number);
                    return Err(Box::new(finding));
                }
                times_s.push(row::number(&cells, pulse.0, number, header)? * pulse.1);
            }
        }
        Ok(())
    }

    fn count(&self) -> usize {
        match self {
            Self::Speeds { log, .. } => log.total(),
            Self::Pulses { times_s, .. } => times_s.len(),
        }
    }

    fn finish(self, marks: u32) -> Result<SpinLog, NotALog> {
        match self {
            Self::Speeds { log, .. } => log.finish(None),
            Self::Pulses { name, times_s, .. } => SpinLog::from_pulses(name, &times_s, marks, None),
        }
    }
}
