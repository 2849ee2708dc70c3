//! From a report to the types of the shape. Nothing is rounded, and a number that is not finite becomes `null`.

use super::shape::{
    Action, Alternative, AnchorForce, Check, Demand, DemandPart, Document, Finding, GateItem, KeepOut, KeepOutRule,
    Leg, OtherPolicy, Piece, Plan, PlanPull, Point, Policy, RangeN, RangeRatio, RangeS, Stability, Step, Stop, Winch,
};
use unmire_audit::verdict;
use unmire_model::range::Scalar;
use unmire_model::{Force, Range, Time, Vec3};
use unmire_planner::report;

/// A number, or nothing if it is not one.
pub(super) fn number(x: f64) -> Option<f64> {
    x.is_finite().then_some(x)
}
pub(super) fn newtons(f: Force) -> Option<f64> {
    number(f.as_n())
}
pub(super) fn three<Q: Scalar>(r: &Range<Q>) -> [Option<f64>; 3] {
    r.values().map(|q| number(q.si()))
}
pub(super) fn vector(v: Vec3) -> [Option<f64>; 3] {
    [v.x, v.y, v.z].map(number)
}
/// A text, or nothing if it is empty.
fn text(s: &str) -> Option<String> {
    (!s.is_empty()).then(|| s.to_owned())
}

pub(super) fn document(r: &report::Report) -> Document {
    let bare = r.policy.is_none();
    Document {
        schema: super::SCHEMA.to_owned(),
        policy: r.policy.as_ref().map(|p| p.name.clone()),
        demand: r.demand.as_ref().map(demand),
        findings: r.findings.iter().map(finding).collect(),
        plans: r.plans.iter().map(|p| plan(p, bare)).collect(),
        title: r.title.clone(),
        passes: r.passes(),
        policy_words: r.policy.as_ref().map(|p| Policy {
            name: p.name.clone(),
            title: p.title.clone(),
            doc: p.doc.clone(),
            grade: p.grade.word().to_owned(),
        }),
        gate: r.gate.iter().map(|g| GateItem { word: g.word.to_owned(), text: g.text.clone() }).collect(),
        looked_at: r.looked_at as u64,
        played: r.played as u64,
        ways: r.ways.as_ref().map(super::ways::ways),
    }
}

fn demand(d: &report::Demand) -> Demand {
    let [low_n, likely_n, high_n] = three(&d.force);
    Demand {
        low_n,
        likely_n,
        high_n,
        method: d.method.clone(),
        parts: d.parts.iter().map(demand_part).collect(),
        alternatives: d.alternatives.iter().map(alternative).collect(),
    }
}
fn demand_part(p: &report::DemandPart) -> DemandPart {
    let [low_n, likely_n, high_n] = three(&p.force);
    DemandPart { name: p.name.clone(), low_n, likely_n, high_n, source: p.source.clone(), how: p.how.clone() }
}
fn alternative(a: &report::Alternative) -> Alternative {
    let [low_n, likely_n, high_n] = three(&a.force);
    Alternative {
        name: a.name.clone(),
        low_n,
        likely_n,
        high_n,
        source: a.source.clone(),
        how: a.how.clone(),
        used: a.used,
    }
}
pub(super) fn range_n(r: &Range<Force>) -> RangeN {
    let [low_n, likely_n, high_n] = three(r);
    RangeN { low_n, likely_n, high_n }
}
pub(super) fn range_s(r: &Range<Time>) -> RangeS {
    let [low_s, likely_s, high_s] = three(r);
    RangeS { low_s, likely_s, high_s }
}
pub(super) fn range_ratio(r: &Range<f64>) -> RangeRatio {
    let [low, likely, high] = three(r);
    RangeRatio { low, likely, high }
}

pub(super) fn finding(f: &verdict::Finding) -> Finding {
    Finding {
        code: f.code.to_owned(),
        effect: f.effect.word().to_owned(),
        subject: f.subject.clone(),
        text: f.text.clone(),
        remedy: f.remedy.clone(),
    }
}

