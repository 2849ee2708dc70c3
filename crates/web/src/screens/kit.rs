//! The bag. For now a list of its pieces.

use crate::dom::prelude::*;
use crate::session::{Open, say, session};

#[component]
pub fn Kit() -> impl IntoView {
    let s = session();
    let pieces = move || {
        s.open.with(|o| {
            let Some(case) = o.as_ref().and_then(|o: &Open| o.case.as_ref()) else { return Vec::new() };
            let get = |i: usize, key: &str| case.get(&format!("piece[{i}].{key}"));
            let label = |i: usize| get(i, "label").or_else(|| get(i, "label.text")).unwrap_or_default();
            (0..case.count("piece"))
                .map(|i| {
                    (
                        get(i, "id").unwrap_or_default(),
                        get(i, "kind").unwrap_or_default(),
                        get(i, "count").unwrap_or_else(|| "1".into()),
                        label(i),
                    )
                })
                .collect()
        })
    };
    let kit = move || s.open.with(|o| o.as_ref()?.case.as_ref()?.get("kit"));
    view! {
        <header class="head"><h1>{say("kit.title")}</h1></header>
        {move || kit().map(|path| view! { <p>{say("kit.from")}" "<code>{path}</code></p> })}
        <div class="wide" tabindex="0" role="group" aria-label=say("kit.title")>
            <table>
                <thead><tr>
                    <th scope="col">{say("kit.id")}</th><th scope="col">{say("kit.kind")}</th>
                    <th scope="col">{say("kit.count")}</th><th scope="col">{say("kit.label")}</th>
                </tr></thead>
                <tbody lang="en">{move || pieces().into_iter().map(|(id, kind, count, label)| view! {
                    <tr><th scope="row">{id}</th><td>{kind}</td><td>{count}</td><td>{label}</td></tr>
                }).collect_view()}</tbody>
            </table>
        </div>
    }
}
