//! Every part that carries load, with its demand and its capacity: from a solved rigging to the facts that rules judge.

use crate::backed::{self, Pending};
use crate::build::{Built, GripMap};
use crate::context::{Context, wetted};
use crate::loads::{self, Loads, force_at, rise_of, sling_tension, stop_force};
use crate::rigging::{Grip, Leg, Pull, Rigging, Stop, Tie, Veh};
use crate::sharing::{Shares, StationShare};
use unmire_audit::facts::{Capacity, ConnectorFact, HitchFact, ParkedFact, PartFact, PartKind, PointFact, TurnFact};
use unmire_audit::strength::{GearClass, RatedFor, Strength, strap_strength};
use unmire_mechanics::hitch::{Hitched, Legs, choker_share};
use unmire_mechanics::rig::Equilibrium;
use unmire_mechanics::rope;
use unmire_mechanics::stability::Pull as Pulled;
use unmire_model::anchor::AnchorKind;
use unmire_model::gear::{Material, Piece, PieceKind, RatingKind};
use unmire_model::layout::Hitch;
use unmire_model::vehicle::{Helper, RecoveryPoint};
use unmire_model::{Angle, Force, Length, Silent, Vec3};
use unmire_tables::bark_limit;

/// Friction of a strap on bark, for the worse leg of a basket: the greatest of the table. Without a row there is no number, and
/// what hangs on it is unknown.
fn bark_friction() -> f64 {
    bark_limit::ROWS.iter().map(|r| r.friction).fold(f64::NAN, f64::max)
}

/// Work and stall of one force.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Demand {
    pub work: Force,
    pub stall: Option<Force>,
}
impl Demand {
    pub fn of(loads: &Loads, f: impl Fn(&Equilibrium) -> f64) -> Self {
        Self { work: loads.work(&f), stall: loads.at_stall(&f) }
    }
    /// Both together.
    pub fn plus(self, more: Self) -> Self {
        let stall = self.stall.map(|s| s + more.stall.unwrap_or(Force::ZERO));
        Self { work: self.work + more.work, stall }
    }
}

/// What the parts of a rig are and carry.
#[derive(Default)]
pub struct Parts<'a> {
    /// The parts.
    pub parts: Vec<PartFact<'a>>,
    /// Straps round things.
    pub hitches: Vec<HitchFact<'a>>,
    /// Vehicle points.
    pub points: Vec<PointFact<'a>>,
    /// Connectors.
    pub connectors: Vec<ConnectorFact<'a>>,
    /// Turns.
    pub turns: Vec<TurnFact<'a>>,
    /// Vehicles held by their tyres.
    pub parked: Vec<ParkedFact>,
    /// Anchors and vehicles that another one backs, before that is judged.
    pub backed: Vec<Pending<'a>>,
    /// Vehicles held by their tyres, each with the pulls on it at which it holds least.
    pub held: Vec<(&'a Helper, Vec<Pulled>)>,
}

pub(crate) fn capacity(s: Strength, k: f64) -> Capacity {
    Capacity {
        breaking: s.breaking.map(|f| f * k),
        working: s.working.map(|f| f * k),
        holding: None,
        stated: false,
        reduction: k,
        unknown_because: s.unknown_because,
    }
}

pub(crate) struct Collector<'c, 'a> {
    pub ctx: &'c Context<'a>,
    pub built: &'c Built,
    pub loads: &'c Loads,
    pub out: Parts<'a>,
    /// What legs get that share, where that has been worked out.
    shares: Option<&'c Shares>,
    seen: Vec<usize>,
}

/// Where a grip stands in the rig.
#[derive(Clone, Copy)]
struct Place<'s> {
    /// `block B1` or `dead end`.
    name: &'s str,
    holds_block: bool,
    whole: Demand,
    shared: Option<&'s StationShare>,
}

impl<'c, 'a> Collector<'c, 'a> {
    pub fn new(ctx: &'c Context<'a>, built: &'c Built, loads: &'c Loads, shares: Option<&'c Shares>) -> Self {
        Self { ctx, built, loads, out: Parts::default(), shares, seen: Vec::with_capacity(8) }
    }

