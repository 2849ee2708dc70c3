//! One stage: one rig walked from where the vehicle stands until the way ends or something stops it, judged at its worst moments.

use super::moments::{Judge, Moment};
use super::path::{Path, Pose};
use super::peaks::{Peaks, greater};
use super::place::{Place, mark};
use super::report::{Account, Row, RowLeg};
use super::tally::Tally;
use super::walk::{Ended, Setup, Walker};
use crate::context::Context;
use crate::evaluate::NoRig;
use crate::rigging::{Pull as Puller, Rigging};
use unmire_audit::verdict::Verdict;
use unmire_mechanics::rig::{Equilibrium, Solver};
use unmire_mechanics::winch::{Electric, MotorFlags, filled_after, net_current, stop_voltage, terminal_voltage};
use unmire_model::{Charge, Force, Length, Range, Silent, Time, Vec3};

/// Moments that are nearer to each other than this count as one, metres.
const APART: f64 = 0.05;
/// How near the place where a part first falls short is found, metres.
const CLOSE: f64 = 0.02;

/// How finely a stage is played.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Grain {
    /// Distance between kept places, metres.
    pub spacing: f64,
    /// Moments that are judged besides the worst ones, evenly over the way.
    pub judged: usize,
    /// Whether rows, texts and steadiness are wanted.
    pub full: bool,
}

/// What came before this stage.
#[derive(Clone, Debug)]
pub(crate) struct Before {
    /// Its number, from zero.
    pub stage: usize,
    /// Way that is behind it.
    pub way: f64,
    /// Where the vehicle stands at its start, in the frame of the first.
    pub pose: Pose,
    /// Charge that is gone.
    pub charge: Range<Charge>,
    /// Time of pulling that is gone.
    pub time: Range<Time>,
}
impl Default for Before {
    fn default() -> Self {
        let z = Range::hull(Charge::ZERO, Charge::ZERO, Charge::ZERO);
        let t = Range::hull(Time::ZERO, Time::ZERO, Time::ZERO);
        Self { stage: 0, way: 0.0, pose: Pose::default(), charge: z, time: t }
    }
}

/// Something that changed at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Change {
    pub s: f64,
    /// Marks that went up.
    pub up: u64,
    /// The layer that begins there, if it does.
    pub layer: Option<u32>,
    /// Whole runs from cold that are used up there, likely, if one more is.
    pub hot: Option<u32>,
    /// Whether the first run from cold is used up there at the cautious end.
    pub warm: bool,
    /// The battery's voltage falls below the stop value there: at its low end, likely.
    pub sag: (bool, bool),
}

/// A stage that was played.
#[derive(Debug)]
pub(crate) struct Played {
    pub rows: Vec<Row>,
    pub moments: Vec<Moment>,
    pub changes: Vec<Change>,
    pub ended: Ended,
    /// A part or a rule that passed at the start fails there: the moment.
    pub failed: Option<Moment>,
    /// How far it comes, metres.
    pub to: f64,
    pub time: Range<Time>,
    pub charge: Range<Charge>,
    pub heat: Range<f64>,
    pub account: Account,
    /// Greatest tension at the puller at work.
    pub pull_work: Force,
    /// The electric side of the puller, if it has one.
    pub electric: Option<Electric>,
    pub flags: MotorFlags,
    /// Whether the puller's data sheet ends before a pull of this stage.
    pub outside: bool,
    /// Names of slings whose slackness is marked, and of points where legs meet.
    pub sharing: Vec<String>,
    pub meeting: Vec<String>,
}

/// Walks a stage to where it ends, without judging any moment.
///
/// # Errors
/// As [`play`].
pub(crate) fn history(ctx: &Context<'_>, path: &Path, rigging: &Rigging<'_>, spacing: f64) -> Result<Vec<Row>, NoRig> {
    let setup = Setup::of(ctx, path, rigging)?;
    let before = Before::default();
    let mut play = Recording::new(&setup, rigging, true, &before);
    Walker::new(&setup).walk(path.length, spacing, |a, b, keep| play.take(&setup, a, b, keep))?;
    Ok(play.rows)
}

