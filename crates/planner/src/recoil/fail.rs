//! What flies when a part fails: which pieces, along which way, how fast at most, with how much energy.

use super::chain::{Branch, Item, Station};
use super::members::{Member, Members};
use super::{Failure, Fly};
use unmire_audit::facts::PartKind;
use unmire_mechanics::recoil::{
    Bound, Flying, Held, LinePiece, flying_mass, line_end_speed, thrown_along, thrown_aside,
};
use unmire_model::trail::{Recorder, Step};
use unmire_model::{Energy, Force, Mass, Range, Speed, Vec3};

/// What is known, or why it is not.
type Known<T> = Result<T, String>;

/// A recorder that says which failure a step is about.
struct About<'r, R> {
    of: String,
    to: &'r mut R,
}
impl<'r, R: Recorder> About<'r, R> {
    fn new(item: &Item, to: &'r mut R) -> Self {
        Self { of: item.name.clone(), to }
    }
}
impl<R: Recorder> Recorder for About<'_, R> {
    fn record(&mut self, step: impl FnOnce() -> Step) {
        let of = &self.of;
        self.to.record(|| {
            let mut s = step();
            s.what = format!("if {of} fails: {}", s.what);
            s
        });
    }
    type Common = R::Common;
    fn common(&mut self) -> &mut R::Common {
        self.to.common()
    }
}

/// The rig as it is when something lets go.
pub(crate) struct Loaded<'m> {
    pub members: &'m Members,
    pub stations: &'m [Station],
    /// Whether a stalled winch counts, or the high end of work.
    pub at_stall: bool,
}

impl Loaded<'_> {
    fn pull(&self, m: &Member) -> Force {
        if self.at_stall { m.pull.most() } else { m.pull.work }
    }
    fn member(&self, i: usize) -> Option<&Member> {
        self.members.all.get(i)
    }
    /// The greatest energy of these members.
    pub fn energy(&self, of: impl Iterator<Item = usize>, pull: impl Fn(&Member) -> Force) -> Known<Energy> {
        let mut sum = Energy::ZERO;
        for m in of.filter_map(|i| self.member(i)) {
            let silent = &mut unmire_model::trail::Mute::default();
            let e = m.energy(pull(m), silent).ok_or_else(|| match &m.stuff {
                Err(why) => format!("{}: {why}", m.name),
                Ok(_) => format!("the pull on {} is not known", m.name),
            })?;
            sum += e.high();
        }
        Ok(sum)
    }
    /// All that the line and its grips store.
    pub fn main_energy(&self) -> Known<Energy> {
        self.energy(self.members.main(), |m| self.pull(m))
    }
    fn work_energy(&self, of: impl Iterator<Item = usize>) -> Option<Energy> {
        self.energy(of, |m| m.pull.work).ok()
    }
    /// The fastest that an end of the line can be while all stations but one still hold it.
    fn line_end(&self, without: Option<usize>, rec: &mut impl Recorder) -> Known<Speed> {
        let mut pieces: Vec<(String, LinePiece)> = Vec::new();
        for m in self.members.line.iter().chain(&self.members.extensions).filter_map(|i| self.member(*i)) {
            let piece = m.piece(self.pull(m)).ok_or_else(|| why_unknown(m))?;
            // The legs of one line are one piece; the leg with the greatest tension counts.
            match pieces.iter_mut().find(|(name, _)| *name == m.name) {
                Some((_, p)) => p.tension = p.tension.max(piece.tension),
                None => pieces.push((m.name.clone(), piece)),
            }
        }
        let mut held = Vec::new();
        for (_, s) in self.stations.iter().enumerate().filter(|(i, _)| Some(*i) != without) {
            let own: Vec<usize> = s.branches.iter().flat_map(|b| &b.items).filter_map(|i| i.member).collect();
            if own.is_empty() {
                continue;
            }
            let energy = self.energy(own.into_iter(), |m| self.pull(m))?;
            let between = s.trunk.iter().chain(s.branches.first().into_iter().flat_map(before_strap));
            let mass = at_least(between.collect::<Vec<_>>().as_slice())?;
            held.push(Held { ratio: s.ratio, energy, mass: if mass > Mass::ZERO { mass } else { lightest()? } });
        }
        let only: Vec<LinePiece> = pieces.iter().map(|(_, p)| *p).collect();
        line_end_speed(&only, only.len() > 1, &held, rec).map_err(|e| e.to_string())
    }
}

