//! Recordings with known truth: what the spin station must hear in them, and when it must say no.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::recording::{
    BearingOrders, RecordingBody, RecordingGiven, RecordingRefusal, SpeedFrom, listen,
};
use whirlwright_workshop::spin::rehearsal::{Channel, Mark, Order, Rehearsal};

/// The pick-up of the cases: so much at full scale.
const FULL_SCALE_M_PER_S2: f64 = 20.0;

fn given(rehearsal: &Rehearsal) -> RecordingGiven {
    RecordingGiven::new("rehearsal", rehearsal.rate_hz, rehearsal.channels.len())
}

fn heard(
    given: &RecordingGiven,
    rehearsal: &Rehearsal,
) -> Result<Answer<RecordingBody>, RecordingRefusal> {
    let played: Result<_, std::convert::Infallible> = listen(given, |sink| {
        rehearsal.play(4096, sink);
        Ok(())
    });
    played.expect("an invented recording can always be played")
}

fn answer(given: &RecordingGiven, rehearsal: &Rehearsal) -> RecordingBody {
    match heard(given, rehearsal) {
        Ok(answer) => answer.body,
        Err(refusal) => panic!("{refusal}"),
    }
}

/// The largest error of the speed over the track, as a share of the true speed.
fn worst_speed(body: &RecordingBody, rehearsal: &Rehearsal) -> f64 {
    let error = |time_s: f64, rpm: f64| (rpm / rehearsal.speed_rpm(time_s) - 1.0).abs();
    body.track
        .iter()
        .map(|point| error(point.time_s, point.speed_rpm))
        .fold(0.0, f64::max)
}

/// Noise this far below a height, in decibels of amplitude.
fn below(height: f64, decibels: f64) -> f64 {
    height * 10f64.powf(-decibels / 20.0)
}

fn marked(rate_hz: f64, lasts_s: f64, begin_rpm: f64, end_rpm: f64, seed: u64) -> Rehearsal {
    Rehearsal {
        seed,
        rate_hz,
        lasts_s,
        begin_rpm,
        end_rpm,
        channels: Vec::new(),
    }
}

/// Mark and pick-up as at a test stand: 5 % missed, 2 % doubled, 20 dB, an orbit of 8 µm at 37°, a free wobble.
fn stand(rate_hz: f64, seed: u64) -> Rehearsal {
    let mut stand = marked(rate_hz, 20.0, 4010.0, 3300.0, seed);
    let mark = Mark {
        missed_fraction: 0.05,
        doubled_fraction: 0.02,
        ..Mark::clean()
    };
    let orbit = stand.orbit(8.0, 37.0, FULL_SCALE_M_PER_S2);
    let wobble = Order {
        order: 1.19149,
        amplitude_fraction: 0.03,
        lead_deg: 80.0,
        with_square: false,
    };
    stand.channels = vec![
        Channel {
            mark: Some(mark),
            noise_fraction: below(mark.height_fraction, 20.0),
            ..Channel::quiet()
        },
        Channel {
            orders: vec![orbit, wobble],
            noise_fraction: below(orbit.amplitude_fraction, 20.0),
            ..Channel::quiet()
        },
    ];
    stand
}

#[test]
fn law_pulses_missed_and_doubled_still_give_speed_and_eccentricity() {
    for (rate_hz, seed) in [
        (8000.0, 1),
        (11_025.0, 2),
        (44_100.0, 3),
        (48_000.0, 4),
        (96_000.0, 5),
    ] {
        let stand = stand(rate_hz, seed);
        let given = RecordingGiven {
            full_scale_m_per_s2: Some(FULL_SCALE_M_PER_S2),
            inertia_ratio: Some(1.0 / 1.19149),
            ..given(&stand)
        };
        let body = answer(&given, &stand);
        assert_eq!(
            (body.speed_from, body.mark_channel, body.vibration_channel),
            (SpeedFrom::Pulses, 1, Some(2))
        );
        // Asked: 0.1 % of the speed, 1 % of the eccentricity; the angle to what 1 % across it would turn it.
        let worst = worst_speed(&body, &stand);
        assert!(worst < 0.001, "{rate_hz} Hz: speed off by {worst}");
        let (um, deg) = (
            body.eccentricity_um.expect("scale"),
            body.angle_deg.expect("mark"),
        );
        assert!((um / 8.0 - 1.0).abs() < 0.01, "{rate_hz} Hz: {um} µm");
        assert!(
            (deg - 37.0).abs() < 0.01f64.to_degrees(),
            "{rate_hz} Hz: {deg}°"
        );
        // 5 % and 2 % of some 1220 pulses, within four standard deviations of a count.
        let repairs = &body.repairs;
        assert!((33..=89).contains(&repairs.missed_count), "{repairs:?}");
        assert!((5..=44).contains(&repairs.doubled_count), "{repairs:?}");
    }
}