    /// Everything between the puller and the dead end.
    pub fn collect(&mut self, rigging: &Rigging<'a>, cell: Option<&'a Piece>) {
        self.puller(rigging);
        let n = rigging.stops.len();
        for (i, (stop, map)) in rigging.stops.iter().zip(&self.built.stops).enumerate() {
            self.stop(rigging, i, stop, map, i + 1 == n);
        }
        if let Some(cell) = cell {
            let d = Demand::of(self.loads, loads::last_tension);
            self.piece(cell, "load cell at the line's end".to_owned(), PartKind::Connector, d, 1.0, d, 1.0);
        }
    }

    #[allow(clippy::too_many_arguments)]
    fn push(
        &mut self,
        name: String,
        role: String,
        kind: PartKind,
        piece: Option<&'a Piece>,
        demand: Demand,
        share: f64,
        whole: Demand,
        capacity: Capacity,
    ) -> usize {
        self.out.parts.push(PartFact {
            name,
            role,
            kind,
            piece,
            demand_work: Some(demand.work),
            demand_stall: demand.stall,
            share,
            station_stall: whole.stall,
            capacity,
        });
        self.out.parts.len() - 1
    }
    #[allow(clippy::too_many_arguments)]
    fn piece(
        &mut self,
        piece: &'a Piece,
        role: String,
        kind: PartKind,
        demand: Demand,
        share: f64,
        whole: Demand,
        k: f64,
    ) -> usize {
        let capacity = capacity(self.ctx.strength(piece), k);
        let i = self.push(piece.id.clone(), role, kind, Some(piece), demand, share, whole, capacity);
        if matches!(kind, PartKind::Connector | PartKind::BlockConnector) {
            self.out.connectors.push(ConnectorFact { part: i, piece, spread: None });
        }
        i
    }
    fn spread(&mut self, part: usize, spread: Angle) {
        if let Some(c) = self.out.connectors.iter_mut().find(|c| c.part == part) {
            c.spread = Some(c.spread.map_or(spread, |s| s.max(spread)));
        }
    }

    fn puller(&mut self, rigging: &Rigging<'a>) {
        let first = Demand::of(self.loads, loads::first_tension);
        let whole_line = Demand::of(self.loads, loads::greatest_tension);
        match &rigging.pull {
            Pull::Winch { winch, .. } => {
                let class = GearClass::of_line(winch.line.material);
                let bend = self.bend_factor(rigging, winch.line.material, winch.line.diameter);
                let ended = match winch.line.label.rating().map(|r| r.kind) {
                    Some(RatingKind::Working) | None => 1.0,
                    _ => end_factor(winch.line.material),
                };
                let strength = self.ctx.label(&winch.line.label, class);
                // The line breaks at its end or over a sheave, whichever is weaker; both are not added up.
                let k = bend.min(ended);
                self.push(
                    format!("line of {}", winch.id),
                    "winch line".to_owned(),
                    PartKind::Line,
                    None,
                    whole_line,
                    1.0,
                    first,
                    capacity(strength, k),
                );
                let mount = self.ctx.label(&winch.mount, GearClass::Unpublished);
                self.push(
                    format!("mount of {}", winch.id),
                    "winch mount".to_owned(),
                    PartKind::WinchMount,
                    None,
                    first,
                    1.0,
                    first,
                    capacity(mount, 1.0),
                );
            }
            Pull::Tow { helper, point, connectors, line } => {
                for piece in line {
                    self.piece(piece, "tow line".to_owned(), PartKind::Line, first, 1.0, first, 1.0);
                }
                for piece in connectors {
                    let role = format!("connector at point {} of {}", point.id, helper.vehicle.name);
                    self.piece(piece, role, PartKind::Connector, first, 1.0, first, 1.0);
                }
                self.point(Veh::Helper(helper), point, self.built.start);
            }
            Pull::Hand { piece, held_by } => {
                let s = self.ctx.strength(piece);
                let cap = capacity(s, 1.0);
                self.push(
                    piece.id.clone(),
                    "hand winch with its own line".to_owned(),
                    PartKind::HandWinch,
                    Some(piece),
                    first,
                    1.0,
                    first,
                    cap,
                );
                if let Some(map) = &self.built.start_grip {
                    let shared = self.shares.and_then(|s| s.start.as_ref());
                    let place = Place { name: "hand winch", holds_block: false, whole: first, shared };
                    self.grip(held_by, map, place);
                }
            }
        }
    }

