//! The rigs that were found, best first, with the drawing of the one that is looked at.

mod whole;

use super::own::Own;
use super::parts::Complaints;
use crate::document::Complaint;
use crate::dom::prelude::*;
use crate::engine::Kind;
use crate::screen::Screen;
use crate::session::{Planned, Report, Session, say, session};
use crate::show::{self, Reader};
use crate::units;
use wasm_bindgen::JsCast as _;
use whole::Whole;

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
                <h2>{say("rigs.unreadable")}</h2><Ways all=all.clone()/><Complaints all/>
            }.into_any(),
            Planned::Trouble(why) => view! { <p class="fault" role="alert" lang="en">{why}</p> }.into_any(),
            Planned::Report(report) => view! { <Found report=*report/> }.into_any(),
        }}
    }
}

/// Where the fields stand that are wrong.
#[component]
fn Ways(all: Vec<Complaint>) -> impl IntoView {
    let s = session();
    let kit = |c: &Complaint| c.file.is_some() || c.path.starts_with("piece") || c.path == "kit";
    let screens = [(Screen::Kit, all.iter().any(kit)), (Screen::Scene, all.iter().any(|c| !kit(c)))];
    let way = move |screen: Screen| {
        let name = move || s.fill("rigs.mend", &[("screen", &s.translate("screen", screen.word()))]);
        view! { <a class="go" href=screen.address()>{name}</a> }
    };
    view! { <p class="buttons">{screens.into_iter().filter(|(_, there)| *there).map(|(screen, _)| way(screen)).collect_view()}</p> }
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
    let given = s.open.with_untracked(|o| o.as_ref().is_some_and(crate::session::Open::has_rig));
    let (count, bare) = (report.node().get("plans").len(), !report.node().get("policy").there());
    let rigs = !given && !report.found.rigs.is_empty();
    let report = StoredValue::new(report);
    let picture = move || {
        let at = s.chosen.get();
        report.with_value(|r| {
            let drawing = r.found.drawings.get(at).or_else(|| r.found.drawings.first())?;
            let rig = r.node().get("plans").at(at).get("summary").text().unwrap_or_default();
            let name = s.fill("rigs.drawing", &[("rig", rig)]);
            Some(view! { <img class="drawing" src=show::address(drawing) alt=name/> })
        })
    };
    let need = move || {
        report.with_value(|r| {
            let demand = r.node().get("demand");
            let load = |key| units::load(s.settings.get().units, demand.get(key).number());
            let (low, high) = (load("low_n"), load("high_n"));
            demand.there().then(|| s.fill("rigs.need", &[("low", &low), ("high", &high)]))
        })
    };
    let detail = move || {
        let at = s.chosen.get();
        report.with_value(|r| s.read(|reader| show::detail(reader, r.node().get("plans").at(at))))
    };
    let findings = move || report.with_value(|r| s.read(|reader| show::findings(reader, r.node())));
    let take = move |_| {
        report.with_value(|r| {
            let at = s.chosen.get_untracked();
            let done = r.node().get("plans").at(at).get("actions");
            s.done.set(done.each().filter_map(|a| a.get("word").text()).map(str::to_owned).collect());
            if let Some(rig) = r.found.rigs.get(at) {
                // A rig as it was written can always be put in.
                let _ = s.edit(|case| case.set_rig(rig));
            }
        });
    };
    // A number that is opened gets its working then, and not before.
    let open = move |e: web_sys::MouseEvent| {
        let about = e.target().and_then(|t| t.dyn_into::<web_sys::Element>().ok());
        let details = about.and_then(|t| t.closest("summary").ok()?).and_then(|t| t.parent_element());
        let Some(details) = details else { return };
        let Ok(Some(steps)) = details.query_selector(".steps-of") else { return };
        if steps.first_child().is_none() {
            let (at, about) = (s.chosen.get_untracked(), details.get_attribute("data-about").unwrap_or_default());
            let units = s.settings.get_untracked().units;
            let html = s.words.with_untracked(|words| {
                let trail = |r: &Report| {
                    show::working(Reader { words, units }, r.node().get("plans").at(at).get("trail"), &about)
                };
                report.with_value(trail)
            });
            steps.set_inner_html(&html);
        }
    };
    view! {
        <div class="two">
            <section>
                <p>{need}</p>
                {(count == 0).then(|| view! { <p class="fault">{say("rigs.none")}</p> })}
                <ol class="rigs">{(0..count).map(|i| rig(s, i, report)).collect_view()}</ol>
                <p class="buttons">
                    {(given && !bare).then(|| view! { <button on:click=move |_| s.ask(Kind::Plan)>{say("rigs.others")}</button> })}
                    {rigs.then(|| view! { <button on:click=take>{say("rigs.take")}</button> })}
                </p>
                <Own/>
            </section>
            <section class="side wide" tabindex="0" aria-label=say("rigs.drawn")>{picture}</section>
            <section>
                {(count > 0).then(|| view! { <section class="detail" aria-labelledby="this-rig" prop:innerHTML=detail on:click=open></section> })}
                <div prop:innerHTML=findings></div>
            </section>
        </div>
        {(count > 0 && !bare).then(|| view! { <Whole/> })}
        {(count > 1).then(|| view! { <Compare report count/> })}
    }
}

/// One rig of the ranking. Choosing it shows its drawing.
fn rig(s: Session, i: usize, report: StoredValue<Report>) -> impl IntoView {
    let html = move || report.with_value(|r| s.read(|reader| show::rig(reader, r.node().get("plans").at(i))));
    let pressed = move || (s.chosen.get() == i).to_string();
    view! { <li><button class="rig" aria-pressed=pressed prop:innerHTML=html on:click=move |_| s.chosen.set(i)></button></li> }
}

/// The rig that is looked at beside another.
#[component]
fn Compare(report: StoredValue<Report>, count: usize) -> impl IntoView {
    let s = session();
    let other = RwSignal::new(None::<usize>);
    let option = move |i: usize| {
        let name = report.with_value(|r| s.read(|reader| show::name(reader, i, r.node().get("plans").at(i))));
        view! { <option value=i.to_string() selected=other.get_untracked() == Some(i)>{name}</option> }
    };
    let options = move || (0..count).filter(|i| *i != s.chosen.get()).map(option).collect_view();
    let two = move || {
        let (a, b) = (s.chosen.get(), other.get().filter(|b| *b != s.chosen.get())?);
        report.with_value(|r| {
            let one = |i: usize| (i, r.node().get("plans").at(i), r.found.drawings.get(i).map(String::as_str));
            Some(s.read(|reader| show::compare(reader, [one(a), one(b)])))
        })
    };
    view! {
        <section class="compare">
            <h2>{say("compare.title")}</h2>
            <label class="field"><b>{say("compare.with")}</b>
                <select on:change=move |e| other.set(event_target_value(&e).parse().ok())>
                    <option value="">{say("compare.none")}</option>
                    {options}
                </select>
            </label>
            <div prop:innerHTML=move || two().unwrap_or_default()></div>
        </section>
    }
}
