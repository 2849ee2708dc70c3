//! A layout with every name replaced by the thing itself: what the loads are computed on.
//!
//! The search builds riggings directly from the kit; a layout that a case file states becomes one by [`resolve`].

use unmire_model::anchor::Anchor;
use unmire_model::case::Case;
use unmire_model::gear::Piece;
use unmire_model::layout::{AnchorLeg, Family, Hitch, Hold, HoldingLine, Layout, Puller, Station, Who};
use unmire_model::vehicle::{Helper, RecoveryPoint, Vehicle, Winch};
use unmire_model::{Angle, Vec3};

/// A vehicle of the case.
#[derive(Clone, Copy, Debug)]
pub enum Veh<'a> {
    /// The stuck one.
    Stuck(&'a Vehicle),
    /// A helper.
    Helper(&'a Helper),
}
impl<'a> Veh<'a> {
    /// The vehicle itself.
    #[must_use]
    pub fn vehicle(self) -> &'a Vehicle {
        match self {
            Self::Stuck(v) => v,
            Self::Helper(h) => &h.vehicle,
        }
    }
    /// A point of its own frame in the case's frame.
    #[must_use]
    pub fn place(self, p: Vec3) -> Vec3 {
        match self {
            Self::Stuck(_) => p,
            Self::Helper(h) => h.to_case(p),
        }
    }
    /// A direction of its own frame in the case's frame.
    #[must_use]
    pub fn direction(self, d: Vec3) -> Vec3 {
        match self {
            Self::Stuck(_) => d,
            Self::Helper(h) => h.direction_to_case(d),
        }
    }
    /// Whether it is the stuck one.
    #[must_use]
    pub fn is_stuck(self) -> bool {
        matches!(self, Self::Stuck(_))
    }
    /// Its heading in the case's frame.
    #[must_use]
    pub fn heading(self) -> Angle {
        match self {
            Self::Stuck(_) => Angle::ZERO,
            Self::Helper(h) => h.heading,
        }
    }
    fn who(self) -> Who {
        match self {
            Self::Stuck(_) => Who::Stuck,
            Self::Helper(h) => Who::Helper(h.vehicle.name.clone()),
        }
    }
}

/// One anchor with what is rigged on it.
#[derive(Clone, Debug)]
pub struct Leg<'a> {
    /// The anchor.
    pub anchor: &'a Anchor,
    /// How the strap holds it.
    pub hitch: Hitch,
    /// The strap.
    pub strap: Option<&'a Piece>,
    /// What lengthens it.
    pub extensions: Vec<&'a Piece>,
    /// One connector after the strap and one after each extension.
    pub connectors: Vec<&'a Piece>,
}

/// What holds a block, a dead end or a puller.
#[derive(Clone, Debug)]
pub enum Grip<'a> {
    /// Anchors whose legs meet.
    Anchors(Vec<Leg<'a>>),
    /// A point of a vehicle.
    Point {
        /// Which vehicle.
        on: Veh<'a>,
        /// Which point.
        point: &'a RecoveryPoint,
        /// Connectors there.
        connectors: Vec<&'a Piece>,
    },
    /// Two points of a vehicle through a bridle.
    Bridle {
        /// Which vehicle.
        on: Veh<'a>,
        /// Which points.
        points: [&'a RecoveryPoint; 2],
        /// The bridle; none only while the search has not chosen one.
        strap: Option<&'a Piece>,
        /// Connectors: at each point, then in the middle.
        connectors: Vec<&'a Piece>,
    },
    /// A vehicle's winch whose own line holds: for holding lines only.
    Winch {
        /// On which vehicle.
        on: Veh<'a>,
        /// The winch.
        winch: &'a Winch,
    },
}

/// Where the line turns or ends.
#[derive(Clone, Debug)]
pub struct Stop<'a> {
    /// The block it turns round; none at the dead end.
    pub block: Option<&'a Piece>,
    /// What lengthens the line at its dead end.
    pub extensions: Vec<&'a Piece>,
    /// One connector for each extension, then one where several legs meet.
    pub connectors: Vec<&'a Piece>,
    /// What holds it.
    pub grip: Grip<'a>,
}

/// A holding line or a tie-back.
#[derive(Clone, Debug)]
pub struct Tie<'a> {
    /// The vehicle's point.
    pub point: &'a RecoveryPoint,
    /// Connectors there.
    pub connectors: Vec<&'a Piece>,
    /// Straps or ropes that are the line.
    pub line: Vec<&'a Piece>,
    /// What it is held by.
    pub grip: Grip<'a>,
}

/// What pulls.
#[derive(Clone, Debug)]
pub enum Pull<'a> {
    /// A vehicle's winch.
    Winch {
        /// On which vehicle.
        on: Veh<'a>,
        /// The winch.
        winch: &'a Winch,
    },
    /// A helper drives.
    Tow {
        /// Which helper.
        helper: &'a Helper,
        /// From which point.
        point: &'a RecoveryPoint,
        /// Connectors there.
        connectors: Vec<&'a Piece>,
        /// The line.
        line: Vec<&'a Piece>,
    },
    /// A hand winch.
    Hand {
        /// Which.
        piece: &'a Piece,
        /// What its body is held by.
        held_by: Grip<'a>,
    },
}

