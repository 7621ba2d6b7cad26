//! The middle surface of a half: rings about the axle, each as thick as the wall there, and how they hang together.
//!
//! From the drawn section: its middle line (`kit::skeleton`), parted into stretches where the line turns from along
//! the axle to outward, and each stretch into rings of about equal area. A ring's plastic is that of the very pieces
//! of the section that lie on it, so the rings together are the drawing; its thickness is the one that resists the
//! flow as the stretch does.

/// A short stretch of the middle line, turned about the axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Radius of the middle of its plastic.
    pub radius_mm: f64,
    /// Place of the same along the axle.
    pub axial_mm: f64,
    /// Length along the middle line.
    pub length_mm: f64,
    /// Wall thickness that carries the flow.
    pub thickness_mm: f64,
    /// Its plastic, all round: the rings together are the volume of the drawing.
    pub volume_mm3: f64,
    /// Which stretch of the section it belongs to (web, hub, …), by number in [`Middle::stretches`].
    pub stretch: usize,
}

/// Two rings that melt can pass between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// One of them.
    pub one: usize,
    /// The other.
    pub other: usize,
    /// Way along the middle line from the first one's middle to where they meet.
    pub one_mm: f64,
    /// From there to the other's middle.
    pub other_mm: f64,
    /// Radius of the place where they meet.
    pub radius_mm: f64,
}

/// The middle surface of one half.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Middle {
    /// The rings, stretch after stretch.
    pub rings: Vec<Ring>,
    /// Which hang together; a tree where the section has no hollow.
    pub links: Vec<Link>,
    /// Names of the stretches as a person would say them.
    pub stretches: Vec<String>,
    /// How far the volume of thickness times middle line was from that of the drawing before it was shared out, as a
    /// share; pieces of junctions and ends, which are no walls, are counted as they are drawn.
    pub volume_off_share: f64,
    /// The middle line as it is drawn, a line for each stretch.
    pub lines: Vec<MiddleLine>,
}

/// The middle line of one stretch.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MiddleLine {
    /// Its places, one after the other.
    pub points: Vec<LinePoint>,
}

/// A place of the middle line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// Along the axle.
    pub axial_mm: f64,
    /// From the axle.
    pub radius_mm: f64,
    /// Thickness of the wall across the line.
    pub thickness_mm: f64,
}

impl Middle {
    /// The ring nearest to a place of the section.
    #[must_use]
    pub fn ring_at(&self, axial_mm: f64, radius_mm: f64) -> Option<usize> {
        let far = |r: &Ring| (r.axial_mm - axial_mm).hypot(r.radius_mm - radius_mm);
        let numbered = self.rings.iter().enumerate();
        let nearest = numbered.min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b)));
        nearest.map(|(number, _)| number)
    }

    /// The plastic of the whole.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.rings.iter().map(|r| r.volume_mm3).sum()
    }
}
