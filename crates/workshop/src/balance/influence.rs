//! Trial masses with amplitude and phase: influence coefficients and unbalance by least squares.
//!
//! Every run is `V = V₀ + A m`, with `m` the masses that were on (those that stay on counted in all later
//! runs), so trials that are taken off, that stay on, that are repeated, and check runs are one fit.
//! The unbalance is the `u` of `A u = V₀`, by least squares over all pick-ups and speeds.

use whirlwright_kit::complex_fit::{ComplexMatrix, Inverse, inverse};

use super::given::{CorrectGiven, PhasedGiven, Refusal, RunGiven};
use super::scatter::{Scatter, scatter};
use super::vectors::{Vector, at_deg};
use crate::part::AngleSense;

/// Runs whose speeds differ by less than this share were meant to be at one speed.
const SAME_SPEED: f64 = 0.02;

/// One run made ready: masses as vectors, readings as means with run-out taken off.
#[derive(Debug, Clone)]
pub(super) struct Run {
    /// Its number among the runs of the file.
    pub number: usize,
    /// What is on, plane by plane, g·mm.
    pub masses: Vec<Vector>,
    /// Mean reading, pick-up by pick-up.
    pub readings: Vec<Vector>,
    /// Standard deviation of one component of that mean, pick-up by pick-up; 0 where nothing tells.
    pub sds: Vec<f64>,
}

/// Runs at one speed.
#[derive(Debug, Clone)]
pub(super) struct Group {
    /// The speed of the first of them.
    pub speed_rpm: f64,
    /// The runs.
    pub runs: Vec<Run>,
    /// Takes readings of the runs to `V₀` and the coefficients.
    plan: ComplexMatrix,
}

/// Readings made ready.
#[derive(Debug, Clone)]
pub(super) struct Ready {
    /// By speed.
    pub groups: Vec<Group>,
    /// Run-out of every pick-up, its sd; none without a slow run.
    pub run_out: Option<(Vec<Vector>, Vec<f64>)>,
    /// What stays on after the last run, plane by plane.
    pub stays: Vec<Vector>,
    /// The scatter of the readings.
    pub scatter: Scatter,
}

/// What the fit found.
#[derive(Debug, Clone)]
pub(super) struct Influence {
    /// First readings, fitted: rows are speeds, and in each the pick-ups.
    pub first: ComplexMatrix,
    /// Coefficients, a column a plane, reading per g·mm.
    pub effects: ComplexMatrix,
    /// Unbalance by plane as it came, g·mm.
    pub unbalance: Vec<Vector>,
    /// The inverse of the coefficients.
    pub inverse: Inverse,
}

/// Makes readings ready: means, run-out off, masses as vectors, runs by speed.
pub(super) fn ready(given: &CorrectGiven, phased: &PhasedGiven) -> Result<Ready, Refusal> {
    let scatter = scatter(phased);
    let planes = given.planes.len();
    let mut stays = vec![Vector::default(); planes];
    let (mut slow, mut runs): (Vec<Run>, Vec<(f64, Run)>) = (Vec::new(), Vec::new());
    for (number, run) in phased.runs.iter().enumerate() {
        let mut masses = stays.clone();
        for mass in &run.added {
            let radius = mass.radius_mm.unwrap_or(given.planes[mass.plane].radius_mm);
            masses[mass.plane] += at_deg(mass.mass_g * radius, mass.angle_deg);
        }
        if run.stays_on {
            stays.clone_from(&masses);
        }
        let turned = phased.phase_sense != given.sense;
        let (readings, sds) = means(run, turned, &scatter);
        let run_ready = Run {
            number,
            masses,
            readings,
            sds,
        };
        if run.slow_roll {
            slow.push(run_ready);
        } else {
            runs.push((run.speed_rpm, run_ready));
        }
    }
    let run_out = run_out(&slow);
    if let Some((vectors, _)) = &run_out {
        for (_, run) in &mut runs {
            run.readings
                .iter_mut()
                .zip(vectors)
                .for_each(|(v, out)| *v -= out);
        }
    }
    let groups = by_speed(given, phased, runs)?;
    Ok(Ready {
        groups,
        run_out,
        stays,
        scatter,
    })
}

/// Mean readings of a run with the scatter of each; phases turned over where they run the other way.
fn means(run: &RunGiven, turned: bool, scatter: &Scatter) -> (Vec<Vector>, Vec<f64>) {
    let one = |(sensor, repeats): (usize, &Vec<super::given::ReadingVector>)| {
        let sum: Vector = repeats
            .iter()
            .map(|r| at_deg(r.amplitude_value, r.phase_deg))
            .sum();
        let mean = sum / repeats.len() as f64;
        let sd = scatter.of_mean(sensor, mean.norm(), repeats.len());
        (if turned { mean.conj() } else { mean }, sd)
    };
    run.readings.iter().enumerate().map(one).unzip()
}

