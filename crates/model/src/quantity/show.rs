//! Prints quantities in the reader's units with no more digits than are known: loads rounded up, capacities down.

use crate::{Angle, Force, Length, Mass, Pressure, Range, Speed, Time};

/// The reader's units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Units {
    /// kN, t, kg, m, mm.
    #[default]
    Metric,
    /// lbf, lb, ft, in.
    Us,
}

/// Which way a number is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// Away from zero: loads.
    Up,
    /// Toward zero: capacities.
    Down,
    /// To the nearest: neither.
    Nearest,
}

/// What a value that is no ordinary number prints as.
const UNKNOWN: &str = "unknown";
/// What floating arithmetic may have added to a number that is round in its unit; it must not cost a whole step.
const SLACK: f64 = 1e-9;

fn power_of_ten(e: i32) -> f64 {
    (0..e.unsigned_abs()).fold(1.0, |p, _| if e < 0 { p / 10.0 } else { p * 10.0 })
}

/// Rounds to so many significant figures and prints without needless zeros; groups of three with commas, up to 10^19.
#[must_use]
pub fn significant(value: f64, figures: u32, round: Round) -> String {
    if !value.is_finite() {
        return UNKNOWN.into();
    }
    let magnitude = value.abs();
    if magnitude < 1e-12 {
        return "0".into();
    }
    let mut exponent = libm::floor(libm::log10(magnitude)) as i32;
    // log10 may be off by one step at powers of ten.
    if power_of_ten(exponent + 1) <= magnitude {
        exponent += 1;
    }
    let decimals = i32::try_from(figures).unwrap_or(3) - 1 - exponent;
    let scaled = if decimals >= 0 { magnitude * power_of_ten(decimals) } else { magnitude / power_of_ten(-decimals) };
    let whole = match round {
        Round::Up => libm::ceil(scaled * (1.0 - SLACK)),
        Round::Down => libm::floor(scaled * (1.0 + SLACK)),
        Round::Nearest => libm::round(scaled),
    };
    let rounded = if decimals >= 0 { whole / power_of_ten(decimals) } else { whole * power_of_ten(-decimals) };
    let mut out = String::with_capacity(16);
    if value < 0.0 && rounded != 0.0 {
        out.push('-');
    }
    // As whole numbers where they hold it exactly: to print a fraction takes three times as long.
    let step = 10_u64.checked_pow(decimals.unsigned_abs()).filter(|_| whole < 1e15);
    let exact = step.and_then(|step| match whole as u64 {
        n if decimals > 0 => Some((n / step, n % step)),
        n => Some((n.checked_mul(step)?, 0)),
    });
    match exact {
        Some((before, after)) => {
            group(&mut out, before);
            if after > 0 {
                out.push('.');
                digits(&mut out, after, decimals);
                let end = out.trim_end_matches('0').len();
                out.truncate(end);
            }
        }
        None => out += &rounded.to_string(),
    }
    out
}

/// Commas between groups of three digits, from four digits on.
fn group(out: &mut String, n: u64) {
    if n < 1000 {
        return digits(out, n, 1);
    }
    group(out, n / 1000);
    out.push(',');
    digits(out, n % 1000, 3);
}
/// At least so many digits.
fn digits(out: &mut String, n: u64, least: i32) {
    if n > 9 || least > 1 {
        digits(out, n / 10, least - 1);
    }
    out.extend(char::from_digit((n % 10) as u32, 10));
}

/// Figures of a force: two under ten units, three above. Site inputs are not known better.
fn force_figures(in_unit: f64) -> u32 {
    if in_unit.abs() < 10.0 { 2 } else { 3 }
}

