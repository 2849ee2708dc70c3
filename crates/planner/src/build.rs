//! From a rigging to the structure that the solver takes, with a map back from members to parts.
//!
//! Connectors are taken as points: their length (some centimetres) is left out of the geometry. A line's own stretch is
//! left out too; straps stretch. A vehicle's points are taken where the file puts them, without the vehicle's tilt.

use crate::rigging::{Grip, Leg, Pull, Rigging, Veh};
use unmire_mechanics::hitch::{HitchError, Hitched, hitch};
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::vehicle::RecoveryPoint;
use unmire_model::{Force, Length, Silent, Vec3};

/// Stiffness of a strap whose label does not help: our own judgement, a polyester strap of about 6 t breaking strength.
/// It only matters where three legs share.
const FALLBACK_EA: Force = Force::from_kn(400.0);

/// Why a rigging can't be built from these pieces.
#[derive(Clone, Debug, PartialEq)]
pub enum NotBuilt {
    /// A strap does not fit its anchor.
    Hitch {
        /// Which strap.
        strap: String,
        /// Which anchor.
        anchor: String,
        /// Why.
        why: HitchError,
    },
    /// A place that needs a piece has none.
    NoPiece {
        /// Which place.
        place: String,
    },
    /// A piece of a kind that can't be used there.
    WrongPiece {
        /// Which piece.
        piece: String,
        /// Which place, and what belongs there.
        place: String,
    },
    /// The line is too short.
    LineTooShort {
        /// How much is missing.
        short_by: Length,
    },
    /// Anchors that share stand further apart than their straps let the legs meet at 120° or less.
    TooFarApart {
        /// Which two.
        anchors: [String; 2],
    },
    /// The two ends are closer than the gear between them is long.
    TooClose,
}
impl core::fmt::Display for NotBuilt {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Hitch { strap, anchor, why } => write!(f, "strap {strap} on anchor {anchor}: {why}"),
            Self::NoPiece { place } => write!(f, "nothing is given for the {place}"),
            Self::WrongPiece { piece, place } => write!(f, "{piece} can't be the {place}"),
            Self::LineTooShort { short_by } => {
                write!(f, "the line is {:.1} m too short", ((short_by.as_m() * 10.0) - 1e-9).ceil() / 10.0)
            }
            Self::TooFarApart { anchors: [a, b] } => write!(
                f,
                "{a} and {b} stand too far apart for these straps: the legs would meet at more than 120°; lengthen them"
            ),
            Self::TooClose => write!(f, "the two ends are closer than the gear between them is long"),
        }
    }
}

/// A grip as members of the structure.
#[derive(Clone, Debug)]
pub struct GripMap {
    /// The point at which the line turns or ends.
    pub node: usize,
    /// For anchors: one sling a leg (none for a fitting without a strap), and the strap's hitch.
    pub legs: Vec<LegMap>,
    /// For a bridle: its two slings.
    pub bridle: Option<[usize; 2]>,
}
/// One anchor leg as members of the structure.
#[derive(Clone, Debug)]
pub struct LegMap {
    /// The anchor's point.
    pub anchor_node: usize,
    /// The sling; none where the connector sits on the anchor itself.
    pub sling: Option<usize>,
    /// The hitch of its strap.
    pub hitched: Option<Hitched>,
}

/// A structure with its map.
#[derive(Clone, Debug)]
pub struct Built {
    /// What the solver takes; the drive is set later.
    pub structure: Structure,
    /// One a stop.
    pub stops: Vec<GripMap>,
    /// Where the line begins.
    pub start: usize,
    /// What holds a hand winch.
    pub start_grip: Option<GripMap>,
    /// Points on the stuck vehicle.
    pub stuck: Vec<usize>,
    /// Points on vehicles: node, which vehicle is stuck, the point's id.
    pub points: Vec<(usize, bool, String)>,
    /// Length of straps and ropes that lengthen the line itself.
    pub lengthened: Length,
}

struct Builder<'s> {
    out: Structure,
    stuck: Vec<usize>,
    points: Vec<(usize, bool, String)>,
    stiffness: &'s dyn Fn(&Piece) -> Option<Force>,
}

