//! Stretches cut into rings: their plastic, their thickness, and how they hang together.

use std::f64::consts::TAU;

use whirlwright_kit::revolve::{Point, Segment, moments, oriented};
use whirlwright_kit::skeleton::{Branch, Cell};

use super::faults::Refusal;
use super::middle::{LinePoint, Link, Middle, MiddleLine, Ring};
use super::stretches::{Parted, Stretch, names, part};

/// Fewer rings than this to a stretch show no flow along it.
const LEAST_TO_A_STRETCH: usize = 2;
/// A change of thickness counts as so much more way when a stretch is cut: where the wall changes rings are shorter. On the
/// demo's half, whose gate stands where the wall does, 16 even rings are 46 % off in the unbalance and these 11 %.
const STEP_WEIGHT: f64 = 4.0;
/// Looks along a ring for its thickness.
const LOOKS: u32 = 64;

impl Middle {
    /// The middle surface of what a section sweeps; x along the axle, y from it.
    ///
    /// `rings_count` rings are shared out among the stretches, two at least to each. Where another piece is pressed
    /// on, the outer wall along the axle is called the spigot.
    ///
    /// # Errors
    /// A section that has no middle line.
    pub fn of_section(
        loops: &[Vec<Segment>],
        rings_count: usize,
        is_pressed_on: bool,
    ) -> Result<Self, Refusal> {
        let parted = part(loops)?;
        let named = names(&parted, is_pressed_on);
        middle(loops, &parted, named, rings_count)
    }
}

/// A ring before it has its plastic: a part of a branch.
#[derive(Debug, Clone, Copy)]
struct Cut {
    stretch: usize,
    branch: usize,
    from_mm: f64,
    to_mm: f64,
}

/// Cuts, fills and links.
fn middle(
    loops: &[Vec<Segment>],
    parted: &Parted,
    stretches: Vec<String>,
    rings_count: usize,
) -> Result<Middle, Refusal> {
    let cuts = cuts(parted, rings_count);
    let exact = moments(&oriented(loops).concat()).volume;
    let plastic = plastic(parted, &cuts);
    let found: f64 = plastic.iter().map(|p| p.volume_mm3).sum();
    if !(exact > 0.0 && found > 0.0) {
        return Err(Refusal::Section {
            why: "the outline encloses no volume".to_owned(),
        });
    }
    // Cuts of the outline are straight where it is bent: the slivers beyond go to all rings alike.
    let full = exact / found;
    let rings = cuts
        .iter()
        .zip(&plastic)
        .map(|(cut, p)| Ring {
            radius_mm: p.radius_mm,
            axial_mm: p.axial_mm,
            length_mm: cut.to_mm - cut.from_mm,
            thickness_mm: thickness(parted, cut),
            volume_mm3: p.volume_mm3 * full,
            stretch: cut.stretch,
        })
        .collect();
    let links = links(parted, &cuts);
    is_one(cuts.len(), &links)?;
    Ok(Middle {
        rings,
        links,
        stretches,
        volume_off_share: by_width(parted) / exact - 1.0,
        lines: parted.stretches.iter().map(|s| drawn(parted, s)).collect(),
    })
}

/// Rings of about equal area of the middle surface.
fn cuts(parted: &Parted, rings_count: usize) -> Vec<Cut> {
    let areas: Vec<Vec<(f64, f64)>> = parted.stretches.iter().map(|s| areas(parted, s)).collect();
    let whole = |k: usize| areas[k].last().map_or(0.0, |(_, area)| *area);
    let mut counts = vec![LEAST_TO_A_STRETCH; areas.len()];
    // One after the other to where rings are largest.
    for _ in LEAST_TO_A_STRETCH * areas.len()..rings_count {
        let each = |k: &usize| whole(*k) / counts[*k] as f64;
        let most = (0..areas.len()).max_by(|a, b| each(a).total_cmp(&each(b)).then(b.cmp(a)));
        if let Some(most) = most {
            counts[most] += 1;
        }
    }
    let mut out = Vec::new();
    for (stretch, of) in parted.stretches.iter().enumerate() {
        let count = counts[stretch];
        let end = |k: usize| match k {
            0 => of.from_mm,
            k if k == count => of.to_mm,
            k => place_of_area(&areas[stretch], whole(stretch) * k as f64 / count as f64),
        };
        out.extend((0..count).map(|k| Cut {
            stretch,
            branch: of.branch,
            from_mm: end(k),
            to_mm: end(k + 1),
        }));
    }
    out
}

