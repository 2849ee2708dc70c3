//! One anchor alone: what it holds, whether it may be used for a pull, alone or shared, and why.
//!
//! [`look`] asks the mechanics what the anchor holds and the policy what is asked of it, and gives the answer in the reader's
//! words: use it, share it, or find another.

mod chart;
mod extra;
mod limits;
mod shared;
mod together;

pub use chart::{Axis, Chart};
pub use limits::{Limits, Shared};
pub use shared::{AnchorPart, SharedError, SharedQuestion, SharedReport, SharedWay, shared};
pub use together::{LEG, SPREAD};
pub use unmire_mechanics::anchor::{BuildKind, BuildMeasure, BuildPiece, BuildSheet, Measure};

use crate::demand::sentence;
use crate::report::PolicyWords;
use crate::words;
use limits::Judged;
use unmire_audit::Policy;
use unmire_audit::facts::PartKind;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::MechanicsError;
use unmire_mechanics::anchor::parked::parked;
use unmire_mechanics::anchor::{AnchorCapacity, AnchorMode, Pulled, capacity, stiffness, stiffness_parked};
use unmire_mechanics::standing::Warning;
use unmire_mechanics::winch::stall_first_layer;
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::case::Case;
use unmire_model::ground::Season;
use unmire_model::trail::Trail;
use unmire_model::vehicle::Helper;
use unmire_model::{Angle, Force, Length, Pressure, Range, Silent, Vec3};

/// The load that a pull puts on an anchor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// At the high end of the need.
    pub work: Force,
    /// When the winch stalls; none where nothing can stall.
    pub stall: Option<Force>,
}

/// What is asked about an anchor.
#[derive(Clone, Debug)]
pub struct Question<'a> {
    /// The anchor.
    pub anchor: &'a Anchor,
    /// Whether the ground is saturated.
    pub saturated: bool,
    /// The trees' season; not known counts as growing.
    pub season: Option<Season>,
    /// How steeply the line rises from it.
    pub rise: Angle,
    /// The load, if one is known.
    pub load: Option<Load>,
    /// Width of the strap that would lie on it, if one is known.
    pub strap: Option<Length>,
    /// How many people would build one.
    pub crew: u32,
    /// Whether something is there that shows in time that it gives: a tilt meter on a tree, a movement marker on the rest.
    pub detector: bool,
    /// The policy that judges.
    pub policy: &'a Policy,
    /// Whether to keep the working.
    pub explain: bool,
}

/// What is asked about a parked vehicle.
#[derive(Clone, Debug)]
pub struct VehicleQuestion<'a> {
    /// Direction of the pull on it, in the case's frame.
    pub direction: Vec3,
    /// The load, if one is known.
    pub load: Option<Load>,
    /// Whether something is there that shows in time that it slides.
    pub detector: bool,
    /// The policy that judges.
    pub policy: &'a Policy,
    /// Whether to keep the working.
    pub explain: bool,
}

/// The answer in one word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// It holds the load by the policy, or the load is not known and there is a limit up to which it does.
    Use,
    /// It holds at work; at stall only below a stop load that somebody watches.
    UseBelowStopLoad,
    /// Not alone; this many like it hold together.
    Share {
        /// How many in all.
        anchors: u32,
    },
    /// Neither alone nor shared among three, or ruled out.
    FindAnother,
    /// Nobody knows what it holds.
    NotKnown,
}
impl Advice {
    /// The words, as in data and on screen.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Use => "use it",
            Self::UseBelowStopLoad => "use it below a stop load",
            Self::Share { .. } => "share it",
            Self::FindAnother => "find another",
            Self::NotKnown => "not known",
        }
    }
    /// A shape that says the same without colour.
    #[must_use]
    pub const fn shape(self) -> char {
        match self {
            Self::Use => Verdict::Holds.shape(),
            Self::UseBelowStopLoad | Self::Share { .. } => Verdict::HoldsBelowStopLoad.shape(),
            Self::FindAnother => Verdict::Overloaded.shape(),
            Self::NotKnown => Verdict::Unknown.shape(),
        }
    }
}

