//! Two or three anchors of a case on one pull: what each gets by legs of its own and by a line that makes the legs equal.

use super::limits::Judged;
use super::{Load, together};
use crate::words;
use unmire_audit::Policy;
use unmire_audit::facts::PartKind;
use unmire_audit::verdict::Verdict;
use unmire_mechanics::MechanicsError;
use unmire_mechanics::anchor::sharing::{Joined, Sharing, SharingLeg, share};
use unmire_mechanics::anchor::{Pulled, capacity, stiffness};
use unmire_model::anchor::Anchor;
use unmire_model::trail::Trail;
use unmire_model::{Angle, Force, Length, Range, Silent, Vec3};

/// What is asked.
#[derive(Clone, Debug)]
pub struct SharedQuestion<'a> {
    /// The anchors: two or three. With a line through rings the third takes half, so it should be the strongest.
    pub anchors: Vec<&'a Anchor>,
    /// Where the pull goes to: the place of the vehicle.
    pub towards: Vec3,
    /// The pull of all together.
    pub load: Load,
    /// How far in front of the anchors the ring lies, towards the pull; if not told, where the outer legs spread as usual.
    pub ring: Option<Length>,
    /// Whether the ground is saturated.
    pub saturated: bool,
    /// For each, whether something is there that shows in time that it gives.
    pub detectors: Vec<bool>,
    /// The policy that judges.
    pub policy: &'a Policy,
    /// Whether to keep the working.
    pub explain: bool,
}

/// What one anchor gets.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorPart {
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: String,
    /// What it gets at work, over all that nobody knows exactly.
    pub work: Range<Force>,
    /// The most at stall.
    pub stall: Option<Force>,
    /// The same at work as a share of the pull.
    pub share: Range<f64>,
    /// Whether its leg may hang slack.
    pub may_hang_slack: bool,
    /// The policy's word on the most.
    pub verdict: Verdict,
    /// Pull of all together at which to stop for its sake.
    pub stop_load: Option<Force>,
}

/// One way to join them.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedWay {
    /// In words.
    pub how: &'static str,
    /// Greatest force of any anchor over that of each if all were alike: 1 is even.
    pub unevenness: f64,
    /// What each gets.
    pub parts: Vec<AnchorPart>,
    /// The worst word.
    pub verdict: Verdict,
    /// The working.
    pub trail: Trail,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedReport {
    /// The pull.
    pub load: Load,
    /// Where the ring lies.
    pub ring: Vec3,
    /// Widest angle between two legs.
    pub included: Angle,
    /// The ways, the more even first.
    pub ways: Vec<SharedWay>,
    /// Name of the policy.
    pub policy: String,
}
impl SharedWay {
    /// The pull of all together at which to stop; none if nothing asks for it.
    #[must_use]
    pub fn stop_load(&self) -> Option<Force> {
        self.parts.iter().filter_map(|p| p.stop_load).reduce(Force::min)
    }
}
impl SharedReport {
    /// Whether some way passes.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.ways.iter().any(|w| w.verdict.passes())
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum SharedError {
    /// One of them can't be reckoned or is not known.
    Anchor {
        /// Its id.
        id: String,
        /// Why.
        why: String,
    },
    /// The place of the ring is no place.
    Ring(String),
    /// The legs have no balance.
    Balance(String),
}
impl core::fmt::Display for SharedError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Anchor { id, why } => write!(f, "{id}: {why}"),
            Self::Ring(why) => f.write_str(why),
            Self::Balance(why) => f.write_str(why),
        }
    }
}
impl core::error::Error for SharedError {}

/// Length of the second line between the rings of three anchors.
const BETWEEN: Length = Length::from_m(1.0);
/// Least distance of the ring from the anchors.
const NEAREST: f64 = 1.0;