/// Plays a stage.
///
/// # Errors
/// If the rig can't be built or has no balance at the start.
pub(crate) fn play(
    ctx: &Context<'_>,
    judge: &Judge<'_>,
    path: &Path,
    rigging: &Rigging<'_>,
    grain: Grain,
    before: &Before,
) -> Result<Played, NoRig> {
    let setup = Setup::of(ctx, path, rigging)?;
    let mut solver = Solver::default();
    let mut until = path.length;
    let mut failed: Option<Moment> = None;
    loop {
        let mut walker = Walker::new(&setup);
        let mut play = Recording::new(&setup, rigging, grain.full, before);
        let ended = walker.walk(until, grain.spacing, |a, b, keep| play.take(&setup, a, b, keep))?;
        let to = walker.here().s;
        let mut places = play.peaks.places(APART);
        places.push((0.0, 0));
        places.push((to, walker.here().leg));
        for k in 1..=grain.judged {
            let s = to * k as f64 / (grain.judged + 1) as f64;
            places.push((s, path.leg(s, true)));
        }
        unmire_model::order::sort_by(&mut places, |a, b| a.1.cmp(&b.1).then(a.0.total_cmp(&b.0)));
        places.dedup_by(|b, a| a.1 == b.1 && (b.0 - a.0).abs() < 1e-9);
        let mut moments = Vec::with_capacity(places.len());
        let mut passes = None;
        let mut bad = None;
        for (s, leg) in places {
            let ahead = path.leg(s, true) == leg;
            let Ok(m) = judge.at(&mut solver, rigging, s, ahead) else { continue };
            let passed = *passes.get_or_insert_with(|| m.verdict.passes());
            if passed && !m.verdict.passes() && failed.is_none() {
                bad = Some(m);
                break;
            }
            moments.push(m);
        }
        // What passed at its start and fails later ends the stage there; the walk is then made again up to that place.
        if let Some(bad) = bad {
            let last = moments.last().map_or(0.0, |m| m.s);
            let place = first_failure(judge, &mut solver, rigging, last, &bad);
            until = place;
            failed = Some(bad);
            continue;
        }
        return Ok(Played {
            rows: play.rows,
            moments,
            changes: play.changes,
            ended,
            failed,
            to,
            time: play.tally.time(),
            charge: play.tally.charge(),
            heat: play.tally.heat(),
            account: play.tally.account,
            pull_work: play.pull_work,
            electric: setup.motor.as_ref().and_then(|m| m.electric.clone()),
            flags: setup.motor.as_ref().map_or_else(MotorFlags::default, |m| m.flags),
            outside: play.outside,
            sharing: setup.sharing().map(str::to_owned).collect(),
            meeting: setup.meeting().map(str::to_owned).collect(),
        });
    }
}

/// The last place before a failure, between a moment that passes and one that does not.
fn first_failure(judge: &Judge<'_>, solver: &mut Solver, rigging: &Rigging<'_>, good: f64, bad: &Moment) -> f64 {
    let (mut low, mut high) = (good, bad.s);
    while high - low > CLOSE {
        let middle = 0.5 * (low + high);
        match judge.at(solver, rigging, middle, true) {
            Ok(m) if m.verdict.passes() => low = middle,
            _ => high = middle,
        }
    }
    low
}

/// What is kept while walking.
struct Recording<'r> {
    rows: Vec<Row>,
    changes: Vec<Change>,
    peaks: Peaks,
    tally: Tally,
    outside: bool,
    pull_work: Force,
    full: bool,
    hauled: bool,
    hot: u32,
    warm: bool,
    sagged: (bool, bool),
    names: Vec<String>,
    members: Vec<String>,
    before: &'r Before,
}

impl<'r> Recording<'r> {
    fn new(w: &Setup<'_, '_>, rigging: &Rigging<'_>, full: bool, before: &'r Before) -> Self {
        let s = &w.built.structure;
        Self {
            rows: Vec::new(),
            changes: Vec::new(),
            peaks: Peaks::default(),
            tally: Tally::default(),
            outside: false,
            pull_work: Force::ZERO,
            full,
            hauled: !matches!(rigging.pull, Puller::Tow { .. }),
            hot: 0,
            warm: false,
            sagged: (false, false),
            names: if full { s.nodes.iter().map(|n| n.name.clone()).collect() } else { Vec::new() },
            members: if full { s.slings.iter().map(|l| l.name.clone()).collect() } else { Vec::new() },
            before,
        }
    }

    fn take(&mut self, w: &Setup<'_, '_>, a: &Place, b: &Place, keep: bool) {
        self.pull_work = self.pull_work.max(b.pull.high());
        self.peaks.take(b);
        self.tally.step(w, a, b, self.hauled);
        self.outside |= b.running.is_some_and(|r| r.outside);
        let layer = |p: &Place| p.winch.and_then(|w| w.layer);
        let first = core::ptr::eq(a, b);
        let heat = self.tally.heat();
        // Not a number and endless heat change no count.
        let runs = heat.likely().floor();
        let hot = if runs >= f64::from(self.hot) + 1.0 && runs < 1e6 {
            self.hot = runs as u32;
            Some(self.hot)
        } else {
            None
        };
        let warm = heat.high() >= 1.0 && !self.warm;
        self.warm |= warm;
        let electric = w.motor.as_ref().and_then(|m| m.electric.as_ref());
        let (voltage, filled) = electric.map_or((None, None), |e| self.battery(e, b));
        let mut sag = (false, false);
        if let (Some(e), Some(v)) = (electric, &voltage) {
            let stop = stop_voltage(e.nominal);
            sag = (v.low() < stop.low() && !self.sagged.0, v.likely() < stop.low() && !self.sagged.1);
            self.sagged = (self.sagged.0 || sag.0, self.sagged.1 || sag.1);
        }
        let change = Change {
            s: b.s,
            up: if first { b.marks } else { b.marks & !a.marks },
            layer: if first || layer(a) == layer(b) { None } else { layer(b) },
            hot,
            warm,
            sag,
        };
        if change.up != 0 || change.layer.is_some() || hot.is_some() || warm || sag != (false, false) {
            self.changes.push(change);
        }
        if self.full && keep {
            self.rows.push(self.row(w, b, voltage, filled));
        }
    }

