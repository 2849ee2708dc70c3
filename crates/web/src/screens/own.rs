//! What becomes of the case's own rig while something of the case is edited.

use super::parts::Verdict;
use crate::dom::prelude::*;
use crate::session::{say, session};
use crate::show::{self, Node};

#[component]
pub fn Own() -> impl IntoView {
    let s = session();
    let done = move || {
        let all = s.done.get();
        s.words.with(|w| match all.is_empty() {
            true => w.say("rigs.nothing-done"),
            false => {
                let words: Vec<String> = all.iter().map(|a| w.translate("action", a)).collect();
                w.fill("rigs.done", &[("done", &words.join(", "))])
            }
        })
    };
    move || {
        let (word, weakest) = s.live.with(|live| {
            let plan = Node::of(live.as_ref()?).get("plans").at(0);
            let word = plan.get("verdict").text()?.to_owned();
            Some((word, s.read(|r| show::weakest(r, plan))))
        })?;
        Some(view! {
            <p class="own" role="status">
                <span>{say("rigs.own")}" "<Verdict word/></span>
                <span>{weakest}</span>
                <span class="small">{done()}</span>
            </p>
        })
    }
}