    /// Loss of a wire line over the tightest block of the rig.
    fn bend_factor(&self, rigging: &Rigging<'a>, material: Material, diameter: Length) -> f64 {
        if material != Material::SteelWire {
            return 1.0;
        }
        let mut least = 1.0_f64;
        for stop in &rigging.stops {
            if let Some(Piece { kind: PieceKind::Block { sheave: Some(sheave), .. }, .. }) = stop.block
                && let Ok(k) = rope::wire_bend_factor(*sheave / diameter, &mut Silent)
            {
                least = least.min(k);
            }
        }
        least
    }

    fn stop(&mut self, rigging: &Rigging<'a>, i: usize, stop: &Stop<'a>, map: &GripMap, last: bool) {
        let whole = Demand::of(self.loads, |e| stop_force(e, i, last));
        let name = match stop.block {
            Some(b) => crate::words::block(b),
            None => "the line's end".to_owned(),
        };
        if let Some(block) = stop.block {
            let part = self.piece(block, format!("block, station {}", i + 1), PartKind::Block, whole, 1.0, whole, 1.0);
            self.turn(rigging, i, block, part);
        }
        let kind = connector_kind(stop.block.is_some());
        let meets = matches!(&stop.grip, Grip::Anchors(legs) if legs.len() > 1);
        for (j, piece) in stop.connectors.iter().enumerate() {
            let meeting = meets && j + 1 == stop.connectors.len();
            let role =
                if meeting { format!("connector where the legs meet, {name}") } else { format!("connector at {name}") };
            let part = self.piece(piece, role, kind, whole, 1.0, whole, 1.0);
            if meeting && let Some(spread) = self.legs_spread(map) {
                self.spread(part, spread);
            }
        }
        for piece in &stop.extensions {
            self.piece(piece, "lengthens the line".to_owned(), PartKind::Extension, whole, 1.0, whole, 1.0);
        }
        let shared = self.shares.and_then(|s| s.stops.get(i)).and_then(Option::as_ref);
        self.grip(&stop.grip, map, Place { name: &name, holds_block: stop.block.is_some(), whole, shared });
    }

    fn turn(&mut self, rigging: &Rigging<'a>, i: usize, block: &'a Piece, part: usize) {
        let deflection = self.loads.poor.turns.iter().filter(|t| t.line == 0).nth(i).map_or(Angle::ZERO, |t| t.wrap);
        let (diameter, wire) = match &rigging.pull {
            Pull::Winch { winch, .. } => {
                (Some(winch.line.diameter), matches!(winch.line.material, Material::SteelWire | Material::Chain))
            }
            _ => (None, false),
        };
        let sheave = match &block.kind {
            PieceKind::Block { sheave, .. } => *sheave,
            PieceKind::Ring { groove, .. } => *groove,
            _ => None,
        };
        let bend_ratio = match (sheave, diameter) {
            (Some(s), Some(d)) if d.as_m() > 0.0 => Some(s / d),
            _ => None,
        };
        self.out.turns.push(TurnFact {
            part,
            piece: block,
            deflection,
            line_diameter: diameter,
            bend_ratio,
            line_is_wire: wire,
        });
    }

    fn legs_spread(&self, map: &GripMap) -> Option<Angle> {
        let at = |n: usize| self.loads.poor.positions.get(n).copied();
        let node = at(map.node)?;
        let mut widest: Option<Angle> = None;
        for (i, a) in map.legs.iter().enumerate() {
            for b in map.legs.get(i + 1..).unwrap_or_default() {
                let spread = (at(a.anchor_node)? - node).angle_to(at(b.anchor_node)? - node)?;
                widest = Some(widest.map_or(spread, |w| w.max(spread)));
            }
        }
        widest
    }

