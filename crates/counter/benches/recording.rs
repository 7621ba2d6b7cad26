//! A recording of ten minutes at 48 kHz and 16 bits, from the file to the answer: asked is less than 3 s and
//! 100 MB.
//!
//! Baseline: the same file's kind by SciPy (`find_peaks`, a smoothing spline, least squares over the angle),
//! `validation/twin/recording/scipy_recording.py`, whose figures stand in `scipy_recording.txt` beside it.

#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    reason = "a bench prints what it measured"
)]

use std::fs::File;
use std::io::{BufReader, BufWriter};
use std::path::Path;
use std::time::Instant;

use hound::{SampleFormat, WavSpec, WavWriter};
use whirlwright_counter::read::wav::Wav;
use whirlwright_workshop::spin::recording::{RecordingGiven, listen};
use whirlwright_workshop::spin::rehearsal::{Channel, Mark, Order, Rehearsal};

const LASTS_S: f64 = 600.0;
const ROUNDS: usize = 3;

fn write(path: &Path, channels: Vec<Channel>) {
    let count = channels.len() as u16;
    let stand = Rehearsal {
        seed: 1,
        rate_hz: 48_000.0,
        lasts_s: LASTS_S,
        begin_rpm: 4000.0,
        end_rpm: 600.0,
        channels,
    };
    let spec = WavSpec {
        channels: count,
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

fn hear(path: &Path) -> String {
    let file = BufReader::new(File::open(path).expect("the file"));
    let mut wav = Wav::open("spin.wav", file).expect("a WAV");
    let given = RecordingGiven::new("spin.wav", wav.rate_hz(), wav.channels());
    let answer = listen(&given, |sink| wav.play(sink)).expect("the disk holds");
    answer.map_or_else(|refusal| refusal.to_string(), |answer| answer.headline)
}

/// Seconds of processor this thread has had; none where the system does not say.
fn processor_s() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = status.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds * 1e-9)
}

fn most_memory_mb() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<f64>().ok());
    kilobytes.map_or("not known".to_owned(), |kilobytes| {
        format!("{:.0} MB", kilobytes / 1000.0)
    })
}

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("spin.wav");
    let tone = |order: f64, amplitude_fraction: f64| Order {
        order,
        amplitude_fraction,
        lead_deg: 20.0,
        with_square: false,
    };
    let light = Channel {
        mark: Some(Mark::clean()),
        noise_fraction: 0.03,
        ..Channel::quiet()
    };
    let sound = Channel {
        orders: vec![tone(1.0, 0.2), tone(2.0, 0.1)],
        noise_fraction: 0.1,
        ..Channel::quiet()
    };
    let cases = [
        ("mark alone", vec![light.clone()]),
        ("sound alone", vec![sound.clone()]),
        ("mark and pick-up", vec![light, sound]),
    ];
    for (name, channels) in cases {
        write(&path, channels);
        let (mut times, mut processor) = (Vec::new(), Vec::new());
        let mut says = String::new();
        for _ in 0..ROUNDS {
            let (start, before) = (Instant::now(), processor_s());
            says = hear(&path);
            times.push(start.elapsed().as_secs_f64());
            processor.extend(
                processor_s()
                    .zip(before)
                    .map(|(after, before)| after - before),
            );
        }
        let least = |of: &[f64]| of.iter().copied().fold(f64::INFINITY, f64::min);
        println!(
            "{name:<18} {:.2} s, of it {:.2} s of one processor (best of {ROUNDS}); process at most {}: {says}",
            least(&times),
            least(&processor),
            most_memory_mb()
        );
    }
}
