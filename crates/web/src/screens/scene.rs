//! The place, as a plan to scale that can be changed: what stands where, how it is stuck, what is still assumed, and the rig
//! that is looked at, solved anew at every change.

use super::anchors::Anchors;
use super::assumptions::Assumptions;
use super::controls::try_edit;
use super::moving::{Moving, Told};
use super::others::Others;
use super::parts::{Complaints, Verdict};
use super::plan_view::PlanView;
use super::rest::Rest;
use super::stuck::Stuck;
use crate::catalogue::Catalogue;
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::scene::place::Polar;
use crate::scene::rig::{Row, rows as rows_of};
use crate::scene::thing::{self, Moved, Thing};
use crate::scene::view::View;
use crate::scene::{Read, Rigged, Watch};
use crate::session::{Open, Planned, Session, say, session};
use crate::{show, units};
use std::cell::RefCell;
use std::rc::Rc;
use unmire_model::case::Case;
use unmire_model::layout::Layout;
use unmire_model::{Force, Vec3};
use unmire_planner::Glance;
use unmire_planner::report::{KeepOut, PlanLeg, PlanPoint, Report};

/// A rig as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    family: &'static str,
    verdict: &'static str,
    weakest: Option<String>,
    margin: Option<f64>,
    stop: Option<Force>,
    when: Rc<[String]>,
    /// Its points.
    pub points: Vec<PlanPoint>,
    /// Its legs.
    pub legs: Vec<PlanLeg>,
    /// The ground that nobody may stand on; none while something moves.
    pub keep: Option<KeepOut>,
}
impl Judged {
    fn of(report: Report) -> Option<Self> {
        let p = report.plans.into_iter().next()?;
        Some(Self {
            family: p.family.word(),
            verdict: p.verdict.word(),
            weakest: p.weakest.and_then(|i| p.checks.get(i)).map(|c| c.part.clone()),
            margin: p.lowest_margin,
            stop: p.stop.line_pull,
            when: p.stop.when.into(),
            points: p.points,
            legs: p.legs,
            keep: Some(p.keep_out),
        })
    }
    fn at_a_glance(g: Glance, family: &'static str, when: Rc<[String]>) -> Self {
        Self {
            family,
            verdict: g.verdict.word(),
            weakest: g.weakest,
            margin: g.lowest_margin,
            stop: g.stop,
            when,
            points: g.points,
            legs: g.legs,
            keep: None,
        }
    }
}

