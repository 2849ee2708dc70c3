//! Numbers of the JSON in the reader's units, by the same rounding as everywhere: loads up, capacities down.

use crate::engine::Units;
use unmire_model::quantity::show;
use unmire_model::{Force, Length, Time};

/// What is printed for a number that is not known.
pub const NOT_KNOWN: &str = "–";

fn or_not_known(n: Option<f64>, print: impl Fn(f64) -> String) -> String {
    n.map_or_else(|| NOT_KNOWN.to_owned(), print)
}

/// A load in newtons, rounded up.
#[must_use]
pub fn load(units: Units, n: Option<f64>) -> String {
    or_not_known(n, |n| show::Units::from(units).show_load(Force::from_n(n)))
}
/// A strength or a limit in newtons, rounded down.
#[must_use]
pub fn capacity(units: Units, n: Option<f64>) -> String {
    or_not_known(n, |n| show::Units::from(units).show_capacity(Force::from_n(n)))
}
/// How many times what is asked there is, rounded down.
#[must_use]
pub fn margin(n: Option<f64>) -> String {
    or_not_known(n, show::show_margin)
}
/// A length in metres.
#[must_use]
pub fn length(units: Units, n: Option<f64>) -> String {
    or_not_known(n, |n| show::Units::from(units).show_length(Length::from_m(n)))
}
/// How far something may go, in metres, rounded down.
#[must_use]
pub fn length_allowed(units: Units, n: Option<f64>) -> String {
    or_not_known(n, |n| show::Units::from(units).show_length_available(Length::from_m(n)))
}
/// A length that must be kept, in metres, rounded up.
#[must_use]
pub fn length_to_keep(units: Units, n: Option<f64>) -> String {
    or_not_known(n, |n| show::Units::from(units).show_length_needed(Length::from_m(n)))
}
/// A ratio that is asked, as a policy writes it.
#[must_use]
pub fn asked(n: Option<f64>) -> String {
    or_not_known(n, |n| format!("{n:.2}").trim_end_matches('0').trim_end_matches('.').to_owned())
}
/// A time in seconds.
#[must_use]
pub fn time(s: Option<f64>) -> String {
    or_not_known(s, |s| show::show_time(Time::from_s(s)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_loads_go_up_and_capacities_down() {
        assert_eq!(load(Units::Metric, Some(12_341.0)), "12.4 kN");
        assert_eq!(capacity(Units::Metric, Some(12_349.0)), "12.3 kN");
        assert!(load(Units::Us, Some(12_341.0)).ends_with("lbf"));
        assert_eq!(load(Units::Metric, None), NOT_KNOWN);
        assert_eq!(capacity(Units::Us, None), NOT_KNOWN);
        assert_eq!(margin(None), NOT_KNOWN);
    }
}
