//! Walking the way out: at each step the rig is solved again from where the steps before lead; where something changes much or a
//! mark goes up the step is halved until the place is known to a millimetre or so.

use super::ahead::Ahead;
use super::path::Path;
use super::place::{Place, mark};
use crate::build::{Built, build};
use crate::context::Context;
use crate::crossing::crosses;
use crate::evaluate::NoRig;
use crate::loads::{first_tension, turn_of};
use crate::parked;
use crate::rigging::{Pull, Rigging};
use unmire_mechanics::rig::{Equilibrium, RigError, Solver};
use unmire_mechanics::winch::{DriveKind, WinchAt, WinchMotor, fairlead_limit, hand_winch_stall, winch_at};
use unmire_model::gear::PieceKind;
use unmire_model::rig::{Drive, Motion, Structure};
use unmire_model::{Angle, Force, Length, Range, Silent, Vec3};

/// Shortest leg of a line: what block, hook and shackle are long. Our own judgement; a block that closes up on it is torn apart.
const TWO_BLOCK: f64 = 0.5;
/// Under this need nothing is pulled, newtons.
const NO_NEED: f64 = 1.0;
/// A tension that changes by more than this share of the greatest asks for a shorter step.
const SHARE: f64 = 0.01;
/// How often in a step the place where the winch changes is sought by the length of the line; after that the step is halved.
const MOST_SOUGHT: u32 = 4;
/// Widest angle between legs that share. Published: 120°, `asme-b30-26`.
const WIDEST: Angle = Angle::from_deg(120.0);

/// Why a walk ended before the last metre.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Ended {
    /// At the end of the way, or where it was told to.
    Way,
    /// A mark that ends a stage went up.
    Mark(u64),
    /// The rig has no balance any more.
    Statics(RigError),
    /// The winch's data make no sense there.
    Winch(String),
}

/// What does not change on the way: the rig, its puller, what stands on the site and what goes along.
pub(crate) struct Setup<'w, 'a> {
    ctx: &'w Context<'a>,
    path: &'w Path,
    rigging: &'w Rigging<'a>,
    /// The rig, with the map of its parts.
    pub built: Built,
    /// What drives the puller; none if its rating is not known.
    pub motor: Option<WinchMotor>,
    /// Where each point stands on the site; none for what goes with the vehicle.
    on_site: Vec<Option<Vec3>>,
    /// Slings whose slackness matters: legs that share, both legs of a bridle.
    sharing: Vec<usize>,
    /// Legs that meet: the point, their other ends.
    meeting: Vec<(usize, Vec<usize>)>,
}

impl<'w, 'a> Setup<'w, 'a> {
    /// Of a rig on a way.
    ///
    /// # Errors
    /// If its pieces do not make it, or the puller's data make no sense.
    pub fn of(ctx: &'w Context<'a>, path: &'w Path, rigging: &'w Rigging<'a>) -> Result<Self, NoRig> {
        let built = build(rigging, &|p| ctx.stiffness(p))?;
        let s = &built.structure;
        // A helper that tows drives on with the vehicle.
        let towing = match &rigging.pull {
            Pull::Tow { helper, .. } => Some(format!(" of {}", helper.vehicle.name)),
            _ => None,
        };
        let goes_along = |i: usize, name: &str| {
            built.stuck.contains(&i) || towing.as_ref().is_some_and(|t| i == built.start || name.ends_with(t.as_str()))
        };
        let on_site =
            s.nodes.iter().enumerate().map(|(i, n)| (n.fixed && !goes_along(i, &n.name)).then_some(n.at)).collect();
        let grips = built.stops.iter().chain(&built.start_grip);
        let mut sharing = Vec::new();
        let mut meeting = Vec::new();
        for g in grips {
            if let Some(bridle) = g.bridle {
                sharing.extend(bridle);
                let ends =
                    bridle.iter().filter_map(|i| s.slings.get(*i)).map(|l| if l.a == g.node { l.b } else { l.a });
                meeting.push((g.node, ends.collect()));
            } else if g.legs.len() > 1 {
                sharing.extend(g.legs.iter().filter_map(|l| l.sling));
                meeting.push((g.node, g.legs.iter().map(|l| l.anchor_node).collect()));
            }
        }
        let motor = motor(ctx, rigging)?;
        Ok(Self { ctx, path, rigging, motor, on_site, sharing, meeting, built })
    }

