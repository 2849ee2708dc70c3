//! The need in the report's words, and what may be done before pulling harder.

use crate::report::{Action, Alternative, Demand, DemandPart};
use unmire_audit::verdict::{Effect, Finding};
use unmire_mechanics::MechanicsError;
use unmire_mechanics::ground::{ActionKind, Need, Scene, applicable_actions, effect, need_after};
use unmire_mechanics::standing::Warning;
use unmire_model::case::Case;
use unmire_model::gear::PieceKind;
use unmire_model::ground::NeedMethod;
use unmire_model::{Force, Range, Recorder, Silent, Time};

/// Actions that the case and the kit allow, in the order in which a crew does them.
#[must_use]
pub fn possible_actions(case: &Case) -> Vec<ActionKind> {
    let has = |f: &dyn Fn(&PieceKind) -> bool| case.kit.iter().any(|p| crate::choices::usable(p) && f(&p.kind));
    let shovel = has(&|k| matches!(k, PieceKind::Shovel));
    applicable_actions(&case.stuck)
        .into_iter()
        .filter(|a| match a {
            ActionKind::Dig | ActionKind::Drain | ActionKind::ClearObstacle => shovel,
            ActionKind::Boards => has(&|k| matches!(k, PieceKind::Boards)),
            // Tyres can be let down without a pump; without one they can't be driven on afterwards.
            ActionKind::AirDown => has(&|k| matches!(k, PieceKind::Pump)),
            ActionKind::Unload => true,
        })
        .collect()
}

/// Sets of actions worth weighing, from nothing to all: nothing; each that helps most by itself; all.
#[must_use]
pub fn action_sets(case: &Case) -> Vec<Vec<ActionKind>> {
    let all = possible_actions(case);
    let mut sets = vec![Vec::new()];
    for a in &all {
        sets.push(vec![*a]);
    }
    if let (true, true) = (all.contains(&ActionKind::Dig), all.contains(&ActionKind::Boards)) {
        sets.push(vec![ActionKind::Dig, ActionKind::Boards]);
    }
    if all.len() > 1 {
        sets.push(all);
    }
    sets.dedup();
    sets
}

/// The need after a set of actions.
///
/// # Errors
/// As the mechanics: a surface or soil in no table, a number that is none.
pub fn need_for(case: &Case, actions: &[ActionKind], rec: &mut impl Recorder) -> Result<Need, MechanicsError> {
    need_after(&Scene::of(case), actions, rec)
}

/// The need in the report's words.
#[must_use]
pub fn words(need: &Need) -> Demand {
    Demand {
        force: need.total,
        method: match need.method {
            NeedMethod::Doctrine => "doctrine".to_owned(),
            NeedMethod::Terramechanics => "terramechanics".to_owned(),
        },
        parts: need
            .parts
            .iter()
            .filter(|p| p.range.low().as_n() != 0.0 || p.range.high().as_n() != 0.0)
            .map(|p| DemandPart {
                name: p.name.to_owned(),
                force: p.range,
                source: p.source.to_owned(),
                how: p.how.words().to_owned(),
            })
            .collect(),
        alternatives: need
            .alternatives
            .iter()
            .map(|a| Alternative {
                name: a.name.clone(),
                force: a.range,
                source: a.source.to_owned(),
                how: a.how.words().to_owned(),
                used: a.used,
            })
            .collect(),
    }
}

/// Each action of a set in the report's words, with the need before and after it.
///
/// # Errors
/// As [`need_for`].
pub fn actions_in_words(case: &Case, actions: &[ActionKind]) -> Result<Vec<Action>, MechanicsError> {
    let mut out = Vec::with_capacity(actions.len());
    let mut before = need_for(case, &[], &mut Silent)?.total;
    for (i, kind) in actions.iter().enumerate() {
        let after = need_for(case, actions.get(..=i).unwrap_or_default(), &mut Silent)?.total;
        let e = effect(*kind)?;
        out.push(Action {
            word: kind.word().to_owned(),
            text: sentence(e.what),
            before,
            after,
            time: e.time,
            source: e.source.to_owned(),
            how: e.how.words().to_owned(),
        });
        before = after;
    }
    Ok(out)
}

/// How long a set of actions takes, one after the other.
#[must_use]
pub fn time_of(actions: &[ActionKind]) -> Range<Time> {
    let none = Range::hull(Time::ZERO, Time::ZERO, Time::ZERO);
    actions.iter().filter_map(|a| effect(*a).ok()).fold(none, |sum, e| sum.plus(&e.time))
}

/// A warning of the mechanics as a finding.
#[must_use]
pub fn finding(w: &Warning, subject: &str) -> Finding {
    Finding {
        code: w.code,
        effect: Effect::Caution,
        subject: subject.to_owned(),
        text: sentence(&w.text),
        remedy: String::new(),
    }
}

/// First letter large, a full stop at the end.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    let mut out: String = chars.next().map(unmire_model::letters::large).into_iter().collect();
    out.push_str(chars.as_str());
    if !out.ends_with(['.', '!', '?']) {
        out.push('.');
    }
    out
}

/// The high end of a need.
#[must_use]
pub fn high(need: &Need) -> Force {
    need.total.high()
}
