//! `unmire serve`: the app for a browser on this machine. It hands out the files that were built into the program and
//! nothing else; cases stay in the browser.

use crate::args::ServeArgs;
use crate::output;
use crate::status::{Status, Trouble};
use axum::Router;
use axum::body::{Body, Bytes};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, Response, StatusCode, Uri};
use std::io::ErrorKind;
use std::net::{Ipv4Addr, SocketAddr};
use std::time::Duration;

/// One file of the app.
struct File {
    /// Its path, without a slash before it.
    path: &'static str,
    /// Its media type.
    kind: &'static str,
    /// The hash of what is in it.
    hash: &'static str,
    /// What is in it.
    plain: &'static [u8],
    /// The same, compressed with brotli.
    small: &'static [u8],
}

mod embedded {
    use super::File;
    include!(concat!(env!("OUT_DIR"), "/app.rs"));
}

/// The content security policy, one directive a line.
const POLICY: &str = include_str!("../../../web/static/policy.txt");
/// How long a browser that is still reading may hold up the end.
const PATIENCE: Duration = Duration::from_secs(1);

pub fn run(a: &ServeArgs) -> Result<Status, Trouble> {
    if embedded::FILES.is_empty() {
        return Err(Trouble::hint(
            "this program was built without the app",
            "build the app with 'cargo xtask web', then build the program again; 'cargo xtask run' does both",
        ));
    }
    let cannot = |e: &dyn std::fmt::Display| Trouble::new(format!("cannot serve: {e}"));
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().map_err(|e| cannot(&e))?;
    runtime.block_on(async {
        let asked = SocketAddr::from((Ipv4Addr::LOCALHOST, a.port));
        let listener = tokio::net::TcpListener::bind(asked).await.map_err(|e| no_port(a.port, &e))?;
        let address = listener.local_addr().map_err(|e| cannot(&e))?;
        output::print(&format!("unmire is at http://{address}/ on this machine alone. Ctrl-C ends it.\n"))?;
        let serving = axum::serve(listener, Router::new().fallback(answer));
        let (told, mut ending) = tokio::sync::watch::channel(());
        let serving = serving.with_graceful_shutdown(async move {
            let _ = ending.changed().await;
        });
        let mut serving = std::pin::pin!(serving.into_future());
        tokio::select! {
            ended = &mut serving => return ended.map_err(|e| cannot(&e)),
            () = asked_to_end() => {}
        }
        let _ = told.send(());
        // Who keeps a connection open does not keep the program alive.
        tokio::time::timeout(PATIENCE, serving).await.unwrap_or(Ok(())).map_err(|e| cannot(&e))
    })?;
    Ok(Status::Passes)
}

fn no_port(port: u16, e: &std::io::Error) -> Trouble {
    match e.kind() {
        ErrorKind::AddrInUse => Trouble::hint(
            format!("port {port} is in use on this machine"),
            "name another with --port, or take any free one with --port 0; a browser keeps saved cases for each port apart",
        ),
        ErrorKind::PermissionDenied => {
            Trouble::hint(format!("port {port} may not be opened"), "name one from 1024 on with --port")
        }
        _ => Trouble::new(format!("port {port} could not be opened: {e}")),
    }
}

/// Waits for Ctrl-C, or for the signal by which a system ends a program.
async fn asked_to_end() {
    let interrupted = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut terminated) = signal(SignalKind::terminate()) {
            tokio::select! { _ = interrupted => {}, _ = terminated.recv() => {} }
            return;
        }
    }
    let _ = interrupted.await;
}

/// Answers one request.
async fn answer(method: Method, uri: Uri, asked: HeaderMap) -> Response<Body> {
    let body = method == Method::GET;
    let mut response = if body || method == Method::HEAD {
        let path = uri.path().trim_start_matches('/');
        let path = if path.is_empty() { "index.html" } else { path };
        match embedded::FILES.iter().find(|f| f.path == path) {
            Some(f) => hand_out(f, &asked, body),
            None => said(StatusCode::NOT_FOUND, "There is no such file here.\n"),
        }
    } else {
        let mut response = said(StatusCode::METHOD_NOT_ALLOWED, "Files are only read here.\n");
        response.headers_mut().insert(header::ALLOW, HeaderValue::from_static("GET, HEAD"));
        response
    };
    for (name, value) in guards() {
        response.headers_mut().insert(name, value);
    }
    response
}

/// One file, compressed if the browser takes that; nothing but a nod if it has it already.
fn hand_out(f: &File, asked: &HeaderMap, body: bool) -> Response<Body> {
    let small = f.small.len() < f.plain.len() && takes_brotli(asked);
    let (bytes, tag) = if small { (f.small, "-br") } else { (f.plain, "") };
    let tag = format!("\"{}{tag}\"", f.hash);
    let had = listed(asked, &header::IF_NONE_MATCH).any(|t| t == "*" || t.trim_start_matches("W/") == tag);
    let status = if had { StatusCode::NOT_MODIFIED } else { StatusCode::OK };
    let mut response = Response::new(match (had, body) {
        (false, true) => Body::from(Bytes::from_static(bytes)),
        _ => Body::empty(),
    });
    *response.status_mut() = status;
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(f.kind));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        headers.insert(header::ETAG, tag);
    }
    if !had {
        headers.insert(header::CONTENT_LENGTH, HeaderValue::from(bytes.len()));
        if small {
            headers.insert(header::CONTENT_ENCODING, HeaderValue::from_static("br"));
        }
    }
    response
}

fn said(status: StatusCode, text: &'static str) -> Response<Body> {
    let mut response = Response::new(Body::from(text));
    *response.status_mut() = status;
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static("text/plain; charset=utf-8"));
    response
}

/// The items of a header that is a list.
fn listed<'h>(headers: &'h HeaderMap, name: &HeaderName) -> impl Iterator<Item = &'h str> {
    headers.get_all(name).iter().filter_map(|v| v.to_str().ok()).flat_map(|v| v.split(',')).map(str::trim)
}

fn takes_brotli(asked: &HeaderMap) -> bool {
    listed(asked, &header::ACCEPT_ENCODING).any(|item| {
        let mut parts = item.split(';').map(str::trim);
        let refused = |p: &str| p.strip_prefix("q=").and_then(|q| q.parse::<f64>().ok()) == Some(0.0);
        parts.next().is_some_and(|name| name.eq_ignore_ascii_case("br")) && !parts.any(refused)
    })
}

/// What every answer carries: nothing from elsewhere, nothing to elsewhere.
fn guards() -> [(HeaderName, HeaderValue); 5] {
    let policy = POLICY.lines().collect::<Vec<_>>().join("; ");
    [
        // A policy that can't be a header would be a mistake in the file; then nothing at all may be loaded.
        (
            header::CONTENT_SECURITY_POLICY,
            HeaderValue::from_str(&policy).unwrap_or(HeaderValue::from_static("default-src 'none'")),
        ),
        (header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff")),
        (header::REFERRER_POLICY, HeaderValue::from_static("no-referrer")),
        (HeaderName::from_static("cross-origin-opener-policy"), HeaderValue::from_static("same-origin")),
        (HeaderName::from_static("cross-origin-resource-policy"), HeaderValue::from_static("same-origin")),
    ]
}
