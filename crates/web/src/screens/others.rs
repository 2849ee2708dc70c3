//! What else stands there, beside the drawing: the stuck vehicle, helpers, obstacles, and the blocks of the rig.

use super::anchors::{Spot, step_m};
use super::controls::{Field, Looked, try_edit};
use super::plan_view::length;
use super::scene::Place;
use super::sensor::Compass;
use crate::document::Complaint;
use crate::dom::prelude::*;
use crate::scene::thing::{self, Moved, Thing, index_of};
use crate::session::{Session, say, session, term};
use unmire_casefile::keys::case::{BARS, NORTH};
use unmire_model::quantity::text::read_one;
use unmire_model::{Length, Vec3};

/// What can be added here.
const ADDED: [&str; 2] = ["helper", "obstacle"];

#[component]
pub fn Others() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let all = Signal::new(move || {
        let blocks = place.rigged.with(|r| {
            let n = r.as_ref().map_or(0, |r| r.layout.stations.len());
            (0..n).filter(|i| place.block(*i).is_some()).map(Thing::Block).collect::<Vec<_>>()
        });
        place.case.with(|c| {
            let helpers = c.iter().flat_map(|c| c.helpers.iter().map(|h| Thing::Helper(h.vehicle.name.clone())));
            let obstacles = c.iter().flat_map(|c| c.obstacles.iter().map(|o| Thing::Obstacle(o.id.clone())));
            [Thing::Vehicle].into_iter().chain(helpers).chain(obstacles).chain(blocks).collect::<Vec<_>>()
        })
    });
    let title = move |t: &Thing| match t {
        Thing::Vehicle => place.case.with(|c| c.as_ref().map(|c| c.vehicle.name.clone())).unwrap_or_default(),
        Thing::Block(i) => place.block(*i).map(|(id, _)| id).unwrap_or_default(),
        Thing::Helper(id) | Thing::Obstacle(id) | Thing::Anchor(id) => id.clone(),
    };
    let chosen = Signal::new(move || {
        let wanted = place.other.get();
        if all.with(|a| a.contains(&wanted)) { wanted } else { Thing::Vehicle }
    });
    let kind = RwSignal::new(ADDED[0].to_owned());
    let add =
        move |_| {
            let what = s.words.with_untracked(|w| w.say("scene.new-obstacle"));
            let helper = kind.get_untracked() == ADDED[0];
            let done = try_edit(s, |c| {
                if helper { thing::add_helper(c).map(drop) } else { thing::add_obstacle(c, &what).map(drop) }
            });
            if done.is_ok() {
                let last = place.case.with_untracked(|c| {
                    let c = c.as_ref()?;
                    if helper {
                        c.helpers.last().map(|h| Thing::Helper(h.vehicle.name.clone()))
                    } else {
                        c.obstacles.last().map(|o| Thing::Obstacle(o.id.clone()))
                    }
                });
                place.other.set(last.unwrap_or(Thing::Vehicle));
            }
        };
    view! {
        <section aria-labelledby="others-title">
            <h2 id="others-title">{say("scene.others")}</h2>
            <p class="buttons"><For each=move || all.get() key=Clone::clone let:t>{
                let (mine, name) = (t.clone(), title(&t));
                let pressed = move || (chosen.get() == mine).to_string();
                view! { <button type="button" class="plain pick" aria-pressed=pressed lang="en"
                    on:click=move |_| place.other.set(t.clone())>{name}</button> }
            }</For></p>
            {move || match chosen.get() {
                Thing::Vehicle => view! { <Vehicle/> },
                Thing::Helper(id) => view! { <Helper id/> },
                Thing::Obstacle(id) => view! { <Obstacle id/> },
                Thing::Block(station) => view! { <Block station/> },
                Thing::Anchor(_) => ().into_view(),
            }}
            <div class="add">
                <label for="add-other">{say("scene.add-other")}</label>
                <div class="stepped">
                    <select id="add-other" on:change=move |e| kind.set(event_target_value(&e))>
                        {ADDED.iter().map(|k| view! {
                            <option value=*k>{term("thing", k)}</option>
                        }).collect_view()}
                    </select>
                    <button type="button" aria-label=say("scene.add-other-now") on:click=add>{say("scene.add")}</button>
                </div>
            </div>
        </section>
    }
}

/// A value of the document that is typed.
#[component]
fn Plain(
    /// Its word in the catalogue.
    word: &'static str,
    /// Where it stands.
    path: String,
    /// An example.
    example: &'static str,
) -> impl IntoView {
    let s = session();
    let at = StoredValue::new(path.clone());
    let label = Signal::new(term("thing", word));
    let value = Signal::new(move || s.at(&at.get_value()).unwrap_or_default());
    let put = Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
        try_edit(s, |c| match text.trim() {
            "" => {
                c.remove(&at.get_value());
                Ok(())
            }
            text => c.set(&at.get_value(), text),
        })
    });
    view! { <Field label path value put step=None apart="" example=example.to_owned()/> }
}