/// One rig; a bare one has no verdict, need, stop rule or keep-out ground.
fn plan(p: &report::Plan, bare: bool) -> Plan {
    let judged = !bare;
    Plan {
        verdict: judged.then(|| p.verdict.word().to_owned()),
        stop_load_n: p.stop.line_pull.and_then(newtons),
        family: judged.then(|| p.family.word().to_owned()),
        why: text(&p.why).filter(|_| judged),
        demand: judged.then(|| demand(&p.demand)),
        actions: p.actions.iter().map(action).collect(),
        pieces: p.pieces.iter().map(piece).collect(),
        points: p.points.iter().map(point).collect(),
        legs: p.legs.iter().map(leg).collect(),
        anchors: p.anchors.iter().map(anchor).collect(),
        weakest: decisive(p),
        // Behind the strengths come the conditions that decide the verdict, so that the worst check is the rig's verdict.
        checks: p.checks.iter().map(check).chain(deciding(p).map(condition)).collect(),
        residual_n: newtons(p.residual),
        winch: p.winch.as_ref().map(winch),
        steps: p.steps.iter().map(|s| Step { phase: s.phase.to_owned(), text: s.text.clone() }).collect(),
        cautions: p.cautions.clone(),
        keep_out: judged.then(|| keep_out(&p.keep_out)),
        summary: text(&p.summary),
        weakest_check: p.weakest.filter(|i| *i < p.checks.len()).map(|i| i as u64),
        lowest_margin: p.lowest_margin.and_then(number),
        findings: p.findings.iter().map(finding).collect(),
        stop: judged.then(|| Stop {
            line_pull_n: p.stop.line_pull.and_then(newtons),
            cell_reading_n: p.stop.cell_reading.and_then(newtons),
            when: p.stop.when.clone(),
        }),
        stability: p.stability.as_ref().map(stability),
        pull: p.pull.as_ref().map(plan_pull),
        time_s: judged.then(|| range_s(&p.time)),
        other_policies: p.other_policies.iter().map(other_policy).collect(),
        trail: p.trail.steps.iter().map(super::trail::step).collect(),
    }
}

