//! What the pictures of a shot need beside the answer.

/// The half and how it fills.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MouldView {
    /// Outline of the half as SVG path data in mm, x along the axle and y the radius.
    pub outline: String,
    /// The front over the half.
    pub fill: FillView,
}

/// When the front comes where, on the half laid flat.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FillView {
    /// The stretches of the section.
    pub stretches: Vec<FillStretch>,
    /// Columns round the axle, the first at the half's mark.
    pub columns_count: usize,
    /// Where melt comes in: stretch, ring, and angle from the half's mark (none for all round).
    pub gates: Vec<FillGate>,
    /// When speed gave over to pressure.
    pub switch_s: f64,
}

/// One stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct FillStretch {
    /// Its name.
    pub name: String,
    /// Whether it lies on the long way from the axle to the outermost edge.
    pub on_long_way: bool,
    /// Its rings in their order.
    pub rings: Vec<FillRing>,
}

/// One ring laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct FillRing {
    /// Where it begins, along the middle line: from the axle on the long way, from its root elsewhere.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// Arrival of the front, column after column, in s; no number where it never comes.
    pub arrival_s: Vec<f64>,
}

/// Where melt comes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FillGate {
    /// The stretch, by number.
    pub stretch: usize,
    /// The ring of it.
    pub ring: usize,
    /// Angle from the half's mark; none for all round.
    pub angle_deg: Option<f64>,
}