    /// Names of the slings behind the marks of slackness.
    pub fn sharing(&self) -> impl Iterator<Item = &str> {
        self.sharing.iter().map(|i| self.built.structure.slings.get(*i).map_or("", |s| s.name.as_str()))
    }
    /// Names of the points behind the marks of legs that open.
    pub fn meeting(&self) -> impl Iterator<Item = &str> {
        self.meeting.iter().map(|(n, _)| self.built.structure.nodes.get(*n).map_or("", |s| s.name.as_str()))
    }
    /// What of the need on a stretch lifts the vehicle, high end.
    pub fn lift(&self, leg: usize) -> Force {
        self.path.legs.get(leg).map_or(Force::ZERO, |l| l.lift)
    }
    /// Whether a point goes with the vehicle.
    pub fn goes_along(&self, node: usize) -> bool {
        let fixed = self.built.structure.nodes.get(node).is_some_and(|n| n.fixed);
        fixed && self.on_site.get(node).is_some_and(Option::is_none)
    }
}

/// Who walks.
pub(crate) struct Walker<'s, 'w, 'a> {
    setup: &'s Setup<'w, 'a>,
    solver: Solver,
    poor: Structure,
    good: Structure,
    stall: Structure,
    turns: bool,
    /// For each leg of the line: how short it may become.
    shortest: Vec<f64>,
    here: Place,
    next: Place,
    /// Where the places so far lead: sheaves at their worst, at their best, at stall.
    ahead: [Ahead; 3],
}

impl<'s, 'w, 'a> Walker<'s, 'w, 'a> {
    /// At the start of the way, not solved yet.
    pub fn new(setup: &'s Setup<'w, 'a>) -> Self {
        let s = &setup.built.structure;
        let sheaved = |poor: bool| {
            let mut out = s.clone();
            if let Some(line) = out.lines.first_mut() {
                line.motion = Motion::Hauling;
                line.drive = Drive::Pull {
                    points: setup.built.stuck.clone(),
                    direction: Vec3::new(1.0, 0.0, 0.0),
                    force: Force::from_n(1.0),
                };
                for (turn, stop) in line.turns.iter_mut().zip(&setup.rigging.stops) {
                    *turn = turn_of(stop.block, poor);
                }
            }
            out
        };
        let (poor, good) = (sheaved(true), sheaved(false));
        let mut stall = s.clone();
        if let Some(line) = stall.lines.first_mut() {
            line.motion = Motion::Frictionless;
        }
        let turns = s.lines.first().is_some_and(|l| !l.turns.is_empty());
        let (here, next) = (Place::default(), Place::default());
        let (solver, shortest, ahead) = (Solver::default(), Vec::new(), Default::default());
        Self { setup, solver, poor, good, stall, turns, shortest, here, next, ahead }
    }

