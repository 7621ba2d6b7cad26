//! The demo's recording: a spin that never happened, as a sound file.

use std::io::Cursor;

use whirlwright_workshop::spin::rehearsal::{Channel, Mark, Order, Rehearsal};

use crate::error::Trouble;

/// Frames a second: enough for the races of a small bearing at throwing speed.
const RATE_HZ: u32 = 8_000;

/// A recording of 20 s: the mark of a light sensor on the left, a pick-up of 20 m/s² full scale on the right.
///
/// # Errors
/// It could not be written down.
pub fn recording() -> Result<Vec<u8>, Trouble> {
    let told =
        |why: hound::Error| Trouble::Ours(format!("cannot make the demo's recording: {why}"));
    let spec = hound::WavSpec {
        channels: 2,
        sample_rate: RATE_HZ,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).map_err(told)?;
    let mut wrong = None;
    rehearsal().play(4096, &mut |block| {
        for sample in block {
            let whole = (sample.clamp(-1.0, 1.0) * f32::from(i16::MAX)).round() as i16;
            if let Err(why) = writer.write_sample(whole) {
                wrong = Some(why);
            }
        }
        wrong.is_none()
    });
    wrong.map_or(Ok(()), Err).map_err(told)?;
    writer.finalize().map_err(told)?;
    Ok(bytes.into_inner())
}

/// What is on it: an orbit of 8 µm at 37° from the mark, a little free wobble, the outer race, noise.
fn rehearsal() -> Rehearsal {
    let line = |order, amplitude_fraction| Order {
        order,
        amplitude_fraction,
        lead_deg: 0.0,
        with_square: true,
    };
    let mut rehearsal = Rehearsal {
        seed: 20_261_125,
        rate_hz: f64::from(RATE_HZ),
        lasts_s: 20.0,
        begin_rpm: 3900.0,
        end_rpm: 3350.0,
        channels: Vec::new(),
    };
    let orbit = rehearsal.orbit(8.0, 37.0, 20.0);
    let mark = Mark {
        missed_fraction: 0.02,
        doubled_fraction: 0.01,
        ..Mark::clean()
    };
    rehearsal.channels = vec![
        Channel {
            mark: Some(mark),
            noise_fraction: 0.02,
            ..Channel::quiet()
        },
        Channel {
            orders: vec![orbit, line(1.101, 0.012), line(3.16, 0.02)],
            noise_fraction: 0.02,
            ..Channel::quiet()
        },
    ];
    rehearsal
}
