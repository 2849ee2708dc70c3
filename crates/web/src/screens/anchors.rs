//! The anchors beside the drawing: place by steps or typed numbers, what each kind needs to be told, adding and removing.

use super::controls::{Field, Looked, try_edit};
use super::plan_view::length;
use super::scene::Place;
use super::sensor::Compass;
use crate::document::{CaseText, Complaint, EditError};
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::scene::place::{self, Polar};
use crate::scene::thing::{Moved, Thing, index_of};
use crate::session::{say, session, term};
use unmire_casefile::key::Kind;
use unmire_casefile::keys::anchor::ANCHOR_KINDS;
use unmire_casefile::{AnchorKey, keys_of_anchor};
use unmire_model::Length;

/// How far a step turns an anchor, degrees.
const TURN: f64 = 5.0;

/// A step in the reader's units: half a metre or a foot.
pub fn step_m(u: Units) -> f64 {
    match u {
        Units::Metric => super::handle::STEP_M,
        Units::Us => Length::from_foot(1.0).as_m(),
    }
}

#[component]
pub fn Anchors() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let ids = Signal::new(move || {
        s.open.with(|o| {
            let Some(case) = o.as_ref().and_then(|o| o.case.as_ref()) else { return Vec::new() };
            (0..case.count("anchor")).filter_map(|i| case.get(&format!("anchor[{i}].id"))).collect::<Vec<_>>()
        })
    });
    let kind = RwSignal::new("tree".to_owned());
    let add = move |_| {
        let kind = kind.get_untracked();
        let mut number = None;
        // What the new one lacks is told at its own fields.
        let done = s.edit(|c| {
            number = Some(place::add(c, &kind)?);
            Ok(())
        });
        if let (Ok(()), Some(i)) = (done, number) {
            let id = untrack(|| s.at(&format!("anchor[{i}].id")));
            place.selected.set(id);
        }
    };
    // The chosen one, or the first.
    let chosen = Signal::new(move || {
        let all = ids.get();
        place.selected.get().filter(|c| all.contains(c)).or_else(|| all.first().cloned())
    });
    view! {
        <section aria-labelledby="anchors-title">
            <h2 id="anchors-title">{say("scene.anchors")}</h2>
            <Show when=move || ids.with(Vec::is_empty)><p>{say("scene.none-yet")}</p></Show>
            <p class="buttons"><For each=move || ids.get() key=Clone::clone let:id>{
                let (mine, name) = (id.clone(), id.clone());
                let pressed = move || (chosen.get().as_ref() == Some(&mine)).to_string();
                view! { <button type="button" class="plain pick" aria-pressed=pressed
                    on:click=move |_| place.selected.set(Some(id.clone()))>{name}</button> }
            }</For></p>
            {move || chosen.get().map(|id| view! { <One id/> })}
            <div class="add">
                <label for="add-kind">{say("scene.kind")}</label>
                <div class="stepped">
                    <select id="add-kind" on:change=move |e| kind.set(event_target_value(&e))>
                        {ANCHOR_KINDS.iter().map(|k| view! {
                            <option value=*k>{term("kind", k)}</option>
                        }).collect_view()}
                    </select>
                    <button type="button" on:click=add>{say("scene.add")}</button>
                </div>
            </div>
        </section>
    }
}

type Put = fn(&mut CaseText, &str, Option<Polar>, &str) -> Result<(), EditError>;

/// Distance, direction and rise of an anchor or a helper, typed or by steps, and a bearing from the device.
#[component]
pub fn Spot(
    /// What it is.
    thing: Thing,
    /// Its table in the document.
    table: String,
) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let (thing, table) = (StoredValue::new(thing), StoredValue::new(table));
    let path = move |key: &str| format!("{}.{key}", table.get_value());
    let at = Signal::new(move || place.at(&thing.get_value()));
    let raw = move |key: &str| s.at(&path(key));
    let units = move || s.settings.get().units;
    // Paces and bearings stay as somebody took them; the rest is what the reader of the case made of it.
    let distance = Signal::new(move || match (raw("paces"), at.get()) {
        (Some(paces), _) if !place.rest.moving() => format!("{paces} paces"),
        (_, Some(p)) => length(units(), p.distance_m),
        (_, None) => raw("distance").unwrap_or_default(),
    });
    let direction_key = place::direction_key(&table.get_value());
    let direction = Signal::new(move || match (raw("bearing"), at.get()) {
        (Some(bearing), _) if !place.rest.moving() => bearing,
        (_, Some(p)) => p.direction(),
        (_, None) => raw(direction_key).unwrap_or_default(),
    });
    let rise =
        Signal::new(move || at.get().map_or_else(|| raw("rise").unwrap_or_default(), |p| length(units(), p.rise_m)));
    let typed = move |how: Put| {
        Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
            let now = at.get_untracked();
            try_edit(s, |c| how(c, &table.get_value(), now, &text))
        })
    };
    let step = move |d: f64, a: f64, r: f64| {
        Callback::new(move |n: f64| {
            if let Some(p) = at.get_untracked() {
                let m = step_m(s.settings.get_untracked().units);
                let to = p.moved(d * n * m, a * n, r * n * m).point();
                place.put(s, &Moved { thing: thing.get_value(), to }.kept());
            }
        })
    };
    let bearing = Callback::new(move |degrees: f64| -> Result<(), Vec<Complaint>> {
        let now = at.get_untracked();
        try_edit(s, |c| place::put_direction(c, &table.get_value(), now, &format!("{degrees} deg")))
    });
    view! {
        <div class="steps">
            <Field label=Signal::new(say("scene.distance")) path=path("distance") value=distance
                put=typed(place::put_distance) step=Some(step(1.0, 0.0, 0.0)) apart="" example="22 m".to_owned()/>
            <Field label=Signal::new(say("scene.direction")) path=path(direction_key) value=direction
                put=typed(place::put_direction) step=Some(step(0.0, -TURN, 0.0)) apart="" example="20 deg left".to_owned()/>
            <Field label=Signal::new(say("scene.rise")) path=path("rise") value=rise
                put=typed(place::put_rise) step=Some(step(0.0, 0.0, 1.0)) apart="" example="1 m".to_owned()/>
        </div>
        <Compass take=bearing/>
    }
}