/// Length of a strap or a rope; nothing for other pieces.
#[must_use]
pub fn length_of(piece: &Piece) -> Option<Length> {
    match &piece.kind {
        PieceKind::Strap(s) => Some(s.length),
        PieceKind::Rope(r) => Some(r.length),
        PieceKind::HandWinch { line, .. } => Some(*line),
        _ => None,
    }
}

/// Builds the structure of a rigging whose straps, blocks and extensions are chosen. Connectors need not be.
///
/// `stiffness` gives the EA of a strap or rope in a straight pull, where its label lets one tell.
///
/// # Errors
/// Says which piece does not fit where.
pub fn build(rigging: &Rigging<'_>, stiffness: &dyn Fn(&Piece) -> Option<Force>) -> Result<Built, NotBuilt> {
    let mut b = Builder { out: Structure::default(), stuck: Vec::new(), points: Vec::new(), stiffness };
    let target = b.middle_of(rigging);
    let mut start_grip = None;
    let mut tow_point = None;
    let start = match &rigging.pull {
        Pull::Winch { on, winch } => {
            let at = on.place(winch.position);
            let node = b.fixed("fairlead of ".to_owned() + &winch.id, at);
            if on.is_stuck() {
                b.stuck.push(node);
            }
            node
        }
        Pull::Tow { helper, point, line, .. } => {
            // The helper drives on until the line is taut: along the bearing on which it stands, at the line's length.
            let node = b.point(Veh::Helper(helper), point);
            tow_point = Some((node, line.iter().filter_map(|p| length_of(p)).sum::<Length>()));
            node
        }
        Pull::Hand { held_by, .. } => {
            let map = b.grip(held_by, target, "hand winch", Force::ZERO)?;
            let node = map.node;
            start_grip = Some(map);
            node
        }
    };
    let mut stops = Vec::with_capacity(rigging.stops.len());
    for (i, stop) in rigging.stops.iter().enumerate() {
        let last = i + 1 == rigging.stops.len();
        let (name, weight) = match (stop.block, last) {
            (Some(block), false) => {
                if !matches!(block.kind, PieceKind::Block { .. } | PieceKind::Ring { .. }) {
                    return Err(NotBuilt::WrongPiece {
                        piece: block.id.clone(),
                        place: format!("block of station {}; a block or a ring belongs there", i + 1),
                    });
                }
                ("block ".to_owned() + &block.id, block.mass.map_or(Force::ZERO, |m| m.weight()))
            }
            (None, true) => ("dead end".to_owned(), Force::ZERO),
            (None, false) => return Err(NotBuilt::NoPiece { place: format!("block of station {}", i + 1) }),
            (Some(block), true) => {
                return Err(NotBuilt::WrongPiece {
                    piece: block.id.clone(),
                    place: "dead end; the line ends there and does not turn".to_owned(),
                });
            }
        };
        let towards = if i == 0 { b.out.nodes.get(start).map_or(target, |n| n.at) } else { target };
        stops.push(b.grip(&stop.grip, towards, &name, weight)?);
    }
    if let (Some((node, length)), Some(end)) = (tow_point, stops.first()) {
        let from = b.out.nodes.get(end.node).map(|n| n.at);
        if let (Some(from), Some(n)) = (from, b.out.nodes.get_mut(node)) {
            let away = (n.at - from).unit().ok_or(NotBuilt::TooClose)?;
            n.at = from + away * length.as_m();
        }
    }
    let path: Vec<usize> = core::iter::once(start).chain(stops.iter().map(|s| s.node)).collect();
    let turns = vec![Turn::Sheave { ratio: 1.0 }; path.len().saturating_sub(2)];
    b.out.lines.push(Line {
        name: "line".to_owned(),
        path,
        turns,
        motion: Motion::Hauling,
        drive: Drive::Tension(Force::ZERO),
    });
    let lengthened = rigging.stops.iter().flat_map(|s| &s.extensions).filter_map(|p| length_of(p)).sum();
    Ok(Built { structure: b.out, stops, start, start_grip, stuck: b.stuck, points: b.points, lengthened })
}

