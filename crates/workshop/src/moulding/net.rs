//! The feed network and the cavities it leads to, laid out as cells and links.

use std::f64::consts::PI;

use super::alike::{Leaf, Stem, stems};
use super::cells::{Hollow, Kind, Link, Mouth, NewCell, Owner};
use super::given::{Channel, Gate, Given};
use super::layers::Form;
use super::middle::Middle;
use super::scale::{MILLI, MM3};

/// A channel is cut into slices of about this many diameters, of this many at least and at most.
const SLICE_DIAMETERS: f64 = 1.0;
const LEAST_SLICES: f64 = 4.0;
const MOST_SLICES: f64 = 10.0;

/// Lays the hollow of a mould out.
#[must_use]
pub fn hollow(given: &Given, middle: &Middle) -> Hollow {
    let mut layout = Layout {
        given,
        middle,
        hollow: Hollow {
            grid: [middle.rings.len(), given.grid.columns_count],
            branch_ends: vec![None; given.mould.branches.len()],
            ..Hollow::default()
        },
    };
    let mut leaves = Vec::new();
    for stem in stems(&given.mould) {
        layout.stem(&stem, None, 1.0, &[], &mut leaves);
    }
    for (leaf, copies, way) in leaves {
        layout.leaf(&leaf, copies, way);
    }
    layout.hollow.index();
    layout.hollow
}

/// A leaf with its copies and the branches its melt passes.
type Found = (Leaf, f64, Vec<usize>);

/// The last cell of a piece of channel, and what the way out of it carries.
type End = (usize, f64);

struct Layout<'a> {
    given: &'a Given,
    middle: &'a Middle,
    hollow: Hollow,
}

