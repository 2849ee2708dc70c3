//! The shape `unmire.recoil/1`: energy stored, what flies when a part fails, the ground to keep clear.

use super::shape::{Finding, KeepOut, RangeN, TrailStep};
use super::write::{finding, keep_out, number, range_n};
use schemars::JsonSchema;
use serde::Serialize;
use unmire_model::{Energy, Force, Length, Mass, Range, Speed, Vec3};
use unmire_planner::recoil::{Cab, Failure as Failed, Fly as Flown, Place, RecoilReport, StandClear, Stored};

/// The name of the shape, first in every document.
pub const SCHEMA: &str = "unmire.recoil/1";

/// The answer of `unmire recoil`. SI, numbers unrounded, `null` for what is not known or does not apply.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecoilDocument {
    /// The name of this shape: `unmire.recoil/1`.
    #[schemars(extend("const" = "unmire.recoil/1"))]
    pub schema: String,
    /// The case's title.
    pub title: String,
    /// Name of the policy that judged the rig; null for none.
    pub policy: Option<String>,
    /// Whether the rig passes under it and every bound is known: exit status 0.
    pub passes: bool,
    /// Whether the case gives the rig; else it is the best that was found.
    pub given: bool,
    /// The rig in one sentence.
    pub rig: String,
    /// The policy's word on it.
    pub verdict: String,
    /// What the energies and speeds are reckoned at: `stall`, or `work` where nothing can stall.
    pub at: String,
    /// What the line and its grips store together at the high end of work, J.
    pub energy_work_j: Option<f64>,
    /// The same at stall, J; null where nothing can stall.
    pub energy_stall_j: Option<f64>,
    /// Every member that stretches.
    pub members: Vec<MemberEntry>,
    /// The failure of every part.
    pub failures: Vec<FailureEntry>,
    /// The ground to keep clear: the same as in the plan.
    pub keep_out: KeepOut,
    /// The inside of every turn of the line.
    pub bights: Vec<BightEntry>,
    /// Every published rule of distance, as if it counted for this line.
    pub rules: Vec<RuleEntry>,
    /// Where somebody can stand outside the ground to keep clear.
    pub places: Vec<PlaceEntry>,
    /// What flies at cabs that somebody may sit in.
    pub cabs: Vec<CabEntry>,
    /// Dampers on the line. None is reckoned: no test of one was found, and none shrinks the ground.
    pub dampers: u64,
    /// The words that stand with it.
    pub words: Vec<String>,
    /// What was seen when lines parted.
    pub seen: Vec<SeenEntry>,
    /// What was assumed or is not known.
    pub findings: Vec<Finding>,
    /// The working, if it was asked for.
    pub trail: Vec<TrailStep>,
}

/// One member.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MemberEntry {
    /// Its name, as in the checks.
    pub name: String,
    /// What it does there.
    pub what: String,
    /// Its length, m.
    pub length_m: Option<f64>,
    /// Pull on it at the high end of work, N.
    pub tension_work_n: Option<f64>,
    /// Pull on it at stall, N.
    pub tension_stall_n: Option<f64>,
    /// Stiffness EA, N.
    pub stiffness: Option<RangeN>,
    /// Mass of a metre of it, kg.
    pub mass_per_metre: Option<RangeKg>,
    /// Energy at the high end of work, J, from its stiffest to its softest.
    pub energy_work: Option<RangeJ>,
    /// Energy at stall, J.
    pub energy_stall: Option<RangeJ>,
    /// Greatest speed of its free end alone, m/s.
    pub tip_m_s: Option<f64>,
    /// Why something of it is not known.
    pub unknown_because: Option<String>,
}

/// A range of energies.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RangeJ {
    /// Low end, J.
    pub low_j: Option<f64>,
    /// Likely, J.
    pub likely_j: Option<f64>,
    /// High end, J.
    pub high_j: Option<f64>,
}

/// A range of masses.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RangeKg {
    /// Low end, kg.
    pub low_kg: Option<f64>,
    /// Likely, kg.
    pub likely_kg: Option<f64>,
    /// High end, kg.
    pub high_kg: Option<f64>,
}

/// The failure of one part.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FailureEntry {
    /// The part, as in the checks.
    pub part: String,
    /// Energy stored in what lets go with it, J; null if not known.
    pub energy_j: Option<f64>,
    /// Nothing flies faster than this, m/s; null if not known for all that flies.
    pub speed_bound_m_s: Option<f64>,
    /// What flies.
    pub flies: Vec<FlyEntry>,
    /// Its kind.
    pub kind: String,
    /// What it does there.
    pub what: String,
    /// The energy at the high end of work, J.
    pub energy_work_j: Option<f64>,
    /// Why it is not known.
    pub unknown_because: Option<String>,
}

