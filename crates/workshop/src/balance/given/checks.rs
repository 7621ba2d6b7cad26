//! Readings that cannot be, before anything is reckoned from them.

use super::clocking::{ClockGiven, ClockJoint};
use super::of_job::positive;
use super::readings::{CorrectGiven, NoPhaseGiven, PhasedGiven, Readings, RodsGiven};
use super::refusal::Refusal;

impl CorrectGiven {
    /// Whether the question can be asked at all.
    ///
    /// # Errors
    /// The first thing that cannot be: a number out of its range, a run without its readings, a trial of
    /// nothing, phases that are no degrees.
    pub fn checked(&self) -> Result<(), Refusal> {
        positive("the mass", self.rotor.mass_g, "g")?;
        if let Some(inertia) = self.rotor.inertia {
            positive("the polar inertia", inertia.polar_g_mm2, "g·mm²")?;
            positive("the transverse inertia", inertia.transverse_g_mm2, "g·mm²")?;
        }
        for (what, value, unit) in [
            ("the speed", self.speed_rpm, "rpm"),
            ("the limit", self.limit_g_mm, "g·mm"),
            ("the rim's radius", self.rotor.rim_radius_mm, "mm"),
        ] {
            value.map_or(Ok(()), |value| positive(what, value, unit))?;
        }
        self.planes_are_sound()?;
        if let Some(clocking) = &self.clocking {
            joints_are_sound(clocking)?;
        }
        match &self.readings {
            Readings::Phased(phased) => self.phased_is_sound(phased),
            Readings::NoPhase(no_phase) => self.no_phase_is_sound(no_phase),
            Readings::Rods(rods) => self
                .one_plane("a test at rest")
                .and_then(|()| rods_are_sound(rods)),
            Readings::Indexed(indexed) => {
                let counts = indexed.positions.iter().map(|p| p.readings.len());
                let readings = indexed
                    .positions
                    .iter()
                    .flat_map(|p| p.readings.iter().flatten());
                let numbers = readings.flat_map(|r| [r.mass_distance_g_mm, r.angle_deg]);
                finite("a reading", numbers)?;
                finite(
                    "an index angle",
                    indexed.positions.iter().map(|p| p.index_deg),
                )?;
                self.counts_fit("planes of an index position", counts)?;
                let all = indexed.positions.iter().flat_map(|p| &p.readings);
                no_gap(all.map(Vec::len))
            }
            Readings::Eccentricity(e) => {
                self.one_plane("an eccentricity")?;
                finite("the eccentricity", [e.eccentricity_um, e.angle_deg])?;
                let sd = e.uncertainty_um.unwrap_or(0.0);
                if e.eccentricity_um < 0.0 || sd.is_nan() || sd < 0.0 {
                    return Err(Refusal::Impossible {
                        what: "the eccentricity".to_owned(),
                        read: format!("{} µm ± {sd} µm", e.eccentricity_um),
                        expected: "nought or a number above it is expected",
                    });
                }
                Ok(())
            }
        }
    }

    fn planes_are_sound(&self) -> Result<(), Refusal> {
        if self.planes.is_empty() {
            return Err(Refusal::Count {
                what: "correction planes".to_owned(),
                read: 0,
                expected: "one or more".to_owned(),
                todo: "name the planes, with the radius at which masses sit",
            });
        }
        for plane in &self.planes {
            positive(
                &format!("the radius of plane `{}`", plane.name),
                plane.radius_mm,
                "mm",
            )?;
            if let Some(limit) = plane.limit_g_mm {
                positive(
                    &format!("the limit of plane `{}`", plane.name),
                    limit,
                    "g·mm",
                )?;
            }
        }
        for (n, plane) in self.planes.iter().enumerate() {
            let Some(x_mm) = plane.x_mm else { continue };
            finite("a plane's place", [x_mm])?;
            if self.planes[..n].iter().any(|p| p.x_mm == Some(x_mm)) {
                return Err(Refusal::PlanesTogether { x_mm });
            }
        }
        let Some(work) = &self.work else {
            return Ok(());
        };
        let sound = (1..=2).contains(&work.planes.len())
            && work
                .planes
                .iter()
                .all(|p| p.plane < self.planes.len() && p.places > 0)
            && (work.planes.len() < 2 || work.planes[0].plane != work.planes[1].plane)
            && work.least_wall_mm >= 0.0
            && work.wobble_weight >= 0.0;
        if sound {
            return Ok(());
        }
        Err(Refusal::Work {
            what: "work is for one or two of the planes, each once, with one place or more, a least wall and a weight of nought or more".to_owned(),
        })
    }

