//! The shape `unmire.kinetic/1`: a kinetic pull of a case, or a bare problem.

pub use super::kinetic_shape::{
    KineticDocument, OtherEntry, OutcomeEntry, PracticeEntry, RefusedEntry, SampleEntry, Three, WindowEntry,
};
use super::recoil::{bights, cab, failure, place, rule};
use super::write::{action, check, finding, keep_out, newtons, number, piece, range_n, range_s, three};
use unmire_model::range::Scalar;
use unmire_model::{Energy, Range, Speed, Time};
use unmire_planner::kinetic::{
    Answer, BareReport, History, KineticReport, NoRunUp, Outcome, Practice, Refused, Resistance, Sample, Window,
    end_word, event_word,
};

/// The name of the shape, first in every document.
pub const SCHEMA: &str = "unmire.kinetic/1";

/// The document of a case, as data.
#[must_use]
pub fn document(r: &KineticReport) -> KineticDocument {
    let mut d = KineticDocument {
        policy: Some(r.policy.name.clone()),
        passes: r.passes(),
        why: r.none_because.clone(),
        why_code: r.none_because.as_ref().map(|_| "kinetic-no-answer".to_owned()),
        refused: r.refused.iter().map(refused).collect(),
        words: r.words.clone(),
        findings: r.findings.iter().map(finding).collect(),
        trail: r.trail.steps.iter().map(super::trail::step).collect(),
        others: r.answers.iter().skip(1).map(other).collect(),
        ..empty(&r.title)
    };
    if let Some(a) = r.answers.first() {
        answer(&mut d, a);
    }
    d
}

/// The document of a bare problem, as data.
#[must_use]
pub fn bare_document(r: &BareReport) -> KineticDocument {
    let o = &r.history.outcome;
    let p = &r.problem;
    let exact = |v: f64| Some(Three { low: number(v), likely: number(v), high: number(v) });
    let (window, why, why_code) = match r.asking.as_ref().map(|a| &a.window) {
        None => (None, Some("no window was asked for: give [asked]".to_owned()), None),
        Some(w) => windowed(w),
    };
    let held = match p.stuck.resistance {
        Resistance::Constant(r) | Resistance::Decaying { breakaway: r, .. } => Some(Range::hull(r, r, r)),
        Resistance::Fixed => None,
    };
    let traction = p.puller.traction;
    KineticDocument {
        passes: r.passes(),
        bare: true,
        words: r.words.clone(),
        peak_n: exact(o.peak.as_n()),
        stretch_m: number(o.stretch.as_m()),
        travel_m: number(o.travel.as_m()),
        stretch_range_m: exact(o.stretch.as_m()),
        travel_range_m: exact(o.travel.as_m()),
        window,
        why,
        why_code,
        history: samples(&r.history),
        speed_m_s: exact(o.closing_speed.as_m_s()),
        slack_m: exact(p.slack.as_m()),
        asked_m: r.asking.as_ref().and_then(|a| number(a.asked.travel.as_m())),
        fastest_m_s: r.asking.as_ref().and_then(|a| speed(a.asked.fastest)),
        limit_n: r.asking.as_ref().and_then(|a| newtons(a.asked.limit)),
        puller_kg: exact(p.puller.mass.as_kg()),
        stuck_kg: exact(p.stuck.mass.as_kg()),
        traction: Some(range_n(&Range::hull(traction, traction, traction))),
        resistance: held.as_ref().map(range_n),
        energy_j: exact(r.rope_energy.as_j()),
        outcomes: vec![outcome("likely", o)],
        findings: r.warnings.iter().map(warning).collect(),
        trail: r.trail.steps.iter().map(super::trail::step).collect(),
        ..empty(&r.title)
    }
}

/// A document as text: two spaces a level, a newline at the end.
///
/// # Errors
/// If it cannot be written as JSON, which no answer is known to bring about.
pub fn to_text(d: &KineticDocument) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(d)?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema of the shape.
#[must_use]
pub fn schema() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<KineticDocument>();
    schema.insert("title".to_owned(), SCHEMA.into());
    schema.into()
}

