//! From a pull that was played to the types of its shape. Nothing is rounded, and a number that is not finite becomes `null`.

use super::pull_shape::{
    HistoryLeg, HistoryPoint, HistoryRow, LoweringChoice, LoweringRow, PullDocument, PullEvent, PullStage, SteadyRow,
    WorkAccount, WorstMoment,
};
use super::shape::Piece;
use super::write::{finding, newtons, number, range_n, range_ratio, range_s, three, vector};
use unmire_model::range::Scalar;
use unmire_model::{Charge, Energy, Length, Range};
use unmire_planner::pull::report;

/// The name of the shape, first in every document.
pub const PULL_SCHEMA: &str = "unmire.pull/1";

fn metres(l: Length) -> Option<f64> {
    number(l.as_m())
}
fn joules(e: Energy) -> Option<f64> {
    number(e.as_j())
}
fn ampere_hours(r: &Range<Charge>) -> [Option<f64>; 3] {
    r.values().map(|q| number(q.as_ah()))
}
fn threes<Q: Scalar>(r: Option<&Range<Q>>) -> Option<[Option<f64>; 3]> {
    r.map(three)
}

/// The document of a pull, as data.
#[must_use]
pub fn pull_document(p: &report::Pull) -> PullDocument {
    PullDocument {
        schema: PULL_SCHEMA.to_owned(),
        history: p.history.iter().map(row).collect(),
        worst: p.worst.iter().map(worst).collect(),
        stages: p.stages.iter().map(stage).collect(),
        stability: p.stability.iter().map(steady).collect(),
        stops: p.stops.iter().map(event).collect(),
        events: p.events.iter().map(event).collect(),
        lowering: p.lowering.iter().map(lowering).collect(),
        title: p.title.clone(),
        policy: p.policy.clone(),
        verdict: p.verdict.word().to_owned(),
        passes: p.passes(),
        arrives: p.arrives(),
        length_m: metres(p.length),
        reached_m: metres(p.reached),
        time_s: range_s(&p.time),
        findings: p.findings.iter().map(finding).collect(),
    }
}

/// The document of a pull as text: two spaces a level, a newline at the end.
///
/// # Errors
/// If it cannot be written as JSON, which no pull is known to bring about.
pub fn pull_to_text(p: &report::Pull) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&pull_document(p))?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of the shape, made from the same types that write it.
#[must_use]
pub fn schema_pull() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<PullDocument>();
    schema.insert("title".to_owned(), PULL_SCHEMA.into());
    schema.into()
}

