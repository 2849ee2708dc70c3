//! Winch, kinetic or neither beside the rigs: the last field of `unmire.plan/1`.

use super::shape::RangeS;
use super::write::{newtons, number, range_s};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The ways to get it out, side by side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Ways {
    /// Word of the way that is advised: the cautious one among those that pass.
    pub advised: String,
    /// Why, in a sentence.
    pub advice: String,
    /// The ways: winch first, kinetic after it, neither last.
    pub all: Vec<Way>,
}

/// One way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Way {
    /// `winch` (of a vehicle or by hand), `tow`, `kinetic` or `neither`.
    pub way: String,
    /// Whether it passes under the policy.
    pub passes: bool,
    /// The policy's word; null for `neither`.
    pub verdict: Option<String>,
    /// The rig in one sentence.
    pub rig: String,
    /// Greatest force on any part: at the high end of work; of a kinetic pull the likely peak, N.
    pub load_work_n: Option<f64>,
    /// Greatest force on any part at most: at stall; of a kinetic pull the high end of the peak, N.
    pub load_most_n: Option<f64>,
    /// Straight room from the stuck vehicle, m.
    pub room_m: Option<f64>,
    /// Radius of the ground to keep clear, m.
    pub keep_out_m: Option<f64>,
    /// How many pieces it takes.
    pub pieces: u64,
    /// About how long it takes.
    pub time_s: Option<RangeS>,
    /// How many people are inside the ground to keep clear.
    pub exposed: u32,
    /// Who they are.
    pub who: String,
    /// Why it passes or not.
    pub why: String,
}

/// The ways, as data.
pub(super) fn ways(w: &unmire_planner::kinetic::Ways) -> Ways {
    Ways {
        advised: w.all.get(w.advised).map_or_else(String::new, |a| a.word.to_owned()),
        advice: w.advice.clone(),
        all: w
            .all
            .iter()
            .map(|w| Way {
                way: w.word.to_owned(),
                passes: w.passes,
                verdict: w.verdict.map(|v| v.word().to_owned()),
                rig: w.summary.clone(),
                load_work_n: w.load_work.and_then(newtons),
                load_most_n: w.load_most.and_then(newtons),
                room_m: w.room.and_then(|l| number(l.as_m())),
                keep_out_m: w.keep_out.and_then(|l| number(l.as_m())),
                pieces: w.pieces as u64,
                time_s: w.time.as_ref().map(range_s),
                exposed: w.exposed,
                who: w.who.clone(),
                why: w.why.clone(),
            })
            .collect(),
    }
}