/// All of it.
#[derive(Clone, Debug)]
pub struct Rigging<'a> {
    /// Which family.
    pub family: Family,
    /// What pulls.
    pub pull: Pull<'a>,
    /// Where the line goes; the last one is the dead end.
    pub stops: Vec<Stop<'a>>,
    /// Tie-back of the helper that pulls.
    pub tie_back: Option<Tie<'a>>,
    /// Holding line of the stuck vehicle.
    pub holding: Option<Tie<'a>>,
    /// Pieces beside.
    pub beside: Vec<&'a Piece>,
}

impl<'a> Leg<'a> {
    fn names(&self) -> AnchorLeg {
        AnchorLeg {
            anchor: self.anchor.id.clone(),
            hitch: self.hitch,
            strap: self.strap.map(|p| p.id.clone()),
            extensions: ids(&self.extensions),
            connectors: ids(&self.connectors),
        }
    }
}
impl<'a> Grip<'a> {
    fn names(&self) -> Hold {
        match self {
            Self::Anchors(legs) => Hold::Anchors(legs.iter().map(Leg::names).collect()),
            Self::Point { on, point, connectors } => {
                Hold::Point { on: on.who(), point: point.id.clone(), connectors: ids(connectors) }
            }
            Self::Bridle { on, points, strap, connectors } => Hold::Bridle {
                on: on.who(),
                points: points.map(|p| p.id.clone()),
                bridle: strap.map(|p| p.id.clone()).unwrap_or_default(),
                connectors: ids(connectors),
            },
            Self::Winch { on, .. } => Hold::Winch { on: on.who() },
        }
    }
    /// Every piece in it, in order.
    pub fn pieces(&self, out: &mut Vec<&'a Piece>) {
        match self {
            Self::Anchors(legs) => {
                for leg in legs {
                    out.extend(leg.strap);
                    out.extend(&leg.extensions);
                    out.extend(&leg.connectors);
                }
            }
            Self::Point { connectors, .. } => out.extend(connectors),
            Self::Bridle { strap, connectors, .. } => {
                out.extend(strap);
                out.extend(connectors);
            }
            Self::Winch { .. } => {}
        }
    }
}
fn ids(pieces: &[&Piece]) -> Vec<String> {
    pieces.iter().map(|p| p.id.clone()).collect()
}
impl<'a> Tie<'a> {
    fn names(&self) -> HoldingLine {
        HoldingLine {
            point: self.point.id.clone(),
            connectors: ids(&self.connectors),
            line: ids(&self.line),
            hold: self.grip.names(),
        }
    }
}
impl<'a> Rigging<'a> {
    /// The layout in names.
    #[must_use]
    pub fn layout(&self) -> Layout {
        let puller = match &self.pull {
            Pull::Winch { on, .. } => Puller::Winch { on: on.who() },
            Pull::Tow { helper, point, connectors, line } => Puller::Tow {
                helper: helper.vehicle.name.clone(),
                point: point.id.clone(),
                connectors: ids(connectors),
                line: ids(line),
            },
            Pull::Hand { piece, held_by } => {
                Puller::HandWinch { piece: piece.id.clone(), held_by: Box::new(held_by.names()) }
            }
        };
        let station = |s: &Stop<'a>| Station {
            block: s.block.map(|p| p.id.clone()),
            extensions: ids(&s.extensions),
            connectors: ids(&s.connectors),
            hold: s.grip.names(),
        };
        Layout {
            family: self.family,
            puller,
            stations: self.stops.iter().map(station).collect(),
            tie_back: self.tie_back.as_ref().map(Tie::names),
            holding: self.holding.as_ref().map(Tie::names),
            beside: ids(&self.beside),
            line: 0,
        }
    }
    /// Every piece that carries load, in rigging order.
    #[must_use]
    pub fn pieces(&self) -> Vec<&'a Piece> {
        let mut out: Vec<&'a Piece> = Vec::with_capacity(12);
        match &self.pull {
            Pull::Winch { .. } => {}
            Pull::Tow { connectors, line, .. } => {
                out.extend(connectors);
                out.extend(line);
            }
            Pull::Hand { piece, held_by } => {
                out.push(piece);
                held_by.pieces(&mut out);
            }
        }
        for stop in &self.stops {
            out.extend(stop.block);
            out.extend(&stop.extensions);
            out.extend(&stop.connectors);
            stop.grip.pieces(&mut out);
        }
        for tie in self.tie_back.iter().chain(&self.holding) {
            out.extend(&tie.connectors);
            out.extend(&tie.line);
            tie.grip.pieces(&mut out);
        }
        out
    }
}

/// A name in a layout that nothing in the case answers to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoSuch {
    /// What kind of thing was asked for.
    pub what: &'static str,
    /// Its name.
    pub name: String,
}
impl core::fmt::Display for NoSuch {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "the rig names the {} '{}', which the case does not have", self.what, self.name)
    }
}