/// Area of the middle surface from a stretch's start on: way along the branch, and area.
fn areas(parted: &Parted, stretch: &Stretch) -> Vec<(f64, f64)> {
    let branch = &parted.line.branches[stretch.branch];
    let inner = branch.points.iter().map(|p| p.along_mm);
    let inner = inner.filter(|s| *s > stretch.from_mm && *s < stretch.to_mm);
    let mut out = vec![(stretch.from_mm, 0.0)];
    for to in inner.chain([stretch.to_mm]) {
        let (from, area) = out[out.len() - 1];
        let radius = branch.at(0.5 * (from + to)).place.y;
        let step = (branch.at(to).width_mm - branch.at(from).width_mm).abs();
        out.push((to, area + TAU * radius * (to - from + STEP_WEIGHT * step)));
    }
    out
}

fn place_of_area(areas: &[(f64, f64)], area: f64) -> f64 {
    let after = areas
        .partition_point(|(_, a)| *a < area)
        .clamp(1, areas.len() - 1);
    let ((s0, a0), (s1, a1)) = (areas[after - 1], areas[after]);
    if a1 > a0 {
        s0 + (s1 - s0) * (area - a0) / (a1 - a0)
    } else {
        s0
    }
}

/// What lies on a ring.
#[derive(Debug, Clone, Copy, Default)]
struct Plastic {
    volume_mm3: f64,
    radius_mm: f64,
    axial_mm: f64,
}

/// The pieces of the section, each to the rings along which it lies.
fn plastic(parted: &Parted, cuts: &[Cut]) -> Vec<Plastic> {
    let mut out = vec![Plastic::default(); cuts.len()];
    let mut of_branch = vec![Vec::new(); parted.line.branches.len()];
    for (ring, cut) in cuts.iter().enumerate() {
        of_branch[cut.branch].push(ring);
    }
    for cell in &parted.line.cells {
        let swept = Swept::of(cell);
        let rings = &of_branch[cell.branch];
        for (at, ring) in rings.iter().enumerate() {
            let share = share(cell, &cuts[*ring], at == 0, at + 1 == rings.len());
            out[*ring].volume_mm3 += share * swept.volume;
            out[*ring].radius_mm += share * swept.radius_moment;
            out[*ring].axial_mm += share * swept.axial_moment;
        }
    }
    for p in &mut out {
        if p.volume_mm3 > 0.0 {
            p.radius_mm /= p.volume_mm3;
            p.axial_mm /= p.volume_mm3;
        }
    }
    out
}

/// How much of a piece lies on a ring: by its stretch of the line, or all or nothing where it has none.
fn share(cell: &Cell, cut: &Cut, is_first: bool, is_last: bool) -> f64 {
    let long = cell.to_mm - cell.from_mm;
    if long > 0.0 {
        let (from, to) = (cell.from_mm.max(cut.from_mm), cell.to_mm.min(cut.to_mm));
        return (to - from).max(0.0) / long;
    }
    let begins = is_first || cell.from_mm >= cut.from_mm;
    let ends = is_last || cell.from_mm < cut.to_mm;
    if begins && ends { 1.0 } else { 0.0 }
}

/// What a triangle sweeps about the axle, in closed form.
struct Swept {
    volume: f64,
    radius_moment: f64,
    axial_moment: f64,
}