    fn one_plane(&self, what: &str) -> Result<(), Refusal> {
        if self.planes.len() == 1 {
            return Ok(());
        }
        Err(Refusal::Count {
            what: format!("planes for {what}"),
            read: self.planes.len(),
            expected: "exactly 1".to_owned(),
            todo: "it tells the static unbalance alone; give one plane",
        })
    }

    fn counts_fit(&self, what: &str, counts: impl Iterator<Item = usize>) -> Result<(), Refusal> {
        let planes = self.planes.len();
        for read in counts {
            if read != planes {
                return Err(Refusal::Count {
                    what: what.to_owned(),
                    read,
                    expected: format!("{planes}"),
                    todo: "give a reading for every plane",
                });
            }
        }
        Ok(())
    }

    fn phased_is_sound(&self, phased: &PhasedGiven) -> Result<(), Refusal> {
        let mut phases = Vec::new();
        for run in &phased.runs {
            positive(
                &format!("the speed of run `{}`", run.name),
                run.speed_rpm,
                "rpm",
            )?;
            if run.readings.len() != phased.sensors.len() {
                return Err(Refusal::Count {
                    what: format!("pick-ups read in run `{}`", run.name),
                    read: run.readings.len(),
                    expected: format!("{}", phased.sensors.len()),
                    todo: "give a reading for every pick-up in every run",
                });
            }
            no_gap(run.readings.iter().map(Vec::len))?;
            for reading in run.readings.iter().flatten() {
                finite(
                    &format!("a reading of run `{}`", run.name),
                    [reading.amplitude_value, reading.phase_deg],
                )?;
                if reading.amplitude_value < 0.0 {
                    return Err(Refusal::Impossible {
                        what: format!("an amplitude of run `{}`", run.name),
                        read: format!("{} {}", reading.amplitude_value, phased.unit),
                        expected: "nought or a number above it is expected: an amplitude has no sign",
                    });
                }
                phases.push(reading.phase_deg);
            }
            for mass in &run.added {
                self.mass_is_sound(&run.name, mass.plane, mass.mass_g, mass.angle_deg)?;
                let radius = mass.radius_mm.unwrap_or(1.0);
                positive(
                    &format!("the trial's radius in run `{}`", run.name),
                    radius,
                    "mm",
                )?;
            }
        }
        degrees(&phases, phased.phases_are_degrees)
    }

    fn mass_is_sound(
        &self,
        run: &str,
        plane: usize,
        mass_g: f64,
        angle: f64,
    ) -> Result<(), Refusal> {
        finite(&format!("the trial of run `{run}`"), [mass_g, angle])?;
        if plane >= self.planes.len() {
            return Err(Refusal::Count {
                what: format!("number of the plane in run `{run}`"),
                read: plane + 1,
                expected: format!("1 to {}", self.planes.len()),
                todo: "name a plane there is",
            });
        }
        if mass_g == 0.0 {
            return Err(Refusal::TrialOfNothing {
                run: run.to_owned(),
            });
        }
        Ok(())
    }

    fn no_phase_is_sound(&self, no_phase: &NoPhaseGiven) -> Result<(), Refusal> {
        self.one_plane("runs without phase")?;
        let first = ("the first run", &no_phase.first_values);
        let trials = no_phase.trials.iter().map(|t| (t.name.as_str(), &t.values));
        for (name, values) in std::iter::once(first).chain(trials) {
            no_gap([values.len()].into_iter())?;
            finite(&format!("an amplitude of `{name}`"), values.iter().copied())?;
            if let Some(value) = values.iter().find(|v| **v < 0.0) {
                return Err(Refusal::Impossible {
                    what: format!("an amplitude of `{name}`"),
                    read: format!("{value} {}", no_phase.unit),
                    expected: "nought or a number above it is expected: an amplitude has no sign",
                });
            }
        }
        for trial in &no_phase.trials {
            self.mass_is_sound(&trial.name, 0, trial.mass_g, trial.angle_deg)?;
        }
        let all_same = |a: &[f64], b: &[f64]| a == b;
        if !no_phase.trials.is_empty()
            && no_phase
                .trials
                .iter()
                .all(|t| all_same(&t.values, &no_phase.first_values))
        {
            return Err(Refusal::SameRuns {
                first: "the first run".to_owned(),
                second: no_phase.trials[0].name.clone(),
            });
        }
        Ok(())
    }
}

