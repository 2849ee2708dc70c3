//! How rules say numbers and names: loads up, capacities down, in metric units.

use unmire_model::quantity::show::{Round, Units, show_angle, significant};
use unmire_model::{Angle, Force, Length, Pressure};

pub fn load(f: Force) -> String {
    Units::Metric.show_load(f)
}
pub fn capacity(f: Force) -> String {
    Units::Metric.show_capacity(f)
}
pub fn angle(a: Angle) -> String {
    show_angle(a)
}
pub fn length(l: Length) -> String {
    Units::Metric.show_length(l)
}
/// A length that is needed.
pub fn length_up(l: Length) -> String {
    Units::Metric.show_length_needed(l)
}
/// A length that is there.
pub fn length_down(l: Length) -> String {
    Units::Metric.show_length_available(l)
}
/// A multiple of a load, rounded up.
pub fn more(times: f64) -> String {
    significant(times, 2, Round::Up)
}
/// A multiple that speaks for a part, rounded down.
pub fn less(times: f64) -> String {
    significant(times, 2, Round::Down)
}
pub fn pressure(p: Pressure) -> String {
    Units::Metric.show_pressure(p, Round::Up)
}
/// A pressure that something stands.
pub fn pressure_down(p: Pressure) -> String {
    Units::Metric.show_pressure(p, Round::Down)
}
/// `A, B and C`.
pub fn list<S: AsRef<str>>(items: impl IntoIterator<Item = S>) -> String {
    let items: Vec<S> = items.into_iter().collect();
    let mut out = String::new();
    for (i, s) in items.iter().enumerate() {
        if i > 0 {
            out.push_str(if i + 1 == items.len() { " and " } else { ", " });
        }
        out.push_str(s.as_ref());
    }
    out
}
