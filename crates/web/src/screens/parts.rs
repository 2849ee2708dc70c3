//! Small parts that several screens use.

use crate::document::Complaint;
use crate::dom::prelude::*;
use crate::session::session;
use unmire_audit::verdict;

/// A verdict: a shape, a word, and last a colour.
#[component]
pub fn Verdict(
    /// The word, as the JSON has it.
    word: String,
) -> impl IntoView {
    let s = session();
    use verdict::Verdict as V;
    let all = [V::Holds, V::HoldsBelowStopLoad, V::Unknown, V::Overloaded];
    let known = all.into_iter().find(|v| v.word() == word);
    let shape = known.map_or('?', V::shape);
    let class = format!("verdict {}", word.replace(' ', "-"));
    let text = move || s.translate("verdict", &word);
    view! { <span class=class><span class="shape" aria-hidden="true">{shape.to_string()}</span>" "{text}</span> }
}

/// What is wrong with a case, all of it.
#[component]
pub fn Complaints(
    /// The list.
    all: Vec<Complaint>,
) -> impl IntoView {
    let s = session();
    let one = move |c: Complaint| {
        let place = s.words.with_untracked(|w| {
            w.fill("complaint.place", &[("line", &c.line.to_string()), ("column", &c.column.to_string())])
        });
        let (expected, example, hint) = s
            .words
            .with_untracked(|w| (w.say("complaint.expected"), w.say("complaint.example"), w.say("complaint.hint")));
        let more = [(expected, Some(c.expected)), (example, Some(c.example)), (hint, c.hint)];
        let more = more.into_iter().filter_map(|(name, text)| Some((name, text.filter(|t| !t.is_empty())?)));
        view! {
            <li>
                <p><b>{c.message}</b></p>
                <p class="small">{c.file.map(|f| format!("{f}, "))}{place}{(!c.path.is_empty()).then(|| format!(", {}", c.path))}</p>
                <dl>{more.map(|(name, text)| view! { <dt>{name}</dt><dd lang="en">{text}</dd> }).collect_view()}</dl>
            </li>
        }
    };
    view! { <ol class="complaints" lang="en">{all.into_iter().map(one).collect_view()}</ol> }
}
