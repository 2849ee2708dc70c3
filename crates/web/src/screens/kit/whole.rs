//! Whole bags: keep one on the device, use a kept one, bring one in from a file, hand one out as a file.

use super::{Bag, kit_index};
use crate::bag;
use crate::dom::prelude::*;
use crate::session::{Open, Session, say, session};
use crate::store::Entry;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;

#[component]
pub(super) fn Whole(own: Bag) -> impl IntoView {
    let s = session();
    let fault = RwSignal::new(None::<String>);
    let title = RwSignal::new(s.open.with_untracked(|o| o.as_ref().map(Open::title)).unwrap_or_default());
    let has_own = Signal::new(move || own.with(|d| d.count("piece") > 0));
    let has_file = move || s.open.with(|o| o.as_ref().is_some_and(|o| o.case.as_ref().is_some_and(|c| c.has("kit"))));
    let there = move || s.open.with(|o| o.as_ref().and_then(kit_index).is_some());
    let text = move || s.open.with_untracked(|o| bag::kit_of(&o.as_ref()?.case.clone()?, &title.get_untracked()));
    let keep = move |_| {
        if let Some(text) = text() {
            s.keep_kit(&file_name(&title.get_untracked()), &title.get_untracked(), text);
        }
    };
    let save = move |_| {
        if let Some(text) = text() {
            crate::file::save(&file_name(&title.get_untracked()), &text);
        }
    };
    let with_file = move |act: fn(Session, &str, &str)| {
        let found = s.open.with_untracked(|o| o.as_ref().and_then(|o| o.kits.get(kit_index(o)?).cloned()));
        if let Some((path, text)) = found {
            act(s, path.rsplit('/').next().unwrap_or_default(), &text);
        }
    };
    view! {
        <section>
            <h2>{say("kit.whole")}</h2>
            <Show when=move || has_own.get()>
                <label class="field"><b>{say("kit.name")}</b>
                    <input type="text" prop:value=move || title.get() on:change=move |e| title.set(event_target_value(&e))/>
                </label>
                <p class="buttons">
                    <button on:click=keep>{say("kit.keep")}</button>
                    <button on:click=save>{say("kit.save")}</button>
                </p>
            </Show>
            <Show when=there>
                <p class="buttons">
                    <button on:click=move |_| with_file(|s, name, text| {
                        let title = crate::document::CaseText::parse(text).ok().and_then(|d| d.get("title"));
                        s.keep_kit(name, &title.unwrap_or_else(|| name.to_owned()), text.to_owned());
                    })>{say("kit.keep-file")}</button>
                    <button on:click=move |_| with_file(|_, name, text| crate::file::save(name, text))>{say("kit.save-file")}</button>
                </p>
            </Show>
            <Show when=has_file>
                <p class="buttons">
                    <button class="quiet" on:click=move |_| {
                        // It is there, or nothing is to be done.
                        let _ = s.edit(|c| { c.remove("kit"); Ok(()) });
                    }>{say("kit.take-out")}</button>
                </p>
            </Show>
            <label class="choice file">
                <b>{say("kit.import")}</b><span>{say("kit.import-about")}</span>
                <input type="file" id="kit-file" accept=".toml,text/plain" on:change=move |e| {
                    let field: web_sys::HtmlInputElement = event_target(&e);
                    spawn_local(async move { fault.set(import(s, &field).await.err()) });
                }/>
            </label>
            {move || fault.get().map(|f| view! { <p class="fault" role="alert">{f}</p> })}
            <Show when=move || s.kits.with(|k| !k.is_empty())>
                <h3>{say("kit.kept")}</h3>
                <ul class="list"><For each=move || s.kits.get() key=|e| (e.id.clone(), e.changed.to_bits()) let:entry><Kept entry/></For></ul>
            </Show>
        </section>
    }
}

/// A bag that is kept.
#[component]
fn Kept(entry: Entry) -> impl IntoView {
    let s = session();
    let (id, title) = (entry.id.clone(), entry.title.clone());
    let fill = move |key: &'static str| {
        let title = title.clone();
        move || s.fill(key, &[("title", &title)])
    };
    let (use_name, forget_name) = (fill("kit.use"), fill("start.forget-which"));
    let really = forget_name.clone();
    let forget = move |_| {
        if window().confirm_with_message(&format!("{}?", really())).unwrap_or(false) {
            s.forget(id.clone());
        }
    };
    view! {
        <li class="pair">
            <button class="row" on:click=move |_| take(s, &entry.name, &entry.text)>{use_name}</button>
            <button class="quiet" aria-label=forget_name on:click=forget>{say("start.forget")}</button>
        </li>
    }
}

/// Makes a kit file the one that the case refers to.
fn take(s: Session, name: &str, text: &str) {
    s.open.update(|o| {
        if let Some(o) = o {
            o.kits.retain(|(path, _)| path != name);
            o.kits.push((name.to_owned(), text.to_owned()));
        }
    });
    // A case that can be edited takes a name.
    let _ = s.edit(|c| c.set("kit", name));
}

async fn import(s: Session, field: &web_sys::HtmlInputElement) -> Result<(), String> {
    let Some(file) = field.files().and_then(|f| f.item(0)) else { return Ok(()) };
    let name = file.name();
    let fill = |key: &str| untrack(|| s.fill(key, &[("name", &name)]));
    if file.size() > unmire_casefile::LARGEST as f64 {
        return Err(fill("start.too-large"));
    }
    let text = JsFuture::from(file.text().unchecked_into::<js_sys::Promise>()).await.ok().and_then(|t| t.as_string());
    field.set_value("");
    let text = text.ok_or_else(|| fill("start.unreadable"))?;
    if !bag::is_kit(&text) {
        return Err(fill("kit.no-kit"));
    }
    take(s, &name, &text);
    Ok(())
}

/// A name for a file from a title.
fn file_name(title: &str) -> String {
    let plain: String =
        unmire_model::letters::lower(title).chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|w| !w.is_empty()).take(6).collect();
    if words.is_empty() { "bag.toml".to_owned() } else { format!("{}.toml", words.join("-")) }
}