    /// Walks from the start until `until`, telling each place with the one before it. Places of the grid are `spacing` apart;
    /// `keep` tells whether a place is one of them (or a mark changed there) and not only a step in between.
    pub fn walk(
        &mut self,
        until: f64,
        spacing: f64,
        mut tell: impl FnMut(&Place, &Place, bool),
    ) -> Result<Ended, NoRig> {
        let end = until.min(self.setup.path.length);
        let least = (spacing / 64.0).max(1e-4);
        self.attempt(0.0, 0).map_err(|e| match e {
            Ended::Statics(e) => NoRig::Statics(e),
            Ended::Winch(e) => NoRig::Winch(e),
            Ended::Way | Ended::Mark(_) => NoRig::Winch(String::new()),
        })?;
        self.arrive(spacing);
        // A leg that is short from the start has that much less to lose.
        let short = |l: &unmire_mechanics::rig::Leg| TWO_BLOCK.min(0.8 * l.length.as_m());
        self.shortest = self.here.shape().legs_of(0).map(short).collect();
        // What is up from the start on is judged there and ends nothing.
        let at_start = self.here.marks;
        tell(&self.here, &self.here, true);
        let mut grid = 1.0_f64;
        let mut step = spacing;
        // Just before a place where the winch changes; the next step goes over it.
        let mut edge = false;
        while self.here.s < end {
            let leg_end = self.setup.path.legs.get(self.here.leg).map_or(end, |l| l.to);
            // A place of the grid that misses an end by rounding alone is that end.
            let near = (grid * spacing).min(leg_end).min(end);
            let target = if end - near < 1e-9 * spacing { end } else { near };
            let mut to = self.here.s + step;
            if edge {
                to = self.here.s + 0.95 * least;
            }
            if to > target - 1e-9 * spacing {
                to = target;
            }
            let over = core::mem::take(&mut edge);
            let mut failed: Option<Ended>;
            let mut sought = 0;
            loop {
                let short = to - self.here.s <= least;
                let mut before = None;
                match self.attempt(to, self.here.leg) {
                    Ok(()) if short || !self.next.far_from(&self.here, SHARE) => {
                        failed = None;
                        break;
                    }
                    Ok(()) if sought < MOST_SOUGHT => before = self.winch_changes().map(|s| s - 0.4 * least),
                    Ok(()) => {}
                    Err(e) => {
                        failed = Some(e);
                        if short {
                            break;
                        }
                    }
                }
                to = match before {
                    Some(s) => {
                        sought += 1;
                        edge = s > self.here.s + 0.1 * least;
                        if edge { s } else { self.here.s + 0.95 * least }
                    }
                    None => {
                        edge = false;
                        self.here.s + 0.5 * (to - self.here.s)
                    }
                };
            }
            if let Some(e) = failed {
                return Ok(e);
            }
            step = if over { spacing } else { 2.0 * (to - self.here.s) };
            let keep = to >= target || self.next.marks != self.here.marks;
            tell(&self.here, &self.next, keep);
            self.arrive(spacing);
            if let Some(e) = self.stopped(at_start) {
                return Ok(e);
            }
            if to >= grid * spacing * (1.0 - 1e-12) {
                grid += 1.0;
                step = spacing;
            }
            if to >= leg_end && to < end {
                // The next stretch begins: the same place under another need.
                if let Err(e) = self.attempt(to, self.here.leg + 1) {
                    return Ok(e);
                }
                tell(&self.here, &self.next, true);
                self.ahead.iter_mut().for_each(Ahead::forget);
                self.arrive(spacing);
                if let Some(e) = self.stopped(at_start) {
                    return Ok(e);
                }
            }
        }
        Ok(Ended::Way)
    }

    /// The next place is where it stands now.
    fn arrive(&mut self, spacing: f64) {
        core::mem::swap(&mut self.here, &mut self.next);
        let here = &self.here;
        for (ahead, e) in self.ahead.iter_mut().zip([&here.poor, &here.good, &here.stall]) {
            ahead.take(here.s, e, 0.1 * spacing);
        }
    }

    /// Where between here and the next place the winch becomes another one, with the next layer say, if it does. Its change is
    /// found by the length of the line, without solving the rig; the way to that length is taken as straight.
    fn winch_changes(&self) -> Option<f64> {
        let Pull::Winch { winch, .. } = &self.setup.rigging.pull else { return None };
        let (here, next) = (&self.here, &self.next);
        let (a, b) = (here.winch.as_ref()?, next.winch.as_ref()?);
        let same = |x: &WinchAt, y: &WinchAt| x.layer == y.layer && x.stall == y.stall && x.pull == y.pull;
        if same(a, b) {
            return None;
        }
        let (mut near, mut far) = (here.line, next.line);
        for _ in 0..40 {
            let middle = 0.5 * (near + far);
            let at = winch_at(winch, Length::from_m(middle.max(0.0)), &mut Silent).ok()?;
            *(if same(a, &at) { &mut near } else { &mut far }) = middle;
        }
        let part = (near - here.line) / (next.line - here.line);
        (part > 0.0 && part < 1.0).then_some(here.s + part * (next.s - here.s))
    }

