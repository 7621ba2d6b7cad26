//! The wall a hole leaves: its outline against the border of the section.

use whirlwright_kit::revolve::Segment;

/// Chords of a curved border: a quarter circle of 30 mm is left by less than a µm.
const CHORDS: usize = 256;

type Place = (f64, f64);

/// The shortest way from a hole's outline to the border, in mm; 0 where it breaks through. The segment
/// (loop, number) the tool enters by is left out.
pub(super) fn wall_left(
    loops: &[Vec<Segment>],
    entry: Option<(usize, usize)>,
    outline: &[Place],
) -> f64 {
    let mut least = f64::INFINITY;
    for (in_loop, segments) in loops.iter().enumerate() {
        for (of, segment) in segments.iter().enumerate() {
            if entry == Some((in_loop, of)) {
                continue;
            }
            let chords = if matches!(segment, Segment::Line(..)) {
                1
            } else {
                CHORDS
            };
            let at = |n: usize| {
                let p = segment.at(n as f64 / chords as f64);
                (p.x, p.y)
            };
            for n in 0..chords {
                let border = (at(n), at(n + 1));
                for side in outline.windows(2) {
                    least = least.min(apart(border, (side[0], side[1])));
                }
            }
        }
    }
    least
}

/// The distance between two straight pieces; 0 where they cross.
fn apart((a, b): (Place, Place), (c, d): (Place, Place)) -> f64 {
    let turn = |o: Place, p: Place, q: Place| (p.0 - o.0) * (q.1 - o.1) - (p.1 - o.1) * (q.0 - o.0);
    let crosses = turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0;
    if crosses {
        return 0.0;
    }
    to_line(a, c, d)
        .min(to_line(b, c, d))
        .min(to_line(c, a, b))
        .min(to_line(d, a, b))
}

fn to_line(p: Place, a: Place, b: Place) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_distances_of_straight_pieces() {
        let level = ((0.0, 0.0), (4.0, 0.0));
        assert_eq!(apart(level, ((1.0, 2.0), (3.0, 2.0))), 2.0);
        assert_eq!(apart(level, ((1.0, -1.0), (1.0, 1.0))), 0.0);
        assert_eq!(apart(level, ((7.0, 4.0), (9.0, 9.0))), 5.0);
    }
}
