//! What the pages load: one style sheet, one short script, and the plotting library.

use std::sync::OnceLock;

use axum::extract::Path;
use axum::http::header;
use axum::response::{IntoResponse, Response};

use super::layout::Failure;
use crate::error::Trouble;

const STYLE: &str = include_str!("style.css");
const PAGE: &str = include_str!("page.js");

/// A stamp that changes with the files, so that a kept one is never used past its time.
pub const STAMP: u32 = stamp(STYLE.as_bytes(), stamp(PAGE.as_bytes(), 0x811c_9dc5));

/// The check sum of Fowler, Noll and Vo (FNV-1a, 32 bits; constants from memory): enough to tell
/// one version from the next.
const fn stamp(bytes: &[u8], start: u32) -> u32 {
    let (mut sum, mut at) = (start, 0);
    while at < bytes.len() {
        sum = (sum ^ bytes[at] as u32).wrapping_mul(0x0100_0193);
        at += 1;
    }
    sum
}

/// Files carry the stamp in their address, so they may be kept for a year.
const KEEP: &str = "public, max-age=31536000, immutable";

/// One of the files by name.
pub async fn file(Path(name): Path<String>) -> Response {
    let (kind, body) = match name.as_str() {
        "style.css" => ("text/css; charset=utf-8", STYLE),
        // The plotting library writes its rules into this sheet instead of an inline one.
        "plot.css" => ("text/css; charset=utf-8", ""),
        "page.js" => ("text/javascript; charset=utf-8", PAGE),
        "plotly.js" => ("text/javascript; charset=utf-8", plotting()),
        _ => {
            return Failure(Trouble::NotFound(format!("there is no file `{name}`")))
                .into_response();
        }
    };
    (
        [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, KEEP)],
        body,
    )
        .into_response()
}

/// The plotting library alone. Its crate hands it out wrapped in script tags, with a formula
/// setter after it that is not needed here.
fn plotting() -> &'static str {
    static TEXT: OnceLock<String> = OnceLock::new();
    TEXT.get_or_init(|| {
        let all = plotly::Plot::offline_js_sources();
        let start = all.find('>').map_or(0, |at| at + 1);
        let end = all.find("</script>\n\n").unwrap_or(all.len());
        all.get(start..end).unwrap_or_default().to_owned()
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn reads_the_plotting_library_whole_and_alone() {
        let text = super::plotting();
        assert!(text.starts_with("/**"), "{}", &text[..60]);
        assert!(
            text.trim_end().ends_with(';'),
            "{}",
            &text[text.len() - 60..]
        );
        assert!(!text.contains("<script type"));
    }
}
