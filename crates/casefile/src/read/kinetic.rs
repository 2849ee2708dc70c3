//! Kinetic pulls: what is told of a rope, the run-up of a case, and a bare problem.

use crate::walk::{Mistake, Node, Walk};
use toml::de::DeValue;
use unmire_model::kinetic::{
    BareAsked, BareLaw, BarePull, BarePuller, BareRope, BareStuck, Elongation, Resistance, RopeState, RunUp, Stretching,
};
use unmire_model::{Angle, Force, Length, Mass, Speed, Time};

/// States by their place among the words.
pub(crate) const STATE: [RopeState; 4] = [RopeState::New, RopeState::Worked, RopeState::JustUsed, RopeState::Unknown];
/// Keys that only stretching gear has.
const STRETCHING: [&str; 4] = ["construction", "state", "wet", "elongation"];

/// What is told of a rope or strap; `kinetic`: whether it is made to stretch.
pub(super) fn stretching(w: &mut Walk<'_>, n: &Node<'_, '_>, kinetic: bool) -> Stretching {
    if let (false, Some(key)) = (kinetic, STRETCHING.into_iter().find(|k| n.has(k))) {
        w.tell(
            Mistake::new("contradiction", n.span_of(key), format!("`{key}` of a rope that is not made to stretch"))
                .expected("kinetic = true with it, or the key left out")
                .example("kinetic = true"),
        );
    }
    let construction = if n.has("construction") { n.text(w, "construction") } else { None };
    let state = if n.has("state") { n.word(w, "state").and_then(|i| STATE.get(i).copied()) } else { None };
    let wet = if n.has("wet") { n.flag(w, "wet") } else { None };
    let elongation = if n.has("elongation") { elongation(w, n) } else { Vec::new() };
    Stretching { construction, state: state.unwrap_or_default(), wet, elongation }
}

