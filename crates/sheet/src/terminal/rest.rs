//! The shorter parts of the page: title, gate, winch, steps, stop rule, cautions, keep-out ground, other opinions, limits.

use super::page::{Page, Paint, kept};
use super::words::{self, capacity, load, margin, sentence, stopped, times};
use unmire_audit::verdict::{Effect, Finding};
use unmire_model::quantity::show::{Round, Units, show_angle, show_share, significant};
use unmire_planner::report::{Plan, PlanStability, Report};

pub(super) fn title(page: &mut Page, r: &Report) {
    page.gap();
    page.flow(0, 0, &[(&r.title, Paint::Strong)]);
    if let Some(p) = &r.policy {
        let text = format!("Policy {}: {}", p.name, stopped(&p.title));
        let more = format!(" [{}; 'unmire explain {}' tells all of it]", p.grade.word(), p.name);
        page.flow(0, 2, &[(&text, Paint::Plain), (&more, Paint::Faint)]);
    }
}

pub(super) fn gate(page: &mut Page, r: &Report) {
    if r.gate.is_empty() {
        return;
    }
    page.heading("Before anything is rigged");
    for g in &r.gate {
        page.item(0, "[ ]", &[(&g.text, Paint::Plain)]);
    }
}

pub(super) fn winch(page: &mut Page, plan: &Plan, u: Units) {
    let Some(w) = &plan.winch else { return };
    page.heading("The winch at the start of the pull");
    let mut t = format!("{}: the work asks {}", w.id, load(u, w.pull));
    t += &match (w.layer, w.ability) {
        (Some(n), Some(a)) => format!("; on layer {n} it can pull {}", capacity(u, a)),
        (None, Some(a)) => format!("; it can pull {} (layer unknown)", capacity(u, a)),
        (Some(n), None) => format!("; layer {n}, what it can pull there is unknown"),
        (None, None) => "; what it can pull is unknown".into(),
    };
    t += &format!("; it stalls at up to {}", load(u, w.stall));
    if w.stall_assumed {
        t += " (assumed from its rated pull: our own judgement)";
    }
    t += &format!(". Line out: {}; ", kept(&u.show_length(w.line_out)));
    t += &match w.wraps_left {
        Some(n) => format!("turns left on the drum: {}.", significant(n, 2, Round::Down)),
        None => "turns left on the drum: unknown, count them.".into(),
    };
    page.para(0, &t);
}

pub(super) fn stability(page: &mut Page, plan: &Plan, u: Units) {
    let Some(s) = &plan.stability else { return };
    page.heading("Rolling over");
    page.para(0, &rolling(s, u));
}
fn rolling(s: &PlanStability, u: Units) -> String {
    let share = |r: &unmire_model::Range<f64>| kept(&show_share(r.high(), Round::Up));
    let mut t = match &s.used {
        Some(r) => format!("Up to {} of what keeps it upright is used up (100 % is the tipping point).", share(r)),
        None => "How near it is to tipping is unknown.".into(),
    };
    if let Some(r) = &s.used_with_holding {
        t += &format!(" With the holding line: {}.", share(r));
    }
    let n = s.sideways_pull.as_n();
    if n.is_finite() && n.abs() > 0.0 {
        let side = if n > 0.0 { "left" } else { "right" };
        t += &format!(" Sideways part of the pull: {} to the {side}", load(u, s.sideways_pull.abs()));
        t += &format!("; the pull is {} off the way out.", kept(&show_angle(s.off_line.abs())));
    }
    t
}

