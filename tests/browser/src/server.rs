//! `unmire serve` for one trial, stopped when it is dropped.

use std::cell::RefCell;
use std::io::{BufRead as _, BufReader};
use std::net::TcpStream;
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
