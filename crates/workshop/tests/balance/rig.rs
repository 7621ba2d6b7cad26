//! A rig that is not there: readings of a free rotor, and cases as text.

use std::collections::BTreeMap;

use whirlwright_kit::complex_fit::Complex;
use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::balance::given::*;
use whirlwright_workshop::part::{AngleSense, Unbalance};

pub type Vector = Complex<f64>;

pub fn polar(size: f64, angle_deg: f64) -> Vector {
    Vector::from_polar(size, angle_deg.to_radians())
}

pub fn vector(u: Unbalance) -> Vector {
    polar(u.mass_distance_g_mm, u.angle_deg)
}

pub fn as_reading(v: Vector) -> ReadingVector {
    ReadingVector {
        amplitude_value: v.norm(),
        phase_deg: v.arg().to_degrees().rem_euclid(360.0),
    }
}

pub fn as_vector(r: ReadingVector) -> Vector {
    polar(r.amplitude_value, r.phase_deg)
}

/// `170@112`.
pub fn pair(text: &str) -> (f64, f64) {
    let (size, angle) = text.split_once('@').expect("a size at an angle");
    (
        size.parse().expect("a number"),
        angle.parse().expect("a number"),
    )
}

pub fn reading(text: &str) -> ReadingVector {
    let (amplitude_value, phase_deg) = pair(text);
    ReadingVector {
        amplitude_value,
        phase_deg,
    }
}

pub fn run(
    name: &str,
    trial: Option<(usize, f64, f64)>,
    readings: Vec<Vec<ReadingVector>>,
) -> RunGiven {
    let added = trial.map(|(plane, mass_g, angle_deg)| AddedMass {
        plane,
        mass_g,
        angle_deg,
        radius_mm: None,
    });
    RunGiven {
        name: name.to_owned(),
        slow_roll: false,
        speed_rpm: 1500.0,
        added: added.into_iter().collect(),
        stays_on: false,
        readings,
    }
}

/// Planes at radius 1 mm, so that g·mm and g are one number; pick-ups as many as the runs have.
pub fn given(planes: usize, runs: Vec<RunGiven>, noise: Option<Noise>) -> CorrectGiven {
    let sensors = runs.first().map_or(0, |r| r.readings.len());
    CorrectGiven {
        rotor: Rotor {
            name: "reference piece".to_owned(),
            mass_g: 66.0,
            centre_mm: 0.0,
            inertia: Some(Inertia {
                polar_g_mm2: 28_000.0,
                transverse_g_mm2: 23_500.0,
            }),
            rim_radius_mm: Some(28.0),
        },
        speed_rpm: Some(5000.0),
        limit_g_mm: Some(0.1),
        grade_mm_per_s: None,
        sense: AngleSense::WithRotation,
        planes: (0..planes)
            .map(|n| PlaneGiven {
                name: format!("plane {}", n + 1),
                x_mm: (planes == 2).then_some(35.0 * n as f64 - 17.5),
                radius_mm: 1.0,
                limit_g_mm: None,
            })
            .collect(),
        readings: Readings::Phased(PhasedGiven {
            unit: "µm".to_owned(),
            phase_sense: AngleSense::WithRotation,
            sensors: (0..sensors)
                .map(|n| SensorGiven {
                    name: format!("pick-up {}", n + 1),
                    x_mm: None,
                })
                .collect(),
            runs,
            noise,
            mount: None,
            phases_are_degrees: false,
        }),
        work: None,
        clocking: None,
        seed: 1,
    }
}