/// One way in which it can give.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOfGiving {
    /// In words.
    pub words: &'static str,
    /// What it holds against that.
    pub holds: Range<Force>,
}

/// How far its base may turn or move before the pull stops.
#[derive(Clone, Debug, PartialEq)]
pub struct Watch {
    /// The sentence for the crew.
    pub text: String,
    /// Turning of the base that means stop; none where only movement counts.
    pub tilt: Option<Angle>,
    /// What that is at the height given here.
    pub movement: Option<(Length, Length)>,
    /// Key of the source.
    pub source: &'static str,
}

/// A strap on living bark.
#[derive(Clone, Debug, PartialEq)]
pub struct BarkLook {
    /// Season that was reckoned with, in words.
    pub season: &'static str,
    /// What gives at the limit, in words.
    pub gives: &'static str,
    /// Pressure that it stands.
    pub limit: Pressure,
    /// The load that the widths are for: the greatest that the advice lets it see.
    pub pull: Option<Force>,
    /// Least width of a strap in a basket for that load.
    pub width_basket: Option<Length>,
    /// The same in a choker.
    pub width_choker: Option<Length>,
    /// The strap that was asked about, and its pressure in a basket with parallel legs.
    pub strap: Option<(Length, Pressure)>,
    /// Key of the source.
    pub source: &'static str,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorReport {
    /// Its id.
    pub id: String,
    /// The stable word of its kind.
    pub kind: &'static str,
    /// What it is, in words.
    pub what: String,
    /// Height of the attachment.
    pub attach_height: Length,
    /// The policy.
    pub policy: PolicyWords,
    /// The answer.
    pub advice: Advice,
    /// Why, in a sentence.
    pub why: String,
    /// What it holds; none if not known or ruled out.
    pub holds: Option<Range<Force>>,
    /// What gives first at the low end, in words.
    pub gives: &'static str,
    /// Every way of giving, the weakest first.
    pub ways: Vec<WayOfGiving>,
    /// Whether the case stated what it holds.
    pub stated: bool,
    /// Whether a sign rules it out.
    pub ruled_out: bool,
    /// The load asked about.
    pub load: Option<Load>,
    /// The word of the policy on that load, alone.
    pub verdict: Option<Verdict>,
    /// Line pull at which to stop, where that is the answer.
    pub stop_load: Option<Force>,
    /// Where it does not pass alone: the line pull at which to stop, if watching it would make it pass.
    pub watched_stop: Option<Force>,
    /// What it may be given alone under the policy.
    pub limits: Option<Limits>,
    /// What two and three like it may be given together.
    pub shared: Vec<Shared>,
    /// How to see that it gives.
    pub watch: Option<Watch>,
    /// Its bark.
    pub bark: Option<BarkLook>,
    /// How to build one that holds the load.
    pub build: Vec<BuildSheet>,
    /// What it would hold if it were thicker, deeper, longer.
    pub chart: Option<Chart>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
    /// The working.
    pub trail: Trail,
}
impl AnchorReport {
    /// The greatest load that the advice lets it see: the stop load where there is one, else the stall, else the work.
    #[must_use]
    pub fn advised_load(&self) -> Option<Force> {
        let l = self.load?;
        Some(self.stop_load.or(self.watched_stop).or(l.stall).unwrap_or(l.work).max(l.work))
    }
    /// Whether it may be used alone: for the load, or for some load if none was asked.
    #[must_use]
    pub const fn passes(&self) -> bool {
        matches!(self.advice, Advice::Use | Advice::UseBelowStopLoad)
    }
}

/// The load of one straight line on one anchor: the case's need at work, the winch's stall.
#[must_use]
pub fn single_line(case: &Case) -> Option<Load> {
    let need = crate::demand::need_for(case, &[], &mut Silent).ok()?;
    let stall = case.vehicle.winch.as_ref().map(|w| stall_first_layer(w).0.high());
    Some(Load { work: need.total.high(), stall })
}

