//! The feed as a tree, with what is alike in it said once: alike runners that lead to alike cavities carry alike.

use super::given::{Cavity, Channel, Mould};

/// A branch and what hangs at its end.
#[derive(Debug, Clone, PartialEq)]
pub struct Stem {
    /// Its number in the mould; of several that are alike the first.
    pub branch: usize,
    /// How many alike hang on the branch before it.
    pub alike: usize,
    /// Branches at its end.
    pub next: Vec<Stem>,
    /// Cavities at its end.
    pub hollows: Vec<Leaf>,
}

/// Cavities that hang on the end of a branch and are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// For each of the alike branches before it all that are the same: by number in the mould.
    pub members: Vec<usize>,
    /// How many hang on one end of the branch.
    pub alike: usize,
}

/// The stems at the nozzle. A cavity whose gates hang on different branches is alike to no other; it hangs on the branch of
/// its first gate, and the others reach it from theirs.
#[must_use]
pub fn stems(mould: &Mould) -> Vec<Stem> {
    at(mould, None)
}

fn at(mould: &Mould, after: Option<usize>) -> Vec<Stem> {
    let here = (0..mould.branches.len()).filter(|b| mould.branches[*b].after == after);
    let stems: Vec<Stem> = here
        .map(|branch| Stem {
            branch,
            alike: 1,
            next: at(mould, Some(branch)),
            hollows: leaves(mould, branch),
        })
        .collect();
    gather(
        stems,
        |stem| sign_of_stem(mould, stem),
        |into, other| {
            into.alike += 1;
            join(into, other);
        },
    )
}

fn leaves(mould: &Mould, branch: usize) -> Vec<Leaf> {
    let here = |cavity: &Cavity| {
        cavity
            .gates
            .first()
            .is_some_and(|gate| gate.after == branch)
    };
    let members = (0..mould.cavities.len()).filter(|c| here(&mould.cavities[*c]));
    let leaves = members.map(|cavity| Leaf {
        members: vec![cavity],
        alike: 1,
    });
    gather(
        leaves.collect(),
        |leaf| sign_of_cavity(mould, leaf.members[0]),
        |into, other| {
            into.alike += 1;
            into.members.extend(&other.members);
        },
    )
}

/// Puts those of one sign together, in the order in which each sign comes first.
fn gather<T>(all: Vec<T>, sign: impl Fn(&T) -> String, join: impl Fn(&mut T, &T)) -> Vec<T> {
    let mut kept: Vec<(String, T)> = Vec::new();
    for one in all {
        let sign = sign(&one);
        match kept.iter_mut().find(|(known, _)| *known == sign) {
            Some((_, into)) => join(into, &one),
            None => kept.push((sign, one)),
        }
    }
    kept.into_iter().map(|(_, one)| one).collect()
}

/// Takes the cavities of an alike stem over: those of one sign stand in the same order in both, for both were gathered.
fn join(into: &mut Stem, other: &Stem) {
    for (leaf, more) in into.hollows.iter_mut().zip(&other.hollows) {
        leaf.members.extend(&more.members);
    }
    for (stem, more) in into.next.iter_mut().zip(&other.next) {
        join(stem, more);
    }
}

/// Everything that decides how a stem carries, as text: two of one text are alike to the last digit.
fn sign_of_stem(mould: &Mould, stem: &Stem) -> String {
    let leaves = stem
        .hollows
        .iter()
        .map(|leaf| format!("{}x{}", leaf.alike, sign_of_cavity(mould, leaf.members[0])));
    let next = stem
        .next
        .iter()
        .map(|next| format!("{}x{}", next.alike, sign_of_stem(mould, next)));
    let parts: Vec<String> = leaves.chain(next).collect();
    let channel = mould.branches[stem.branch].channel;
    format!("{channel:?}[{}]", parts.join(","))
}

/// The same of a cavity; where its first gate stands round the axle does not matter, where the others stand from it does.
fn sign_of_cavity(mould: &Mould, cavity: usize) -> String {
    let which = &mould.cavities[cavity];
    let first = which.gates.first().and_then(|gate| gate.angle_deg);
    let gates = which.gates.iter().map(|gate| {
        let turned = gate
            .angle_deg
            .zip(first)
            .map(|(angle, first)| angle - first);
        let place: (Channel, f64, f64) = (gate.channel, gate.axial_mm, gate.radius_mm);
        format!("{place:?}{turned:?}")
    });
    let gates: Vec<String> = gates.collect();
    let lone = which
        .gates
        .iter()
        .any(|gate| gate.after != which.gates[0].after);
    let number = if lone {
        cavity.to_string()
    } else {
        String::new()
    };
    format!("{:?}{}{number}", which.steel_ratio, gates.join(";"))
}
