//! Printed sheets of a pairing.

use std::sync::Arc;

use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};

use super::Shop;
use super::layout::{Failure, link};
use super::sight::{Sight, sight};
use crate::desk::sheets::{self, Sheet};
use crate::desk::wish::Wish;
use crate::error::Trouble;

/// Links to the sheets of what is shown.
pub fn links(lot: &str, sight: &Sight) -> Markup {
    let query = if sight.recorded.is_some() {
        String::new()
    } else {
        query(&sight.wish)
    };
    html! {
        div.row.noprint {
            @for sheet in Sheet::ALL {
                @if sheet != Sheet::RecutList || !sight.answer.body.recuts.is_empty() {
                    a.button href={ (link(&["lot", lot, "sheet", sheet.file()])) (query) } { (sheet.name()) " (PDF)" }
                }
            }
            button type="button" data-print="" hidden { "Print this page" }
        }
    }
}

/// The wishes as the end of an address.
fn query(wish: &Wish) -> String {
    let Ok(serde_json::Value::Object(fields)) = serde_json::to_value(wish) else {
        return String::new();
    };
    let mut query = String::new();
    for (name, value) in fields {
        let text = value
            .as_str()
            .map(str::to_owned)
            .or((value == true).then(|| "true".to_owned()));
        if let Some(text) = text {
            query.push(if query.is_empty() { '?' } else { '&' });
            query += &format!("{name}={}", link(&[&text]).trim_start_matches('/'));
        }
    }
    query
}

/// One sheet as PDF.
pub async fn pdf(
    State(shop): State<Arc<Shop>>,
    Path((name, file)): Path<(String, String)>,
    Query(wish): Query<Wish>,
) -> Result<Response, Failure> {
    let sheet = Sheet::ALL.into_iter().find(|s| s.file() == file);
    let sheet = sheet.ok_or_else(|| Trouble::NotFound(format!("there is no sheet `{file}`")))?;
    let sight = sight(&shop, &name, &wish.tidied()).await?;
    let job = shop.job()?.map(|(job, _)| job);
    let pdf = sheet.pdf(&sight.answer, &sheets::head(&name, job.as_ref()))?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
}
