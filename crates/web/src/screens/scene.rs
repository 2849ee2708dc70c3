//! The place, as a plan to scale that can be changed: what stands where, how it is stuck, what is still assumed, and the rig
//! that is looked at, solved anew at every change.

use super::anchors::Anchors;
use super::assumptions::Assumptions;
use super::parts::{Complaints, Verdict};
use super::plan_view::PlanView;
use super::stuck::Stuck;
use crate::dom::prelude::*;
use crate::scene::place::Polar;
use crate::scene::view::View;
use crate::scene::{self, Rigged};
use crate::session::{Open, Planned, say, session};
use crate::units;
use unmire_model::case::Case;
use unmire_planner::report::{Plan, Report};

/// What the parts of the scene share.
#[derive(Clone, Copy)]
pub struct Place {
    /// The case as it was last readable.
    pub case: Memo<Option<Case>>,
    /// The anchor under the finger and where it is: its id and its place.
    pub moved: RwSignal<Option<(String, Polar)>>,
    /// The case with that anchor where the finger is.
    pub shown: Memo<Option<Case>>,
    /// The rig that is looked at.
    pub rigged: Memo<Option<Rigged>>,
    /// What becomes of it there.
    pub judged: Memo<Option<Result<Report, String>>>,
    /// How the ground lies on the drawing; it keeps still while something is moved.
    pub view: Memo<Option<View>>,
    /// The anchor whose numbers are shown, by its id.
    pub selected: RwSignal<Option<String>>,
}
impl Place {
    fn new() -> Self {
        let s = session();
        let case = Memo::new(move |last: Option<&Option<Case>>| {
            let read = s.open.with(|o| o.as_ref().and_then(|o| scene::read(&o.text, &o.kits)));
            read.or_else(|| last.cloned().flatten())
        });
        let moved = RwSignal::new(None::<(String, Polar)>);
        let shown = Memo::new(move |_| {
            let mut case = case.get()?;
            if let Some((id, at)) = moved.get()
                && let Some(a) = case.anchors.iter_mut().find(|a| a.id == id)
            {
                a.position = at.point();
            }
            Some(case)
        });
        let rigged = Memo::new(move |_| {
            if let Some(layout) = case.with(|c| c.as_ref().and_then(|c| c.rig.clone())) {
                return Some(Rigged { layout, actions: Vec::new() });
            }
            let chosen = s.chosen.get();
            s.planned.with(|p| {
                let Planned::Report(r) = p else { return None };
                let rig = r.found.rigs.get(chosen)?;
                let plan = r.document.plans.get(chosen)?;
                let actions = plan.actions.iter().map(|a| a.word.clone()).collect();
                s.open.with_untracked(|o| {
                    let o = o.as_ref()?;
                    Rigged::of(o.case.as_ref()?, &o.kits, rig, actions)
                })
            })
        });
        let judged = Memo::new(move |_| rigged.with(|r| shown.with(|c| Some(r.as_ref()?.judge(c.as_ref()?)))));
        let view = Memo::new(move |last: Option<&Option<View>>| {
            let still = case.with(|c| c.as_ref().map(unmire_planner::site::of));
            match (still, moved.with(Option::is_some)) {
                (_, true) => last.copied().flatten(),
                (Some(site), false) => Some(View::of(&site, None)),
                (None, false) => None,
            }
        });
        Self { case, moved, shown, rigged, judged, view, selected: RwSignal::new(None) }
    }
    /// The judged rig.
    pub fn with_plan<T>(self, f: impl FnOnce(&Plan) -> T) -> Option<T> {
        self.judged.with(|j| match j {
            Some(Ok(report)) => report.plans.first().map(f),
            _ => None,
        })
    }
    /// Where an anchor is now, by its id.
    pub fn at(self, id: &str) -> Option<Polar> {
        self.shown.with(|c| c.as_ref()?.anchor(id).map(|a| Polar::of(a.position)))
    }
}

/// The place in the document of the anchor with an id.
pub fn index_of(open: Option<&Open>, id: &str) -> Option<usize> {
    let case = open?.case.as_ref()?;
    (0..case.count("anchor")).find(|i| case.get(&format!("anchor[{i}].id")).as_deref() == Some(id))
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
            <div class="scene-anchors"><Anchors/></div>
            <div class="scene-more"><Assumptions/><Stuck/><Text/></div>
        </div>
    }
}

