//! Language, units, look; and whether the app is kept on this device.

use crate::catalogue::Language;
use crate::dom::prelude::*;
use crate::engine::Units;
use crate::session::{say, session};
use crate::settings::{Theme, units_by_word, units_word};
use crate::update::Update;

#[component]
pub fn Settings() -> impl IntoView {
    let (s, update) = (session(), expect_context::<Update>());
    let kept = move || {
        s.words.with(|w| if update.kept.get() { w.say("settings.offline-yes") } else { w.say("settings.offline-no") })
    };
    view! {
        <header class="head"><h1>{say("settings.title")}</h1></header>
        <Choice group="language" title=Signal::new(say("settings.language"))
            options=Language::ALL.map(|l| (l.code(), Signal::new(move || l.name().to_owned()))).to_vec()
            chosen=Signal::new(move || s.settings.get().language.code())
            choose=Callback::new(move |word| s.set(|x| x.language = Language::by_tag(word).unwrap_or_default()))/>
        <Choice group="units" title=Signal::new(say("settings.units"))
            options=vec![("metric", Signal::new(say("settings.metric"))), ("us", Signal::new(say("settings.us")))]
            chosen=Signal::new(move || units_word(s.settings.get().units))
            choose=Callback::new(move |word| s.set(|x| x.units = units_by_word(word).unwrap_or(Units::Metric)))/>
        <Choice group="theme" title=Signal::new(say("settings.theme"))
            options=vec![
                ("auto", Signal::new(say("settings.auto"))), ("light", Signal::new(say("settings.light"))),
                ("dark", Signal::new(say("settings.dark"))), ("sun", Signal::new(say("settings.sun"))),
            ]
            chosen=Signal::new(move || s.settings.get().theme.word())
            choose=Callback::new(move |word| s.set(|x| x.theme = Theme::by_word(word).unwrap_or_default()))/>
        <section><h2>{say("settings.offline")}</h2><p role="status">{kept}</p></section>
        <section><h2>{say("settings.about")}</h2><p>{say("settings.limits")}</p><p class="small">{env!("CARGO_PKG_VERSION")}</p></section>
    }
}

/// A choice of one among few.
#[component]
fn Choice(
    group: &'static str,
    title: Signal<String>,
    options: Vec<(&'static str, Signal<String>)>,
    chosen: Signal<&'static str>,
    choose: Callback<&'static str>,
) -> impl IntoView {
    let option = move |(word, name): (&'static str, Signal<String>)| {
        view! {
            <label class="option">
                <input type="radio" name=group value=word prop:checked=move || chosen.get() == word on:change=move |_| choose.run(word)/>
                <span>{name}</span>
            </label>
        }
    };
    view! { <fieldset><legend>{title}</legend><div class="options">{options.into_iter().map(option).collect_view()}</div></fieldset> }
}