#[test]
fn law_a_tone_in_noise_is_followed_from_8000_to_300_rpm() {
    for (rate_hz, seed) in [(8000.0, 1), (22_050.0, 2), (48_000.0, 3)] {
        let mut sound = marked(rate_hz, 40.0, 8000.0, 300.0, seed);
        let tone = |order: f64, amplitude_fraction: f64| Order {
            order,
            amplitude_fraction,
            lead_deg: 50.0,
            with_square: false,
        };
        let orders = vec![tone(1.0, 0.2), tone(2.0, 0.12), tone(3.0, 0.05)];
        // 10 dB: the noise's power is a tenth of the first tone's, whose root mean square is 0.2/√2.
        let noise_fraction = below(0.2 / 2f64.sqrt(), 10.0);
        sound.channels = vec![Channel {
            orders,
            noise_fraction,
            ..Channel::quiet()
        }];
        let body = answer(&given(&sound), &sound);
        assert_eq!(body.speed_from, SpeedFrom::Tone);
        assert!(
            body.end_s - body.begin_s > 38.0,
            "only {} to {} s",
            body.begin_s,
            body.end_s
        );
        let worst = worst_speed(&body, &sound);
        assert!(worst < 0.01, "{rate_hz} Hz: speed off by {worst}");
        assert_eq!((body.eccentricity_um, body.angle_deg), (None, None));
    }
}

#[test]
fn law_neither_half_nor_double_speed_is_told_in_200_recordings() {
    let mut wrong = Vec::new();
    for seed in 0..200u64 {
        let sound = chance_sound(seed);
        match heard(&given(&sound), &sound) {
            Ok(answer) => {
                let worst = worst_speed(&answer.body, &sound);
                if worst > 0.01 {
                    wrong.push((seed, worst));
                }
            }
            Err(refusal) => wrong.push((
                seed,
                if refusal.to_string().is_empty() {
                    0.0
                } else {
                    -1.0
                },
            )),
        }
    }
    let told: Vec<&(u64, f64)> = wrong.iter().filter(|(_, worst)| *worst > 0.0).collect();
    // Asked: at most one wrong speed in 200; and silence is no way to keep that.
    assert!(told.len() <= 1, "{told:?}");
    assert!(wrong.len() <= 10, "refused: {wrong:?}");
}

/// A sound of any first speed, overtones of any strength up to twice the tone's own, 10 dB under it in noise.
fn chance_sound(seed: u64) -> Rehearsal {
    let mut draws = whirlwright_kit::random::SplitMix64::new(seed.wrapping_mul(977));
    let begin_rpm = 800.0 * 10f64.powf(draws.uniform());
    let mut sound = marked(
        8000.0,
        8.0,
        begin_rpm,
        begin_rpm * (0.5 + 0.45 * draws.uniform()),
        seed,
    );
    let orders: Vec<Order> = (1..=4)
        .map(|order| Order {
            order: f64::from(order),
            amplitude_fraction: if order == 1 {
                0.1
            } else {
                0.2 * draws.uniform().powi(2)
            },
            lead_deg: 360.0 * draws.uniform(),
            with_square: false,
        })
        .collect();
    let noise_fraction = below(0.1 / 2f64.sqrt(), 10.0);
    sound.channels = vec![Channel {
        orders,
        noise_fraction,
        ..Channel::quiet()
    }];
    sound
}

#[test]
fn law_stereo_mixed_up_is_noticed_and_read_the_right_way() {
    let mut stand = stand(16_000.0, 9);
    stand.channels.reverse();
    let given = RecordingGiven {
        full_scale_m_per_s2: Some(FULL_SCALE_M_PER_S2),
        mark_channel: Some(1),
        vibration_channel: Some(2),
        ..given(&stand)
    };
    let body = answer(&given, &stand);
    assert_eq!((body.mark_channel, body.vibration_channel), (2, Some(1)));
    assert!(
        body.remarks.iter().any(|says| says.contains("channel 2")),
        "{:?}",
        body.remarks
    );
    assert!((body.eccentricity_um.expect("scale") / 8.0 - 1.0).abs() < 0.01);
}

