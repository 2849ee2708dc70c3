//! The place. For now the case as the text that it is, with everything that is wrong with it.

use super::parts::Complaints;
use crate::session::{Open, say, session};
use leptos::prelude::*;

#[component]
pub fn Scene() -> impl IntoView {
    let s = session();
    let title = move || s.open.with(|o| o.as_ref().map(Open::title));
    let text = move || s.open.with(|o| o.as_ref().map(|o| o.text.clone()).unwrap_or_default());
    view! {
        <header class="head"><h1>{say("scene.title")}</h1><p lang="en">{title}</p></header>
        <label class="field">
            <b>{say("scene.text")}</b>
            <textarea rows="24" spellcheck="false" autocapitalize="off" lang="en" prop:value=text
                on:change=move |e| s.set_text(event_target_value(&e))></textarea>
        </label>
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
    }
}
