//! The rigs that were found, best first, with the drawing of the one that is looked at.

use super::parts::{Complaints, Verdict};
use crate::dom::prelude::*;
use crate::engine::Kind;
use crate::session::{Planned, Report, say, session};
use crate::units;
use unmire_sheet::json::Plan;

#[component]
pub fn Rigs() -> impl IntoView {
    let s = session();
    let title = move || s.open.with(|o| o.as_ref().map(crate::session::Open::title));
    view! {
        <header class="head"><h1>{say("rigs.title")}</h1><p lang="en">{title}</p></header>
        <Show when=move || s.stale.get()>
            <p class="notice">
                <span>{say("rigs.stale")}</span>
                <button on:click=move |_| s.plan()>{say("rigs.again")}</button>
            </p>
        </Show>
        {move || match s.planned.get() {
            Planned::Nothing => view! {
                <p><button on:click=move |_| s.plan()>{say("rigs.look")}</button></p>
            }.into_any(),
            Planned::Working(done, choices) => view! { <Working done choices/> }.into_any(),
            Planned::Complaints(all) => view! {
                <h2>{say("rigs.unreadable")}</h2><Complaints all/>
            }.into_any(),
            Planned::Trouble(why) => view! { <p class="fault" role="alert" lang="en">{why}</p> }.into_any(),
            Planned::Report(report) => view! { <Found report=*report/> }.into_any(),
        }}
    }
}

#[component]
fn Working(done: usize, choices: usize) -> impl IntoView {
    let s = session();
    let most = choices.max(1);
    view! {
        <div class="working" role="status">
            <p>{say("rigs.working")}</p>
            <progress max=most value=done.min(most) aria-label=say("rigs.working")></progress>
            <button on:click=move |_| s.cancel()>{say("rigs.cancel")}</button>
        </div>
    }
}

#[component]
fn Found(report: Report) -> impl IntoView {
    let s = session();
    let Report { document, found } = report;
    let (plans, drawings, rigs) = (document.plans, found.drawings, found.rigs);
    let given = s.open.with_untracked(|o| o.as_ref().is_some_and(crate::session::Open::has_rig));
    let bare = document.policy.is_none();
    let summary = plans.iter().map(|p| p.summary.clone().unwrap_or_default()).collect::<Vec<_>>();
    let picture = move || {
        let at = s.chosen.get();
        let drawing = drawings.get(at).or_else(|| drawings.first())?;
        let address = format!("data:image/svg+xml,{}", js_sys::encode_uri_component(drawing));
        let words = summary.get(at).cloned().unwrap_or_default();
        let name = s.words.with(|w| w.fill("rigs.drawing", &[("rig", &words)]));
        Some(view! { <img class="drawing" src=address alt=name/> })
    };
    let need = document.demand.as_ref().map(|d| {
        let (low, high) = (d.low_n, d.high_n);
        move || {
            let u = s.settings.get().units;
            s.words.with(|w| w.fill("rigs.need", &[("low", &units::load(u, low)), ("high", &units::load(u, high))]))
        }
    });
    let findings = document.findings;
    let none = plans.is_empty();
    view! {
        <div class="two">
            <section>
                {need.map(|n| view! { <p>{n}</p> })}
                <Show when=move || none><p class="fault">{say("rigs.none")}</p></Show>
                <ol class="rigs">
                    {plans.into_iter().enumerate().map(|(i, plan)| view! { <Rig i plan/> }).collect_view()}
                </ol>
                <p class="buttons">
                    <Show when=move || given && !bare>
                        <button on:click=move |_| s.ask(Kind::Plan)>{say("rigs.others")}</button>
                    </Show>
                    {(!given && !rigs.is_empty()).then(|| view! {
                        <button on:click=move |_| {
                            if let Some(rig) = rigs.get(s.chosen.get_untracked()) {
                                // A rig as it was written can always be put in.
                                let _ = s.edit(|case| case.set_rig(rig));
                            }
                        }>{say("rigs.take")}</button>
                    })}
                </p>
                {move || s.live.get().and_then(|d| d.plans.into_iter().next()).and_then(|p| p.verdict).map(|word| view! {
                    <p role="status">{say("rigs.own")}" "<Verdict word/></p>
                })}
            </section>
            <section class="side wide" tabindex="0" aria-label=say("rigs.drawn")>{picture}</section>
            <section>
                {(!findings.is_empty()).then(|| view! {
                    <h2>{say("rigs.findings")}</h2>
                    <ul lang="en">{findings.into_iter().map(|f| view! { <li><p><b>{f.subject}</b>" "{f.text}</p><p class="small">{f.remedy}</p></li> }).collect_view()}</ul>
                })}
            </section>
        </div>
    }
}

/// One rig of the ranking. Choosing it shows its drawing.
#[component]
fn Rig(i: usize, plan: Plan) -> impl IntoView {
    let s = session();
    let (stop, margin, weakest) = (plan.stop_load_n, plan.lowest_margin, plan.weakest.clone());
    let time = plan.time_s.as_ref().and_then(|t| t.likely_s);
    let weak = weakest.map(|part| {
        move || s.words.with(|w| w.fill("rigs.weakest", &[("part", &part), ("margin", &units::margin(margin))]))
    });
    let stop = stop.map(|n| {
        move || {
            let load = units::capacity(s.settings.get().units, Some(n));
            s.words.with(|w| w.fill("rigs.stop", &[("load", &load)]))
        }
    });
    let takes = time.map(|t| move || s.words.with(|w| w.fill("rigs.time", &[("time", &units::time(Some(t)))])));
    let family = plan.family.clone().map(|f| move || s.words.with(|w| w.translate("family", &f)));
    view! {
        <li>
            <button class="rig" aria-pressed=move || (s.chosen.get() == i).to_string() on:click=move |_| s.chosen.set(i)>
                <span class="name">{family}</span>
                {plan.verdict.map(|word| view! { <Verdict word/> })}
                {stop.map(|t| view! { <span>{t}</span> })}
                {weak.map(|t| view! { <span>{t}</span> })}
                {takes.map(|t| view! { <span>{t}</span> })}
                <span class="small" lang="en">{plan.summary}</span>
            </button>
        </li>
    }
}