/// The whole pull in short.
pub(super) fn pull(page: &mut Page, plan: &Plan, u: Units) {
    let Some(p) = &plan.pull else { return };
    page.heading("The whole pull");
    let far = kept(&u.show_length_available(p.reaches));
    let mut t = if p.arrives {
        format!("This rig brings it to the last metre, {far}: ")
    } else {
        format!(
            "This rig brings it {far} of {}. It ends there: {} ",
            kept(&u.show_length(p.length)),
            stopped(&p.why_it_ends)
        )
    };
    t += &format!("{} of pulling", times(&p.pulling));
    if p.resting.high().as_s() > 0.0 {
        t += &format!(", {} of rest for the motor", times(&p.resting));
    }
    if let Some(c) = &p.charge {
        let ah = |q: unmire_model::Charge| significant(q.as_ah(), 2, Round::Up);
        t += &format!(", {}", kept(&format!("{}–{} Ah of charge", ah(c.low()), ah(c.high()))));
    }
    t += ".";
    if let Some((part, at)) = &p.weakest {
        t += &format!(" Weakest moment: {part} {}, margin {}.", super::pull::after(u, *at), margin(p.lowest_margin));
    }
    t += " 'unmire pull CASE' plays it step by step.";
    page.para(0, &t);
}

pub(super) fn pieces(page: &mut Page, plan: &Plan) {
    if plan.pieces.is_empty() {
        return;
    }
    page.heading("Pieces");
    for p in &plan.pieces {
        let rest = format!(", {}: {}", p.what, p.place);
        page.item(0, "-", &[(&p.id, Paint::Strong), (&rest, Paint::Plain)]);
    }
}

pub(super) fn steps(page: &mut Page, plan: &Plan) {
    if plan.steps.is_empty() {
        return;
    }
    page.heading(&format!("Steps (about {})", times(&plan.time)));
    let mut phase = "";
    let digits = plan.steps.len().to_string().len();
    for (i, s) in plan.steps.iter().enumerate() {
        if s.phase != phase {
            phase = s.phase;
            page.flow(0, 0, &[(&sentence(phase), Paint::Strong)]);
        }
        page.item(2, &format!("{:>digits$}.", i + 1), &[(&s.text, Paint::Plain)]);
    }
}

pub(super) fn stop(page: &mut Page, plan: &Plan, u: Units) {
    if plan.stop.when.is_empty() && plan.stop.line_pull.is_none() {
        return;
    }
    page.heading("When to stop");
    if let Some(f) = plan.stop.line_pull {
        let cell = match plan.stop.cell_reading {
            Some(c) => format!("the load cell then shows {}", capacity(u, c)),
            None => "no load cell in this rig shows it".into(),
        };
        let text = format!("Stop load: {} line pull at the winch; {cell}.", capacity(u, f));
        page.item(0, "!", &[(&text, Paint::Careful)]);
    }
    for w in &plan.stop.when {
        page.item(0, "!", &[(&stopped(w), Paint::Plain)]);
    }
}

pub(super) fn cautions(page: &mut Page, plan: &Plan) {
    let told: Vec<&Finding> = plan.findings.iter().filter(|f| f.effect != Effect::Note).collect();
    if !plan.cautions.is_empty() || !told.is_empty() {
        page.heading("Cautions");
    }
    for c in &plan.cautions {
        page.item(0, "!", &[(&stopped(c), Paint::Plain)]);
    }
    findings(page, &told);
    let notes: Vec<&Finding> = plan.findings.iter().filter(|f| f.effect == Effect::Note).collect();
    if !notes.is_empty() {
        page.heading("Notes on this rig");
        findings(page, &notes);
    }
}

/// Findings with their codes; those that say the same of several things are told once.
pub(super) fn findings(page: &mut Page, all: &[&Finding]) {
    let same = |a: &Finding, b: &Finding| a.code == b.code && a.text == b.text && a.remedy == b.remedy;
    for (i, f) in all.iter().enumerate() {
        if all.iter().take(i).any(|g| same(f, g)) {
            continue;
        }
        let subjects: Vec<&str> = all.iter().filter(|g| same(f, g)).map(|g| g.subject.as_str()).collect();
        let text = format!("{}: {} {}", subjects.join(", "), stopped(&f.text), stopped(&f.remedy));
        let mark = match f.effect {
            Effect::Note => "-",
            Effect::Caution => "!",
            Effect::Unknown => "?",
            Effect::Bars => "■",
        };
        page.item(
            0,
            mark,
            &[(text.trim_end(), words::paint_effect(f.effect)), (&format!(" [{}]", f.code), Paint::Faint)],
        );
    }
}