fn run_out(slow: &[Run]) -> Option<(Vec<Vector>, Vec<f64>)> {
    let count = slow.len() as f64;
    let sensors = slow.first()?.readings.len();
    let mean = |sensor: usize| slow.iter().map(|r| r.readings[sensor]).sum::<Vector>() / count;
    let sd = |sensor: usize| {
        slow.iter()
            .map(|r| r.sds[sensor].powi(2))
            .sum::<f64>()
            .sqrt()
            / count
    };
    Some((
        (0..sensors).map(mean).collect(),
        (0..sensors).map(sd).collect(),
    ))
}

fn by_speed(
    given: &CorrectGiven,
    phased: &PhasedGiven,
    runs: Vec<(f64, Run)>,
) -> Result<Vec<Group>, Refusal> {
    let mut speeds: Vec<(f64, Vec<Run>)> = Vec::new();
    for (speed, run) in runs {
        let near = speeds
            .iter_mut()
            .find(|(known, _)| (speed / *known - 1.0).abs() <= SAME_SPEED);
        match near {
            Some((_, runs)) => runs.push(run),
            None => speeds.push((speed, vec![run])),
        }
    }
    if speeds.is_empty() {
        return Err(Refusal::MissingRun {
            what: "there is no run above slow roll".to_owned(),
            todo: "measure the part as it came, then with a trial mass in every plane".to_owned(),
        });
    }
    speeds
        .into_iter()
        .map(|(speed_rpm, runs)| group(given, phased, speed_rpm, runs))
        .collect()
}

/// The runs at one speed, once it is sure that they tell every plane.
fn group(
    given: &CorrectGiven,
    phased: &PhasedGiven,
    speed_rpm: f64,
    runs: Vec<Run>,
) -> Result<Group, Refusal> {
    let planes = given.planes.len();
    same_runs(phased, &runs)?;
    for (plane, named) in given.planes.iter().enumerate() {
        if runs
            .iter()
            .all(|r| r.masses[plane] == runs[0].masses[plane])
        {
            return Err(Refusal::MissingRun {
                what: format!(
                    "at {speed_rpm:.0} rpm no run has a trial mass in plane `{}`",
                    named.name
                ),
                todo: format!(
                    "put a trial mass in `{}` and measure at that speed, all pick-ups",
                    named.name
                ),
            });
        }
    }
    let missing = || Refusal::MissingRun {
        what: format!(
            "{} runs at {speed_rpm:.0} rpm with masses that are not independent; {} planes need {} runs",
            runs.len(),
            planes,
            planes + 1
        ),
        todo: "measure as it came, and once for every plane with a trial mass in that plane alone"
            .to_owned(),
    };
    if runs.len() < planes + 1 {
        return Err(missing());
    }
    // Columns: one for what it had when it came, one a plane.
    let design = ComplexMatrix::from_fn(runs.len(), planes + 1, |row, column| match column {
        0 => Vector::new(1.0, 0.0),
        plane => runs[row].masses[plane - 1],
    });
    let plan = inverse(&design).ok_or_else(missing)?.pseudo;
    Ok(Group {
        speed_rpm,
        runs,
        plan,
    })
}

/// Two runs with other masses cannot read the same to the last digit at every pick-up.
fn same_runs(phased: &PhasedGiven, runs: &[Run]) -> Result<(), Refusal> {
    for (n, later) in runs.iter().enumerate() {
        for first in &runs[..n] {
            if first.readings == later.readings && first.masses != later.masses {
                return Err(Refusal::SameRuns {
                    first: phased.runs[first.number].name.clone(),
                    second: phased.runs[later.number].name.clone(),
                });
            }
        }
    }
    Ok(())
}

impl Group {
    /// Variance of one component of a plane's coefficient at a pick-up.
    pub(super) fn coefficient_variance(&self, plane: usize, sensor: usize) -> f64 {
        let of_run = |(k, run): (usize, &Run)| {
            self.plan[(plane + 1, k)].norm_sqr() * run.sds[sensor].powi(2)
        };
        self.runs.iter().enumerate().map(of_run).sum()
    }
}

/// The fit: coefficients, then unbalance.
///
/// # Errors
/// Fewer pick-ups (times speeds) than planes; planes that no pick-up tells apart.
pub(super) fn fit(ready: &Ready) -> Result<Influence, Refusal> {
    let sensors = ready.groups[0].runs[0].readings.len();
    let planes = ready.stays.len();
    let rows = ready.groups.len() * sensors;
    if rows < planes {
        return Err(Refusal::Count {
            what: "pick-ups times speeds".to_owned(),
            read: rows,
            expected: format!("at least {planes}, one for every plane"),
            todo: "add a pick-up, measure at a second speed, or correct in fewer planes",
        });
    }
    let mut first = ComplexMatrix::zeros(rows, 1);
    let mut effects = ComplexMatrix::zeros(rows, planes);
    for (row, (group, sensor)) in rows_of(&ready.groups, sensors).enumerate() {
        for (k, run) in group.runs.iter().enumerate() {
            let reading = run.readings[sensor];
            first[(row, 0)] += group.plan[(0, k)] * reading;
            for plane in 0..planes {
                effects[(row, plane)] += group.plan[(plane + 1, k)] * reading;
            }
        }
    }
    let alike = |condition| Refusal::PlanesAlike {
        condition,
        todo: "set the planes farther apart, move a pick-up nearer to one plane, or use heavier trial masses",
    };
    let inverse = inverse(&effects).ok_or_else(|| alike(f64::INFINITY))?;
    // Beyond this an error of a thousandth in a coefficient makes the answer anything at all.
    const BLIND: f64 = 1e4;
    if inverse.condition_number > BLIND {
        return Err(alike(inverse.condition_number));
    }
    let unbalance = (&inverse.pseudo * &first).iter().copied().collect();
    Ok(Influence {
        first,
        effects,
        unbalance,
        inverse,
    })
}

