//! Anchors that share one pull: what each of them gets, from the least to the greatest, over all that nobody knows exactly.
//!
//! Two, three or four anchors hold one ring, by legs of their own or through a line that runs in the ring and makes the legs
//! equal ([`Joined`]). The ring settles where the forces balance, so the answer comes from the equilibrium solver and not from
//! an angle table. How much an anchor gives, how long a leg is to the centimetre and what the ring's friction is are known
//! only as ranges; every corner of those ranges is solved, and each anchor is told its least and greatest force.
//!
//! **Anchor and leg as one sling.** An anchor that gives by `T/k`, whatever way it is pulled, moves along its own leg. Leg and
//! anchor then lie on one straight line and stretch together by `T (L/EA + 1/k)`: exactly a sling of slack length L with
//! `EA' = L / (L/EA + 1/k)`. Where a line has two ends on two anchors that can't be done; there each anchor is a sling of
//! 0.1 mm on which the line's end hangs. Both models are held against each other in the tests.
//!
//! **Why corners are enough.** Without slack legs a leg's tension is, for small movements, a ratio of two linear functions of
//! each flexibility and linear in each length: it has no greatest value inside. Which legs are slack, and the turning of legs as
//! the ring moves, are left to the solver at each corner.
//!
//! Not modelled: closed loops that slide through several carabiners, knots, legs that touch a third thing, weight of gear,
//! and what happens in the moment when one anchor fails and its part falls on the others.

use crate::error::{MechanicsError, not_negative, positive};
use crate::rig::{Equilibrium, RigError, Solver};
use core::fmt;
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Range, Vec3};

/// One leg with its anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct SharingLeg {
    /// Where the leg is attached to the anchor.
    pub anchor: Vec3,
    /// Its length when slack, from there to the ring.
    pub length: Length,
    /// How far off that length may be, either way: what a crew can set, and what is not known of the anchor's place.
    pub error: Length,
    /// Stiffness EA of the leg: force per unit strain. Of a line that makes legs equal, that of its first leg counts.
    pub ea: Range<Force>,
    /// Stiffness of the anchor, N per metre of movement, whatever way it is pulled.
    pub stiffness: Range<f64>,
}

/// How the legs are joined.
#[derive(Clone, Debug, PartialEq)]
pub enum Joined {
    /// Each leg keeps its length: two to four.
    Fixed,
    /// A line through the ring with its ends on two anchors. With three, the first two so, and a second line from their ring to
    /// the third anchor, through the ring that is pulled.
    Equalising {
        /// Friction of the line in a ring: the capstan law over the angle by which it turns.
        friction: Range<f64>,
        /// With three: the part of the second line from the first ring to the ring that is pulled, when slack.
        between: Option<Length>,
    },
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum SharingError {
    /// An input is not in order.
    Input(MechanicsError),
    /// The legs have no certified balance at some corner.
    Rig(RigError),
}
impl fmt::Display for SharingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(e) => write!(f, "{e}"),
            Self::Rig(e) => write!(f, "the legs that share have no balance: {e}"),
        }
    }
}
impl core::error::Error for SharingError {}
impl From<MechanicsError> for SharingError {
    fn from(e: MechanicsError) -> Self {
        Self::Input(e)
    }
}
impl From<RigError> for SharingError {
    fn from(e: RigError) -> Self {
        Self::Rig(e)
    }
}

/// What one anchor gets.
#[derive(Clone, Debug, PartialEq)]
pub struct AnchorShare {
    /// The force on it over all corners.
    pub force: Range<Force>,
    /// The same as a share of the pull. Legs that spread pull against each other, so that the shares add up to more than 1.
    pub share: Range<f64>,
    /// The force on it in the likely case, newtons.
    pub likely: Vec3,
    /// The most that it gives, at the corner where that is greatest.
    pub gives: Length,
    /// Whether its leg hangs slack at some corner.
    pub may_hang_slack: bool,
}