    fn stopped(&self, at_start: u64) -> Option<Ended> {
        let up = self.here.marks & !at_start & mark::STOPS;
        (up != 0).then_some(Ended::Mark(up))
    }

    /// Where it stands.
    pub fn here(&self) -> &Place {
        &self.here
    }

    /// Solves the rig at a place, from where it was.
    fn attempt(&mut self, s: f64, leg: usize) -> Result<(), Ended> {
        let pose = self.setup.path.pose(s);
        let Some(stretch) = self.setup.path.legs.get(leg) else { return Err(Ended::Way) };
        for rig in [&mut self.poor, &mut self.good, &mut self.stall] {
            for (node, at) in rig.nodes.iter_mut().zip(&self.setup.on_site) {
                if let Some(p) = at {
                    node.at = pose.seen(*p);
                }
            }
        }
        // The angle between the vehicle and its way stays what it was at the start.
        let bearing = self.setup.path.legs.first().map_or(Angle::ZERO, |l| l.bearing);
        let level = Vec3::new(1.0, 0.0, 0.0).turned(bearing);
        let direction = level * stretch.grade.cos() + Vec3::UP * stretch.grade.sin();
        let (here, next) = (&self.here, &mut self.next);
        (next.s, next.leg, next.pose, next.need) = (s, leg, pose, stretch.need);
        let high = next.need.high();
        let pulled = high.as_n() >= NO_NEED;
        if pulled {
            ask(&mut self.poor, direction, high);
            if !self.ahead[0].guess(s, &mut next.poor) {
                from(&mut next.poor, &here.poor, &here.stall);
            }
            self.solver.solve_from(&self.poor, &mut next.poor).map_err(Ended::Statics)?;
            if self.turns {
                ask(&mut self.good, direction, high);
                if !self.ahead[1].guess(s, &mut next.good) {
                    from(&mut next.good, &here.good, &next.poor);
                }
                self.solver.solve_from(&self.good, &mut next.good).map_err(Ended::Statics)?;
            } else {
                copy(&mut next.good, &next.poor);
            }
            next.line = length(&next.poor, &self.setup.built);
        } else {
            // Nothing is pulled: the shape is that of the line just tight, told by the stall below.
            wipe(&mut next.poor);
            wipe(&mut next.good);
            next.line = if here.line > 0.0 { here.line } else { self.setup.built.lengthened.as_m() };
        }
        self.puller()?;
        self.read();
        Ok(())
    }

    /// What the puller can do there, and the rig at its stall.
    fn puller(&mut self) -> Result<(), Ended> {
        let (here, next) = (&self.here, &mut self.next);
        next.winch = None;
        let (ability, stall) = match &self.setup.rigging.pull {
            Pull::Winch { winch, .. } => {
                let at = winch_at(winch, Length::from_m(next.line.max(0.0)), &mut Silent)
                    .map_err(|e| Ended::Winch(e.to_string()))?;
                next.winch = Some(at);
                (at.pull.low(), at.stall.high())
            }
            Pull::Hand { .. } => match &self.setup.motor {
                Some(m) => (m.rated, m.stall.high()),
                None => (Force::from_n(f64::NAN), Force::from_n(f64::NAN)),
            },
            Pull::Tow { helper, .. } => {
                let shape = if next.poor.positions.is_empty() { &here.stall } else { &next.poor };
                let pull = parked::tow(self.setup.ctx, helper, shape, &self.setup.built);
                let none = Force::from_n(f64::NAN);
                (pull.map_or(none, |p| p.low()), pull.map_or(none, |p| p.high()))
            }
        };
        next.ability = ability;
        wipe(&mut next.stall);
        if stall.is_finite() && stall > Force::ZERO {
            if let Some(line) = self.stall.lines.first_mut() {
                line.drive = Drive::Tension(stall);
            }
            if !self.ahead[2].guess(next.s, &mut next.stall) {
                from(&mut next.stall, &here.stall, &next.poor);
            }
            self.solver.solve_from(&self.stall, &mut next.stall).map_err(Ended::Statics)?;
            if next.poor.positions.is_empty() {
                next.line = length(&next.stall, &self.setup.built);
            }
        }
        Ok(())
    }