    fn grip(&mut self, grip: &Grip<'a>, map: &GripMap, place: Place<'_>) {
        let kind = connector_kind(place.holds_block);
        match grip {
            Grip::Point { on, point, connectors } => {
                for piece in connectors {
                    let role = format!("connector at point {} for {}", point.id, place.name);
                    self.piece(piece, role, kind, place.whole, 1.0, place.whole, 1.0);
                }
                self.point(*on, point, map.node);
            }
            Grip::Bridle { on, points, strap, connectors } => {
                let Some(slings) = map.bridle else { return };
                let legs = slings.map(|s| Demand::of(self.loads, |e| sling_tension(e, s)));
                let worse = |a: Option<Force>, b: Option<Force>| Some(a?.max(b?));
                let most = Demand { work: legs[0].work.max(legs[1].work), stall: worse(legs[0].stall, legs[1].stall) };
                let share = |d: Demand| share_of(d, place.whole);
                if let Some(strap) = strap {
                    let role = format!("bridle for {}", place.name);
                    let kind = if place.holds_block { PartKind::BlockStrap } else { PartKind::Extension };
                    self.piece(strap, role, kind, most, share(most), place.whole, 1.0);
                }
                for (j, piece) in connectors.iter().enumerate() {
                    let (d, role) = match (legs.get(j), points.get(j)) {
                        (Some(d), Some(p)) => (*d, format!("connector at point {} for the bridle", p.id)),
                        _ => (place.whole, format!("connector in the middle of the bridle, {}", place.name)),
                    };
                    let part = self.piece(piece, role, kind, d, share(d), place.whole, 1.0);
                    if j >= 2
                        && let Some(spread) = self.bridle_spread(slings)
                    {
                        self.spread(part, spread);
                    }
                }
                for (point, sling) in points.iter().zip(slings) {
                    if let Some(node) = self.built.structure.slings.get(sling).map(|s| s.a) {
                        self.point(*on, point, node);
                    }
                }
            }
            Grip::Anchors(legs) => {
                for (i, (leg, m)) in legs.iter().zip(&map.legs).enumerate() {
                    let most = place.shared.and_then(|s| s.legs.as_ref()).and_then(|l| l.get(i)).copied();
                    let demand = match (most, m.sling) {
                        (Some(most), _) => most,
                        (None, Some(s)) => Demand::of(self.loads, |e| sling_tension(e, s)),
                        (None, None) => place.whole,
                    };
                    self.leg(leg, m.hitched, demand, place);
                    self.anchor_at(leg, m.anchor_node);
                }
            }
            // Refused when the structure is built.
            Grip::Winch { .. } => {}
        }
    }

    fn bridle_spread(&self, slings: [usize; 2]) -> Option<Angle> {
        let arm = |s: usize| {
            let sling = self.built.structure.slings.get(s)?;
            Some(*self.loads.poor.positions.get(sling.a)? - *self.loads.poor.positions.get(sling.b)?)
        };
        arm(slings[0])?.angle_to(arm(slings[1])?)
    }

    /// The strap, what lengthens it, and its connectors.
    fn leg(&mut self, leg: &Leg<'a>, hitched: Option<Hitched>, demand: Demand, place: Place<'_>) {
        let share = share_of(demand, place.whole);
        let kind = connector_kind(place.holds_block);
        if let (Some(strap), Some(h)) = (leg.strap, hitched) {
            let legs = if place.holds_block { Legs::Worst { friction: bark_friction() } } else { Legs::Equal };
            let (raw, rated_for) = strap_strength(strap, leg.hitch);
            let strength = wetted(strap, raw, self.ctx.wet);
            let k = match rated_for {
                RatedFor::Straight => h.capacity_factor(legs, choker_share()),
                RatedFor::Choker => h.choke_pct(),
                RatedFor::Basket => h.basket_pct(legs),
            };
            let role = format!("strap in {} round {} for {}", leg.hitch.word(), leg.anchor.id, place.name);
            let strap_kind = if place.holds_block { PartKind::BlockStrap } else { PartKind::EndStrap };
            let part = self.push(
                strap.id.clone(),
                role,
                strap_kind,
                Some(strap),
                demand,
                share,
                place.whole,
                capacity(strength, k),
            );
            let width = match &strap.kind {
                PieceKind::Strap(s) => s.width,
                _ => None,
            };
            let pressure = |f: Force| h.contact_pressure(f, legs, width?, &mut Silent).ok();
            self.out.hitches.push(HitchFact {
                part,
                anchor: &leg.anchor.id,
                piece: strap,
                hitch: leg.hitch,
                angle: if leg.hitch == Hitch::Choker { h.choke.unwrap_or(Angle::ZERO) } else { h.included },
                pressure_work: pressure(demand.work),
                pressure_stall: demand.stall.and_then(pressure),
                living: leg.anchor.kind.is_living(),
                holds_block: place.holds_block,
                height: leg.anchor.attach_height.value,
                diameter: leg.anchor.kind.radius().map_or(Length::ZERO, |r| r * 2.0),
            });
        }
        for (j, piece) in leg.connectors.iter().enumerate() {
            let role = format!("connector at {} for {}", leg.anchor.id, place.name);
            let part = self.piece(piece, role, kind, demand, share, place.whole, 1.0);
            if let (0, Hitch::Basket, Some(h)) = (j, leg.hitch, hitched) {
                self.spread(part, h.included);
            }
        }
        for piece in &leg.extensions {
            let role = format!("lengthens the strap at {}", leg.anchor.id);
            let kind = if place.holds_block { PartKind::BlockStrap } else { PartKind::Extension };
            self.piece(piece, role, kind, demand, share, place.whole, 1.0);
        }
    }

