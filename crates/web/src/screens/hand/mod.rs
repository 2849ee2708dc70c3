//! Handing a case on and taking one in: as the file that the command line reads, or as a few QR codes with no network.

mod camera;
mod receive;

pub use receive::Receive;

use crate::dom::prelude::*;
use crate::hand::{self, Handed, MOST_PARTS};
use crate::session::{Open, say, session};

/// The ways out of this device.
#[component]
pub fn HandOver() -> impl IntoView {
    let s = session();
    let codes = RwSignal::new(None::<Result<Vec<String>, String>>);
    let handed = |o: &Open| Handed { name: o.name.clone(), text: o.text.clone(), kits: used(o) };
    let save = move |_| {
        if let Some(o) = s.open.get_untracked() {
            crate::file::save(&o.name, &o.text);
        }
    };
    // A file of its own for each click: a browser asks back before it saves two at once.
    let save_kit = move |_| {
        if let Some((path, text)) = s.open.with_untracked(|o| o.as_ref().map(used)).unwrap_or_default().first() {
            crate::file::save(path.rsplit('/').next().unwrap_or_default(), text);
        }
    };
    let has_kit = move || s.open.with(|o| o.as_ref().is_some_and(|o| !used(o).is_empty()));
    let show = move |_| {
        let split = s.open.with_untracked(|o| o.as_ref().map(handed)).map(|h| hand::split(&h));
        codes.set(split.map(|all| {
            all.map_err(|e| match e {
                hand::HandError::TooLarge(n) => {
                    let (n, most) = (n.to_string(), MOST_PARTS.to_string());
                    untrack(|| s.fill("hand.too-large", &[("n", &n), ("most", &most)]))
                }
                other => other.to_string(),
            })
        }));
    };
    // Codes of a case that was changed are none of it.
    effect(move || {
        s.open.track();
        codes.set(None);
    });
    view! {
        <section class="hand">
            <h2>{say("hand.title")}</h2>
            <p class="buttons">
                <button on:click=save>{say("hand.save")}</button>
                <Show when=has_kit><button on:click=save_kit>{say("kit.save-file")}</button></Show>
                <button on:click=show>{say("hand.show")}</button>
            </p>
            {move || match codes.get() {
                None => ().into_any(),
                Some(Err(why)) => view! { <p class="fault" role="alert">{why}</p> }.into_any(),
                Some(Ok(parts)) => view! { <Codes parts/> }.into_any(),
            }}
        </section>
    }
}

/// The kit files that the case refers to.
fn used(o: &Open) -> Vec<(String, String)> {
    let path = o.case.as_ref().and_then(|c| c.get("kit"));
    let found = path.and_then(|p| crate::engine::kit_index(&p, &o.kits)).and_then(|i| o.kits.get(i).cloned());
    found.into_iter().collect()
}

/// The codes, one at a time and as large as they go.
#[component]
fn Codes(parts: Vec<String>) -> impl IntoView {
    let s = session();
    let of = parts.len();
    let at = RwSignal::new(0_usize);
    let (all, several) = (parts.join("\n"), of > 1);
    let name = move || {
        let (n, of) = ((at.get() + 1).to_string(), of.to_string());
        s.fill("hand.code", &[("n", &n), ("of", &of)])
    };
    let picture = move || {
        let code = parts.get(at.get()).and_then(|p| hand::code(p))?;
        let address = format!("data:image/svg+xml,{}", js_sys::encode_uri_component(&code.svg()));
        Some(view! { <img class="code" src=address alt=name/> })
    };
    view! {
        <p>{say("hand.how")}</p>
        <p role="status"><b>{name}</b></p>
        {picture}
        <Show when=move || several>
            <p class="buttons">
                <button on:click=move |_| at.update(|a| *a = (*a + of - 1) % of)>{say("hand.back")}</button>
                <button on:click=move |_| at.update(|a| *a = (*a + 1) % of)>{say("hand.next")}</button>
            </p>
        </Show>
        <label class="field"><b>{say("hand.as-text")}</b>
            <textarea id="hand-text" rows="4" readonly spellcheck="false" prop:value=all></textarea>
        </label>
    }
}