fn elongation(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Vec<Elongation> {
    let mut out: Vec<Elongation> = Vec::new();
    for p in n.tables(w, "elongation").unwrap_or_default() {
        let (at, stretch) = (p.one::<f64>(w, "at"), p.one::<f64>(w, "stretch"));
        let (Some(at), Some(stretch)) = (at, stretch) else { continue };
        if let Some(l) = out.last()
            && !(at > l.at && stretch > l.stretch)
        {
            let key = if at > l.at { "stretch" } else { "at" };
            w.tell(
                Mistake::new(
                    "contradiction",
                    p.span_of(key),
                    format!("`{key}` must rise from one measured stretch to the next"),
                )
                .expected("rising shares with rising stretches")
                .example("elongation = [{ at = \"25 %\", stretch = \"9 %\" }, { at = \"50 %\", stretch = \"14 %\" }]"),
            );
            return out;
        }
        out.push(Elongation { at, stretch });
    }
    out
}

/// What a case says of a kinetic pull.
pub(super) fn run_up(w: &mut Walk<'_>, n: &Node<'_, '_>) -> RunUp {
    let out = RunUp {
        speed: n.input_range(w, "speed"),
        slack: n.input_range(w, "slack"),
        travel: n.input_one(w, "travel"),
        fastest: n.input_one(w, "fastest"),
        moving: n.input_range(w, "moving"),
        over: n.input_one(w, "over"),
    };
    if n.has("moving") != n.has("over") {
        let (there, missing) = if n.has("moving") { ("moving", "over") } else { ("over", "moving") };
        n.miss(w, missing, &format!("`{there}` says that the ground lets go, and it takes both to tell how"));
    }
    if let (Some(f), Some(s)) = (&out.fastest, &out.speed)
        && f.value < s.value.high()
    {
        w.tell(
            Mistake::new("contradiction", n.span_of("fastest"), "`speed` goes beyond `fastest`")
                .expected("a fastest speed that is not below the high end of the speed")
                .example("fastest = \"10 km/h\""),
        );
    }
    out
}

/// A bare kinetic problem.
pub(super) fn problem(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BarePull> {
    n.word(w, "schema");
    let title = if n.has("title") { n.text(w, "title") } else { None };
    let slack = n.one::<Length>(w, "slack");
    let travel_limit = n.one::<Length>(w, "travel_limit");
    let time_limit = n.one::<Time>(w, "time_limit");
    let puller = n.table(w, "puller").and_then(|t| puller(w, &t));
    let stuck = n.table(w, "stuck").and_then(|t| stuck(w, &t));
    let rope = n.table(w, "rope").and_then(|t| rope(w, &t));
    let asked_node = if n.has("asked") { n.table(w, "asked") } else { None };
    let asked = asked_node.as_ref().and_then(|t| asked(w, t));
    if let (Some(limit), Some(a), Some(t)) = (travel_limit, &asked, &asked_node)
        && limit < a.travel
    {
        w.tell(
            Mistake::new(
                "contradiction",
                t.span_of("travel"),
                "the driver lifts off before it has come as far as is asked",
            )
            .expected("a `travel_limit` that is not below this travel")
            .example("travel_limit = \"2 m\""),
        );
    }
    if n.has("asked") && asked.is_none() {
        return None;
    }
    Some(BarePull {
        title,
        puller: puller?,
        stuck: stuck?,
        rope: rope?,
        slack: slack.unwrap_or(Length::ZERO),
        travel_limit,
        time_limit,
        asked,
    })
}

fn slope(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Angle {
    if n.has("slope") { n.input_slope(w, "slope").map_or(Angle::ZERO, |s| s.value) } else { Angle::ZERO }
}

fn puller(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BarePuller> {
    let mass = n.one::<Mass>(w, "mass");
    let speed = n.one::<Speed>(w, "speed");
    let traction = n.one::<Force>(w, "traction").unwrap_or(Force::ZERO);
    let slope = slope(w, n);
    let brakes = n.one::<Force>(w, "brakes");
    Some(BarePuller { mass: mass?, speed: speed?, traction, slope, brakes })
}

fn stuck(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BareStuck> {
    let mass = n.one::<Mass>(w, "mass");
    let slope = slope(w, n);
    let resistance = resistance(w, n);
    Some(BareStuck { mass: mass?, resistance: resistance?, slope })
}

fn resistance(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Resistance> {
    let constant = n.one::<Force>(w, "resistance");
    let parts = (n.one::<Force>(w, "breakaway"), n.one::<Force>(w, "moving"), n.one::<Length>(w, "over"));
    let fixed = n.flag(w, "fixed");
    let lets_go = ["breakaway", "moving", "over"].into_iter().find(|k| n.has(k));
    let ways: Vec<&str> = [
        n.has("resistance").then_some("resistance"),
        lets_go,
        (n.has("fixed") && fixed != Some(false)).then_some("fixed"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let example = "resistance = \"15 kN\"";
    match ways.as_slice() {
        [] => {
            w.tell(
                Mistake::new("missing-key", n.span.clone(), "nothing says what holds the stuck one")
                    .missing("resistance")
                    .expected("`resistance`, or `breakaway`, `moving` and `over`, or `fixed = true`")
                    .example(example),
            );
            None
        }
        ["resistance"] => constant.map(Resistance::Constant),
        ["fixed"] => fixed.map(|_| Resistance::Fixed),
        [one] => {
            for key in ["breakaway", "moving", "over"] {
                if !n.has(key) {
                    n.miss(w, key, &format!("`{one}` says that it lets go, and it takes all three to tell how"));
                }
            }
            let (Some(breakaway), Some(moving), Some(over)) = parts else { return None };
            if moving > breakaway {
                w.tell(
                    Mistake::new(
                        "contradiction",
                        n.span_of("moving"),
                        "more holds it once it moves than to break away",
                    )
                    .expected("`moving` not above `breakaway`")
                    .example("moving = \"12 kN\""),
                );
                return None;
            }
            Some(Resistance::Decaying { breakaway, moving, over })
        }
        [.., last] => {
            w.tell(
                Mistake::new(
                    "contradiction",
                    n.span_of(last),
                    format!("{} say at once what holds it", ways.join(" and ")),
                )
                .expected("one of them")
                .example(example),
            );
            None
        }
    }
}

fn rope(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BareRope> {
    let length = n.one::<Length>(w, "length");
    let law = law(w, n);
    let residual = n.one::<f64>(w, "residual");
    let exponent = n.one::<f64>(w, "way_back_exponent");
    if n.has("residual") != n.has("way_back_exponent") {
        let missing = if n.has("residual") { "way_back_exponent" } else { "residual" };
        n.miss(w, missing, "the way back takes both");
        return None;
    }
    let viscous = n.one::<Force>(w, "viscous").unwrap_or(Force::ZERO).as_n();
    let breaking = n.one::<Force>(w, "breaking");
    Some(BareRope { length: length?, law: law?, unloading: residual.zip(exponent), viscous, breaking })
}

/// Keys of the law, and the laws that have them.
const LAW_KEYS: [(&str, &[usize]); 5] =
    [("strength", &[0, 1, 2]), ("strain", &[0, 1, 2]), ("exponent", &[1]), ("c", &[2]), ("point", &[3])];

fn law(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BareLaw> {
    let told = w.found.len();
    let strength = n.one::<Force>(w, "strength");
    let strain = n.one::<f64>(w, "strain");
    let exponent = n.one::<f64>(w, "exponent");
    let c = if n.has("c") { coefficients(w, n) } else { None };
    let points = if n.has("point") { points(w, n) } else { None };
    let kind = n.word(w, "law")?;
    let word = crate::keys::kinetic::LAWS.get(kind).copied().unwrap_or_default();
    for (key, laws) in LAW_KEYS {
        match (laws.contains(&kind), n.has(key)) {
            (true, false) => n.miss(w, key, &format!("a {word} law needs it")),
            (false, true) => w.tell(
                Mistake::new("contradiction", n.span_of(key), format!("a {word} law has no `{key}`"))
                    .expected("the keys of that law alone")
                    .hint("take the key out, or change the law"),
            ),
            _ => {}
        }
    }
    if w.found.len() > told {
        return None;
    }
    Some(match kind {
        0 => BareLaw::Linear { strength: strength?, strain: strain? },
        1 => BareLaw::Power { strength: strength?, strain: strain?, exponent: exponent? },
        2 => BareLaw::Polynomial { strength: strength?, strain: strain?, c: c? },
        _ => BareLaw::Measured(points?),
    })
}

fn coefficients(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<[f64; 3]> {
    let f = n.find(w, "c")?;
    let list: Option<Vec<f64>> = match f.value {
        DeValue::Array(a) => a.iter().map(|v| crate::walk::number(v.get_ref())).collect(),
        _ => None,
    };
    let c = list.and_then(|l| <[f64; 3]>::try_from(l).ok()).filter(|c| c.iter().all(|v| (0.0..=1.0).contains(v)));
    let good = c.filter(|c| (c.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    if good.is_none() {
        let what =
            if c.is_some() { "the three coefficients do not add up to one" } else { "these are no three coefficients" };
        w.tell(
            Mistake::new("out-of-range", f.span.clone(), what)
                .expected("three numbers from 0 to 1 that add up to one")
                .example("c = [0.35, 0.25, 0.40]"),
        );
    }
    good
}

fn points(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<Vec<(f64, Force)>> {
    let nodes = n.tables(w, "point")?;
    let mut out: Vec<(f64, Force)> = Vec::new();
    for p in &nodes {
        let (strain, force) = (p.one::<f64>(w, "strain"), p.one::<Force>(w, "force"));
        let (Some(strain), Some(force)) = (strain, force) else { continue };
        if let Some((e, f)) = out.last()
            && !(strain > *e && force > *f)
        {
            let key = if strain > *e { "force" } else { "strain" };
            w.tell(
                Mistake::new("contradiction", p.span_of(key), format!("`{key}` must rise from point to point"))
                    .expected("rising strains with rising forces")
                    .hint("look whether two points, or two columns, changed places"),
            );
            return None;
        }
        out.push((strain, force));
    }
    if out.is_empty() {
        w.tell(
            Mistake::new("wrong-type", n.span_of("point"), "a law without a point")
                .expected("1 to 12 points")
                .example("point = [{ strain = \"10 %\", force = \"25 kN\" }]"),
        );
        return None;
    }
    (out.len() == nodes.len()).then_some(out)
}

fn asked(w: &mut Walk<'_>, n: &Node<'_, '_>) -> Option<BareAsked> {
    let travel = n.one::<Length>(w, "travel");
    let limit = n.one::<Force>(w, "limit");
    let fastest = n.one::<Speed>(w, "fastest");
    Some(BareAsked { travel: travel?, limit: limit?, fastest: fastest? })
}