fn joints_are_sound(clocking: &ClockGiven) -> Result<(), Refusal> {
    let (parts, joints) = (clocking.parts.len(), clocking.joints.len());
    let vectors = clocking.parts.iter();
    let numbers = vectors.flat_map(|p| {
        [
            p.x_mm,
            p.unbalance.mass_distance_g_mm,
            p.unbalance.angle_deg,
        ]
    });
    finite("a part's unbalance or place", numbers)?;
    // A part sits on one named before it, so there is no ring of parts.
    let in_order = clocking
        .joints
        .iter()
        .enumerate()
        .all(|(n, (on, joint))| *on <= n && !matches!(joint, ClockJoint::Marks(0)));
    if joints + 1 == parts && in_order && clocking.wobble_weight >= 0.0 {
        return Ok(());
    }
    Err(Refusal::Count {
        what: "joints between parts".to_owned(),
        read: joints,
        expected: format!(
            "{}, each onto a part named before it, with one mark or more",
            parts.saturating_sub(1)
        ),
        todo: "name for every part but the first the part it sits on",
    })
}

fn rods_are_sound(rods: &RodsGiven) -> Result<(), Refusal> {
    finite("an angle at rest", rods.rest_angles_deg.iter().copied())?;
    if rods.rest_angles_deg.is_empty() {
        return Err(Refusal::MissingRun {
            what: "no angle at rest is given, so nothing tells where the heavy spot is".to_owned(),
            todo: "let the part come to rest from either side and read what is lowest".to_owned(),
        });
    }
    for swing in &rods.swings {
        no_gap([swing.periods_s.len()].into_iter())?;
        for period in &swing.periods_s {
            positive("a period", *period, "s")?;
        }
        finite(
            "a known mass",
            [swing.mass_g, swing.radius_mm, swing.from_heavy_deg],
        )?;
    }
    Ok(())
}

fn finite(what: &str, numbers: impl IntoIterator<Item = f64>) -> Result<(), Refusal> {
    for number in numbers {
        if !number.is_finite() {
            return Err(Refusal::Impossible {
                what: what.to_owned(),
                read: format!("{number}"),
                expected: "a finite number is expected",
            });
        }
    }
    Ok(())
}

fn no_gap(mut counts: impl Iterator<Item = usize>) -> Result<(), Refusal> {
    if counts.any(|count| count == 0) {
        return Err(Refusal::MissingRun {
            what: "a run has a pick-up or plane without a reading".to_owned(),
            todo: "give at least one reading for each in every run".to_owned(),
        });
    }
    Ok(())
}

/// Phases that all lie within two pi and yet spread are radians as a rule; beyond a turn they are neither.
fn degrees(phases: &[f64], looked_at: bool) -> Result<(), Refusal> {
    const TURN: f64 = 360.0;
    // Fewer tell nothing; a spread below half a unit may well be degrees.
    const ENOUGH: usize = 4;
    const SPREAD: f64 = 0.5;
    if let Some(phase) = phases.iter().find(|p| p.abs() > TURN) {
        return Err(Refusal::PhaseUnit {
            what: format!("a phase of {phase} deg"),
            seem: "no angle within a turn (degrees turned into degrees once more, perhaps)",
        });
    }
    let largest = phases.iter().map(|p| p.abs()).fold(0.0, f64::max);
    let (low, high) = phases
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| {
            (l.min(*p), h.max(*p))
        });
    let two_pi = std::f64::consts::TAU;
    if !looked_at && phases.len() >= ENOUGH && largest <= two_pi && high - low > SPREAD {
        return Err(Refusal::PhaseUnit {
            what: format!(
                "all {} phases lie between {low} and {high} deg",
                phases.len()
            ),
            seem: "radians",
        });
    }
    Ok(())
}
