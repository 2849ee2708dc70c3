//! Kinetic pulls: a helper takes a run-up, a rope that stretches hands its motion on to the stuck vehicle.
//!
//! For every helper that can drive and every kinetic rope of the kit: the best chain between the two vehicles, the force at every part of it at
//! the peak, judged as the policy asks; the window of speeds between too little and too much; what flies if something lets go.
//!
//! | module | answers |
//! |---|---|
//! | `gear` | which pieces are refused, and why |
//! | `rig` | the chain: its parts, what they allow in the rope, how they are judged at a peak |
//! | `inputs` | the pull as ranges: masses, traction, brakes, mire, slope, rope |
//! | `answer` | one helper and one rope, all of it |
//! | `bare` | a bare problem |
//! | `ways` | winch, kinetic or neither, side by side |
//! | `said` | the words |

mod answer;
mod bare;
mod gear;
mod inputs;
mod rig;
mod said;
mod ways;

pub use answer::{Answer, Limit, NoRunUp, SpeedFrom};
pub use bare::{Asking, BareReport, bare};
pub use gear::Refused;
pub use said::{end as end_word, end_in_words, event as event_word};
pub use unmire_mechanics::kinetic::{End, History, Outcome, Practice, Resistance, Sample, Window};
pub use unmire_mechanics::standing::Warning;
pub use ways::{Way, Ways, ways};

use crate::context::Context;
use crate::demand;
use crate::plan::{Needs, Options, PlanError};
use crate::report::{PolicyWords, Site};
use unmire_audit::verdict::{Effect, Finding, Grade};
use unmire_mechanics::ground::ActionKind;
use unmire_model::case::Case;
use unmire_model::gear::{Piece, PieceKind};
use unmire_model::order;
use unmire_model::trail::Trail;
use unmire_model::vehicle::Helper;

/// Everything.
#[derive(Clone, Debug, PartialEq)]
pub struct KineticReport {
    /// The case's title.
    pub title: String,
    /// The policy that judged.
    pub policy: PolicyWords,
    /// The answers, best first: one for each helper and each kinetic rope.
    pub answers: Vec<Answer>,
    /// Pieces and lines that are refused for a kinetic pull.
    pub refused: Vec<Refused>,
    /// Why there is no answer, where there is none.
    pub none_because: Option<String>,
    /// What must be told of the case.
    pub findings: Vec<Finding>,
    /// The words that come first.
    pub words: Vec<String>,
    /// The site, for drawings.
    pub site: Site,
    /// The working of the best.
    pub trail: Trail,
}
impl KineticReport {
    /// Whether the best may be done under its policy: exit status 0.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.answers.first().is_some_and(Answer::passes)
    }
}

/// Whether a piece is sold to stretch between vehicles; what is known of it is another matter.
fn is_kinetic(piece: &Piece) -> bool {
    match &piece.kind {
        PieceKind::Strap(s) => s.made_for == unmire_model::gear::StrapUse::Kinetic,
        PieceKind::Rope(r) => r.kinetic,
        _ => false,
    }
}

/// Helpers that can drive and ropes that are made to stretch: where there is one of each, a kinetic pull can be thought of.
pub(crate) fn pairs(case: &Case) -> Vec<(&Helper, &Piece)> {
    let drivers = || case.helpers.iter().filter(|h| h.can_tow);
    case.kit
        .iter()
        .filter(|p| is_kinetic(p) && unmire_mechanics::kinetic::fit_for_kinetic(p).is_ok())
        .flat_map(|p| drivers().map(move |h| (h, p)))
        .collect()
}

/// A kinetic pull of a case: with the need as found if that passes, else after the quickest of the actions after which it does.
///
/// # Errors
/// If the need can't be reckoned.
pub fn kinetic(case: &Case, options: &Options) -> Result<KineticReport, PlanError> {
    kinetic_of::<true>(case, options)
}

