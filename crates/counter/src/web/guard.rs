//! Who may ask: only a browser on this machine, and for writes only our own pages.

use axum::extract::Request;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::layout::Failure;
use crate::error::Trouble;

/// What a page may load: only what this program serves. Plots draw through the style object model,
/// which needs no inline style.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
    img-src 'self' data:; connect-src 'self'; form-action 'self'; base-uri 'none'; \
    frame-ancestors 'none'";

/// Headers set on every answer that does not set its own.
const HEADERS: [(HeaderName, &str); 6] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    // "no-referrer" would make the browser hide the origin of our own forms from us.
    (header::REFERRER_POLICY, "same-origin"),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
    (header::CACHE_CONTROL, "no-store"),
];

/// Refuses foreign names (a page elsewhere that points its name at this machine) and writes that
/// come from other pages; sets the protecting headers.
pub async fn only_our_own(request: Request, next: Next) -> Response {
    let mut answer = match check(request.method(), request.headers()) {
        Ok(()) => next.run(request).await,
        Err(trouble) => Failure(trouble).into_response(),
    };
    for (name, value) in HEADERS {
        answer
            .headers_mut()
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
    answer
}

fn check(method: &Method, headers: &HeaderMap) -> Result<(), Trouble> {
    let host = text(headers, header::HOST).unwrap_or_default();
    if !is_loopback(host) {
        return Err(Trouble::NotOurPage(format!(
            "this page answers to 127.0.0.1 and localhost only, not to `{host}`"
        )));
    }
    if matches!(*method, Method::GET | Method::HEAD) {
        return Ok(());
    }
    let origin = text(headers, header::ORIGIN).unwrap_or_default();
    if origin.strip_prefix("http://") == Some(host) {
        return Ok(());
    }
    Err(Trouble::NotOurPage(
        "only this program's own page may change the record".to_owned(),
    ))
}

fn text(headers: &HeaderMap, name: HeaderName) -> Option<&str> {
    headers.get(name).and_then(|v| v.to_str().ok())
}

/// Whether a `Host` names this machine: a loopback name, with or without a port.
fn is_loopback(host: &str) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.chars().all(|c| c.is_ascii_digit()) => name,
        _ => host,
    };
    matches!(name, "127.0.0.1" | "localhost" | "[::1]")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(host: &'static str, origin: Option<&'static str>) -> HeaderMap {
        let mut map = HeaderMap::new();
        map.insert(header::HOST, HeaderValue::from_static(host));
        if let Some(origin) = origin {
            map.insert(header::ORIGIN, HeaderValue::from_static(origin));
        }
        map
    }

    #[test]
    fn refuses_names_that_are_not_the_loopback() {
        for host in [
            "example.org",
            "example.org:8080",
            "127.0.0.1.example.org",
            "",
            "[::1].x",
            "localhost.",
        ] {
            assert!(
                check(&Method::GET, &headers(host, None)).is_err(),
                "{host} was let in"
            );
        }
        for host in [
            "127.0.0.1:4127",
            "localhost",
            "localhost:80",
            "[::1]:80",
            "[::1]",
        ] {
            assert!(
                check(&Method::GET, &headers(host, None)).is_ok(),
                "{host} was kept out"
            );
        }
    }

    #[test]
    fn refuses_writes_from_other_pages() {
        let host = "127.0.0.1:4127";
        for origin in [
            None,
            Some("null"),
            Some("http://example.org"),
            Some("https://127.0.0.1:4127"),
            Some("http://127.0.0.1:4128"),
        ] {
            assert!(
                check(&Method::POST, &headers(host, origin)).is_err(),
                "{origin:?} was let in"
            );
        }
        assert!(check(&Method::POST, &headers(host, Some("http://127.0.0.1:4127"))).is_ok());
    }
}