#[test]
fn law_one_channel_of_pulses_gives_the_speed_and_no_eccentricity() {
    for height_fraction in [0.6, -0.6] {
        let mut light = marked(16_000.0, 12.0, 3000.0, 900.0, 4);
        let mark = Mark {
            height_fraction,
            width_fraction: 0.01,
            ..Mark::clean()
        };
        light.channels = vec![Channel {
            mark: Some(mark),
            noise_fraction: 0.03,
            ..Channel::quiet()
        }];
        let body = answer(&given(&light), &light);
        assert_eq!(
            (body.speed_from, body.vibration_channel),
            (SpeedFrom::Pulses, None)
        );
        assert!(worst_speed(&body, &light) < 0.001);
        assert!(body.orders.is_empty() && body.eccentricity_um.is_none());
        assert!(
            (body.turn_count - light.turn_count(12.0)).abs() < 2.0,
            "{}",
            body.turn_count
        );
    }
}

#[test]
fn law_the_track_of_a_spin_down_is_a_log_of_it() {
    let mut light = marked(16_000.0, 30.0, 3000.0, 900.0, 4);
    light.channels = vec![Channel {
        mark: Some(Mark::clean()),
        noise_fraction: 0.03,
        ..Channel::quiet()
    }];
    let body = answer(&given(&light), &light);
    let log = body.log().expect("it slows all the time");
    assert_eq!(log.times_s.len(), body.track.len());
    for (time_s, speed_rad_s) in log.times_s.iter().zip(&log.speeds_rad_s) {
        let rpm = speed_rad_s * 60.0 / std::f64::consts::TAU;
        assert!((rpm / light.speed_rpm(*time_s) - 1.0).abs() < 0.001);
    }
    assert!(log.speed_sd_rad_s.is_some_and(|sd| sd > 0.0 && sd < 1.0));
}

#[test]
fn law_a_silent_or_equal_second_channel_changes_nothing() {
    let mut sound = marked(16_000.0, 10.0, 4000.0, 2500.0, 8);
    let tone = Order {
        order: 1.0,
        amplitude_fraction: 0.1,
        lead_deg: 0.0,
        with_square: false,
    };
    let voice = Channel {
        orders: vec![tone],
        noise_fraction: 0.02,
        ..Channel::quiet()
    };
    for silent_first in [false, true] {
        let mut channels = vec![voice.clone(), Channel::quiet()];
        if silent_first {
            channels.reverse();
        }
        sound.channels = channels;
        let body = answer(&given(&sound), &sound);
        let own = 1 + usize::from(silent_first);
        assert_eq!(
            (body.mark_channel, body.vibration_channel),
            (own, Some(own))
        );
        assert!(worst_speed(&body, &sound) < 0.01 && body.orders[0].found);
    }
    // The same on both, without noise of their own.
    let twin = Channel {
        noise_fraction: 0.0,
        ..voice
    };
    sound.channels = vec![twin.clone(), twin];
    let body = answer(&given(&sound), &sound);
    assert!(
        body.remarks.iter().any(|says| says.contains("the same")),
        "{:?}",
        body.remarks
    );
}

#[test]
fn law_a_file_cut_off_or_too_long_is_used_as_far_as_it_goes() {
    let mut light = marked(8000.0, 10.0, 3000.0, 2500.0, 4);
    light.channels = vec![Channel {
        mark: Some(Mark::clean()),
        ..Channel::quiet()
    }];
    let cut = RecordingGiven {
        claimed_frames: Some(320_000),
        ..given(&light)
    };
    let body = answer(&cut, &light);
    assert!(
        (body.repairs.cut_off_s - 30.0).abs() < 1e-9,
        "{:?}",
        body.repairs
    );
    assert!(body.remarks.iter().any(|says| says.contains("cut off")));
    light.lasts_s = 605.0;
    light.end_rpm = 400.0;
    let body = answer(&given(&light), &light);
    assert_eq!(body.heard_s, 600.0);
    assert!(body.end_s < 600.0 && worst_speed(&body, &light) < 0.001);
    assert!(
        body.remarks
            .iter()
            .any(|says| says.contains("first 10 minutes"))
    );
}

