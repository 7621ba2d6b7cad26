//! The header of a WAV file: format, channels, rate, and where the samples begin.

use std::io::{ErrorKind, Read, Seek, SeekFrom};

use super::error::NotAWav;

/// A recorder that does not know the length beforehand leaves it at 0 or near the largest number.
const UNKNOWN: u32 = u32::MAX - 255;
/// Formats of samples: whole numbers, floating point, and "look further down".
const PCM: u16 = 1;
const FLOAT: u16 = 3;
const EXTENSIBLE: u16 = 0xFFFE;

/// What stands before the samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Header {
    pub rate_hz: u32,
    pub channels: u16,
    pub is_float: bool,
    pub bits: u16,
    /// Bytes that a sample of one channel takes.
    pub bytes: u16,
    /// Where the first sample stands.
    pub begin: u64,
    /// Bytes of samples that are claimed; none if that was left open.
    pub claimed: Option<u64>,
}

/// Reads chunk by chunk up to the samples; chunks that are not known are passed over.
pub(super) fn read<R: Read + Seek>(name: &str, reader: &mut R) -> Result<Header, NotAWav> {
    let mut head = [0u8; 12];
    let got = fill(name, reader, &mut head)?;
    if !head.starts_with(b"RIFF") || (got == 12 && &head[8..] != b"WAVE") {
        return Err(NotAWav::OtherFile {
            name: name.to_owned(),
            begins: begins(&head[..got]),
        });
    }
    let mut format = None;
    loop {
        let mut chunk = [0u8; 8];
        if fill(name, reader, &mut chunk)? < chunk.len() {
            return Err(NotAWav::HeaderCut {
                name: name.to_owned(),
            });
        }
        let length = u32::from_le_bytes([chunk[4], chunk[5], chunk[6], chunk[7]]);
        // Chunks begin at even places.
        let mut skip = i64::from(length) + i64::from(length % 2);
        match &chunk[..4] {
            b"fmt " => {
                let mut body = [0u8; 40];
                let wanted = body.len().min(length as usize);
                if fill(name, reader, &mut body[..wanted])? < wanted {
                    return Err(NotAWav::HeaderCut {
                        name: name.to_owned(),
                    });
                }
                skip -= wanted as i64;
                format = Some(format_of(name, &body[..wanted])?);
            }
            b"data" => {
                let begin = reader.stream_position().map_err(|why| disk(name, why))?;
                let claimed = (length > 0 && length < UNKNOWN).then_some(u64::from(length));
                let header =
                    format.ok_or_else(|| contradicts(name, "samples stand before their format"))?;
                return Ok(Header {
                    begin,
                    claimed,
                    ..header
                });
            }
            _ => {}
        }
        reader
            .seek(SeekFrom::Current(skip))
            .map_err(|why| disk(name, why))?;
    }
}

fn format_of(name: &str, body: &[u8]) -> Result<Header, NotAWav> {
    let word = |at: usize| u16::from_le_bytes([body[at], body[at + 1]]);
    if body.len() < 16 {
        return Err(contradicts(
            name,
            &format!(
                "its format takes {} bytes; 16 at least were expected",
                body.len()
            ),
        ));
    }
    let format = match word(0) {
        EXTENSIBLE if body.len() >= 26 => word(24),
        other => other,
    };
    if format != PCM && format != FLOAT {
        return Err(NotAWav::Format {
            name: name.to_owned(),
            format: format_words(format),
        });
    }
    let (channels, frame, bits) = (word(2), word(12), word(14));
    let rate_hz = u32::from_le_bytes([body[4], body[5], body[6], body[7]]);
    if !(1..=2).contains(&channels) {
        return Err(NotAWav::Channels {
            name: name.to_owned(),
            channels,
        });
    }
    if rate_hz == 0 {
        return Err(contradicts(name, "it has 0 frames a second"));
    }
    if frame % channels != 0 || bits == 0 {
        return Err(contradicts(
            name,
            &format!("{channels} channels of {bits} bits are said to take {frame} bytes a frame"),
        ));
    }
    let header = Header {
        rate_hz,
        channels,
        is_float: format == FLOAT,
        bits,
        bytes: frame / channels,
        begin: 0,
        claimed: None,
    };
    Ok(header)
}

/// Reads until the buffer is full or the file ends; how many bytes were read.
fn fill<R: Read>(name: &str, reader: &mut R, buffer: &mut [u8]) -> Result<usize, NotAWav> {
    let mut filled = 0;
    while filled < buffer.len() {
        match reader.read(&mut buffer[filled..]) {
            Ok(0) => break,
            Ok(got) => filled += got,
            Err(why) if why.kind() == ErrorKind::Interrupted => {}
            Err(why) => return Err(disk(name, why)),
        }
    }
    Ok(filled)
}

pub(super) fn disk(name: &str, why: std::io::Error) -> NotAWav {
    NotAWav::Disk {
        name: name.to_owned(),
        why,
    }
}

fn contradicts(name: &str, why: &str) -> NotAWav {
    NotAWav::Header {
        name: name.to_owned(),
        why: why.to_owned(),
    }
}

fn format_words(format: u16) -> String {
    let says = match format {
        0x0002 | 0x0011 => " (ADPCM, compressed)",
        0x0006 => " (A-law, compressed)",
        0x0007 => " (µ-law, compressed)",
        0x0031 => " (GSM, compressed)",
        0x0050 | 0x0055 => " (MPEG, compressed)",
        _ => "",
    };
    format!("{format}{says}")
}

fn begins(head: &[u8]) -> String {
    let known: [(usize, &[u8], &str); 8] = [
        (0, b"ID3", "an MPEG sound's tag"),
        (0, b"fLaC", "a FLAC sound"),
        (0, b"OggS", "an Ogg sound"),
        (4, b"ftyp", "an MPEG-4 sound"),
        (
            0,
            b"RIFX",
            "`RIFX`, a WAV with its bytes the other way round",
        ),
        (0, b"RF64", "`RF64`, a WAV of more than 4 GB"),
        (0, b"FORM", "an AIFF sound"),
        (0, b"caff", "a Core Audio sound"),
    ];
    if head.is_empty() {
        return "nothing: it is empty".to_owned();
    }
    let found = known
        .iter()
        .find(|(at, mark, _)| head.get(*at..at + mark.len()) == Some(*mark));
    if let Some((_, _, says)) = found {
        return (*says).to_owned();
    }
    let letters: String = head.iter().take(4).map(|byte| char::from(*byte)).collect();
    if letters.chars().all(|letter| letter.is_ascii_graphic()) {
        return format!("`{letters}`");
    }
    let bytes: Vec<String> = head
        .iter()
        .take(4)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    format!("the bytes {}", bytes.join(" "))
}