/// The stable word of a kind.
#[must_use]
pub const fn kind_word(kind: &AnchorKind) -> &'static str {
    match kind {
        AnchorKind::Tree(_) => "tree",
        AnchorKind::Stump(_) => "stump",
        AnchorKind::Boulder(_) => "boulder",
        AnchorKind::RockBolts(_) => "rock bolts",
        AnchorKind::Pickets(_) => "pickets",
        AnchorKind::Deadman(_) => "deadman",
        AnchorKind::Plates(_) => "plates",
        AnchorKind::Made { .. } => "made",
        AnchorKind::Other { .. } => "other",
    }
}

/// What one anchor holds and whether it may be used.
///
/// # Errors
/// If a measure is not an ordinary number or a key is in no table.
pub fn look(q: &Question<'_>) -> Result<AnchorReport, MechanicsError> {
    let pulled = Pulled { saturated: q.saturated, rise: q.rise };
    let mut trail = Trail::default();
    let capacity =
        if q.explain { capacity(q.anchor, &pulled, &mut trail)? } else { capacity(q.anchor, &pulled, &mut Silent)? };
    let part = if q.anchor.kind.is_made() { PartKind::MadeAnchor } else { PartKind::NaturalAnchor };
    // How far it gives is known of what holds something; else nobody shares it.
    let stiff = stiffness(q.anchor, &capacity, &mut Silent).ok();
    let mut answer = answer(&capacity, part, q.policy, q.load, q.detector, stiff);
    answer.id.clone_from(&q.anchor.id);
    answer.kind = kind_word(&q.anchor.kind);
    answer.what = words::anchor(q.anchor);
    answer.attach_height = q.anchor.attach_height.value;
    answer.watch = extra::watch(q.anchor)?;
    answer.bark = extra::bark(q, answer.advised_load())?;
    if let Some(w) = answer.bark.as_ref().and_then(extra::bark_warning) {
        answer.warnings.push(w);
    }
    if q.anchor.tied_back.is_some() {
        let text = "it is tied back in the case; this answer takes it alone, the plan counts both";
        answer.warnings.push(Warning::new("tie-not-counted", text));
    }
    answer.build = extra::build(q)?;
    answer.chart = chart::of(q, &pulled)?;
    answer.trail = trail;
    Ok(answer)
}

/// What a parked vehicle holds against a pull from where the stuck one stands, at the highest place where gear could be
/// attached to it on that side.
///
/// # Errors
/// If a number of the vehicle is not in order.
pub fn look_at_vehicle(helper: &Helper, q: &VehicleQuestion<'_>) -> Result<AnchorReport, MechanicsError> {
    let mut trail = Trail::default();
    let pull = [crate::parked::at_the_highest_point(helper, q.direction)];
    let capacity = if q.explain { parked(helper, &pull, &mut trail)? } else { parked(helper, &pull, &mut Silent)? };
    let stiff = capacity.ultimate.and_then(|u| stiffness_parked(&u, &mut Silent).ok());
    let mut answer = answer(&capacity, PartKind::ParkedVehicle, q.policy, q.load, q.detector, stiff);
    answer.id.clone_from(&helper.vehicle.name);
    answer.kind = "vehicle";
    answer.what = "parked vehicle".to_owned();
    answer.watch = Some(extra::watch_ground());
    answer.trail = trail;
    Ok(answer)
}