/// What each gets.
///
/// # Errors
/// If an anchor is not known, the ring lies nowhere, or the legs have no balance.
pub fn shared(q: &SharedQuestion<'_>) -> Result<SharedReport, SharedError> {
    let of = |id: &str, e: MechanicsError| SharedError::Anchor { id: id.to_owned(), why: e.to_string() };
    let mut known = Vec::with_capacity(q.anchors.len());
    for a in &q.anchors {
        let c = capacity(a, &Pulled::level(q.saturated), &mut Silent).map_err(|e| of(&a.id, e))?;
        if c.ultimate.is_none() {
            let why = c.reason.unwrap_or_else(|| "what it holds is not known".to_owned());
            return Err(SharedError::Anchor { id: a.id.clone(), why });
        }
        let k = stiffness(a, &c, &mut Silent).map_err(|e| of(&a.id, e))?;
        known.push((*a, c, k));
    }
    let ring = place_of_ring(q)?;
    let direction = (q.towards - ring).level();
    let direction = direction * (1.0 / direction.norm());
    let (ea, friction, error) =
        together::gear().ok_or_else(|| SharedError::Balance("a table lacks a row".to_owned()))?;
    let legs: Vec<SharingLeg> = known
        .iter()
        .map(|(a, _, k)| SharingLeg {
            anchor: a.attachment(),
            length: Length::from_m((a.attachment() - ring).norm()),
            error,
            ea,
            stiffness: *k,
        })
        .collect();
    let equal = Joined::Equalising { friction, between: (legs.len() == 3).then_some(BETWEEN) };
    let ways =
        [("a line through a ring, its ends on the anchors", equal), ("legs of their own to one ring", Joined::Fixed)];
    let mut out = Vec::new();
    let mut included = Angle::ZERO;
    for (how, joined) in ways {
        let mut trail = Trail::default();
        let at = |pull: Force, rec: &mut Trail| -> Result<Sharing, SharedError> {
            share(direction * pull.as_n(), &legs, &joined, rec).map_err(|e| SharedError::Balance(e.to_string()))
        };
        let work = at(q.load.work, &mut trail)?;
        let stall = q.load.stall.map(|s| at(s, &mut Trail::default())).transpose()?;
        included = work.included;
        let parts: Vec<AnchorPart> = known
            .iter()
            .enumerate()
            .filter_map(|(i, (a, c, _))| {
                let mine = work.anchors.get(i)?;
                let most_at_stall = stall.as_ref().and_then(|s| s.anchors.get(i)).map(|s| s.force.high());
                let part = if a.kind.is_made() { PartKind::MadeAnchor } else { PartKind::NaturalAnchor };
                let load = Load { work: mine.force.high(), stall: most_at_stall };
                let detector = q.detectors.get(i).copied().unwrap_or(false);
                let (verdict, stop) = Judged::new(c, part, q.policy, detector).verdict(load, 1.0);
                // The pull of all at which this one is where it must stop.
                let stop = stop.zip(q.load.stall).zip(most_at_stall).map(|((own, all), mine)| all * (own / mine));
                Some(AnchorPart {
                    id: a.id.clone(),
                    what: words::anchor(a),
                    work: mine.force,
                    stall: most_at_stall,
                    share: mine.share,
                    may_hang_slack: mine.may_hang_slack,
                    verdict,
                    stop_load: stop.filter(|_| verdict == Verdict::HoldsBelowStopLoad),
                })
            })
            .collect();
        if !q.explain {
            trail.steps.clear();
        }
        let verdict = parts.iter().map(|p| p.verdict).fold(Verdict::Holds, Verdict::worse);
        out.push(SharedWay { how, unevenness: work.unevenness, parts, verdict, trail });
    }
    unmire_model::order::sort_by(&mut out, |a, b| a.unevenness.total_cmp(&b.unevenness));
    Ok(SharedReport { load: q.load, ring, included, ways: out, policy: q.policy.name.to_owned() })
}

/// Where the ring lies: on the way from the middle of the anchors towards the pull.
fn place_of_ring(q: &SharedQuestion<'_>) -> Result<Vec3, SharedError> {
    let n = q.anchors.len().max(1) as f64;
    let middle = q.anchors.iter().fold(Vec3::ZERO, |s, a| s + a.attachment() * (1.0 / n));
    let way = (q.towards - middle).level();
    if way.norm() < 2.0 * NEAREST {
        return Err(SharedError::Ring(
            "the anchors stand where the pull comes from: there is no room for a ring".into(),
        ));
    }
    let along = way * (1.0 / way.norm());
    // How far the anchors spread across the pull, and how far the foremost stands in front of their middle.
    let off = |a: &&Anchor| {
        let d = (a.attachment() - middle).level();
        let ahead = d.x * along.x + d.y * along.y;
        ((d.x * along.y - d.y * along.x).abs(), ahead)
    };
    let wide = q.anchors.iter().map(|a| off(a).0).fold(0.0, f64::max);
    let ahead = q.anchors.iter().map(|a| off(a).1).fold(0.0, f64::max);
    let usual = wide / libm::tan(together::SPREAD.as_rad() * 0.5);
    let distance = ahead + q.ring.map_or(usual.max(2.0 * NEAREST), Length::as_m);
    if distance >= way.norm() {
        return Err(SharedError::Ring(format!(
            "the anchors stand too far apart: with legs spread over {:.0} deg the ring would lie {distance:.1} m before them, and the \
             vehicle is {:.1} m away",
            together::SPREAD.as_deg(),
            way.norm()
        )));
    }
    Ok(middle + along * distance)
}