/// What the parts of the scene share.
#[derive(Clone, Copy)]
pub struct Place {
    /// The case as it was last readable.
    pub case: Signal<Option<Read>>,
    /// What is under the finger and where it is.
    pub moved: RwSignal<Option<Moved>>,
    /// The same where it last rested.
    pub shown: Signal<Option<Moved>>,
    /// Whether something moves.
    pub rest: Rest,
    /// Where what moves is painted.
    pub moving: Moving,
    /// The rig that is looked at, as it was found, or with a block that was hung elsewhere.
    pub rigged: Signal<Option<Rigged>>,
    /// A found rig with a block that was hung elsewhere.
    pub tried: RwSignal<Option<Layout>>,
    /// What becomes of it: the whole pull; at a glance while something moves.
    pub now: Signal<Option<Result<Judged, String>>>,
    /// The same where what moves last rested.
    pub judged: Signal<Option<Result<Judged, String>>>,
    /// How the ground lies on the drawing; it keeps still while something is moved.
    pub view: Signal<Option<View>>,
    /// The anchor whose numbers are shown, by its id.
    pub selected: RwSignal<Option<String>>,
    /// What else has its numbers shown.
    pub other: RwSignal<Thing>,
}
impl Place {
    fn new() -> Self {
        let s = session();
        let case = Signal::with_last(move |last: Option<&Option<Read>>| {
            let read = s.open.with(|o| o.as_ref().and_then(|o| Read::of(&o.text, &o.kits)));
            read.or_else(|| last.cloned().flatten())
        });
        let moved = RwSignal::new(None::<Moved>);
        let tried = RwSignal::new(None::<Layout>);
        // Another rig, another search: what was tried with the one before is over.
        effect(move || {
            s.planned.track();
            s.chosen.track();
            tried.set(None);
        });
        let found = Signal::new(move || {
            if let Some(layout) = case.with(|c| c.as_ref().and_then(|c| c.rig.clone())) {
                return Some(Rigged { layout, actions: s.done.get() });
            }
            let chosen = s.chosen.get();
            s.planned.with(|p| {
                let Planned::Report(r) = p else { return None };
                let rig = r.found.rigs.get(chosen)?;
                let actions = r.node().get("plans").at(chosen).get("actions");
                let actions = actions.each().filter_map(|a| a.get("word").text()).map(str::to_owned).collect();
                s.open.with_untracked(|o| {
                    let o = o.as_ref()?;
                    Rigged::of(o.case.as_ref()?, &o.kits, rig, actions)
                })
            })
        });
        let rigged = Signal::new(move || {
            let mut rigged = found.get()?;
            if let Some(layout) = tried.get() {
                rigged.layout = layout;
            }
            Some(rigged)
        });
        let watch = RefCell::new(None::<(Read, Rigged, Result<Watch, String>)>);
        let now = Signal::with_last(move |last: Option<&Option<Result<Judged, String>>>| {
            let moved = moved.get();
            rigged.with(|r| {
                case.with(|c| {
                    let (r, c) = (r.as_ref()?, c.as_ref()?);
                    let Some(moved) = moved else {
                        watch.replace(None);
                        return r.judge(c).map(Judged::of).transpose();
                    };
                    let mut watch = watch.borrow_mut();
                    // Another case or another rig may come while something moves.
                    let kept = watch.take().filter(|(case, rig, _)| case == c && rig == r);
                    let (.., watch) = watch.insert(kept.unwrap_or_else(|| (c.clone(), r.clone(), r.watch(c))));
                    let seen = watch.as_mut().map_err(|e| e.clone()).and_then(|w| w.glance(c, r, &moved));
                    let when = match last {
                        Some(Some(Ok(j))) => j.when.clone(),
                        _ => Rc::default(),
                    };
                    Some(seen.map(|g| Judged::at_a_glance(g, r.layout.family.word(), when)))
                })
            })
        });
        let rest = Rest::of(moved);
        let shown = Signal::new(move || rest.read(|| moved.get()));
        let judged = Signal::new(move || rest.read(|| now.get()));
        let view = Signal::with_last(move |last: Option<&Option<View>>| match rest.moving() {
            true => last.copied().flatten(),
            false => case.with(|c| c.as_ref().map(|c| View::of(&unmire_planner::site::of(c), None))),
        });
        // The drawing has another size then.
        on_window("resize", move |_| {
            if moved.with_untracked(Option::is_some) {
                moved.set(None);
            }
        });
        let (selected, other) = (RwSignal::new(None), RwSignal::new(Thing::Vehicle));
        Self { case, moved, shown, rest, moving: Moving::new(), rigged, tried, now, judged, view, selected, other }
    }
    /// What is told while something moves, of a rig or of why there is none.
    pub fn told(s: Session, seen: Option<&Result<Judged, String>>) -> Option<Told> {
        let (seen, units) = (seen?, s.settings.with(|s| s.units));
        Some(s.words.with(|w| {
            let rig = match seen {
                Ok(rig) => rig,
                Err(why) => {
                    return Told { word: w.say("scene.misfit"), weakest: why.clone(), ..Told::default() };
                }
            };
            let verdict = rig.verdict;
            let stop = rig.stop.map(|load| stop(w, units, load)).unwrap_or_default();
            let weakest = rig.weakest.as_ref().map(|part| weakest(w, part, rig.margin)).unwrap_or_default();
            Told { verdict, word: w.translate("verdict", verdict), stop, weakest, note: w.say("scene.moving") }
        }))
    }
    /// The judged rig.
    pub fn with_rig<T>(self, f: impl FnOnce(&Judged) -> T) -> Option<T> {
        rig(self.judged, f)
    }
    /// How far the vehicle has come.
    pub fn come(self) -> Vec3 {
        self.shown.with(|m| m.as_ref().map_or(Vec3::ZERO, Moved::come))
    }
    /// Where something is on the drawing: seen from where the vehicle stood before anything was moved.
    pub fn drawn(self, thing: &Thing) -> Option<Vec3> {
        if let Thing::Block(station) = thing {
            let name = self.rigged.with(|r| r.as_ref()?.layout.stations.get(*station)?.block.clone())?;
            let name = format!("block {name}");
            let at = self.with_rig(|r| r.points.iter().find(|p| p.name == name).map(|p| p.at))??;
            return Some(at + self.come());
        }
        let under = self.shown.with(|m| m.as_ref().filter(|m| m.thing == *thing).map(|m| m.to));
        under.or_else(|| self.case.with(|c| thing.place(c.as_ref()?)))
    }
    /// Where something is, seen from the vehicle.
    pub fn at(self, thing: &Thing) -> Option<Polar> {
        Some(Polar::of(self.drawn(thing)? - self.come()))
    }
    /// Lets something stand where it was moved to.
    pub fn put(self, s: Session, m: &Moved) {
        if let Thing::Block(station) = m.thing {
            let hung = self.rigged.with_untracked(|r| {
                self.case.with_untracked(|c| {
                    let (mut layout, mut case) = (r.as_ref()?.layout.clone(), Case::clone(c.as_ref()?));
                    m.apply(&mut case, Some(&mut layout));
                    Some(layout)
                })
            });
            if let Some(anchor) = hung.as_ref().and_then(|l| thing::hangs_at(l, station)) {
                self.hang(s, station, anchor);
            }
            return;
        }
        let Some(case) = self.case.get_untracked() else { return };
        // Off the ground that a case may have there is no place to put it: it stays where it was.
        let _ = try_edit(s, |c| m.write(&case, c));
    }
    /// The block of a station and the anchor at which it hangs.
    pub fn block(self, station: usize) -> Option<(String, String)> {
        self.rigged.with(|r| {
            let layout = &r.as_ref()?.layout;
            let anchor = thing::hangs_at(layout, station)?.to_owned();
            Some((layout.stations.get(station)?.block.clone()?, anchor))
        })
    }
    /// Hangs a block at the next anchor or at the one before.
    pub fn hang_next(self, s: Session, station: usize, forward: bool) {
        let Some((_, now)) = untrack(|| self.block(station)) else { return };
        let ids = self.case.with_untracked(|c| {
            c.as_ref().map(|c| c.anchors.iter().map(|a| a.id.clone()).collect::<Vec<_>>()).unwrap_or_default()
        });
        let (Some(i), n) = (ids.iter().position(|id| *id == now), ids.len()) else { return };
        if let Some(id) = ids.get(if forward { (i + 1) % n } else { (i + n - 1) % n }) {
            self.hang(s, station, id);
        }
    }
    /// Hangs a block at an anchor: in the case's own rig, or to try what that does in a found one.
    pub fn hang(self, s: Session, station: usize, anchor: &str) {
        if self.case.with_untracked(|c| c.as_ref().is_some_and(|c| c.rig.is_some())) {
            // A rig that doesn't fit there is told by the planner.
            let _ = try_edit(s, |c| c.set(&format!("rig.station[{station}].anchors[0].anchor"), anchor));
        } else if let Some(mut layout) = self.rigged.with_untracked(|r| r.as_ref().map(|r| r.layout.clone())) {
            thing::hang(&mut layout, station, anchor);
            self.tried.set(Some(layout));
        }
    }
}

