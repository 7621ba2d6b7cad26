//! The solids of a design as a STEP file (ISO 10303-21, schema AP214).
//!
//! Every piece becomes exact boundary faces: planes, cylinders and cones for straight segments,
//! surfaces of revolution of the very circle, ellipse or Bézier curve for the others. Nothing is
//! approximated. Each face is half a turn, so no face closes on itself.

mod face;
mod writer;

use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::job::Side;
use whirlwright_workshop::part::outline::{Segment, Swept};

use writer::Writer;

/// Writes the round bodies of a job; units are mm, the axle is the x axis, and x = 0 is the middle
/// of the gap.
///
/// Holes, pockets and lumps are not drawn; the file's description says how many were left out.
/// The file bears no date, so that the same job gives the same bytes.
#[must_use]
pub fn write(job: &Job) -> String {
    let mut writer = Writer::new();
    let mut solids = Vec::new();
    for piece in &job.pieces {
        let swept = piece.outline.solids();
        let mut take = |side: &str, swept: &[Swept]| {
            let name = format!("{} {side}", piece.name);
            solids.extend(swept.iter().map(|s| solid(&mut writer, &name, s)));
        };
        take(
            if piece.side == Side::Both {
                Side::Right.word()
            } else {
                piece.side.word()
            },
            &swept,
        );
        if piece.side == Side::Both {
            let mirrored: Vec<Swept> = swept.iter().map(mirrored).collect();
            take(Side::Left.word(), &mirrored);
        }
    }
    let left_out: usize = job.pieces.iter().map(|p| p.features.len()).sum();
    writer.finish(&job.name, &solids, left_out)
}

fn mirrored(swept: &Swept) -> Swept {
    let turn = |l: &Vec<Segment>| -> Vec<Segment> {
        l.iter().rev().map(|s| s.mirrored().reversed()).collect()
    };
    Swept {
        outer: turn(&swept.outer),
        hollows: swept.hollows.iter().map(turn).collect(),
    }
}

fn solid(writer: &mut Writer, name: &str, swept: &Swept) -> usize {
    let name = writer::text(name);
    let outer = face::shell(writer, &swept.outer);
    if swept.hollows.is_empty() {
        return writer.add(format!("MANIFOLD_SOLID_BREP({name},#{outer})"));
    }
    let hollows: Vec<usize> = swept
        .hollows
        .iter()
        .map(|hollow| {
            let shell = face::shell(writer, hollow);
            writer.add(format!("ORIENTED_CLOSED_SHELL('',*,#{shell},.T.)"))
        })
        .collect();
    let hollows = writer::list(&hollows);
    writer.add(format!("BREP_WITH_VOIDS({name},#{outer},{hollows})"))
}