pub(super) fn keep_out(page: &mut Page, plan: &Plan, u: Units) {
    let k = &plan.keep_out;
    if k.rings.is_empty() {
        return;
    }
    page.heading("Ground to keep clear");
    let radius = kept(&u.show_length_needed(k.radius));
    page.para(
        0,
        &format!("Nobody within {radius} of a loaded hard point, or inside a redirect. The rule: {}", stopped(&k.rule)),
    );
    for (name, length, source) in &k.others {
        let larger = if length.as_m() > k.radius.as_m() { "Larger rule" } else { "For comparison" };
        let text = format!("{larger}: {name}: {}", kept(&u.show_length_needed(*length)));
        page.item(0, "-", &[(&text, Paint::Plain), (&format!(" [{source}]"), Paint::Faint)]);
    }
    for e in &k.exceptions {
        page.item(0, "-", &[(&format!("Exception: {}", stopped(e)), Paint::Plain)]);
    }
}

pub(super) fn other_policies(page: &mut Page, plan: &Plan) {
    if plan.other_policies.is_empty() {
        return;
    }
    page.heading("What other policies say of this rig");
    for (name, verdict, lowest) in &plan.other_policies {
        let rest = format!("; lowest margin {}", margin(*lowest));
        page.item(
            0,
            &verdict.shape().to_string(),
            &[(&format!("{name}: "), Paint::Plain), (verdict.word(), words::paint(*verdict)), (&rest, Paint::Plain)],
        );
    }
}

pub(super) fn other_rigs(page: &mut Page, r: &Report, u: Units) {
    if r.plans.len() < 2 {
        return;
    }
    let played = match r.played {
        0 => String::new(),
        n => format!(", the best {n} played over the whole pull"),
    };
    page.heading(&format!("Other rigs, next best first ({} candidates looked at{played})", r.looked_at));
    for (i, p) in r.plans.iter().enumerate().skip(1) {
        let text = format!(": {} Lowest margin {}; {}.", stopped(&p.summary), margin(p.lowest_margin), times(&p.time));
        page.item(
            0,
            &format!("{}.", i + 1),
            &[(&words::verdict(p.verdict), words::paint(p.verdict)), (&text, Paint::Plain)],
        );
        if !p.why.is_empty() {
            page.para(3, &sentence(&stopped(&p.why)));
        }
        if let Some(w) = p.pull.as_ref().filter(|w| !w.arrives) {
            let far = kept(&u.show_length_available(w.reaches));
            page.para(3, &format!("To be rigged anew after {far}: {}", stopped(&w.why_it_ends)));
        }
    }
}

pub(super) fn case_findings(page: &mut Page, r: &Report) {
    if !r.findings.is_empty() {
        page.heading("About the case");
        findings(page, &r.findings.iter().collect::<Vec<_>>());
    }
}

/// What was checked, under which policy, and what was not.
pub(super) fn limits(page: &mut Page, r: &Report) {
    page.heading("What this says and what it does not");
    let checks = r.plans.first().map_or(0, |p| p.checks.len());
    let policy = r.policy.as_ref().map_or("", |p| p.name.as_str());
    page.para(
        0,
        &format!(
            "Checked: {checks} parts of the best rig under the policy '{policy}', with the numbers of the case file. \
             Not checked: damage nobody saw, how it is rigged in fact, the soil and the roots as they are, the weather, \
             and whatever the file does not say. Local rules, manufacturers' instructions and licensed practice come \
             first. 'unmire explain CODE' tells what stands behind a code in [brackets]."
        ),
    );
}
