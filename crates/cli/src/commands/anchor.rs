//! `unmire anchor CASE [ID…]` and `unmire anchor KIND key=value…`

use crate::args::{AnchorArgs, SeasonWord};
use crate::engine::{self, Given};
use crate::status::{Status, Trouble};
use crate::{files, output};
use unmire_audit::Policy;
use unmire_casefile::keys::anchor::ANCHOR_KINDS;
use unmire_model::anchor::{Anchor, AnchorKind};
use unmire_model::case::Case;
use unmire_model::gear::PieceKind;
use unmire_model::ground::Season;
use unmire_model::quantity::slope::{Way, read_slope};
use unmire_model::quantity::text::{Written, read_range};
use unmire_model::{Angle, Force, Length, Range, Vec3};
use unmire_planner::anchor::{
    AnchorReport, Load, Question, SharedQuestion, VehicleQuestion, look, look_at_vehicle, shared,
};
use unmire_sheet::{json, svg, terminal};

pub fn run(a: &AnchorArgs) -> Result<Status, Trouble> {
    let load = load(a)?;
    let kind = a.of.to_string_lossy().replace(['-', '_'], " ");
    if a.words.is_empty()
        && let Some(text) = engine::anchor_words(&kind, output::width(a.view.width))
    {
        output::print(&text)?;
        return Ok(Status::Passes);
    }
    if a.share {
        return share(a, load);
    }
    let (answers, policy) =
        if ANCHOR_KINDS.contains(&kind.as_str()) { by_words(a, &kind, load)? } else { by_case(a, load)? };
    show(a, &answers, &policy)
}

/// An anchor described on the command line.
fn by_words(a: &AnchorArgs, kind: &str, load: Option<Load>) -> Result<(Vec<AnchorReport>, Policy), Trouble> {
    let anchor = engine::anchor(kind, &a.words, a.no_signs)?;
    let policy = a.policy.as_deref().and_then(Policy::by_name).unwrap_or_else(Policy::default_policy);
    let q = Question {
        anchor: &anchor,
        saturated: a.saturated,
        season: a.season.map(Into::into),
        rise: rise(a)?.unwrap_or(Angle::ZERO),
        load,
        strap: strap(a)?,
        crew: a.crew,
        detector: a.watched,
        policy: &policy,
        explain: a.view.explain,
    };
    let answer = look(&q).map_err(|e| Trouble::new(e.to_string()))?;
    Ok((vec![answer], policy))
}

/// The case, and the name of its file.
fn case_of(a: &AnchorArgs) -> Result<(Box<Case>, String), Trouble> {
    let source = files::read(&a.of).map_err(|t| match t {
        Trouble::Said { what, .. } => {
            let kinds: Vec<String> = ANCHOR_KINDS.iter().map(|k| k.replace(' ', "-")).collect();
            Trouble::hint(what, format!("give a case file, or a kind of anchor: {}", kinds.join(", ")))
        }
        t @ Trouble::Rendered(_) => t,
    })?;
    let Given::Case(case) = engine::read(&source, output::width(a.view.width))? else {
        return Err(Trouble::new(format!("{} holds a bare rig: there is no anchor in it", source.name)));
    };
    Ok((case, source.name))
}