fn why_unknown(m: &Member) -> String {
    match &m.stuff {
        Err(why) => format!("{}: {why}", m.name),
        Ok(_) => format!("the pull on {} is not known", m.name),
    }
}

/// The parts of a branch before the first that stretches.
fn before_strap(b: &Branch) -> impl Iterator<Item = &Item> {
    b.items.iter().take_while(|i| i.member.is_none())
}

/// A piece of a fitting that breaks off weighs at least this share of it, a pin or a sheave of a block. Our own judgement.
const PIECE: f64 = 0.1;

/// The least that a broken-off piece weighs, of whatever it is.
fn lightest() -> Known<Mass> {
    flying_mass(Flying::BrokenPiece, None, None).map(|(m, _)| m.low()).map_err(|e| e.to_string())
}

fn at_least(items: &[&Item]) -> Known<Mass> {
    let mut sum = Mass::ZERO;
    for i in items {
        sum += i.mass.as_ref().map_err(Clone::clone)?.0.low();
    }
    Ok(sum)
}

/// Mass of what flies: these parts, and perhaps the one that failed.
fn mass(items: &[&Item], failed: Option<&Item>) -> Known<(Range<Mass>, bool)> {
    let (mut sum, mut assumed) = (Range::hull(Mass::ZERO, Mass::ZERO, Mass::ZERO), false);
    for i in items {
        let (m, a) = i.mass.as_ref().map_err(Clone::clone)?;
        sum = sum.plus(m);
        assumed |= *a;
    }
    if let Some((m, a)) = failed.and_then(|f| f.mass.as_ref().ok()) {
        // It may break and fly either way, or stay.
        sum = Range::hull(sum.low(), sum.likely(), sum.high() + m.high());
        assumed |= *a;
    }
    Ok((sum, assumed))
}

/// `block-1, bow-2`; nothing if nothing hangs there.
fn list(items: &[&Item]) -> Option<String> {
    let names: Vec<&str> = items.iter().map(|i| i.name.as_str()).collect();
    if names.is_empty() { None } else { Some(names.join(", ")) }
}

/// How something is thrown.
#[derive(Clone, Copy)]
enum How {
    /// Along a line whose end can be this fast.
    Along(Speed),
    /// By legs that meet at an angle.
    Aside,
}

#[allow(clippy::too_many_arguments)]
fn fly(
    what: String,
    s: (&str, Vec3),
    way: String,
    direction: Vec3,
    weight: Known<(Range<Mass>, bool)>,
    energy: &Known<Energy>,
    how: Known<How>,
    rec: &mut impl Recorder,
) -> Fly {
    let bound: Known<Bound> = (|| {
        let u = energy.clone()?;
        let (m, _) = weight.clone()?;
        let bare = m.low() <= Mass::ZERO;
        match how.clone()? {
            How::Along(end) => thrown_along(end, u, (!bare).then(|| m.low()), rec),
            How::Aside => thrown_aside(u, if bare { lightest()? } else { m.low() }, rec),
        }
        .map_err(|e| e.to_string())
    })();
    let carried = match (energy, &weight, &bound) {
        (Ok(u), Ok((m, _)), Ok(b)) if m.high() > Mass::ZERO => {
            let v = b.speed.as_m_s();
            Some(u.min(Energy::from_j(0.5 * m.high().as_kg() * v * v)))
        }
        (Ok(u), ..) => Some(*u),
        _ => None,
    };
    Fly {
        what,
        from: s.0.to_owned(),
        at: s.1,
        way,
        direction,
        aside: matches!(how, Ok(How::Aside)),
        mass_assumed: weight.as_ref().is_ok_and(|(_, a)| *a),
        mass: weight.ok().map(|(m, _)| m),
        energy: carried,
        unknown_because: bound.as_ref().err().cloned(),
        bound: bound.ok(),
    }
}

