//! The four words, and what a rule gives back.

use unmire_model::Force;

/// The only four words about a part or a rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Verdict {
    /// At work and at stall, by the ratios that the policy asks.
    Holds,
    /// At work; short at stall, but a detector that fits the part is there and its stop load is not under the high end of work.
    HoldsBelowStopLoad,
    /// Something that matters is not known.
    Unknown,
    /// Short at work, or short at stall with nothing to notice it in time, or barred.
    Overloaded,
}
impl Verdict {
    /// The word, as in data and on screen.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::HoldsBelowStopLoad => "holds below a stop load",
            Self::Unknown => "unknown",
            Self::Overloaded => "overloaded",
        }
    }
    /// A shape that says the same without colour.
    #[must_use]
    pub const fn shape(self) -> char {
        match self {
            Self::Holds => '●',
            Self::HoldsBelowStopLoad => '◐',
            Self::Unknown => '?',
            Self::Overloaded => '■',
        }
    }
    /// The worse of two.
    #[must_use]
    pub fn worse(self, other: Self) -> Self {
        self.max(other)
    }
    /// Whether a rig with this verdict may be called a plan that passes.
    #[must_use]
    pub const fn passes(self) -> bool {
        matches!(self, Self::Holds | Self::HoldsBelowStopLoad)
    }
}

/// How sure a piece of advice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Grade {
    /// A law or a regulation.
    Regulation,
    /// A published value or a standard.
    Published,
    /// Common practice of the trade.
    CommonPractice,
    /// Our own judgement.
    OwnJudgement,
}
impl Grade {
    /// In words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Regulation => "law or regulation",
            Self::Published => "published value",
            Self::CommonPractice => "common practice",
            Self::OwnJudgement => "our own judgement",
        }
    }
}

/// One part's strength judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// The rule's code.
    pub code: &'static str,
    /// Index of the part in [`crate::facts::Facts::parts`].
    pub part: usize,
    /// Load at the high end of the need, worst over the friction range.
    pub demand_work: Option<Force>,
    /// Load when the winch stalls, if this part is judged at stall.
    pub demand_stall: Option<Force>,
    /// Capacity after every reduction, by the policy's basis.
    pub capacity: Option<Force>,
    /// What that capacity is: `breaking strength`, `working load limit`, `likely holding force`, `low holding force`.
    pub capacity_kind: &'static str,
    /// The ratio asked at work.
    pub required_work: Option<f64>,
    /// The ratio asked at stall.
    pub required_stall: Option<f64>,
    /// The line pull at which this part reaches its required ratio, if it is short at stall.
    pub stop_load: Option<Force>,
    /// The word.
    pub verdict: Verdict,
    /// The key of the source of the requirement.
    pub source: &'static str,
}
impl Check {
    /// Capacity ÷ load at work.
    #[must_use]
    pub fn ratio_work(&self) -> Option<f64> {
        ratio(self.capacity, self.demand_work)
    }
    /// Capacity ÷ load at stall.
    #[must_use]
    pub fn ratio_stall(&self) -> Option<f64> {
        ratio(self.capacity, self.demand_stall)
    }
    /// How many times the required ratio there is, at the worse of work and stall. Below one is short.
    #[must_use]
    pub fn margin(&self) -> Option<f64> {
        let part = |r: Option<f64>, q: Option<f64>| Some(r? / q?);
        let (w, s) = (part(self.ratio_work(), self.required_work), part(self.ratio_stall(), self.required_stall));
        match (w, s) {
            (Some(w), Some(s)) => Some(w.min(s)),
            (w, s) => w.or(s),
        }
    }
}
fn ratio(capacity: Option<Force>, demand: Option<Force>) -> Option<f64> {
    let (c, d) = (capacity?, demand?);
    // A part that carries nothing has no ratio; it is not in the way of a verdict.
    if d.as_n() > 0.0 { Some(c / d) } else { None }
}

/// What a finding does to the verdict of the rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effect {
    /// Only told.
    Note,
    /// Told where the reader acts.
    Caution,
    /// The rig's verdict can be no better than 'unknown'.
    Unknown,
    /// The rig's verdict is 'overloaded': it must not be used as it is.
    Bars,
}
impl Effect {
    /// The word in outputs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Unknown => "unknown",
            Self::Bars => "bars",
        }
    }
}

/// Something that a rule has to say besides the strength of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule's code.
    pub code: &'static str,
    /// What it does to the verdict.
    pub effect: Effect,
    /// What it is about: a piece, a point, an anchor, the rig.
    pub subject: String,
    /// A sentence in plain words, with the numbers.
    pub text: String,
    /// What to do about it.
    pub remedy: String,
}
