//! Taking a case in: from the codes of another phone through the camera, where the browser reads codes, or from their
//! text.

use super::camera::Camera;
use crate::dom::prelude::*;
use crate::hand::{self, HandError, Heard};
use crate::session::{Session, say, session};

/// What came so far.
#[derive(Clone, Copy)]
struct Taking {
    s: Session,
    heard: RwSignal<Vec<Heard>>,
    fault: RwSignal<Option<HandError>>,
}
impl Taking {
    /// Takes one part. Gives whether the case is whole now.
    fn part(self, text: &str) -> bool {
        let part = match hand::hear(text) {
            Ok(part) => part,
            Err(e) => {
                self.fault.set(Some(e));
                return false;
            }
        };
        self.fault.set(None);
        let mut heard = self.heard.get_untracked();
        // A part of another set begins that one.
        heard.retain(|h| (h.set, h.of) == (part.set, part.of) && h.number != part.number);
        heard.push(part);
        let whole = hand::join(&heard);
        self.heard.set(heard);
        match whole {
            Ok(None) => false,
            Ok(Some(case)) => {
                self.heard.set(Vec::new());
                self.s.open_text(None, &case.name, case.text, case.kits);
                true
            }
            Err(e) => {
                self.heard.set(Vec::new());
                self.fault.set(Some(e));
                false
            }
        }
    }
    /// Takes a text in which each part begins with its head, however the lines are broken.
    fn text(self, text: &str) {
        let head = "UNMIRE";
        let starts: Vec<usize> = text.match_indices(head).map(|(i, _)| i).collect();
        if starts.is_empty() {
            self.fault.set(Some(HandError::NoPart));
        }
        for (n, start) in starts.iter().enumerate() {
            let end = starts.get(n + 1).copied().unwrap_or(text.len());
            if self.part(text.get(*start..end).unwrap_or_default()) {
                break;
            }
        }
    }
}

#[component]
pub fn Receive() -> impl IntoView {
    let s = session();
    let taking = Taking { s, heard: RwSignal::default(), fault: RwSignal::default() };
    let typed = RwSignal::new(String::new());
    let eye = StoredValue::new(None::<Camera>);
    let looking = RwSignal::new(false);
    let blind = RwSignal::new(false);
    let video = RwSignal::new(None::<web_sys::HtmlVideoElement>);
    let stop = move || {
        eye.update_value(|e| {
            if let Some(camera) = e.take() {
                camera.stop();
            }
        });
        looking.set(false);
    };
    on_cleanup(move || {
        if let Some(Some(camera)) = eye.update_value(Option::take) {
            camera.stop();
        }
    });
    let look = move |_| {
        blind.set(false);
        looking.set(true);
        spawn_local(async move {
            let Some(element) = video.get_untracked() else { return };
            match Camera::open(&element).await {
                Ok(camera) => {
                    eye.set_value(Some(camera.clone()));
                    while looking.try_get_untracked() == Some(true) {
                        let seen = camera.look(&element).await;
                        // Meanwhile the screen may have gone.
                        if looking.try_get_untracked() != Some(true) || seen.iter().any(|text| taking.part(text)) {
                            break;
                        }
                        super::camera::pause(200).await;
                    }
                    camera.stop();
                    looking.set(false);
                }
                Err(_) => {
                    looking.set(false);
                    blind.set(true);
                }
            }
        });
    };
    let progress = move || {
        taking.heard.with(|h| {
            let first = h.first()?;
            let (n, of) = (h.len().to_string(), first.of.to_string());
            Some(s.fill("hand.got", &[("n", &n), ("of", &of)]))
        })
    };
    let fault = move || {
        taking.fault.get().map(|f| {
            let key = match f {
                HandError::NoPart | HandError::TooLarge(_) => "no-part",
                HandError::OtherVersion => "other-version",
                HandError::Damaged => "damaged",
            };
            s.translate("hand-fault", key)
        })
    };
    view! {
        <section class="hand">
            <h2>{say("hand.receive")}</h2>
            <p>{say("hand.receive-about")}</p>
            {if Camera::there() {
                view! {
                    <Show when=move || !looking.get() fallback=move || view! {
                        <p class="buttons"><button on:click=move |_| stop()>{say("hand.stop")}</button></p>
                    }>
                        <p class="buttons"><button on:click=look>{say("hand.camera")}</button></p>
                    </Show>
                    <video class="eye" node_ref=video muted playsinline hidden=move || !looking.get() aria-label=say("hand.camera")></video>
                    <Show when=move || blind.get()><p class="fault" role="alert">{say("hand.blind")}</p></Show>
                }.into_any()
            } else {
                view! { <p class="small">{say("hand.no-camera")}</p> }.into_any()
            }}
            <label class="field"><b>{say("hand.paste")}</b>
                <textarea rows="3" spellcheck="false" autocapitalize="off" prop:value=move || typed.get()
                    on:input=move |e| typed.set(event_target_value(&e))></textarea>
            </label>
            <p class="buttons"><button on:click=move |_| {
                taking.text(&typed.get_untracked());
                typed.set(String::new());
            }>{say("hand.take")}</button></p>
            <p role="status">{progress}</p>
            {move || fault().map(|f| view! { <p class="fault" role="alert">{f}</p> })}
        </section>
    }
}
