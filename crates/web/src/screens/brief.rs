//! What the crew does with the rig that is looked at: when to stop, the steps, the cautions.

use super::parts::Verdict;
use crate::dom::prelude::*;
use crate::session::{Planned, say, session};
use unmire_sheet::json::Plan;

#[component]
pub fn Brief() -> impl IntoView {
    let s = session();
    let plan = move || match s.planned.get() {
        Planned::Report(r) => r.document.plans.get(s.chosen.get()).cloned(),
        _ => None,
    };
    view! {
        <header class="head"><h1>{say("brief.title")}</h1></header>
        {move || match plan() {
            Some(plan) => view! { <Sheet plan/> }.into_any(),
            None => view! { <p>{say("brief.none")}</p> }.into_any(),
        }}
    }
}

#[component]
fn Sheet(plan: Plan) -> impl IntoView {
    let s = session();
    let Plan { verdict, summary, steps, cautions, stop, .. } = plan;
    let mut phases: Vec<(String, Vec<String>)> = Vec::new();
    for step in steps {
        match phases.last_mut().filter(|(phase, _)| *phase == step.phase) {
            Some((_, texts)) => texts.push(step.text),
            None => phases.push((step.phase, vec![step.text])),
        }
    }
    let list = |all: Vec<String>| all.into_iter().map(|t| view! { <li>{t}</li> }).collect_view();
    view! {
        {verdict.map(|word| view! { <p><Verdict word/></p> })}
        <p lang="en">{summary}</p>
        {stop.filter(|s| !s.when.is_empty()).map(|stop| view! {
            <section class="stop"><h2>{say("brief.stop")}</h2><ul lang="en">{list(stop.when)}</ul></section>
        })}
        {phases.into_iter().map(|(phase, texts)| view! {
            <section>
                <h2>{move || s.words.with(|w| w.translate("phase", &phase))}</h2>
                <ol lang="en">{list(texts)}</ol>
            </section>
        }).collect_view()}
        <section><h2>{say("brief.cautions")}</h2><ul lang="en">{list(cautions)}</ul></section>
    }
}
