//! Pictograms of our own. Each stands beside the words that say the same.

use crate::dom::prelude::*;

/// How deep a vehicle is in: the same vehicle from the side, the mire rising.
#[component]
pub fn Depth(
    /// The word of a case file.
    word: &'static str,
) -> impl IntoView {
    let mire = match word {
        "not mired" => 52.0,
        "wheel" => 43.0,
        "wheel arch" => 37.0,
        _ => 24.0,
    };
    view! {
        <svg class="picture" viewBox="0 0 96 64" aria-hidden="true" focusable="false">
            <path class="body" d="M8 42V28h14l8-14h28l10 14h20v14z"/>
            <circle class="tyre" cx="26" cy="43" r="9"/>
            <circle class="tyre" cx="72" cy="43" r="9"/>
            <rect class="mire" x="0" y=mire width="96" height=64.0 - mire/>
            <line class="level" x1="0" y1=mire x2="96" y2=mire/>
        </svg>
    }
}

/// Which way the ground falls, seen along the way out or from the side.
#[component]
pub fn Slope(
    /// Degrees; positive lifts the right end along the way out, and the left end across it.
    degrees: Signal<f64>,
    /// Whether it is the slope across.
    across: bool,
) -> impl IntoView {
    let turn = move || {
        let d = degrees.get().clamp(-45.0, 45.0);
        format!("rotate({} 48 44)", if across { d } else { -d })
    };
    let shape =
        if across { "M34 40V22h28v18z M36 40v5h6v-5z M54 40v5h6v-5z" } else { "M26 40V28h10l6-10h18l6 10h6v12z" };
    view! {
        <svg class="picture" viewBox="0 0 96 64" aria-hidden="true" focusable="false">
            <g transform=turn><path class="body" d=shape/><line class="level" x1="2" y1="46" x2="94" y2="46"/></g>
        </svg>
    }
}