/// One thing that flies.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FlyEntry {
    /// What.
    pub what: String,
    /// From which point.
    pub from: String,
    /// From where: x, y, z, m.
    pub at_m: [Option<f64>; 3],
    /// The way it sets off, of length one.
    pub direction: [Option<f64>; 3],
    /// Along which way, in words.
    pub way: String,
    /// Whether legs at an angle throw it, out of the line.
    pub sideways: bool,
    /// Its mass; zero at the low end for a bare end.
    pub mass: Option<RangeKg>,
    /// Whether some of it is a band because nobody weighed it.
    pub mass_assumed: bool,
    /// No faster than this, m/s.
    pub speed_bound_m_s: Option<f64>,
    /// What sets the bound: `wave` along the line, or `energy`.
    pub bound_by: Option<String>,
    /// Energy that it carries at most, J.
    pub energy_j: Option<f64>,
    /// Why its bound is not known.
    pub unknown_because: Option<String>,
}

/// The inside of a turn.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BightEntry {
    /// The point at which the line turns.
    pub point: String,
    /// Its corners, x and y in metres.
    pub ring: Vec<[Option<f64>; 2]>,
}

/// A published rule of distance.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RuleEntry {
    /// The rule in words.
    pub name: String,
    /// What it asks here, m.
    pub distance_m: Option<f64>,
    /// Whether it asks for more than the ground drawn here.
    pub larger: bool,
    /// Whether it is meant for straps between vehicles.
    pub for_straps: bool,
    /// Key of its source.
    pub source: String,
    /// How it is known.
    pub how: String,
}

/// Where somebody can stand.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlaceEntry {
    /// x and y, m.
    pub at_m: [Option<f64>; 2],
    /// For whom.
    pub who: String,
    /// Where that is, in words.
    pub whereabouts: String,
    /// How far from the stuck vehicle, m.
    pub distance_m: Option<f64>,
    /// Least angle to a line of flight, rad.
    pub off_line_rad: Option<f64>,
    /// Distance to the nearest loaded hard point, m.
    pub nearest_m: Option<f64>,
    /// Published rules that ask for more distance than that.
    pub short_of: Vec<String>,
}

/// A cab.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CabEntry {
    /// The vehicle.
    pub vehicle: String,
    /// Who would sit there.
    pub who: String,
    /// What flies at it.
    pub flies_at_it: Vec<String>,
    /// No faster than this, m/s; null if nothing flies at it, or it is not known.
    pub speed_bound_m_s: Option<f64>,
    /// Energy of the worst of it, J.
    pub energy_j: Option<f64>,
    /// On which conditions.
    pub conditions: Vec<String>,
}

/// Something that was seen.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SeenEntry {
    /// In words.
    pub what: String,
    /// What the number is: `speed` in m/s, `distance` in m, `energy` in J; `accident` has none.
    pub of: String,
    /// The number.
    pub value: Option<f64>,
    /// Key of its source.
    pub source: String,
    /// How it is known.
    pub how: String,
}

/// The document, as data.
#[must_use]
pub fn document(r: &RecoilReport) -> RecoilDocument {
    RecoilDocument {
        schema: SCHEMA.to_owned(),
        title: r.title.clone(),
        policy: r.policy.as_ref().map(|p| p.name.clone()),
        passes: r.passes(),
        given: r.given,
        rig: r.plan.summary.clone(),
        verdict: r.plan.verdict.word().to_owned(),
        at: if r.thrown.at_stall { "stall" } else { "work" }.to_owned(),
        energy_work_j: r.thrown.energy_work.and_then(joules),
        energy_stall_j: r.thrown.energy_stall.and_then(joules),
        members: r.thrown.members.iter().map(member).collect(),
        failures: r.thrown.failures.iter().map(failure).collect(),
        keep_out: keep_out(&r.thrown.keep_out),
        bights: bights(&r.thrown.bights),
        rules: r.thrown.rules.iter().map(|s| rule(s, r.thrown.keep_out.radius)).collect(),
        places: r.thrown.places.iter().map(place).collect(),
        cabs: r.thrown.cabs.iter().map(cab).collect(),
        dampers: r.thrown.dampers as u64,
        words: r.thrown.words.clone(),
        seen: r
            .thrown
            .seen
            .iter()
            .map(|s| SeenEntry {
                what: s.what.to_owned(),
                of: s.of.to_owned(),
                value: s.value.and_then(number),
                source: s.source.to_owned(),
                how: s.how.to_owned(),
            })
            .collect(),
        findings: r.thrown.findings.iter().map(finding).collect(),
        trail: r.trail.steps.iter().map(super::trail::step).collect(),
    }
}

