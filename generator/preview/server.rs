//! Requests → files of the latest edition, and the stream of editions.

use std::convert::Infallible;
use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderName, HeaderValue, Method, StatusCode, header};
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use futures_util::stream::{self, Stream};
use tokio::sync::watch::Receiver;

use super::address::{content_type, is_loopback, site_path};
use super::edition::{Edition, Served as File};
use super::overlay;
use crate::picture::{Gate, LARGEST_WORK};
use crate::publish::make_one;

#[derive(Clone)]
struct Served {
    editions: Receiver<Arc<Edition>>,
    address: SocketAddr,
    /// Pages ask for all their pictures at once.
    gate: Arc<Gate>,
}

pub fn app(editions: Receiver<Arc<Edition>>, address: SocketAddr) -> Router {
    let served = Served { editions, address, gate: Arc::new(Gate::new(LARGEST_WORK)) };
    Router::new()
        .route(overlay::EVENTS, get(events))
        .route(overlay::SCRIPT, get(async || own("reload.js", include_str!("reload.js"))))
        .route(overlay::STYLE, get(async || own("preview.css", include_str!("preview.css"))))
        .fallback(page)
        .layer(axum::middleware::from_fn_with_state(served.clone(), guard))
        .with_state(served)
}

/// Refuses whoever is not on this machine's own pages, and marks every answer as not for others and not for keeping.
async fn guard(State(served): State<Served>, request: Request, next: axum::middleware::Next) -> Response {
    let host = request.headers().get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or("");
    let mut response = if !is_loopback(host, served.address) {
        let text = format!("This preview answers only on this machine: open http://{}/\n", served.address);
        (StatusCode::FORBIDDEN, text).into_response()
    } else if !matches!(*request.method(), Method::GET | Method::HEAD) {
        (StatusCode::METHOD_NOT_ALLOWED, [(header::ALLOW, "GET, HEAD")], "A preview is only read.\n").into_response()
    } else {
        next.run(request).await
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CACHE_CONTROL, "no-store"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::X_FRAME_OPTIONS, "DENY"),
        // Other sites' pages may not draw a private collection's scripts into themselves.
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}

async fn page(State(served): State<Served>, request: Request) -> Response {
    let edition = Arc::clone(&served.editions.borrow());
    let Some(path) = site_path(request.uri().path()) else {
        return html(StatusCode::NOT_FOUND, overlay::missing(request.uri().path(), &edition));
    };
    match edition.files.get(&path) {
        Some(File::Bytes(bytes)) if path.ends_with(".html") => {
            html(StatusCode::OK, overlay::dress(&String::from_utf8_lossy(bytes), &path, &edition))
        }
        Some(File::Bytes(bytes)) => answer(StatusCode::OK, &path, Body::from(bytes.clone())),
        Some(File::Made(picture, part)) => {
            let (picture, part, gate) = (Arc::clone(picture), *part, Arc::clone(&served.gate));
            match tokio::task::spawn_blocking(move || make_one(&picture, part, &gate)).await {
                Ok(Ok(bytes)) => answer(StatusCode::OK, &path, Body::from(bytes)),
                Ok(Err(why)) => answer(StatusCode::INTERNAL_SERVER_ERROR, ".txt", Body::from(why)),
                Err(stopped) => answer(StatusCode::INTERNAL_SERVER_ERROR, ".txt", Body::from(stopped.to_string())),
            }
        }
        // Before the first good build every page is missing for one reason: the problems it shows.
        None => html(StatusCode::NOT_FOUND, overlay::missing(&path, &edition)),
    }
}

/// The number of the latest edition, at once and whenever it changes.
async fn events(State(served): State<Served>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let mut editions = served.editions;
    editions.mark_changed();
    Sse::new(stream::unfold(editions, async |mut editions| {
        editions.changed().await.ok()?;
        let number = editions.borrow_and_update().number;
        Some((Ok(Event::default().event("edition").data(number.to_string())), editions))
    }))
}

fn html(status: StatusCode, page: String) -> Response {
    answer(status, ".html", Body::from(page))
}

fn own(name: &str, text: &'static str) -> Response {
    answer(StatusCode::OK, name, Body::from(text))
}

fn answer(status: StatusCode, path: &str, body: Body) -> Response {
    (status, [(header::CONTENT_TYPE, content_type(path))], body).into_response()
}