/// Several anchors of a case on one pull.
fn share(a: &AnchorArgs, load: Option<Load>) -> Result<Status, Trouble> {
    let (case, name) = case_of(a)?;
    let policy = engine::policy(a.policy.as_deref(), &case)?;
    let mut anchors = Vec::with_capacity(a.words.len());
    for id in &a.words {
        let Some(found) = case.anchor(id) else {
            let ids: Vec<&str> = case.anchors.iter().map(|x| x.id.as_str()).collect();
            return Err(Trouble::hint(
                format!("{name} has no anchor '{id}'"),
                format!("there are: {}", ids.join(", ")),
            ));
        };
        if anchors.iter().any(|x: &&Anchor| x.id == *id) {
            return Err(Trouble::new(format!("'{id}' is named twice: an anchor shares with another one")));
        }
        anchors.push(found);
    }
    if !(2..=3).contains(&anchors.len()) {
        return Err(Trouble::hint(
            format!("--share takes two or three anchors, here are {}", anchors.len()),
            "as in: unmire anchor CASE near far --share",
        ));
    }
    let Some(load) = load.or_else(|| unmire_planner::anchor::single_line(&case)) else {
        return Err(Trouble::hint("no load to share", "give one, for example --pull '18 kN'"));
    };
    let ring: Option<Range<Length>> = a.ring.as_deref().map(|s| quantity("--ring", s)).transpose()?;
    let mut q = SharedQuestion {
        anchors,
        towards: Vec3::ZERO,
        load,
        ring: ring.map(|r| r.likely()),
        saturated: a.saturated || case.ground.saturated,
        detectors: Vec::new(),
        policy: &policy,
        explain: a.view.explain,
    };
    q.detectors = q
        .anchors
        .iter()
        .map(|x| {
            let tilt = matches!(x.kind, AnchorKind::Tree(_));
            a.watched || has(&case, if tilt { &PieceKind::TiltMeter } else { &PieceKind::MovementMarker })
        })
        .collect();
    let answer = shared(&q).map_err(|e| Trouble::new(e.to_string()))?;
    let status = if answer.passes() { Status::Passes } else { Status::NonePasses };
    if a.view.json {
        let text = json::anchor::to_text(&json::anchor::document_shared(&answer))
            .map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status);
    }
    let width = output::width(a.view.width);
    let options = terminal::Options { width, units: a.view.units.into(), colour: a.view.color.wanted() };
    let mut text = terminal::anchor::shared(&answer, &options);
    if a.view.explain {
        for w in &answer.ways {
            text.push_str(&unmire_sheet::explain::working(w.how, &w.trail, &options, &engine::source_title));
        }
    }
    output::print(&text)?;
    Ok(status)
}

/// Anchors of a case, parked vehicles with them.
fn by_case(a: &AnchorArgs, load: Option<Load>) -> Result<(Vec<AnchorReport>, Policy), Trouble> {
    let (case, name) = case_of(a)?;
    let policy = engine::policy(a.policy.as_deref(), &case)?;
    let load = load.or_else(|| unmire_planner::anchor::single_line(&case));
    if a.no_signs {
        return Err(Trouble::hint(
            "--no-signs belongs to an anchor that is described here",
            "in a case file answer each sign of the anchor: signs = { dead = false, ... }",
        ));
    }
    let wanted = |id: &str| a.words.is_empty() || a.words.iter().any(|w| w == id);
    let ids: Vec<&str> = case
        .anchors
        .iter()
        .map(|x| x.id.as_str())
        .chain(case.helpers.iter().map(|h| h.vehicle.name.as_str()))
        .collect();
    if let Some(missing) = a.words.iter().find(|w| !ids.contains(&w.as_str())) {
        let near = ids.iter().min_by_key(|n| files::distance(missing, n)).copied().unwrap_or_default();
        return Err(Trouble::hint(
            format!("{} has no anchor or helper '{missing}'", name),
            format!("did you mean '{near}'? There are: {}", ids.join(", ")),
        ));
    }
    let mut answers = Vec::new();
    for anchor in case.anchors.iter().filter(|x| wanted(&x.id)) {
        answers.push(of_case(a, &case, anchor, load, &policy)?);
    }
    for helper in case.helpers.iter().filter(|h| wanted(&h.vehicle.name)) {
        let q = VehicleQuestion {
            direction: Vec3::ZERO - helper.position,
            load,
            detector: a.watched || has(&case, &PieceKind::MovementMarker),
            policy: &policy,
            explain: a.view.explain,
        };
        answers.push(look_at_vehicle(helper, &q).map_err(|e| Trouble::new(e.to_string()))?);
    }
    if answers.is_empty() {
        return Err(Trouble::hint(
            format!("{} has no anchor", name),
            "add [[anchor]] tables to it ('unmire schema case' describes one), or describe one here: 'unmire anchor tree'",
        ));
    }
    Ok((answers, policy))
}

fn of_case(
    a: &AnchorArgs,
    case: &Case,
    anchor: &Anchor,
    load: Option<Load>,
    policy: &Policy,
) -> Result<AnchorReport, Trouble> {
    let tilt = matches!(anchor.kind, AnchorKind::Tree(_));
    let marker = if tilt { PieceKind::TiltMeter } else { PieceKind::MovementMarker };
    let q = Question {
        anchor,
        saturated: a.saturated || case.ground.saturated,
        season: a.season.map(Into::into).or_else(|| case.ground.season.as_ref().map(|s| s.value)),
        rise: rise(a)?.unwrap_or(Angle::ZERO),
        load,
        strap: strap(a)?,
        crew: case.people.total.max(1),
        detector: a.watched || has(case, &marker),
        policy,
        explain: a.view.explain,
    };
    look(&q).map_err(|e| Trouble::new(format!("{}: {e}", anchor.id)))
}

