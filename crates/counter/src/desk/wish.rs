//! What a person asks of the pairing, as typed: the command's flags and the page's form fields.

use clap::Args;
use serde::{Deserialize, Deserializer, Serialize};

/// Limits and wishes, each as text with its unit; checked by the desk, not by the window.
#[derive(Debug, Clone, Default, PartialEq, Eq, Args, Deserialize, Serialize)]
#[serde(default)]
pub struct Wish {
    /// The two dressed halves of a set differ in mass by no more than this.
    #[arg(long, value_name = "MASS", help_heading = "Limits")]
    pub mass_within: Option<String>,
    /// The two differ in the size of their unbalance by no more than this, e.g. "0.3 g·mm".
    #[arg(long, value_name = "UNBALANCE", help_heading = "Limits")]
    pub unbalance_within: Option<String>,
    /// The two differ in the offset of their centres by no more than this, e.g. "0.03 mm".
    #[arg(long, value_name = "LENGTH", help_heading = "Limits")]
    pub offset_within: Option<String>,
    /// The two dressed halves together should weigh this, e.g. "57.60 g".
    #[arg(
        long,
        value_name = "MASS",
        help_heading = "Limits",
        requires = "piece_within"
    )]
    pub piece_mass: Option<String>,
    /// … and may be off by no more than this, e.g. "0.1 g".
    #[arg(
        long,
        value_name = "MASS",
        help_heading = "Limits",
        requires = "piece_mass"
    )]
    pub piece_within: Option<String>,
    /// Spigot less bore lies in this window, e.g. "0.07 mm .. 0.11 mm".
    #[arg(long, value_name = "WINDOW", help_heading = "Limits")]
    pub fit_window: Option<String>,
    /// Pair all that can be paired, whatever the limits: least total cost.
    #[arg(long, help_heading = "Wishes")]
    pub all: bool,
    /// Pair halves and rims with doubtful readings all the same; without this they wait for a second
    /// weighing.
    #[arg(long, help_heading = "Wishes")]
    pub include_doubtful: bool,
    /// Also say which rims to recut, by how much, to bring the most sets.
    #[arg(long, help_heading = "Wishes")]
    pub recut: bool,
    /// The most that may come off a rim's face, e.g. "0.3 mm".
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Recut",
        requires = "recut"
    )]
    pub most_face: Option<String>,
    /// The steps in which a face is cut, e.g. "0.01 mm".
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Recut",
        requires = "recut"
    )]
    pub step: Option<String>,
    /// Outside diameter of the face that is cut, e.g. "58 mm".
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Recut",
        requires = "recut"
    )]
    pub rim_outside: Option<String>,
    /// Inside diameter of the face that is cut, e.g. "48 mm".
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Recut",
        requires = "recut"
    )]
    pub rim_inside: Option<String>,
    /// Density of the rim, e.g. "2.70 g/cm3".
    #[arg(
        long,
        value_name = "DENSITY",
        help_heading = "Recut",
        requires = "recut"
    )]
    pub rim_density: Option<String>,
    /// The joint has this many clock marks: the second half is turned to the best of them.
    #[arg(long, value_name = "NUMBER", help_heading = "Wishes")]
    pub clock_marks: Option<String>,
    /// Two serials that must not come into one set, e.g. "D26-H0001,D26-H0002"; may be repeated.
    #[arg(long, value_name = "A,B", help_heading = "Wishes")]
    #[serde(deserialize_with = "one_or_several")]
    pub forbid: Vec<String>,
}

impl Wish {
    /// Whether any limit was typed.
    #[must_use]
    pub fn sets_limits(&self) -> bool {
        [
            &self.mass_within,
            &self.unbalance_within,
            &self.offset_within,
            &self.piece_mass,
            &self.piece_within,
            &self.fit_window,
        ]
        .iter()
        .any(|text| text.is_some())
    }

    /// The same without fields that were left empty, as a form sends them.
    #[must_use]
    pub fn tidied(mut self) -> Self {
        let texts = [
            &mut self.mass_within,
            &mut self.unbalance_within,
            &mut self.offset_within,
            &mut self.piece_mass,
            &mut self.piece_within,
            &mut self.fit_window,
            &mut self.most_face,
            &mut self.step,
            &mut self.rim_outside,
            &mut self.rim_inside,
            &mut self.rim_density,
            &mut self.clock_marks,
        ];
        for text in texts {
            *text = text
                .take()
                .map(|t| t.trim().to_owned())
                .filter(|t| !t.is_empty());
        }
        self
    }
}

/// A form sends one text with a pair on each line; the record keeps a list.
fn one_or_several<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Typed {
        One(String),
        Several(Vec<String>),
    }
    let lines = |text: String| {
        text.lines()
            .map(|l| l.trim().to_owned())
            .filter(|l| !l.is_empty())
            .collect()
    };
    Ok(match Typed::deserialize(from)? {
        Typed::One(text) => lines(text),
        Typed::Several(list) => list,
    })
}