fn row(r: &report::Row) -> HistoryRow {
    HistoryRow {
        travel_m: metres(r.travel),
        resistance_n: newtons(r.resistance.high()),
        line_tension_n: newtons(r.line_tension.high()),
        layer: r.layer,
        current_a: r.current.and_then(|c| number(c.high().as_a())),
        charge_ah: number(r.charge.high().as_ah()),
        time_s: number(r.time.high().as_s()),
        legs: r.legs.iter().map(leg).collect(),
        stage: r.stage as u64,
        resistance: range_n(&r.resistance),
        line_tension: range_n(&r.line_tension),
        stall_tension_n: r.stall_tension.and_then(newtons),
        ability_n: r.ability.and_then(newtons),
        line_out_m: metres(r.line_out),
        speed_m_s: threes(r.speed.as_ref()),
        current_range_a: threes(r.current.as_ref()),
        charge_range_ah: ampere_hours(&r.charge),
        time: range_s(&r.time),
        heat: r.heat.as_ref().map(range_ratio),
        voltage_v: threes(r.voltage.as_ref()),
        filled: r.filled.as_ref().map(range_ratio),
        at_m: vector(r.at),
        turned_rad: number(r.turned.as_rad()),
        points: r
            .points
            .iter()
            .map(|(name, at)| {
                let [x_m, y_m, z_m] = vector(*at);
                HistoryPoint { name: name.clone(), x_m, y_m, z_m }
            })
            .collect(),
    }
}
fn leg(l: &report::RowLeg) -> HistoryLeg {
    HistoryLeg {
        from: l.from.clone(),
        to: l.to.clone(),
        tension_n: newtons(l.tension),
        tension_stall_n: l.tension_stall.and_then(newtons),
        length_m: metres(l.length),
        member: l.member.clone(),
    }
}
fn worst(w: &report::Worst) -> WorstMoment {
    WorstMoment {
        part: w.part.clone(),
        travel_m: metres(w.travel),
        demand_n: w.demand.and_then(newtons),
        ratio: w.ratio.and_then(number),
        required: w.required.and_then(number),
        travel_stall_m: w.travel_stall.and_then(metres),
        demand_stall_n: w.demand_stall.and_then(newtons),
        ratio_stall: w.ratio_stall.and_then(number),
        required_stall: w.required_stall.and_then(number),
        travel_margin_m: metres(w.travel_margin),
        margin: w.margin.and_then(number),
        capacity_n: w.capacity.and_then(newtons),
        capacity_kind: w.capacity_kind.clone(),
        verdict: w.verdict.word().to_owned(),
        what: w.what.clone(),
        kind: w.kind.word().to_owned(),
        stage: w.stage as u64,
    }
}
fn stage(s: &report::Stage) -> PullStage {
    PullStage {
        from_m: metres(s.from),
        to_m: metres(s.to),
        verdict: s.verdict.word().to_owned(),
        verdict_at_start: s.verdict_at_start.word().to_owned(),
        family: s.family.word().to_owned(),
        summary: s.summary.clone(),
        why_it_ends: s.why_it_ends.clone(),
        done: s.done,
        stop_load_n: s.stop_load.and_then(newtons),
        actions: s.actions.clone(),
        pieces: s
            .pieces
            .iter()
            .map(|p| Piece { id: p.id.clone(), what: p.what.clone(), place: p.place.clone() })
            .collect(),
        rigging_s: range_s(&s.rigging),
        pulling_s: range_s(&s.pulling),
        resting_s: range_s(&s.resting),
        rests: u64::from(s.rests),
        charge_ah: ampere_hours(&s.charge),
        account: WorkAccount {
            puller_j: joules(s.account.puller),
            resistance_j: joules(s.account.resistance),
            turning_j: joules(s.account.turning),
            sheaves_j: joules(s.account.sheaves),
            elastic_j: joules(s.account.elastic),
            potential_j: joules(s.account.potential),
            left_j: joules(s.account.left()),
        },
    }
}
fn steady(s: &report::Steady) -> SteadyRow {
    SteadyRow {
        travel_m: metres(s.travel),
        roll_used: s.roll_used.as_ref().map(range_ratio),
        pitch_used: s.pitch_used.as_ref().map(range_ratio),
        over: s.over.map(str::to_owned),
        tip_pull: s.tip_pull.as_ref().map(range_n),
        sideways_pull_n: newtons(s.sideways),
        holding_n: s.holding.and_then(newtons),
        can_run_away: s.can_run_away,
        stage: s.stage as u64,
    }
}
fn event(e: &report::Event) -> PullEvent {
    PullEvent {
        travel_m: metres(e.travel),
        code: e.code.to_owned(),
        subject: e.subject.clone(),
        text: e.text.clone(),
        remedy: e.remedy.clone(),
        ends_stage: e.ends_stage,
        stage: e.stage as u64,
    }
}
fn lowering(l: &report::Lowering) -> LoweringRow {
    LoweringRow {
        from_m: metres(l.from),
        to_m: metres(l.to),
        tension: range_n(&l.tension),
        ways: l
            .ways
            .iter()
            .map(|w| LoweringChoice {
                what: w.what.clone(),
                holds_n: w.holds.and_then(newtons),
                turns: w.turns,
                tail_n: w.tail.and_then(newtons),
                note: w.note.clone(),
            })
            .collect(),
    }
}
