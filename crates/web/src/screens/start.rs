//! The first screen: begin a case, open one, go on with one, or look at an example.

use super::first::{Gate, Progress, Questions};
use super::hand::Receive;
use crate::dom::prelude::*;
use crate::examples::{self, Example};
use crate::session::{Session, say, session};
use crate::store::Entry;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;

#[component]
pub fn Start() -> impl IntoView {
    let progress = Progress::new();
    move || match progress.begun() {
        true => view! { <Questions progress/> }.into_any(),
        false => view! { <Ways progress/> }.into_any(),
    }
}

/// Everything that can be begun with. Where nothing was set up yet that is the gate and the questions.
#[component]
fn Ways(progress: Progress) -> impl IntoView {
    let s = session();
    let fault = RwSignal::new(None::<String>);
    let wanted = RwSignal::new(false);
    let gate = move || wanted.get() || s.kept.with(Vec::is_empty);
    view! {
        <header class="head"><h1>"unmire"</h1><p>{say("start.what")}</p></header>
        <Show when=gate><Gate progress/></Show>
        <section class="choices">
            <Show when=move || !gate()>
                <button class="choice" on:click=move |_| wanted.set(true)>
                    <b>{say("start.new")}</b><span>{say("start.new-about")}</span>
                </button>
            </Show>
            <label class="choice file">
                <b>{say("start.open")}</b><span>{say("start.open-about")}</span>
                <input type="file" multiple accept=".toml,text/plain" on:change=move |e| {
                    let field: web_sys::HtmlInputElement = event_target(&e);
                    spawn_local(async move { fault.set(open_files(s, &field).await.err()) });
                }/>
            </label>
        </section>
        {move || fault.get().map(|f| view! { <p class="fault" role="alert">{f}</p> })}
        <Show when=move || s.kept.with(|k| !k.is_empty())>
            <section>
                <h2>{say("start.kept")}</h2>
                <ul class="list"><For each=move || s.kept.get() key=|e| (e.id.clone(), e.changed.to_bits()) let:entry><Kept entry/></For></ul>
            </section>
        </Show>
        <Receive/>
        <section>
            <h2>{say("start.examples")}</h2>
            <p class="small">{say("start.examples-about")}</p>
            <ul class="list" lang="en">{examples::shown().into_iter().map(move |e| example(s, e)).collect_view()}</ul>
        </section>
    }
}

fn example(s: Session, e: Example) -> impl IntoView {
    let open = move |_| s.open_text(Some(format!("example-{}", e.file)), e.file, e.text.to_owned(), examples::kits());
    view! { <li><button class="row" on:click=open>{e.title()}</button></li> }
}

/// A case that is kept.
#[component]
fn Kept(entry: Entry) -> impl IntoView {
    let s = session();
    let (id, title) = (entry.id.clone(), entry.title.clone());
    let forget_name = {
        let title = title.clone();
        move || s.fill("start.forget-which", &[("title", &title)])
    };
    let really = forget_name.clone();
    let forget = move |_| {
        if window().confirm_with_message(&format!("{}?", really())).unwrap_or(false) {
            s.forget(id.clone());
        }
    };
    view! {
        <li class="pair">
            <button class="row" on:click=move |_| s.open_kept(entry.clone())>{title}</button>
            <button class="quiet" aria-label=forget_name on:click=forget>{say("start.forget")}</button>
        </li>
    }
}

/// Opens the files that were chosen: the first case among them, with the others as its kits.
async fn open_files(s: Session, field: &web_sys::HtmlInputElement) -> Result<(), String> {
    let Some(files) = field.files() else { return Ok(()) };
    let mut texts = Vec::new();
    for file in (0..files.length()).filter_map(|i| files.item(i)) {
        let name = file.name();
        if file.size() > unmire_casefile::LARGEST as f64 {
            return Err(untrack(|| s.fill("start.too-large", &[("name", &name)])));
        }
        let text = JsFuture::from(file.text().unchecked_into::<js_sys::Promise>()).await;
        let text = text.ok().and_then(|t| t.as_string());
        texts.push((name.clone(), text.ok_or_else(|| untrack(|| s.fill("start.unreadable", &[("name", &name)])))?));
    }
    // Chosen again, the same file shall be read again.
    field.set_value("");
    if texts.is_empty() {
        return Ok(());
    }
    let kit = |text: &str| text.contains(unmire_casefile::KIT_SCHEMA);
    let case = texts.iter().position(|(_, text)| !kit(text)).unwrap_or(0);
    let (name, text) = texts.remove(case);
    s.open_text(None, &name, text, texts);
    Ok(())
}
