//! What the page knows: the reader's settings, the case that is open, what was found for it. Screens read the signals and
//! call the methods; they keep nothing of their own that matters.

use crate::catalogue::Catalogue;
use crate::document::{CaseText, Complaint, EditError};
use crate::dom::prelude::*;
use crate::engine::{self, Answer, Finding, Job, Kind, Wishes};
use crate::screen::Screen;
use crate::settings::Settings;
use crate::show::{Node, Reader};
use crate::store::{Browser, Entry, Memory, Sort, Store as _, StoreError};
use crate::tree::Tree;
use crate::work::{News, Work};
use std::rc::Rc;

/// Where the settings are kept.
const SETTINGS: &str = "unmire.settings";
/// Where the id of the last case is kept.
const LAST: &str = "unmire.last";

/// The case that is open.
#[derive(Clone, Debug)]
pub struct Open {
    /// What tells it from all others.
    pub id: String,
    /// What its file is called.
    pub name: String,
    /// Its text.
    pub text: String,
    /// The same, to be edited; none while the text is no TOML.
    pub case: Option<CaseText>,
    /// The kit files at hand: path and text.
    pub kits: Vec<(String, String)>,
}
impl Open {
    /// What the reader knows it by.
    pub fn title(&self) -> String {
        self.case.as_ref().and_then(|c| c.get("title")).unwrap_or_else(|| self.name.clone())
    }
    /// Whether it gives a rig of its own, or is nothing but one.
    pub fn has_rig(&self) -> bool {
        self.case
            .as_ref()
            .is_some_and(|c| c.has("rig") || c.get("schema").as_deref() == Some(unmire_casefile::RIG_SCHEMA))
    }
}

/// A report, ready to be shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The report itself.
    pub document: Tree,
    /// What was found, as texts: JSON, drawings, rigs.
    pub found: Finding,
}

impl Report {
    /// The report, to look things up in.
    pub fn node(&self) -> Node<'_> {
        Node::of(&self.document)
    }
}

/// What was found for the open case.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Planned {
    /// Nothing was looked for.
    #[default]
    Nothing,
    /// The worker is at it: choices dealt with, and of how many.
    Working(usize, usize),
    /// Rigs, or what fails in each.
    Report(Box<Report>),
    /// The case can't be read.
    Complaints(Vec<Complaint>),
    /// No report can be made of it, or the worker is gone.
    Trouble(String),
}