#[component]
pub fn Scene() -> impl IntoView {
    let s = session();
    let place = Place::new();
    provide_context(place);
    let title = move || s.open.with(|o| o.as_ref().map(Open::title));
    view! {
        <header class="head"><h1>{say("scene.title")}</h1><p lang="en">{title}</p></header>
        <div class="scene">
            <div class="scene-first"><Looked/></div>
            <div class="scene-plan"><PlanView/><Stops/><Legs/></div>
            <div class="scene-anchors"><Anchors/><Others/></div>
            <div class="scene-more"><Assumptions/><Stuck/><Text/></div>
        </div>
    }
}

/// The rig, if there is one.
fn rig<T>(seen: Signal<Option<Result<Judged, String>>>, f: impl FnOnce(&Judged) -> T) -> Option<T> {
    seen.with(|j| match j {
        Some(Ok(rig)) => Some(f(rig)),
        _ => None,
    })
}
fn weakest(words: &Catalogue, part: &str, margin: Option<f64>) -> String {
    words.fill("rigs.weakest", &[("part", part), ("margin", &units::margin(margin))])
}
fn stop(words: &Catalogue, units: Units, load: Force) -> String {
    let load = units::capacity(units, Some(load.as_n()));
    words.fill("rigs.stop", &[("load", &load)])
}

