//! The pieces that the search picks for a choice are the best there are: every other way of putting the kit's pieces
//! into the same places is tried and ranked by the same order.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod common;

use unmire_audit::judge::judge_quietly;
use unmire_audit::policy::Policy;
use unmire_mechanics::rig::Solver;
use unmire_model::gear::{Piece, PieceKind, StrapUse};
use unmire_model::{Force, Range, Silent};
use unmire_planner::choices::choices;
use unmire_planner::connect::slots as connector_slots;
use unmire_planner::context::Context;
use unmire_planner::evaluate::{facts, line_short, solve_rigging};
use unmire_planner::fill::{Filler, Key};
use unmire_planner::rigging::{Grip, Pull, Rigging, Tie};

#[derive(Clone, Copy, PartialEq)]
enum Role {
    Block,
    Strap,
    Bridle,
    Line,
    Connector,
}

fn fits(p: &Piece, role: Role) -> bool {
    match (&p.kind, role) {
        (PieceKind::Block { .. } | PieceKind::Ring { .. }, Role::Block) => true,
        (PieceKind::Strap(s), Role::Strap) => matches!(s.made_for, StrapUse::TreeStrap | StrapUse::RoundSling),
        (PieceKind::Strap(s), Role::Bridle) => s.made_for == StrapUse::Bridle,
        (PieceKind::Strap(s), Role::Line) => s.made_for == StrapUse::Extension,
        (PieceKind::Rope(r), Role::Line) => !r.kinetic,
        (PieceKind::Shackle { .. } | PieceKind::SoftShackle, Role::Connector) => true,
        _ => false,
    }
}

/// Every place but connectors, each with its role.
fn shaping<'r, 'a>(r: &'r mut Rigging<'a>) -> Vec<(&'r mut &'a Piece, Role)> {
    fn grip<'r, 'a>(g: &'r mut Grip<'a>, out: &mut Vec<(&'r mut &'a Piece, Role)>) {
        match g {
            Grip::Anchors(legs) => {
                for leg in legs {
                    out.extend(leg.strap.as_mut().map(|p| (p, Role::Strap)));
                    out.extend(leg.extensions.iter_mut().map(|p| (p, Role::Line)));
                }
            }
            Grip::Bridle { strap, .. } => out.extend(strap.as_mut().map(|p| (p, Role::Bridle))),
            Grip::Point { .. } | Grip::Winch { .. } => {}
        }
    }
    fn tie<'r, 'a>(t: &'r mut Tie<'a>, out: &mut Vec<(&'r mut &'a Piece, Role)>) {
        out.extend(t.line.iter_mut().map(|p| (p, Role::Line)));
        grip(&mut t.grip, out);
    }
    let mut out = Vec::new();
    match &mut r.pull {
        Pull::Tow { line, .. } => out.extend(line.iter_mut().map(|p| (p, Role::Line))),
        Pull::Hand { held_by, .. } => grip(held_by, &mut out),
        Pull::Winch { .. } => {}
    }
    for stop in &mut r.stops {
        out.extend(stop.block.as_mut().map(|p| (p, Role::Block)));
        out.extend(stop.extensions.iter_mut().map(|p| (p, Role::Line)));
        grip(&mut stop.grip, &mut out);
    }
    for t in r.tie_back.iter_mut().chain(&mut r.holding) {
        tie(t, &mut out);
    }
    out
}

fn key_of(ctx: &Context<'_>, solver: &mut Solver, r: &Rigging<'_>, need: Range<Force>) -> Option<Key> {
    if unmire_planner::parked::reach_short(r).is_some() {
        return None;
    }
    let solved = solve_rigging(ctx, solver, r, need.high()).ok()?;
    if line_short(&solved, r).is_some() || !unmire_planner::crossing::of(ctx, &solved).is_empty() {
        return None;
    }
    solved.share_out(ctx, r);
    let layout = r.layout();
    let cell = r.beside.iter().copied().find(|p| matches!(p.kind, PieceKind::LoadCell));
    let f = facts(ctx, r, &layout, &solved, need, cell);
    // A dee where legs spread is refused by the search; the rules only tell of it.
    let dee = f
        .connectors
        .iter()
        .any(|c| c.spread.is_some() && matches!(c.piece.kind, PieceKind::Shackle { bow: false, .. }));
    if dee {
        return None;
    }
    let s = judge_quietly(&f, ctx.policy);
    let mut bare = r.clone();
    bare.beside.clear();
    let pieces = bare.pieces();
    Some(Key {
        verdict: s.verdict,
        margin: s.lowest_margin,
        pieces: pieces.len(),
        length: pieces.iter().filter_map(|p| unmire_planner::build::length_of(p)).sum(),
        ids: pieces.iter().map(|p| ctx.place(p)).collect(),
    })
}