/// The one session of a page. It lives as long as the page, so that every closure of a screen can have it for next to nothing.
#[derive(Clone, Copy)]
pub struct Session(&'static State);
impl core::ops::Deref for Session {
    type Target = State;
    fn deref(&self) -> &State {
        self.0
    }
}

/// What a session holds.
pub struct State {
    /// What the reader has chosen.
    pub settings: RwSignal<Settings>,
    /// The words of the reader's language.
    pub words: Signal<Catalogue>,
    /// The screen that is shown.
    pub screen: RwSignal<Screen>,
    /// The open case.
    pub open: RwSignal<Option<Open>>,
    /// Everything that is wrong with it, told while it is edited.
    pub complaints: Signal<Vec<Complaint>>,
    /// The case's own rig, judged anew at every edit on the page's own thread; none if it has no rig or can't be read.
    pub live: Signal<Option<Tree>>,
    /// What the worker found.
    pub planned: RwSignal<Planned>,
    /// The rig that is looked at, by its place in the ranking.
    pub chosen: RwSignal<usize>,
    /// What counts as done before the pull when the case's own rig is judged, in the words that a plan gives its actions.
    pub done: RwSignal<Vec<String>>,
    /// Whether the case was changed since it was planned.
    pub stale: RwSignal<bool>,
    /// The cases that are kept, the last changed first.
    pub kept: RwSignal<Vec<Entry>>,
    /// The bags that are kept, the last changed first.
    pub kits: RwSignal<Vec<Entry>>,
    /// Whether what is kept goes with the page: the browser allows no store.
    pub forgetful: RwSignal<bool>,
    /// What could not be kept.
    pub unkept: RwSignal<Option<String>>,
    store: StoredValue<Option<Rc<Keep>>>,
    work: StoredValue<Work>,
    job: StoredValue<Option<u32>>,
}

/// The store that this browser allows.
enum Keep {
    Browser(Browser),
    Memory(Memory),
}
impl Keep {
    async fn act(&self, deed: &Deed) -> Result<(), StoreError> {
        match (self, deed) {
            (Self::Browser(s), Deed::Save(entry)) => s.save(entry).await,
            (Self::Browser(s), Deed::Remove(id)) => s.remove(id).await,
            (Self::Memory(s), Deed::Save(entry)) => s.save(entry).await,
            (Self::Memory(s), Deed::Remove(id)) => s.remove(id).await,
        }
    }
    async fn load(&self, id: &str) -> Result<Option<Entry>, StoreError> {
        match self {
            Self::Browser(s) => s.load(id).await,
            Self::Memory(s) => s.load(id).await,
        }
    }
    async fn list(&self, sort: Sort) -> Result<Vec<Entry>, StoreError> {
        match self {
            Self::Browser(s) => s.list(sort).await,
            Self::Memory(s) => s.list(sort).await,
        }
    }
}

/// What is done with the store.
enum Deed {
    Save(Entry),
    /// By its id.
    Remove(String),
}

/// The session of the page, from within a component.
pub fn session() -> Session {
    expect_context::<Session>()
}
/// The words behind a key of the catalogue, in whatever language is chosen.
pub fn say(key: &'static str) -> impl Fn() -> String + Copy + 'static {
    let words = session().words;
    move || words.with(|w| w.say(key))
}
/// The words for a word of the planner, in whatever language is chosen.
pub fn term(part: &'static str, word: &'static str) -> impl Fn() -> String + Copy + 'static {
    let words = session().words;
    move || words.with(|w| w.translate(part, word))
}

impl Session {
    /// A session with the settings that were kept. [`start`](Self::start) fetches the rest.
    pub fn new() -> Self {
        let tag = window().navigator().language().unwrap_or_default();
        let settings = RwSignal::new(Settings::for_reader(&tag).updated(&kept(SETTINGS).unwrap_or_default()));
        let open = RwSignal::new(None::<Open>);
        let done = RwSignal::new(Vec::new());
        let read = move || open.with(|o| o.as_ref().map(|o| (o.text.clone(), o.kits.clone())));
        Self(Box::leak(Box::new(State {
            settings,
            words: Signal::new(move || Catalogue::of(settings.get().language)),
            screen: RwSignal::new(Screen::by_address(&window().location().hash().unwrap_or_default())),
            open,
            complaints: Signal::new(move || {
                let Some((text, kits)) = read() else { return Vec::new() };
                engine::read(&text, &kits)
                    .err()
                    .map(|found| crate::document::complaints(&text, &found))
                    .unwrap_or_default()
            }),
            live: Signal::new(move || {
                if !open.with(|o| o.as_ref().is_some_and(Open::has_rig)) {
                    return None;
                }
                let (text, kits) = read()?;
                let options = Wishes { kits, drawings: false, actions: done.get(), ..Wishes::default() };
                match engine::answer(&Job { kind: Kind::Check, text, options }, &mut |_| {}) {
                    Answer::Report(found) => Tree::parse(&found.json).ok(),
                    _ => None,
                }
            }),
            planned: RwSignal::default(),
            chosen: RwSignal::new(0),
            done,
            stale: RwSignal::new(false),
            kept: RwSignal::default(),
            kits: RwSignal::default(),
            forgetful: RwSignal::new(false),
            unkept: RwSignal::new(None),
            store: StoredValue::new(None),
            work: StoredValue::new(Work::default()),
            job: StoredValue::new(None),
        })))
    }
    /// Opens the store and the case that was open last.
    pub async fn start(self) {
        let keep = match Browser::open().await {
            Ok(store) => Keep::Browser(store),
            Err(_) => {
                self.forgetful.set(true);
                Keep::Memory(Memory::default())
            }
        };
        let keep = Rc::new(keep);
        self.store.set_value(Some(Rc::clone(&keep)));
        if let (Some(last), true) = (kept(LAST), self.screen.get_untracked().needs_case())
            && let Ok(Some(entry)) = keep.load(&last).await
        {
            self.take_up(entry);
            self.plan();
        }
        self.refresh().await;
    }
    /// Changes the settings and keeps them.
    pub fn set(self, change: impl FnOnce(&mut Settings)) {
        self.settings.update(change);
        keep(SETTINGS, &self.settings.get_untracked().to_text());
    }

    /// Gives words and units to what shows something, and follows both.
    pub fn read<T>(self, show: impl FnOnce(Reader<'_>) -> T) -> T {
        let units = self.settings.get().units;
        self.words.with(|words| show(Reader { words, units }))
    }
    /// The words behind a key, followed.
    pub fn say(self, key: &str) -> String {
        self.words.with(|w| w.say(key))
    }
    /// The words behind a key with their blanks filled, followed.
    pub fn fill(self, key: &str, with: &[(&str, &str)]) -> String {
        self.words.with(|w| w.fill(key, with))
    }
    /// The words for a word of the planner, followed.
    pub fn translate(self, part: &str, word: &str) -> String {
        self.words.with(|w| w.translate(part, word))
    }
    /// What stands at a place of the open case, followed.
    pub fn at(self, path: &str) -> Option<String> {
        self.open.with(|o| o.as_ref()?.case.as_ref()?.get(path))
    }
    /// Goes to a screen, by the address, so that the way back leads here.
    pub fn go(self, screen: Screen) {
        let _ = window().location().set_hash(&screen.address());
    }
    /// Opens a text as a case, keeps it, and has it planned. With the id of a kept one it takes its place.
    pub fn open_text(self, id: Option<String>, name: &str, text: String, kits: Vec<(String, String)>) {
        let entry = Entry {
            id: id.unwrap_or_else(new_id),
            sort: Sort::Case,
            name: name.to_owned(),
            title: String::new(),
            text,
            kits,
            changed: js_sys::Date::now(),
        };
        self.take_up(entry);
        self.save();
        self.go(Screen::Rigs);
        self.plan();
    }
    /// Opens a kept case.
    pub fn open_kept(self, entry: Entry) {
        self.take_up(entry);
        self.go(Screen::Rigs);
        self.plan();
    }
    fn take_up(self, entry: Entry) {
        self.cancel();
        let Entry { id, name, text, kits, .. } = entry;
        keep(LAST, &id);
        let case = CaseText::parse(&text).ok();
        self.open.set(Some(Open { id, name, text, case, kits }));
        self.planned.set(Planned::Nothing);
        self.chosen.set(0);
        self.done.set(Vec::new());
    }
    /// Edits the open case. Complaints and the live check follow by themselves; a plan is stale from then on.
    ///
    /// # Errors
    /// If the edit can't be made; then nothing changes. Without an open case there is nothing to edit.
    pub fn edit(self, change: impl FnOnce(&mut CaseText) -> Result<(), EditError>) -> Result<(), EditError> {
        let nothing = || EditError::NoPlace("case".to_owned());
        let mut case = self.open.with_untracked(|o| o.as_ref()?.case.clone()).ok_or_else(nothing)?;
        change(&mut case)?;
        let text = case.text();
        self.changed(text, Some(case));
        Ok(())
    }
    /// Puts a whole text in the place of the open case's.
    pub fn set_text(self, text: String) {
        let case = CaseText::parse(&text).ok();
        self.changed(text, case);
    }
    fn changed(self, text: String, case: Option<CaseText>) {
        self.open.update(|o| {
            if let Some(o) = o {
                o.text = text;
                o.case = case;
            }
        });
        self.stale.set(true);
        self.save();
    }

    /// Has the open case planned, or its own rig judged if it has one, by the worker.
    pub fn plan(self) {
        let kind =
            if self.open.with_untracked(|o| o.as_ref().is_some_and(Open::has_rig)) { Kind::Check } else { Kind::Plan };
        self.ask(kind);
    }
    /// Gives a job about the open case to the worker.
    pub fn ask(self, kind: Kind) {
        self.cancel();
        let Some(open) = self.open.get_untracked() else { return };
        let units = self.settings.get_untracked().units;
        let actions = if kind == Kind::Check { self.done.get_untracked() } else { Vec::new() };
        let options = Wishes { name: open.name, kits: open.kits, units, actions, explain: true, ..Wishes::default() };
        self.planned.set(Planned::Working(0, 0));
        self.stale.set(false);
        self.chosen.set(0);
        let work = self.work.get_value();
        let job = work.run(&Job { kind, text: open.text, options }, move |news| match news {
            News::Progress(done, choices, _) => self.planned.set(Planned::Working(done, choices)),
            News::Done(answer) => self.came(answer),
            News::Lost(why) => self.planned.set(Planned::Trouble(why)),
        });
        self.job.set_value(Some(job));
    }
    /// Plays the whole pull of the open case: of its own rig, else of one of the ranking. What comes of it is told once.
    pub fn play(self, rig: usize, heard: impl Fn(Result<Tree, String>) + 'static) {
        let Some(open) = self.open.get_untracked() else { return };
        let options = Wishes { name: open.name, kits: open.kits, rig, ..Wishes::default() };
        self.work.get_value().run(&Job { kind: Kind::Pull, text: open.text, options }, move |news| match news {
            News::Progress(..) => {}
            News::Done(Answer::Report(found)) => heard(Tree::parse(&found.json).map_err(|e| e.to_string())),
            News::Done(Answer::Trouble(why)) | News::Lost(why) => heard(Err(why)),
            News::Done(Answer::Complaints(all)) => {
                heard(Err(all.into_iter().map(|c| c.message).collect::<Vec<_>>().join("; ")));
            }
        });
    }
    /// Takes the job back that the worker is at.
    pub fn cancel(self) {
        if let Some(job) = self.job.get_value() {
            self.work.get_value().cancel(job);
            self.job.set_value(None);
        }
        if matches!(self.planned.get_untracked(), Planned::Working(..)) {
            self.planned.set(Planned::Nothing);
        }
    }
    fn came(self, answer: Answer) {
        self.job.set_value(None);
        self.planned.set(match answer {
            Answer::Report(found) => match Tree::parse(&found.json) {
                Ok(document) => Planned::Report(Box::new(Report { document, found })),
                Err(e) => Planned::Trouble(e.to_string()),
            },
            Answer::Complaints(all) => Planned::Complaints(all),
            Answer::Trouble(why) => Planned::Trouble(why),
        });
    }

    /// Keeps the open case.
    pub fn save(self) {
        let Some(open) = self.open.get_untracked() else { return };
        let title = open.title();
        let Open { id, name, text, kits, .. } = open;
        let entry = Entry { id, sort: Sort::Case, name, title, text, kits, changed: js_sys::Date::now() };
        self.store_do(Deed::Save(entry));
    }
    /// Keeps a bag. One with the same name and title takes its place.
    pub fn keep_kit(self, name: &str, title: &str, text: String) {
        let old = self.kits.with_untracked(|k| {
            k.iter().find(|e| (e.name.as_str(), e.title.as_str()) == (name, title)).map(|e| e.id.clone())
        });
        let id = old.unwrap_or_else(new_id);
        let (name, title) = (name.to_owned(), title.to_owned());
        let entry = Entry { id, sort: Sort::Kit, name, title, text, kits: Vec::new(), changed: js_sys::Date::now() };
        self.store_do(Deed::Save(entry));
    }
    /// Forgets a kept case or bag.
    pub fn forget(self, id: String) {
        self.store_do(Deed::Remove(id));
    }
    fn store_do(self, deed: Deed) {
        let Some(store) = self.store.get_value() else { return };
        spawn_local(async move {
            self.unkept.set(store.act(&deed).await.err().map(|e| e.to_string()));
            self.refresh().await;
        });
    }
    async fn refresh(self) {
        let Some(store) = self.store.get_value() else { return };
        for (sort, to) in [(Sort::Case, self.kept), (Sort::Kit, self.kits)] {
            match store.list(sort).await {
                Ok(all) => to.set(all),
                Err(e) => self.unkept.set(Some(e.to_string())),
            }
        }
    }
}

/// What the browser keeps under a name, where it keeps anything.
fn kept(name: &str) -> Option<String> {
    window().local_storage().ok()??.get_item(name).ok()?
}
fn keep(name: &str, value: &str) {
    // Where nothing may be kept the choice holds as long as the page.
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.set_item(name, value);
    }
}

/// An id that no other case has: the time, and a number by chance.
fn new_id() -> String {
    format!("{:x}-{:x}", js_sys::Date::now() as u64, (js_sys::Math::random() * 4_294_967_296.0) as u64)
}