impl Swept {
    fn of(cell: &Cell) -> Self {
        let area = cell.area_mm2();
        let [a, b, c] = cell.corners;
        let sum = a.y + b.y + c.y;
        // Mean of y², and of x·y, over a triangle.
        let squares = a.y * a.y + b.y * b.y + c.y * c.y;
        let radius = (squares + sum * sum) / 12.0;
        let products = a.x * a.y + b.x * b.y + c.x * c.y;
        let axial = (products + (a.x + b.x + c.x) * sum) / 12.0;
        Self {
            volume: TAU * area * sum / 3.0,
            radius_moment: TAU * area * radius,
            axial_moment: TAU * area * axial,
        }
    }
}

/// The thickness that resists the flow along a ring as the drawn wall does: a mean of the inverse cubes. At a free
/// end the melt that passes grows less toward the end, and the resistance counts with its square.
fn thickness(parted: &Parted, cut: &Cut) -> f64 {
    let branch = &parted.line.branches[cut.branch];
    let is_free = |node: usize| parted.line.nodes[node].branches_count == 1;
    let free = [
        cut.from_mm <= 0.0 && is_free(branch.nodes[0]),
        cut.to_mm >= branch.length_mm() && is_free(branch.nodes[1]),
    ];
    let length = cut.to_mm - cut.from_mm;
    let looks: Vec<(f64, f64)> = (0..LOOKS)
        .map(|k| {
            let at = branch.at(cut.from_mm + length * (f64::from(k) + 0.5) / f64::from(LOOKS));
            (at.width_mm, at.place.y * at.width_mm)
        })
        .collect();
    let whole: f64 = looks.iter().map(|(_, plastic)| plastic).sum();
    let (mut before, mut top, mut bottom) = (0.0, 0.0, 0.0);
    for (width, plastic) in looks {
        let middle = before + 0.5 * plastic;
        before += plastic;
        let passes = match free {
            [true, false] => middle / whole,
            [false, true] => 1.0 - middle / whole,
            _ => 1.0,
        };
        top += passes * passes;
        bottom += passes * passes / width.powi(3);
    }
    (top / bottom).cbrt()
}

/// Neighbours along a branch; at a junction each to the ring that lets most through; at a seam end to end.
fn links(parted: &Parted, cuts: &[Cut]) -> Vec<Link> {
    let half = |ring: usize| 0.5 * (cuts[ring].to_mm - cuts[ring].from_mm);
    let link = |one: usize, other: usize, place: Point| Link {
        one,
        other,
        one_mm: half(one),
        other_mm: half(other),
        radius_mm: place.y,
    };
    let mut out = Vec::new();
    let mut ends: Vec<Vec<usize>> = vec![Vec::new(); parted.line.nodes.len()];
    for (ring, cut) in cuts.iter().enumerate() {
        let branch = &parted.line.branches[cut.branch];
        let next = cuts.get(ring + 1).filter(|next| next.branch == cut.branch);
        if next.is_some() {
            out.push(link(ring, ring + 1, branch.at(cut.to_mm).place));
        } else {
            ends[branch.nodes[1]].push(ring);
        }
        if ring == 0 || cuts[ring - 1].branch != cut.branch {
            ends[branch.nodes[0]].push(ring);
        }
    }
    for (node, rings) in parted.line.nodes.iter().zip(&ends) {
        let lets = |ring: &usize| thickness(parted, &cuts[*ring]);
        let most = rings
            .iter()
            .max_by(|a, b| lets(a).total_cmp(&lets(b)).then(b.cmp(a)));
        let Some(most) = most else { continue };
        for ring in rings.iter().filter(|r| *r != most) {
            out.push(link(*most, *ring, node.place));
        }
    }
    out
}

/// Melt must get from every ring to every other.
fn is_one(rings_count: usize, links: &[Link]) -> Result<(), Refusal> {
    let mut part: Vec<usize> = (0..rings_count).collect();
    for link in links {
        let (keep, gone) = (part[link.one], part[link.other]);
        for of in &mut part {
            if *of == gone {
                *of = keep;
            }
        }
    }
    part.sort_unstable();
    part.dedup();
    if part.len() > 1 {
        return Err(Refusal::Section {
            why: format!(
                "it falls into {} parts that melt cannot pass between; draw it in one piece",
                part.len()
            ),
        });
    }
    Ok(())
}