pub(super) fn action(a: &report::Action) -> Action {
    Action {
        word: a.word.clone(),
        text: a.text.clone(),
        before: range_n(&a.before),
        after: range_n(&a.after),
        time_s: range_s(&a.time),
        source: a.source.clone(),
        how: a.how.clone(),
    }
}
pub(super) fn piece(p: &report::PlacedPiece) -> Piece {
    Piece { id: p.id.clone(), what: p.what.clone(), place: p.place.clone() }
}
fn point(p: &report::PlanPoint) -> Point {
    let [x_m, y_m, z_m] = vector(p.at);
    Point { name: p.name.clone(), kind: p.kind.clone(), x_m, y_m, z_m }
}
fn leg(l: &report::PlanLeg) -> Leg {
    Leg {
        member: l.member.clone(),
        from: l.from.clone(),
        to: l.to.clone(),
        length_m: number(l.length.as_m()),
        tension_work_n: newtons(l.tension_work),
        tension_stall_n: l.tension_stall.and_then(newtons),
    }
}
fn anchor(a: &report::AnchorForce) -> AnchorForce {
    AnchorForce { point: a.point.clone(), force_work_n: vector(a.work), force_stall_n: a.stall.map(vector) }
}
pub(super) fn check(c: &report::PlanCheck) -> Check {
    Check {
        code: c.code.clone(),
        part: c.part.clone(),
        what: c.what.clone(),
        demand_work_n: c.demand_work.and_then(newtons),
        demand_stall_n: c.demand_stall.and_then(newtons),
        capacity_n: c.capacity.and_then(newtons),
        capacity_kind: c.capacity_kind.clone(),
        ratio_work: c.ratio_work.and_then(number),
        ratio_stall: c.ratio_stall.and_then(number),
        required_work: c.required_work.and_then(number),
        required_stall: c.required_stall.and_then(number),
        verdict: c.verdict.word().to_owned(),
        source: c.source.clone(),
        kind: c.kind.word().to_owned(),
        stop_load_n: c.stop_load.and_then(newtons),
        unknown_because: c.unknown_because.clone(),
    }
}
/// Findings that bar a rig or leave it unknown; what a strength check says already is left out.
fn deciding(p: &report::Plan) -> impl Iterator<Item = &verdict::Finding> {
    p.findings.iter().filter(|f| match f.effect {
        verdict::Effect::Bars => true,
        verdict::Effect::Unknown => {
            !p.checks.iter().any(|c| c.verdict == verdict::Verdict::Unknown && c.part == f.subject)
        }
        verdict::Effect::Note | verdict::Effect::Caution => false,
    })
}
/// What decides: what bars the rig, else the part with the lowest margin.
fn decisive(p: &report::Plan) -> Option<String> {
    let barred = p.findings.iter().find(|f| f.effect == verdict::Effect::Bars).map(|f| f.subject.clone());
    barred.or_else(|| p.weakest.and_then(|i| p.checks.get(i)).map(|c| c.part.clone()))
}
/// A finding that decides, as a check: no load, no capacity, only its word.
fn condition(f: &verdict::Finding) -> Check {
    let word = if f.effect == verdict::Effect::Bars { verdict::Verdict::Overloaded } else { verdict::Verdict::Unknown };
    Check {
        code: f.code.to_owned(),
        part: f.subject.clone(),
        what: f.text.clone(),
        demand_work_n: None,
        demand_stall_n: None,
        capacity_n: None,
        capacity_kind: String::new(),
        ratio_work: None,
        ratio_stall: None,
        required_work: None,
        required_stall: None,
        verdict: word.word().to_owned(),
        source: String::new(),
        kind: "condition".to_owned(),
        stop_load_n: None,
        unknown_because: None,
    }
}
fn winch(w: &report::PlanWinch) -> Winch {
    Winch {
        layer: w.layer,
        pull_n: newtons(w.pull),
        line_out_m: number(w.line_out.as_m()),
        id: w.id.clone(),
        ability_n: w.ability.and_then(newtons),
        stall_n: newtons(w.stall),
        stall_assumed: w.stall_assumed,
        wraps_left: w.wraps_left.and_then(number),
    }
}
pub(super) fn keep_out(k: &report::KeepOut) -> KeepOut {
    KeepOut {
        rule: k.rule.clone(),
        rings: k.rings.iter().map(|ring| ring.iter().map(|(x, y)| [number(*x), number(*y)]).collect()).collect(),
        radius_m: number(k.radius.as_m()),
        others: k
            .others
            .iter()
            .map(|(name, radius, source)| KeepOutRule {
                name: name.clone(),
                radius_m: number(radius.as_m()),
                source: source.clone(),
            })
            .collect(),
        exceptions: k.exceptions.clone(),
    }
}
fn stability(s: &report::PlanStability) -> Stability {
    Stability {
        used: s.used.as_ref().map(range_ratio),
        used_with_holding: s.used_with_holding.as_ref().map(range_ratio),
        sideways_pull_n: newtons(s.sideways_pull),
        off_line_rad: number(s.off_line.as_rad()),
    }
}
fn plan_pull(p: &report::PlanPull) -> PlanPull {
    PlanPull {
        verdict: p.verdict.word().to_owned(),
        arrives: p.arrives,
        reaches_m: number(p.reaches.as_m()),
        length_m: number(p.length.as_m()),
        why_it_ends: p.why_it_ends.clone(),
        weakest: p.weakest.as_ref().map(|w| w.0.clone()),
        weakest_travel_m: p.weakest.as_ref().and_then(|w| number(w.1.as_m())),
        lowest_margin: p.lowest_margin.and_then(number),
        line_tension_n: newtons(p.pull_work),
        stop_load_n: p.stop_load.and_then(newtons),
        pulling_s: range_s(&p.pulling),
        resting_s: range_s(&p.resting),
        charge_ah: p.charge.map(|c| c.values().map(|q| number(q.as_ah()))),
    }
}
fn other_policy((policy, verdict, margin): &(String, verdict::Verdict, Option<f64>)) -> OtherPolicy {
    OtherPolicy { policy: policy.clone(), verdict: verdict.word().to_owned(), lowest_margin: margin.and_then(number) }
}