/// How far something was moved, typed or by steps: ahead and to the left.
#[component]
fn Offset(thing: Thing) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    // The vehicle is where all is measured from, so its way is told from where it stood when this was opened.
    let gone = StoredValue::new(Vec3::ZERO);
    let seen = RwSignal::new(0_u32);
    let vehicle = thing == Thing::Vehicle;
    let which = if vehicle { "vehicle" } else { "obstacle" };
    let thing = StoredValue::new(thing);
    let now = move || {
        seen.track();
        let at = place.drawn(&thing.get_value()).unwrap_or(Vec3::ZERO);
        if vehicle { gone.get_value() + at } else { at }
    };
    let go = move |to: Vec3| -> Result<(), Vec<Complaint>> {
        let to = if vehicle { to - gone.get_value() } else { to };
        let moved = Moved { thing: thing.get_value(), to }.kept();
        let Some(case) = place.case.get_untracked() else { return Ok(()) };
        try_edit(s, |c| moved.write(&case, c))?;
        if vehicle {
            gone.update_value(|g| *g += moved.to);
            seen.update(|n| *n += 1);
        }
        Ok(())
    };
    let field = move |word: &'static str, pick: fn(Vec3) -> f64, with: fn(Vec3, f64) -> Vec3| {
        let label = Signal::new(term("thing", word));
        let value = Signal::new(move || length(s.settings.get().units, pick(now())));
        let put = Callback::new(move |text: String| match read_one::<Length>(&text) {
            Ok(l) => go(with(untrack(now), l.as_m())),
            Err(e) => Err(vec![told(&e)]),
        });
        let step = Callback::new(move |n: f64| {
            let at = untrack(now);
            // Where it can't stand it stays.
            let _ = go(with(at, pick(at) + n * step_m(s.settings.get_untracked().units)));
        });
        view! { <Field label path=format!("{which}.{word}") value put step=Some(step) apart="" example="2 m".to_owned()/> }
    };
    view! {
        <div class="steps">
            {field("ahead", |v| v.x, |v, m| Vec3::new(m, v.y, v.z))}
            {field("left", |v| v.y, |v, m| Vec3::new(v.x, m, v.z))}
        </div>
    }
}

/// What is wrong with a typed length, as the reader of cases says it.
fn told(e: &unmire_model::quantity::text::TextError) -> Complaint {
    Complaint {
        path: String::new(),
        file: None,
        line: 0,
        column: 0,
        code: "bad-value".to_owned(),
        message: e.message.clone(),
        expected: e.expected.clone(),
        example: e.example.clone(),
        hint: e.hint.clone(),
        excerpt: String::new(),
    }
}

/// The stuck vehicle: where it stands, by which compass it lies, and its way out.
#[component]
fn Vehicle() -> impl IntoView {
    let s = session();
    let take = Callback::new(move |degrees: f64| -> Result<(), Vec<Complaint>> {
        try_edit(s, |c| {
            // A device's compass shows magnetic north, as far as anybody here can tell.
            if !c.has("survey.north") {
                c.set("survey.north", "magnetic")?;
            }
            c.set("survey.heading", format!("{degrees} deg"))
        })
    });
    let heading = Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
        try_edit(s, |c| {
            if !c.has("survey.north") {
                c.set("survey.north", "magnetic")?;
            }
            c.set("survey.heading", text.trim())
        })
    });
    let value = Signal::new(move || s.at("survey.heading").unwrap_or_default());
    let label = Signal::new(term("thing", "heading"));
    view! {
        <div class="card">
            <p class="small">{say("scene.vehicle-how")}</p>
            <Offset thing=Thing::Vehicle/>
            <Field label path="survey.heading".to_owned() value put=heading step=None apart="" example="310 deg".to_owned()/>
            <Choice word="north" path="survey.north".to_owned() words=NORTH/>
            <Compass take/>
            <div class="steps">
                <Plain word="way-out" path="way_out.direction".to_owned() example="ahead"/>
                <Plain word="way-out-distance" path="way_out.distance".to_owned() example="6 m .. 10 m"/>
            </div>
        </div>
    }
}

