//! What the browser asks of anybody but this machine: it is told to go through a proxy that answers nothing and writes
//! down who was asked. Every page, worker and service worker is behind it, and the browser itself.

use std::io::{BufRead as _, BufReader, Write as _};
use std::net::TcpListener;
use std::sync::{Arc, Mutex, PoisonError};

/// Whom a browser asks by itself, whatever page is open: its maker and its search engine. That a page asks nobody of these
/// is seen by what the page has loaded.
const BY_ITSELF: [&str; 5] = ["google.com", "googleapis.com", "gvt1.com", "gstatic.com", "duckduckgo.com"];

/// The proxy. It stops with the test.
#[derive(Debug)]
pub(crate) struct Trap {
    port: u16,
    heard: Arc<Mutex<Vec<String>>>,
}
impl Trap {
    /// Starts it on a free port.
    pub(crate) fn start() -> Self {
        let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a free port");
        let port = listener.local_addr().expect("an address").port();
        let heard = Arc::<Mutex<Vec<String>>>::default();
        let list = Arc::clone(&heard);
        std::thread::spawn(move || {
            for mut stream in listener.incoming().flatten() {
                let mut line = String::new();
                // A browser that goes away again has asked for nothing.
                let _ = BufReader::new(&stream).read_line(&mut line);
                if !line.is_empty() {
                    list.lock().unwrap_or_else(PoisonError::into_inner).push(line.trim().to_owned());
                }
                let _ = stream.write_all(b"HTTP/1.1 403 Forbidden\r\ncontent-length: 0\r\nconnection: close\r\n\r\n");
            }
        });
        Self { port, heard }
    }
    /// The flag with which the browser goes through it. What is on this machine is asked as it always is.
    pub(crate) fn flag(&self) -> String {
        format!("--proxy-server=http://127.0.0.1:{}", self.port)
    }
    /// The first lines of all requests up to now, but for those that the browser makes by itself.
    pub(crate) fn heard(&self) -> Vec<String> {
        let all = self.heard.lock().unwrap_or_else(PoisonError::into_inner).clone();
        all.into_iter().filter(|line| !BY_ITSELF.iter().any(|host| host_of(line).ends_with(host))).collect()
    }
}

/// The host in the first line of a request to a proxy: `GET http://host/…` or `CONNECT host:port …`.
fn host_of(line: &str) -> &str {
    let target = line.split(' ').nth(1).unwrap_or_default();
    let target = target.split_once("://").map_or(target, |(_, rest)| rest);
    target.split(['/', ':']).next().unwrap_or_default()
}