/// How a pull is shared.
#[derive(Clone, Debug, PartialEq)]
pub struct Sharing {
    /// One an anchor, in the order of the legs.
    pub anchors: Vec<AnchorShare>,
    /// Greatest force of any anchor ÷ the force of each if all legs carried the same: 1 is even.
    pub unevenness: f64,
    /// The widest angle between two of the legs, likely.
    pub included: Angle,
    /// How far the ring moves, at most, while the pull goes from a tenth to the whole.
    pub ring_moves: Length,
    /// How many cases were solved.
    pub solved: usize,
}
impl Sharing {
    /// Legs that carry nothing in the likely case, by their place.
    ///
    /// # Source
    /// None: it reads what was found.
    pub fn slack(&self) -> impl Iterator<Item = usize> + '_ {
        let none = |a: &AnchorShare| a.force.likely() == Force::ZERO;
        self.anchors.iter().enumerate().filter(move |(_, a)| none(a)).map(|(i, _)| i)
    }
}

/// Which end of a range a case takes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Low,
    Likely,
    High,
}
impl End {
    fn of<Q: unmire_model::range::Scalar>(self, r: &Range<Q>) -> Q {
        match self {
            Self::Low => r.low(),
            Self::Likely => r.likely(),
            Self::High => r.high(),
        }
    }
    fn of_error(self, e: Length) -> Length {
        match self {
            Self::Low => -e,
            Self::Likely => Length::ZERO,
            Self::High => e,
        }
    }
    const fn bit(bits: usize, place: usize) -> Self {
        if bits >> place & 1 == 1 { Self::High } else { Self::Low }
    }
}

/// One case: stiffness and length of every leg, and which way each line would slip.
#[derive(Clone, Copy)]
struct Case {
    stiffness: [End; MOST_LEGS],
    length: [End; MOST_LEGS],
    motion: [Motion; 2],
}
impl Case {
    const LIKELY: Self = Self {
        stiffness: [End::Likely; MOST_LEGS],
        length: [End::Likely; MOST_LEGS],
        motion: [Motion::Frictionless; 2],
    };
}

/// Most legs.
const MOST_LEGS: usize = 4;
/// Length of the sling that stands for an anchor at the end of a line, metres.
const ANCHOR_SLING: f64 = 1e-4;
/// The share of the pull from which the movement of the ring is counted: the crew looks at the rig when it is just taut. With
/// much less than this, rounding leaves more of a very stiff leg's force than the certificate allows.
const JUST_TAUT: f64 = 0.1;

