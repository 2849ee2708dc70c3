//! Winch, kinetic or neither: side by side, where a case allows both. The advice stays on the cautious side.

use super::{Answer, kinetic_of, pairs};
use crate::plan::Options;
use crate::report::{Plan, Report};
use unmire_audit::verdict::Verdict;
use unmire_model::case::Case;
use unmire_model::layout::{Family, Puller};
use unmire_model::{Force, Length, Range, Time};

/// One way to get it out.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The stable word: `winch`, `tow`, `kinetic`, `neither`.
    pub word: &'static str,
    /// The worst word on its parts; none for `neither`.
    pub verdict: Option<Verdict>,
    /// Whether it passes.
    pub passes: bool,
    /// The rig in one sentence.
    pub summary: String,
    /// Greatest force on any part: at the high end of work, or likely for a kinetic pull.
    pub load_work: Option<Force>,
    /// Greatest force on any part at most: with the winch stalled, or at the high end of the peak.
    pub load_most: Option<Force>,
    /// Straight room that it takes from the stuck vehicle.
    pub room: Option<Length>,
    /// Radius of the ground to keep clear.
    pub keep_out: Option<Length>,
    /// Pieces.
    pub pieces: usize,
    /// About how long it takes.
    pub time: Option<Range<Time>>,
    /// People who are inside the ground to keep clear.
    pub exposed: u32,
    /// Who they are.
    pub who: String,
    /// Why it passes or not, in one sentence.
    pub why: String,
}

/// The ways, and what is advised.
#[derive(Clone, Debug, PartialEq)]
pub struct Ways {
    /// Winch first, kinetic after it, neither last.
    pub all: Vec<Way>,
    /// Which of them is advised.
    pub advised: usize,
    /// The advice in a sentence.
    pub advice: String,
}

/// The ways of a case that has been planned; none where a kinetic pull can't be thought of.
#[must_use]
pub fn ways(case: &Case, options: &Options, report: &Report) -> Option<Ways> {
    if pairs(case).is_empty() {
        return None;
    }
    let quiet = Options { explain: false, ..options.clone() };
    let k = kinetic_of::<false>(case, &quiet).ok()?;
    let mut all = Vec::new();
    let tows = |p: &&Plan| p.family == Family::SteadyTow;
    all.extend(report.plans.iter().find(|p| !tows(p)).map(|p| of_plan("winch", p)));
    all.extend(report.plans.iter().find(tows).map(|p| of_plan("tow", p)));
    match k.answers.first() {
        Some(a) => all.push(of_answer(a)),
        None => {
            let why = k.none_because.as_deref().unwrap_or("it can't be reckoned");
            let first = k.findings.first().map_or_else(|| crate::demand::sentence(why), |f| f.text.clone());
            all.push(Way { why: first, ..nothing("kinetic") });
        }
    }
    all.push(Way {
        summary: "dig, unload, lower the tyres, lay boards; bring more gear, an anchor, a winch or trained people"
            .to_owned(),
        why: "Nothing is loaded and nobody is exposed.".to_owned(),
        ..nothing("neither")
    });
    let passing = |word: &str| all.iter().position(|w| w.word == word && w.passes);
    let last = all.len() - 1;
    let (advised, advice) = match (passing("winch"), passing("tow"), passing("kinetic")) {
        (Some(i), ..) => (
            i,
            "Winch: it passes, its force is known beforehand and it can be stopped at any moment. A kinetic pull can't.",
        ),
        (None, Some(i), _) => (i, "A steady tow passes: no run-up, no peak."),
        (None, None, Some(i)) => (
            i,
            "No winch and no steady tow passes. The kinetic pull passes inside its window: only with people who were trained for it, at the slow end, and after digging. Whoever doubts does neither.",
        ),
        (None, None, None) => (last, "Neither: no way passes. Lower what holds it, or bring more; do not try and see."),
    };
    Some(Ways { all, advised, advice: advice.to_owned() })
}

fn nothing(word: &'static str) -> Way {
    Way {
        word,
        verdict: None,
        passes: false,
        summary: String::new(),
        load_work: None,
        load_most: None,
        room: None,
        keep_out: None,
        pieces: 0,
        time: None,
        exposed: 0,
        who: "nobody".to_owned(),
        why: String::new(),
    }
}

fn of_plan(word: &'static str, p: &Plan) -> Way {
    let most =
        |f: &dyn Fn(&crate::report::PlanCheck) -> Option<Force>| p.checks.iter().filter_map(f).reduce(Force::max);
    let far = p.points.iter().map(|q| q.at.level().norm()).fold(0.0, f64::max);
    let (exposed, who) = match p.layout.as_ref().map(|l| &l.puller) {
        Some(Puller::Winch { .. }) => (1, "the winch's operator, if the winch has no remote lead that reaches outside"),
        Some(Puller::HandWinch { .. }) => (1, "whoever works the lever"),
        _ => (2, "both drivers"),
    };
    let work = most(&|c| c.demand_work);
    Way {
        verdict: Some(p.verdict),
        passes: p.verdict.passes(),
        summary: p.summary.clone(),
        load_work: work,
        load_most: most(&|c| c.demand_stall.or(c.demand_work)).into_iter().chain(work).reduce(Force::max),
        room: Some(Length::from_m(far)),
        keep_out: Some(p.keep_out.radius),
        pieces: p.pieces.len(),
        time: Some(p.time),
        exposed,
        who: who.to_owned(),
        why: p.why.clone(),
        ..nothing(word)
    }
}

fn of_answer(a: &Answer) -> Way {
    let most = a.checks.iter().filter_map(|c| c.demand_work).reduce(Force::max);
    let share = a.pull.peak.likely() / a.pull.peak.high();
    let why = match &a.window {
        Ok(_) if a.passes() => format!(
            "Every part has what the policy asks at the high end of the peak, and there is a window: {}.",
            window_in_words(a)
        ),
        Ok(_) => {
            "Not every part has what the policy asks at the high end of the peak, or the speed lies outside the window."
                .to_owned()
        }
        Err(why) => crate::demand::sentence(&why.to_string()),
    };
    Way {
        verdict: Some(a.verdict),
        passes: a.passes(),
        summary: a.summary.clone(),
        load_work: most.map(|m| m * share),
        load_most: most,
        room: Some(a.room),
        keep_out: Some(a.thrown.keep_out.radius),
        pieces: a.pieces.len(),
        time: Some(a.time),
        exposed: 2,
        who: "both drivers, in line with the rope".to_owned(),
        why,
        ..nothing("kinetic")
    }
}

/// The window in km/h, its slow end rounded up and its fast end down.
fn window_in_words(a: &Answer) -> String {
    a.window.as_ref().map_or_else(
        |_| "none".to_owned(),
        |w| {
            format!(
                "{:.1} to {:.1} km/h",
                (w.slowest.as_km_h() * 10.0).ceil() / 10.0,
                (w.fastest.as_km_h() * 10.0).floor() / 10.0
            )
        },
    )
}
