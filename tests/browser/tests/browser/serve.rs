//! What `unmire serve` answers, seen from a plain connection.

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Command, Stdio};
use unmire_browser::{Page, Server};

/// Asks for something and gives the head and the body of the answer.
fn ask(server: &Server, line: &str, headers: &str) -> (String, Vec<u8>) {
    let address = server.address();
    let host = address.trim_start_matches("http://").trim_end_matches('/');
    let mut stream = TcpStream::connect(host).unwrap();
    write!(stream, "{line} HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\n{headers}\r\n").unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    let end = answer.windows(4).position(|w| w == b"\r\n\r\n").unwrap();
    (String::from_utf8_lossy(&answer[..end]).to_lowercase(), answer[end + 4..].to_vec())
}

/// Every answer keeps the page to itself; files come compressed to who takes that, and not at all to who has them.
pub fn regress_files_come_with_their_guards(page: &Page<'_>) {
    let server = &page.server;
    for (line, status) in [
        ("GET /", "200"),
        ("HEAD /app_bg.wasm", "200"),
        ("GET /nothing", "404"),
        ("GET /../Cargo.toml", "404"),
        ("GET //index.html/..", "404"),
        ("POST /", "405"),
    ] {
        let (head, _) = ask(server, line, "");
        assert!(head.starts_with(&format!("http/1.1 {status}")), "{line}: {head}");
        for guard in [
            "content-security-policy: default-src 'none'; script-src 'self' 'wasm-unsafe-eval'",
            "frame-ancestors 'none'",
            "x-content-type-options: nosniff",
            "referrer-policy: no-referrer",
            "cross-origin-opener-policy: same-origin",
        ] {
            assert!(head.contains(guard), "{line}: no `{guard}` in {head}");
        }
    }
    let (plain, bytes) = ask(server, "GET /app_bg.wasm", "");
    assert!(plain.contains("content-type: application/wasm") && !plain.contains("content-encoding"), "{plain}");
    assert!(bytes.starts_with(b"\0asm"));
    let (small, fewer) = ask(server, "GET /app_bg.wasm", "accept-encoding: gzip, br\r\n");
    assert!(small.contains("content-encoding: br") && fewer.len() < bytes.len() / 2, "{small}");
    let (refused, _) = ask(server, "GET /app_bg.wasm", "accept-encoding: br;q=0\r\n");
    assert!(!refused.contains("content-encoding"), "{refused}");
    // The tag is asked in its own letters: a hash is case-sensitive.
    let tag = page.js_later("return (await fetch('./app.js', { cache: 'reload' })).headers.get('etag')", Vec::new());
    let tag = tag.as_str().unwrap();
    let (had, nothing) = ask(server, "GET /app.js", &format!("accept-encoding: br\r\nif-none-match: {tag}\r\n"));
    assert!(had.starts_with("http/1.1 304") && nothing.is_empty(), "{tag}: {had}");
}

/// A port that is taken is said to be taken, with what to do, and the status for a wrong command.
pub fn regress_a_taken_port_is_said(page: &Page<'_>) {
    let address = page.server.address();
    let port = address.trim_end_matches('/').rsplit(':').next().unwrap();
    let out = Command::new(page.program()).args(["serve", "--port", port]).stdin(Stdio::null()).output().unwrap();
    let said = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{said}");
    assert!(said.contains(&format!("port {port} is in use")) && said.contains("--port 0"), "{said}");
}

/// Ctrl-C ends it with status 0, though a browser still holds a connection.
pub fn regress_ctrl_c_ends_it_cleanly(page: &Page<'_>) {
    let status = page.server.interrupt();
    assert_eq!(status.code(), Some(0), "{status}");
}