/// The volume of thickness times middle line over the walls, and of what is no wall as it is drawn.
fn by_width(parted: &Parted) -> f64 {
    let pieces = parted.line.cells.iter().filter(|c| !c.is_wall);
    let mut volume: f64 = pieces.map(|c| Swept::of(c).volume).sum();
    for branch in &parted.line.branches {
        volume += of_wall(branch);
    }
    volume
}

fn of_wall(branch: &Branch) -> f64 {
    let [from, to] = branch.wall_mm;
    let count = branch.points.len() as f64 * 4.0;
    let step = (to - from) / count;
    (0..count as usize)
        .map(|k| {
            let at = branch.at(from + step * (k as f64 + 0.5));
            TAU * at.place.y * at.width_mm * step
        })
        .sum()
}

fn drawn(parted: &Parted, stretch: &Stretch) -> MiddleLine {
    let branch = &parted.line.branches[stretch.branch];
    let inner = branch.points.iter().map(|p| p.along_mm);
    let inner = inner.filter(|s| *s > stretch.from_mm && *s < stretch.to_mm);
    let ways = std::iter::once(stretch.from_mm)
        .chain(inner)
        .chain([stretch.to_mm]);
    let points = ways.map(|s| {
        let at = branch.at(s);
        LinePoint {
            axial_mm: at.place.x,
            radius_mm: at.place.y,
            thickness_mm: at.width_mm,
        }
    });
    MiddleLine {
        points: points.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::Outline;

    fn middle(path: &str, rings: usize) -> Middle {
        let outline = Outline::read(path).expect("a path");
        let loops: Vec<_> = outline.loops.iter().map(|l| l.segments.clone()).collect();
        Middle::of_section(&loops, rings, true).expect("a middle surface")
    }

    fn dunlin() -> String {
        let job: toml::Table = include_str!("../../../../examples/first_lot/dunlin.toml")
            .parse()
            .expect("a job");
        let half = &job["piece"].as_array().expect("pieces")[0];
        half["outline"].as_str().expect("an outline").to_owned()
    }

    /// Rings hang together as one tree: every one is reached, and there is one link fewer than rings.
    fn is_a_tree(of: &Middle) {
        assert_eq!(of.links.len() + 1, of.rings.len());
        let mut reached = vec![false; of.rings.len()];
        let mut open = vec![0];
        while let Some(ring) = open.pop() {
            if !std::mem::replace(&mut reached[ring], true) {
                let ends = of.links.iter().map(|l| (l.one, l.other));
                open.extend(
                    ends.filter_map(|(a, b)| (a == ring).then_some(b).or((b == ring).then_some(a))),
                );
            }
        }
        assert!(reached.iter().all(|r| *r));
    }

    #[test]
    fn closed_form_a_washer_is_cut_into_rings_of_its_own_volume_and_thickness() {
        let of = middle("M 3 5 L 5 5 L 5 25 L 3 25 Z", 8);
        assert_eq!(
            (of.rings.len(), of.stretches.as_slice()),
            (8, ["web".to_owned()].as_slice())
        );
        is_a_tree(&of);
        let exact = std::f64::consts::PI * (625.0 - 25.0) * 2.0;
        assert!((of.volume_mm3() / exact - 1.0).abs() < 1e-9);
        assert!(of.volume_off_share.abs() < 0.005, "{}", of.volume_off_share);
        for ring in &of.rings {
            // The step of the cut outline is a 27th of the thickness.
            assert!((ring.thickness_mm - 2.0).abs() < 0.02, "{ring:?}");
            assert!(
                (ring.volume_mm3 / (exact / 8.0) - 1.0).abs() < 0.02,
                "{ring:?}"
            );
            assert!((ring.axial_mm - 4.0).abs() < 0.01);
        }
        // A ring from r to R has its middle at 2/3 (R³ − r³)/(R² − r²): the moments add up to the washer's.
        let moment: f64 = of.rings.iter().map(|r| r.volume_mm3 * r.radius_mm).sum();
        let whole = 2.0 / 3.0 * TAU * (25.0_f64.powi(3) - 5.0_f64.powi(3));
        assert!((moment / whole - 1.0).abs() < 1e-9);
    }

    #[test]
    fn law_the_rings_of_the_demo_half_are_its_volume_and_its_walls_have_their_names() {
        for rings in [1, 12, 16, 32, 64] {
            let of = middle(&dunlin(), rings);
            let named: Vec<&str> = of.stretches.iter().map(String::as_str).collect();
            for name in ["hub", "post", "web", "wall", "spigot"] {
                assert!(named.contains(&name), "{named:?}");
            }
            assert_eq!(of.rings.len(), rings.max(2 * named.len()));
            is_a_tree(&of);
            let outline = Outline::read(&dunlin()).expect("a path");
            let exact = moments(&outline.loops[0].segments).volume.abs();
            assert!((of.volume_mm3() / exact - 1.0).abs() < 1e-9);
            assert!(of.volume_off_share.abs() < 0.005, "{}", of.volume_off_share);
            assert!(
                of.rings
                    .iter()
                    .all(|r| r.volume_mm3 > 0.0 && r.length_mm > 0.0)
            );
            // The drawing's spigot is 24.045 less 22.73 mm thick, but for the chamfer at its end.
            let spigot = named.iter().position(|n| *n == "spigot").expect("a spigot");
            let thick = of.rings.iter().filter(|r| r.stretch == spigot);
            let near = thick.map(|r| (r.thickness_mm - (24.045 - 22.73)).abs());
            // Two rings to a stretch, the least, share the change of thickness at its end between them.
            assert!(rings < 12 || near.fold(f64::INFINITY, f64::min) < 0.01);
        }
    }

    #[test]
    fn closed_form_the_volume_by_thickness_is_that_of_a_conical_wall() {
        // A cone's wall: width times way is exact but for its two slanted ends.
        let of = middle("M 0 5 L 12 17 L 13 16 L 1 4 Z", 10);
        assert_eq!(of.stretches, ["wall"]);
        assert!(of.volume_off_share.abs() < 0.002, "{}", of.volume_off_share);
    }

    #[test]
    fn law_a_piece_in_two_parts_is_refused() {
        let outline = Outline::read("M 0 2 L 3 2 L 3 9 L 0 9 Z M 5 2 L 8 2 L 8 9 L 5 9 Z");
        let outline = outline.expect("a path");
        let loops: Vec<_> = outline.loops.iter().map(|l| l.segments.clone()).collect();
        let refused = Middle::of_section(&loops, 8, false).expect_err("two parts");
        assert!(
            refused.to_string().contains("falls into 2 parts"),
            "{refused}"
        );
    }

    #[test]
    fn law_a_section_with_a_hollow_has_one_link_more() {
        let of = middle(
            "M 0 4 L 10 4 L 10 16 L 0 16 Z M 2 6 L 2 14 L 8 14 L 8 6 Z",
            16,
        );
        assert_eq!(of.links.len(), of.rings.len());
        let exact = std::f64::consts::PI * ((256.0 - 16.0) * 10.0 - (196.0 - 36.0) * 6.0);
        assert!((of.volume_mm3() / exact - 1.0).abs() < 1e-9);
        assert!(of.volume_off_share.abs() < 0.005, "{}", of.volume_off_share);
    }

    #[test]
    fn law_a_section_without_a_middle_line_is_refused_in_words() {
        for loops in [Vec::new(), vec![Vec::new()]] {
            let refused = Middle::of_section(&loops, 8, false).expect_err("nothing is there");
            assert!(
                refused.to_string().contains("cannot be parted into walls"),
                "{refused}"
            );
        }
    }
}
