//! The types that cross from the worker, are handed over or are kept, field by field.

use super::{Faults, Read, Tree};
use crate::document::Complaint;
use crate::engine::{Job, Kind, Units, Wishes};
use crate::hand::Handed;
use crate::store::{Entry, Sort};
use unmire_sheet::json::{
    Action, Alternative, AnchorForce, Check, Demand, DemandPart, Document, Finding, GateItem, KeepOut, KeepOutRule,
    Leg, Origin, OtherPolicy, Piece, Plan, PlanPull, Point, Policy, RangeN, RangeRatio, RangeS, Stability, Step, Stop,
    TrailInput, TrailStep, Way, Ways, Winch,
};

/// The compiler refuses a list in which a field is missing.
macro_rules! shapes {
    ($($name:ident { $($field:ident),* })*) => {
        $(impl Read for $name {
            #[inline(never)]
            fn read(tree: &Tree, faults: &mut Faults) -> Self {
                Self { $($field: faults.field(tree, stringify!($field))),* }
            }
        })*
    };
}
shapes! {
    Document { schema, policy, demand, findings, plans, title, passes, policy_words, gate, looked_at, played, ways }
    Ways { advised, advice, all }
    Way { way, passes, verdict, rig, load_work_n, load_most_n, room_m, keep_out_m, pieces, time_s, exposed, who, why }
    Policy { name, title, doc, grade }
    Demand { low_n, likely_n, high_n, method, parts, alternatives }
    DemandPart { name, low_n, likely_n, high_n, source, how }
    Alternative { name, low_n, likely_n, high_n, source, how, used }
    Finding { code, effect, subject, text, remedy }
    GateItem { word, text }
    Plan { verdict, stop_load_n, family, why, demand, actions, pieces, points, legs, anchors, checks, weakest, residual_n, winch, steps, cautions, keep_out, summary, weakest_check, lowest_margin, findings, stop, stability, pull, time_s, other_policies, trail }
    RangeN { low_n, likely_n, high_n }
    RangeS { low_s, likely_s, high_s }
    RangeRatio { low, likely, high }
    Action { word, text, before, after, time_s, source, how }
    Piece { id, what, place }
    Point { name, kind, x_m, y_m, z_m }
    Leg { member, from, to, length_m, tension_work_n, tension_stall_n }
    AnchorForce { point, force_work_n, force_stall_n }
    Check { code, part, what, demand_work_n, demand_stall_n, capacity_n, capacity_kind, ratio_work, ratio_stall, required_work, required_stall, verdict, source, kind, stop_load_n, unknown_because }
    Winch { layer, pull_n, line_out_m, id, ability_n, stall_n, stall_assumed, wraps_left }
    Step { phase, text }
    KeepOut { rule, rings, radius_m, others, exceptions }
    KeepOutRule { name, radius_m, source }
    Stop { line_pull_n, cell_reading_n, when }
    Stability { used, used_with_holding, sideways_pull_n, off_line_rad }
    PlanPull { verdict, arrives, reaches_m, length_m, why_it_ends, weakest, weakest_travel_m, lowest_margin, line_tension_n, stop_load_n, pulling_s, resting_s, charge_ah }
    OtherPolicy { policy, verdict, lowest_margin }
    TrailStep { what, symbol, formula, dimension, low, likely, high, inputs, source, notes }
    TrailInput { symbol, dimension, low, likely, high, origin }
    Origin { kind, line, text, source }
    Handed { name, text, kits }
    Complaint { path, file, line, column, code, message, expected, example, hint, excerpt }
}

/// The words of a choice.
macro_rules! words {
    ($($name:ident { $first:ident: $first_word:literal, $($other:ident: $word:literal),* })*) => {
        $(impl Read for $name {
            fn read(tree: &Tree, faults: &mut Faults) -> Self {
                match tree.text() {
                    Some($first_word) => Self::$first,
                    $(Some($word) => Self::$other,)*
                    _ => {
                        faults.tell("none of the words");
                        Self::$first
                    }
                }
            }
        })*
    };
}
words! {
    Kind { Plan: "plan", Check: "check", Pull: "pull" }
    Units { Metric: "metric", Us: "us" }
    Sort { Case: "case", Kit: "kit" }
}

impl Read for Job {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        Self {
            kind: faults.field(tree, "kind"),
            text: faults.field(tree, "text"),
            options: faults.field_or(tree, "options", Wishes::default()),
        }
    }
}
impl Read for Wishes {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        let usual = Self::default();
        Self {
            name: faults.field_or(tree, "name", usual.name),
            kits: faults.field_or(tree, "kits", usual.kits),
            policy: faults.field_or(tree, "policy", usual.policy),
            limit: faults.field_or(tree, "limit", usual.limit),
            rig: faults.field_or(tree, "rig", usual.rig),
            explain: faults.field_or(tree, "explain", usual.explain),
            actions: faults.field_or(tree, "actions", usual.actions),
            units: faults.field_or(tree, "units", usual.units),
            drawings: faults.field_or(tree, "drawings", usual.drawings),
        }
    }
}
impl Read for Entry {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        Self {
            id: faults.field(tree, "id"),
            sort: faults.field(tree, "sort"),
            name: faults.field(tree, "name"),
            title: faults.field(tree, "title"),
            text: faults.field(tree, "text"),
            kits: faults.field_or(tree, "kits", Vec::new()),
            changed: faults.field(tree, "changed"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tree::read;

    #[test]
    fn other_program_reads_the_same_report_of_every_example() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
        let mut reports = 0;
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let text = std::fs::read_to_string(&path).unwrap_or_default();
            let Ok(expected) = serde_json::from_str::<Document>(&text) else { continue };
            assert_eq!(read::<Document>(&text).unwrap(), expected, "{}", path.display());
            reports += 1;
        }
        assert!(reports > 8, "{reports}");
    }
}