    /// What is read off the solved place: pull, speed, current, marks.
    fn read(&mut self) {
        let next = &mut self.next;
        let high = next.need.high();
        let none = Force::ZERO;
        next.pull = if next.poor.tensions.is_empty() {
            Range::hull(none, none, none)
        } else {
            // Tension grows with the need; the shape hardly does.
            let (poor, good) = (first_tension(&next.poor), first_tension(&next.good));
            let part = |of: Force, t: f64| Force::from_n(t * (of.max(Force::ZERO) / high));
            Range::hull(part(next.need.low(), good), part(next.need.likely(), 0.5 * (poor + good)), Force::from_n(poor))
        };
        let share = next.winch.map_or_else(|| Range::hull(1.0, 1.0, 1.0), |w| w.share);
        next.running = self.setup.motor.as_ref().map(|m| m.running(&next.pull, &share));
        let mut up = 0;
        let mut raise = |which: u64, is: bool| {
            if is {
                up |= which;
            }
        };
        raise(mark::NO_NEED, next.poor.tensions.is_empty());
        let hauled = !matches!(self.setup.rigging.pull, Pull::Tow { .. });
        let shortest = &self.shortest;
        let close = |e: &Equilibrium| e.legs_of(0).zip(shortest).any(|(l, least)| l.length.as_m() < *least);
        let shape = if next.poor.positions.is_empty() { &next.stall } else { &next.poor };
        raise(mark::TWO_BLOCKING, hauled && close(shape));
        // Not a number is no ability.
        raise(mark::WEAK, !next.pull.high().as_n().le(&next.ability.as_n()));
        raise(mark::MAY_STALL, next.running.is_some_and(|r| r.may_stall));
        if let Some(w) = &next.winch {
            raise(mark::LINE_OUT, w.flags.line_short || w.flags.turns_short);
        }
        next.fairlead = None;
        if let Pull::Winch { on, winch } = &self.setup.rigging.pull {
            let square = on.direction(winch.direction);
            let square = if on.is_stuck() { square } else { square.turned(-next.pose.turned) };
            let at = |i: usize| shape.positions.get(i).copied();
            let along = shape.legs.first().and_then(|l| Some(at(l.to)? - at(l.from)?));
            next.fairlead = along.and_then(|a| square.angle_to(a));
            let (limit, _) = fairlead_limit(winch);
            raise(mark::FAIRLEAD, next.fairlead.is_none_or(|a| a > limit));
        }
        for (k, sling) in self.setup.sharing.iter().take(24).enumerate() {
            let slack = shape.slings.get(*sling).is_some_and(|l| l.is_slack());
            raise(1 << (mark::SLACK as usize + k), slack);
        }
        for (k, (node, ends)) in self.setup.meeting.iter().take(24).enumerate() {
            raise(1 << (mark::WIDE as usize + k), widest(shape, *node, ends).is_some_and(|a| a > WIDEST));
        }
        if !self.setup.ctx.case.obstacles.is_empty() {
            let at = |i: usize| shape.positions.get(i).map(|p| next.pose.on_site(*p));
            let legs = shape.legs.iter().map(|l| (l.from, l.to));
            let slings = self.setup.built.structure.slings.iter().map(|s| (s.a, s.b));
            let rubs = legs.chain(slings).any(|(a, b)| {
                let (Some(a), Some(b)) = (at(a), at(b)) else { return true };
                self.setup.ctx.case.obstacles.iter().any(|o| crosses(a, b, &o.outline))
            });
            raise(mark::RUBS, rubs);
        }
        next.marks = up;
    }
}

