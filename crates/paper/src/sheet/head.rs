//! What a sheet is about: printed at its top.

/// What stands at the head of a sheet. An empty text is left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Head {
    /// The lot.
    pub lot: String,
    /// The design that is made.
    pub design: String,
    /// The revision of the design, or of the limits.
    pub revision: String,
    /// When it is printed, in words; paper itself reads no clock.
    pub printed: String,
    /// The lot's note; one that says "invented" is printed on every page.
    pub note: Option<String>,
    /// What the QR square leads to; without it the square holds the lot's name and the code.
    pub link: Option<String>,
}

impl Head {
    /// The short code of one sheet of this lot.
    #[must_use]
    pub fn code(&self, sheet: &str) -> String {
        crate::code::of(&format!("{}\n{}\n{sheet}", self.lot, self.revision))
    }

    /// The second line of the head.
    #[must_use]
    pub(super) fn line(&self) -> String {
        let labelled = [
            ("", &self.design),
            ("revision ", &self.revision),
            ("printed ", &self.printed),
        ];
        let said: Vec<String> = labelled
            .iter()
            .filter(|(_, text)| !text.trim().is_empty())
            .map(|(label, text)| format!("{label}{text}"))
            .collect();
        said.join("  ·  ")
    }

    /// The note as it is printed: in the house's words where it says that the data are invented.
    #[must_use]
    pub(super) fn note_line(&self) -> Option<String> {
        let note = self.note.as_deref()?.trim();
        if note.is_empty() {
            return None;
        }
        let invented = note.to_lowercase().contains("invented");
        Some(if invented {
            crate::words::INVENTED.to_owned()
        } else {
            note.to_owned()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_an_invented_lot_says_so_and_another_keeps_its_note() {
        let head = |note: Option<&str>| Head {
            note: note.map(str::to_owned),
            ..Head::default()
        };
        assert_eq!(
            head(Some("Invented lot")).note_line().as_deref(),
            Some(crate::words::INVENTED)
        );
        assert_eq!(head(Some("hurry")).note_line().as_deref(), Some("hurry"));
        assert_eq!(head(Some("  ")).note_line(), None);
        assert_eq!(head(None).note_line(), None);
    }

    #[test]
    fn law_two_sheets_of_a_lot_have_two_codes() {
        let head = Head {
            lot: "D26".into(),
            ..Head::default()
        };
        assert_ne!(head.code("pick list"), head.code("traveller"));
        assert!(crate::code::is_whole(&head.code("pick list")));
    }
}
