//! A whole recording of ten minutes from a file: in little memory, whatever its length.
//!
//! One test in a file of its own, for it looks at the memory of its whole process.

use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;

use hound::{SampleFormat, WavSpec, WavWriter};
use whirlwright_counter::read::wav::Wav;
use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::recording::{RecordingBody, RecordingGiven, SpeedFrom, listen};
use whirlwright_workshop::spin::rehearsal::{Channel, Mark, Order, Rehearsal};

/// Mark and pick-up, 48 kHz.
fn stand(lasts_s: f64) -> Rehearsal {
    let tone = Order {
        order: 1.0,
        amplitude_fraction: 0.2,
        lead_deg: 37.0,
        with_square: true,
    };
    Rehearsal {
        seed: 10,
        rate_hz: 48_000.0,
        lasts_s,
        begin_rpm: 4000.0,
        end_rpm: 600.0,
        channels: vec![
            Channel {
                mark: Some(Mark::clean()),
                noise_fraction: 0.03,
                ..Channel::quiet()
            },
            Channel {
                orders: vec![tone],
                noise_fraction: 0.02,
                ..Channel::quiet()
            },
        ],
    }
}

fn write(path: &Path, stand: &Rehearsal) {
    let spec = WavSpec {
        channels: 2,
        sample_rate: 48_000,
        bits_per_sample: 16,
        sample_format: SampleFormat::Int,
    };
    let file = BufWriter::new(File::create(path).expect("a file"));
    let mut writer = WavWriter::new(file, spec).expect("a header");
    stand.play(4096, &mut |block| {
        for sample in block {
            writer
                .write_sample((sample * 32_767.0) as i16)
                .expect("a sample");
        }
        true
    });
    writer.finalize().expect("a whole file");
}

fn heard(path: &Path) -> Answer<RecordingBody> {
    let file = BufReader::new(File::open(path).expect("the file"));
    let mut wav = Wav::open("spin.wav", file).expect("a WAV");
    let given = RecordingGiven {
        claimed_frames: wav.claimed_frames(),
        ..RecordingGiven::new("spin.wav", wav.rate_hz(), wav.channels())
    };
    let answer = listen(&given, |sink| wav.play(sink)).expect("the disk holds");
    answer.unwrap_or_else(|refusal| panic!("{refusal}"))
}

/// The most memory this process ever held, in MB; none where the system does not say.
fn most_memory_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kilobytes: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kilobytes / 1000.0)
}

#[test]
fn measured_ten_minutes_are_heard_in_little_memory() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("spin.wav");
    let mut peaks = Vec::new();
    for lasts_s in [60.0, 600.0] {
        let stand = stand(lasts_s);
        write(&path, &stand);
        let body = heard(&path).body;
        assert_eq!(
            (body.speed_from, body.vibration_channel),
            (SpeedFrom::Pulses, Some(2))
        );
        assert!(
            (body.turn_count / stand.turn_count(lasts_s) - 1.0).abs() < 0.001,
            "{}",
            body.turn_count
        );
        let off = |time_s: f64, rpm: f64| (rpm / stand.speed_rpm(time_s) - 1.0).abs();
        assert!(
            body.track
                .iter()
                .all(|point| off(point.time_s, point.speed_rpm) < 0.001)
        );
        peaks.extend(most_memory_mb());
    }
    // The samples alone would be 230 MB; asked: under 100 MB, and no growth with what is only longer.
    if let [short, long] = peaks[..] {
        assert!(long < 100.0, "{long} MB");
        assert!(long - short < 20.0, "from {short} to {long} MB");
    }
}
