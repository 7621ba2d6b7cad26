//! The parts every answer in the terminal has: verdict, headings, lines, how far to trust it.

use whirlwright_workshop::part::{Answer, Verdict};

use crate::words::{self, GLUE, SPACES};

/// Columns of running text.
pub const WIDTH: usize = 80;

/// A text that grows line by line.
#[derive(Debug, Default)]
pub struct Page {
    out: String,
}

impl Page {
    /// Starts with the verdict, the headline and what decided.
    #[must_use]
    pub fn answer<B>(answer: &Answer<B>) -> Self {
        let mut page = Self::default();
        let shape = words::shape(answer.verdict);
        let word = words::verdict(answer.verdict);
        page.hanging(&format!("{shape} {word}   "), &answer.headline);
        if !answer.decided_by.is_empty() {
            page.hanging("         ", &format!("Decided by: {}", answer.decided_by));
        }
        page
    }

    /// An empty line and a heading.
    pub fn heading(&mut self, text: &str) {
        self.out.push('\n');
        self.line(text);
    }

    /// One line as it is, but for control signs: what came from outside cannot move the cursor.
    pub fn line(&mut self, text: &str) {
        self.out.push_str(plain(text).trim_end());
        self.out.push('\n');
    }

    /// A label and what belongs to it, the latter in lines that hang under each other.
    pub fn row(&mut self, label: &str, value: &str) {
        if label.chars().count() > 18 {
            self.hanging("  ", &format!("{label}: {value}"));
        } else {
            self.hanging(&format!("  {label:<18} "), value);
        }
    }

    /// A point of a list.
    pub fn point(&mut self, text: &str) {
        self.hanging("  · ", text);
    }

    /// A text in lines of at most [`WIDTH`] columns, all but the first indented as far as `lead`.
    pub fn hanging(&mut self, lead: &str, text: &str) {
        let indent = lead.chars().count();
        let blank = " ".repeat(indent);
        for (n, line) in wrap(text, WIDTH.saturating_sub(indent).max(20))
            .iter()
            .enumerate()
        {
            let start = if n == 0 { lead } else { &blank };
            self.line(&format!("{start}{line}"));
        }
    }

    /// How far to trust it, what can hurt, what to do next; then the whole text.
    #[must_use]
    pub fn end<B>(mut self, answer: &Answer<B>) -> String {
        if !answer.cautions.is_empty() {
            self.heading("Take care");
            for caution in &answer.cautions {
                self.hanging("  ! ", caution);
            }
        }
        if !answer.trust.is_empty() {
            self.heading("How far to trust it");
            for trust in &answer.trust {
                let basis = words::basis(trust.basis);
                self.point(&format!(
                    "{} ({basis}): {}",
                    words::of_key(&trust.number),
                    trust.why
                ));
            }
        }
        if !answer.next.is_empty() {
            self.heading("Next");
            for (n, step) in answer.next.iter().enumerate() {
                self.hanging(&format!("  {}. ", n + 1), &words::sentence(step));
            }
        }
        self.out
    }

    /// The whole text of something that is no station's answer.
    #[must_use]
    pub fn finish(self) -> String {
        self.out
    }
}

/// The same text with the verdict's line in bold and in the verdict's colour, by terminal codes.
#[must_use]
pub fn coloured(text: &str) -> String {
    let Some((first, rest)) = text.split_once('\n') else {
        return text.to_owned();
    };
    let colour = [
        (Verdict::Good, "32"),
        (Verdict::Look, "33"),
        (Verdict::Stop, "31"),
    ]
    .into_iter()
    .find(|(verdict, _)| first.starts_with(words::shape(*verdict)));
    match colour {
        Some((_, code)) => format!("\u{1b}[1;{code}m{first}\u{1b}[0m\n{rest}"),
        None => text.to_owned(),
    }
}

/// Breaks a text into lines; a word too long for a line stands alone and is not broken, so that it
/// can be copied whole. Control signs, which could move a terminal's cursor, become spaces.
#[must_use]
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let text = words::glued(&plain(text));
    let mut lines = vec![String::new()];
    for word in text.split(SPACES).filter(|word| !word.is_empty()) {
        let last = lines
            .last_mut()
            .expect("there is always a line: the first is made above");
        let used = last.chars().count();
        if used == 0 {
            last.push_str(word);
        } else if used + 1 + word.chars().count() <= width {
            last.push(' ');
            last.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines.iter().map(|line| line.replace(GLUE, " ")).collect()
}

/// Control signs become spaces.
#[must_use]
pub fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_terminal_codes_from_outside_are_taken_out() {
        assert!(
            !wrap("a\u{1b}[2Jb\u{7}", 20)
                .concat()
                .chars()
                .any(char::is_control)
        );
    }

    #[test]
    fn law_lines_keep_their_width_and_long_words_stay_whole() {
        let lines = wrap("one two three averyveryverylongword four", 10);
        assert_eq!(lines, ["one two", "three", "averyveryverylongword", "four"]);
        assert_eq!(wrap("", 10), [""]);
    }

    #[test]
    fn law_colour_only_repeats_the_verdict() {
        assert!(
            coloured("✓ good   yes\nmore\n").starts_with("\u{1b}[1;32m✓ good   yes\u{1b}[0m\nmore")
        );
        assert_eq!(coloured("Lot D26\nmore\n"), "Lot D26\nmore\n");
    }
}