impl Builder<'_> {
    fn fixed(&mut self, name: String, at: Vec3) -> usize {
        self.out.nodes.push(Node { name, at, fixed: true, weight: Force::ZERO });
        self.out.nodes.len() - 1
    }
    fn free(&mut self, name: String, at: Vec3, weight: Force) -> usize {
        self.out.nodes.push(Node { name, at, fixed: false, weight });
        self.out.nodes.len() - 1
    }
    /// Where the rig is, roughly: a starting direction for free points.
    fn middle_of(&self, rigging: &Rigging<'_>) -> Vec3 {
        let last = rigging.stops.last().map(|s| rough(&s.grip)).unwrap_or_default();
        match &rigging.pull {
            Pull::Winch { on, winch } => (on.place(winch.position) + last) * 0.5,
            Pull::Tow { helper, .. } => (helper.position + last) * 0.5,
            Pull::Hand { held_by, .. } => (rough(held_by) + last) * 0.5,
        }
    }
    /// One node a vehicle point, however often the rig uses it.
    fn point(&mut self, on: Veh<'_>, point: &RecoveryPoint) -> usize {
        let name = if on.is_stuck() {
            "point ".to_owned() + &point.id
        } else {
            format!("point {} of {}", point.id, on.vehicle().name)
        };
        if let Some(i) = self.out.nodes.iter().position(|n| n.fixed && n.name == name) {
            return i;
        }
        let node = self.fixed(name, on.place(point.position));
        self.points.push((node, on.is_stuck(), point.id.clone()));
        if on.is_stuck() {
            self.stuck.push(node);
        }
        node
    }
    /// One node an anchor, however often the rig uses it: its forces add up.
    fn anchor(&mut self, leg: &Leg<'_>) -> usize {
        let name = "anchor ".to_owned() + &leg.anchor.id;
        match self.out.nodes.iter().position(|n| n.fixed && n.name == name) {
            Some(i) => i,
            None => self.fixed(name, leg.anchor.attachment()),
        }
    }
    fn grip(&mut self, grip: &Grip<'_>, towards: Vec3, name: &str, weight: Force) -> Result<GripMap, NotBuilt> {
        match grip {
            Grip::Point { on, point, .. } => {
                Ok(GripMap { node: self.point(*on, point), legs: Vec::new(), bridle: None })
            }
            Grip::Bridle { on, points, strap, .. } => {
                let strap = strap.ok_or_else(|| NotBuilt::NoPiece { place: format!("bridle at the {name}") })?;
                let length = length_of(strap).ok_or_else(|| NotBuilt::WrongPiece {
                    piece: strap.id.clone(),
                    place: "bridle; a strap belongs there".to_owned(),
                })?;
                let ends = points.map(|p| self.point(*on, p));
                let middle = (on.place(points[0].position) + on.place(points[1].position)) * 0.5;
                let half = length * 0.5;
                let away = (towards - middle).unit().unwrap_or(Vec3::UP);
                let node = self.free(name.to_owned(), middle + away * half.as_m(), weight);
                let ea = (self.stiffness)(strap).unwrap_or(FALLBACK_EA);
                let slings = ends.map(|end| self.sling(strap.id.clone(), end, node, half, ea));
                Ok(GripMap { node, legs: Vec::new(), bridle: Some(slings) })
            }
            Grip::Anchors(legs) => self.anchors(legs, towards, name, weight),
            Grip::Winch { winch, .. } => Err(NotBuilt::WrongPiece {
                piece: winch.id.clone(),
                place: format!("hold of the {name}; a winch's own line is for holding lines only"),
            }),
        }
    }
    fn anchors(&mut self, legs: &[Leg<'_>], towards: Vec3, name: &str, weight: Force) -> Result<GripMap, NotBuilt> {
        // A single fitting without a strap: the station sits on the anchor.
        if let [leg] = legs
            && leg.strap.is_none()
        {
            if leg.anchor.kind.radius().is_some() {
                return Err(NotBuilt::NoPiece { place: format!("strap on anchor {}", leg.anchor.id) });
            }
            let node = self.anchor(leg);
            let map = LegMap { anchor_node: node, sling: None, hitched: None };
            return Ok(GripMap { node, legs: vec![map], bridle: None });
        }
        let mut members = Vec::with_capacity(legs.len());
        let mut start = Vec3::ZERO;
        for leg in legs {
            let strap =
                leg.strap.ok_or_else(|| NotBuilt::NoPiece { place: format!("strap on anchor {}", leg.anchor.id) })?;
            let PieceKind::Strap(s) = &strap.kind else {
                return Err(NotBuilt::WrongPiece {
                    piece: strap.id.clone(),
                    place: format!("strap on anchor {}; a strap or a round sling belongs there", leg.anchor.id),
                });
            };
            let hitched = hitch(leg.hitch, leg.anchor.kind.radius(), s.length, &mut Silent)
                .map_err(|why| NotBuilt::Hitch { strap: strap.id.clone(), anchor: leg.anchor.id.clone(), why })?;
            let strap_ea = (self.stiffness)(strap).unwrap_or(FALLBACK_EA);
            let mut reach = hitched.reach;
            // Members in series: flexibilities L / EA add up.
            let mut flexibility = hitched.reach.as_m() / hitched.stiffness(strap_ea).as_n();
            for piece in &leg.extensions {
                let length = length_of(piece).ok_or_else(|| NotBuilt::WrongPiece {
                    piece: piece.id.clone(),
                    place: format!("extension at anchor {}; a strap or a rope belongs there", leg.anchor.id),
                })?;
                let ea = (self.stiffness)(piece).unwrap_or(FALLBACK_EA);
                flexibility += length.as_m() / ea.as_n();
                reach += length;
            }
            let at = leg.anchor.attachment();
            let away = (towards - at).unit().ok_or(NotBuilt::TooClose)?;
            start += (at + away * reach.as_m()) * (1.0 / legs.len() as f64);
            members.push((leg, strap, hitched, reach, Force::from_n(reach.as_m() / flexibility)));
        }
        // At an included angle of 120° the far side is √3 / 2 of both legs together, if they are alike; it is never more.
        for (i, (a, .., reach_a, _)) in members.iter().enumerate() {
            for (b, .., reach_b, _) in members.iter().skip(i + 1) {
                let apart = (a.anchor.attachment() - b.anchor.attachment()).norm();
                let (x, y) = (reach_a.as_m(), reach_b.as_m());
                if apart > (x * x + y * y + x * y).sqrt() {
                    return Err(NotBuilt::TooFarApart { anchors: [a.anchor.id.clone(), b.anchor.id.clone()] });
                }
            }
        }
        let start = if members.len() > 1 { first_taut(&members, towards).unwrap_or(start) } else { start };
        let node = self.free(name.to_owned(), start, weight);
        let mut maps = Vec::with_capacity(members.len());
        for (leg, strap, hitched, reach, ea) in members {
            let anchor_node = self.anchor(leg);
            let sling = self.sling(strap.id.clone(), anchor_node, node, reach, ea);
            maps.push(LegMap { anchor_node, sling: Some(sling), hitched: Some(hitched) });
        }
        Ok(GripMap { node, legs: maps, bridle: None })
    }
    fn sling(&mut self, name: String, a: usize, b: usize, rest_length: Length, ea: Force) -> usize {
        self.out.slings.push(Sling { name, a, b, rest_length, ea });
        self.out.slings.len() - 1
    }
}

