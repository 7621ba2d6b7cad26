//! Sprue, runners, gates and cavities, as the job names them, or as a mould of usual layout has them.

use std::f64::consts::TAU;

use super::faults::Refusal;
use super::given::{Branch, Cavity, Channel, Gate};
use super::notes::Notes;
use super::section::Section;
use crate::part::mould_wishes::{CavityWish, GateWish, MouldWishes, RunnerSection};

/// The sprue's name and number.
const SPRUE: &str = "sprue";

/// The feed with its cavities.
pub(super) struct Laid {
    pub branches: Vec<Branch>,
    pub cavities: Vec<Cavity>,
}

pub(super) fn lay(
    wishes: &MouldWishes,
    section: &Section,
    notes: &mut Notes,
) -> Result<Laid, Refusal> {
    let named = cavities(wishes, notes)?;
    for gate in wishes.gates.iter().filter_map(|g| g.cavity.as_ref()) {
        if !named.iter().any(|c| c.name == *gate) {
            let known: Vec<&str> = named.iter().map(|c| c.name.as_str()).collect();
            return Err(Refusal::NoSuch {
                who: "a [[mould.gate]]".to_owned(),
                what: "cavity",
                name: gate.clone(),
                known: known.join(", "),
            });
        }
    }
    let mut branches = vec![sprue(wishes, notes)];
    if wishes.runners.is_empty() {
        branches.extend(usual_runners(named.len(), notes));
    }
    for runner in &wishes.runners {
        let after = match &runner.after {
            None => 0,
            Some(name) => before(wishes, &branches, &runner.name, name)?,
        };
        let length_mm = runner.length_mm;
        branches.push(Branch {
            name: runner.name.clone(),
            channel: match runner.section {
                RunnerSection::Round { from_mm, to_mm } => Channel::Round {
                    from_mm,
                    to_mm,
                    length_mm,
                },
                RunnerSection::Flat { width_mm, depth_mm } => Channel::Slit {
                    width_mm,
                    depth_mm,
                    length_mm,
                },
            },
            after: Some(after),
        });
    }
    let ends = ends(&branches);
    let mut out = Vec::new();
    let usual = usual_gate(section, notes, wishes.gates.is_empty());
    for (number, wish) in named.iter().enumerate() {
        let runner = match &wish.runner {
            Some(name) => find(&branches, &format!("cavity `{}`", wish.name), name)?,
            None if ends.len() == named.len() => ends[number],
            None if ends.len() == 1 => ends[0],
            None => {
                return Err(Refusal::RunnersAndCavities {
                    cavities_count: named.len(),
                    ends_count: ends.len(),
                });
            }
        };
        out.push(Cavity {
            name: wish.name.clone(),
            steel_ratio: wish.steel_ratio.unwrap_or(1.0),
            gates: gates(wishes, wish, &branches, runner, &usual, notes)?,
        });
    }
    Ok(Laid {
        branches,
        cavities: out,
    })
}

/// The cavities by name; where the job only counts them, their numbers.
fn cavities(wishes: &MouldWishes, notes: &mut Notes) -> Result<Vec<CavityWish>, Refusal> {
    let named = &wishes.cavities;
    if !named.is_empty() {
        let count = wishes.cavities_count.map(|n| n as usize);
        if let Some(count) = count.filter(|n| *n != named.len()) {
            return Err(Refusal::OutOfRange {
                what: "the number of [[mould.cavity]] blocks".to_owned(),
                read: named.len() as f64,
                low: count as f64,
                high: count as f64,
            });
        }
        return Ok(named.clone());
    }
    let count = wishes.cavities_count.unwrap_or_else(|| {
        notes.note("one cavity: the job does not say how many there are".to_owned());
        1
    });
    if count == 0 {
        return Err(Refusal::NoCavity);
    }
    let numbered = (1..=count).map(|n| CavityWish {
        name: n.to_string(),
        steel_ratio: None,
        runner: None,
    });
    Ok(numbered.collect())
}

fn sprue(wishes: &MouldWishes, notes: &mut Notes) -> Branch {
    let channel = match wishes.sprue {
        Some(said) => Channel::Round {
            from_mm: said.from_mm,
            to_mm: said.to_mm,
            length_mm: said.length_mm,
        },
        None => Channel::Round {
            from_mm: notes.take("sprue at the nozzle", "feed.sprue_from"),
            to_mm: notes.take("sprue at the runners", "feed.sprue_to"),
            length_mm: notes.take("length of the sprue", "feed.sprue_length"),
        },
    };
    Branch {
        name: SPRUE.to_owned(),
        channel,
        after: None,
    }
}