impl Layout<'_> {
    fn stem(
        &mut self,
        stem: &Stem,
        after: Option<End>,
        copies: f64,
        way: &[usize],
        leaves: &mut Vec<Found>,
    ) {
        let copies = copies * stem.alike as f64;
        let branch = &self.given.mould.branches[stem.branch];
        let end = self.channel(&branch.channel, copies, Owner::Feed(stem.branch), after);
        self.hollow.branch_ends[stem.branch] = Some(end.0);
        let way: Vec<usize> = way.iter().copied().chain([stem.branch]).collect();
        for leaf in &stem.hollows {
            leaves.push((leaf.clone(), copies * leaf.alike as f64, way.clone()));
        }
        for next in &stem.next {
            self.stem(next, Some(end), copies, &way, leaves);
        }
    }

    /// Lays a channel out from the end of another, or from the nozzle.
    fn channel(&mut self, channel: &Channel, copies: f64, owner: Owner, after: Option<End>) -> End {
        let mut before = after;
        let slices = slices(channel);
        let last = slices.len() - 1;
        for (number, slice) in slices.into_iter().enumerate() {
            let cell = self.hollow.cells.add(NewCell {
                copies,
                owner,
                ..slice
            });
            // What stands at the end of a branch is the pressure at its end, which all that follow share.
            let is_end = number == last && matches!(owner, Owner::Feed(_));
            let way = slice.length_m() * if is_end { 1.0 } else { 0.5 };
            let factor = copies * slice.widths[0] / way;
            match before {
                None => self.hollow.mouths.push(Mouth { cell, factor }),
                Some((one, from)) => self.hollow.links.push(Link {
                    one,
                    other: cell,
                    factors: [from, factor],
                    aside: false,
                }),
            }
            before = Some((cell, if is_end { f64::INFINITY } else { factor }));
        }
        // Never empty: a channel has a slice.
        before.unwrap_or((0, 0.0))
    }

    fn leaf(&mut self, leaf: &Leaf, copies: f64, way: Vec<usize>) {
        let which = self.hollow.kinds.len();
        let cavity = &self.given.mould.cavities[leaf.members[0]];
        let first = self.cavity(copies, which, cavity.steel_ratio);
        let turned = |member: &usize| {
            let gates = &self.given.mould.cavities[*member].gates;
            gates.first().and_then(|gate| gate.angle_deg).unwrap_or(0.0)
        };
        let first_column_deg = leaf.members.iter().map(turned).collect();
        self.hollow.kinds.push(Kind {
            members: leaf.members.clone(),
            first,
            gates: Vec::new(),
            way,
            first_column_deg,
        });
        for (number, gate) in cavity.gates.iter().enumerate() {
            let after = self.hollow.branch_ends[gate.after].map(|cell| (cell, f64::INFINITY));
            let end = self.channel(&gate.channel, copies, Owner::Gate(which, number), after);
            self.hollow.kinds[which].gates.push(end.0);
            self.enter(gate, turned(&leaf.members[0]), first, copies, end);
        }
    }

    /// The cells and links of a cavity; gives the first.
    fn cavity(&mut self, copies: f64, which: usize, steel_ratio: f64) -> usize {
        let [_, columns] = self.hollow.grid;
        let first = self.hollow.cells.count();
        let turn = 2.0 * PI / columns as f64;
        for ring in &self.middle.rings {
            let depth = ring.thickness_mm * steel_ratio * MILLI;
            let room = ring.volume_mm3 * steel_ratio * MM3 / columns as f64;
            for _ in 0..columns {
                self.hollow.cells.add(NewCell {
                    form: Form::Slit,
                    half_m: 0.5 * depth,
                    room_m3: room,
                    reach: room / depth,
                    widths: [ring.radius_mm * MILLI * turn, ring.length_mm * MILLI],
                    copies,
                    owner: Owner::Cavity(which),
                });
            }
        }
        for link in &self.middle.links {
            let width = copies * link.radius_mm * turn;
            for column in 0..columns {
                self.hollow.links.push(Link {
                    one: first + link.one * columns + column,
                    other: first + link.other * columns + column,
                    factors: [width / link.one_mm, width / link.other_mm],
                    aside: false,
                });
            }
        }
        for (number, ring) in self.middle.rings.iter().enumerate() {
            let factor = copies * ring.length_mm / (0.5 * ring.radius_mm * turn);
            // Two columns are linked on both sides, one not at all.
            for column in 0..columns {
                let next = (column + 1) % columns;
                if next != column {
                    self.hollow.links.push(Link {
                        one: first + number * columns + column,
                        other: first + number * columns + next,
                        factors: [factor; 2],
                        aside: true,
                    });
                }
            }
        }
        first
    }

    /// Links a gate with the cells it opens into: those of the nearest ring that its width lies over.
    fn enter(&mut self, gate: &Gate, first_deg: f64, first: usize, copies: f64, end: End) {
        let [_, columns] = self.hollow.grid;
        let off = |ring: usize| {
            let ring = &self.middle.rings[ring];
            (ring.radius_mm - gate.radius_mm).hypot(ring.axial_mm - gate.axial_mm)
        };
        let near = (0..self.middle.rings.len()).min_by(|a, b| off(*a).total_cmp(&off(*b)));
        let Some(near) = near else { return };
        let ring = &self.middle.rings[near];
        // From the gate's place to the middle of the ring, within the ring.
        let way = off(near).min(0.5 * ring.length_mm);
        let width_mm = match gate.channel {
            Channel::Slit { width_mm, .. } => width_mm,
            Channel::Round { to_mm, .. } => to_mm,
        };
        let shares = match gate.angle_deg {
            None => vec![1.0 / columns as f64; columns],
            Some(angle) => {
                let width = width_mm / ring.radius_mm.max(width_mm);
                covered((angle - first_deg).to_radians(), width, columns)
            }
        };
        let opening = match gate.angle_deg {
            None => 2.0 * PI * ring.radius_mm,
            Some(_) => width_mm,
        };
        for (column, share) in shares.into_iter().enumerate().filter(|(_, s)| *s > 0.0) {
            let into = copies * share * opening / way.max(1e-3 * ring.length_mm);
            self.hollow.links.push(Link {
                one: end.0,
                other: first + near * columns + column,
                factors: [end.1 * share, into],
                aside: false,
            });
        }
    }
}

