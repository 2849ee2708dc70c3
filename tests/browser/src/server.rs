//! `unmire serve` for one trial, stopped when it is dropped.

use crate::program::folder_of_output;
use std::cell::RefCell;
use std::io::{BufRead as _, BufReader, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// A running server.
pub struct Server {
    program: PathBuf,
    child: RefCell<Child>,
    port: u16,
}
impl Server {
    /// Starts one on a free port.
    #[must_use]
    pub fn start(program: &Path) -> Self {
        let (child, port) = spawn(program, 0);
        Self { program: program.to_path_buf(), child: RefCell::new(child), port }
    }
    /// The address of the app.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }
    /// Stops it, and makes sure that nobody answers any more: from now on there is no network.
    pub fn stop(&self) {
        let mut child = self.child.borrow_mut();
        child.kill().expect("the server can be stopped");
        child.wait().expect("the server has stopped");
        assert!(TcpStream::connect(("127.0.0.1", self.port)).is_err(), "somebody still answers at {}", self.address());
    }
    /// Interrupts it as Ctrl-C does, and gives the status that it ends with.
    pub fn interrupt(&self) -> std::process::ExitStatus {
        let mut child = self.child.borrow_mut();
        let sent = Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill can be started");
        assert!(sent.success(), "the signal could not be sent");
        child.wait().expect("the server has ended")
    }
    /// Starts it again at the same address.
    pub fn again(&self) {
        let (child, port) = spawn(&self.program, self.port);
        assert_eq!(port, self.port);
        *self.child.borrow_mut() = child;
    }
}
impl Drop for Server {
    fn drop(&mut self) {
        let child = self.child.get_mut();
        let _ = child.kill();
        let _ = child.wait();
    }
}

/// A plain server of a folder, as a static host is: no compression, no headers but the type. It stops with the test.
pub struct Host {
    port: u16,
    folder: PathBuf,
}
impl Host {
    /// Serves a folder of its own, filled with the app as it was built.
    #[must_use]
    pub fn start(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("unmire-host-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).expect("a folder can be made");
        for entry in std::fs::read_dir(folder_of_output().join("web")).expect("the app is built") {
            let entry = entry.expect("an entry");
            std::fs::copy(entry.path(), folder.join(entry.file_name())).expect("a file can be copied");
        }
        let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a free port");
        let port = listener.local_addr().expect("an address").port();
        let from = folder.clone();
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let from = from.clone();
                // A browser that goes away is no fault.
                std::thread::spawn(move || hand_out(stream, &from));
            }
        });
        Self { port, folder }
    }
    /// Its address.
    #[must_use]
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }
    /// A file of it.
    #[must_use]
    pub fn read(&self, file: &str) -> String {
        std::fs::read_to_string(self.folder.join(file)).expect("a file of the app")
    }
    /// Changes a file of it.
    pub fn write(&self, file: &str, text: &str) {
        std::fs::write(self.folder.join(file), text).expect("a file can be written");
    }
}
impl Drop for Host {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn hand_out(mut stream: TcpStream, from: &Path) -> std::io::Result<()> {
    let mut lines = BufReader::new(stream.try_clone()?).lines();
    let first = lines.next().transpose()?.unwrap_or_default();
    for line in lines.by_ref() {
        if line?.is_empty() {
            break;
        }
    }
    let path = first.split(' ').nth(1).unwrap_or("/").trim_start_matches('/');
    let path = path.split('?').next().filter(|p| !p.is_empty()).unwrap_or("index.html");
    let kind = match path.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html",
        "js" => "text/javascript",
        "css" => "text/css",
        "svg" => "image/svg+xml",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        _ => "image/png",
    };
    let (status, bytes) = match std::fs::read(from.join(path)) {
        Ok(bytes) if !path.contains("..") => ("200 OK", bytes),
        _ => ("404 Not Found", Vec::new()),
    };
    let length = bytes.len();
    write!(
        stream,
        "HTTP/1.1 {status}\r\ncontent-type: {kind}\r\ncontent-length: {length}\r\nconnection: close\r\n\r\n"
    )?;
    stream.write_all(&bytes)
}

/// Starts the program and reads from its first line where it is.
fn spawn(program: &Path, port: u16) -> (Child, u16) {
    let mut child = Command::new(program)
        .args(["serve", "--port", &port.to_string()])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program can be started");
    let out = child.stdout.take().expect("its output is piped");
    let mut line = String::new();
    BufReader::new(out).read_line(&mut line).expect("its output can be read");
    let at = line.split("http://127.0.0.1:").nth(1).and_then(|rest| rest.split('/').next());
    let port = at.and_then(|p| p.parse().ok());
    (child, port.unwrap_or_else(|| panic!("`unmire serve` gave no address: {line:?}")))
}
