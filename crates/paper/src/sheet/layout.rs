//! A4 pages that fill from the top, with head and foot.

use kurbo::Rect;
use whirlwright_workshop::part::{Answer, Trust};

use super::head::Head;
use crate::font::{self, Weight};
use crate::ink::pdf::{self, PaperError};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PENCIL, RULE, WASH, of_verdict};
use crate::{code, words};

/// A4 in points.
pub const PAGE: (f64, f64) = (595.28, 841.89);
/// Left edge of the text: 16 mm, so that the sheet can be punched.
pub const LEFT: f64 = 44.0;
/// Right edge of the text.
pub const RIGHT: f64 = PAGE.0 - 32.0;
/// Lowest base line above the foot.
pub const BOTTOM: f64 = PAGE.1 - 62.0;
/// Running text.
pub const TEXT: f64 = 11.0;

const SQUARE: f64 = 60.0;
/// Pictures leave this much free at both sides; on a sheet that margin is the page's own.
const PICTURE_MARGIN: f64 = 12.0;

/// A sheet that grows page by page.
pub struct Layout<'a> {
    head: &'a Head,
    title: String,
    pages: Vec<Drawing>,
    /// The next free base line or upper edge on the page.
    pub y: f64,
}

impl<'a> Layout<'a> {
    /// Starts the first page.
    #[must_use]
    pub fn new(head: &'a Head, title: &str) -> Self {
        let mut layout = Self {
            head,
            title: title.to_owned(),
            pages: Vec::new(),
            y: 0.0,
        };
        layout.turn();
        layout
    }

    /// The page that is being filled.
    pub fn page(&mut self) -> &mut Drawing {
        self.pages
            .last_mut()
            .expect("a sheet has a page from the start: `new` turns to it")
    }

    /// Turns to a new page.
    pub fn turn(&mut self) {
        let title = self.title.clone();
        self.pages.push(Drawing::new(PAGE.0, PAGE.1, &title, ""));
        let first = self.pages.len() == 1;
        let head = self.head;
        let mut right = RIGHT;
        if first {
            right = self.square();
        }
        let page = self.page();
        let lot_style = Style::bold(20.0, INK);
        let lot = font::fit(&head.lot, 20.0, Weight::Bold, 180.0);
        let room = right - LEFT - lot_style.width(&lot) - 16.0;
        page.text(
            LEFT,
            58.0,
            Style::bold(20.0, INK),
            &font::fit(&title, 20.0, Weight::Bold, room),
        );
        page.anchored(right, 58.0, lot_style, Anchor::End, &lot);
        let line = font::fit(&head.line(), TEXT, Weight::Regular, right - LEFT);
        page.text(LEFT, 76.0, Style::plain(TEXT, PENCIL), &line);
        page.line((LEFT, 86.0), (right, 86.0), Stroke::line(INK, 1.2));
        self.y = if first { 112.0 } else { 108.0 };
    }

    /// The QR square and the code under it; gives the right edge that is left for the head.
    fn square(&mut self) -> f64 {
        let sheet_code = self.head.code(&self.title);
        let said = match &self.head.link {
            Some(link) => link.clone(),
            None => format!("{} {} {sheet_code}", self.head.lot, self.title),
        };
        let left = RIGHT - SQUARE;
        let Some(path) = code::qr(&said, left, 30.0, SQUARE) else {
            return RIGHT;
        };
        let page = self.page();
        page.path(path, Some((INK, 1.0)), None);
        let style = Style::bold(TEXT - 1.0, INK);
        let middle = left + SQUARE / 2.0;
        page.anchored(
            middle,
            30.0 + SQUARE + 14.0,
            style,
            Anchor::Middle,
            &code::grouped(&sheet_code),
        );
        // Four modules of quiet margin beside the square.
        left - 16.0
    }

    /// Makes sure that this height is free, on a new page if need be.
    pub fn room(&mut self, height: f64) {
        if self.y + height > BOTTOM {
            self.turn();
        }
    }

    /// The verdict with its shape and word, the headline and what decided.
    pub fn verdict<B>(&mut self, answer: &Answer<B>) {
        let colour = of_verdict(answer.verdict);
        let said = format!(
            "{} {}",
            words::shape(answer.verdict),
            words::verdict(answer.verdict)
        );
        let style = Style::bold(22.0, colour);
        let y = self.y + 14.0;
        self.page().text(LEFT, y, style, &said);
        let x = LEFT + style.width(&said) + 18.0;
        let right = RIGHT;
        let below = self.page().paragraph(
            x,
            y - 4.0,
            right - x,
            Style::bold(13.0, INK),
            &answer.headline,
        );
        let text = format!("Decided by: {}", answer.decided_by);
        let after = if answer.decided_by.is_empty() {
            below
        } else {
            self.page()
                .paragraph(x, below, right - x, Style::plain(TEXT, INK), &text)
        };
        self.y = after.max(y + 8.0) + 8.0;
    }

    /// A heading with room for some lines under it.
    pub fn heading(&mut self, text: &str) {
        self.room(100.0);
        let y = self.y + 14.0;
        self.page().text(LEFT, y, Style::bold(14.0, INK), text);
        self.y = y + 18.0;
    }

    /// Running text over the full width.
    pub fn paragraph(&mut self, text: &str) {
        self.lines(LEFT, Style::plain(TEXT, INK), text);
    }

    /// Second-rank text over the full width.
    pub fn aside(&mut self, text: &str) {
        self.lines(LEFT, Style::plain(TEXT - 1.0, PENCIL), text);
    }