/// One anchor.
#[component]
fn One(id: String) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let name = StoredValue::new(id);
    let number = |c: &CaseText| index_of(c, "anchor", "id", &name.get_value());
    let i = s.open.with_untracked(|o| number(o.as_ref()?.case.as_ref()?)).unwrap_or_default();
    let path = move |key: &str| format!("anchor[{i}].{key}");
    let units = move || s.settings.get().units;
    let kind = untrack(|| s.at(&format!("anchor[{i}].kind"))).unwrap_or_default();
    let keys = keys_of_anchor(&kind).unwrap_or_default();
    let (signs, others): (Vec<AnchorKey>, Vec<AnchorKey>) =
        keys.into_iter().partition(|k| k.within.is_some_and(|w| w.name == "signs"));
    // What must be told, and what is told first of a tree, stands open; the rest is one tap away.
    let (first, more): (Vec<AnchorKey>, Vec<AnchorKey>) =
        others.into_iter().partition(|k| k.required() || matches!(k.key.name, "girth" | "diameter" | "mass"));
    let round = move || {
        let r = place.case.with(|c| c.as_ref()?.anchor(&name.get_value())?.kind.radius())?;
        let l = length(units(), 2.0 * r.as_m());
        Some(s.fill("scene.round", &[("length", &l)]))
    };
    let heading = move || s.fill("scene.chosen", &[("id", &name.get_value())]);
    let plain_kind = {
        let kind = kind.clone();
        move || s.translate("kind", &kind)
    };
    let remove_name = move || s.fill("scene.remove", &[("id", &name.get_value())]);
    let remove = move |_| {
        // A rig of the case's own that hangs on it is then told to name what isn't there.
        let _ = s.edit(|c| {
            c.remove(&format!("anchor[{i}]"));
            Ok(())
        });
        place.selected.set(None);
    };
    view! {
        <div class="card">
            <h3>{heading}", "{plain_kind}</h3>
            <Spot thing=Thing::Anchor(name.get_value()) table=format!("anchor[{i}]")/>
            <div class="steps">{first.into_iter().map(|k| view! { <About anchor=i key=k/> }).collect_view()}</div>
            <p class="small">{round}</p>
            {signs.into_iter().map(|k| view! {
                <Looked label=Signal::new(move || s.translate("key", k.key.name)) path=path(&k.name()) sure=false/>
            }).collect_view()}
            <details><summary>{say("scene.more-keys")}</summary>
                <div class="steps">{more.into_iter().map(|k| view! { <About anchor=i key=k/> }).collect_view()}</div>
            </details>
            <p class="buttons"><button type="button" class="quiet" on:click=remove>{remove_name}</button></p>
        </div>
    }
}

/// One key of a kind of anchor.
#[component]
fn About(anchor: usize, key: AnchorKey) -> impl IntoView {
    let s = session();
    let path = format!("anchor[{anchor}].{}", key.name());
    let label = Signal::new(move || {
        s.words.with(|w| {
            let own = w.translate("key", key.key.name);
            key.within.map_or_else(|| own.clone(), |t| format!("{}: {own}", w.translate("key", t.name)))
        })
    });
    if matches!(key.key.kind, Kind::Flag) {
        return view! { <Looked label path sure=false/> }.into_any();
    }
    let at = StoredValue::new(path.clone());
    let value = Signal::new(move || {
        s.open
            .with(|o| {
                let case = o.as_ref()?.case.as_ref()?;
                let path = at.get_value();
                case.get(&path).or_else(|| Some(case.list(&path)?.join(", ")))
            })
            .unwrap_or_default()
    });
    let put = Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
        let path = at.get_value();
        let text = text.trim().to_owned();
        try_edit(s, |c| {
            if text.is_empty() {
                c.remove(&path);
                return Ok(());
            }
            // A girth that was taped takes the place of a diameter that was guessed, and the other way round.
            let other = match key.key.name {
                "girth" => Some("diameter"),
                "diameter" if key.within.is_none() => Some("girth"),
                _ => None,
            };
            if let Some(other) = other.map(|o| format!("anchor[{anchor}].{o}")).filter(|o| c.assumed(o).is_some()) {
                c.remove(&other);
            }
            match key.key.kind {
                Kind::Whole(..) => match text.parse::<i64>() {
                    Ok(n) => c.set(&path, n),
                    Err(_) => c.set(&path, text.as_str()),
                },
                Kind::Counts(..) => {
                    match text.split(',').map(|n| n.trim().parse::<i64>()).collect::<Result<Vec<_>, _>>() {
                        Ok(all) => c.set(&path, all.into_iter().collect::<crate::document::Raw>()),
                        Err(_) => c.set(&path, text.as_str()),
                    }
                }
                Kind::Ranges(..) => c.set(&path, text.split(',').map(str::trim).collect::<crate::document::Raw>()),
                _ => c.set(&path, text.as_str()),
            }
        })
    });
    let example = key.key.example.trim_matches(|c| "\"[]".contains(c)).replace('"', "");
    view! { <Field label path value put example step=None apart=""/> }.into_any()
}