fn empty(title: &str) -> KineticDocument {
    KineticDocument {
        schema: SCHEMA.to_owned(),
        title: title.to_owned(),
        policy: None,
        passes: false,
        peak_n: None,
        stretch_m: None,
        travel_m: None,
        stretch_range_m: None,
        travel_range_m: None,
        window: None,
        why: None,
        why_code: None,
        history: Vec::new(),
        history_high: Vec::new(),
        bare: false,
        verdict: None,
        helper: None,
        rope: None,
        rig: None,
        parts: Vec::new(),
        lowest_margin: None,
        limit_n: None,
        limit_part: None,
        speed_m_s: None,
        speed_from: None,
        slack_m: None,
        asked_m: None,
        fastest_m_s: None,
        puller_kg: None,
        stuck_kg: None,
        traction: None,
        resistance: None,
        energy_j: None,
        outcomes: Vec::new(),
        actions: Vec::new(),
        pieces: Vec::new(),
        without_steel: None,
        room_m: None,
        time_s: None,
        practices: Vec::new(),
        failures: Vec::new(),
        keep_out: None,
        bights: Vec::new(),
        rules: Vec::new(),
        places: Vec::new(),
        cabs: Vec::new(),
        others: Vec::new(),
        refused: Vec::new(),
        words: Vec::new(),
        findings: Vec::new(),
        trail: Vec::new(),
    }
}

fn answer(d: &mut KineticDocument, a: &Answer) {
    let (window, why, why_code) = windowed(&a.window);
    let t = &a.thrown;
    d.peak_n = Some(range(&a.pull.peak));
    d.stretch_m = number(a.pull.stretch.likely().as_m());
    d.travel_m = number(a.pull.travel.likely().as_m());
    d.stretch_range_m = Some(range(&a.pull.stretch));
    d.travel_range_m = Some(range(&a.pull.travel));
    (d.window, d.why, d.why_code) = (window, why, why_code);
    d.history = samples(&a.likely);
    d.history_high = samples(&a.high);
    d.verdict = Some(a.verdict.word().to_owned());
    d.helper = Some(a.helper.clone());
    d.rope = Some(a.rope.clone());
    d.rig = Some(a.summary.clone());
    d.parts = a.checks.iter().map(check).collect();
    d.lowest_margin = a.lowest_margin.and_then(number);
    d.limit_n = a.limit.as_ref().and_then(|l| newtons(l.force));
    d.limit_part = a.limit.as_ref().map(|l| l.part.clone());
    d.speed_m_s = Some(range(&a.speed));
    d.speed_from = Some(a.speed_from.word().to_owned());
    d.slack_m = Some(range(&a.slack));
    d.asked_m = number(a.asked.as_m());
    d.fastest_m_s = speed(a.fastest);
    d.puller_kg = Some(range(&a.inputs.puller_mass));
    d.stuck_kg = Some(range(&a.inputs.stuck_mass));
    d.traction = Some(range_n(&a.inputs.traction));
    d.resistance = Some(range_n(&a.inputs.resistance.breakaway));
    d.energy_j = Some(range(&a.rope_energy));
    d.outcomes = vec![outcome("likely", &a.likely.outcome), outcome("high", &a.high.outcome)];
    d.actions = a.actions.iter().map(action).collect();
    d.pieces = a.pieces.iter().map(piece).collect();
    d.without_steel = Some(a.without_steel);
    d.room_m = number(a.room.as_m());
    d.time_s = Some(range_s(&a.time));
    d.practices = a.practices.iter().map(practice).collect();
    d.failures = t.failures.iter().map(failure).collect();
    d.keep_out = Some(keep_out(&t.keep_out));
    d.bights = bights(&t.bights);
    d.rules = t.rules.iter().map(|s| rule(s, t.keep_out.radius)).collect();
    d.places = t.places.iter().map(place).collect();
    d.cabs = t.cabs.iter().map(cab).collect();
    d.findings.extend(a.findings.iter().map(finding));
}

fn range<Q: Scalar>(r: &Range<Q>) -> Three {
    let [low, likely, high] = three(r);
    Three { low, likely, high }
}
fn speed(s: Speed) -> Option<f64> {
    number(s.as_m_s())
}
fn joules(e: Energy) -> Option<f64> {
    number(e.as_j())
}
fn seconds(t: Time) -> Option<f64> {
    number(t.as_s())
}

