//! The working behind an equilibrium, step by step: every number is one that the solver handed out.

use super::equilibrium::Equilibrium;
use unmire_model::rig::{Drive, Structure, Turn};
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Recorder, Vec3};

/// Offers the working of an equilibrium that the solver found for this structure.
pub fn explain(s: &Structure, eq: &Equilibrium, rec: &mut impl Recorder) {
    for (index, line) in s.lines.iter().enumerate() {
        tension(s, eq, index, rec);
        for (k, leg) in eq.legs_of(index).enumerate() {
            let (Some(turn), Some(load)) = (
                k.checked_sub(1).and_then(|t| line.turns.get(t)),
                k.checked_sub(1).and_then(|t| eq.turns_of(index).nth(t)),
            ) else {
                continue;
            };
            rec.record(|| leg_step(s, line.name.as_str(), leg, turn, load));
            rec.record(|| {
                let what = format!("force of line '{}' on '{}'", line.name, name(s, load.point));
                Step::new(
                    what,
                    "R",
                    "R = |T_before + T_beyond|, as vectors",
                    load.resultant.norm(),
                    Dimension::Force,
                    "statics",
                )
                .input("T_before", leg.tension.as_n() / load.ratio, Dimension::Force, Origin::Earlier)
                .input("T_beyond", leg.tension.as_n(), Dimension::Force, Origin::Earlier)
                .input("wrap", load.wrap.as_rad(), Dimension::Angle, Origin::Earlier)
            });
        }
    }
    for (sling, load) in s.slings.iter().zip(&eq.slings) {
        rec.record(|| {
            let what = format!("tension of sling '{}'", sling.name);
            let step = Step::new(
                what,
                "T",
                "T = EA (l - L0) / L0, never less than 0",
                load.tension.as_n(),
                Dimension::Force,
                "statics",
            )
            .input("EA", sling.ea.as_n(), Dimension::Force, Origin::Earlier)
            .input("L0", sling.rest_length.as_m(), Dimension::Length, Origin::Earlier)
            .input("l", load.length.as_m(), Dimension::Length, Origin::Earlier);
            if load.is_slack() { step.note("slack: it carries nothing") } else { step }
        });
    }
    for (node, force) in s.nodes.iter().zip(&eq.forces) {
        if node.fixed && *force != Vec3::ZERO {
            rec.record(|| {
                let what = format!("force of the rig on '{}'", node.name);
                Step::new(what, "F", "F = |sum of the members' pulls|", force.norm(), Dimension::Force, "statics")
                    .input("F_x", force.x, Dimension::Force, Origin::Earlier)
                    .input("F_y", force.y, Dimension::Force, Origin::Earlier)
                    .input("F_z", force.z, Dimension::Force, Origin::Earlier)
            });
        }
    }
    rec.record(|| {
        Step::new(
            "greatest out-of-balance force",
            "r",
            "r = max |sum of forces on a free point|, drives included; below 1e-9 of the greatest of line pull, weight and 1 N",
            eq.residual.as_n(),
            Dimension::Force,
            "statics",
        )
        .input("allowed", eq.allowed.as_n(), Dimension::Force, Origin::Earlier)
        .input("Newton steps", f64::from(eq.iterations), Dimension::Count, Origin::Earlier)
    });
}

fn name(s: &Structure, point: usize) -> &str {
    s.nodes.get(point).map_or("?", |n| n.name.as_str())
}

fn tension(s: &Structure, eq: &Equilibrium, index: usize, rec: &mut impl Recorder) {
    let (Some(line), Some(t)) = (s.lines.get(index), eq.tensions.get(index)) else { return };
    rec.record(|| {
        let what = format!("tension of line '{}' at its first point", line.name);
        let step = |formula| Step::new(what, "T", formula, t.as_n(), Dimension::Force, "statics");
        match &line.drive {
            Drive::Tension(given) => step("T = given").input("given", given.as_n(), Dimension::Force, Origin::Earlier),
            Drive::Pull { force, direction, .. } => {
                step("T such that the sum of all pulls on the given points, along d, is F")
                    .input("F", force.as_n(), Dimension::Force, Origin::Earlier)
                    .input("d_x", direction.x, Dimension::Ratio, Origin::Earlier)
                    .input("d_y", direction.y, Dimension::Ratio, Origin::Earlier)
                    .input("d_z", direction.z, Dimension::Ratio, Origin::Earlier)
            }
            Drive::Length { rest_length, ea } => step("T such that sum of l_i / (1 + T_i / EA) = L0")
                .input("L0", rest_length.as_m(), Dimension::Length, Origin::Earlier)
                .input("EA", ea.as_n(), Dimension::Force, Origin::Earlier),
        }
    });
}

fn leg_step(
    s: &Structure,
    line: &str,
    leg: &super::equilibrium::Leg,
    turn: &Turn,
    load: &super::equilibrium::TurnLoad,
) -> Step {
    let what = format!("tension of line '{line}' from '{}' to '{}'", name(s, leg.from), name(s, leg.to));
    let before = leg.tension.as_n() / load.ratio;
    match turn {
        Turn::Sheave { ratio } => {
            let formula = "T = T_before * eta (hauled), T_before / eta (lowered), T_before (no friction)";
            Step::new(what, "T", formula, leg.tension.as_n(), Dimension::Force, "statics")
                .input("T_before", before, Dimension::Force, Origin::Earlier)
                .input("eta", *ratio, Dimension::Ratio, Origin::Earlier)
        }
        Turn::Ring { friction } => {
            let formula = "T = T_before * exp(-mu theta) (hauled), exp(+mu theta) (lowered), T_before (no friction)";
            Step::new(what, "T", formula, leg.tension.as_n(), Dimension::Force, "capstan")
                .input("T_before", before, Dimension::Force, Origin::Earlier)
                .input("mu", *friction, Dimension::Ratio, Origin::Earlier)
                .input("theta", load.wrap.as_rad(), Dimension::Angle, Origin::Earlier)
        }
    }
}
