//! The published examples of `checks/policy/`, under the default policy.
#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests

use std::path::Path;
use unmire_audit::assess::{Pulls, assess};
use unmire_audit::facts::{Capacity, PartFact, PartKind};
use unmire_audit::policy::Policy;
use unmire_audit::verdict::Verdict;
use unmire_model::{Angle, Force};

fn text<'t>(row: &'t toml::Table, key: &str) -> &'t str {
    row.get(key).and_then(toml::Value::as_str).unwrap_or_else(|| panic!("{row:?}: {key}"))
}
fn number(row: &toml::Table, key: &str) -> f64 {
    text(row, key).parse().unwrap()
}

#[test]
fn published_examples_of_the_regulator_are_asked_as_printed() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../checks/policy/regulator.toml");
    let doc: toml::Table = std::fs::read_to_string(file).unwrap().parse().unwrap();
    let rows = doc["example"].as_array().unwrap();
    assert_eq!(rows.len(), 4);
    let policy = Policy::default_policy();
    for row in rows.iter().map(|r| r.as_table().unwrap()) {
        let id = text(row, "id");
        assert!(unmire_tables::source(text(row, "source")).is_some_and(|s| s.access.is_published()), "{id}");
        assert_eq!((text(row, "unit"), text(row, "kind")), ("tonnef", "published"));
        let kind = PartKind::ALL.into_iter().find(|k| k.word() == text(row, "part")).unwrap();
        let stall = Force::from_tonnef(number(row, "stall"));
        // Where the line's two parts stand at this angle to each other, the station sees 2 T cos(angle / 2); a dead end sees T.
        let station = match kind {
            PartKind::Connector => stall,
            _ => stall * (2.0 * (Angle::from_deg(number(row, "between_deg")) * 0.5).cos()),
        };
        let judged = |breaking: Force| {
            let part = PartFact {
                name: id.into(),
                role: String::new(),
                kind,
                piece: None,
                demand_work: Some(station * 0.1),
                demand_stall: Some(station),
                share: 1.0,
                station_stall: Some(station),
                capacity: Capacity { breaking: Some(breaking), reduction: 1.0, ..Capacity::default() },
            };
            let pulls = Pulls { work: stall * 0.1, stall: Some(stall), rated: None };
            assess(&part, policy.row(kind).unwrap(), &pulls, false).verdict
        };
        // Half a unit of the last printed digit on either side.
        let printed = number(row, "pass");
        assert_eq!(judged(Force::from_tonnef(printed)), Verdict::Holds, "{id}");
        assert_eq!(judged(Force::from_tonnef(printed - 0.5)), Verdict::Overloaded, "{id}");
    }
}