/// How fast the free end of these soft pieces is, one after the other.
fn end_speed(loaded: &Loaded<'_>, soft: &[usize], rec: &mut impl Recorder) -> Known<Speed> {
    let mut pieces = Vec::new();
    for m in soft.iter().filter_map(|i| loaded.member(*i)) {
        pieces.push(m.piece(loaded.pull(m)).ok_or_else(|| why_unknown(m))?);
    }
    line_end_speed(&pieces, pieces.len() > 1, &[], rec).map_err(|e| e.to_string())
}

/// What is left on the side of the anchor: parts after the one that failed, with what stretches among them.
fn anchor_side(
    loaded: &Loaded<'_>,
    s: &Station,
    far: &str,
    toward: Vec3,
    rest: &[&Item],
    failed: &Item,
    rec: &mut impl Recorder,
) -> Option<Fly> {
    let soft: Vec<usize> = core::iter::once(failed).chain(rest.iter().copied()).filter_map(|i| i.member).collect();
    if soft.is_empty() {
        return None;
    }
    let held = |i: &&&Item| !matches!(i.kind, PartKind::NaturalAnchor | PartKind::MadeAnchor | PartKind::RecoveryPoint);
    let hangs: Vec<&Item> = rest.iter().filter(held).copied().collect();
    let hard: Vec<&Item> = hangs.iter().copied().take_while(|i| i.member.is_none()).collect();
    let weight = mass(&hard, Some(failed).filter(|f| f.member.is_none()));
    let energy = loaded.energy(soft.iter().copied(), |m| loaded.pull(m));
    let end = end_speed(loaded, &soft, rec);
    let bent = soft.iter().filter_map(|i| loaded.member(*i)).any(Member::is_bent);
    let bare = weight.as_ref().is_ok_and(|(m, _)| m.low() <= Mass::ZERO);
    // A fitting in the bend of a basket is thrown by two legs; bare eyes fly each along its own leg.
    let how = if bent && !bare { Ok(How::Aside) } else { end.map(How::Along) };
    let what = list(&hard).map_or_else(|| "the free end of the strap".to_owned(), |l| format!("{l} on its strap"));
    let way = format!("back toward {far}, as far past it as the strap lets it");
    Some(fly(what, (&s.point, s.at), way, toward, weight, &energy, how, rec))
}

fn failure(item: &Item, energy: &Known<Energy>, work: Option<Energy>, flies: Vec<Fly>) -> Failure {
    Failure {
        part: item.name.clone(),
        kind: item.kind,
        role: item.role.clone(),
        energy: energy.as_ref().ok().copied(),
        energy_work: work,
        unknown_because: energy.as_ref().err().cloned(),
        flies,
    }
}