/// The rig that is looked at: verdict, weakest part, stop rule.
#[component]
fn Looked() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    // The text of what is above the drawing would push it away from the finger; meanwhile it is told at the drawing's head.
    let seen =
        Signal::with_last(move |last: Option<&Option<Result<Judged, String>>>| match (place.rest.moving(), last) {
            (true, Some(last)) => last.clone(),
            _ => place.judged.get(),
        });
    let weakest = Signal::new(move || -> Option<String> {
        s.words.with(|w| rig(seen, |r| r.weakest.as_ref().map(|part| weakest(w, part, r.margin)))?)
    });
    let stop = Signal::new(move || -> Option<String> {
        let (load, units) = (rig(seen, |r| r.stop)??, s.settings.with(|s| s.units));
        Some(s.words.with(|w| stop(w, units, load)))
    });
    let verdict = Signal::new(move || rig(seen, |r| r.verdict.to_owned()));
    let family = Signal::new(move || rig(seen, |r| s.translate("family", r.family)));
    let misfit = Signal::new(move || seen.with(|j| j.as_ref().and_then(|j| j.as_ref().err().cloned())));
    // A rig that was changed goes into the case whole, or is as it was found.
    let take = move |_| {
        if let Some(layout) = place.tried.get_untracked() {
            // A rig as it was written can always be put in.
            let _ = s.edit(|c| c.set_rig(&unmire_casefile::write_layout(&layout)));
            place.tried.set(None);
        }
    };
    // Why there is none, and what to do about it, in the planner's own words.
    let none = move || {
        s.planned.with(|p| match p {
            Planned::Report(r) if r.node().get("plans").is_empty() => Some(s.read(|to| show::findings(to, r.node()))),
            _ => None,
        })
    };
    let working = move || s.planned.with(|p| matches!(p, Planned::Working(..)));
    view! {
        <section class="first" class:waits=move || place.rest.moving() aria-labelledby="first-title">
            <h2 id="first-title">{say("scene.first")}</h2>
            <Show when=working><p role="status">{say("scene.looking")}</p></Show>
            {move || none().map(|why| view! {
                <p class="fault">{say("scene.no-rig")}</p>
                <div prop:innerHTML=why></div>
            })}
            {move || s.planned.with(|p| match p {
                Planned::Trouble(why) => Some(view! { <p class="fault" role="alert" lang="en">{why.clone()}</p> }),
                _ => None,
            })}
            {move || misfit.get().map(|why| view! { <p class="fault">{say("scene.misfit")}" "<span lang="en">{why}</span></p> })}
            <p role="status" class="now">
                <b>{family}</b>" "{move || verdict.get().map(|word| view! { <Verdict word/> })}
            </p>
            <p>{weakest}</p>
            <p><b>{stop}</b></p>
            <Show when=move || place.tried.with(Option::is_some)>
                <p class="notice"><span>{say("scene.tried")}</span>
                    <button type="button" on:click=take>{say("rigs.take")}</button>
                    <button type="button" class="plain" on:click=move |_| place.tried.set(None)>{say("scene.as-found")}</button></p>
            </Show>
            <Show when=move || s.stale.get()>
                <p class="notice"><span>{say("rigs.stale")}</span>
                    <button type="button" on:click=move |_| s.plan()>{say("scene.again")}</button></p>
            </Show>
        </section>
    }
}