impl Units {
    /// A force in this unit, bare.
    fn force(self, f: Force) -> (f64, &'static str) {
        match self {
            Self::Metric => (f.as_kn(), "kN"),
            Self::Us => (f.as_lbf(), "lbf"),
        }
    }
    /// A force with its unit.
    #[must_use]
    pub fn show_force(self, f: Force, round: Round) -> String {
        let (v, unit) = self.force(f);
        let figures = match self {
            Self::Metric => force_figures(v),
            // Under 1000 lbf two figures, so that 337 becomes 340 and not a false 337.
            Self::Us => 2 + u32::from(v.abs() >= 1000.0),
        };
        with_unit(&significant(v, figures, round), unit)
    }
    /// A load: rounded up.
    #[must_use]
    pub fn show_load(self, f: Force) -> String {
        self.show_force(f, Round::Up)
    }
    /// A capacity: rounded down.
    #[must_use]
    pub fn show_capacity(self, f: Force) -> String {
        self.show_force(f, Round::Down)
    }
    /// A range of loads: all of it rounded up.
    #[must_use]
    pub fn show_load_range(self, r: &Range<Force>) -> String {
        range(r, |f| self.show_load(f))
    }
    /// A range of capacities: all of it rounded down.
    #[must_use]
    pub fn show_capacity_range(self, r: &Range<Force>) -> String {
        range(r, |f| self.show_capacity(f))
    }
    /// A mass, rounded up: it is a load.
    #[must_use]
    pub fn show_mass(self, m: Mass) -> String {
        match self {
            Self::Metric if m.as_kg().abs() >= 1000.0 => with_unit(&significant(m.as_tonne(), 3, Round::Up), "t"),
            Self::Metric => {
                with_unit(&significant(m.as_kg(), 2 + u32::from(m.as_kg().abs() >= 100.0), Round::Up), "kg")
            }
            Self::Us => with_unit(&significant(m.as_lb(), 3, Round::Up), "lb"),
        }
    }
    /// A length, to the nearest: millimetres or inches under one metre or foot, else metres or feet.
    #[must_use]
    pub fn show_length(self, l: Length) -> String {
        self.length(l, Round::Nearest)
    }
    /// A length that must be kept or reached, rounded up: ground to keep clear, strap needed.
    #[must_use]
    pub fn show_length_needed(self, l: Length) -> String {
        self.length(l, Round::Up)
    }
    /// A length that is there, rounded down: line left, strap in hand.
    #[must_use]
    pub fn show_length_available(self, l: Length) -> String {
        self.length(l, Round::Down)
    }
    fn length(self, l: Length, round: Round) -> String {
        let (v, unit) = match self {
            // Nothing is nothing in the greater unit too.
            Self::Metric if l != Length::ZERO && l.as_m().abs() < 0.1 => (l.as_mm(), "mm"),
            Self::Metric => (l.as_m(), "m"),
            Self::Us if l != Length::ZERO && l.as_foot().abs() < 1.0 => (l.as_inch(), "in"),
            Self::Us => (l.as_foot(), "ft"),
        };
        with_unit(&significant(v, 2 + u32::from(v.abs() >= 10.0), round), unit)
    }
    /// A pressure.
    #[must_use]
    pub fn show_pressure(self, p: Pressure, round: Round) -> String {
        match self {
            Self::Metric if p.as_mpa().abs() >= 1.0 => with_unit(&significant(p.as_mpa(), 2, round), "MPa"),
            Self::Metric => with_unit(&significant(p.as_kpa(), 2, round), "kPa"),
            Self::Us => with_unit(&significant(p.as_psi(), 2, round), "psi"),
        }
    }
    /// A speed.
    #[must_use]
    pub fn show_speed(self, s: Speed, round: Round) -> String {
        match self {
            Self::Metric => with_unit(&significant(s.as_m_s(), 2, round), "m/s"),
            Self::Us => with_unit(&significant(s.as_mph(), 2, round), "mph"),
        }
    }
}

/// An angle, to the nearest whole degree; below ten degrees to the nearest half.
#[must_use]
pub fn show_angle(a: Angle) -> String {
    let d = a.as_deg();
    if !d.is_finite() {
        return UNKNOWN.into();
    }
    let step = if d.abs() < 10.0 { 2.0 } else { 1.0 };
    let r = libm::round(d * step) / step;
    with_unit(&significant(r, 3, Round::Nearest), "deg")
}

/// A share as a percentage, two figures.
#[must_use]
pub fn show_share(share: f64, round: Round) -> String {
    with_unit(&significant(share * 100.0, 2, round), "%")
}

/// A margin, capacity over demand: rounded down, two figures.
#[must_use]
pub fn show_margin(margin: f64) -> String {
    significant(margin, 2, Round::Down)
}

/// A time in the unit that suits it, from seconds to years; rounded up.
#[must_use]
pub fn show_time(t: Time) -> String {
    let minutes = t.as_min();
    let (value, unit) = match minutes.abs() {
        m if m < 1.0 => (t.as_s(), "s"),
        m if m < 120.0 => (minutes, "min"),
        m if m < 48.0 * 60.0 => (minutes / 60.0, "h"),
        m if m < 700.0 * 24.0 * 60.0 => (minutes / (24.0 * 60.0), "days"),
        _ => (minutes / (365.25 * 24.0 * 60.0), "years"),
    };
    with_unit(&significant(value, 2, Round::Up), unit)
}

fn with_unit(number: &str, unit: &str) -> String {
    if number == UNKNOWN { number.into() } else { [number, " ", unit].concat() }
}

