//! What a winch takes out of a lead battery, how full that leaves it, and how far its voltage sags.

use crate::error::{MechanicsError, between, positive};
use crate::lookup;
use unmire_model::drive::Battery;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::{Charge, Current, Ohms, Range, Recorder, Time, Voltage};

/// Charge that leaves the battery: the winch's current less what the alternator gives, never below nothing, over the time.
///
/// # Source
/// `statics` (charge is current times time), derived. What the alternator gives is the case's; nothing if not told.
#[must_use]
pub fn drawn(current: &Range<Current>, alternator: &Range<Current>, time: &Range<Time>) -> Range<Charge> {
    let net = net_current(current, alternator);
    Range::hull(net.low().for_time(time.low()), net.likely().for_time(time.likely()), net.high().for_time(time.high()))
}

/// The winch's current less what the alternator gives, never below nothing.
///
/// # Source
/// `statics` (currents at a node add up), derived.
#[must_use]
pub fn net_current(current: &Range<Current>, alternator: &Range<Current>) -> Range<Current> {
    let less = |a: Current, b: Current| (a - b).max(Current::ZERO);
    Range::hull(
        less(current.low(), alternator.high()),
        less(current.likely(), alternator.likely()),
        less(current.high(), alternator.low()),
    )
}

/// How full the battery is after so much charge was drawn at a winch's current: `s − Q / (C k)`, never below empty. C printed
/// capacity, k what is left of it at hundreds of amperes.
///
/// # Source
/// `statics` for the form; k from table `battery` row `left_at_winch_current`, `own-judgement`.
///
/// # Errors
/// If the capacity is not greater than zero or the filling not between 0 and 1.
pub fn filled_after(
    battery: &Battery,
    drawn: &Range<Charge>,
    rec: &mut impl Recorder,
) -> Result<Range<f64>, MechanicsError> {
    let c = &battery.capacity.value;
    positive("the capacity of the battery", c.low().as_as(), "greater than zero, for example 80 Ah")?;
    for v in battery.filled.value.values() {
        between("how full the battery is", v, 0.0, 1.0, "0 to 1, for example 0.9")?;
    }
    let left = lookup::battery_left();
    let at = |filled: f64, q: Charge, c: Charge, k: f64| (filled - q / (c * k)).max(0.0);
    let f = &battery.filled.value;
    let r = Range::hull(
        at(f.low(), drawn.high(), c.low(), left.low()),
        at(f.likely(), drawn.likely(), c.likely(), left.likely()),
        at(f.high(), drawn.low(), c.high(), left.high()),
    );
    rec.record(|| {
        Step::range("how full the battery is", "s", "s = s₀ − Q / (C k)", &r, "own-judgement")
            .given("s₀", &battery.filled)
            .input_range("Q", drawn, Origin::Earlier)
            .given("C", &battery.capacity)
            .input_range("k", &left, Origin::Constant("own-judgement"))
    });
    Ok(r)
}

/// Voltage at rest of a battery that is so full; `nominal` 12 V or 24 V.
///
/// # Source
/// Table `battery_voltage`: `battery-voltage-page` (read), straight between its rows.
///
/// # Errors
/// If the filling is not between 0 and 1 or the voltage not greater than zero.
pub fn resting_voltage(filled: f64, nominal: Voltage) -> Result<Voltage, MechanicsError> {
    between("how full the battery is", filled, 0.0, 1.0, "0 to 1, for example 0.9")?;
    let n = positive("the voltage of the battery", nominal.as_v(), "12 V or 24 V")?;
    Ok(Voltage::from_v(lookup::battery_rest(filled) * n / 12.0))
}