/// Where legs that meet begin to share: from the middle of their anchors towards the rig until the first of them is taut.
fn first_taut(members: &[(&Leg<'_>, &Piece, Hitched, Length, Force)], towards: Vec3) -> Option<Vec3> {
    let n = members.len() as f64;
    let middle = members.iter().fold(Vec3::ZERO, |m, (leg, ..)| m + leg.anchor.attachment() * (1.0 / n));
    let along = (towards - middle).unit()?;
    let mut least = f64::INFINITY;
    for (leg, _, _, reach, _) in members {
        let arm = middle - leg.anchor.attachment();
        let (b, c) = (arm.dot(along), arm.dot(arm) - reach.as_m() * reach.as_m());
        // |arm + along d| = reach; no root means that this leg can't come to that line at all.
        let d = (b * b - c).sqrt() - b;
        if d.is_finite() && d > 0.0 {
            least = least.min(d);
        }
    }
    least.is_finite().then(|| middle + along * least)
}

/// About where a grip is.
fn rough(grip: &Grip<'_>) -> Vec3 {
    match grip {
        Grip::Anchors(legs) => {
            legs.iter().fold(Vec3::ZERO, |sum, l| sum + l.anchor.attachment() * (1.0 / legs.len() as f64))
        }
        Grip::Point { on, point, .. } => on.place(point.position),
        Grip::Bridle { on, points, .. } => on.place((points[0].position + points[1].position) * 0.5),
        Grip::Winch { on, winch } => on.place(winch.position),
    }
}
