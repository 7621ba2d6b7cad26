//! Tables in the terminal: words to the left, numbers to the right, the unit in the heading.

use super::page::{Page, plain};

/// Widest table.
const WIDEST: usize = 100;
/// Longest cell before it is cut.
const LONGEST_CELL: usize = 40;

/// A table of texts.
#[derive(Debug, Default)]
pub struct Table {
    heads: Vec<(String, bool)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A table whose headings start with `>` where the column holds numbers.
    #[must_use]
    pub fn new(heads: &[&str]) -> Self {
        let head = |text: &&str| match text.strip_prefix('>') {
            Some(rest) => (rest.to_owned(), true),
            None => ((*text).to_owned(), false),
        };
        Self {
            heads: heads.iter().map(head).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row; missing cells stay empty.
    pub fn row(&mut self, cells: Vec<String>) {
        self.rows
            .push(cells.iter().map(|cell| cut(&plain(cell))).collect());
    }

    /// Whether there is no row.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Writes the table; columns without any content are left out.
    pub fn write(&self, page: &mut Page) {
        let cell = |row: &Vec<String>, n: usize| row.get(n).cloned().unwrap_or_default();
        let used: Vec<usize> = (0..self.heads.len())
            .filter(|n| self.rows.iter().any(|row| !cell(row, *n).is_empty()))
            .collect();
        let wide = |n: usize| {
            let longest = self
                .rows
                .iter()
                .map(|row| cell(row, n).chars().count())
                .max();
            longest.unwrap_or(0).max(self.heads[n].0.chars().count())
        };
        let heads = used
            .iter()
            .map(|n| (self.heads[*n].0.clone(), *n))
            .collect::<Vec<_>>();
        let set = |text: &str, n: usize| {
            let width = wide(n);
            if self.heads[n].1 {
                format!("{text:>width$}")
            } else {
                format!("{text:<width$}")
            }
        };
        let line = |cells: Vec<String>| {
            let whole = format!("  {}", cells.join("  "));
            whole.chars().take(WIDEST).collect::<String>()
        };
        page.line(&line(heads.iter().map(|(text, n)| set(text, *n)).collect()));
        page.line(&line(used.iter().map(|n| "─".repeat(wide(*n))).collect()));
        for row in &self.rows {
            page.line(&line(
                used.iter().map(|n| set(&cell(row, *n), *n)).collect(),
            ));
        }
    }
}

fn cut(text: &str) -> String {
    if text.chars().count() <= LONGEST_CELL {
        return text.to_owned();
    }
    let mut kept: String = text.chars().take(LONGEST_CELL - 1).collect();
    kept.push('…');
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_columns_line_up_and_empty_ones_go() {
        let mut table = Table::new(&["set", "nothing", ">mass in g"]);
        table.row(vec!["1".into(), String::new(), "9.50".into()]);
        table.row(vec!["12".into(), String::new(), "10.50".into()]);
        let mut page = Page::default();
        table.write(&mut page);
        assert_eq!(
            page.finish(),
            "  set  mass in g\n  ───  ─────────\n  1         9.50\n  12       10.50\n"
        );
    }

    #[test]
    fn law_no_line_is_wider_than_a_terminal() {
        let mut table = Table::new(&["a", "b", "c", "d", "e"]);
        table.row(vec!["x".repeat(500); 5]);
        let mut page = Page::default();
        table.write(&mut page);
        assert!(
            page.finish()
                .lines()
                .all(|line| line.chars().count() <= WIDEST)
        );
    }
}