/// Voltage at the winch while so much current leaves the battery: `U = U₀(s) − I R`.
///
/// # Source
/// `statics` (Ohm's law), derived; U₀ from table `battery_voltage` (read); R from the case, else from table `battery` row
/// `resistance` (memory).
///
/// # Errors
/// As [`resting_voltage`].
pub fn terminal_voltage(
    battery: &Battery,
    filled: &Range<f64>,
    net: &Range<Current>,
    nominal: Voltage,
    rec: &mut impl Recorder,
) -> Result<Range<Voltage>, MechanicsError> {
    let k = positive("the voltage of the battery", nominal.as_v(), "12 V or 24 V")? / 12.0;
    // Two batteries in a row have twice the resistance.
    let r: Range<Ohms> = battery
        .resistance
        .as_ref()
        .map_or_else(|| lookup::battery_resistance().increasing(|o: Ohms| o * k), |i| i.value);
    let at = |s: f64, i: Current, r: Ohms| Ok::<Voltage, MechanicsError>(resting_voltage(s, nominal)? - i.over(r));
    let u = Range::hull(
        at(filled.low(), net.high(), r.high())?,
        at(filled.likely(), net.likely(), r.likely())?,
        at(filled.high(), net.low(), r.low())?,
    );
    rec.record(|| {
        let s = Step::range("voltage at the winch", "U", "U = U₀(s) − I R", &u, "battery-voltage-page")
            .input_range("s", filled, Origin::Earlier)
            .input_range("I", net, Origin::Earlier)
            .input("nominal", nominal.as_v(), Dimension::Voltage, Origin::Earlier);
        match &battery.resistance {
            Some(given) => s.given("R", given),
            None => s
                .input_range("R", &r, Origin::Constant("recollection"))
                .note("inner resistance from memory, not measured"),
        }
    });
    Ok(u)
}

/// Voltage under load at which one stops, by the trade's practice; `nominal` 12 V or 24 V.
///
/// # Source
/// Table `battery` row `stop_voltage`, memory.
#[must_use]
pub fn stop_voltage(nominal: Voltage) -> Range<Voltage> {
    let k = nominal.as_v() / 12.0;
    lookup::stop_voltage().increasing(|v: Voltage| v * k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::trail::Input;
    use unmire_model::{Silent, Trail};

    fn exact<Q: unmire_model::range::Scalar>(v: Q) -> Range<Q> {
        Range::hull(v, v, v)
    }
    fn battery(filled: f64) -> Battery {
        Battery {
            capacity: Input::assumed(exact(Charge::from_ah(100.0)), "t"),
            filled: Input::assumed(exact(filled), "t"),
            resistance: Some(Input::assumed(exact(Ohms::from_milliohm(5.0)), "t")),
        }
    }

    #[test]
    fn closed_form_charge_is_net_current_times_time() {
        let q = drawn(&exact(Current::from_a(400.0)), &exact(Current::from_a(40.0)), &exact(Time::from_s(60.0)));
        assert!((q.likely().as_ah() - 6.0).abs() < 1e-12);
        let q = drawn(&exact(Current::from_a(30.0)), &exact(Current::from_a(40.0)), &exact(Time::from_s(60.0)));
        assert_eq!(q.high(), Charge::ZERO);
    }

    #[test]
    fn closed_form_the_voltage_falls_by_current_times_resistance() {
        let u = terminal_voltage(
            &battery(1.0),
            &exact(1.0),
            &exact(Current::from_a(300.0)),
            Voltage::from_v(12.0),
            &mut Silent,
        )
        .unwrap();
        assert!((u.likely().as_v() - (12.65 - 1.5)).abs() < 1e-9);
        let rest = resting_voltage(0.625, Voltage::from_v(24.0)).unwrap();
        assert!((rest.as_v() - (12.24 + 12.45)).abs() < 1e-9);
        assert!(resting_voltage(1.2, Voltage::from_v(12.0)).is_err());
        assert_eq!(stop_voltage(Voltage::from_v(24.0)).low(), Voltage::from_v(21.0));
    }

    #[test]
    fn closed_form_at_winch_current_a_battery_gives_less_than_is_printed_on_it() {
        let s = filled_after(&battery(1.0), &exact(Charge::from_ah(10.0)), &mut Silent).unwrap();
        assert!((s.likely() - (1.0 - 10.0 / 55.0)).abs() < 1e-12);
        assert!(s.low() < s.likely() && s.likely() < s.high());
        let s = filled_after(&battery(0.1), &exact(Charge::from_ah(90.0)), &mut Silent).unwrap();
        assert_eq!(s.high(), 0.0);
        assert!(filled_after(&battery(1.5), &exact(Charge::ZERO), &mut Silent).is_err());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_battery() {
        let (b, q) = (battery(0.8), exact(Charge::from_ah(7.0)));
        let mut t = Trail::default();
        assert_eq!(filled_after(&b, &q, &mut Silent).unwrap(), filled_after(&b, &q, &mut t).unwrap());
        let (s, i, v) = (exact(0.7), exact(Current::from_a(250.0)), Voltage::from_v(12.0));
        let a = terminal_voltage(&b, &s, &i, v, &mut Silent).unwrap();
        assert_eq!(a, terminal_voltage(&b, &s, &i, v, &mut t).unwrap());
        assert_eq!(t.steps.len(), 2);
    }
}
