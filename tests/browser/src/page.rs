//! What a person does with a page: looks, clicks what has a name, types, presses keys.

use crate::{Server, Stage, program};
use serde_json::{Value, json};
use std::cell::{Cell, RefCell};
use std::fmt::Debug;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use thirtyfour::error::{WebDriverError, WebDriverErrorInner, WebDriverResult};
use thirtyfour::{By, Key, WebElement};

/// A width and a height in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size(pub u32, pub u32);
/// A phone held upright.
pub const PHONE: Size = Size(360, 740);
/// A tablet held upright.
pub const TABLET: Size = Size(820, 1180);
/// A desk.
pub const DESKTOP: Size = Size(1440, 900);

/// How long anything may take to show. On a slow machine with other work beside it everything takes long; where all goes
/// well it costs nothing.
const PATIENCE: Duration = Duration::from_secs(60);
/// Waits until nothing of the page has changed for a moment and every picture on it is there.
const STILL: &str = "
    await new Promise(done => {
        const end = () => { seen.disconnect(); done(); };
        let soon = setTimeout(end, 100);
        const seen = new MutationObserver(() => { clearTimeout(soon); soon = setTimeout(end, 100); });
        seen.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
    });
    await Promise.all([...document.images].map(i => i.decode().catch(() => null)));
    return null;";
/// Shows to the driver which element was found. A person scrolls until it is well in view; the driver would stop where it
/// is covered.
const MARK: &str = "function() {
    document.querySelectorAll('[data-found]').forEach(e => e.removeAttribute('data-found'));
    this.setAttribute('data-found', '');
    this.scrollIntoView({ block: 'center', behavior: 'instant' }); }";
/// The variable that names the folder for screenshots.
const SHOTS: &str = "UNMIRE_SHOTS";

