//! What guides, courses and regulators say of a kinetic pull, held against this one. They disagree, so none is reckoned with.

use unmire_model::{Force, Length, Mass, Range, Speed};
use unmire_tables::{How, generated as g};

/// A rule of thumb, and where this pull stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Practice {
    /// Its key.
    pub key: &'static str,
    /// What it is about: strength, speed, slack, pulls, rest, energy.
    pub of: &'static str,
    /// The rule in words.
    pub what: &'static str,
    /// What its numbers are.
    pub per: &'static str,
    /// Its low end.
    pub low: Option<f64>,
    /// Its high end.
    pub high: Option<f64>,
    /// This pull, in the same measure; none: the rule is about nothing that a single pull has.
    pub here: Option<Range<f64>>,
    /// Whether this pull keeps it: all of its range, none of it; or not to be said.
    pub kept: Option<bool>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
}

/// What a pull has that the rules speak of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PractisedPull {
    /// Breaking strength on the label of the rope or strap.
    pub strength: Option<Force>,
    /// Mass of the lighter of the two vehicles.
    pub lighter: Range<Mass>,
    /// Mass of the stuck vehicle.
    pub stuck: Range<Mass>,
    /// Speed when the rope becomes taut.
    pub closing: Range<Speed>,
    /// Slack.
    pub slack: Range<Length>,
}

/// Every rule of thumb, with what this pull has beside it.
///
/// # Source
/// Table `kinetic_practice`; each row has its own.
#[must_use]
pub fn practices(pull: &PractisedPull) -> Vec<Practice> {
    let times = |m: &Range<Mass>| pull.strength.map(|s| m.decreasing(|m| s / m.weight()));
    g::kinetic_practice::ROWS
        .iter()
        .map(|r| {
            let here = match r.key {
                "strength-regulator" => times(&pull.lighter),
                "strength-course" => times(&pull.stuck),
                "speed-club" => Some(pull.closing.increasing(Speed::as_mph)),
                "slack-guide" => Some(pull.slack.increasing(Length::as_m)),
                _ => None,
            };
            // A slower pull than the slowest that is named breaks no rule.
            let low = if r.of == "speed" || r.of == "slack" { None } else { r.low };
            let kept = here.and_then(|h| {
                let inside = |v: f64| low.is_none_or(|l| v >= l) && r.high.is_none_or(|u| v <= u);
                match (inside(h.low()), inside(h.high())) {
                    (true, true) => Some(true),
                    (false, false) if low.is_some_and(|l| h.high() < l) || r.high.is_some_and(|u| h.low() > u) => {
                        Some(false)
                    }
                    _ => None,
                }
            });
            Practice {
                key: r.key,
                of: r.of,
                what: r.what,
                per: r.per,
                low: r.low,
                high: r.high,
                here,
                kept,
                source: r.source,
                how: r.how,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_rules_of_size_disagree_about_one_strap() {
        // The course's own example: 4,000 lb, a strap of 20,000 lb.
        let lb = |v: f64| Range::hull(Mass::from_lb(v), Mass::from_lb(v), Mass::from_lb(v));
        let speed = Range::hull(Speed::from_mph(2.0), Speed::from_mph(4.0), Speed::from_mph(6.0));
        let slack = Range::hull(Length::from_m(0.5), Length::from_m(0.8), Length::from_m(1.0));
        let pull = PractisedPull {
            strength: Some(Force::from_lbf(20_000.0)),
            lighter: lb(4000.0),
            stuck: lb(4000.0),
            closing: speed,
            slack,
        };
        let kept = |key| practices(&pull).iter().find(|p| p.key == key).unwrap().kept;
        assert_eq!(kept("strength-course"), Some(true));
        assert_eq!(kept("strength-regulator"), Some(false));
        assert_eq!(kept("speed-club"), None, "2 to 6 mph: partly over");
        assert_eq!(kept("slack-guide"), Some(true));
        assert_eq!(kept("rest-club"), None);
        let unknown = PractisedPull { strength: None, ..pull };
        assert!(practices(&unknown).iter().filter(|p| p.of == "strength").all(|p| p.kept.is_none()));
    }
}
