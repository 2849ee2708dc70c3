//! Policies: by which meaning of strength each kind of part is judged, and how many times its load that must be.
//! The numbers stand in `data/policies.toml`; published rules disagree by a factor of two, so several ship.

use crate::facts::{Capacity, PartKind};
use crate::verdict::Grade;
use unmire_model::Force;
use unmire_tables::generated::policies;

/// What is held against the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Least breaking strength.
    Breaking,
    /// Working load limit.
    Working,
    /// Low end of an anchor's holding force.
    LowHolding,
    /// Likely holding force of an anchor.
    LikelyHolding,
}
impl Basis {
    /// The words in data and on screen.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Breaking => "breaking strength",
            Self::Working => "working load limit",
            Self::LowHolding => "low holding force",
            Self::LikelyHolding => "likely holding force",
        }
    }
    /// That meaning of a capacity, if it is known and an ordinary number not below nothing.
    #[must_use]
    pub fn of(self, capacity: &Capacity) -> Option<Force> {
        let force = match self {
            Self::Breaking => capacity.breaking,
            Self::Working => capacity.working,
            Self::LowHolding => capacity.holding.map(|h| h.low()),
            Self::LikelyHolding => capacity.holding.map(|h| h.likely()),
        };
        force.filter(|f| f.is_finite() && f.as_n() >= 0.0)
    }
    fn parse(word: &str) -> Option<Self> {
        Some(match word {
            "breaking" => Self::Breaking,
            "working" => Self::Working,
            "low-holding" => Self::LowHolding,
            "likely-holding" => Self::LikelyHolding,
            _ => return None,
        })
    }
}

/// How a ratio counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// Times the part's own load.
    PartLoad,
    /// Times the line pull at the winch, whatever the angle at the block.
    WinchStalls,
    /// Times the part's own load when the winch pulls its rated first-layer pull.
    RatedPull,
}
impl Counts {
    fn parse(word: &str) -> Option<Self> {
        Some(match word {
            "part-load" => Self::PartLoad,
            "winch-stalls" => Self::WinchStalls,
            "rated-pull" => Self::RatedPull,
            _ => return None,
        })
    }
}

/// What one kind of part is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PolicyRow {
    /// The kind of part.
    pub part: PartKind,
    /// What is held against the load.
    pub basis: Basis,
    /// The ratio at the high end of the need.
    pub required_work: f64,
    /// The ratio at winch stall; none where the policy does not judge this kind of part at stall.
    pub required_stall: Option<f64>,
    /// How these ratios count.
    pub counts: Counts,
    /// Where stalls are counted: the ratio on the part's own load that is asked in any case.
    pub floor: Option<f64>,
    /// For an anchor whose holding force was stated as a range: the ratio asked of its low end instead.
    pub stated_ratio: Option<f64>,
    /// For an anchor at work: the low end must be this many times the load as well, however high the likely value is.
    pub work_low_ratio: Option<f64>,
    /// For an anchor at stall: enough as well if the low end of what it holds is this many times the load.
    pub stall_low_ratio: Option<f64>,
    /// For an anchor at stall: whatever else is enough, the low end must be at least this share of the load.
    pub stall_low_least: Option<f64>,
    /// Key of the source.
    pub source: &'static str,
    /// How sure the advice is.
    pub grade: Grade,
    /// What the reader must know.
    pub note: &'static str,
}

impl PolicyRow {
    /// What is held against the load where the holding force was stated as a range, or wasn't.
    #[must_use]
    pub const fn basis_for(&self, stated: bool) -> Basis {
        if stated && self.stated_ratio.is_some() { Basis::LowHolding } else { self.basis }
    }
    /// What it asks, in words.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut out = format!("{} at least {} times ", self.basis.words(), self.required_work);
        out.push_str(match self.counts {
            Counts::PartLoad => "its load at work",
            Counts::WinchStalls => "the line pull at work",
            Counts::RatedPull => "its load at work, and at the winch's rated pull",
        });
        if let (Some(n), Counts::PartLoad | Counts::WinchStalls) = (self.required_stall, self.counts) {
            let of = if self.counts == Counts::PartLoad { "its load" } else { "the line pull" };
            out.push_str(&format!(", {n} times {of} at stall"));
        }
        if let Some(f) = self.floor {
            out.push_str(&format!(", never under {f} times its own load"));
        }
        if let Some(n) = self.stated_ratio {
            out.push_str(&format!("; where a range is stated, its low end {n} times"));
        }
        if let Some(n) = self.work_low_ratio {
            out.push_str(&format!("; at work, the low end {n} times as well"));
        }
        if let Some(n) = self.stall_low_ratio {
            out.push_str(&format!("; at stall, the low end {n} times is enough as well"));
        }
        if let Some(n) = self.stall_low_least {
            out.push_str(&format!("; the low end never under {n} times the load at stall"));
        }
        out.push_str(&format!(" ({}, {})", self.grade.word(), self.source));
        out
    }
}

/// A named policy.
#[derive(Clone, Debug, PartialEq)]
pub struct Policy {
    /// The name that files and options use.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What it asks and where that comes from.
    pub doc: &'static str,
    rows: [Option<PolicyRow>; PartKind::ALL.len()],
}