#[test]
fn law_two_marks_a_turn_are_no_double_speed() {
    let mut light = marked(16_000.0, 10.0, 3000.0, 1500.0, 4);
    let mark = Mark {
        per_turn: 2,
        ..Mark::clean()
    };
    light.channels = vec![Channel {
        mark: Some(mark),
        noise_fraction: 0.03,
        ..Channel::quiet()
    }];
    let stated = RecordingGiven {
        pulses_per_turn: 2,
        ..given(&light)
    };
    assert!(worst_speed(&answer(&stated, &light), &light) < 0.001);
    // The pick-up gives it away when nobody says so.
    let orbit = light.orbit(8.0, 10.0, FULL_SCALE_M_PER_S2);
    light.channels.push(Channel {
        orders: vec![orbit],
        noise_fraction: 0.002,
        ..Channel::quiet()
    });
    let refused = heard(&given(&light), &light).map(|answer| answer.headline);
    assert!(
        matches!(refused, Err(RecordingRefusal::NotEnough { .. })),
        "{refused:?}"
    );
}

#[test]
fn law_a_standing_hum_does_not_hide_a_slowing_tone() {
    let mut sound = marked(16_000.0, 20.0, 5000.0, 2500.0, 6);
    let tone = Order {
        order: 1.0,
        amplitude_fraction: 0.05,
        lead_deg: 0.0,
        with_square: false,
    };
    sound.channels = vec![Channel {
        orders: vec![tone],
        noise_fraction: 0.01,
        ..Channel::quiet()
    }];
    let hummed = |sink: &mut dyn FnMut(&[f32]) -> bool| {
        let mut n = 0.0;
        sound.play(1000, &mut |block| {
            let hum = |sample: &f32| {
                n += 1.0;
                sample + 0.2 * (2.0 * std::f32::consts::PI * 50.0 * n / 16_000.0).sin()
            };
            let block: Vec<f32> = block.iter().map(hum).collect();
            sink(&block)
        });
        Ok::<(), std::convert::Infallible>(())
    };
    let body = listen(&given(&sound), hummed)
        .expect("played")
        .expect("a tone")
        .body;
    assert!(
        worst_speed(&body, &sound) < 0.01,
        "{:?}",
        body.track.first()
    );
}

fn plain(
    seconds: f64,
    rate_hz: f64,
    sample: impl Fn(f64) -> f64,
) -> Result<Answer<RecordingBody>, RecordingRefusal> {
    let samples: Vec<f32> = (0..(seconds * rate_hz) as usize)
        .map(|n| sample(n as f64 / rate_hz) as f32)
        .collect();
    let played: Result<_, std::convert::Infallible> =
        listen(&RecordingGiven::new("plain", rate_hz, 1), |sink| {
            let mut blocks = samples.chunks(1024);
            while blocks.next().is_some_and(&mut *sink) {}
            Ok(())
        });
    played.expect("played")
}

#[test]
fn law_what_is_no_spin_is_refused_in_words() {
    assert!(matches!(
        plain(10.0, 8000.0, |_| 0.0),
        Err(RecordingRefusal::Silent { .. })
    ));
    assert!(matches!(
        plain(10.0, 8000.0, |_| 0.3),
        Err(RecordingRefusal::Silent { .. })
    ));
    let tone = |t: f64| 0.3 * (std::f64::consts::TAU * 60.0 * t).sin();
    assert!(matches!(
        plain(2.9, 8000.0, tone),
        Err(RecordingRefusal::TooShort { .. })
    ));
    let broken = |t: f64| if t > 4.0 { f64::NAN } else { tone(t) };
    assert!(matches!(
        plain(5.0, 8000.0, broken),
        Err(RecordingRefusal::Question(_))
    ));
}

#[test]
fn law_noise_is_no_steady_tone_in_100_recordings() {
    for seed in 0..100 {
        let mut noise = marked(8000.0, 6.0, 3000.0, 2000.0, seed);
        noise.channels = vec![Channel {
            noise_fraction: 0.2,
            ..Channel::quiet()
        }];
        let refused = heard(&given(&noise), &noise).map(|answer| answer.headline);
        assert!(
            matches!(refused, Err(RecordingRefusal::NoSteadyTone { .. })),
            "{seed}: {refused:?}"
        );
    }
}