/// What drives the puller.
fn motor(ctx: &Context<'_>, rigging: &Rigging<'_>) -> Result<Option<WinchMotor>, NoRig> {
    match &rigging.pull {
        Pull::Winch { winch, .. } => WinchMotor::of(winch).map(Some).map_err(|e| NoRig::Winch(e.to_string())),
        Pull::Hand { piece, .. } => {
            let stated = match &piece.kind {
                PieceKind::HandWinch { stall, .. } => stall.as_ref().map(|s| &s.value),
                _ => None,
            };
            let Some(rated) = ctx.strength(piece).working else { return Ok(None) };
            let (stall, _) = hand_winch_stall(rated, stated);
            WinchMotor::by_band(DriveKind::Hand, rated, stall).map(Some).map_err(|e| NoRig::Winch(e.to_string()))
        }
        Pull::Tow { helper, .. } => {
            let weight = helper.vehicle.moving_mass().increasing(unmire_model::Mass::weight);
            WinchMotor::by_band(DriveKind::Tow, weight.low(), weight).map(Some).map_err(|e| NoRig::Winch(e.to_string()))
        }
    }
}

/// Asks a structure for a pull along a direction.
fn ask(s: &mut Structure, along: Vec3, how_much: Force) {
    if let Some(Drive::Pull { direction, force, .. }) = s.lines.first_mut().map(|l| &mut l.drive) {
        (*direction, *force) = (along, how_much);
    }
}

/// Puts a solution where the search begins: the one before, else another of the same place.
fn from(into: &mut Equilibrium, before: &Equilibrium, other: &Equilibrium) {
    let start = if before.positions.is_empty() { other } else { before };
    into.positions.clone_from(&start.positions);
    into.tensions.clone_from(&start.tensions);
}

/// Copies a solution into memory that is there.
fn copy(into: &mut Equilibrium, e: &Equilibrium) {
    into.positions.clone_from(&e.positions);
    into.forces.clone_from(&e.forces);
    into.tensions.clone_from(&e.tensions);
    into.legs.clone_from(&e.legs);
    into.slings.clone_from(&e.slings);
    into.turns.clone_from(&e.turns);
    (into.residual, into.allowed, into.iterations) = (e.residual, e.allowed, e.iterations);
}

/// Empties a solution and keeps its memory.
fn wipe(e: &mut Equilibrium) {
    e.positions.clear();
    e.forces.clear();
    e.tensions.clear();
    e.legs.clear();
    e.slings.clear();
    e.turns.clear();
}

fn length(e: &Equilibrium, built: &Built) -> f64 {
    e.legs_of(0).map(|l| l.length.as_m()).sum::<f64>() - built.lengthened.as_m()
}

fn widest(e: &Equilibrium, node: usize, ends: &[usize]) -> Option<Angle> {
    let at = |i: usize| e.positions.get(i).copied();
    let middle = at(node)?;
    let mut most: Option<Angle> = None;
    for (i, a) in ends.iter().enumerate() {
        for b in ends.iter().skip(i + 1) {
            let spread = (at(*a)? - middle).angle_to(at(*b)? - middle)?;
            most = Some(most.map_or(spread, |m| m.max(spread)));
        }
    }
    most
}

/// The name of a helper that tows.
pub(crate) fn towing<'r>(rigging: &'r Rigging<'_>) -> Option<&'r str> {
    match &rigging.pull {
        Pull::Tow { helper, .. } => Some(helper.vehicle.name.as_str()),
        _ => None,
    }
}
