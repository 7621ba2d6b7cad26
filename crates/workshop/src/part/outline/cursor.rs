//! Numbers, flags and letters of an SVG path, one after the other.

use super::NotAnOutline;

/// A place in the text of a path.
pub(super) struct Cursor<'a> {
    text: &'a str,
    pub(super) at: usize,
}

impl<'a> Cursor<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    fn rest(&self) -> &'a [u8] {
        &self.text.as_bytes()[self.at..]
    }

    fn skip(&mut self, comma: bool) {
        let mut commas = usize::from(comma);
        while let Some(&byte) = self.rest().first() {
            match byte {
                b' ' | b'\t' | b'\r' | b'\n' | 0x0c => {}
                b',' if commas > 0 => commas -= 1,
                _ => break,
            }
            self.at += 1;
        }
    }

    /// The next letter, if a letter comes next.
    pub(super) fn letter(&mut self) -> Option<u8> {
        self.skip(false);
        let byte = *self.rest().first()?;
        byte.is_ascii_alphabetic().then(|| {
            self.at += 1;
            byte
        })
    }

    /// Whether everything has been read.
    pub(super) fn done(&mut self) -> bool {
        self.skip(false);
        self.rest().is_empty()
    }

    /// Whether a number comes next.
    pub(super) fn number_follows(&mut self) -> bool {
        self.skip(true);
        self.rest()
            .first()
            .is_some_and(|b| b.is_ascii_digit() || b"+-.".contains(b))
    }

    /// What stands here, for a message: one character, or the end.
    pub(super) fn here(&self) -> String {
        match self.text[self.at..].chars().next() {
            Some(c) => format!("`{c}`"),
            None => "the end of the path".to_owned(),
        }
    }

    /// The next number.
    pub(super) fn number(&mut self, what: &str) -> Result<f64, NotAnOutline> {
        self.skip(true);
        let start = self.at;
        let length = number_length(self.rest());
        let digits = &self.text[start..start + length];
        let value: f64 = digits.parse().map_err(|_| NotAnOutline {
            at: start,
            what: format!("{} was read where {what} was expected", self.here()),
        })?;
        if !value.is_finite() {
            let what = format!("`{digits}` is too large a number to draw");
            return Err(NotAnOutline { at: start, what });
        }
        self.at += length;
        Ok(value)
    }

    /// The next flag of an arc: a single 0 or 1, which need not be set off from what follows.
    pub(super) fn flag(&mut self, what: &str) -> Result<bool, NotAnOutline> {
        self.skip(true);
        let flag = match self.rest().first() {
            Some(b'0') => false,
            Some(b'1') => true,
            _ => {
                let what = format!(
                    "{} was read where {what} (0 or 1) was expected",
                    self.here()
                );
                return Err(NotAnOutline { at: self.at, what });
            }
        };
        self.at += 1;
        Ok(flag)
    }
}

/// How many bytes at the start are one number of the path grammar.
fn number_length(bytes: &[u8]) -> usize {
    let digits = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let mut end = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    end += digits(end);
    if bytes.get(end) == Some(&b'.') {
        end += 1;
        end += digits(end);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let power = digits((end + 1 + sign).min(bytes.len()));
        if power > 0 {
            end += 1 + sign + power;
        }
    }
    end
}
