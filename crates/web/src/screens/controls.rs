//! Controls that edit one value of the case, with what the reader of case files says about it beside them.

use crate::document::{CaseText, Complaint, EditError, complaints};
use crate::dom::prelude::*;
use crate::engine;
use crate::session::{Session, say, session, term};

/// Edits the case if nothing is wrong afterwards that was not wrong before; else the case stays, and what would be wrong
/// is given.
pub fn try_edit(s: Session, change: impl FnOnce(&mut CaseText) -> Result<(), EditError>) -> Result<(), Vec<Complaint>> {
    let Some(open) = s.open.get_untracked() else { return Ok(()) };
    let Some(mut case) = open.case else { return Err(vec![plain(&EditError::NoToml(String::new()))]) };
    let wrong =
        |text: &str| engine::read(text, &open.kits).err().map(|found| complaints(text, &found)).unwrap_or_default();
    let before = wrong(&open.text);
    change(&mut case).map_err(|e| vec![plain(&e)])?;
    let known = |c: &Complaint| before.iter().any(|b| (&b.path, &b.code) == (&c.path, &c.code));
    let new: Vec<Complaint> = wrong(&case.text()).into_iter().filter(|c| !known(c)).collect();
    if !new.is_empty() {
        return Err(new);
    }
    s.edit(|c| {
        *c = case;
        Ok(())
    })
    .map_err(|e| vec![plain(&e)])
}

fn plain(e: &EditError) -> Complaint {
    Complaint {
        path: String::new(),
        file: None,
        line: 0,
        column: 0,
        code: "no-place".to_owned(),
        message: e.to_string(),
        expected: String::new(),
        example: String::new(),
        hint: None,
        excerpt: String::new(),
    }
}

/// A text for an `id`, from a path.
pub fn id_of(path: &str) -> String {
    path.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect()
}

/// What is wrong with one value, under its control.
#[component]
pub fn Told(id: String, all: Signal<Vec<Complaint>>) -> impl IntoView {
    let one = |c: Complaint| {
        let mut text = c.message;
        for (before, more) in [("; expected ", c.expected), (", for example ", c.example)] {
            if !more.is_empty() {
                text.push_str(before);
                text.push_str(&more);
            }
        }
        let hint = c.hint.map(|h| format!("; {h}")).unwrap_or_default();
        view! { <p><span aria-hidden="true">"✗ "</span>{text}{hint}</p> }
    };
    view! { <div class="told" role="alert" lang="en" id=id>{move || all.get().into_iter().map(one).collect_view()}</div> }
}

/// A typed value. What can't be used stays in the field with what is wrong with it, and the case stays as it was.
#[component]
pub fn Field(
    /// What it is.
    label: Signal<String>,
    /// Where it stands in the document.
    path: String,
    /// Tells this control from another of the same value.
    apart: &'static str,
    /// What stands there, in words.
    value: Signal<String>,
    /// Puts what was typed into the case.
    put: Callback<String, Result<(), Vec<Complaint>>>,
    /// An example of a value, in the words of a case file.
    example: String,
    /// Steps down and up; none for a value without steps.
    step: Option<Callback<f64>>,
) -> impl IntoView {
    let s = session();
    let own = RwSignal::new(Vec::<Complaint>::new());
    let id = format!("{apart}{}", id_of(&path));
    let told = format!("{id}-told");
    let all = Signal::new(move || {
        let own = own.get();
        if !own.is_empty() {
            return own;
        }
        s.complaints.with(|c| c.iter().filter(|c| c.path == path).cloned().collect())
    });
    let wrong = move || all.with(|a| !a.is_empty());
    // What did not change is not put into the page again, frame after frame.
    let value = Signal::new(move || value.get());
    let button = move |key: &'static str, sign: &'static str, by: f64| {
        step.map(|step| {
            let name = move || s.words.with(|w| w.translate("control", key).replace("{what}", &label.get()));
            view! { <button type="button" class="step" aria-label=name on:click=move |_| {
                own.set(Vec::new());
                step.run(by);
            }>{sign}</button> }
        })
    };
    view! {
        <div class="value">
            <label for=id.clone()>{label}</label>
            <div class="stepped">
                {button("less", "−", -1.0)}
                <input type="text" id=id autocomplete="off" autocapitalize="off" spellcheck="false"
                    placeholder=example prop:value=value aria-invalid=move || wrong().to_string()
                    aria-describedby=told.clone()
                    on:change=move |e| own.set(put.run(event_target_value(&e)).err().unwrap_or_default())/>
                {button("more", "+", 1.0)}
            </div>
            <Told id=told all/>
        </div>
    }
}

/// Yes, no, or nobody looked.
#[component]
pub fn Looked(
    /// What was looked for.
    label: Signal<String>,
    /// Where it stands in the document.
    path: String,
    /// Whether nobody having looked can be said.
    sure: bool,
) -> impl IntoView {
    let s = session();
    let at = StoredValue::new(path.clone());
    let answer = Signal::new(move || s.open.with(|o| o.as_ref()?.case.as_ref()?.flag(&at.get_value())));
    let group = id_of(&path);
    let option = move |words: &'static str, value: Option<bool>| {
        let choose = move |_| {
            // What is wrong is shown beside the text of the case.
            let _ = try_edit(s, |c| match value {
                Some(v) => c.set(&at.get_value(), v),
                None => {
                    c.remove(&at.get_value());
                    Ok(())
                }
            });
        };
        view! {
            <label class="option">
                <input type="radio" name=group.clone() prop:checked=move || answer.get() == value on:change=choose/>
                <span>{term("control", words)}</span>
            </label>
        }
    };
    view! {
        <fieldset class="looked"><legend>{label}</legend><div class="options">
            {option("yes", Some(true))}{option("no", Some(false))}{(!sure).then(|| option("nobody", None))}
        </div></fieldset>
    }
}

/// Goes on when a button is pressed: back to the question before, on to the next.
#[component]
pub fn Turns(at: RwSignal<usize>, of: usize) -> impl IntoView {
    let s = session();
    let count = move || s.fill("scene.stuck-count", &[("n", &(at.get() + 1).to_string()), ("of", &of.to_string())]);
    view! {
        <p class="buttons turns">
            <button type="button" class="quiet" disabled=move || { at.get() == 0 }
                on:click=move |_| at.update(|n| *n = n.saturating_sub(1))>{say("start.back")}</button>
            <span role="status">{count}</span>
            <button type="button" class="quiet" disabled=move || { at.get() + 1 >= of }
                on:click=move |_| at.update(|n| *n = (*n + 1).min(of - 1))>{say("start.next")}</button>
        </p>
    }
}