/// The best of all ways to put the kit's pieces into the places of this rigging.
fn brute<'a>(ctx: &Context<'a>, solver: &mut Solver, shape: &Rigging<'a>, need: Range<Force>) -> (Option<Key>, usize) {
    let mut work = shape.clone();
    let mut roles: Vec<Role> = shaping(&mut work).into_iter().map(|(_, r)| r).collect();
    let shaping_count = roles.len();
    roles.extend(connector_slots(&mut work).iter().map(|_| Role::Connector));
    let mut best: Option<Key> = None;
    let mut tried = 0;
    let mut used: Vec<&'a Piece> = Vec::new();
    #[allow(clippy::too_many_arguments)]
    fn go<'a>(
        ctx: &Context<'a>,
        solver: &mut Solver,
        work: &mut Rigging<'a>,
        roles: &[Role],
        shaping_count: usize,
        used: &mut Vec<&'a Piece>,
        need: Range<Force>,
        best: &mut Option<Key>,
        tried: &mut usize,
    ) {
        if used.len() == roles.len() {
            for (i, (place, _)) in shaping(work).into_iter().enumerate() {
                *place = used[i];
            }
            for (i, place) in connector_slots(work).into_iter().enumerate() {
                *place = used[shaping_count + i];
            }
            *tried += 1;
            if let Some(key) = key_of(ctx, solver, work, need)
                && best.as_ref().is_none_or(|b| key.better_than(b))
            {
                *best = Some(key);
            }
            return;
        }
        let role = roles[used.len()];
        for p in &ctx.case.kit {
            if fits(p, role) && !used.iter().any(|u| core::ptr::eq(*u, p)) {
                used.push(p);
                go(ctx, solver, work, roles, shaping_count, used, need, best, tried);
                used.pop();
            }
        }
    }
    go(ctx, solver, &mut work, &roles, shaping_count, &mut used, need, &mut best, &mut tried);
    (best, tried)
}

fn compare(name: &str, policy: &str, most: usize) -> (usize, usize) {
    let case = common::case(name);
    let policy = Policy::by_name(policy).unwrap();
    let ctx = Context::of(&case, &policy);
    let need = unmire_planner::demand::need_for(&case, &[], &mut Silent).unwrap().total;
    let (mut compared, mut tried) = (0, 0);
    for choice in choices(&case).iter().take(most) {
        let mut solver = Solver::default();
        let mut filler = Filler::new(&ctx, &mut solver, need);
        let Some(found) = filler.best(choice) else { continue };
        let (best, n) = brute(&ctx, &mut solver, &found.rigging, need);
        tried += n;
        let best = best.expect("the search found one, so there is one");
        assert_eq!(found.key.verdict, best.verdict, "{name}: {}", unmire_planner::words::summary(&found.rigging));
        assert!(!best.better_than(&found.key), "{name}: {:?} is better than {:?}", best, found.key);
        assert_eq!(found.key.ids, best.ids, "{name}: {}", unmire_planner::words::summary(&found.rigging));
        compared += 1;
    }
    (compared, tried)
}

#[test]
fn closed_form_no_other_pieces_are_better_in_a_mixed_bag() {
    let (compared, tried) = compare("mixed-bag", "regulator-stall", 40);
    assert!(compared >= 8 && tried > 2000, "{compared} choices, {tried} riggings");
}

#[test]
fn closed_form_no_other_pieces_are_better_by_working_load_limits() {
    let (compared, tried) = compare("mixed-bag", "working-load-limit", 12);
    assert!(compared >= 4 && tried > 500, "{compared} choices, {tried} riggings");
}

#[test]
fn closed_form_no_other_pieces_are_better_with_a_helper_and_a_hand_winch() {
    let (compared, tried) = compare("helper-and-hand-winch", "regulator-stall", 60);
    assert!(compared >= 6 && tried > 100, "{compared} choices, {tried} riggings");
}