/// What each anchor gets of a pull that several hold together, over every corner of what is not known. `pull` is the force on
/// their ring, newtons, from the anchors towards the load.
///
/// # Source
/// `statics`: balance of the ring and of the line, by [`crate::rig`]; springs in series, derived at the head of this file;
/// `capstan` for friction in a ring.
///
/// # Errors
/// If the pull is zero, there are fewer than two or more than four legs (three with an equalising line), a number is not in
/// order, or some corner has no certified balance.
///
/// # Assumes
/// Anchors give alike in every direction and in proportion to their force; legs are straight, elastic and weightless.
pub fn share(pull: Vec3, legs: &[SharingLeg], how: &Joined, rec: &mut impl Recorder) -> Result<Sharing, SharingError> {
    let mut model = Model::of(pull, legs, how)?;
    let mut solver = Solver::default();
    let mut eq = Equilibrium::default();
    model.set(&Case::LIKELY, JUST_TAUT);
    solver.solve_into(&model.structure, &mut eq)?;
    let taut = model.ring(&eq);
    model.set(&Case::LIKELY, 1.0);
    solver.solve_from(&model.structure, &mut eq)?;
    let likely: Vec<Vec3> = (0..legs.len()).map(|i| model.on_anchor(&eq, i)).collect();
    let (included, along) = model.angles(&likely);
    let equal =
        pull.norm() / positive("what the legs have along the pull", along, "legs that don't pull away from it")?;
    let mut ring_moves = (model.ring(&eq) - taut).norm();
    let mut least: Vec<f64> = likely.iter().map(|f| f.norm()).collect();
    let mut most = least.clone();
    let mut gives: Vec<f64> = legs.iter().zip(&most).map(|(l, f)| f / l.stiffness.likely()).collect();
    let cases = model.cases();
    let solved = cases.len() + 2;
    for case in &cases {
        model.set(case, 1.0);
        solver.solve_from(&model.structure, &mut eq)?;
        ring_moves = ring_moves.max((model.ring(&eq) - taut).norm());
        for (i, leg) in legs.iter().enumerate() {
            let f = model.on_anchor(&eq, i).norm();
            let k = case.stiffness.get(i).map_or(f64::NAN, |e| e.of(&leg.stiffness));
            if let (Some(low), Some(high), Some(way)) = (least.get_mut(i), most.get_mut(i), gives.get_mut(i)) {
                *low = low.min(f);
                *high = high.max(f);
                *way = way.max(f / k);
            }
        }
    }
    let whole = pull.norm();
    let mut anchors = Vec::with_capacity(legs.len());
    for (((on, low), high), way) in likely.iter().zip(&least).zip(&most).zip(&gives) {
        let force = Range::hull(Force::from_n(*low), Force::from_n(on.norm()), Force::from_n(*high));
        anchors.push(AnchorShare {
            share: force.increasing(|f| f.as_n() / whole),
            force,
            likely: *on,
            gives: Length::from_m(*way),
            may_hang_slack: *low <= 0.0,
        });
    }
    let greatest = most.iter().fold(0.0_f64, |m, f| m.max(*f));
    for (i, (anchor, leg)) in anchors.iter().zip(legs).enumerate() {
        rec.record(|| {
            let step = Step::range(
                format!("what anchor {} of {} gets", i + 1, legs.len()),
                "T",
                "balance of the ring at every corner of stiffness, length and friction; EA' = L / (L/EA + 1/k)",
                &anchor.force,
                "statics",
            )
            .input("P", whole, Dimension::Force, Origin::Earlier)
            .input("L", leg.length.as_m(), Dimension::Length, Origin::Earlier)
            .input("± L", leg.error.as_m(), Dimension::Length, Origin::Earlier)
            .input_range("EA", &leg.ea, Origin::Earlier)
            .input_range("k, N/m", &leg.stiffness, Origin::Earlier);
            match how {
                Joined::Fixed => step,
                Joined::Equalising { friction, .. } => step.input_range("μ", friction, Origin::Earlier),
            }
        });
    }
    Ok(Sharing { anchors, unevenness: greatest / equal, included, ring_moves: Length::from_m(ring_moves), solved })
}

/// The structure that is solved again and again, seen so that the pull points straight down and is the weight of the ring.
struct Model<'l> {
    legs: &'l [SharingLeg],
    how: &'l Joined,
    whole: f64,
    axes: [Vec3; 3],
    structure: Structure,
    /// The ring that is pulled.
    ring: usize,
}