    /// A caution: a shape before it, so that it is seen without colour.
    pub fn caution(&mut self, text: &str) {
        self.room(TEXT * 2.0);
        let y = self.y;
        self.page().text(LEFT, y, Style::bold(TEXT, INK), "▲");
        self.lines(LEFT + 18.0, Style::bold(TEXT, INK), text);
    }

    fn lines(&mut self, x: f64, style: Style, text: &str) {
        for line in font::wrap(text, style.size, style.weight, RIGHT - x) {
            self.room(style.size * 1.35);
            let y = self.y;
            self.page().text(x, y, style, &line);
            self.y += style.size * 1.35;
        }
        self.y += 3.0;
    }

    /// A label and what belongs to it.
    pub fn row(&mut self, label: &str, value: &str) {
        let style = Style::plain(TEXT, PENCIL);
        // A long label takes the room it needs, and the value stands beside its end.
        let x = (LEFT + style.width(label) + 10.0).clamp(LEFT + 122.0, (LEFT + RIGHT) / 2.0);
        let label = font::fit(label, TEXT, Weight::Regular, x - LEFT - 10.0);
        let lines = font::wrap(value, TEXT, Weight::Regular, RIGHT - x);
        self.room(TEXT * 1.4);
        let y = self.y;
        self.page().text(LEFT, y, style, &label);
        for line in lines {
            self.room(TEXT * 1.4);
            let y = self.y;
            self.page().text(x, y, Style::plain(TEXT, INK), &line);
            self.y += TEXT * 1.4;
        }
    }

    /// A picture over the full width, or narrower where the page is not high enough.
    pub fn picture(&mut self, picture: &Drawing) {
        let most = BOTTOM - 120.0;
        let full = (RIGHT - LEFT) / (picture.width - 2.0 * PICTURE_MARGIN);
        self.scaled(picture, full.min(most / picture.height));
    }

    /// Pictures one below the other, made up to a third smaller where that keeps them together on a page.
    pub fn pictures(&mut self, pictures: &[Drawing]) {
        const LEAST: f64 = 0.67;
        // Between pictures, see `scaled`.
        const AROUND: f64 = 12.0;
        let full = |p: &Drawing| (RIGHT - LEFT) / (p.width - 2.0 * PICTURE_MARGIN);
        let heights: Vec<f64> = pictures.iter().map(|p| p.height * full(p)).collect();
        let all: f64 = heights.iter().sum();
        let around = AROUND * pictures.len() as f64;
        let share = |y: f64| ((BOTTOM - y - around) / all).min(1.0);
        let first = heights.first().copied().unwrap_or_default();
        if share(self.y) < LEAST && self.y > 120.0 && self.y + first > BOTTOM {
            self.turn();
        }
        let share = share(self.y);
        for picture in pictures {
            if share >= LEAST {
                self.scaled(picture, full(picture) * share);
            } else {
                self.picture(picture);
            }
        }
    }

    fn scaled(&mut self, picture: &Drawing, scale: f64) {
        let height = picture.height * scale;
        self.room(height);
        let y = self.y - 8.0;
        let left = LEFT - PICTURE_MARGIN * scale;
        self.y = y + self.page().put(left, y, picture.width * scale, picture) + 12.0;
    }

    /// How far each number is to be trusted.
    pub fn trust(&mut self, trust: &[Trust]) {
        if trust.is_empty() {
            return;
        }
        self.heading("How far to trust it");
        for line in trust {
            let label = format!(
                "{} ({})",
                words::of_key(&line.number),
                words::basis(line.basis)
            );
            self.aside(&format!("{label}: {}", line.why));
        }
    }

    /// An empty box to tick, its lower edge on the base line.
    pub fn tick_box(&mut self, x: f64, y: f64, side: f64) {
        let frame = Rect::new(x, y - side + 1.0, x + side, y + 1.0);
        self.page().frame(frame, Stroke::line(INK, 1.0));
    }

    /// A faint line across, to lead the eye.
    pub fn ruling(&mut self, from: f64, to: f64, y: f64) {
        self.page()
            .line((from, y), (to, y), Stroke::line(WASH, 0.8));
    }

    /// Writes foot and page numbers and makes the PDF.
    ///
    /// # Errors
    /// See [`pdf::write`].
    pub fn finish(mut self) -> Result<Vec<u8>, PaperError> {
        let pages = self.pages.len();
        let sheet_code = code::grouped(&self.head.code(&self.title));
        let note = self.head.note_line();
        let lot = font::fit(&self.head.lot, TEXT, Weight::Regular, 160.0);
        for (n, page) in self.pages.iter_mut().enumerate() {
            let top = PAGE.1 - 48.0;
            page.line((LEFT, top), (RIGHT, top), Stroke::line(RULE, 0.8));
            let style = Style::plain(TEXT - 1.0, PENCIL);
            let said = format!("{lot}  ·  {sheet_code}");
            page.text(LEFT, top + 15.0, style, &said);
            let number = format!("page {} of {pages}", n + 1);
            page.anchored(RIGHT, top + 15.0, style, Anchor::End, &number);
            if let Some(note) = &note {
                // Between what stands at both ends, so that none of them is written over.
                let left = LEFT + style.width(&said) + 12.0;
                let right = RIGHT - style.width(&number) - 12.0;
                let note = font::fit(note, TEXT - 1.0, Weight::Bold, right - left);
                let style = Style::bold(TEXT - 1.0, INK);
                let middle = (left + right) / 2.0;
                page.anchored(middle, top + 15.0, style, Anchor::Middle, &note);
            }
        }
        let title = format!("{} {}", self.head.lot, self.title);
        pdf::write(title.trim(), &self.pages)
    }
}
