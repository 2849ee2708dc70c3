//! Kinetic pulls.

use super::kit::pick;
use super::{Out, amount, exact, number, quoted};
use crate::keys::kinetic::{LAWS, STATES};
use crate::read::STATE;
use unmire_model::Angle;
use unmire_model::kinetic::{BareLaw, BarePull, Resistance, RopeState, RunUp, Stretching};
use unmire_model::quantity::slope::Way;
use unmire_model::trail::{Input, Origin};

/// What is told of a rope that stretches.
pub(super) fn stretching(out: &mut Out, s: &Stretching) {
    if let Some(c) = &s.construction {
        out.key("construction", &quoted(c));
    }
    if s.state != RopeState::Unknown {
        out.key("state", &pick(&STATE, s.state, STATES));
    }
    if let Some(wet) = s.wet {
        out.key("wet", if wet { "true" } else { "false" });
    }
    if !s.elongation.is_empty() {
        let of = |e: &unmire_model::kinetic::Elongation| {
            format!("{{ at = {}, stretch = {} }}", exact(e.at), exact(e.stretch))
        };
        let all: Vec<String> = s.elongation.iter().map(of).collect();
        out.key("elongation", &format!("[{}]", all.join(", ")));
    }
}

/// What a case says of a kinetic pull.
pub(super) fn run_up(out: &mut Out, r: &RunUp) {
    out.header("[kinetic]");
    if let Some(v) = &r.speed {
        out.key("speed", &amount::range(v));
    }
    if let Some(v) = &r.slack {
        out.key("slack", &amount::range(v));
    }
    if let Some(v) = &r.travel {
        out.key("travel", &amount::one(v));
    }
    if let Some(v) = &r.fastest {
        out.key("fastest", &amount::one(v));
    }
    if let Some(v) = &r.moving {
        out.key("moving", &amount::range(v));
    }
    if let Some(v) = &r.over {
        out.key("over", &amount::one(v));
    }
}

fn slope(out: &mut Out, a: Angle) {
    if a != Angle::ZERO {
        out.key("slope", &amount::slope(&Input::new(a, Origin::File { line: 0 }), Way::Along));
    }
}

/// A bare kinetic problem.
pub(super) fn problem(out: &mut Out, p: &BarePull) {
    out.key("schema", &quoted(crate::KINETIC_SCHEMA));
    if let Some(t) = &p.title {
        out.key("title", &quoted(t));
    }
    out.key("slack", &exact(p.slack));
    if let Some(l) = p.travel_limit {
        out.key("travel_limit", &exact(l));
    }
    if let Some(t) = p.time_limit {
        out.key("time_limit", &exact(t));
    }
    out.header("[puller]");
    out.key("mass", &exact(p.puller.mass));
    out.key("speed", &exact(p.puller.speed));
    out.key("traction", &exact(p.puller.traction));
    slope(out, p.puller.slope);
    if let Some(b) = p.puller.brakes {
        out.key("brakes", &exact(b));
    }
    out.header("[stuck]");
    out.key("mass", &exact(p.stuck.mass));
    match p.stuck.resistance {
        Resistance::Constant(r) => out.key("resistance", &exact(r)),
        Resistance::Decaying { breakaway, moving, over } => {
            out.key("breakaway", &exact(breakaway));
            out.key("moving", &exact(moving));
            out.key("over", &exact(over));
        }
        Resistance::Fixed => out.key("fixed", "true"),
    }
    slope(out, p.stuck.slope);
    out.header("[rope]");
    out.key("length", &exact(p.rope.length));
    law(out, &p.rope.law);
    if let Some((residual, exponent)) = p.rope.unloading {
        out.key("residual", &number(residual));
        out.key("way_back_exponent", &number(exponent));
    }
    if p.rope.viscous != 0.0 {
        out.key("viscous", &exact(unmire_model::Force::from_n(p.rope.viscous)));
    }
    if let Some(b) = p.rope.breaking {
        out.key("breaking", &exact(b));
    }
    if let Some(a) = &p.asked {
        out.header("[asked]");
        out.key("travel", &exact(a.travel));
        out.key("limit", &exact(a.limit));
        out.key("fastest", &exact(a.fastest));
    }
}

fn law(out: &mut Out, law: &BareLaw) {
    let place = match law {
        BareLaw::Linear { .. } => 0,
        BareLaw::Power { .. } => 1,
        BareLaw::Polynomial { .. } => 2,
        BareLaw::Measured(_) => 3,
    };
    out.key("law", &pick(&[0, 1, 2, 3], place, LAWS));
    if let BareLaw::Linear { strength, strain }
    | BareLaw::Power { strength, strain, .. }
    | BareLaw::Polynomial { strength, strain, .. } = law
    {
        out.key("strength", &exact(*strength));
        out.key("strain", &exact(*strain));
    }
    match law {
        BareLaw::Linear { .. } => {}
        BareLaw::Power { exponent, .. } => out.key("exponent", &number(*exponent)),
        BareLaw::Polynomial { c, .. } => {
            let c: Vec<String> = c.iter().map(|v| number(*v)).collect();
            out.key("c", &format!("[{}]", c.join(", ")));
        }
        BareLaw::Measured(points) => {
            let of =
                |(e, f): &(f64, unmire_model::Force)| format!("{{ strain = {}, force = {} }}", exact(*e), exact(*f));
            let all: Vec<String> = points.iter().map(of).collect();
            out.key("point", &format!("[{}]", all.join(", ")));
        }
    }
}
