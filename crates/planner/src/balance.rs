//! A bare rig: points, slings and lines without a vehicle or ground. Solved with exactly the numbers given.

use crate::report::{AnchorForce, Demand, KeepOut, Plan, PlanLeg, PlanPoint, Report, Site, StopRule};
use unmire_audit::verdict::Verdict;
use unmire_mechanics::rig::{RigError, solve};
use unmire_model::layout::Family;
use unmire_model::rig::Structure;
use unmire_model::trail::Trail;
use unmire_model::{Angle, Force, Length, Range, Time};

/// Solves a bare structure.
///
/// # Errors
/// As the solver: a structure without a certified balance has no numbers.
pub fn balance(structure: &Structure, title: &str) -> Result<Report, RigError> {
    let mut trail = Trail::default();
    let eq = solve(structure, &mut trail)?;
    let name = |i: usize| structure.nodes.get(i).map_or_else(String::new, |n| n.name.clone());
    let points = structure
        .nodes
        .iter()
        .zip(&eq.positions)
        .map(|(n, at)| PlanPoint {
            name: n.name.clone(),
            kind: if n.fixed { "fixed" } else { "free" }.to_owned(),
            at: *at,
        })
        .collect();
    let mut legs: Vec<PlanLeg> = eq
        .legs
        .iter()
        .map(|l| PlanLeg {
            member: structure.lines.get(l.line).map_or_else(String::new, |m| m.name.clone()),
            from: name(l.from),
            to: name(l.to),
            length: l.length,
            tension_work: l.tension,
            tension_stall: None,
        })
        .collect();
    legs.extend(structure.slings.iter().zip(&eq.slings).map(|(s, load)| PlanLeg {
        member: s.name.clone(),
        from: name(s.a),
        to: name(s.b),
        length: load.length,
        tension_work: load.tension,
        tension_stall: None,
    }));
    let anchors = structure
        .nodes
        .iter()
        .zip(&eq.forces)
        .filter(|(n, _)| n.fixed)
        .map(|(n, f)| AnchorForce { point: n.name.clone(), work: *f, stall: None })
        .collect();
    let nothing = Range::hull(Force::ZERO, Force::ZERO, Force::ZERO);
    let plan = Plan {
        // A bare rig has no parts and is judged by nobody; views do not print this word.
        verdict: Verdict::Unknown,
        family: Family::StraightPull,
        lacks_detector: false,
        why: "In balance; no strength was checked.".to_owned(),
        summary: format!(
            "{} points, {} slings, {} lines in balance.",
            structure.nodes.len(),
            structure.slings.len(),
            structure.lines.len()
        ),
        demand: Demand { force: nothing, method: String::new(), parts: Vec::new(), alternatives: Vec::new() },
        actions: Vec::new(),
        pieces: Vec::new(),
        points,
        legs,
        anchors,
        checks: Vec::new(),
        findings: Vec::new(),
        weakest: None,
        lowest_margin: None,
        residual: eq.residual,
        stop: StopRule { line_pull: None, cell_reading: None, when: Vec::new() },
        winch: None,
        stability: None,
        pull: None,
        time: Range::hull(Time::ZERO, Time::ZERO, Time::ZERO),
        steps: Vec::new(),
        cautions: vec!["Statics only: strengths, ground and people were not looked at.".to_owned()],
        keep_out: KeepOut {
            rule: String::new(),
            rings: Vec::new(),
            radius: Length::ZERO,
            others: Vec::new(),
            exceptions: Vec::new(),
        },
        other_policies: Vec::new(),
        layout: None,
        trail,
    };
    Ok(Report {
        title: title.to_owned(),
        policy: None,
        demand: None,
        findings: Vec::new(),
        gate: Vec::new(),
        plans: vec![plan],
        looked_at: 1,
        played: 0,
        ways: None,
        site: Site { way_out: Angle::ZERO, ..Site::default() },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Vec3;
    use unmire_model::rig::{Line, Node, Sling};

    #[test]
    fn closed_form_a_line_on_a_strap_carries_the_line_pull() {
        let rig = Structure {
            nodes: vec![
                Node::fixed("winch", Vec3::new(0.0, 0.0, 0.0)),
                Node::fixed("tree", Vec3::new(22.0, 0.0, 0.0)),
                Node::free("shackle", Vec3::new(20.0, 0.0, 0.0)),
            ],
            slings: vec![Sling::new("strap", 1, 2, Length::from_m(2.0), Force::from_kn(1200.0))],
            lines: vec![Line::hauled("line", vec![0, 2], Force::from_kn(20.0))],
        };
        let report = balance(&rig, "one strap").unwrap();
        let plan = &report.plans[0];
        assert!((plan.legs[1].tension_work.as_kn() - 20.0).abs() < 1e-9);
        assert!(report.passes());
        assert!((plan.anchors[1].work.x + 20_000.0).abs() < 1e-6);
    }
}
