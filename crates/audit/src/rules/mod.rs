//! The register of rules: each in its own file with code, title, doc and check. `explain` prints the doc.

mod attachment_height;
pub mod bark_pressure;
pub mod bend_ratio;
pub mod block_load_doubled;
pub mod capacity_unknown;
pub mod choke_angle;
pub mod choker_hitch;
pub mod condition_not_checked;
pub mod condition_rejected;
pub mod connector_spread;
pub mod design_factor_assumed;
pub mod drum_layer;
pub mod drum_wraps;
pub mod fairlead_angle;
mod find;
pub mod hook_latch;
pub mod included_angle;
pub mod kinetic_in_static;
pub mod line_damper;
pub mod line_reach;
pub mod line_too_thick;
pub mod metal_between_straps;
pub mod obstacle_crossing;
pub mod parked_vehicle_brakes;
pub mod people_roles;
pub mod point_direction;
pub mod puller_ability;
pub mod rating_kind_unstated;
pub mod refused_point;
pub mod rock_edge;
pub mod roll_over;
pub mod run_away;
pub mod saturated_ground;
mod say;
pub mod second_line_slack;
pub mod shared_anchors;
pub mod sideways_pull;
pub mod stall_assumed;
pub mod static_gear_no_run_up;
pub mod stop_load;
pub mod strap_lies_flat;
pub mod strap_twice_rated;
pub mod strap_width;
pub mod strength;
pub mod stretch_over_static;
pub mod tied_back;
pub mod tree_signs;
pub mod winch_ability;
pub mod wire_in_ring;

use crate::facts::{Facts, PartKind};
use crate::findings::Findings;
use crate::policy::Policy;
use crate::verdict::Grade;
use core::fmt::Write as _;

/// How a rule looks at a rig.
#[derive(Clone, Copy)]
pub enum Look {
    /// The strength of every part of this kind: [`crate::assess::assess`] by the policy's row.
    Strength(PartKind),
    /// A condition with findings of its own.
    Condition(fn(&Facts, &Policy, &mut Findings)),
}

/// One rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Stable, in kebab-case.
    pub code: &'static str,
    /// A short title.
    pub title: &'static str,
    /// What it checks.
    pub checks: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// An invented example.
    pub example: &'static str,
    /// What to do.
    pub to_do: &'static str,
    /// How sure the advice is.
    pub grade: Grade,
    /// Keys of its sources.
    pub sources: &'static [&'static str],
    /// How it looks at a rig.
    pub look: Look,
}

/// A rule as the list has it. What it checks, why, its example and what to do are for whoever looks it up with the program;
/// the app has no such list and leaves them out, for all its files together may weigh 700 kB.
const fn lean(rule: Rule) -> Rule {
    if cfg!(target_arch = "wasm32") { Rule { checks: "", why: "", example: "", to_do: "", ..rule } } else { rule }
}

/// All of them, in the order in which findings are told.
pub const RULES: &[Rule] = &[
    lean(strength::line::RULE),
    lean(strength::connector::RULE),
    lean(strength::block_connector::RULE),
    lean(strength::block::RULE),
    lean(strength::block_strap::RULE),
    lean(strength::end_strap::RULE),
    lean(strength::extension::RULE),
    lean(strength::recovery_point::RULE),
    lean(strength::winch_mount::RULE),
    lean(strength::hand_winch::RULE),
    lean(strength::natural_anchor::RULE),
    lean(strength::made_anchor::RULE),
    lean(strength::parked_vehicle::RULE),
    lean(refused_point::RULE),
    lean(point_direction::RULE),
    lean(capacity_unknown::RULE),
    lean(rating_kind_unstated::RULE),
    lean(design_factor_assumed::RULE),
    lean(condition_rejected::RULE),
    lean(condition_not_checked::RULE),
    lean(included_angle::RULE),
    lean(connector_spread::RULE),
    lean(choke_angle::RULE),
    lean(choker_hitch::RULE),
    lean(strap_width::RULE),
    lean(bark_pressure::RULE),
    lean(attachment_height::RULE),
    lean(strap_lies_flat::RULE),
    lean(kinetic_in_static::RULE),
    lean(static_gear_no_run_up::RULE),
    lean(stretch_over_static::RULE),
    lean(block_load_doubled::RULE),
    lean(strap_twice_rated::RULE),
    lean(metal_between_straps::RULE),
    lean(bend_ratio::RULE),
    lean(line_too_thick::RULE),
    lean(wire_in_ring::RULE),
    lean(hook_latch::RULE),
    lean(line_reach::RULE),
    lean(drum_wraps::RULE),
    lean(drum_layer::RULE),
    lean(fairlead_angle::RULE),
    lean(stall_assumed::RULE),
    lean(winch_ability::RULE),
    lean(puller_ability::RULE),
    lean(obstacle_crossing::RULE),
    lean(roll_over::RULE),
    lean(run_away::RULE),
    lean(sideways_pull::RULE),
    lean(people_roles::RULE),
    lean(tree_signs::RULE),
    lean(saturated_ground::RULE),
    lean(shared_anchors::RULE),
    lean(tied_back::RULE),
    lean(parked_vehicle_brakes::RULE),
    lean(second_line_slack::RULE),
    lean(rock_edge::RULE),
    lean(line_damper::RULE),
    lean(stop_load::RULE),
];

