//! The bundled type, and how wide a text runs in it.
//!
//! Glyphs are set one after another by their advance, without kerning: figures line up in columns,
//! and the width reckoned here is the width drawn.

use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

use crate::words::{self, GLUE, SPACES};

/// The name of the bundled family, as its files state it.
pub const FAMILY: &str = "DejaVu Sans Condensed";

/// The family as a style sheet would ask for it, with what may stand in.
pub const FAMILY_CSS: &str = "'DejaVu Sans Condensed','DejaVu Sans',Verdana,sans-serif";

/// How heavy the strokes are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// For reading.
    Regular,
    /// For what must be seen first.
    Bold,
}

impl Weight {
    /// The bytes of the font file.
    #[must_use]
    pub fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../fonts/DejaVuSansCondensed.ttf"),
            Self::Bold => include_bytes!("../fonts/DejaVuSansCondensed-Bold.ttf"),
        }
    }

    fn face(self) -> &'static Face {
        static REGULAR: LazyLock<Face> = LazyLock::new(|| Face::read(Weight::Regular.file()));
        static BOLD: LazyLock<Face> = LazyLock::new(|| Face::read(Weight::Bold.file()));
        match self {
            Self::Regular => &REGULAR,
            Self::Bold => &BOLD,
        }
    }
}

/// Letters below this are looked up once: every alphabet of Europe, and the signs we print.
const COMMON: u32 = 0x2800;

struct Face {
    font: FontRef<'static>,
    common: Vec<Glyph>,
}

impl Face {
    fn read(file: &'static [u8]) -> Self {
        let font = FontRef::new(file).expect("the bundled font is whole: a test reads it");
        let letter = |code| char::from_u32(code).unwrap_or_default();
        let common = (0..COMMON)
            .map(|code| look_up(&font, letter(code)))
            .collect();
        Self { font, common }
    }

    fn glyph(&self, letter: char) -> Glyph {
        let common = self.common.get(letter as usize);
        common
            .copied()
            .unwrap_or_else(|| look_up(&self.font, letter))
    }
}

fn look_up(font: &FontRef<'_>, letter: char) -> Glyph {
    let id = font.charmap().map(letter).unwrap_or_default();
    let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    Glyph {
        id: id.to_u32(),
        advance_em: metrics.advance_width(id).unwrap_or(0.0),
    }
}

/// One letter in the font.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// Its number in the font; 0 is the empty box of a letter the font lacks.
    pub id: u32,
    /// How far it moves the pen, in parts of the type size.
    pub advance_em: f32,
}

/// The glyph of a letter.
#[must_use]
pub fn glyph(letter: char, weight: Weight) -> Glyph {
    weight.face().glyph(letter)
}

/// How wide a text runs, in the unit of the type size.
#[must_use]
pub fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let face = weight.face();
    text.chars()
        .map(|letter| f64::from(face.glyph(letter).advance_em))
        .sum::<f64>()
        * size
}

/// Cuts a text so that it fits, with `…` where something is missing.
#[must_use]
pub fn fit(text: &str, size: f64, weight: Weight, most: f64) -> String {
    if width(text, size, weight) <= most {
        return text.to_owned();
    }
    let mut room = most - width("…", size, weight);
    let mut kept = String::new();
    for letter in text.chars() {
        room -= f64::from(glyph(letter, weight).advance_em) * size;
        if room < 0.0 {
            break;
        }
        kept.push(letter);
    }
    kept.push('…');
    kept
}

/// Breaks a text into lines that fit; a word too long for a line is broken inside.
#[must_use]
pub fn wrap(text: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let text = words::glued(text);
    for word in text.split(SPACES).filter(|word| !word.is_empty()) {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width(&longer, size, weight) <= most {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        line = break_word(word, size, weight, most, &mut lines);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines.iter().map(|line| line.replace(GLUE, " ")).collect()
}

/// Puts full lines of an overlong word into `lines` and gives the rest.
fn break_word(word: &str, size: f64, weight: Weight, most: f64, lines: &mut Vec<String>) -> String {
    let mut line = String::new();
    for letter in word.chars() {
        line.push(letter);
        if line.chars().count() > 1 && width(&line, size, weight) > most {
            line.pop();
            lines.push(std::mem::replace(&mut line, letter.to_string()));
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_sign_we_print_is_in_both_weights() {
        for weight in [Weight::Regular, Weight::Bold] {
            for sign in "·±²³°µ−✓▲■→≤≥×½…–—■○◆☐ΔØ▁▂▃▄▅▆▇█".chars()
            {
                assert_ne!(glyph(sign, weight).id, 0, "{sign} is missing in {weight:?}");
            }
        }
    }

    #[test]
    fn law_figures_are_equally_wide() {
        for weight in [Weight::Regular, Weight::Bold] {
            let wide = glyph('0', weight).advance_em;
            assert!(
                "123456789"
                    .chars()
                    .all(|figure| glyph(figure, weight).advance_em == wide)
            );
        }
    }

    #[test]
    fn law_lines_fit_and_no_letter_is_lost() {
        let text =
            "Turn the rims that run heavy averyverylongserialnumberwithoutanyspaceatall first";
        let lines = wrap(text, 10.0, Weight::Regular, 90.0);
        assert!(lines.len() > 3);
        for line in &lines {
            assert!(width(line, 10.0, Weight::Regular) <= 90.0, "{line}");
        }
        let letters = |t: &str| t.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(text));
    }

    #[test]
    fn law_a_cut_text_fits_and_says_so() {
        let cut = fit(&"W".repeat(200), 12.0, Weight::Bold, 100.0);
        assert!(cut.ends_with('…') && width(&cut, 12.0, Weight::Bold) <= 100.0);
        assert_eq!(fit("short", 12.0, Weight::Bold, 100.0), "short");
    }
}