type Windowed = (Option<WindowEntry>, Option<String>, Option<String>);

fn windowed(w: &Result<Window, NoRunUp>) -> Windowed {
    match w {
        Ok(w) => (Some(window(w)), None, None),
        Err(why) => (None, Some(why.to_string()), Some(why.code().to_owned())),
    }
}

fn window(w: &Window) -> WindowEntry {
    WindowEntry {
        speed_min_m_s: speed(w.slowest),
        speed_max_m_s: speed(w.fastest),
        capped: w.capped,
        slack_min_m: w.slack_needed.and_then(|l| number(l.as_m())),
        slack_max_m: w.slack_allowed.and_then(|l| number(l.as_m())),
        peak_at_min_n: newtons(w.peak_at_slowest),
        peak_at_max_n: newtons(w.peak_at_fastest),
    }
}

fn samples(h: &History) -> Vec<SampleEntry> {
    h.samples.iter().map(sample).collect()
}

fn sample(s: &Sample) -> SampleEntry {
    SampleEntry {
        time_s: seconds(s.time),
        tension_n: newtons(s.tension),
        stretch_m: number(s.stretch.as_m()),
        puller_travel_m: number(s.puller_travel.as_m()),
        puller_speed_m_s: speed(s.puller_speed),
        stuck_travel_m: number(s.stuck_travel.as_m()),
        stuck_speed_m_s: speed(s.stuck_speed),
        event: s.event.map(|e| event_word(e).to_owned()),
    }
}

fn outcome(of: &str, o: &Outcome) -> OutcomeEntry {
    let e = &o.energy;
    OutcomeEntry {
        of: of.to_owned(),
        peak_n: newtons(o.peak),
        peak_at_s: seconds(o.peak_at),
        share_of_breaking: o.share_of_breaking.and_then(number),
        closing_m_s: speed(o.closing_speed),
        broke_away_s: o.broke_away_at.and_then(seconds),
        puller_stopped_s: o.puller_stopped.and_then(|s| seconds(s.time)),
        travel_in_line_m: number(o.travel_in_line.as_m()),
        coast_m: o.coast.and_then(|l| number(l.as_m())),
        stuck_speed_m_s: speed(o.stuck_speed),
        end: end_word(o.end).to_owned(),
        ended_s: seconds(o.ended_at),
        run_up_j: joules(e.run_up),
        traction_j: joules(e.traction),
        weights_j: joules(e.weights),
        resistance_j: joules(e.resistance),
        dragging_j: joules(e.dragging),
        rope_loss_j: joules(e.rope_loss),
        rope_left_j: joules(e.rope_left),
        rope_greatest_j: joules(e.rope_greatest),
        motion_left_j: joules(e.motion_left),
        unaccounted_j: joules(e.unaccounted),
    }
}

fn practice(p: &Practice) -> PracticeEntry {
    PracticeEntry {
        key: p.key.to_owned(),
        what: p.what.to_owned(),
        per: p.per.to_owned(),
        low: p.low,
        high: p.high,
        here: p.here.as_ref().map(range),
        kept: p.kept,
        source: p.source.to_owned(),
        how: p.how.words().to_owned(),
    }
}

fn other(a: &Answer) -> OtherEntry {
    let (window, why, _) = windowed(&a.window);
    OtherEntry {
        helper: a.helper.clone(),
        rope: a.rope.clone(),
        passes: a.passes(),
        verdict: a.verdict.word().to_owned(),
        peak_n: range(&a.pull.peak),
        window,
        why,
    }
}

fn refused(r: &Refused) -> RefusedEntry {
    RefusedEntry {
        piece: r.piece.clone(),
        what: r.what.clone(),
        code: r.code.to_owned(),
        why: r.why.clone(),
        unknown: r.unknown,
    }
}

fn warning(w: &unmire_planner::kinetic::Warning) -> super::shape::Finding {
    finding(&unmire_planner::demand::finding(w, "problem"))
}
