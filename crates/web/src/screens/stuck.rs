//! How it is stuck, in pictures and plain words, one question at a time.

use super::controls::{Looked, Turns, try_edit};
use super::first::{Depths, Steps};
use super::pictures;
use super::scene::Place;
use super::sensor::Sensor;
use crate::dom::prelude::*;
use crate::scene::assumed;
use crate::scene::question;
use crate::session::{say, session, term};

/// How many questions there are.
const OF: usize = 4;

#[component]
pub fn Stuck() -> impl IntoView {
    let at = RwSignal::new(0_usize);
    view! {
        <section aria-labelledby="stuck-title">
            <h2 id="stuck-title">{say("scene.stuck")}</h2>
            {move || match at.get() {
                0 => view! { <HowDeep/> }.into_any(),
                1 => view! { <Looked label=Signal::new(say("scene.belly")) path="stuck.bellied".to_owned() sure=true/> }.into_any(),
                2 => view! { <Looked label=Signal::new(say("scene.wet")) path="ground.saturated".to_owned() sure=true/> }.into_any(),
                _ => view! { <Slopes/> }.into_any(),
            }}
            <Turns at of=OF/>
        </section>
    }
}

#[component]
fn HowDeep() -> impl IntoView {
    let s = session();
    let depth = Signal::new(move || s.at("stuck.depth"));
    let take = Callback::new(move |word: String| {
        // Every word of the list can be put in.
        let _ = try_edit(s, |c| assumed::set_depth(c, &word));
    });
    view! { <h3>{term("question", "depth")}</h3><Depths take chosen=Some(depth)/> }
}

#[component]
fn Slopes() -> impl IntoView {
    let (s, place) = (session(), expect_context::<Place>());
    let slopes = Signal::new(move || {
        let half = |d: f64| libm::round(d * 2.0) / 2.0;
        place.case.with(|c| {
            c.as_ref().map_or((0.0, 0.0), |c| {
                (half(c.way_out.grade.value.likely().as_deg()), half(c.way_out.side_slope.value.as_deg()))
            })
        })
    });
    let put = move |new: (f64, f64)| {
        let old = slopes.get_untracked();
        let words = question::slope(new.0, new.1);
        let (along, across) = words.split_once(", ").unwrap_or((words.as_str(), "level"));
        // Steeper than a case may be it stays as it was.
        let _ = try_edit(s, |c| {
            if new.0 != old.0 {
                c.set("way_out.grade", along)?;
            }
            if new.1 != old.1 { c.set("way_out.side_slope", across) } else { Ok(()) }
        });
    };
    let (along, across) = (Signal::new(move || slopes.get().0), Signal::new(move || slopes.get().1));
    let part = move |i: usize| {
        Signal::new(move || {
            question::slope(along.get(), across.get()).split(", ").nth(i).unwrap_or_default().to_owned()
        })
    };
    view! {
        <h3>{say("scene.slopes")}</h3>
        <div class="steps">
            <div><pictures::Slope degrees=along across=false/>
                <Steps label=Signal::new(say("start.along")) shown=part(0)
                    by=Callback::new(move |n: f64| { let (a, b) = slopes.get_untracked(); put((a + n, b)); })/></div>
            <div><pictures::Slope degrees=across across=true/>
                <Steps label=Signal::new(say("start.across")) shown=part(1)
                    by=Callback::new(move |n: f64| { let (a, b) = slopes.get_untracked(); put((a, b + n)); })/></div>
        </div>
        <Sensor take=Callback::new(put)/>
    }
}
