//! The whole pull of the rig that is looked at: played in the worker, then looked at place by place.

use crate::dom::prelude::*;
use crate::session::{say, session};
use crate::show::{self, Node};
use crate::tree::Tree;
use std::rc::Rc;

#[derive(Clone)]
enum Played {
    Not,
    Working,
    Pull(Rc<Tree>),
    Trouble(String),
}

#[component]
pub fn Whole() -> impl IntoView {
    let s = session();
    let played = RwSignal::new(Played::Not);
    // Another rig, or another case: what was played belongs to it no more.
    effect(move || {
        s.chosen.track();
        s.stale.track();
        played.set(Played::Not);
    });
    let play = move |_| {
        played.set(Played::Working);
        let asked = s.chosen.get_untracked();
        s.play(asked, move |answer| {
            // Meanwhile somebody may have looked at another one, or left the screen.
            if matches!(played.try_get_untracked(), Some(Played::Working)) && s.chosen.get_untracked() == asked {
                played.set(match answer {
                    Ok(tree) => Played::Pull(Rc::new(tree)),
                    Err(why) => Played::Trouble(why),
                });
            }
        });
    };
    view! {
        <section class="whole-pull" aria-labelledby="whole-pull">
            <h2 id="whole-pull">{say("pull.title")}</h2>
            {move || match played.get() {
                Played::Not => view! {
                    <p>{say("pull.about")}</p><button on:click=play>{say("pull.play")}</button>
                }.into_any(),
                Played::Working => view! { <p role="status">{say("pull.working")}</p> }.into_any(),
                Played::Trouble(why) => view! { <p class="fault" role="alert" lang="en">{why}</p> }.into_any(),
                Played::Pull(tree) => view! { <Along tree=StoredValue::new(tree)/> }.into_any(),
            }}
        </section>
    }
}

/// A pull that was played, with a slider along it.
#[component]
fn Along(tree: StoredValue<Rc<Tree>>) -> impl IntoView {
    let s = session();
    let last = tree.with_value(|t| Node::of(t).get("history").len()).saturating_sub(1);
    let at = RwSignal::new(0_usize);
    let all = move || tree.with_value(|t| s.read(|r| show::pull(r, Node::of(t))));
    let here = move || tree.with_value(|t| s.read(|r| show::moment(r, Node::of(t), at.get())));
    let travel = move || {
        let m = tree.with_value(|t| Node::of(t).get("history").at(at.get()).get("travel_m").number());
        crate::units::length(s.settings.get().units, m)
    };
    let step = move |back: bool| {
        // About a twentieth of the way at a touch.
        let by = (last / 20).max(1);
        at.update(|i| *i = if back { i.saturating_sub(by) } else { (*i + by).min(last) });
    };
    view! {
        <div prop:innerHTML=all></div>
        {(last > 0).then(|| view! {
            <div class="along">
                <button type="button" class="step" aria-label=say("pull.back") on:click=move |_| step(true)>"−"</button>
                <input type="range" min="0" max=last step="1" prop:value=move || at.get().to_string()
                    aria-label=say("pull.slider") aria-valuetext=travel
                    on:input=move |e| at.set(event_target_value(&e).parse().unwrap_or_default())/>
                <button type="button" class="step" aria-label=say("pull.on") on:click=move |_| step(false)>"+"</button>
            </div>
            <div class="here" prop:innerHTML=here></div>
        })}
    }
}