/// Judges a capacity: everything that does not depend on what kind of anchor it is.
fn answer(
    capacity: &AnchorCapacity,
    part: PartKind,
    policy: &Policy,
    load: Option<Load>,
    detector: bool,
    stiffness: Option<Range<f64>>,
) -> AnchorReport {
    let judge = Judged::new(capacity, part, policy, detector);
    let limits = judge.limits();
    let shared = judge.shared(stiffness);
    let alone = load.map(|l| judge.verdict(l, 1.0));
    let advice = advise(capacity, load, &judge, &shared, limits.as_ref());
    AnchorReport {
        id: String::new(),
        kind: "",
        what: String::new(),
        attach_height: Length::ZERO,
        policy: PolicyWords {
            name: policy.name.to_owned(),
            title: policy.title.to_owned(),
            doc: policy.doc.to_owned(),
            grade: judge.grade(),
        },
        advice,
        why: why(advice, capacity, &shared),
        holds: capacity.ultimate,
        gives: if capacity.ultimate.is_some() { capacity.mode.words() } else { AnchorMode::Unknown.words() },
        ways: capacity.ways.iter().map(|w| WayOfGiving { words: w.mode.words(), holds: w.holds }).collect(),
        stated: capacity.stated,
        ruled_out: capacity.ruled_out,
        load,
        verdict: alone.map(|a| a.0),
        stop_load: match (advice, load) {
            (Advice::UseBelowStopLoad, _) => alone.and_then(|a| a.1),
            (Advice::Share { anchors }, Some(l)) => shared
                .iter()
                .find(|s| s.anchors == anchors)
                .map(|s| judge.verdict(l, s.greatest_share))
                .filter(|v| v.0 == Verdict::HoldsBelowStopLoad)
                .and_then(|v| v.1),
            _ => None,
        },
        watched_stop: load.and_then(|l| judge.if_watched(l)),
        limits,
        shared,
        watch: None,
        bark: None,
        build: Vec::new(),
        chart: None,
        warnings: {
            let mut all = capacity.warnings.clone();
            if load.is_some_and(|l| l.stall.is_none()) {
                let text = "the load at winch stall was not told: it is not judged here";
                all.push(Warning::new("stall-not-told", text));
            }
            all
        },
        trail: Trail::default(),
    }
}

fn advise(
    capacity: &AnchorCapacity,
    load: Option<Load>,
    judge: &Judged<'_>,
    shared: &[Shared],
    limits: Option<&Limits>,
) -> Advice {
    if capacity.ruled_out {
        return Advice::FindAnother;
    }
    let Some(limits) = limits else { return Advice::NotKnown };
    let Some(load) = load else {
        return if limits.work.as_n() > 0.0 { Advice::Use } else { Advice::FindAnother };
    };
    match judge.verdict(load, 1.0).0 {
        Verdict::Holds => Advice::Use,
        Verdict::HoldsBelowStopLoad => Advice::UseBelowStopLoad,
        Verdict::Unknown => Advice::NotKnown,
        Verdict::Overloaded => shared
            .iter()
            .find(|s| judge.verdict(load, s.greatest_share).0.passes())
            .map_or(Advice::FindAnother, |s| Advice::Share { anchors: s.anchors }),
    }
}

fn why(advice: Advice, capacity: &AnchorCapacity, shared: &[Shared]) -> String {
    if let Some(reason) = &capacity.reason {
        return sentence(reason);
    }
    let first = capacity.mode.words();
    match advice {
        Advice::Use if capacity.stated => "What was stated covers it under the policy.".to_owned(),
        Advice::Use => format!("What gives first ({first}) lies high enough under the policy."),
        Advice::UseBelowStopLoad => {
            format!("It holds the work; if the winch stalls, what gives first is that {first}.")
        }
        Advice::Share { anchors } => {
            let share = shared.iter().find(|s| s.anchors == anchors).map_or(1.0, |s| s.greatest_share);
            format!(
                "Alone, what gives first ({first}) comes too early; among {anchors} like it no one gets more than {:.0} %.",
                (share * 100.0).ceil()
            )
        }
        Advice::FindAnother => {
            format!("Even among three like it, what gives first ({first}) comes too early under the policy.")
        }
        Advice::NotKnown => "Not enough is known about it.".to_owned(),
    }
}