    /// An anchor with all that pulls on it, once.
    fn anchor_at(&mut self, leg: &Leg<'a>, node: usize) {
        if self.seen.contains(&node) {
            return;
        }
        self.seen.push(node);
        let plain = Demand::of(self.loads, |e| force_at(e, node).norm());
        let more = self.shares.map(|s| s.more_at(node, self.built, self.loads));
        let demand = more.map_or(plain, |m| plain.plus(m));
        self.anchor(leg, demand, self.loads.rise_at(node), force_at(&self.loads.poor, node));
    }
    fn anchor(&mut self, leg: &Leg<'a>, demand: Demand, rise: Angle, pull: Vec3) {
        let (kind, what) = anchor_kind(&leg.anchor.kind);
        let known = self.ctx.anchor(leg.anchor, rise);
        let holding = known.as_ref().and_then(|k| k.ultimate);
        let capacity = Capacity {
            breaking: None,
            working: None,
            holding,
            stated: known.as_ref().is_some_and(|k| k.stated),
            reduction: 1.0,
            unknown_because: if holding.is_some() { None } else { Some("what it holds is not known") },
        };
        let part = self.push(leg.anchor.id.clone(), what.to_owned(), kind, None, demand, 1.0, demand, capacity);
        self.out.backed.extend(backed::anchor(self.ctx, leg.anchor, part, pull, known.as_deref(), demand));
    }

    /// A vehicle's point with all that pulls on it, once.
    fn point(&mut self, on: Veh<'a>, point: &'a RecoveryPoint, node: usize) {
        if self.seen.contains(&node) {
            return;
        }
        self.seen.push(node);
        let demand = Demand::of(self.loads, |e| force_at(e, node).norm());
        let force = force_at(&self.loads.poor, node);
        self.point_with(on, point, demand, force);
    }
    fn point_with(&mut self, on: Veh<'a>, point: &'a RecoveryPoint, demand: Demand, force: Vec3) {
        let name = if on.is_stuck() {
            format!("point {}", point.id)
        } else {
            format!("point {} of {}", point.id, on.vehicle().name)
        };
        let strength = self.ctx.label(&point.label, GearClass::Unpublished);
        let cap = capacity(strength, 1.0);
        let part = self.push(
            name.clone(),
            "recovery point".to_owned(),
            PartKind::RecoveryPoint,
            None,
            demand,
            1.0,
            demand,
            cap,
        );
        let off_axis = point.direction.and_then(|d| on.direction(d).angle_to(force));
        self.out.points.push(PointFact { part, name, id: &point.id, kind: point.kind, off_axis, cone: point.cone });
    }

