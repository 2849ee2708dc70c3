//! What the crew does with the rig that is looked at. Large, and on one page when it is printed.

mod paper;

use super::hand::HandOver;
use crate::dom::prelude::*;
use crate::session::{Open, Planned, say, session};
use crate::show;

#[component]
pub fn Brief() -> impl IntoView {
    let s = session();
    paper::follow();
    let title = move || s.open.with(|o| o.as_ref().map(Open::title));
    let brief = move || {
        let at = s.chosen.get();
        s.planned.with(|p| {
            let Planned::Report(r) = p else { return None };
            let (report, drawing) = (r.node(), r.found.drawings.get(at).map(String::as_str));
            let plan = report.get("plans").at(at);
            plan.there().then(|| s.read(|reader| show::brief(reader, report, plan, drawing)))
        })
    };
    view! {
        <header class="head"><h1>{say("brief.title")}</h1><p lang="en">{title}</p></header>
        <Show when=move || s.stale.get()>
            <p class="notice"><span>{say("rigs.stale")}</span><button on:click=move |_| s.plan()>{say("rigs.again")}</button></p>
        </Show>
        {move || match brief() {
            Some(html) => view! {
                <p class="buttons"><button on:click=move |_| { let _ = window().print(); }>{say("brief.print")}</button></p>
                <article class="brief" prop:innerHTML=html></article>
            }.into_any(),
            None => view! { <p>{say("brief.none")}</p> }.into_any(),
        }}
        <HandOver/>
    }
}
