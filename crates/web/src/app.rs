//! The shell of the page: what stays while screens change.

use crate::dom::prelude::*;
use crate::screen::Screen;
use crate::screens::{brief, kit, rigs, scene, settings, start};
use crate::session::{Session, say, session};
use crate::settings::Theme;
use crate::update::Update;

/// Puts the app into the page.
pub fn mount() {
    std::panic::set_hook(Box::new(tell_fault));
    if let Some(boot) = document().get_element_by_id("boot") {
        boot.remove();
    }
    crate::dom::mount(|| view! { <App/> });
}

/// Says that the app has met a fault of its own. Nothing runs any more but this.
fn tell_fault(fault: &std::panic::PanicHookInfo<'_>) {
    let (Some(body), Ok(place)) = (document().body(), document().create_element("p")) else { return };
    let _ = place.set_attribute("role", "alert");
    place.set_class_name("fault");
    place.set_text_content(Some(&format!(
        "unmire has met a fault of its own and stopped. What was kept is still there: reload the page. · unmire ist auf einen \
         eigenen Fehler gestoßen und steht. Was behalten wurde, ist noch da: Lade die Seite neu. · {fault}"
    )));
    let _ = body.prepend_with_node_1(&place);
}

/// Says to whoever drives or measures the page that it can be used.
fn mark_ready() {
    if let Some(clock) = window().performance() {
        let _ = clock.mark("ready");
    }
    if let Some(root) = document().document_element() {
        let _ = root.set_attribute("data-ready", "yes");
    }
}

/// The whole app.
#[component]
fn App() -> impl IntoView {
    let s = Session::new();
    provide_context(s);
    provide_context(Update::start());
    let main = RwSignal::new(None::<web_sys::HtmlElement>);
    on_window("hashchange", move |_| {
        s.screen.set(Screen::by_address(&window().location().hash().unwrap_or_default()));
        window().scroll_to_with_x_and_y(0.0, 0.0);
        // Whoever listens to the page hears the new screen from its start.
        if let Some(main) = main.get_untracked() {
            let _ = main.focus();
        }
    });
    effect(move || {
        let (settings, screen) = (s.settings.get(), shown(s));
        let title = s.words.with(|w| format!("{} · unmire", w.translate("screen", screen.word())));
        document().set_title(&title);
        if let Some(root) = document().document_element() {
            let _ = root.set_attribute("lang", settings.language.code());
            let _ = match settings.theme {
                Theme::Auto => root.remove_attribute("data-theme"),
                theme => root.set_attribute("data-theme", theme.word()),
            };
        }
    });
    spawn_local(async move {
        s.start().await;
        mark_ready();
    });
    let screen = Signal::new(move || shown(s));
    view! {
        <a class="skip" href="#content" on:click=move |e| {
            // The address belongs to the screens.
            e.prevent_default();
            if let Some(main) = main.get_untracked() {
                let _ = main.focus();
            }
        }>{say("shell.skip")}</a>
        <Notices/>
        <main id="content" tabindex="-1" node_ref=main>
            {move || match screen.get() {
                Screen::Start => start::Start().into_any(),
                Screen::Scene => scene::Scene().into_any(),
                Screen::Kit => kit::Kit().into_any(),
                Screen::Rigs => rigs::Rigs().into_any(),
                Screen::Brief => brief::Brief().into_any(),
                Screen::Settings => settings::Settings().into_any(),
            }}
        </main>
        <Ways/>
    }
}

/// The screen that can be shown: one about a case needs one.
fn shown(s: Session) -> Screen {
    let screen = s.screen.get();
    if screen.needs_case() && s.open.with(Option::is_none) { Screen::Start } else { screen }
}

/// The ways to the screens.
#[component]
fn Ways() -> impl IntoView {
    let s = session();
    let way = move |screen: Screen| {
        let current = move || (shown(s) == screen).then_some("page");
        let name = move || s.translate("screen", screen.word());
        let there = move || !screen.needs_case() || s.open.with(Option::is_some);
        view! { <Show when=there><li><a href=screen.address() aria-current=current>{name}</a></li></Show> }
    };
    view! { <nav aria-label=say("shell.ways")><ul>{Screen::ALL.map(way).collect_view()}</ul></nav> }
}

/// What the reader is told whatever the screen.
#[component]
fn Notices() -> impl IntoView {
    let (s, update) = (session(), expect_context::<Update>());
    view! {
        <div class="notices" role="status">
            <Show when=move || update.waits.get()>
                <p class="notice">
                    <span>{say("shell.new-version")}</span>
                    <button on:click=move |_| update.take()>{say("shell.reload")}</button>
                </p>
            </Show>
            <Show when=move || s.forgetful.get()><p class="notice">{say("shell.forgetful")}</p></Show>
            {move || s.unkept.get().map(|why| view! { <p class="notice">{say("shell.unkept")}" "{why}</p> })}
        </div>
    }
}