/// A page of a trial.
pub struct Page<'s> {
    pub(crate) stage: &'s Stage,
    /// The server behind it.
    pub server: Server,
    /// Where the pointer holds something.
    held: Cell<(f64, f64)>,
    /// Whether something is waited for, so that what can't be read yet is no fault.
    waiting: Cell<bool>,
    /// Why something could not be read while it was waited for.
    unread: RefCell<String>,
    /// What the console may say in this trial.
    allowed: RefCell<Vec<&'static str>>,
}
impl<'s> Page<'s> {
    pub(crate) fn new(stage: &'s Stage, server: Server) -> Self {
        let (held, waiting) = (Cell::default(), Cell::default());
        Self { stage, server, held, waiting, unread: RefCell::default(), allowed: RefCell::default() }
    }
    /// The program behind the server.
    #[must_use]
    pub fn program(&self) -> &Path {
        self.stage.program()
    }
    /// Opens the app and waits until it is there.
    #[track_caller]
    pub fn open(&self) {
        self.open_at(&self.server.address());
    }
    /// Opens the app at another address and waits until it is there.
    #[track_caller]
    pub fn open_at(&self, address: &str) {
        self.stage.wait_for(self.stage.browser().goto(address)).unwrap_or_else(|e| panic!("open: {e}"));
        self.ready();
    }
    /// Opens an empty page, which has no policy.
    #[track_caller]
    pub fn open_nothing(&self) {
        self.stage.wait_for(self.stage.browser().goto("about:blank")).unwrap_or_else(|e| panic!("nothing: {e}"));
    }
    /// What the browser asked of anybody but this machine since it was started, as far as this is in the request.
    #[must_use]
    pub fn asked_elsewhere(&self, part: &str) -> Vec<String> {
        self.stage.trap().heard().into_iter().filter(|line| line.contains(part)).collect()
    }
    /// Loads the page anew.
    #[track_caller]
    pub fn reload(&self) {
        self.stage.wait_for(self.stage.browser().refresh()).unwrap_or_else(|e| panic!("reload: {e}"));
        self.ready();
    }
    /// Waits until the app says that it is there.
    #[track_caller]
    pub fn ready(&self) {
        self.until("the app is ready", || self.js("return document.documentElement.dataset.ready === 'yes'") == true);
    }
    /// Leaves the app, so that nothing of it runs on.
    pub(crate) fn leave(&self) {
        self.stage.wait_for(self.stage.browser().goto("about:blank")).unwrap_or_else(|e| panic!("leave: {e}"));
        self.stage.devtools("Emulation.clearDeviceMetricsOverride", json!({}));
        self.stage.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": 1 }));
        self.stage.devtools("Emulation.setEmulatedMedia", json!({ "features": [] }));
        self.stage.devtools("DeviceOrientation.clearDeviceOrientationOverride", json!({}));
    }
    /// How the device lies: what the browser tells of it, degrees.
    pub fn tilt(&self, alpha: f64, beta: f64, gamma: f64) {
        let how = json!({ "alpha": alpha, "beta": beta, "gamma": gamma });
        self.stage.devtools("DeviceOrientation.setDeviceOrientationOverride", how);
    }
    /// The size of the window.
    pub fn size(&self, Size(width, height): Size) {
        let phone = width < 600;
        self.stage.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone }),
        );
    }
    /// How many times slower than it is the processor shall be.
    pub fn slower(&self, times: f64) {
        self.stage.devtools("Emulation.setCPUThrottlingRate", json!({ "rate": times }));
    }
    /// Processor time that the page's thread has used up to now, in seconds, by what for: `ScriptDuration`,
    /// `LayoutDuration`, `RecalcStyleDuration`, `TaskDuration`. Other work on the machine does not count.
    #[must_use]
    pub fn processor_time(&self, what: &str) -> f64 {
        self.stage.devtools("Performance.enable", json!({ "timeDomain": "threadTicks" }));
        let all = self.stage.devtools("Performance.getMetrics", json!({}));
        let all = all["metrics"].as_array().cloned().unwrap_or_default();
        all.iter().find(|m| m["name"] == what).and_then(|m| m["value"].as_f64()).unwrap_or(f64::NAN)
    }
    /// What the reader's system prefers, as in `prefers-color-scheme: dark`.
    pub fn prefers(&self, wishes: &[(&str, &str)]) {
        let features: Vec<Value> = wishes.iter().map(|(name, value)| json!({ "name": name, "value": value })).collect();
        self.stage.devtools("Emulation.setEmulatedMedia", json!({ "features": features }));
    }
    /// The size of all text, in per cent.
    pub fn text_size(&self, per_cent: u32) {
        self.js(&format!("document.documentElement.style.fontSize = '{per_cent}%'"));
    }

    /// Says yes to the next question that the browser itself asks.
    pub fn accept_next_question(&self) {
        self.js("window.confirm = () => true");
    }

    /// Runs a script and gives what it returns.
    #[track_caller]
    pub fn js(&self, script: &str) -> Value {
        let done = self.stage.wait_for(self.stage.browser().execute(script, Vec::new()));
        self.read(script, done.map(|v| v.json().clone()).map_err(|e| e.to_string()))
    }
    /// Runs the body of an asynchronous function with arguments `a[0]`, `a[1]`, … and gives what it returns.
    #[track_caller]
    pub fn js_later(&self, body: &str, arguments: Vec<Value>) -> Value {
        let script = format!(
            "const a = [...arguments]; const done = a.pop(); \
             (async () => {{ {body} }})().then(v => done({{ good: v ?? null }}), e => done({{ bad: String(e) }}));"
        );
        let done = self.stage.wait_for(self.stage.browser().execute_async(&script, arguments));
        let value = done.map(|v| v.json().clone()).map_err(|e| e.to_string());
        self.read(
            body,
            value.and_then(|v| v.get("bad").map_or_else(|| Ok(v["good"].clone()), |bad| Err(bad.to_string()))),
        )
    }
    /// Speaks to the browser about the page.
    #[track_caller]
    fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.read(command, self.stage.try_devtools(command, parameters))
    }
    /// What was read. What can't be read is a fault, or nothing yet while something is waited for: the element may be on
    /// its way, or the page about to be loaded anew.
    #[track_caller]
    fn read(&self, what: &str, value: Result<Value, String>) -> Value {
        match value {
            Ok(value) => value,
            Err(e) if self.waiting.get() => {
                *self.unread.borrow_mut() = format!("{what}: {e}");
                Value::Null
            }
            Err(e) => panic!("{what}: {e}"),
        }
    }
    /// Waits until a value is as it should be, and gives it. If that never comes, the last one is told.
    #[track_caller]
    pub fn eventually<T: Debug>(&self, what: &str, value: impl Fn() -> T, holds: impl Fn(&T) -> bool) -> T {
        let start = Instant::now();
        loop {
            self.unread.borrow_mut().clear();
            let outer = self.waiting.replace(true);
            let seen = value();
            let good = holds(&seen);
            self.waiting.set(outer);
            if good {
                return seen;
            }
            let unread = self.unread.borrow();
            assert!(start.elapsed() < PATIENCE, "waited in vain until {what}. Seen at last: {seen:#?} {unread}");
            drop(unread);
            std::thread::sleep(Duration::from_millis(25));
        }
    }
    /// Waits until a value is the wanted one.
    #[track_caller]
    pub fn becomes<T: Debug + PartialEq<W>, W: Debug>(&self, what: &str, value: impl Fn() -> T, wanted: W) {
        self.eventually(&format!("{what} is {wanted:?}"), value, |v| *v == wanted);
    }
    /// Waits until something holds.
    #[track_caller]
    pub fn until(&self, what: &str, holds: impl Fn() -> bool) {
        self.eventually(what, holds, |holds| *holds);
    }
    /// Waits until nothing changes any more and every picture is there.
    #[track_caller]
    pub fn still(&self) {
        self.js_later(STILL, Vec::new());
    }
    /// All that can be read on the page.
    #[track_caller]
    pub fn text(&self) -> String {
        self.js("return document.body?.innerText ?? ''").as_str().unwrap_or_default().to_owned()
    }
    /// Waits until a text can be read.
    #[track_caller]
    pub fn reads(&self, text: &str) {
        self.eventually(&format!("“{text}” can be read"), || self.text(), |t| t.contains(text));
    }
    /// Waits until a text can't be read any more.
    #[track_caller]
    pub fn reads_no_more(&self, text: &str) {
        let gone = |t: &String| !t.is_empty() && !t.contains(text);
        self.eventually(&format!("“{text}” can't be read any more"), || self.text(), gone);
    }
    /// The texts of all elements that a selector finds.
    #[track_caller]
    pub fn texts(&self, css: &str) -> Vec<String> {
        let all = self.js(&format!(
            "return [...document.querySelectorAll('{css}')].map(e => (e.innerText ?? e.textContent).trim())"
        ));
        let all = all.as_array().cloned().unwrap_or_default();
        all.iter().map(|v| v.as_str().unwrap_or_default().to_owned()).collect()
    }

    /// Roles and names as a screen reader is told them, in the order of the page.
    #[track_caller]
    pub fn names(&self) -> Vec<(String, String)> {
        self.tree().into_iter().map(|(role, name, _)| (role, name)).collect()
    }
    fn tree(&self) -> Vec<(String, String, i64)> {
        let tree = self.devtools("Accessibility.getFullAXTree", json!({}));
        let text = |v: &Value, key: &str| v[key]["value"].as_str().unwrap_or_default().to_owned();
        let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
        let seen = nodes.iter().filter(|n| n["ignored"] != true);
        seen.filter_map(|n| Some((text(n, "role"), text(n, "name"), n["backendDOMNodeId"].as_i64()?))).collect()
    }
    /// The one thing with this role and this accessible name; waits for it.
    #[track_caller]
    pub fn find(&self, role: &str, name: &str) -> WebElement {
        self.act(&format!("there is one {role} “{name}”"), role, name, async |thing| Ok(thing))
    }
    /// The same, as it is now; or what is there in its place.
    fn look_for(&self, role: &str, name: &str) -> Result<WebElement, String> {
        let all = self.tree();
        let found: Vec<i64> = all.iter().filter(|(r, n, _)| r == role && n == name).map(|(_, _, id)| *id).collect();
        let &[one] = found.as_slice() else {
            let there: Vec<String> = all.into_iter().map(|(role, name, _)| format!("{role} “{name}”")).collect();
            return Err(format!("{} of them among {there:#?}", found.len()));
        };
        let node = self.devtools("DOM.resolveNode", json!({ "backendNodeId": one }));
        let mark = json!({ "objectId": node["object"]["objectId"], "functionDeclaration": MARK });
        self.devtools("Runtime.callFunctionOn", mark);
        let found = self.stage.wait_for(self.stage.browser().find(By::Css("[data-found]")));
        found.map_err(|e| e.to_string())
    }
    /// Finds a thing and does something with it. A page may replace the thing in between, or draw something over it: then
    /// it is looked for anew, as a person does.
    #[track_caller]
    pub(crate) fn act<T: Debug>(
        &self,
        what: &str,
        role: &str,
        name: &str,
        act: impl AsyncFn(WebElement) -> WebDriverResult<T>,
    ) -> T {
        let act = || -> Result<T, String> {
            let thing = self.look_for(role, name)?;
            self.stage.wait_for(act(thing)).map_err(|e| match e.as_inner() {
                WebDriverErrorInner::StaleElementReference(_)
                | WebDriverErrorInner::ElementClickIntercepted(_)
                | WebDriverErrorInner::ElementNotInteractable(_)
                | WebDriverErrorInner::NoSuchElement(_)
                | WebDriverErrorInner::NotFound(..) => e.to_string(),
                WebDriverErrorInner::UnknownError(why) if why.to_string().contains("ode") => e.to_string(),
                _ => panic!("{what}: {e}"),
            })
        };
        self.eventually(what, act, Result::is_ok).expect("it is waited for")
    }
    /// Clicks a thing by its role and its accessible name.
    #[track_caller]
    pub fn click(&self, role: &str, name: &str) {
        self.act(&format!("{role} “{name}” is clicked"), role, name, async |thing| thing.click().await);
    }
    /// Writes into a field with this accessible name, in the place of what stood there. A field that is drawn anew
    /// meanwhile is written into once more.
    #[track_caller]
    pub fn fill(&self, name: &str, text: &str) {
        let fill = async |field: WebElement| {
            field.send_keys(Key::Control + "a").await?;
            field.send_keys(Key::Delete + "").await?;
            field.send_keys(text).await?;
            match field.prop("value").await?.unwrap_or_default() {
                now if now == text => Ok(()),
                now => Err(WebDriverError::from_inner(WebDriverErrorInner::NotFound(text.to_owned(), now))),
            }
        };
        self.act(&format!("“{text}” stands in “{name}”"), "textbox", name, fill);
    }
    /// Gives files to a file field.
    #[track_caller]
    pub fn give_files(&self, css: &str, files: &[&Path]) {
        let names: Vec<String> = files.iter().map(|f| f.display().to_string()).collect();
        let give = || {
            self.stage
                .wait_for(async { self.stage.browser().find(By::Css(css)).await?.send_keys(names.join("\n")).await })
        };
        self.eventually(&format!("{css} takes {names:?}"), || give().map_err(|e| e.to_string()), Result::is_ok)
            .expect("it is waited for");
    }
    /// Presses keys, whatever has the focus.
    #[track_caller]
    pub fn press(&self, keys: &str) {
        let chain = self.stage.browser().action_chain().send_keys(keys);
        self.stage.wait_for(chain.perform()).unwrap_or_else(|e| panic!("press: {e}"));
    }
    /// Presses one key.
    #[track_caller]
    pub fn key(&self, key: Key) {
        self.press(&char::from(key).to_string());
    }
    /// Role and name of what has the focus.
    #[track_caller]
    pub fn focused(&self) -> (String, String) {
        let tree = self.devtools("Accessibility.getFullAXTree", json!({}));
        let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
        let has = |n: &&Value| {
            let properties = n["properties"].as_array();
            n["role"]["value"] != "RootWebArea"
                && properties.is_some_and(|p| p.iter().any(|p| p["name"] == "focused" && p["value"]["value"] == true))
        };
        let text = |v: &Value, key: &str| v[key]["value"].as_str().unwrap_or_default().to_owned();
        nodes.iter().find(has).map(|n| (text(n, "role"), text(n, "name"))).unwrap_or_default()
    }
    /// Goes to a thing by its name with the tab key alone, as somebody without a pointer does.
    #[track_caller]
    pub fn tab_to(&self, role: &str, name: &str) {
        for _ in 0..200 {
            self.key(Key::Tab);
            if self.focused() == (role.to_owned(), name.to_owned()) {
                return;
            }
        }
        panic!("200 tabs do not lead to {role} “{name}”");
    }

    /// Takes hold of what is at a place of the window with the pointer.
    #[track_caller]
    pub fn drag_start(&self, x: f64, y: f64) {
        self.mouse("mouseMoved", x, y, 0);
        self.mouse("mousePressed", x, y, 1);
        self.held.set((x, y));
    }
    /// Moves what is held.
    #[track_caller]
    pub fn drag_move(&self, x: f64, y: f64) {
        self.mouse("mouseMoved", x, y, 1);
        self.held.set((x, y));
    }
    /// Lets go of it.
    #[track_caller]
    pub fn drag_end(&self) {
        let (x, y) = self.held.get();
        self.mouse("mouseReleased", x, y, 0);
    }
    fn mouse(&self, kind: &str, x: f64, y: f64, buttons: u8) {
        let button = if kind == "mouseMoved" && buttons == 0 { "none" } else { "left" };
        self.stage.devtools(
            "Input.dispatchMouseEvent",
            json!({ "type": kind, "x": x, "y": y, "button": button, "buttons": buttons, "clickCount": 1 }),
        );
    }

    /// What the console has said since it was last asked, from warnings on. A trial that expects something takes it.
    #[must_use]
    pub fn console(&self) -> Vec<String> {
        let allowed = self.allowed.borrow();
        self.stage.console().into_iter().filter(|line| !allowed.iter().any(|a| line.contains(a))).collect()
    }
    /// In this trial the console may say lines with this in them, sooner or later.
    pub fn console_may_say(&self, part: &'static str) {
        self.allowed.borrow_mut().push(part);
    }
    /// Takes a screenshot of what is in the window, if somebody named a folder for them.
    #[track_caller]
    pub fn shot(&self, name: &str) {
        self.keep_shot(name, false);
    }
    /// Takes a screenshot of the page from top to bottom, if somebody named a folder for them.
    #[track_caller]
    pub fn shot_whole(&self, name: &str) {
        self.loose(|| self.keep_shot(name, true));
    }
    fn keep_shot(&self, name: &str, whole: bool) {
        if let Some(folder) = std::env::var_os(SHOTS) {
            self.still();
            self.picture(&PathBuf::from(folder).join(format!("{name}.png")), whole);
        }
    }
    /// Does something while nothing sticks to an edge of the window and covers what a reader would scroll out from
    /// under it.
    #[track_caller]
    pub(crate) fn loose<T>(&self, act: impl FnOnce() -> T) -> T {
        self.js("for (const e of document.querySelectorAll('body *')) \
             if (getComputedStyle(e).position === 'sticky') { e.style.position = 'static'; e.dataset.loose = ''; }");
        let done = act();
        self.js(
            "for (const e of document.querySelectorAll('[data-loose]')) { e.style.position = ''; delete e.dataset.loose; }",
        );
        done
    }
    pub(crate) fn keep_failure(&self, name: &str) -> PathBuf {
        let file = program::folder_of_output().join("browser").join(format!("{}.png", name.replace(':', "_")));
        let _ = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| self.picture(&file, true)));
        file
    }
    fn picture(&self, file: &Path, whole: bool) {
        self.capture(file, json!({ "captureBeyondViewport": whole }));
    }
    /// Takes a picture of what is in the window that travels lightly, as WebP.
    #[track_caller]
    pub fn small_picture(&self, file: &Path) {
        self.still();
        self.capture(file, json!({ "format": "webp", "quality": 80 }));
    }
    fn capture(&self, file: &Path, how: Value) {
        use base64::Engine as _;
        let taken = self.stage.devtools("Page.captureScreenshot", how);
        let data = taken["data"].as_str().unwrap_or_default();
        let bytes = base64::engine::general_purpose::STANDARD.decode(data).expect("a picture");
        std::fs::create_dir_all(file.parent().unwrap_or(Path::new("."))).expect("a folder for pictures");
        std::fs::write(file, bytes).expect("a picture can be kept");
    }
}
