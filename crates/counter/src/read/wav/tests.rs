//! Sound files that are read, and those that are not, each with its reason.

use std::io::Cursor;

use hound::{SampleFormat, WavSpec, WavWriter};

use super::{NotAWav, Wav};

const RATE: u32 = 8000;

/// A file of `count` frames: a slow saw on every channel, in steps of an eighth of full scale.
fn file(channels: u16, bits: u16, format: SampleFormat, count: i32) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let spec = WavSpec {
        channels,
        sample_rate: RATE,
        bits_per_sample: bits,
        sample_format: format,
    };
    let mut writer = WavWriter::new(&mut bytes, spec).expect("a header");
    for n in 0..count * i32::from(channels) {
        let eighth = n % 16 - 8;
        match format {
            SampleFormat::Float => writer.write_sample(eighth as f32 / 8.0),
            SampleFormat::Int => writer.write_sample(eighth << (bits - 4)),
        }
        .expect("a sample");
    }
    writer.finalize().expect("a file");
    bytes.into_inner()
}

fn played(bytes: &[u8]) -> Result<Vec<f32>, NotAWav> {
    let mut wav = Wav::open("spin.wav", Cursor::new(bytes))?;
    let mut all = Vec::new();
    wav.play(&mut |block| {
        all.extend_from_slice(block);
        true
    })?;
    Ok(all)
}

fn refused(bytes: &[u8]) -> String {
    played(bytes)
        .map(|samples| samples.len())
        .expect_err("no WAV")
        .to_string()
}

#[test]
fn reads_every_size_of_sample_to_the_same_values() {
    let saw: Vec<f32> = (0..60_000).map(|n| (n % 16 - 8) as f32 / 8.0).collect();
    let kinds = [8, 16, 24, 32].map(|bits| (bits, SampleFormat::Int));
    for (bits, format) in kinds.into_iter().chain([(32, SampleFormat::Float)]) {
        for channels in [1, 2] {
            let bytes = file(channels, bits, format, 60_000 / i32::from(channels));
            let wav = Wav::open("spin.wav", Cursor::new(&bytes)).expect("a WAV");
            assert_eq!(
                (wav.rate_hz(), wav.channels()),
                (8000.0, usize::from(channels))
            );
            assert_eq!(wav.claimed_frames(), Some(60_000 / u64::from(channels)));
            // Eighths of full scale are exact in every one of these formats.
            assert_eq!(
                played(&bytes).expect("a WAV"),
                saw,
                "{bits} bits, {channels} channels"
            );
        }
    }
}

#[test]
fn reads_again_from_the_beginning_and_stops_when_told() {
    let bytes = file(2, 16, SampleFormat::Int, 50_000);
    let mut wav = Wav::open("spin.wav", Cursor::new(&bytes)).expect("a WAV");
    let mut heard = [0, 0, 0];
    for (round, heard) in heard.iter_mut().enumerate() {
        let mut sink = |block: &[f32]| {
            *heard += block.len();
            round != 1
        };
        wav.play(&mut sink).expect("played");
    }
    assert_eq!((heard[0], heard[2]), (100_000, 100_000));
    assert!(heard[1] < 40_000, "{heard:?}");
}

#[test]
fn reads_what_is_there_of_a_file_that_was_cut_off_or_left_open() {
    let whole = file(2, 24, SampleFormat::Int, 9000);
    // Cut in the middle of a sample: the frames before it are given, and the header still claims all.
    let cut = &whole[..whole.len() - 3001];
    let wav = Wav::open("spin.wav", Cursor::new(cut)).expect("a WAV");
    assert_eq!(wav.claimed_frames(), Some(9000));
    assert_eq!(
        played(cut).expect("a WAV").len(),
        2 * (9000 - 3001usize.div_ceil(6))
    );
    // A recorder that was switched off leaves the length at nothing or at the largest number.
    let at = whole
        .windows(4)
        .position(|four| four == b"data")
        .expect("a chunk")
        + 4;
    for left_open in [0u32, u32::MAX] {
        let mut open = whole.clone();
        open[at..at + 4].copy_from_slice(&left_open.to_le_bytes());
        assert_eq!(
            Wav::open("spin.wav", Cursor::new(&open))
                .expect("a WAV")
                .claimed_frames(),
            None
        );
        assert_eq!(played(&open).expect("a WAV").len(), 18_000);
    }
}

#[test]
fn reads_past_chunks_that_are_not_known_whatever_their_length() {
    let whole = file(1, 16, SampleFormat::Int, 100);
    for length in [0u8, 1, 7, 8] {
        let mut more = whole[..12].to_vec();
        more.extend_from_slice(b"LIST");
        more.extend_from_slice(&[length, 0, 0, 0]);
        // A chunk of an odd length is filled up to an even one.
        more.extend(std::iter::repeat_n(b'x', usize::from(length + length % 2)));
        more.extend_from_slice(&whole[12..]);
        assert_eq!(
            played(&more).expect("a WAV"),
            played(&whole).expect("a WAV"),
            "{length}"
        );
    }
}

#[test]
fn refuses_what_is_no_wav_and_says_what_it_is() {
    assert!(refused(b"").contains("it is empty"));
    assert!(refused(b"ID3\x04rest of a sound").contains("MPEG"));
    assert!(refused(b"fLaC....").contains("FLAC"));
    assert!(refused(b"\0\0\0\x18ftypM4A ").contains("MPEG-4"));
    assert!(refused(b"time_s;speed_rpm\n0;4000\n").contains("`time`"));
    assert!(refused(&[0xff, 0xd8, 0xff, 0xe0, 1, 2]).contains("ff d8 ff e0"));
}

#[test]
fn refuses_a_header_that_breaks_off_or_says_nonsense() {
    let whole = file(1, 16, SampleFormat::Int, 100);
    for length in [4, 9, 12, 16, 20, 30, 36, 40, 43] {
        let says = refused(&whole[..length]);
        assert!(says.contains("ends within its header"), "{length}: {says}");
    }
    let with = |at: usize, bytes: &[u8]| {
        let mut file = whole.clone();
        file[at..at + bytes.len()].copy_from_slice(bytes);
        refused(&file)
    };
    // The format chunk of a plain file: format at 20, channels at 22, frames a second at 24, bits at 34.
    assert!(with(22, &[0, 0]).contains("0 channels"));
    assert!(with(20, &[0x02, 0]).contains("ADPCM"));
    assert!(with(20, &[0x55, 0]).contains("MPEG, compressed"));
    assert!(
        with(34, &[0, 0]).contains("header of spin.wav"),
        "{}",
        with(34, &[0, 0])
    );
    let many = file(3, 16, SampleFormat::Int, 100);
    assert!(refused(&many).contains("3 channels; 1 or 2 were expected"));
}

#[test]
fn reads_any_bytes_after_a_good_header_without_a_panic() {
    let whole = file(2, 32, SampleFormat::Float, 50);
    for at in 0..whole.len() {
        for byte in [0, 1, 0x7f, 0xff] {
            let mut spoilt = whole.clone();
            spoilt[at] = byte;
            // Any answer will do, as long as it is one.
            if let Err(error) = played(&spoilt) {
                assert!(error.to_string().contains("spin.wav"), "{error}");
            }
        }
    }
}