/// Asks every condition rule.
pub fn run(facts: &Facts, policy: &Policy, findings: &mut Findings) {
    for rule in RULES {
        if let Look::Condition(check) = rule.look {
            check(facts, policy, findings);
        }
    }
}

/// The rule with this code.
#[must_use]
pub fn rule(code: &str) -> Option<&'static Rule> {
    RULES.iter().find(|r| r.code == code)
}

/// The doc of a rule as text; none if there is no such code.
#[must_use]
pub fn explain(code: &str) -> Option<String> {
    let r = rule(code)?;
    let mut out = format!("{}: {}\n", r.code, r.title);
    for (head, text) in
        [("What it checks", r.checks), ("Why", r.why), ("Example (invented)", r.example), ("What to do", r.to_do)]
    {
        let _ = write!(out, "\n{head}\n  {text}\n");
    }
    if let Look::Strength(kind) = r.look {
        out.push_str("\nWhat each policy asks\n");
        for p in Policy::all() {
            if let Some(row) = p.row(kind) {
                let _ = writeln!(out, "  {}: {}", p.name, row.in_words());
            }
        }
    }
    let _ = write!(out, "\nGrade\n  {}\n\nSource\n", r.grade.word());
    for key in r.sources {
        match unmire_tables::source(key) {
            Some(s) => {
                let _ = writeln!(out, "  {key}: {}, {} ({})", s.title, s.body, s.access.words());
            }
            None => {
                let _ = writeln!(out, "  {key}");
            }
        }
    }
    Some(out)
}

/// The code nearest to a mistyped one, if any is near.
#[must_use]
pub fn nearest(code: &str) -> Option<&'static str> {
    let wanted = code.trim().to_ascii_lowercase().replace(['_', ' '], "-");
    let (rule, distance) =
        RULES.iter().map(|r| (r.code, distance(&wanted, r.code))).min_by_key(|&(_, distance)| distance)?;
    (distance <= 2.max(wanted.len() / 3)).then_some(rule)
}

/// Letters to change, drop or add (Levenshtein).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut corner = i;
        let mut left = i + 1;
        for (j, y) in b.iter().enumerate() {
            let above = row.get(j + 1).copied().unwrap_or(usize::MAX - 1);
            let here = (corner + usize::from(x != *y)).min(above + 1).min(left + 1);
            corner = above;
            if let Some(cell) = row.get_mut(j) {
                *cell = left;
            }
            left = here;
        }
        if let Some(cell) = row.last_mut() {
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_unique_and_in_kebab_case() {
        for (i, r) in RULES.iter().enumerate() {
            assert!(r.code.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", r.code);
            assert!(RULES[..i].iter().all(|o| o.code != r.code), "{} stands twice", r.code);
        }
    }
    #[test]
    fn every_kind_of_part_has_its_rule() {
        for kind in PartKind::ALL {
            let r = rule(strength::code(kind)).unwrap();
            assert!(matches!(r.look, Look::Strength(k) if k == kind));
        }
    }
    #[test]
    fn every_doc_is_whole_and_every_source_resolves() {
        for r in RULES {
            for text in [r.checks, r.why, r.example, r.to_do] {
                assert!(text.ends_with('.') && text.len() > 20, "{}: {text}", r.code);
            }
            assert!(!r.title.is_empty() && !r.sources.is_empty(), "{}", r.code);
            for key in r.sources {
                assert!(unmire_tables::source(key).is_some(), "{}: no source {key}", r.code);
            }
            let doc = explain(r.code).unwrap();
            for head in ["What it checks", "Why", "Example (invented)", "What to do", "Grade", "Source"] {
                assert!(doc.contains(head), "{}: {head}", r.code);
            }
        }
        assert!(explain("no-such-rule").is_none());
    }
    #[test]
    fn a_doc_of_strength_says_what_each_policy_asks() {
        let doc = explain("strength-block").unwrap();
        for name in Policy::names() {
            assert!(doc.contains(name));
        }
        assert!(doc.contains("4 times the line pull at stall"), "{doc}");
    }
    #[test]
    fn a_mistyped_code_finds_its_neighbour() {
        assert_eq!(nearest("tree-sign"), Some("tree-signs"));
        assert_eq!(nearest("Roll_Over"), Some("roll-over"));
        assert_eq!(nearest("strength-blok"), Some("strength-block"));
        assert_eq!(nearest("xyzzy"), None);
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("", "abc"), 3);
    }
}