/// Runners where the job has none: two mains, and a branch to each cavity; of a few cavities, a branch alone.
fn usual_runners(cavities_count: usize, notes: &mut Notes) -> Vec<Branch> {
    if cavities_count < 2 {
        return Vec::new();
    }
    let straight = |diameter: f64, length_mm: f64| Channel::Round {
        from_mm: diameter,
        to_mm: diameter,
        length_mm,
    };
    let mut out = Vec::new();
    let is_forked = cavities_count >= 4 && cavities_count.is_multiple_of(2);
    if is_forked {
        let main = straight(
            notes.take("diameter of the main runners", "feed.main"),
            notes.take("length of the main runners", "feed.main_length"),
        );
        out.extend([1, 2].map(|n| Branch {
            name: format!("main {n}"),
            channel: main,
            after: Some(0),
        }));
    }
    let branch = straight(
        notes.take("diameter of the runners to the cavities", "feed.branch"),
        notes.take(
            "length of the runners to the cavities",
            "feed.branch_length",
        ),
    );
    out.extend((0..cavities_count).map(|n| Branch {
        name: format!("to {}", n + 1),
        channel: branch,
        after: Some(if is_forked {
            1 + n / (cavities_count / 2)
        } else {
            0
        }),
    }));
    out
}

/// A runner that stands before another one in the list.
fn before(
    wishes: &MouldWishes,
    branches: &[Branch],
    who: &str,
    name: &str,
) -> Result<usize, Refusal> {
    let found = branches.iter().position(|b| b.name == name);
    if let Some(found) = found {
        return Ok(found);
    }
    if wishes.runners.iter().any(|r| r.name == name) {
        return Err(Refusal::Backward {
            name: who.to_owned(),
            after: name.to_owned(),
        });
    }
    find(branches, &format!("the runner `{who}`"), name)
}

fn find(branches: &[Branch], who: &str, name: &str) -> Result<usize, Refusal> {
    let found = branches.iter().position(|b| b.name == name);
    found.ok_or_else(|| {
        let known: Vec<&str> = branches.iter().map(|b| b.name.as_str()).collect();
        Refusal::NoSuch {
            who: who.to_owned(),
            what: "runner",
            name: name.to_owned(),
            known: known.join(", "),
        }
    })
}

/// The branches that lead to no other.
fn ends(branches: &[Branch]) -> Vec<usize> {
    let leads = |n: &usize| !branches.iter().any(|b| b.after == Some(*n));
    (0..branches.len()).filter(leads).collect()
}

/// Where a gate stands and how large it is, where the job does not say it.
fn usual_gate(section: &Section, notes: &mut Notes, is_alone: bool) -> GateWish {
    let at = section.outermost();
    if is_alone {
        notes.note(format!(
            "one gate to a cavity, at the half's outermost place: x = {:.2} mm, radius {:.2} mm",
            at.x, at.y
        ));
    }
    GateWish {
        cavity: None,
        after: None,
        axial_mm: Some(at.x),
        radius_mm: Some(at.y),
        angle_deg: Some(0.0),
        is_ring: false,
        width_mm: None,
        depth_mm: None,
        length_mm: None,
    }
}

fn gates(
    wishes: &MouldWishes,
    cavity: &CavityWish,
    branches: &[Branch],
    runner: usize,
    usual: &GateWish,
    notes: &mut Notes,
) -> Result<Vec<Gate>, Refusal> {
    let own: Vec<&GateWish> = wishes
        .gates
        .iter()
        .filter(|g| g.cavity.as_ref() == Some(&cavity.name))
        .collect();
    let shared: Vec<&GateWish> = wishes.gates.iter().filter(|g| g.cavity.is_none()).collect();
    let chosen = match (own.is_empty(), wishes.gates.is_empty()) {
        (false, _) => own,
        (true, false) => shared,
        (true, true) => vec![usual],
    };
    if chosen.is_empty() {
        return Err(Refusal::NoGate {
            cavity: cavity.name.clone(),
        });
    }
    let who = format!("the gate of cavity `{}`", cavity.name);
    let mut out = Vec::new();
    for wish in chosen {
        let after = match &wish.after {
            Some(name) => find(branches, &who, name)?,
            None => runner,
        };
        let mut or = |said: Option<f64>, what: &str, name: &str| {
            said.unwrap_or_else(|| notes.take(what, name))
        };
        let radius_mm = wish.radius_mm.or(usual.radius_mm).unwrap_or_default();
        let round = wish.is_ring.then_some(TAU * radius_mm);
        out.push(Gate {
            after,
            channel: Channel::Slit {
                width_mm: or(
                    wish.width_mm.or(round),
                    "width of the gate",
                    "feed.gate_width",
                ),
                depth_mm: or(wish.depth_mm, "depth of the gate", "feed.gate_depth"),
                length_mm: or(wish.length_mm, "length of the gate", "feed.gate_length"),
            },
            axial_mm: wish.axial_mm.or(usual.axial_mm).unwrap_or_default(),
            radius_mm,
            angle_deg: (!wish.is_ring).then(|| wish.angle_deg.unwrap_or(0.0)),
        });
    }
    Ok(out)
}
