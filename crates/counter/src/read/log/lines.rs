//! Lines of a file one by one, without holding the file.

use std::io::{BufRead, Cursor, Read};

use crate::keep::LARGEST_FILE_BYTES;
use crate::read::table::encoding;
use crate::read::table::finding::{Finding, shortened};

/// The longest line: a log has a few numbers in each.
const LONGEST_LINE: usize = 4096;

/// The lines of a file.
pub struct Lines<'r> {
    reader: Box<dyn BufRead + 'r>,
    buffer: Vec<u8>,
    /// The line given last, counted from 1.
    pub number: usize,
    /// Bytes read so far.
    pub bytes: u64,
    /// How the bytes were understood, where that is worth a word.
    pub remark: Option<String>,
}

impl<'r> Lines<'r> {
    /// Looks at the first bytes and starts at the first line.
    ///
    /// UTF-16 is decoded whole (a log of that kind is short); everything else is read as it comes.
    ///
    /// # Errors
    /// Not text, nothing in it, or it cannot be read.
    pub fn open(mut reader: impl BufRead + 'r) -> Result<Self, Box<Finding>> {
        let head = reader.fill_buf().map_err(unreadable)?;
        if let Some(refused) = no_text(head) {
            return Err(Box::new(refused));
        }
        let wide =
            head.starts_with(b"\xff\xfe") || head.starts_with(b"\xfe\xff") || head.contains(&0);
        let marked = head.starts_with(b"\xef\xbb\xbf");
        if wide {
            let mut bytes = Vec::new();
            let mut some = reader.take(LARGEST_FILE_BYTES);
            some.read_to_end(&mut bytes).map_err(unreadable)?;
            let decoded = encoding::decode(&bytes)?;
            let remark = Some(format!("encoding: {}", decoded.remark));
            return Ok(Self::of(
                Box::new(Cursor::new(decoded.text.into_bytes())),
                remark,
            ));
        }
        if marked {
            reader.consume(3);
        }
        Ok(Self::of(Box::new(reader), None))
    }

    fn of(reader: Box<dyn BufRead + 'r>, remark: Option<String>) -> Self {
        Self {
            reader,
            buffer: Vec::with_capacity(LONGEST_LINE),
            number: 0,
            bytes: 0,
            remark,
        }
    }

    /// The next line without its end (LF, CRLF or CR); none at the end of the file.
    ///
    /// # Errors
    /// A line that is no line of a log: too long, or with control characters in it.
    pub fn next_line(&mut self) -> Result<Option<&str>, Box<Finding>> {
        self.buffer.clear();
        let mut any = false;
        let mut after_cr = false;
        loop {
            let chunk = self.reader.fill_buf().map_err(unreadable)?;
            if chunk.is_empty() {
                break;
            }
            if after_cr {
                let lf = usize::from(chunk[0] == b'\n');
                self.reader.consume(lf);
                self.bytes += lf as u64;
                break;
            }
            any = true;
            let end = chunk.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
            let text = &chunk[..end.unwrap_or(chunk.len())];
            if self.buffer.len() + text.len() > LONGEST_LINE {
                return Err(Box::new(self.too_long()));
            }
            self.buffer.extend_from_slice(text);
            let used = text.len() + usize::from(end.is_some());
            after_cr = end.is_some_and(|at| chunk[at] == b'\r');
            self.reader.consume(used);
            self.bytes += used as u64;
            if end.is_some() && !after_cr {
                break;
            }
        }
        if !any && self.buffer.is_empty() {
            return Ok(None);
        }
        self.number += 1;
        self.told().map(Some)
    }

    /// The line as text; letters that are not UTF-8 stand in notes only, so they are replaced.
    fn told(&mut self) -> Result<&str, Box<Finding>> {
        if std::str::from_utf8(&self.buffer).is_err() {
            let text = String::from_utf8_lossy(&self.buffer).into_owned();
            self.buffer = text.into_bytes();
        }
        let text = std::str::from_utf8(&self.buffer).unwrap_or_default();
        if text
            .chars()
            .any(|letter| letter.is_control() && letter != '\t')
        {
            return Err(Box::new(Finding {
                line: Some(self.number),
                source_line: shortened(&text.replace(char::is_control, "·")),
                ..binary()
            }));
        }
        Ok(text)
    }

    fn too_long(&self) -> Finding {
        Finding {
            line: Some(self.number + 1),
            field: "line".to_owned(),
            read: format!("more than {LONGEST_LINE} characters without a line end"),
            expected: "a line for every reading".to_owned(),
            advice: "Choose the log itself, or export it again as CSV".to_owned(),
            source_line: shortened(&String::from_utf8_lossy(&self.buffer)),
            ..Finding::default()
        }
    }
}

fn unreadable(why: std::io::Error) -> Box<Finding> {
    Box::new(Finding {
        field: "file".to_owned(),
        read: format!("a fault of the disk or the line: {why}"),
        expected: "a file that can be read to its end".to_owned(),
        advice: "Copy the file again".to_owned(),
        ..Finding::default()
    })
}

fn binary() -> Finding {
    Finding {
        field: "file".to_owned(),
        read: "not text".to_owned(),
        expected: "a log as text (CSV), such as time_s,speed_rpm".to_owned(),
        advice: "Export the log as CSV".to_owned(),
        ..Finding::default()
    }
}

/// What a file of another kind is, by its first bytes.
fn no_text(head: &[u8]) -> Option<Finding> {
    let kinds: [(&[u8], &str, &str); 5] = [
        (
            b"PK\x03\x04",
            "an XLSX workbook or another packed file",
            "Save the sheet as CSV",
        ),
        (
            b"\xd0\xcf\x11\xe0",
            "a workbook of the older kind (.xls)",
            "Save the sheet as CSV",
        ),
        (b"RIFF", "a recording (WAV)", "Give it with --recording"),
        (b"%PDF", "a PDF", "Give the log it was printed from"),
        (b"{", "JSON", "Give the log as CSV"),
    ];
    if head.is_empty() {
        return Some(Finding {
            read: "an empty file (0 bytes)".to_owned(),
            advice: "Choose the right file, or log again".to_owned(),
            ..binary()
        });
    }
    let (_, what, advice) = kinds
        .into_iter()
        .find(|(start, ..)| head.starts_with(start))?;
    Some(Finding {
        read: what.to_owned(),
        advice: advice.to_owned(),
        ..binary()
    })
}
