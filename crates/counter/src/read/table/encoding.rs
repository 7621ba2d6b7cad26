//! From bytes to text, saying which encoding it was.

use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::finding::Finding;

/// A text and how its bytes were understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decoded {
    /// The text.
    pub text: String,
    /// The encoding, in words.
    pub remark: String,
}

/// Finds the encoding by its mark, or by the pattern of the bytes, and decodes all of it.
///
/// # Errors
/// Not text; or an encoding that is named and broken.
pub fn decode(bytes: &[u8]) -> Result<Decoded, Box<Finding>> {
    if let Some((encoding, mark)) = Encoding::for_bom(bytes) {
        return strictly(
            encoding,
            bytes.get(mark..).unwrap_or_default(),
            "with its byte order mark",
        );
    }
    if let Some(encoding) = unmarked_utf16(bytes) {
        return strictly(
            encoding,
            bytes,
            "without a byte order mark, known by its zero bytes",
        );
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return checked(text.to_owned(), "UTF-8".to_owned());
    }
    let (text, _) = WINDOWS_1252.decode_without_bom_handling(bytes);
    checked(
        text.into_owned(),
        "not UTF-8, so read as Windows-1252 (Latin-1): look at letters with accents".to_owned(),
    )
}

fn strictly(encoding: &'static Encoding, bytes: &[u8], how: &str) -> Result<Decoded, Box<Finding>> {
    let name = encoding.name();
    match encoding.decode_without_bom_handling_and_without_replacement(bytes) {
        Some(text) if encoding == UTF_8 || bytes.len().is_multiple_of(2) => {
            checked(text.into_owned(), format!("{name} {how}"))
        }
        _ => Err(Box::new(Finding {
            field: "encoding".to_owned(),
            read: format!("{name} {how}, with bytes that {name} does not have"),
            expected: format!("text in {name} from the first byte to the last"),
            advice: "The file may be cut or damaged: export it again, best as UTF-8".to_owned(),
            ..Finding::default()
        })),
    }
}

/// UTF-16 of mostly western text has a zero in every other byte.
fn unmarked_utf16(bytes: &[u8]) -> Option<&'static Encoding> {
    /// Enough of a file to see the pattern.
    const HEAD: usize = 4096;
    let head = bytes.get(..bytes.len().min(HEAD))?;
    let pairs = head.len() / 2;
    if pairs == 0 {
        return None;
    }
    let zeros = |from: usize| {
        head.iter()
            .skip(from)
            .step_by(2)
            .filter(|byte| **byte == 0)
            .count()
    };
    let (even, odd) = (zeros(0), zeros(1));
    // Nine in ten on one side and none on the other: binary files have zeros on both.
    match (even, odd) {
        (0, odd) if odd * 10 >= pairs * 9 => Some(UTF_16LE),
        (even, 0) if even * 10 >= pairs * 9 => Some(UTF_16BE),
        _ => None,
    }
}

fn checked(text: String, remark: String) -> Result<Decoded, Box<Finding>> {
    let odd = |letter: &char| letter.is_control() && !matches!(letter, '\t' | '\r' | '\n');
    if let Some((at, letter)) = text.char_indices().find(|(_, letter)| odd(letter)) {
        let before = text.get(..at).unwrap_or_default();
        return Err(Box::new(Finding {
            line: Some(1 + before.matches('\n').count()),
            field: "file".to_owned(),
            read: format!(
                "not text: a control character (U+{:04X})",
                u32::from(letter)
            ),
            expected: "a table as text (CSV) or an XLSX workbook".to_owned(),
            advice: "Choose the table itself, or export it as CSV".to_owned(),
            ..Finding::default()
        }));
    }
    if text.trim().is_empty() {
        return Err(Box::new(empty("an empty file")));
    }
    Ok(Decoded { text, remark })
}

/// What is said of a file in which nothing stands.
pub fn empty(read: &str) -> Finding {
    Finding {
        field: "file".to_owned(),
        read: read.to_owned(),
        expected: "a header line and a line for every part".to_owned(),
        advice: "Choose the right file, or export it again".to_owned(),
        ..Finding::default()
    }
}