fn range<Q: crate::range::Scalar>(r: &Range<Q>, show: impl Fn(Q) -> String) -> String {
    let (low, high) = (show(r.low()), show(r.high()));
    if low == high { low } else { format!("{low} .. {high}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_loads_go_up_and_capacities_down() {
        let f = Force::from_n(31_871.0);
        assert_eq!(Units::Metric.show_load(f), "31.9 kN");
        assert_eq!(Units::Metric.show_capacity(f), "31.8 kN");
        assert_eq!(Units::Us.show_load(f), "7,170 lbf");
        assert_eq!(Units::Us.show_capacity(f), "7,160 lbf");
        assert_eq!(Units::Metric.show_load(Force::from_n(5812.0)), "5.9 kN");
        assert_eq!(Units::Metric.show_load(Force::from_kn(15.4)), "15.4 kN");
        assert_eq!(Units::Metric.show_capacity(Force::from_kn(15.4)), "15.4 kN");
        assert_eq!(Units::Us.show_load(Force::from_lbf(9500.0)), "9,500 lbf");
        assert_eq!(Units::Metric.show_load(Force::from_n(-31_871.0)), "-31.9 kN");
        assert_eq!(Units::Metric.show_load(Force::from_kn(142.61)), "143 kN");
        assert_eq!(Units::Metric.show_load(Force::from_n(99.95)), "0.1 kN");
    }

    #[test]
    fn closed_form_every_rounding_is_on_its_side() {
        for i in 1..20_000_u32 {
            let n = f64::from(i) * 7.31;
            let f = Force::from_n(n);
            let back = |t: String| crate::quantity::text::read_one::<Force>(&t).unwrap().as_n();
            for u in [Units::Metric, Units::Us] {
                let (up, down) = (back(u.show_load(f)), back(u.show_capacity(f)));
                assert!(up >= n * (1.0 - 2e-9) && down <= n * (1.0 + 2e-9), "{n} {up} {down}");
                assert!(up <= n * 1.1 + 1e-9 && down >= n * 0.9 - 1e-9, "{n} {up} {down}");
            }
        }
    }

    #[test]
    fn regress_a_number_is_printed_as_the_library_prints_it_but_for_needless_zeros_and_with_commas() {
        for figures in 1..9 {
            for i in 1..4000_u32 {
                let value = f64::from(i) * 3.7e-9 * libm::pow(10.0, f64::from(i % 22));
                let step = libm::pow(10.0, libm::floor(libm::log10(value)) + 1.0 - f64::from(figures));
                for (round, least, most) in
                    [(Round::Nearest, -0.5, 0.5), (Round::Up, 0.0, 1.0), (Round::Down, -1.0, 0.0)]
                {
                    let shown = significant(value, figures, round);
                    let plain = shown.replace(',', "");
                    let decimals = plain.split_once('.').map_or(0, |(_, d)| d.len());
                    let number: f64 = plain.parse().unwrap();
                    assert_eq!(format!("{number:.decimals$}"), plain, "{value} {figures}");
                    let off = (number - value) / step;
                    assert!((least - 1e-3..=most + 1e-3).contains(&off), "{shown} {value} {round:?}");
                    assert!(!(shown.contains('.') && shown.ends_with('0')), "{shown}");
                    let whole = shown.split('.').next().unwrap();
                    assert!(whole.split(',').skip(1).all(|g| g.len() == 3), "{shown}");
                    assert!(whole.split(',').all(|g| !g.is_empty() && g.len() < 4), "{shown}");
                    assert_eq!(significant(-value, figures, round), format!("-{shown}"));
                }
            }
        }
        let up = |value| significant(value, 2, Round::Up);
        assert_eq!((up(9.96).as_str(), up(0.0996).as_str(), up(999.6).as_str()), ("10", "0.1", "1,000"));
        assert_eq!(significant(1e20, 2, Round::Nearest), "100000000000000000000");
    }

    #[test]
    fn regress_others() {
        assert_eq!(Units::Metric.show_force(Force::from_n(f64::NAN), Round::Up), "unknown");
        assert_eq!(Units::Metric.show_load(Force::ZERO), "0 kN");
        assert_eq!(Units::Metric.show_mass(Mass::from_kg(2131.0)), "2.14 t");
        assert_eq!(Units::Metric.show_mass(Mass::from_kg(140.0)), "140 kg");
        assert_eq!(Units::Us.show_mass(Mass::from_kg(2131.0)), "4,700 lb");
        assert_eq!(Units::Metric.show_length(Length::from_mm(75.0)), "75 mm");
        assert_eq!(Units::Metric.show_length(Length::ZERO), "0 m");
        assert_eq!(Units::Metric.show_length(Length::from_m(18.46)), "18.5 m");
        assert_eq!(Units::Metric.show_length_available(Length::from_m(18.46)), "18.4 m");
        assert_eq!(Units::Us.show_length(Length::from_inch(3.0)), "3 in");
        assert_eq!(Units::Us.show_length_needed(Length::from_foot(60.11)), "60.2 ft");
        assert_eq!(show_angle(Angle::from_deg(26.5)), "27 deg");
        assert_eq!(show_angle(Angle::from_deg(4.3)), "4.5 deg");
        assert_eq!(show_share(0.123, Round::Up), "13 %");
        assert_eq!(show_margin(1.999), "1.9");
        assert_eq!(show_time(Time::from_s(95.0)), "1.6 min");
        assert_eq!(significant(1000.0, 3, Round::Up), "1,000");
    }
}