/// Every failure of the line and its stations.
pub(crate) fn failures(loaded: &Loaded<'_>, rec: &mut impl Recorder) -> Vec<Failure> {
    let energy = loaded.main_energy();
    let work = loaded.work_energy(loaded.members.main());
    let mut out = line_failures(loaded, &energy, work, rec);
    for (k, s) in loaded.stations.iter().enumerate() {
        let end = loaded.line_end(Some(k), rec).map(How::Along);
        let trunk: Vec<&Item> = s.trunk.iter().collect();
        for (i, item) in s.trunk.iter().enumerate().filter(|(_, i)| i.fails) {
            let rec = &mut About::new(item, rec);
            let before = trunk.get(..i).unwrap_or_default();
            // The winch itself goes with its line; the body of a hand winch too.
            let goes = matches!(item.kind, PartKind::WinchMount | PartKind::HandWinch);
            let mut flies = vec![line_side(s, before, item, goes, s.thrown, &s.way, s.turns, &energy, &end, rec)];
            for b in &s.branches {
                let rest: Vec<&Item> = trunk.iter().skip(i + 1).copied().chain(&b.items).collect();
                flies.extend(anchor_side(loaded, s, &b.far, b.toward, &rest, item, rec));
            }
            out.push(failure(item, &energy, work, flies));
        }
        for b in &s.branches {
            let items: Vec<&Item> = b.items.iter().collect();
            for (i, item) in b.items.iter().enumerate() {
                let rec = &mut About::new(item, rec);
                let before: Vec<&Item> = trunk.iter().chain(items.get(..i).unwrap_or_default()).copied().collect();
                let several = s.branches.len() > 1;
                let (direction, way) = if several {
                    (-b.toward, format!("away from {}, thrown by the legs that are left", b.far))
                } else {
                    (s.thrown, s.way.clone())
                };
                let goes = matches!(item.kind, PartKind::MadeAnchor | PartKind::RecoveryPoint);
                let aside = s.turns || several;
                let mut flies = vec![line_side(s, &before, item, goes, direction, &way, aside, &energy, &end, rec)];
                let rest = items.get(i + 1..).unwrap_or_default();
                flies.extend(anchor_side(loaded, s, &b.far, b.toward, rest, item, rec));
                // A part that several legs share fails once.
                out.push(failure(item, &energy, work, flies));
            }
        }
    }
    out
}

/// What flies on the side of the line. `goes`: what failed goes with it as a whole, or a piece of it does.
#[allow(clippy::too_many_arguments)]
fn line_side(
    s: &Station,
    before: &[&Item],
    failed: &Item,
    goes: bool,
    direction: Vec3,
    way: &str,
    aside: bool,
    energy: &Known<Energy>,
    end: &Known<How>,
    rec: &mut impl Recorder,
) -> Fly {
    let weight = match (before.is_empty() && goes, failed.mass.as_ref()) {
        // Nothing else hangs there: it is what flies.
        (true, Ok(m)) => Ok(*m),
        (true, Err(e)) => Err(e.clone()),
        // The bight takes a piece of the block with it, or nearly all of it.
        (false, Ok((m, _))) if before.is_empty() && failed.kind == PartKind::Block => {
            Ok((Range::hull(m.low() * PIECE, m.likely() * PIECE, m.high()), true))
        }
        (false, _) => mass(before, Some(failed)),
    };
    let what = match (list(before), failed.kind) {
        (None, PartKind::Block) => "the bight of the line with pieces of the block".to_owned(),
        (None, PartKind::WinchMount) => "the winch with its line".to_owned(),
        (None, _) if goes => failed.name.clone(),
        (None, _) => "the free end of the line".to_owned(),
        (Some(l), _) if goes => format!("{l}, with what is torn off {}", failed.name),
        // A tree or a boulder does not fly.
        (Some(l), PartKind::NaturalAnchor) => l,
        (Some(l), _) => format!("{l}, perhaps with a piece of {}", failed.name),
    };
    let how = if aside { Ok(How::Aside) } else { end.clone() };
    fly(what, (&s.point, s.at), way.to_owned(), direction, weight, energy, how, rec)
}

