//! Rigs that another program solved: checks/rig holds them with where they come from.
mod rig_common;

use rig_common::{cases, number, text, vector};
use unmire_mechanics::rig::{Solver, solve};
use unmire_model::Silent;

fn near(got: f64, want: f64, scale: f64, what: &str) {
    assert!((got - want).abs() <= 1e-6 * scale, "{what}: {got} but the other program found {want}");
}

#[test]
fn other_program_equilibria() {
    let cases = cases();
    assert_eq!(cases.len(), 17, "a rig more or less than there were");
    let mut solver = Solver::default();
    for case in &cases {
        let id = &case.id;
        let eq = solve(&case.structure, &mut Silent).unwrap_or_else(|e| panic!("{id}: {e}"));
        // The ways for many rigs in a row give the same.
        let mut again = eq.clone();
        solver.solve_into(&case.structure, &mut again).unwrap();
        assert_eq!(eq, again);
        solver.solve_from(&case.structure, &mut again).unwrap();
        for (a, b) in eq.positions.iter().zip(&again.positions) {
            assert!((*a - *b).norm() <= 1e-9);
        }
        let expected = case.table["expected"].as_table().unwrap();
        let first = number(&expected["first_tension_n"]);
        near(eq.tensions[0].as_n(), first, first, &format!("{id}: first tension"));
        let legs = case.expected("leg");
        assert_eq!(legs.len(), eq.legs.len());
        for (got, want) in eq.legs_of(0).zip(&legs) {
            let what = format!("{id}: leg {} {}", text(want, "from"), text(want, "to"));
            assert_eq!((got.from, got.to), (case.node(text(want, "from")), case.node(text(want, "to"))));
            let t = number(&want["tension_n"]);
            near(got.tension.as_n(), t, t, &what);
            near(got.length.as_m(), number(&want["length_m"]), 1.0, &what);
        }
        let slings = case.expected("sling");
        let slack: Vec<usize> = (0..slings.len()).filter(|k| number(&slings[*k]["tension_n"]) == 0.0).collect();
        assert_eq!(eq.slack_slings().collect::<Vec<_>>(), slack, "{id}");
        assert_eq!(slings.len(), eq.slings.len());
        for (got, want) in eq.slings.iter().zip(&slings) {
            let what = format!("{id}: sling {}", text(want, "name"));
            let t = number(&want["tension_n"]);
            near(got.tension.as_n(), t, t, &what);
            near(got.length.as_m(), number(&want["length_m"]), 1.0, &what);
            assert_eq!(got.is_slack(), t == 0.0, "{what}");
        }
        for want in case.expected("point") {
            let d = eq.positions[case.node(text(&want, "name"))] - vector(&want["at_m"]);
            assert!(d.norm() <= 1e-6, "{id}: point {} is off by {d:?}", text(&want, "name"));
        }
        for want in case.expected("force") {
            let force = vector(&want["force_n"]);
            let d = eq.forces[case.node(text(&want, "point"))] - force;
            near(d.norm(), 0.0, force.norm(), &format!("{id}: force on {}", text(&want, "point")));
        }
        let turns = case.expected("turn");
        assert_eq!(turns.len(), eq.turns.len());
        for (got, want) in eq.turns_of(0).zip(&turns) {
            let what = format!("{id}: turn at {}", text(want, "point"));
            assert_eq!(got.point, case.node(text(want, "point")));
            let force = vector(&want["force_n"]);
            near((got.resultant - force).norm(), 0.0, force.norm(), &what);
            near(got.wrap.as_deg(), number(&want["deflection_deg"]), 1.0, &what);
        }
        assert!(eq.residual < eq.allowed);
    }
}