impl<'l> Model<'l> {
    fn of(pull: Vec3, legs: &'l [SharingLeg], how: &'l Joined) -> Result<Self, SharingError> {
        let whole = positive("the pull", pull.norm(), "greater than zero, for example 20 kN")?;
        let most = if matches!(how, Joined::Fixed) { MOST_LEGS } else { 3 };
        if legs.len() < 2 || legs.len() > most {
            return Err(MechanicsError::BadInput {
                what: "the number of legs that share",
                got: legs.len() as f64,
                expected: "two to four; two or three with an equalising line",
            }
            .into());
        }
        for leg in legs {
            let long = positive("the length of a leg", leg.length.as_m(), "greater than zero, for example 2.5 m")?;
            let off = not_negative("the error of a leg's length", leg.error.as_m(), "zero or more, for example 5 cm")?;
            positive("what is left of a leg's length", long - off, "an error that is smaller than the leg")?;
            positive("the stiffness EA of a leg", leg.ea.low().as_n(), "greater than zero, for example 400 kN")?;
            positive("the stiffness of an anchor", leg.stiffness.low(), "greater than zero, for example 500,000 N/m")?;
        }
        let (Some(down), Some(first)) = (pull.unit(), legs.first()) else {
            return Err(MechanicsError::BadInput { what: "the pull", got: whole, expected: "a direction" }.into());
        };
        let up = -down;
        let aside = if up.x.abs() < 0.7 { Vec3::new(1.0, 0.0, 0.0) } else { Vec3::new(0.0, 1.0, 0.0) };
        let across = up.cross(aside).unit().unwrap_or(aside);
        let axes = [across.cross(up), across, up];
        let seen = |p: Vec3| {
            let d = p - first.anchor;
            Vec3::new(d.dot(axes[0]), d.dot(axes[1]), d.dot(axes[2]))
        };
        let mut s = Structure::default();
        for (i, leg) in legs.iter().enumerate() {
            s.nodes.push(Node::fixed(format!("anchor {}", i + 1), seen(leg.anchor)));
        }
        let n = legs.len() as f64;
        let middle = s.nodes.iter().fold(Vec3::ZERO, |m, p| m + p.at * (1.0 / n));
        let below = |far: f64| middle - Vec3::UP * far;
        let ring = match how {
            Joined::Fixed => {
                let far = legs.iter().map(|l| l.length.as_m()).fold(0.0, f64::max);
                s.nodes.push(Node::free("ring", below(far)));
                let ring = s.nodes.len() - 1;
                for (i, leg) in legs.iter().enumerate() {
                    s.slings.push(Sling::new(format!("leg {}", i + 1), i, ring, leg.length, leg.ea.likely()));
                }
                ring
            }
            Joined::Equalising { friction, between } => {
                not_negative("the friction of a ring", friction.low(), "zero or more, for example 0.15")?;
                Self::lines(&mut s, legs, *between, &below)?
            }
        };
        Ok(Self { legs, how, whole, axes, structure: s, ring })
    }

    /// Adds an end for each line on each anchor, the lines, and the rings; gives back the ring that is pulled.
    fn lines(
        s: &mut Structure,
        legs: &[SharingLeg],
        between: Option<Length>,
        below: &dyn Fn(f64) -> Vec3,
    ) -> Result<usize, SharingError> {
        let n = legs.len();
        let mut far = legs.iter().map(|l| l.length.as_m()).fold(0.0, f64::max);
        s.nodes.push(Node::free("ring", below(far)));
        let mut ring = n;
        let mut ends = Vec::with_capacity(n);
        for i in 0..n {
            let Some(at) = s.nodes.get(i).map(|a| a.at) else { continue };
            let away = (below(far) - at).unit().unwrap_or(-Vec3::UP);
            s.nodes.push(Node::free(format!("end {}", i + 1), at + away * (2.0 * ANCHOR_SLING)));
            ends.push(s.nodes.len() - 1);
            s.slings.push(Sling::new(
                format!("anchor {}", i + 1),
                i,
                s.nodes.len() - 1,
                Length::from_m(ANCHOR_SLING),
                Force::from_n(1.0),
            ));
        }
        let mut line = |name: &str, path: Vec<usize>| {
            s.lines.push(Line {
                name: name.to_owned(),
                path,
                turns: vec![Turn::SMOOTH],
                motion: Motion::Frictionless,
                drive: Drive::Length { rest_length: Length::from_m(1.0), ea: Force::from_n(1.0) },
            });
        };
        if let [a, b, ..] = ends.as_slice() {
            line("equalising line", vec![*a, ring, *b]);
        }
        if let [_, _, c] = ends.as_slice() {
            let Some(between) = between else {
                return Err(MechanicsError::Missing {
                    what: "the part of the second line between the rings",
                    help: "give its length when slack; with three anchors there are two lines",
                }
                .into());
            };
            far += positive("the part between the rings", between.as_m(), "greater than zero, for example 1 m")?;
            let second = s.nodes.len();
            line("second equalising line", vec![ring, second, *c]);
            s.nodes.push(Node::free("second ring", below(far)));
            ring = second;
        }
        Ok(ring)
    }