/// The document as text: two spaces a level, a newline at the end.
///
/// # Errors
/// If it cannot be written as JSON, which no answer is known to bring about.
pub fn to_text(r: &RecoilReport) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&document(r))?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of the shape.
#[must_use]
pub fn schema() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<RecoilDocument>();
    schema.insert("title".to_owned(), SCHEMA.into());
    schema.into()
}

pub(super) fn bights(all: &[(String, Vec<(f64, f64)>)]) -> Vec<BightEntry> {
    let corner = |(x, y): &(f64, f64)| [number(*x), number(*y)];
    all.iter()
        .map(|(point, ring)| BightEntry { point: point.clone(), ring: ring.iter().map(corner).collect() })
        .collect()
}
pub(super) fn rule(s: &StandClear, radius: Length) -> RuleEntry {
    RuleEntry {
        name: s.what.to_owned(),
        distance_m: number(s.distance.as_m()),
        larger: s.distance > radius,
        for_straps: s.is_for_straps(),
        source: s.source.to_owned(),
        how: s.how.words().to_owned(),
    }
}
fn newtons(f: Force) -> Option<f64> {
    number(f.as_n())
}
fn joules(e: Energy) -> Option<f64> {
    number(e.as_j())
}
fn speed(s: Speed) -> Option<f64> {
    number(s.as_m_s())
}
fn point(v: Vec3) -> [Option<f64>; 3] {
    [number(v.x), number(v.y), number(v.z)]
}
fn range_j(r: &Range<Energy>) -> RangeJ {
    RangeJ { low_j: joules(r.low()), likely_j: joules(r.likely()), high_j: joules(r.high()) }
}
fn range_kg(r: &Range<Mass>) -> RangeKg {
    let kg = |m: Mass| number(m.as_kg());
    RangeKg { low_kg: kg(r.low()), likely_kg: kg(r.likely()), high_kg: kg(r.high()) }
}

fn member(m: &Stored) -> MemberEntry {
    MemberEntry {
        name: m.name.clone(),
        what: m.what.clone(),
        length_m: number(m.length.as_m()),
        tension_work_n: newtons(m.work),
        tension_stall_n: m.stall.and_then(newtons),
        stiffness: m.ea.as_ref().map(range_n),
        mass_per_metre: m.mass_per_metre.as_ref().map(range_kg),
        energy_work: m.energy_work.as_ref().map(range_j),
        energy_stall: m.energy_stall.as_ref().map(range_j),
        tip_m_s: m.tip.and_then(speed),
        unknown_because: m.unknown_because.clone(),
    }
}

pub(super) fn failure(f: &Failed) -> FailureEntry {
    FailureEntry {
        part: f.part.clone(),
        energy_j: f.energy.and_then(joules),
        speed_bound_m_s: f.speed().and_then(speed),
        flies: f.flies.iter().map(fly).collect(),
        kind: f.kind.word().to_owned(),
        what: f.role.clone(),
        energy_work_j: f.energy_work.and_then(joules),
        unknown_because: f.unknown_because.clone(),
    }
}

fn fly(f: &Flown) -> FlyEntry {
    FlyEntry {
        what: f.what.clone(),
        from: f.from.clone(),
        at_m: point(f.at),
        direction: point(f.direction),
        way: f.way.clone(),
        sideways: f.aside,
        mass: f.mass.as_ref().map(range_kg),
        mass_assumed: f.mass_assumed,
        speed_bound_m_s: f.bound.and_then(|b| speed(b.speed)),
        bound_by: f.bound.map(|b| b.limit.word().to_owned()),
        energy_j: f.energy.and_then(joules),
        unknown_because: f.unknown_because.clone(),
    }
}

pub(super) fn place(p: &Place) -> PlaceEntry {
    PlaceEntry {
        at_m: [number(p.at.0), number(p.at.1)],
        who: p.who.to_owned(),
        whereabouts: p.whereabouts.clone(),
        distance_m: number(p.distance.as_m()),
        off_line_rad: number(p.off_line.as_rad()),
        nearest_m: number(p.nearest.as_m()),
        short_of: p.short_of.clone(),
    }
}

pub(super) fn cab(c: &Cab) -> CabEntry {
    CabEntry {
        vehicle: c.vehicle.clone(),
        who: c.who.to_owned(),
        flies_at_it: c.flies_at_it.clone(),
        speed_bound_m_s: c.speed.and_then(speed),
        energy_j: c.energy.and_then(joules),
        conditions: c.conditions.iter().map(|s| (*s).to_owned()).collect(),
    }
}
