//! Parts of a whole over one scale, one upon the other.

use kurbo::Rect;

use super::frame::{Frame, Scale};
use super::legend::{Legend, area};
use super::look::Look;
use crate::ink::{Drawing, Style};
use crate::palette::INK;
use crate::picture::{LABEL, WIDTH};

/// One part.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What it is, for the legend.
    pub name: String,
    /// Its size at each place of [`Stack::places`]; below nought counts as nought.
    pub sizes: Vec<f64>,
    /// How it is told apart.
    pub look: Look,
}

/// Layers over common places.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// The heading; also read aloud.
    pub title: String,
    /// What can be learnt from it.
    pub description: String,
    /// What runs across.
    pub across: Scale,
    /// What is stacked, with its unit.
    pub up_label: String,
    /// The places across, ascending.
    pub places: Vec<f64>,
    /// The layers, the lowest first.
    pub layers: Vec<Layer>,
    /// Height of the field with its labels, in points.
    pub height: f64,
}

const HEAD: f64 = 40.0;

impl Stack {
    /// The stack as a picture of the usual width.
    #[must_use]
    pub fn drawing(&self) -> Drawing {
        let legend = self.legend();
        let width = WIDTH - 24.0;
        let height = HEAD + self.height + legend.height(width) + 10.0;
        let mut drawing = Drawing::new(WIDTH, height, &self.title, &self.description);
        drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), &self.title);
        let foot = HEAD + self.height;
        self.draw_in(&mut drawing, Rect::new(0.0, HEAD, WIDTH, foot));
        legend.draw(&mut drawing, 12.0, foot, width);
        drawing
    }

    /// Draws the field with its labels into a room of another drawing.
    pub fn draw_in(&self, drawing: &mut Drawing, room: Rect) {
        let edges = self.edges();
        let top = edges.last().map(Vec::as_slice).unwrap_or_default();
        let heights = top.iter().map(|(_, y)| *y);
        let up = Scale::over(&self.up_label, heights)
            .from_nought()
            .with_head_room(0.04);
        let frame = Frame::draw(drawing, room, &self.across, &up);
        for (n, layer) in self.layers.iter().enumerate() {
            let outline = frame.area(&edges[n], &edges[n + 1]);
            area(drawing, outline, layer.look);
        }
        frame.close(drawing);
    }

    /// The words under it, the uppermost layer first, as they lie.
    #[must_use]
    pub fn legend(&self) -> Legend {
        let mut legend = Legend::default();
        for layer in self.layers.iter().rev() {
            legend.area(layer.look, &layer.name);
        }
        legend
    }

    /// The lines between the layers, from nought upward: one more than there are layers.
    fn edges(&self) -> Vec<Vec<(f64, f64)>> {
        let mut height = vec![0.0; self.places.len()];
        let line = |height: &[f64]| -> Vec<(f64, f64)> {
            self.places
                .iter()
                .copied()
                .zip(height.iter().copied())
                .collect()
        };
        let mut edges = vec![line(&height)];
        for layer in &self.layers {
            for (sum, size) in height.iter_mut().zip(&layer.sizes) {
                // NaN counts as nought too: `max` gives the other one.
                *sum += size.max(0.0);
            }
            edges.push(line(&height));
        }
        edges
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_uppermost_edge_is_the_sum() {
        let layer = |sizes: &[f64]| Layer {
            name: String::new(),
            sizes: sizes.to_vec(),
            look: Look(0),
        };
        let stack = Stack {
            title: String::new(),
            description: String::new(),
            across: Scale::over("", [0.0, 2.0]),
            up_label: String::new(),
            places: vec![0.0, 1.0, 2.0],
            layers: vec![layer(&[1.0, 2.0, 3.0]), layer(&[0.5, f64::NAN, -1.0])],
            height: 200.0,
        };
        let edges = stack.edges();
        assert_eq!(edges.len(), 3);
        assert_eq!(edges[2], [(0.0, 1.5), (1.0, 2.0), (2.0, 3.0)]);
    }
}