    /// Sets one case under this share of the pull.
    fn set(&mut self, case: &Case, share: f64) {
        let pull = Force::from_n(self.whole * share);
        if let Some(ring) = self.structure.nodes.get_mut(self.ring) {
            ring.weight = pull;
        }
        let long = |i: usize| {
            let leg = self.legs.get(i)?;
            Some(leg.length + case.length.get(i)?.of_error(leg.error))
        };
        for (i, (leg, sling)) in self.legs.iter().zip(&mut self.structure.slings).enumerate() {
            let end = case.stiffness.get(i).copied().unwrap_or(End::Likely);
            let k = end.of(&leg.stiffness);
            if matches!(self.how, Joined::Fixed) {
                let l = long(i).unwrap_or(leg.length);
                sling.rest_length = l;
                sling.ea = Force::from_n(l.as_m() / (l.as_m() / end.of(&leg.ea).as_n() + 1.0 / k));
            } else {
                sling.ea = Force::from_n(k * ANCHOR_SLING);
            }
        }
        let Joined::Equalising { friction, between } = self.how else { return };
        for (j, line) in self.structure.lines.iter_mut().enumerate() {
            let (parts, leg) = if j == 0 { ((long(0), long(1)), 0) } else { ((*between, long(2)), 2) };
            let ea = self.legs.get(leg).map_or(Force::ZERO, |l| l.ea.likely());
            let rest_length = parts.0.unwrap_or(Length::ZERO) + parts.1.unwrap_or(Length::ZERO);
            line.drive = Drive::Length { rest_length, ea };
            line.motion = case.motion.get(j).copied().unwrap_or_default();
            line.turns.fill(Turn::Ring { friction: friction.high() });
        }
    }

    /// Every corner.
    fn cases(&self) -> Vec<Case> {
        let n = self.legs.len();
        let lines = self.structure.lines.len();
        // Of a line only its whole length counts: that of its first leg stands for it.
        let long: Vec<usize> = match (lines, n) {
            (0, _) => (0..n).collect(),
            (1, _) => vec![0],
            _ => vec![0, 2],
        };
        let mut out = Vec::with_capacity(1 << (n + long.len() + lines));
        for bits in 0..1_usize << (n + long.len() + lines) {
            let mut case = Case::LIKELY;
            for (i, end) in case.stiffness.iter_mut().take(n).enumerate() {
                *end = End::bit(bits, i);
            }
            for (j, i) in long.iter().enumerate() {
                let end = End::bit(bits, n + j);
                if let Some(l) = case.length.get_mut(*i) {
                    *l = end;
                }
                if lines > 0
                    && *i == 0
                    && let Some(l) = case.length.get_mut(1)
                {
                    *l = end;
                }
            }
            for (j, motion) in case.motion.iter_mut().take(lines).enumerate() {
                let back = End::bit(bits, n + long.len() + j) == End::High;
                *motion = if back { Motion::Lowering } else { Motion::Hauling };
            }
            out.push(case);
        }
        out
    }

    fn ring(&self, eq: &Equilibrium) -> Vec3 {
        eq.positions.get(self.ring).copied().unwrap_or(Vec3::new(f64::NAN, f64::NAN, f64::NAN))
    }

    /// The rig's force on an anchor, in the case's frame.
    fn on_anchor(&self, eq: &Equilibrium, i: usize) -> Vec3 {
        let f = eq.forces.get(i).copied().unwrap_or(Vec3::new(f64::NAN, f64::NAN, f64::NAN));
        self.axes[0] * f.x + self.axes[1] * f.y + self.axes[2] * f.z
    }

    /// The widest angle between two legs, and the sum of the cosines of all of them against the pull.
    fn angles(&self, forces: &[Vec3]) -> (Angle, f64) {
        let down = -self.axes[2];
        let mut widest = Angle::ZERO;
        let mut along = 0.0;
        for (i, f) in forces.iter().enumerate() {
            // A slack leg counts as if it lay along the pull.
            along += f.unit().map_or(1.0, |u| u.dot(down));
            for g in forces.iter().skip(i + 1) {
                widest = widest.max(f.angle_to(*g).unwrap_or(Angle::ZERO));
            }
        }
        (widest, along)
    }
}