/// The line itself, a leg at a time.
fn line_failures(
    loaded: &Loaded<'_>,
    energy: &Known<Energy>,
    work: Option<Energy>,
    rec: &mut impl Recorder,
) -> Vec<Failure> {
    let mut out = Vec::new();
    let end = loaded.line_end(None, rec).map(How::Along);
    let bare = || Ok((Range::hull(Mass::ZERO, Mass::ZERO, Mass::ZERO), false));
    let pairs: Vec<(&Station, &Station)> = loaded.stations.iter().zip(loaded.stations.iter().skip(1)).collect();
    let one_a_leg = loaded.members.line.len() == pairs.len();
    for (k, m) in loaded.members.line.iter().enumerate().filter_map(|(k, i)| loaded.member(*i).map(|m| (k, m))) {
        let item = Item {
            name: m.name.clone(),
            role: if one_a_leg { format!("line {}", m.what) } else { m.what.clone() },
            kind: PartKind::Line,
            mass: bare(),
            member: None,
            fails: true,
        };
        let rec = &mut About::new(&item, rec);
        let mut flies = Vec::new();
        let legs: Vec<(&Station, &Station)> =
            if one_a_leg { pairs.get(k).copied().into_iter().collect() } else { pairs.clone() };
        for (a, b) in legs {
            let along = (b.at - a.at).unit().unwrap_or(Vec3::ZERO);
            let middle = (a.at + b.at) * 0.5;
            for (to, direction) in [(a, -along), (b, along)] {
                let whips = if to.turns { "; it then runs through the block and whips sideways" } else { "" };
                let way = format!("along the line toward {} and past it{whips}", to.point);
                let what = "a free end of the line".to_owned();
                flies.push(fly(what, ("the line", middle), way, direction, bare(), energy, end.clone(), rec));
            }
        }
        // What hangs on straps flies back to its anchor.
        for s in loaded.stations {
            for b in s.branches.iter().filter(|b| b.items.iter().any(|i| i.member.is_some())) {
                let hangs: Vec<&Item> = s.trunk.iter().chain(before_strap(b)).collect();
                let Some(names) = list(&hangs) else { continue };
                let way = format!("back toward {}, as far past it as the strap lets it", b.far);
                let what = format!("{names} on its strap");
                flies.push(fly(what, (&s.point, s.at), way, b.toward, mass(&hangs, None), energy, Ok(How::Aside), rec));
            }
        }
        out.push(failure(&item, energy, work, flies));
    }
    out
}

/// A tie-back or a holding line: one straight line of its own. `ends`: the vehicle's point and what holds it, by name and place.
pub(crate) fn tie_failures(
    loaded: &Loaded<'_>,
    items: &[Item],
    ends: [(&str, Vec3); 2],
    rec: &mut impl Recorder,
) -> Vec<Failure> {
    let [(near, at), (far, there)] = ends;
    let all = || items.iter().filter_map(|i| i.member);
    let energy = loaded.energy(all(), |m| loaded.pull(m));
    let work = loaded.work_energy(all());
    let along = (there - at).unit().unwrap_or(Vec3::ZERO);
    let mut out = Vec::new();
    for (i, failed) in items.iter().enumerate() {
        let rec = &mut About::new(failed, rec);
        let mut flies = Vec::new();
        let (a, b): (Vec<&Item>, Vec<&Item>) =
            (items.iter().take(i).rev().collect(), items.iter().skip(i + 1).collect());
        for (side, name, place, direction) in [(&a, near, there, -along), (&b, far, at, along)] {
            let soft: Vec<usize> =
                core::iter::once(failed).chain(side.iter().copied()).filter_map(|i| i.member).collect();
            if soft.is_empty() {
                continue;
            }
            // The last of a side is what it is held by: it stays.
            let held = side.len().saturating_sub(1);
            let hard: Vec<&Item> = side.iter().copied().take(held).take_while(|i| i.member.is_none()).collect();
            let end = end_speed(loaded, &soft, rec);
            let bent = soft.iter().filter_map(|i| loaded.member(*i)).any(Member::is_bent);
            let goes = matches!(failed.kind, PartKind::MadeAnchor | PartKind::RecoveryPoint | PartKind::WinchMount);
            let weight = if goes && hard.is_empty() {
                failed.mass.clone()
            } else {
                mass(&hard, Some(failed).filter(|f| f.member.is_none()))
            };
            let is_bare = weight.as_ref().is_ok_and(|(m, _)| m.low() <= Mass::ZERO);
            let how = if bent && !is_bare { Ok(How::Aside) } else { end.map(How::Along) };
            let what = match list(&hard) {
                None if goes => failed.name.clone(),
                None => "a free end of it".to_owned(),
                Some(l) => l,
            };
            let way = format!("along the line toward {name} and past it");
            let from = if direction == along { near } else { far };
            flies.push(fly(what, (from, place), way, direction, weight, &energy, how, rec));
        }
        out.push(failure(failed, &energy, work, flies));
    }
    out
}
