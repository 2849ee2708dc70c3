//! The bag: its pieces as cards, to be added, changed and taken out; whole bags kept, fetched, brought in.

mod whole;

use super::own::Own;
use super::parts::Complaints;
use crate::bag;
use crate::document::{CaseText, Complaint, EditError, complaints};
use crate::dom::prelude::*;
use crate::engine;
use crate::session::{Open, Session, say, session, term};
use crate::show;
use wasm_bindgen::JsCast as _;
use whole::Whole;

/// Where pieces stand: in the case itself, or in the kit file that it refers to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    Case,
    File,
}

/// A list of pieces that is being edited.
#[derive(Clone, Copy)]
pub(super) struct Bag {
    s: Session,
    place: Place,
    /// The document in which the pieces stand; none if it is not there or no TOML.
    pub(super) doc: Signal<Option<Same>>,
    /// What is wrong with that document.
    pub(super) wrong: Signal<Vec<Complaint>>,
    /// The one card that is open.
    pub(super) shown: RwSignal<Option<usize>>,
}

/// A document, compared by its text.
#[derive(Clone, Debug)]
pub(super) struct Same(pub(super) CaseText);
impl PartialEq for Same {
    fn eq(&self, other: &Self) -> bool {
        self.0.text() == other.0.text()
    }
}

/// Which of the files at hand a case means, as the planner takes it.
fn kit_index(o: &Open) -> Option<usize> {
    let path = o.case.as_ref()?.get("kit")?;
    engine::kit_index(&path, &o.kits)
}

impl Bag {
    fn new(s: Session, place: Place) -> Self {
        let text = Signal::new(move || {
            s.open.with(|o| {
                let o = o.as_ref()?;
                match place {
                    Place::Case => Some(o.text.clone()),
                    Place::File => kit_index(o).and_then(|i| o.kits.get(i)).map(|(_, text)| text.clone()),
                }
            })
        });
        let wrong = Signal::new(move || match place {
            Place::Case => s.complaints.get(),
            Place::File => text
                .get()
                .and_then(|t| engine::read(&t, &[]).err().map(|found| complaints(&t, &found)))
                .unwrap_or_default(),
        });
        let doc = Signal::new(move || text.get().and_then(|t| CaseText::parse(&t).ok()).map(Same));
        Self { s, place, doc, wrong, shown: RwSignal::new(None) }
    }
    /// Something of the document, followed.
    pub(super) fn with<T: Default>(self, get: impl FnOnce(&CaseText) -> T) -> T {
        self.doc.with(|d| d.as_ref().map(|d| get(&d.0)).unwrap_or_default())
    }
    /// Changes the document, and with it the case.
    pub(super) fn edit(self, change: impl FnOnce(&mut CaseText) -> Result<(), EditError>) -> Result<(), EditError> {
        match self.place {
            Place::Case => self.s.edit(change),
            Place::File => {
                let nothing = || EditError::NoPlace("kit".to_owned());
                // A field that is left for another screen tells so when this one is gone.
                let mut doc = self.doc.try_get_untracked().flatten().ok_or_else(nothing)?.0;
                change(&mut doc)?;
                let text = doc.text();
                self.s.open.update(|o| {
                    if let Some(o) = o
                        && let Some(i) = kit_index(o)
                        && let Some((_, kept)) = o.kits.get_mut(i)
                    {
                        *kept = text;
                    }
                });
                self.s.stale.set(true);
                self.s.save();
                Ok(())
            }
        }
    }
}