/// When the crew stops, whatever the numbers say.
#[component]
fn Stops() -> impl IntoView {
    let place = expect_context::<Place>();
    let when = Signal::new(move || place.with_rig(|r| r.when.clone()).unwrap_or_default());
    move || {
        let all = when.get();
        (!all.is_empty()).then(|| {
            view! {
                <h2>{say("brief.stop")}</h2>
                <ul lang="en">{all.iter().map(|t| view! { <li>{t.clone()}</li> }).collect_view()}</ul>
            }
        })
    }
}

/// The tension of every leg.
#[component]
fn Legs() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let rows = Signal::new(move || {
        let u = s.settings.get().units;
        place.with_rig(|r| rows_of(&r.legs, u)).unwrap_or_default()
    });
    // A row stays while its leg does, and a cell while its number does.
    let names = Signal::new(move || rows.with(|r| r.iter().map(|r| r.leg.clone()).enumerate().collect::<Vec<_>>()));
    let row = move |(i, leg): (usize, String)| {
        let cell = move |pick: fn(&Row) -> &str| {
            Signal::new(move || rows.with(|r| r.get(i).map(|r| pick(r).to_owned())).unwrap_or_default())
        };
        let (work, stall) = (cell(|r| &r.work), cell(|r| &r.stall));
        view! { <tr><th scope="row" lang="en">{leg}</th><td>{work}</td><td>{stall}</td></tr> }
    };
    view! {
        <Show when=move || !rows.with(Vec::is_empty)>
            <div class="wide" tabindex="0" role="group" aria-label=say("scene.legs")>
            <table class="legs">
                <caption>{say("scene.legs")}</caption>
                <thead><tr><th scope="col">{say("scene.leg")}</th><th scope="col">{say("scene.work")}</th><th scope="col">{say("scene.stall")}</th></tr></thead>
                <tbody><For each=move || names.get() key=Clone::clone let:leg>{row(leg)}</For></tbody>
            </table></div>
        </Show>
    }
}

/// The case as the text that it is, with everything that is wrong with it.
#[component]
fn Text() -> impl IntoView {
    let s = session();
    let text = move || s.open.with(|o| o.as_ref().map(|o| o.text.clone()).unwrap_or_default());
    view! {
        <section>
        <h2 id="case-text">{say("scene.text")}</h2>
        <textarea rows="16" spellcheck="false" autocapitalize="off" lang="en" aria-labelledby="case-text" prop:value=text
            on:change=move |e| s.set_text(event_target_value(&e))></textarea>
        <p role="status">{move || {
            let n = s.complaints.with(Vec::len);
            if n == 0 { s.say("scene.good") } else { s.fill("scene.wrong", &[("n", &n.to_string())]) }
        }}</p>
        {move || {
            let all = s.complaints.get();
            (!all.is_empty()).then(|| view! { <Complaints all/> })
        }}
        <p class="buttons"><button on:click=move |_| {
            s.go(crate::screen::Screen::Rigs);
            s.plan();
        }>{say("scene.plan")}</button>
        <button on:click=move |_| {
            if let Some(o) = s.open.get_untracked() {
                crate::file::save(&o.name, &o.text);
            }
        }>{say("scene.save")}</button></p>
        </section>
    }
}