/// The same. If it is not told, without the words, findings and rules of thumb beside an answer and without the working: the app compares
/// with it and has to travel.
fn kinetic_of<const TOLD: bool>(case: &Case, options: &Options) -> Result<KineticReport, PlanError> {
    let needs = Needs::of(case)?;
    let mut trail = Trail::default();
    let mut order: Vec<usize> = (1..needs.sets.len()).collect();
    let minutes = |i: &usize| needs.sets.get(*i).map_or(f64::INFINITY, |(a, _)| demand::time_of(a).likely().as_min());
    order::sort_by(&mut order, |a, b| minutes(a).total_cmp(&minutes(b)));
    // What gets no steel between the vehicles is looked at first.
    let soft = rig::without_steel(case);
    let mut answers: Vec<Answer> = Vec::new();
    let mut findings = Vec::new();
    for (helper, rope) in pairs(case) {
        let mut best: Option<Answer> = None;
        for set in core::iter::once(0).chain(order.iter().copied()) {
            let Some((actions, need)) = needs.sets.get(set) else { continue };
            match answer::best::<TOLD>(case, soft.as_ref(), options, helper, rope, actions, need) {
                Ok(a) => {
                    let passes = a.passes();
                    // Actions that do not bring it over the line are not shown: the need as found is.
                    if passes || best.is_none() {
                        best = Some(a);
                    }
                    if passes {
                        break;
                    }
                }
                Err(why) => {
                    if set == 0 {
                        findings.push(Finding {
                            code: "kinetic-no-chain",
                            effect: Effect::Unknown,
                            subject: format!("{} with {}", helper.vehicle.name, rope.id),
                            text: demand::sentence(&why),
                            remedy: "Give what is missing, or take another helper or another rope.".to_owned(),
                        });
                    }
                    break;
                }
            }
        }
        if TOLD
            && let Some(a) = &mut best
            && !a.passes()
            && let Some((actions, _)) = order.last().and_then(|i| needs.sets.get(*i))
        {
            let names: Vec<&str> = actions.iter().map(|x| x.word()).collect();
            a.findings.push(Finding {
                code: "kinetic-nor-after-actions",
                effect: Effect::Note,
                subject: "need".to_owned(),
                text: format!("Nor does it pass after {} or any of it.", names.join(", ")),
                remedy: String::new(),
            });
        }
        answers.extend(best);
    }
    order::sort_by(&mut answers, Answer::by_merit);
    if TOLD
        && options.explain
        && let Some(first) = answers.first()
    {
        explain(case, soft.as_ref(), options, &needs, first, &mut trail);
    }
    let ctx = Context::of(case, &options.policy);
    let none_because = answers.is_empty().then(|| said::none(case));
    Ok(KineticReport {
        title: case.title.clone(),
        policy: PolicyWords {
            name: ctx.policy.name.to_owned(),
            title: ctx.policy.title.to_owned(),
            doc: ctx.policy.doc.to_owned(),
            grade: ctx.policy.rows().map(|r| r.grade).min().unwrap_or(Grade::OwnJudgement),
        },
        refused: if TOLD { gear::refused(case) } else { Vec::new() },
        words: if TOLD { said::first(answers.first()) } else { Vec::new() },
        none_because,
        answers,
        findings,
        site: crate::site::of(case),
        trail,
    })
}

/// The working of the best answer, reckoned once more with a trail.
fn explain(case: &Case, soft: Option<&Case>, options: &Options, needs: &Needs, first: &Answer, trail: &mut Trail) {
    let words = |set: &[ActionKind]| set.iter().map(|a| a.word()).collect::<Vec<_>>();
    let told: Vec<&str> = first.actions.iter().map(|a| a.word.as_str()).collect();
    let Some((actions, _)) = needs.sets.iter().find(|(set, _)| words(set) == told) else { return };
    let Ok(need) = demand::need_for(case, actions, trail) else { return };
    let pair = pairs(case).into_iter().find(|(h, p)| h.vehicle.name == first.helper && p.id == first.rope);
    if let Some((helper, rope)) = pair {
        let of = if first.without_steel { soft.unwrap_or(case) } else { case };
        // The same reckoning: recording changes no bit of it.
        let _ = answer::of::<true, _>(of, options, helper, rope, actions, &need, trail);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic)]

    use super::*;
    use unmire_casefile::Document;

    /// What decides and what is compared may not hang on what is told beside it.
    #[test]
    fn regress_an_answer_is_the_same_whether_it_is_told_or_not() {
        let mut passed = Vec::new();
        for file in ["kinetic-loose-sand", "kinetic-too-deep", "helper-on-wet-grass"] {
            let path = format!("{}/../../examples/{file}.toml", env!("CARGO_MANIFEST_DIR"));
            let text = std::fs::read_to_string(path).unwrap();
            let kits = |name: &str| {
                std::fs::read_to_string(format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR")))
                    .map_err(|e| e.to_string())
            };
            let Ok(Document::Case(case)) = unmire_casefile::read(&text, &mut { kits }) else {
                panic!("{file} is no case")
            };
            let options = Options::default();
            let (told, quiet) =
                (kinetic_of::<true>(&case, &options).unwrap(), kinetic_of::<false>(&case, &options).unwrap());
            assert_eq!((told.answers.len(), &told.none_because), (quiet.answers.len(), &quiet.none_because), "{file}");
            for (a, b) in told.answers.iter().zip(&quiet.answers) {
                assert_eq!(
                    (a.passes(), a.verdict, &a.window, a.speed),
                    (b.passes(), b.verdict, &b.window, b.speed),
                    "{file}"
                );
                assert_eq!((&a.pull, &a.checks, a.lowest_margin), (&b.pull, &b.checks, b.lowest_margin), "{file}");
                assert_eq!((a.room, a.time, &a.limit), (b.room, b.time, &b.limit), "{file}");
                assert_eq!(
                    (a.thrown.is_known(), &a.thrown.keep_out),
                    (b.thrown.is_known(), &b.thrown.keep_out),
                    "{file}"
                );
            }
            passed.push(told.passes());
        }
        assert!(passed.contains(&true) && passed.contains(&false), "{passed:?}");
    }
}