/// The share of an opening `width` radians wide, its middle at `at`, that lies over each column; the first column's middle
/// stands at 0.
fn covered(at: f64, width: f64, columns: usize) -> Vec<f64> {
    let step = 2.0 * PI / columns as f64;
    // In columns, from the first one's beginning.
    let (middle, half) = (at / step + 0.5, 0.5 * width / step);
    let mut shares = vec![0.0; columns];
    let (from, to) = (middle - half, middle + half);
    for column in from.floor() as i64..=to.floor() as i64 {
        let over = to.min(column as f64 + 1.0) - from.max(column as f64);
        // An opening narrower than a rounding lies over one column.
        let share = if half > 0.0 { over / (to - from) } else { 1.0 };
        shares[column.rem_euclid(columns as i64) as usize] += share.max(0.0);
    }
    shares
}

impl NewCell {
    fn length_m(&self) -> f64 {
        match self.form {
            Form::Round => self.reach,
            Form::Slit => self.reach / self.widths[0],
        }
    }
}

/// The slices of a channel, from where melt comes in.
fn slices(channel: &Channel) -> Vec<NewCell> {
    let blank = |form, half_m, room_m3, reach, width| NewCell {
        form,
        half_m,
        room_m3,
        reach,
        widths: [width, 1.0],
        copies: 1.0,
        owner: Owner::Feed(0),
    };
    match *channel {
        Channel::Round {
            from_mm,
            to_mm,
            length_mm,
        } => {
            let mean = 0.5 * (from_mm + to_mm);
            let count = (length_mm / (SLICE_DIAMETERS * mean)).round();
            let count = count.clamp(LEAST_SLICES, MOST_SLICES) as usize;
            let radius = |at: f64| 0.5 * MILLI * (from_mm + (to_mm - from_mm) * at);
            let length = length_mm * MILLI / count as f64;
            let slice = |k: usize| {
                let (a, b) = (
                    radius(k as f64 / count as f64),
                    radius((k + 1) as f64 / count as f64),
                );
                let room = PI / 3.0 * length * (a * a + a * b + b * b);
                blank(Form::Round, 0.5 * (a + b), room, length, 1.0)
            };
            (0..count).map(slice).collect()
        }
        Channel::Slit {
            width_mm,
            depth_mm,
            length_mm,
        } => {
            let area = width_mm * length_mm * MILLI * MILLI;
            let depth = depth_mm * MILLI;
            vec![blank(
                Form::Slit,
                0.5 * depth,
                area * depth,
                area,
                width_mm * MILLI,
            )]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_an_opening_is_shared_out_whole() {
        for (at, width) in [(0.0, 0.1), (1.0, 0.3), (6.2, 1.0), (-0.4, 0.001)] {
            let shares = covered(at, width, 12);
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{at}");
        }
        // As wide as two columns and in the middle of the first: a quarter lies over each neighbour.
        let shares = covered(0.0, 2.0 * 2.0 * PI / 12.0, 12);
        for (column, exact) in [(0, 0.5), (1, 0.25), (11, 0.25)] {
            assert!((shares[column] - exact).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_form_slices_of_a_cone_have_its_room() {
        let cone = Channel::Round {
            from_mm: 3.5,
            to_mm: 6.0,
            length_mm: 60.0,
        };
        let room: f64 = slices(&cone).iter().map(|slice| slice.room_m3).sum();
        let exact = PI / 12.0 * 60.0 * (3.5 * 3.5 + 3.5 * 6.0 + 36.0) * MM3;
        assert!((room / exact - 1.0).abs() < 1e-14);
    }
}