#[test]
fn law_music_is_no_steady_tone() {
    // Notes of a scale with overtones, in chords of three, each struck and dying away.
    let steps = [0, 4, 7, 5, 9, 2, 11, 7, 4, 12, 0, 5, 3, 8, 1, 10];
    for (seed, note_s) in [(1usize, 0.25), (2, 0.4), (3, 0.5), (4, 0.8), (5, 1.2)] {
        let music = |t: f64| {
            let note = (t / note_s) as usize;
            let into = t - note as f64 * note_s;
            let voice = |voice: usize| {
                let step = steps[(note * (seed + voice) + 5 * voice) % steps.len()];
                let hertz = 65.4 * 2f64.powf(f64::from(step) / 12.0 + voice as f64 / 2.0);
                (1..=5)
                    .map(|n| {
                        (std::f64::consts::TAU * hertz * f64::from(n) * t).sin() / f64::from(n)
                    })
                    .sum::<f64>()
            };
            0.1 * (-2.0 * into / note_s).exp() * (0..3).map(voice).sum::<f64>()
        };
        let refused = plain(15.0, 11_025.0, music).map(|answer| answer.headline);
        assert!(
            matches!(refused, Err(RecordingRefusal::NoSteadyTone { .. })),
            "{note_s}: {refused:?}"
        );
    }
}

#[test]
fn law_a_clipped_vibration_has_no_eccentricity_and_says_so() {
    let mut stand = stand(16_000.0, 3);
    stand.channels[1].clip_fraction = 1.0;
    for order in &mut stand.channels[1].orders {
        order.amplitude_fraction *= 20.0;
    }
    let given = RecordingGiven {
        full_scale_m_per_s2: Some(FULL_SCALE_M_PER_S2),
        ..given(&stand)
    };
    let body = answer(&given, &stand);
    assert!(body.repairs.clipped_share > 0.1, "{:?}", body.repairs);
    assert_eq!(body.eccentricity_um, None);
    assert!(body.remarks.iter().any(|says| says.contains("clipped")));
    assert!(worst_speed(&body, &stand) < 0.001);
}

#[test]
fn law_blocks_of_any_size_give_the_same_answer() {
    let stand = stand(8000.0, 12);
    let given = given(&stand);
    let with = |block: usize| {
        let played: Result<_, std::convert::Infallible> = listen(&given, |sink| {
            // Odd blocks cut frames of two channels in half.
            let mut all: Vec<f32> = Vec::new();
            stand.play(1 << 20, &mut |part| {
                all.extend_from_slice(part);
                true
            });
            let mut blocks = all.chunks(block);
            while blocks.next().is_some_and(&mut *sink) {}
            Ok(())
        });
        played.expect("played").expect("an answer").body
    };
    assert_eq!(with(999), with(32_768));
}

#[test]
fn law_a_bearing_is_heard_at_its_orders() {
    let mut stand = stand(16_000.0, 21);
    let orders = BearingOrders::of(8, 2.0, 9.525, 0.0);
    let tone = |order: f64, amplitude_fraction: f64| Order {
        order,
        amplitude_fraction,
        lead_deg: 5.0,
        with_square: false,
    };
    stand.channels[1].orders.extend([
        tone(orders.outer_race_order, 0.01),
        tone(orders.cage_order, 0.005),
    ]);
    let given = RecordingGiven {
        full_scale_m_per_s2: Some(FULL_SCALE_M_PER_S2),
        inertia_ratio: Some(1.0 / 1.19149),
        bearing: Some(orders),
        ..given(&stand)
    };
    let body = answer(&given, &stand);
    let found = |name: &str| {
        body.orders
            .iter()
            .find(|line| line.name.contains(name))
            .expect("asked for")
            .clone()
    };
    let (outer, cage, inner) = (found("outer"), found("cage"), found("inner"));
    // Noise in a window of 64 turns scatters an amplitude by its own tenth at most; over 19 windows a fiftieth.
    assert!(
        (outer.amplitude_fraction / 0.01 - 1.0).abs() < 0.05,
        "{outer:?}"
    );
    assert!(
        (cage.amplitude_fraction / 0.005 - 1.0).abs() < 0.05,
        "{cage:?}"
    );
    assert!(outer.found && cage.found && !inner.found, "{inner:?}");
}
