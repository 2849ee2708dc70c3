//! The plan to scale: what lies where, the rig that is looked at with its tensions, and everything that can be moved.

use super::handle::Handle;
use super::scene::Place;
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::scene::draw;
use crate::scene::place::Polar;
use crate::scene::rig::{self, Number, Rig};
use crate::scene::thing::{Thing, hangs_at};
use crate::scene::view::WIDTH;
use crate::session::{say, session};
use crate::units;
use unmire_model::Length;
use unmire_model::quantity::show;

/// A length in the reader's units.
pub fn length(u: Units, m: f64) -> String {
    show::Units::from(u).show_length(Length::from_m(m))
}
/// A place in words.
pub fn words(u: Units, at: Polar) -> String {
    format!("{}, {}, {}", length(u, at.distance_m), at.direction(), length(u, at.rise_m))
}

#[component]
pub fn PlanView() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let (canvas, head) = (place.moving.canvas, place.moving.head);
    let frame = move || place.view.get().map(|v| format!("0 0 {WIDTH} {}", v.height));
    let still = move || {
        let (view, reader) = (place.view.get()?, s.settings.get().units);
        place.case.with(|c| {
            let site = unmire_planner::site::of(c.as_ref()?);
            let far = length(reader, site.way_out_distance.as_m());
            let words = s.words.with(|w| draw::Words {
                way_out: w.fill("scene.way-out", &[("length", &far)]),
                downhill: w.say("scene.downhill"),
                level: w.say("scene.level"),
            });
            Some(draw::ground(&view, &site, &words, reader))
        })
    };
    let rig = Signal::new(move || {
        let reader = s.settings.get().units;
        let view = place.view.get().map(|v| v.seen_from(place.come()));
        view.and_then(|v| place.with_rig(|r| Rig::of(&v, &r.points, &r.legs, reader))).unwrap_or_default()
    });
    // It comes from the planner with the rig, and goes while something moves: then it is not known.
    let keep = Signal::new(move || {
        let word = s.say("scene.keep-clear");
        let drawn = |v| place.with_rig(|r| r.keep.as_ref().map(|k| draw::keep_clear(&v, &k.rings, &word)));
        place.view.get().and_then(drawn).flatten().unwrap_or_default()
    });
    let clear = move || {
        let u = s.settings.get().units;
        let (radius, rule) = place.with_rig(|r| {
            r.keep.as_ref().map(|k| (units::length_to_keep(u, Some(k.radius.as_m())), k.rule.clone()))
        })??;
        let radius = s.fill("brief.radius", &[("radius", &radius)]);
        Some(view! { <p><b>{say("brief.clear")}": "{radius}</b>" "<span class="small" lang="en">{rule}</span></p> })
    };
    // While something moves it is painted over the drawing, which follows when that rests.
    effect(move || {
        let now = place.moved.with(|m| m.as_ref().map(|m| (m.to, m.come())));
        let (Some((to, come)), Some(view)) = (now, place.view.get()) else { return place.moving.end() };
        let (at, seen, reader) = (view.spot(to), view.seen_from(come), s.settings.with(|s| s.units));
        place.now.with(|now| {
            let rig = now.as_ref().and_then(|now| now.as_ref().ok());
            let drawn = rig.map(|r| Rig::of(&seen, &r.points, &r.legs, reader)).unwrap_or_default();
            place.moving.paint(&drawn, at, Place::told(s, now.as_ref()));
        });
    });
    // What is told while something moves, for who can't see it: where that rests.
    let rests = Signal::new(move || {
        let moves = place.shown.with(Option::is_some);
        let told = moves.then(|| place.judged.with(|j| Place::told(s, j.as_ref()))).flatten()?;
        Some([told.first(), told.weakest, told.note].join(" "))
    });
    let count = Signal::new(move || rig.with(|r| r.numbers.len()));
    let numbers = move || (0..count.get()).collect::<Vec<usize>>();
    let number = move |i: usize| {
        let part = move |pick: fn(&Number) -> String| {
            Signal::new(move || rig.with(|r| r.numbers.get(i).map(pick)).unwrap_or_default())
        };
        let (x, y) = (part(|n| format!("{:.1}", n.at.0)), part(|n| format!("{:.1}", n.at.1)));
        let text = part(|n| n.text.clone());
        let class = part(|n| if n.middle { "tension middle" } else { "tension" }.to_owned());
        view! { <text class=class x=x y=y>{text}</text> }
    };
    let path = move |of: fn(&Rig) -> String| Signal::new(move || rig.with(of));
    let (legs, slings, marks) = (path(|r| rig::path(&r.legs)), path(|r| rig::path(&r.slings)), path(Rig::marks));
    let things = Signal::new(move || {
        let blocks = place.rigged.with(|r| {
            let hung = |l: &unmire_model::layout::Layout| {
                (0..l.stations.len()).filter(|i| hangs_at(l, *i).is_some()).map(Thing::Block).collect::<Vec<_>>()
            };
            r.as_ref().map(|r| hung(&r.layout)).unwrap_or_default()
        });
        place.case.with(|c| {
            let Some(c) = c else { return Vec::new() };
            let obstacles = c.obstacles.iter().map(|o| Thing::Obstacle(o.id.clone()));
            let helpers = c.helpers.iter().map(|h| Thing::Helper(h.vehicle.name.clone()));
            let anchors = c.anchors.iter().map(|a| Thing::Anchor(a.id.clone()));
            obstacles.chain([Thing::Vehicle]).chain(helpers).chain(blocks).chain(anchors).collect::<Vec<_>>()
        })
    });
    view! {
        <div class="board">
        <canvas class="head" node_ref=head aria-hidden="true"></canvas>
        <p class="unseen" role="status">{rests}</p>
        <svg class="plan" viewBox=frame role="group" aria-label=say("scene.plan-view")>
            <g aria-hidden="true" prop:innerHTML=keep></g>
            <g aria-hidden="true" prop:innerHTML=move || still().unwrap_or_default()></g>
            <g class="rig" aria-hidden="true">
                <path class="leg" d=legs/><path class="leg sling" d=slings/><path class="block" d=marks/><text class="tension"></text>
                <For each=numbers key=Clone::clone let:i>{number(i)}</For>
            </g>
            <For each=move || things.get() key=Clone::clone let:thing><Handle thing/></For>
        </svg>
        <canvas node_ref=canvas aria-hidden="true"></canvas>
        </div>
        <p class="small">{say("scene.hint")}</p>
        {clear}
    }
}
