//! The first minute: the gate, then the questions of `unmire new` one at a time, then a case with its first rig.

use super::pictures;
use super::sensor::Sensor;
use crate::dom::prelude::*;
use crate::scene::place::Polar;
use crate::scene::question;
use crate::screen::Screen;
use crate::session::{Session, say, session, term};
use std::collections::BTreeMap;
use unmire_casefile::keys::case::DEPTH;
use unmire_casefile::{Question, case_from_answers, questions};

/// Where answers are kept until they make a case: a reload or a look at another screen loses none.
const KEPT: &str = "unmire.answers";

/// How far somebody is: none before the gate is passed, then which question; and the answers so far.
#[derive(Clone, Copy)]
pub struct Progress {
    at: RwSignal<Option<usize>>,
    answers: RwSignal<BTreeMap<String, String>>,
}
impl Progress {
    /// As it was left.
    pub fn new() -> Self {
        let kept = storage().and_then(|st| st.get_item(KEPT).ok()?);
        let (at, answers) = kept
            .and_then(|text| crate::tree::read::<(Option<usize>, BTreeMap<String, String>)>(&text).ok())
            .filter(|(at, _)| at.is_none_or(|n| n < questions().len()))
            .unwrap_or_default();
        Self { at: RwSignal::new(at), answers: RwSignal::new(answers) }
    }
    /// Whether the questions have begun.
    pub fn begun(self) -> bool {
        self.at.with(Option::is_some)
    }
    fn go(self, at: Option<usize>) {
        self.at.set(at);
        let text = serde_json::to_string(&(at, self.answers.get_untracked())).unwrap_or_default();
        if let Some(st) = storage() {
            // Where nothing may be kept the answers live as long as the page.
            let _ = st.set_item(KEPT, &text);
        }
    }
    fn forget(self) {
        self.answers.set(BTreeMap::new());
        self.at.set(None);
        if let Some(st) = storage() {
            let _ = st.remove_item(KEPT);
        }
    }
}

fn storage() -> Option<web_sys::Storage> {
    window().local_storage().ok()?
}

/// The short gate before everything else: nothing is asked before each line is ticked.
#[component]
pub fn Gate(progress: Progress) -> impl IntoView {
    let s = session();
    let ticked = RwSignal::new(Vec::<&'static str>::new());
    let open = RwSignal::new(None::<usize>);
    let items = unmire_planner::steps::gate();
    let all = items.len();
    let begin = move |_| {
        let left = all - ticked.with(Vec::len);
        if left == 0 {
            progress.go(Some(0));
        } else {
            open.set(Some(left));
        }
    };
    let line = move |word: &'static str| {
        let text = term("gate", word);
        let tick = move |e| {
            let on = event_target_checked(&e);
            ticked.update(|t| {
                t.retain(|w| *w != word);
                if on {
                    t.push(word);
                }
            });
            open.set(None);
        };
        view! {
            <li><label class="option"><input type="checkbox" prop:checked=move || ticked.with(|t| t.contains(&word)) on:change=tick/>
                <span>{text}</span></label></li>
        }
    };
    view! {
        <section class="gate">
            <h2>{say("start.gate")}</h2>
            <p>{say("start.gate-about")}</p>
            <ul class="ticks">{items.into_iter().map(|i| line(i.word)).collect_view()}</ul>
            <div role="alert">{move || open.get().map(|n| view! {
                <p class="fault">{s.fill("start.gate-open", &[("n", &n.to_string())])}</p>
            })}</div>
            <p><button type="button" class="large" on:click=begin>{say("start.begin")}</button></p>
        </section>
    }
}

/// The question that it is the turn of.
#[component]
pub fn Questions(progress: Progress) -> impl IntoView {
    let at = Signal::new(move || progress.at.get().unwrap_or_default());
    move || questions().get(at.get()).copied().map(|q| view! { <Ask progress q n=at.get_untracked()/> })
}