/// Name, title and text of every policy; the first is the default.
const NAMES: [(&str, &str, &str); 4] = [
    (
        "regulator-stall",
        "A regulator's rule at winch stall, anchors by a stop sign",
        "After an incident alert of the Queensland work safety regulator (2018): every part stands the winch's stall with \
         a suitable factor, connectors on the rope fail at no less than 2 times the stall, the block, what connects it and \
         its strap at no less than 4 times. The 4 counts stalls of line pull, so that it does not shrink where the line \
         turns less. Three exceptions are our own judgement: the line and a hand winch's body have rows of their own, natural and made anchors are \
         judged by what they hold with one reduction, with a stop sign at the anchor where stall would be too much, and a \
         part may hold below a stop load that a fitting detector shows in time.",
    ),
    (
        "regulator-literal",
        "The regulator's rule without our exceptions",
        "The same alert taken by the letter: the line like a connector, and every anchor, trees included, at twice its \
         own load at stall by the low end of what it holds. Hardly a tree passes; it shows what our exceptions cost.",
    ),
    (
        "working-load-limit",
        "Lifting practice: never above the working load limit",
        "After the lifting standards for slings, shackles and blocks: at work and at stall no part sees more than its \
         working load limit. A winch line is no sling and has the trade's row. Where only a breaking strength is printed, \
         the greatest published design factor for that kind of part is taken off.",
    ),
    (
        "trade-rated-pull",
        "Rules of thumb by the winch's rated pull",
        "Common practice of the trade: straps break at no less than twice the winch's rated pull, shackles and blocks have \
         a working load limit of at least that pull, each counted on the part's own load, so that a block sees both legs. \
         It takes the rated pull for the most that can happen; a winch can stall above it.",
    ),
];

impl Policy {
    /// Every policy that ships, the default first.
    #[must_use]
    pub fn all() -> Vec<Self> {
        NAMES.iter().map(Self::read).collect()
    }
    /// The policy of that name.
    #[must_use]
    pub fn by_name(name: &str) -> Option<Self> {
        NAMES.iter().find(|n| n.0 == name).map(Self::read)
    }
    /// The names, the default first: for messages and completions.
    #[must_use]
    pub fn names() -> [&'static str; NAMES.len()] {
        NAMES.map(|n| n.0)
    }
    /// The policy that is used where nobody asks for another.
    #[must_use]
    pub fn default_policy() -> Self {
        Self::read(&NAMES[0])
    }
    /// What this kind of part is asked for. None asks for nothing, and the part is then 'unknown', never passed.
    #[must_use]
    pub const fn row(&self, part: PartKind) -> Option<&PolicyRow> {
        self.rows[part as usize].as_ref()
    }
    /// Every row, in the order of [`PartKind::ALL`].
    pub fn rows(&self) -> impl Iterator<Item = &PolicyRow> {
        self.rows.iter().flatten()
    }
    /// The same policy with another row: what if this kind of part were asked for something else.
    #[must_use]
    pub const fn with_row(mut self, row: PolicyRow) -> Self {
        self.rows[row.part as usize] = Some(row);
        self
    }
    fn read(&(name, title, doc): &(&'static str, &'static str, &'static str)) -> Self {
        let mut rows = [None; PartKind::ALL.len()];
        for r in policies::ROWS.iter().filter(|r| r.policy == name) {
            if let Some(row) = read_row(r) {
                rows[row.part as usize] = Some(row);
            }
        }
        Self { name, title, doc, rows }
    }
}

/// A row of the table in the words of this room; none if a word is not known, so that the part stays 'unknown'.
fn read_row(r: &policies::Row) -> Option<PolicyRow> {
    Some(PolicyRow {
        part: PartKind::ALL.into_iter().find(|k| k.word() == r.part)?,
        basis: Basis::parse(r.basis)?,
        required_work: r.required_work,
        required_stall: r.required_stall,
        counts: Counts::parse(r.counts)?,
        floor: r.floor,
        stated_ratio: r.stated_ratio,
        work_low_ratio: r.work_low_ratio,
        stall_low_ratio: r.stall_low_ratio,
        stall_low_least: r.stall_low_least,
        source: r.source,
        grade: match r.grade {
            "regulation" => Grade::Regulation,
            "published" => Grade::Published,
            "common-practice" => Grade::CommonPractice,
            "own-judgement" => Grade::OwnJudgement,
            _ => return None,
        },
        note: r.note,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_policy_has_a_sensible_row_for_every_kind_of_part() {
        assert_eq!(policies::ROWS.len(), NAMES.len() * PartKind::ALL.len());
        for p in Policy::all() {
            for kind in PartKind::ALL {
                let row = p.row(kind).unwrap_or_else(|| panic!("{}: {}", p.name, kind.word()));
                assert_eq!(row.part, kind);
                assert!(row.required_work >= 1.0 && row.required_stall.is_none_or(|s| s >= 1.0), "{row:?}");
                let holding = matches!(row.basis, Basis::LowHolding | Basis::LikelyHolding);
                assert_eq!(holding, kind.is_anchor(), "{}: {}", p.name, kind.word());
                assert!(row.floor.is_none() || row.counts == Counts::WinchStalls);
            }
        }
    }

    #[test]
    fn a_policy_is_found_by_its_name_only() {
        for n in Policy::names() {
            assert_eq!(Policy::by_name(n).unwrap().name, n);
        }
        assert!(Policy::by_name("whatever").is_none());
        assert_eq!(Policy::default_policy(), Policy::all()[0]);
    }

    #[test]
    fn a_kind_is_at_its_own_place() {
        for (i, k) in PartKind::ALL.into_iter().enumerate() {
            assert_eq!(k as usize, i);
        }
    }
}