/// A word out of a few.
#[component]
fn Choice(word: &'static str, path: String, words: &'static [&'static str]) -> impl IntoView {
    let s = session();
    let id = super::controls::id_of(&path);
    let at = StoredValue::new(path);
    let now = Signal::new(move || s.at(&at.get_value()));
    let put = move |e| {
        let word = event_target_value(&e);
        // Every word of the list can be put in.
        let _ = try_edit(s, |c| c.set(&at.get_value(), word));
    };
    view! {
        <div class="value">
            <label for=id.clone()>{term("thing", word)}</label>
            <select id=id on:change=put>
                {move || now.get().is_none().then(|| view! { <option value="" selected=true>"–"</option> })}
                {words.iter().map(|k| view! {
                    <option value=*k selected=move || { now.get().as_deref() == Some(*k) }>{term("thing", k)}</option>
                }).collect_view()}
            </select>
        </div>
    }
}

fn removed(s: Session, place: Place, table: String) {
    // A rig of the case's own that hangs on it is then told to name what isn't there.
    let _ = s.edit(|c| {
        c.remove(&table);
        Ok(())
    });
    place.other.set(Thing::Vehicle);
}

/// A helper's vehicle.
#[component]
fn Helper(id: String) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let i = s.open.with_untracked(|o| index_of(o.as_ref()?.case.as_ref()?, "helper", "name", &id)).unwrap_or_default();
    let table = format!("helper[{i}]");
    let path = |key: &str| format!("{table}.{key}");
    let flag = move |word: &'static str| Signal::new(term("thing", word));
    let name = {
        let id = id.clone();
        move || s.fill("scene.remove", &[("id", &id)])
    };
    let gone = table.clone();
    view! {
        <div class="card">
            <h3 lang="en">{id.clone()}</h3>
            <Spot thing=Thing::Helper(id) table=table.clone()/>
            <div class="steps">
                <Plain word="nose" path=path("heading") example="back"/>
                <Plain word="mass" path=path("mass") example="2.8 t .. 2.9 t"/>
                <Plain word="slope" path=path("slope") example="5 deg nose down"/>
                <Plain word="braked" path=path("braked_share") example="40 % .. 100 %"/>
                <Plain word="friction" path=path("friction") example="0.3 .. 0.4"/>
            </div>
            <Looked label=flag("chocked") path=path("chocked") sure=false/>
            <Looked label=flag("can-tow") path=path("can_tow") sure=true/>
            <p class="buttons"><button type="button" class="quiet" on:click=move |_| removed(s, place, gone.clone())>{name}</button></p>
        </div>
    }
}

/// Ground that no line may cross.
#[component]
fn Obstacle(id: String) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let i = s.open.with_untracked(|o| index_of(o.as_ref()?.case.as_ref()?, "obstacle", "id", &id)).unwrap_or_default();
    let table = format!("obstacle[{i}]");
    let path = |key: &str| format!("{table}.{key}");
    let (outline, mine) = (StoredValue::new(path("outline")), StoredValue::new(id.clone()));
    let corners = Signal::new(move || {
        place
            .case
            .with(|c| {
                let o = c.as_ref()?.obstacles.iter().find(|o| o.id == mine.get_value())?;
                Some(thing::corners_text(&o.outline))
            })
            .unwrap_or_default()
    });
    let put = Callback::new(move |text: String| -> Result<(), Vec<Complaint>> {
        try_edit(s, |c| c.set(&outline.get_value(), thing::corners(&text)))
    });
    let label = Signal::new(term("thing", "corners"));
    let name = move || s.fill("scene.remove", &[("id", &mine.get_value())]);
    let gone = table.clone();
    view! {
        <div class="card">
            <h3 lang="en">{id.clone()}</h3>
            <Offset thing=Thing::Obstacle(id)/>
            <Plain word="what" path=path("what") example="a gully with a stream"/>
            <Choice word="bars" path=path("bars") words=BARS/>
            <Field label path=path("outline") value=corners put step=None apart=""
                example="3, -6; 23, -6; 23, -9".to_owned()/>
            <p class="buttons"><button type="button" class="quiet" on:click=move |_| removed(s, place, gone.clone())>{name}</button></p>
        </div>
    }
}

/// A block: at which anchor it hangs.
#[component]
fn Block(station: usize) -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let now = Signal::new(move || place.block(station).map(|(_, anchor)| anchor));
    let ids = place.case.with_untracked(|c| {
        c.as_ref().map(|c| c.anchors.iter().map(|a| a.id.clone()).collect::<Vec<_>>()).unwrap_or_default()
    });
    view! {
        <div class="card">
            <div class="value">
                <label for="hangs-at">{say("scene.hangs-at")}</label>
                <select id="hangs-at" on:change=move |e| place.hang(s, station, &event_target_value(&e))>
                    {ids.into_iter().map(|id| {
                        let mine = id.clone();
                        view! { <option value=id.clone() selected=move || { now.get().as_ref() == Some(&mine) }>{id.clone()}</option> }
                    }).collect_view()}
                </select>
            </div>
        </div>
    }
}