/// Replaces names by things.
///
/// # Errors
/// Names the first name that nothing answers to.
pub fn resolve<'a>(case: &'a Case, layout: &Layout) -> Result<Rigging<'a>, NoSuch> {
    let find = Find { case };
    let pull = match &layout.puller {
        Puller::Winch { on } => {
            let on = find.vehicle(on)?;
            Pull::Winch { on, winch: find.winch(on)? }
        }
        Puller::Tow { helper, point, connectors, line } => {
            let h = find.helper(helper)?;
            Pull::Tow {
                helper: h,
                point: find.point(Veh::Helper(h), point)?,
                connectors: find.pieces(connectors)?,
                line: find.pieces(line)?,
            }
        }
        Puller::HandWinch { piece, held_by } => Pull::Hand { piece: find.piece(piece)?, held_by: find.grip(held_by)? },
    };
    let stops = layout
        .stations
        .iter()
        .map(|s| {
            Ok(Stop {
                block: s.block.as_ref().map(|id| find.piece(id)).transpose()?,
                extensions: find.pieces(&s.extensions)?,
                connectors: find.pieces(&s.connectors)?,
                grip: find.grip(&s.hold)?,
            })
        })
        .collect::<Result<_, NoSuch>>()?;
    let tie = |on: Veh<'a>, t: &HoldingLine| {
        Ok(Tie {
            point: find.point(on, &t.point)?,
            connectors: find.pieces(&t.connectors)?,
            line: find.pieces(&t.line)?,
            grip: find.grip(&t.hold)?,
        })
    };
    let puller_vehicle = match &pull {
        Pull::Winch { on, .. } => *on,
        Pull::Tow { helper, .. } => Veh::Helper(helper),
        Pull::Hand { .. } => Veh::Stuck(&case.vehicle),
    };
    Ok(Rigging {
        family: layout.family,
        pull,
        stops,
        tie_back: layout.tie_back.as_ref().map(|t| tie(puller_vehicle, t)).transpose()?,
        holding: layout.holding.as_ref().map(|t| tie(Veh::Stuck(&case.vehicle), t)).transpose()?,
        beside: find.pieces(&layout.beside)?,
    })
}

struct Find<'a> {
    case: &'a Case,
}
impl<'a> Find<'a> {
    fn piece(&self, id: &str) -> Result<&'a Piece, NoSuch> {
        self.case.piece(id).ok_or_else(|| NoSuch { what: "piece", name: id.to_owned() })
    }
    fn pieces(&self, ids: &[String]) -> Result<Vec<&'a Piece>, NoSuch> {
        ids.iter().map(|id| self.piece(id)).collect()
    }
    fn helper(&self, name: &str) -> Result<&'a Helper, NoSuch> {
        let found = self.case.helpers.iter().find(|h| h.vehicle.name == name);
        found.ok_or_else(|| NoSuch { what: "helper", name: name.to_owned() })
    }
    fn vehicle(&self, who: &Who) -> Result<Veh<'a>, NoSuch> {
        match who {
            Who::Stuck => Ok(Veh::Stuck(&self.case.vehicle)),
            Who::Helper(name) => Ok(Veh::Helper(self.helper(name)?)),
        }
    }
    fn winch(&self, on: Veh<'a>) -> Result<&'a Winch, NoSuch> {
        let winch = on.vehicle().winch.as_ref();
        winch.ok_or_else(|| NoSuch { what: "winch of", name: on.vehicle().name.clone() })
    }
    fn point(&self, on: Veh<'a>, id: &str) -> Result<&'a RecoveryPoint, NoSuch> {
        let found = on.vehicle().points.iter().find(|p| p.id == id);
        found.ok_or_else(|| NoSuch { what: "recovery point", name: id.to_owned() })
    }
    fn grip(&self, hold: &Hold) -> Result<Grip<'a>, NoSuch> {
        Ok(match hold {
            Hold::Anchors(legs) => Grip::Anchors(legs.iter().map(|l| self.leg(l)).collect::<Result<_, _>>()?),
            Hold::Point { on, point, connectors } => {
                let on = self.vehicle(on)?;
                Grip::Point { on, point: self.point(on, point)?, connectors: self.pieces(connectors)? }
            }
            Hold::Bridle { on, points: [a, b], bridle, connectors } => {
                let on = self.vehicle(on)?;
                Grip::Bridle {
                    on,
                    points: [self.point(on, a)?, self.point(on, b)?],
                    strap: Some(self.piece(bridle)?),
                    connectors: self.pieces(connectors)?,
                }
            }
            Hold::Winch { on } => {
                let on = self.vehicle(on)?;
                Grip::Winch { on, winch: self.winch(on)? }
            }
        })
    }
    fn leg(&self, leg: &AnchorLeg) -> Result<Leg<'a>, NoSuch> {
        let anchor = self.case.anchor(&leg.anchor);
        Ok(Leg {
            anchor: anchor.ok_or_else(|| NoSuch { what: "anchor", name: leg.anchor.clone() })?,
            hitch: leg.hitch,
            strap: leg.strap.as_ref().map(|id| self.piece(id)).transpose()?,
            extensions: self.pieces(&leg.extensions)?,
            connectors: self.pieces(&leg.connectors)?,
        })
    }
}
