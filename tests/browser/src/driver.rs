//! The browser and its driver: started once, closed at the end, their folder removed.

use crate::program;
use crate::trap::Trap;
use serde_json::{Value, json};
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use thirtyfour::common::capabilities::chromium::ChromiumLikeCapabilities;
use thirtyfour::{CapabilitiesHelper as _, DesiredCapabilities, WebDriver};
use tokio::runtime::Runtime;

/// What must be installed; the names of Debian's packages.
const PACKAGES: &str = "install Debian's packages chromium and chromium-driver (.ci/run does that), or name the files in \
                        the variables CHROMIUM and CHROMEDRIVER";
/// How the browser is started: alone, quiet, with no connection to anywhere else.
const FLAGS: &[&str] = &[
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

/// A browser with everything that it needs.
pub struct Stage {
    runtime: Runtime,
    browser: Option<WebDriver>,
    driver: Child,
    profile: PathBuf,
    program: PathBuf,
    trap: Trap,
}
impl Stage {
    /// Builds what is to be tried and starts the browser.
    #[must_use]
    pub fn start() -> Self {
        let chromium = found("CHROMIUM", &["chromium", "chromium-browser", "google-chrome"]);
        let chromedriver = found("CHROMEDRIVER", &["chromedriver"]);
        let program = program::program();
        let (driver, port) = start_driver(&chromedriver);
        let profile = std::env::temp_dir().join(format!("unmire-browser-{}", std::process::id()));
        std::fs::create_dir_all(&profile).expect("a folder for the browser can be made");
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
        let trap = Trap::start();
        let mut stage = Self { runtime, browser: None, driver, profile, program, trap };
        let mut wish = DesiredCapabilities::chrome();
        for flag in FLAGS {
            wish.add_arg(flag).expect("a flag");
        }
        wish.add_arg(&format!("--user-data-dir={}", stage.profile.display())).expect("a flag");
        wish.add_arg(&stage.trap.flag()).expect("a flag");
        wish.set_binary(&chromium.display().to_string()).expect("a binary");
        wish.set("goog:loggingPrefs", json!({ "browser": "ALL" })).expect("logging");
        let browser = stage.wait_for(WebDriver::new(format!("http://127.0.0.1:{port}"), wish));
        let browser = browser.unwrap_or_else(|e| panic!("the browser could not be started: {e}"));
        stage.wait_for(browser.set_script_timeout(Duration::from_secs(300))).expect("a time-out");
        stage.browser = Some(browser);
        stage
    }
    /// The program that is tried.
    #[must_use]
    pub fn program(&self) -> &Path {
        &self.program
    }
    /// Who else was asked for something.
    pub(crate) fn trap(&self) -> &Trap {
        &self.trap
    }
    /// The browser.
    pub(crate) fn browser(&self) -> &WebDriver {
        self.browser.as_ref().expect("the browser runs")
    }
    /// Waits for an answer of the browser.
    pub(crate) fn wait_for<T>(&self, future: impl Future<Output = T>) -> T {
        self.runtime.block_on(future)
    }
    /// Speaks to the browser behind the page.
    #[track_caller]
    pub(crate) fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.try_devtools(command, parameters).unwrap_or_else(|e| panic!("{command}: {e}"))
    }
    /// The same, where the answer may be that it can't be done.
    pub(crate) fn try_devtools(&self, command: &str, parameters: Value) -> Result<Value, String> {
        let tools = self.browser().cdp();
        self.wait_for(tools.send_raw(command, parameters)).map_err(|e| e.to_string())
    }
    /// What the console has said since it was last asked, from warnings on.
    pub(crate) fn console(&self) -> Vec<String> {
        let entries = self.wait_for(self.browser().browser_log()).unwrap_or_default();
        let entries = entries.into_iter().map(|e| (e.level.to_string(), e.message));
        entries.filter(|(level, _)| level == "SEVERE" || level == "WARNING").map(|(l, m)| format!("{l}: {m}")).collect()
    }
    /// Empties the console.
    pub fn forget_console(&self) {
        let _ = self.console();
    }
}
impl Drop for Stage {
    fn drop(&mut self) {
        if let Some(browser) = self.browser.take() {
            let _ = self.runtime.block_on(browser.quit());
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        // The browser may still be writing.
        for _ in 0..20 {
            if std::fs::remove_dir_all(&self.profile).is_ok() || !self.profile.exists() {
                break;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

/// A program that must be there: named by a variable, or in the path.
fn found(variable: &str, names: &[&str]) -> PathBuf {
    if let Some(named) = std::env::var_os(variable) {
        let path = PathBuf::from(named);
        assert!(path.is_file(), "{variable} names {}, which is no file", path.display());
        return path;
    }
    let folders: Vec<PathBuf> =
        std::env::var_os("PATH").map(|p| std::env::split_paths(&p).collect()).unwrap_or_default();
    let mut all = names.iter().flat_map(|n| folders.iter().map(move |f| f.join(n)));
    all.find(|p| p.is_file()).unwrap_or_else(|| panic!("there is no {}: {PACKAGES}", names[0]))
}

fn start_driver(chromedriver: &Path) -> (Child, u16) {
    let mut driver = Command::new(chromedriver)
        .args(["--port=0"])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|e| panic!("{} could not be started: {e}", chromedriver.display()));
    let out = BufReader::new(driver.stdout.take().expect("its output is piped"));
    let port = out.lines().map_while(Result::ok).find_map(|line| {
        let (_, port) = line.split_once("successfully on port ")?;
        port.trim_end_matches('.').parse().ok()
    });
    if let Some(port) = port {
        return (driver, port);
    }
    let _ = driver.kill();
    let _ = driver.wait();
    panic!("{} did not say on which port it listens", chromedriver.display());
}