#[component]
pub fn Kit() -> impl IntoView {
    let s = session();
    let (own, file) = (Bag::new(s, Place::Case), Bag::new(s, Place::File));
    let path = move || s.at("kit");
    let there = move || s.open.with(|o| o.as_ref().and_then(kit_index).is_some());
    let readable = move || s.open.with(|o| o.as_ref().is_some_and(|o| o.case.is_some()));
    view! {
        <header class="head"><h1>{say("kit.title")}</h1><p>{say("kit.about")}</p></header>
        <Own/>
        <Show when=readable fallback=move || view! { <p class="fault">{say("kit.no-toml")}</p> }>
            <section aria-labelledby="bag-case">
                <h2 id="bag-case">{say("kit.in-case")}</h2>
                <Pieces bag=own/>
            </section>
            <Show when=move || path().is_some()>
                <section aria-labelledby="bag-file">
                    <h2 id="bag-file">{say("kit.in-file")}" "<code>{path}</code></h2>
                    <Show when=there fallback=move || view! { <p class="fault">{say("kit.not-there")}</p> }>
                        <Pieces bag=file/>
                    </Show>
                </section>
            </Show>
        </Show>
        {move || {
            let all: Vec<Complaint> = s.complaints.with(|a| a.iter().filter(|c| !c.path.starts_with("piece[")).cloned().collect());
            (!all.is_empty()).then(|| view! { <section class="fault-list"><h2>{say("kit.elsewhere")}</h2><Complaints all/></section> })
        }}
        <Whole own/>
    }
}

/// The pieces of one place.
#[component]
fn Pieces(bag: Bag) -> impl IntoView {
    let s = session();
    let count = Signal::new(move || bag.with(|d| d.count("piece")));
    let kind = RwSignal::new("bow shackle".to_owned());
    let name = if bag.place == Place::Case { "case" } else { "file" };
    let add = move |_| {
        let mut at = None;
        let kind = kind.get_untracked();
        // A document that takes no piece says why beside it already.
        let _ = bag.edit(|d| {
            at = Some(bag::add(d, &kind)?);
            Ok(())
        });
        bag.shown.set(at);
    };
    let place = RwSignal::new(None::<web_sys::Element>);
    // Built anew at every edit; what had the focus has it again.
    effect(move || {
        let cards = bag.doc.with(|d| {
            let doc = &d.as_ref()?.0;
            let shown = bag.shown.get();
            Some(bag.wrong.with(|wrong| s.read(|r| show::kit(r, show::Bag { doc, wrong, shown, group: name }))))
        });
        let Some(list) = place.get() else { return };
        let focus = document().active_element().filter(|e| list.contains(Some(e))).map(|e| e.id());
        list.set_inner_html(&cards.unwrap_or_default());
        let again = focus.and_then(|id| document().get_element_by_id(&id)?.dyn_into::<web_sys::HtmlElement>().ok());
        if let Some(field) = again {
            let _ = field.focus();
        }
    });
    let change = move |e: web_sys::Event| {
        let field: web_sys::Element = event_target(&e);
        let (path, how) = (field.get_attribute("data-path"), field.get_attribute("data-how"));
        let (path, how, text) = (path.unwrap_or_default(), how.unwrap_or_default(), event_target_value(&e));
        // First the focus goes on to the next field, then the cards are built anew.
        let edit = move || {
            // The place stands there: it was just drawn.
            let _ = bag.edit(|d| bag::typed(d, &path, &how, &text));
        };
        set_timeout(edit, core::time::Duration::ZERO);
    };
    let click = move |e: web_sys::MouseEvent| {
        let Some(Ok(target)) = e.target().map(|t| t.dyn_into::<web_sys::Element>()) else { return };
        let Ok(Some(button)) = target.closest("button") else { return };
        let at = |name: &str| button.get_attribute(name).and_then(|t| t.parse::<usize>().ok());
        if let Some(i) = at("data-fold") {
            bag.shown.update(|o| *o = if *o == Some(i) { None } else { Some(i) });
        }
        if let Some(i) = at("data-remove") {
            bag.shown.set(None);
            // What is not there needs no taking out.
            let _ = bag.edit(|d| {
                d.remove(&format!("piece[{i}]"));
                Ok(())
            });
        }
    };
    view! {
        <Show when=move || count.get() == 0><p>{say("kit.none")}</p></Show>
        <ul class="pieces" node_ref=place on:change=change on:click=click></ul>
        <div class="new-piece">
            <label class="field"><b>{say("kit.new-kind")}</b>
                <select on:change=move |e| kind.set(event_target_value(&e)) prop:value=move || kind.get()>
                    {bag::PIECE_KINDS.iter().map(|k| view! {
                        <option value=*k selected=*k == "bow shackle">{term("piece-word", k)}</option>
                    }).collect_view()}
                </select>
            </label>
            <button on:click=add>{say("kit.add")}</button>
        </div>
    }
}