/// Rows of the fit: every speed, and in each every pick-up.
pub(super) fn rows_of(groups: &[Group], sensors: usize) -> impl Iterator<Item = (&Group, usize)> {
    groups
        .iter()
        .flat_map(move |group| (0..sensors).map(move |sensor| (group, sensor)))
}

impl Influence {
    /// What a run should have read at a row.
    pub(super) fn fitted(&self, row: usize, masses: &[Vector]) -> Vector {
        let by_masses = masses
            .iter()
            .enumerate()
            .map(|(plane, m)| self.effects[(row, plane)] * m);
        self.first[(row, 0)] + by_masses.sum::<Vector>()
    }

    /// First-order change of the unbalance for scatter `ε` of one reading: `a ε + b ε̄` for every plane,
    /// with the scatter's standard deviation. The second term comes from readings that do not fit exactly.
    pub(super) fn sensitivities(&self, ready: &Ready) -> Vec<(Vec<Vector>, Vec<Vector>, f64)> {
        let sensors = ready.groups[0].runs[0].readings.len();
        let planes = self.unbalance.len();
        let u = ComplexMatrix::from_column_slice(planes, 1, &self.unbalance);
        let left = &self.first - &self.effects * &u;
        let mut out = Vec::new();
        for (row, (group, sensor)) in rows_of(&ready.groups, sensors).enumerate() {
            for (k, run) in group.runs.iter().enumerate() {
                let share = |column: usize| group.plan[(column, k)];
                let by_plane = (0..planes).map(|p| share(p + 1) * self.unbalance[p]);
                let direct = share(0) - by_plane.sum::<Vector>();
                let a = (0..planes).map(|p| self.inverse.pseudo[(p, row)] * direct);
                let b = (0..planes).map(|p| {
                    (0..planes)
                        .map(|q| self.inverse.normal[(p, q)] * share(q + 1).conj())
                        .sum::<Vector>()
                        * left[(row, 0)]
                });
                out.push((a.collect(), b.collect(), run.sds[sensor]));
            }
        }
        if let Some((_, sds)) = &ready.run_out {
            for (sensor, sd) in sds.iter().enumerate() {
                let rows = (0..ready.groups.len()).map(|g| g * sensors + sensor);
                let a = (0..planes).map(|p| {
                    -rows
                        .clone()
                        .map(|r| self.inverse.pseudo[(p, r)])
                        .sum::<Vector>()
                });
                out.push((a.collect(), vec![Vector::default(); planes], *sd));
            }
        }
        out
    }
}

impl Ready {
    /// The same readings with scatter added to every one of them.
    pub(super) fn shaken(&self, mut draw: impl FnMut() -> Vector) -> Self {
        let mut shaken = self.clone();
        let shift: Option<Vec<Vector>> = self
            .run_out
            .as_ref()
            .map(|(_, sds)| sds.iter().map(|sd| draw() * *sd).collect());
        for group in &mut shaken.groups {
            for run in &mut group.runs {
                for (sensor, (reading, sd)) in run.readings.iter_mut().zip(&run.sds).enumerate() {
                    *reading += draw() * *sd;
                    if let Some(shift) = &shift {
                        *reading -= shift[sensor];
                    }
                }
            }
        }
        shaken
    }

    /// The same with every phase turned over.
    pub(super) fn turned_over(&self) -> Self {
        let mut turned = self.clone();
        for run in turned.groups.iter_mut().flat_map(|g| &mut g.runs) {
            run.readings.iter_mut().for_each(|v| *v = v.conj());
        }
        turned
    }

    /// Root of the mean square of what the fit leaves, over that of the readings; only where there are
    /// more runs than the fit needs.
    pub(super) fn misfit_share(&self, found: &Influence) -> Option<f64> {
        let planes = self.stays.len();
        if self.groups.iter().all(|g| g.runs.len() <= planes + 1) {
            return None;
        }
        let sensors = self.groups[0].runs[0].readings.len();
        let (mut left, mut all) = (0.0, 0.0);
        for (row, (group, sensor)) in rows_of(&self.groups, sensors).enumerate() {
            for run in &group.runs {
                left += (run.readings[sensor] - found.fitted(row, &run.masses)).norm_sqr();
                all += run.readings[sensor].norm_sqr();
            }
        }
        (all > 0.0).then(|| (left / all).sqrt())
    }
}

/// The other sense.
pub(super) fn other(sense: AngleSense) -> AngleSense {
    match sense {
        AngleSense::WithRotation => AngleSense::AgainstRotation,
        AngleSense::AgainstRotation => AngleSense::WithRotation,
    }
}