    /// A tie-back or a holding line that carries this.
    pub fn tie(&mut self, on: Veh<'a>, tie: &Tie<'a>, demand: Demand, what: &str, towards: Vec3) {
        for piece in &tie.connectors {
            let role = format!("connector at point {} for the {what}", tie.point.id);
            self.piece(piece, role, PartKind::Connector, demand, 1.0, demand, 1.0);
        }
        for piece in &tie.line {
            self.piece(piece, what.to_owned(), PartKind::Extension, demand, 1.0, demand, 1.0);
        }
        self.point_with(on, tie.point, demand, towards);
        let place = Place { name: what, holds_block: false, whole: demand, shared: None };
        match &tie.grip {
            Grip::Anchors(legs) => {
                for leg in legs {
                    let hitched = leg.strap.and_then(|strap| {
                        let length = crate::build::length_of(strap)?;
                        unmire_mechanics::hitch::hitch(leg.hitch, leg.anchor.kind.radius(), length, &mut Silent).ok()
                    });
                    self.leg(leg, hitched, demand, place);
                    self.anchor(leg, demand, rise_of(-towards), -towards);
                }
            }
            Grip::Point { on, point, connectors } => {
                for piece in connectors {
                    let role = format!("connector at point {} for the {what}", point.id);
                    self.piece(piece, role, PartKind::Connector, demand, 1.0, demand, 1.0);
                }
                self.point_with(*on, point, demand, -towards);
                if let Veh::Helper(helper) = on {
                    let pull = Pulled { at: point.position, force: -towards };
                    crate::parked::held_by_tyres(self, helper, &[vec![pull]], demand);
                }
            }
            Grip::Winch { on, winch } => {
                let strength = self.ctx.label(&winch.line.label, GearClass::of_line(winch.line.material));
                let k = end_factor(winch.line.material);
                let role = format!("winch line as the {what}");
                let name = format!("line of {}", winch.id);
                self.push(name, role, PartKind::Line, None, demand, 1.0, demand, capacity(strength, k));
                let mount = capacity(self.ctx.label(&winch.mount, GearClass::Unpublished), 1.0);
                let name = format!("mount of {}", winch.id);
                self.push(name, "winch mount".to_owned(), PartKind::WinchMount, None, demand, 1.0, demand, mount);
                if let Veh::Helper(helper) = on {
                    let pull = Pulled { at: winch.position, force: -towards };
                    crate::parked::held_by_tyres(self, helper, &[vec![pull]], demand);
                }
            }
            Grip::Bridle { .. } => {}
        }
    }
}

/// Which part of the whole force at its station a part carries, at stall if there is one.
pub(crate) fn share_of(part: Demand, whole: Demand) -> f64 {
    match (part.stall, whole.stall) {
        (Some(p), Some(w)) if w.as_n() > 0.0 => p / w,
        _ if whole.work.as_n() > 0.0 => part.work / whole.work,
        _ => 1.0,
    }
}

/// Kind of part that an anchor is, and what it is called.
pub(crate) const fn anchor_kind(kind: &AnchorKind) -> (PartKind, &'static str) {
    match kind {
        AnchorKind::Tree(_) => (PartKind::NaturalAnchor, "tree"),
        AnchorKind::Stump(_) => (PartKind::NaturalAnchor, "stump"),
        AnchorKind::RockBolts(_) => (PartKind::MadeAnchor, "rock bolts"),
        AnchorKind::Pickets(_) => (PartKind::MadeAnchor, "pickets"),
        AnchorKind::Deadman(_) => (PartKind::MadeAnchor, "deadman"),
        AnchorKind::Plates(_) => (PartKind::MadeAnchor, "plate anchor"),
        AnchorKind::Boulder(_) => (PartKind::NaturalAnchor, "boulder"),
        AnchorKind::Other { .. } => (PartKind::NaturalAnchor, "anchor"),
        AnchorKind::Made { .. } => (PartKind::MadeAnchor, "made anchor"),
    }
}

const fn connector_kind(holds_block: bool) -> PartKind {
    if holds_block { PartKind::BlockConnector } else { PartKind::Connector }
}

/// What the end of a line keeps of a breaking strength that is printed for the rope: an eye splice or a ferrule.
fn end_factor(material: Material) -> f64 {
    let key = if material == Material::SteelWire { "ferrule" } else { "fibre_eye_splice" };
    if material == Material::Chain {
        return 1.0;
    }
    rope::termination_factor(key, material != Material::SteelWire).unwrap_or(f64::NAN)
}
