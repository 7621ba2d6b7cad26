//! Frames of a WAV file, block by block, as often as they are asked for.

use std::io::{ErrorKind, Read, Seek, SeekFrom};

use super::error::NotAWav;
use super::header::{self, Header, disk};

/// Bytes read at once.
const BLOCK: usize = 1 << 16;

/// A WAV file that can be played again and again from its beginning.
///
/// Read by our own few lines and not by `hound`, which writes our files: that one takes a file whose length
/// is off by a byte (a recorder that was switched off) for none at all, stumbles over chunks of an odd length, and
/// gives samples one by one. The tests read what it writes.
#[derive(Debug)]
pub struct Wav<R> {
    name: String,
    reader: R,
    header: Header,
    sample: Sample,
}

/// How a sample is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sample {
    Unsigned8,
    Signed16,
    Signed24,
    Signed32,
    Float32,
}

impl<R: Read + Seek> Wav<R> {
    /// Reads the header.
    ///
    /// # Errors
    /// Anything that is no WAV file of one or two channels of samples that are read.
    pub fn open(name: &str, mut reader: R) -> Result<Self, NotAWav> {
        let header = header::read(name, &mut reader)?;
        Ok(Self {
            name: name.to_owned(),
            reader,
            sample: sample_of(name, &header)?,
            header,
        })
    }

    /// Frames a second.
    #[must_use]
    pub fn rate_hz(&self) -> f64 {
        f64::from(self.header.rate_hz)
    }

    /// Channels: 1 or 2.
    #[must_use]
    pub fn channels(&self) -> usize {
        usize::from(self.header.channels)
    }

    /// Frames that the header claims; none if the recorder left that open. There may be fewer.
    #[must_use]
    pub fn claimed_frames(&self) -> Option<u64> {
        self.header
            .claimed
            .map(|bytes| bytes / self.frame_bytes() as u64)
    }

    /// Hands every frame from the beginning to the sink, interleaved, full scale being 1, until the file ends
    /// or the sink says `false`. A last frame that is not whole is left out.
    ///
    /// Whole numbers of more than 24 bits lose what is below.
    ///
    /// # Errors
    /// If the disk fails.
    pub fn play(&mut self, sink: &mut dyn FnMut(&[f32]) -> bool) -> Result<(), NotAWav> {
        let frame = self.frame_bytes();
        self.reader
            .seek(SeekFrom::Start(self.header.begin))
            .map_err(|why| disk(&self.name, why))?;
        let mut left = self.header.claimed.unwrap_or(u64::MAX);
        let (mut bytes, mut held) = (vec![0u8; BLOCK], 0);
        let mut block = Vec::with_capacity(BLOCK);
        loop {
            let room = (BLOCK - held).min(usize::try_from(left).unwrap_or(usize::MAX));
            let got = match self.reader.read(&mut bytes[held..held + room]) {
                Ok(got) => got,
                Err(why) if why.kind() == ErrorKind::Interrupted => continue,
                Err(why) => return Err(disk(&self.name, why)),
            };
            left -= got as u64;
            held += got;
            let whole = held / frame * frame;
            block.clear();
            self.sample.read(&bytes[..whole], &mut block);
            bytes.copy_within(whole..held, 0);
            held -= whole;
            if (!block.is_empty() && !sink(&block)) || got == 0 {
                return Ok(());
            }
        }
    }

    fn frame_bytes(&self) -> usize {
        usize::from(self.header.bytes) * self.channels()
    }
}

fn sample_of(name: &str, header: &Header) -> Result<Sample, NotAWav> {
    match (header.is_float, header.bits, header.bytes) {
        (false, 8, 1) => Ok(Sample::Unsigned8),
        (false, 16, 2) => Ok(Sample::Signed16),
        (false, 24, 3) => Ok(Sample::Signed24),
        (false, 32, 4) => Ok(Sample::Signed32),
        (true, 32, 4) => Ok(Sample::Float32),
        (_, bits, bytes) => Err(NotAWav::Bits {
            name: name.to_owned(),
            bits,
            bytes,
        }),
    }
}

impl Sample {
    /// Appends whole samples; bytes that are no whole sample are left.
    fn read(self, bytes: &[u8], block: &mut Vec<f32>) {
        const TO_32: f32 = 1.0 / (1u32 << 31) as f32;
        let (twos, threes, fours) = (
            bytes.as_chunks::<2>().0,
            bytes.as_chunks::<3>().0,
            bytes.as_chunks::<4>().0,
        );
        match self {
            Self::Unsigned8 => block.extend(bytes.iter().map(|b| (f32::from(*b) - 128.0) / 128.0)),
            Self::Signed16 => block.extend(
                twos.iter()
                    .map(|b| f32::from(i16::from_le_bytes(*b)) / 32_768.0),
            ),
            Self::Signed24 => {
                block.extend(
                    threes
                        .iter()
                        .map(|b| i32::from_le_bytes([0, b[0], b[1], b[2]]) as f32 * TO_32),
                );
            }
            Self::Signed32 => {
                block.extend(fours.iter().map(|b| i32::from_le_bytes(*b) as f32 * TO_32))
            }
            Self::Float32 => block.extend(fours.iter().map(|b| f32::from_le_bytes(*b))),
        }
    }
}
