//! Everything that is assumed, the assumption that matters most first, each one tap from a measured value.

use super::controls::{Field, try_edit};
use super::scene::Place;
use crate::document::Complaint;
use crate::dom::prelude::*;
use crate::scene::assumed::{self, Assumption};
use crate::session::{say, session};
use core::time::Duration;

/// How long the case must keep still before the assumptions are weighed.
const CALM: Duration = Duration::from_millis(400);

/// What each assumption weighs, by its path.
type Weights = Vec<(String, f64)>;

fn weight_of(all: &Weights, path: &str) -> f64 {
    all.iter().find(|(of, _)| of == path).map(|(_, w)| *w).unwrap_or_default()
}

#[component]
pub fn Assumptions() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let all = Signal::new(move || {
        s.open.with(|o| o.as_ref().and_then(|o| o.case.as_ref()).map(assumed::list).unwrap_or_default())
    });
    let weights = RwSignal::new(Weights::new());
    // Each weight asks the planner a few times: one at a time, so that the page never waits for all of them, and none
    // while something moves.
    let round = StoredValue::new(0_u32);
    effect(move || {
        let list = all.get();
        s.open.track();
        place.rigged.track();
        round.update_value(|r| *r = r.wrapping_add(1));
        let now = round.get_value();
        set_timeout(move || weigh(s, place, weights, round, now, list), CALM);
    });
    let sorted = Signal::new(move || {
        let mut list = all.get();
        let weight = |a: &Assumption| weights.with(|w| weight_of(w, &a.path));
        unmire_model::order::sort_by(&mut list, |a, b| weight(b).total_cmp(&weight(a)));
        list
    });
    let count = move || {
        let n = all.with(Vec::len);
        s.words.with(|w| match n {
            0 => w.say("scene.assumed-none"),
            _ => w.fill("scene.assumed-n", &[("n", &n.to_string())]),
        })
    };
    let most = Signal::new(move || {
        let first = sorted.with(|l| l.first().map(|a| a.path.clone()));
        first.filter(|p| weights.with(|w| weight_of(w, p) > 0.0))
    });
    view! {
        <section aria-labelledby="assumed-title">
            <h2 id="assumed-title">{say("scene.assumed")}</h2>
            <p>{count}</p>
            <ol class="assumed"><For each=move || sorted.get() key=|a| (a.path.clone(), a.value.clone()) let:a><One a most/></For></ol>
        </section>
    }
}

fn weigh(
    s: crate::session::Session,
    place: Place,
    weights: RwSignal<Weights>,
    round: StoredValue<u32>,
    now: u32,
    mut left: Vec<Assumption>,
) {
    // A screen that is gone weighs nothing, nor one on which something has changed since.
    if round.try_get_value() != Some(now) {
        return;
    }
    let Some(a) = left.pop() else { return };
    let weight = s.open.with_untracked(|o| {
        let o = o.as_ref()?;
        let case = o.case.as_ref()?;
        Some(place.rigged.with_untracked(|r| assumed::weight(case, &o.kits, r.as_ref(), &a)))
    });
    weights.update(|w| {
        w.retain(|(path, _)| *path != a.path);
        w.push((a.path, weight.unwrap_or_default()));
    });
    set_timeout(move || weigh(s, place, weights, round, now, left), Duration::ZERO);
}

#[component]
fn One(a: Assumption, most: Signal<Option<String>>) -> impl IntoView {
    let s = session();
    let open = RwSignal::new(false);
    let Assumption { path, value, why } = a;
    let key = path.rsplit('.').next().unwrap_or_default().to_owned();
    // Whose it is, where there are several.
    let whose = path.rsplit_once('.').map(|(table, _)| table.to_owned()).filter(|t| t.ends_with(']'));
    let whose = whose.and_then(|t| untrack(|| s.at(&format!("{t}.id"))));
    let name = Signal::new(move || {
        let own = s.translate("at", &key);
        whose.as_ref().map_or_else(|| own.clone(), |id| format!("{own} ({id})"))
    });
    let label = Signal::new(move || s.fill("scene.measured", &[("what", &name.get())]));
    let button = move || format!("{}: {}", s.say("scene.replace"), name.get());
    let why = move || s.fill("scene.assumed-why", &[("why", &why)]);
    let (is_most, field, put_at) = (path.clone(), path.clone(), path);
    let put = Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
        try_edit(s, |c| match put_at.as_str() {
            "stuck.depth" => assumed::set_depth(c, text.trim()),
            path => c.set(path, text.trim()),
        })
    });
    let shown = value.clone();
    view! {
        <li>
            <div class="what">
                <Show when=move || most.get().as_deref() == Some(is_most.as_str())><p class="most"><span aria-hidden="true">"▲ "</span>{say("scene.most")}</p></Show>
                <b>{name}</b>" "<span lang="en">{value}</span>
                <span class="small">{why}</span>
            </div>
            <button type="button" class="plain" aria-label=button aria-expanded=move || open.get().to_string()
                on:click=move |_| open.update(|o| *o = !*o)>{say("scene.replace")}</button>
            {move || open.get().then(|| view! {
                <Field label apart="measured-" path=field.clone() value=Signal::new({ let v = shown.clone(); move || v.clone() }) put step=None
                    example=String::new()/>
            })}
        </li>
    }
}