#[component]
fn Ask(progress: Progress, q: Question, n: usize) -> impl IntoView {
    let s = session();
    let of = questions().len();
    let answer = RwSignal::new(progress.answers.with_untracked(|a| a.get(q.id).cloned()).unwrap_or_default());
    let wrong = RwSignal::new(None::<String>);
    let words = move |part: &'static str| move || s.translate("question", &format!("{}{part}", q.id));
    let unknown = move || s.fill("start.if-unknown", &[("what", &words("-unknown")())]);
    let count = move || s.fill("start.count", &[("n", &(n + 1).to_string()), ("of", &of.to_string())]);
    // Takes an answer and goes on; one that can't be used stays, with what is wrong with it.
    let take = move |text: String| {
        answer.set(text.clone());
        match q.check(&text) {
            Err(why) => wrong.set(Some(why)),
            Ok(()) => {
                progress.answers.update(|a| drop(a.insert(q.id.to_owned(), text)));
                if n + 1 < of {
                    progress.go(Some(next(progress, n)));
                } else if let Err(why) = finish(s, progress) {
                    wrong.set(Some(why));
                }
            }
        }
    };
    let back = move |_| match n {
        0 => progress.go(None),
        _ => progress.go(Some(before(progress, n))),
    };
    let heading = RwSignal::new(None::<web_sys::HtmlElement>);
    effect(move || {
        // Whoever listens hears each question from its start.
        if let Some(h) = heading.get() {
            let _ = h.focus();
        }
    });
    let typed = q.id != "depth";
    let last = n + 1 == of;
    view! {
        <section class="ask">
            <p class="small">{count}</p>
            <progress max=of value=n + 1 aria-label=count></progress>
            <h1 tabindex="-1" node_ref=heading>{words("")}</h1>
            {typed.then(|| view! { <p id="ask-help">{words("-help")}</p> })}
            {match q.id {
                "depth" => view! { <Depths take=Callback::new(take) chosen=None/> }.into_any(),
                "slope" => view! { <Slopes answer/> }.into_any(),
                "anchor" => view! { <Tree answer/> }.into_any(),
                "girth" => view! { <Signs answer/> }.into_any(),
                _ => ().into_any(),
            }}
            <form on:submit=move |e| { e.prevent_default(); take(answer.get_untracked()); }>
                {typed.then(|| view! {
                    <label class="field" for="answer"><b>{say("start.answer")}</b></label>
                    <input id="answer" type="text" class="large" autocomplete="off" autocapitalize="off" spellcheck="false"
                        prop:value=move || answer.get() aria-invalid=move || wrong.with(Option::is_some).to_string()
                        aria-describedby="ask-help answer-told"
                        on:input=move |e| { answer.set(event_target_value(&e)); wrong.set(None); }/>
                    <p class="small">{say("start.example")}": "<span lang="en">{q.example}</span></p>
                })}
                <div class="told" id="answer-told" role="alert" lang="en">{move || wrong.get().map(|why| view! {
                    <p><span aria-hidden="true">"✗ "</span>{why}</p>
                })}</div>
                <p class="buttons">
                    {typed.then(|| view! {
                        <button type="submit" class="large">{move || s.words.with(|w| if last { w.say("start.finish") } else { w.say("start.next") })}</button>
                    })}
                    {matches!(q.id, "anchor" | "winch" | "pieces").then(|| view! {
                        <button type="button" class="large plain" on:click=move |_| take("none".to_owned())>{say("start.none")}</button>
                    })}
                    <button type="button" class="large plain" on:click=move |_| take(String::new())>{say("start.unknown")}</button>
                </p>
            </form>
            <p class="small">{unknown}</p>
            <p class="buttons">
                <button type="button" class="quiet" on:click=back>{say("start.back")}</button>
                <button type="button" class="quiet" on:click=move |_| progress.forget()>{say("start.stop")}</button>
            </p>
        </section>
    }
}

/// Whether a question is asked: not for the girth of a tree that isn't there, nor for the line of no winch.
fn asked(progress: Progress, n: usize) -> bool {
    let none = |id: &str| progress.answers.with_untracked(|a| a.get(id).is_some_and(|t| t == "none"));
    let empty = |id: &str| progress.answers.with_untracked(|a| a.get(id).is_none_or(String::is_empty));
    match questions().get(n).map(|q| q.id) {
        Some("girth") => !none("anchor") && !empty("anchor"),
        Some("line") => !none("winch"),
        _ => true,
    }
}
fn next(progress: Progress, n: usize) -> usize {
    (n + 1..questions().len()).find(|n| asked(progress, *n)).unwrap_or(n)
}
fn before(progress: Progress, n: usize) -> usize {
    (0..n).rev().find(|n| asked(progress, *n)).unwrap_or(0)
}

/// Makes the case and shows the place with its first rig.
fn finish(s: Session, progress: Progress) -> Result<(), String> {
    let mut answers = progress.answers.get_untracked();
    for (n, q) in questions().iter().enumerate() {
        if !asked(progress, n) {
            answers.remove(q.id);
        }
    }
    let text =
        case_from_answers(&answers).map_err(|all| all.into_iter().map(|e| e.message).collect::<Vec<_>>().join("\n"))?;
    progress.forget();
    s.open_text(None, "case.toml", text, Vec::new());
    s.go(Screen::Scene);
    Ok(())
}