/// First run and one trial a plane of a free rotor of 66 g: every pick-up reads the way of its place along
/// the axle, `−(S/M − C x / (Ip − It))`, through a gain of its own.
pub fn free_rotor_runs(
    truth: &[Vector; 2],
    sensors: usize,
    repeats: usize,
    stays: bool,
    change: &mut dyn FnMut(Vector, usize) -> Vector,
) -> Vec<RunGiven> {
    let places = [-20.0, 22.0, 4.0, -9.0];
    let trials = [(0usize, 1.1, 15.0), (1, 0.9, 290.0)];
    let planes = [-17.5, 17.5];
    let mut on = [Vector::default(); 2];
    let mut out = Vec::new();
    for trial in [None, Some(trials[0]), Some(trials[1])] {
        let mut masses = on;
        if let Some((plane, mass, angle)) = trial {
            masses[plane] += polar(mass, angle);
        }
        if stays {
            on = masses;
        }
        let u = [truth[0] + masses[0], truth[1] + masses[1]];
        let (s, c) = (u[0] + u[1], u[0] * planes[0] + u[1] * planes[1]);
        let readings = (0..sensors).map(|n| {
            let way = s / 66.0 - c * places[n] / (28_000.0 - 23_500.0);
            let read = -way * polar(900.0 + 50.0 * n as f64, 20.0 * n as f64);
            (0..repeats).map(|_| as_reading(change(read, n))).collect()
        });
        let mut one = run("run", trial, readings.collect());
        one.name = format!("run {}", out.len());
        one.stays_on = stays;
        out.push(one);
    }
    out
}

/// Scatter of a share of the amplitude in both components.
pub fn scatter(seed: u64, share: f64) -> impl FnMut(Vector, usize) -> Vector {
    let mut draws = SplitMix64::new(1000 + seed);
    move |v, _| {
        let size = (-2.0 * draws.uniform().ln()).sqrt();
        let normal = polar(size, 360.0 * draws.uniform());
        v + normal * (share * v.norm())
    }
}

/// A case with its texts.
pub struct Case {
    pub name: String,
    inputs: toml::Table,
    values: BTreeMap<String, String>,
    tolerance: f64,
}

pub fn cases(text: &str) -> Vec<Case> {
    let table: toml::Table = text.parse().expect("a case file is TOML");
    let rows = table["case"].as_array().expect("a list");
    assert!(!rows.is_empty());
    rows.iter()
        .map(|row| Case {
            name: row["name"].as_str().expect("a text").to_owned(),
            inputs: row["inputs"].as_table().expect("a table").clone(),
            values: row["value"]
                .as_table()
                .expect("a table")
                .iter()
                .map(|(k, v)| (k.clone(), v.as_str().expect("a text").to_owned()))
                .collect(),
            tolerance: row["tolerance"]
                .as_str()
                .expect("a text")
                .parse()
                .expect("a number"),
        })
        .collect()
}

impl Case {
    pub fn text(&self, key: &str) -> Option<&str> {
        self.inputs.get(key)?.as_str()
    }

    pub fn number(&self, key: &str) -> Option<f64> {
        self.text(key).map(|t| t.parse().expect("a number"))
    }

    pub fn list(&self, key: &str) -> Vec<String> {
        let all = self.inputs[key].as_array().expect("a list");
        all.iter()
            .map(|t| t.as_str().expect("a text").to_owned())
            .collect()
    }

    /// Values that are vectors, by key.
    pub fn vectors(&self) -> Vec<(String, String)> {
        self.values.clone().into_iter().collect()
    }

    /// Compares where the case has this value.
    pub fn near(&self, key: &str, ours: f64) {
        let Some(printed) = self.values.get(key) else {
            return;
        };
        let exact: f64 = printed.parse().expect("a number");
        assert!(
            (ours - exact).abs() <= self.tolerance * exact.abs(),
            "{} {key}: {ours} against {printed}",
            self.name
        );
    }

    /// Compares size and angle; the angle as a share of a radian, or as its five printed digits say.
    pub fn near_vector(&self, key: &str, printed: &str, size: f64, angle_deg: f64) {
        let (exact, angle) = pair(printed);
        let off = (angle_deg - angle + 180.0).rem_euclid(360.0) - 180.0;
        let slack_deg = self.tolerance.to_degrees().max(0.5e-5);
        assert!(
            (size - exact).abs() <= self.tolerance * exact && off.abs() <= slack_deg,
            "{} {key}: {size}@{angle_deg} against {printed}",
            self.name
        );
    }
}