/// The rig that is looked at: verdict, weakest part, stop rule.
#[component]
fn Looked() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let weakest = move || {
        let (part, margin) = place.with_plan(|p| {
            let part = p.weakest.and_then(|i| p.checks.get(i)).map(|c| c.part.clone());
            (part, p.lowest_margin)
        })?;
        let part = part?;
        Some(s.words.with(|w| w.fill("rigs.weakest", &[("part", &part), ("margin", &units::margin(margin))])))
    };
    let stop = move || {
        let load = place.with_plan(|p| p.stop.line_pull)??;
        let load = units::capacity(s.settings.get().units, Some(load.as_n()));
        Some(s.words.with(|w| w.fill("rigs.stop", &[("load", &load)])))
    };
    let verdict = Memo::new(move |_| place.with_plan(|p| p.verdict.word().to_owned()));
    let family = move || place.with_plan(|p| s.words.with(|w| w.translate("family", p.family.word())));
    let misfit = move || place.judged.with(|j| j.as_ref().and_then(|j| j.as_ref().err().cloned()));
    // Why there is none, and what to do about it, in the planner's own words.
    let none = move || {
        s.planned.with(|p| match p {
            Planned::Report(r) if r.document.plans.is_empty() => Some(r.document.findings.clone()),
            _ => None,
        })
    };
    let working = move || s.planned.with(|p| matches!(p, Planned::Working(..)));
    view! {
        <section class="first" aria-labelledby="first-title">
            <h2 id="first-title">{say("scene.first")}</h2>
            <Show when=working><p role="status">{say("scene.looking")}</p></Show>
            {move || none().map(|why| view! {
                <p class="fault">{say("scene.no-rig")}</p>
                <ul lang="en">{why.into_iter().map(|f| view! { <li><b>{f.subject}</b>" "{f.text}" "<span class="small">{f.remedy}</span></li> }).collect_view()}</ul>
            })}
            {move || s.planned.with(|p| match p {
                Planned::Trouble(why) => Some(view! { <p class="fault" role="alert" lang="en">{why.clone()}</p> }),
                _ => None,
            })}
            {move || misfit().map(|why| view! { <p class="fault">{say("scene.misfit")}" "<span lang="en">{why}</span></p> })}
            <p role="status" class="now">
                <b>{family}</b>" "{move || verdict.get().map(|word| view! { <Verdict word/> })}
            </p>
            <p>{weakest}</p>
            <p><b>{stop}</b></p>
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
    let when = Memo::new(move |_| place.with_plan(|p| p.stop.when.clone()).unwrap_or_default());
    move || {
        let all = when.get();
        (!all.is_empty()).then(|| {
            view! {
                <h2>{say("brief.stop")}</h2>
                <ul lang="en">{all.into_iter().map(|t| view! { <li>{t}</li> }).collect_view()}</ul>
            }
        })
    }
}

/// The tension of every leg.
#[component]
fn Legs() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let rows = move || {
        let u = s.settings.get().units;
        place.with_plan(|p| {
            let row = |l: &unmire_planner::report::PlanLeg| {
                let stall = l.tension_stall.map(unmire_model::Force::as_n);
                (l.from.clone(), l.to.clone(), units::load(u, Some(l.tension_work.as_n())), units::load(u, stall))
            };
            p.legs.iter().map(row).collect::<Vec<_>>()
        })
    };
    move || {
        rows().filter(|r| !r.is_empty()).map(|rows| {
            view! {
                <div class="wide" tabindex="0" role="group" aria-label=say("scene.legs")>
                <table class="legs">
                    <caption>{say("scene.legs")}</caption>
                    <thead><tr><th scope="col">{say("scene.leg")}</th><th scope="col">{say("scene.work")}</th><th scope="col">{say("scene.stall")}</th></tr></thead>
                    <tbody>{rows.into_iter().map(|(from, to, work, stall)| view! {
                        <tr><th scope="row" lang="en">{from}" → "{to}</th><td>{work}</td><td>{stall}</td></tr>
                    }).collect_view()}</tbody>
                </table></div>
            }
        })
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
            if n == 0 { s.words.with(|w| w.say("scene.good")) } else { s.words.with(|w| w.fill("scene.wrong", &[("n", &n.to_string())])) }
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