/// How deep it is in, by pictures and words.
#[component]
pub fn Depths(take: Callback<String>, chosen: Option<Signal<Option<String>>>) -> impl IntoView {
    let one = move |word: &'static str| {
        let name = term("depth", word);
        let pressed = move || chosen.map(|c| (c.get().as_deref() == Some(word)).to_string());
        view! {
            <button type="button" class="pictured" aria-pressed=pressed on:click=move |_| take.run(word.to_owned())>
                <pictures::Depth word/><span>{name}</span>
            </button>
        }
    };
    view! { <div class="pictures">{DEPTH.iter().map(|w| one(w)).collect_view()}</div> }
}

/// One number by steps.
#[component]
pub fn Steps(label: Signal<String>, shown: Signal<String>, by: Callback<f64>) -> impl IntoView {
    let s = session();
    let button = move |key: &'static str, sign: &'static str, n: f64| {
        let name = move || s.words.with(|w| w.translate("control", key).replace("{what}", &label.get()));
        view! { <button type="button" class="step" aria-label=name on:click=move |_| by.run(n)>{sign}</button> }
    };
    view! {
        <div class="value" role="group" aria-label=label>
            <span>{label}</span>
            <div class="stepped">{button("less", "−", -1.0)}<output>{shown}</output>{button("more", "+", 1.0)}</div>
        </div>
    }
}

/// Both slopes by steps or from the device.
#[component]
fn Slopes(answer: RwSignal<String>) -> impl IntoView {
    let slopes = RwSignal::new((0.0, 0.0));
    let put = move |new: (f64, f64)| {
        let new = (new.0.clamp(-45.0, 45.0), new.1.clamp(-45.0, 45.0));
        slopes.set(new);
        answer.set(question::slope(new.0, new.1));
    };
    let along = Signal::new(move || slopes.get().0);
    let across = Signal::new(move || slopes.get().1);
    let part = move |i: usize| {
        move || question::slope(along.get(), across.get()).split(", ").nth(i).unwrap_or_default().to_owned()
    };
    view! {
        <div class="steps">
            <div><pictures::Slope degrees=along across=false/>
                <Steps label=Signal::new(say("start.along")) shown=Signal::new(part(0))
                    by=Callback::new(move |n: f64| { let (a, b) = slopes.get_untracked(); put((a + n, b)); })/></div>
            <div><pictures::Slope degrees=across across=true/>
                <Steps label=Signal::new(say("start.across")) shown=Signal::new(part(1))
                    by=Callback::new(move |n: f64| { let (a, b) = slopes.get_untracked(); put((a, b + n)); })/></div>
        </div>
        <Sensor take=Callback::new(put)/>
    }
}

/// Where the tree stands, by steps.
#[component]
fn Tree(answer: RwSignal<String>) -> impl IntoView {
    let at = RwSignal::new(Polar { distance_m: 15.0, left_deg: 0.0, rise_m: 0.0 });
    let step = move |d: f64, a: f64, r: f64| {
        at.update(|p| *p = p.moved(d, a, r));
        let p = at.get_untracked();
        answer.set(question::tree(p.distance_m, p.left_deg, p.rise_m));
    };
    let metres = |m: f64| format!("{m} m");
    view! {
        <div class="steps">
            <Steps label=Signal::new(say("start.distance")) shown=Signal::new(move || metres(at.get().distance_m))
                by=Callback::new(move |n: f64| step(n, 0.0, 0.0))/>
            <Steps label=Signal::new(say("start.direction")) shown=Signal::new(move || at.get().direction())
                by=Callback::new(move |n: f64| step(0.0, -5.0 * n, 0.0))/>
            <Steps label=Signal::new(say("start.rise")) shown=Signal::new(move || metres(at.get().rise_m))
                by=Callback::new(move |n: f64| step(0.0, 0.0, 0.5 * n))/>
        </div>
    }
}

/// What was seen of the tree, behind its girth.
#[component]
fn Signs(answer: RwSignal<String>) -> impl IntoView {
    let put = move |what: &str| {
        answer.update(|a| {
            let girth = a.split(';').next().unwrap_or_default().trim().to_owned();
            let girth = if girth.is_empty() { "?".to_owned() } else { girth };
            *a = format!("{girth}; {what}");
        });
    };
    view! {
        <p class="buttons">
            <button type="button" class="plain" on:click=move |_| put("no signs")>{say("start.no-signs")}</button>
            <button type="button" class="plain" on:click=move |_| put("not looked")>{say("start.not-looked")}</button>
        </p>
    }
}