fn has(case: &Case, kind: &PieceKind) -> bool {
    case.kit.iter().any(|p| p.kind == *kind && unmire_planner::choices::usable(p))
}

fn show(a: &AnchorArgs, answers: &[AnchorReport], policy: &Policy) -> Result<Status, Trouble> {
    let status = if answers.iter().any(AnchorReport::passes) { Status::Passes } else { Status::NonePasses };
    if let Some(file) = &a.view.svg {
        let [one] = answers else {
            return Err(Trouble::hint("a chart shows one anchor", "name it: 'unmire anchor CASE ID --svg FILE'"));
        };
        let Some(drawing) = svg::anchor::chart(one, a.view.units.into()) else {
            return Err(Trouble::new(format!("{} has no measure to draw a chart against", one.id)));
        };
        if file.as_os_str() == "-" {
            output::print(&drawing)?;
            return Ok(status);
        }
        files::write(file, &drawing)?;
    }
    if a.view.json {
        let text = json::anchor::to_text(&json::anchor::document(answers, policy.name))
            .map_err(|e| Trouble::new(format!("cannot write JSON: {e}")))?;
        output::print(&text)?;
        return Ok(status);
    }
    let width = output::width(a.view.width);
    let options = terminal::Options { width, units: a.view.units.into(), colour: a.view.color.wanted() };
    let mut text = match answers {
        [one] => terminal::anchor::report(one, &options),
        many => terminal::anchor::overview(many, &options),
    };
    if a.view.explain {
        for r in answers {
            text.push_str(&unmire_sheet::explain::working(&r.id, &r.trail, &options, &engine::source_title));
        }
    }
    output::print(&text)?;
    Ok(status)
}

fn load(a: &AnchorArgs) -> Result<Option<Load>, Trouble> {
    let Some(pull) = &a.pull else {
        return match &a.stall {
            Some(_) => Err(Trouble::hint(
                "a load at stall without one at work",
                "give --pull as well, for example --pull '18 kN'",
            )),
            None => Ok(None),
        };
    };
    let work: Range<Force> = quantity("--pull", pull)?;
    let stall: Option<Range<Force>> = a.stall.as_deref().map(|s| quantity("--stall", s)).transpose()?;
    // Loads count at their high ends.
    let load = Load { work: work.high(), stall: stall.map(|s| s.high()) };
    let most = Force::from_kn(10_000.0);
    if load.work > most || load.stall.is_some_and(|s| s > most) {
        return Err(Trouble::hint(
            "no line pulls that much",
            "give the load on the anchor, up to 10 MN, as in --pull '18 kN'",
        ));
    }
    if load.work.as_n() <= 0.0 {
        return Err(Trouble::hint("--pull is nothing", "give the load on the anchor, for example --pull '18 kN'"));
    }
    if load.stall.is_some_and(|s| s < load.work) {
        return Err(Trouble::hint(
            "--stall is less than --pull",
            "a winch that stalls pulls at least what the work needs",
        ));
    }
    Ok(Some(load))
}

fn strap(a: &AnchorArgs) -> Result<Option<Length>, Trouble> {
    let width: Option<Range<Length>> = a.strap.as_deref().map(|s| quantity("--strap", s)).transpose()?;
    match width.map(|w| w.low()) {
        Some(w) if w.as_m() <= 0.0 => Err(Trouble::hint("--strap has no width", "for example --strap '75 mm'")),
        w => Ok(w),
    }
}

fn rise(a: &AnchorArgs) -> Result<Option<Angle>, Trouble> {
    let Some(text) = &a.rise else { return Ok(None) };
    let read = read_slope(text, Way::Along).map_err(|e| Trouble::new(format!("--rise {text}: {e}")))?;
    Ok(Some(read.high()))
}

fn quantity<Q: Written>(option: &str, text: &str) -> Result<Range<Q>, Trouble> {
    read_range::<Q>(text).map_err(|e| Trouble::new(format!("{option} {text}: {e}")))
}

impl From<SeasonWord> for Season {
    fn from(s: SeasonWord) -> Self {
        match s {
            SeasonWord::Growing => Self::Growing,
            SeasonWord::Dormant => Self::Dormant,
        }
    }
}