    /// Voltage at the winch and how full the battery is; none if it is not told.
    fn battery(&self, e: &Electric, p: &Place) -> (Option<Range<unmire_model::Voltage>>, Option<Range<f64>>) {
        let Some(battery) = &e.battery else { return (None, None) };
        let gone = self.before.charge.plus(&self.tally.charge());
        let Ok(filled) = filled_after(battery, &gone, &mut Silent) else { return (None, None) };
        let current = p.running.and_then(|r| r.current);
        let voltage = current.and_then(|i| {
            let net = net_current(&i, &e.alternator);
            terminal_voltage(battery, &filled, &net, e.nominal, &mut Silent).ok()
        });
        (voltage, Some(filled))
    }

    fn row(
        &self,
        w: &Setup<'_, '_>,
        p: &Place,
        voltage: Option<Range<unmire_model::Voltage>>,
        filled: Option<Range<f64>>,
    ) -> Row {
        let name = |i: usize| self.names.get(i).cloned().unwrap_or_default();
        let shape = p.shape();
        let stall =
            |f: &dyn Fn(&Equilibrium) -> Option<Force>| if p.stall.legs.is_empty() { None } else { f(&p.stall) };
        let mut legs = Vec::with_capacity(shape.legs.len() + shape.slings.len());
        for (i, l) in shape.legs.iter().enumerate() {
            legs.push(RowLeg {
                member: "line".to_owned(),
                from: name(l.from),
                to: name(l.to),
                length: l.length,
                tension: p.leg_work(i),
                tension_stall: stall(&|e| e.legs.get(i).map(|l| l.tension)),
            });
        }
        for (i, l) in shape.slings.iter().enumerate() {
            let Some(s) = w.built.structure.slings.get(i) else { continue };
            legs.push(RowLeg {
                member: self.members.get(i).cloned().unwrap_or_default(),
                from: name(s.a),
                to: name(s.b),
                length: l.length,
                tension: p.sling_work(i),
                tension_stall: stall(&|e| e.slings.get(i).map(|l| l.tension)),
            });
        }
        let on_site = |q: Vec3| self.before.pose.on_site(p.pose.on_site(q));
        let points = shape.positions.iter().enumerate().map(|(i, q)| (name(i), on_site(*q))).collect();
        let electric = w.motor.as_ref().is_some_and(|m| m.electric.is_some());
        Row {
            stage: self.before.stage,
            travel: Length::from_m(self.before.way + p.s),
            at: self.before.pose.on_site(p.pose.at),
            turned: self.before.pose.turned + p.pose.turned,
            resistance: p.need,
            line_tension: p.pull,
            stall_tension: p.stall.tensions.first().copied(),
            ability: Some(p.ability).filter(|f| f.is_finite()),
            line_out: Length::from_m(p.line),
            layer: p.winch.and_then(|w| w.layer),
            speed: p.running.map(|r| r.speed),
            current: p.running.and_then(|r| r.current),
            charge: self.before.charge.plus(&self.tally.charge()),
            time: self.before.time.plus(&self.tally.time()),
            heat: electric.then(|| self.tally.heat()),
            voltage,
            filled,
            legs,
            points,
        }
    }
}

impl Played {
    /// The worst word over the stage.
    pub fn verdict(&self) -> Verdict {
        self.moments.iter().map(|m| m.verdict).max().unwrap_or(Verdict::Unknown)
    }
    /// The least margin over the stage, and where.
    pub fn margin(&self) -> Option<(f64, f64)> {
        let all = self.moments.iter().filter_map(|m| Some((m.margin?, m.s)));
        all.reduce(|a, b| if greater(a.0, b.0) { b } else { a })
    }
    /// The least stop load over the stage.
    pub fn stop_load(&self) -> Option<Force> {
        self.moments.iter().filter_map(|m| m.stop_load).reduce(Force::min)
    }
    /// Whether it came to the end of the way.
    pub fn arrives(&self) -> bool {
        self.failed.is_none() && self.ended == Ended::Way
    }
    /// Marks that ended it.
    pub fn stopped_by(&self) -> u64 {
        match self.ended {
            Ended::Mark(m) => m & mark::STOPS,
            _ => 0,
        }
    }
}
