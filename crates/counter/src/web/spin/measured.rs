//! What was measured of a spin, brought in from the page.

use std::sync::Arc;

use axum::extract::{Multipart, State};
use maud::{Markup, html};
use whirlwright_paper::ink::Drawing;
use whirlwright_paper::picture::spin as picture;
use whirlwright_paper::sheet;
use whirlwright_workshop::part::Answer;

use super::{chart, upload};
use crate::desk::job;
use crate::desk::spin::sent::{Measured, measured};
use crate::error::Trouble;
use crate::web::Shop;
use crate::web::layout::{self, Failure};

/// Takes files in and shows what they say.
pub async fn take(State(shop): State<Arc<Shop>>, form: Multipart) -> Result<Markup, Failure> {
    let sent = upload::read(form).await?;
    let jobs = job::in_folder(&shop.folder);
    let found = upload::job_of(&sent, &jobs)?;
    // A long recording takes seconds: other pages are answered meanwhile.
    let answer = tokio::task::spawn_blocking(move || measured(sent, found.as_deref())).await;
    let answer = answer.map_err(|why| Trouble::Ours(format!("the reckoning stopped: {why}")))??;
    let body = html! { (shown(&answer)) (upload::forms(&jobs)) };
    let trail = [("/spin".to_owned(), "Spin".to_owned())];
    Ok(layout::page("Spin test", &trail, &body))
}

fn shown(measured: &Measured) -> Markup {
    match measured {
        Measured::Log(answer) => {
            let (body, rows) = (&answer.body, sheet::spin_log_rows(&answer.body));
            page(
                answer,
                &chart::log(body),
                &rows,
                &picture::log_drawings(body),
            )
        }
        Measured::Recording(answer) => {
            let (body, rows) = (&answer.body, sheet::recording_rows(&answer.body));
            page(
                answer,
                &chart::track(body),
                &rows,
                &[picture::recording_drawing(body)],
            )
        }
        Measured::Compared(answer) => {
            let (body, rows) = (&answer.body, sheet::compare_rows(&answer.body));
            page(
                answer,
                &chart::compared(body),
                &rows,
                &[picture::compare_drawing(body)],
            )
        }
        Measured::Tray(answer) => {
            let rows = sheet::tray_rows(&answer.body);
            page(
                answer,
                &html! {},
                &rows,
                &[picture::tray_drawing(&answer.body)],
            )
        }
    }
}

/// Verdict, plot, the pictures as they are printed, the numbers, and how far to trust them.
fn page<B>(
    answer: &Answer<B>,
    plot: &Markup,
    rows: &[(String, String)],
    pictures: &[Drawing],
) -> Markup {
    html! {
        (layout::verdict(answer))
        div.row.noprint { button type="button" data-print="" hidden { "Print this page" } }
        (plot)
        (chart::figures(pictures))
        (chart::rows(rows))
        (layout::trust(answer))
    }
}
