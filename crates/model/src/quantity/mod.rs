//! Quantities that cannot be mixed up: one newtype per kind, SI inside.

mod number;
pub mod show;
pub mod slope;
pub mod text;
mod unit;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $dimension:ident, $( $from:ident / $to:ident = $factor:expr ; $unit:literal ),+ $(,)?) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            /// The dimension, for printing.
            pub const DIMENSION: $crate::trail::Dimension = $crate::trail::Dimension::$dimension;

            /// From a bare SI value. Only formula bodies should need it.
            #[must_use]
            pub const fn from_si(value: f64) -> Self { Self(value) }
            /// The bare SI value. Only formula bodies should need it.
            #[must_use]
            pub const fn as_si(self) -> f64 { self.0 }
            $(
                #[doc = concat!("From ", $unit, ".")]
                #[must_use]
                pub const fn $from(value: f64) -> Self { Self(value * $factor) }
                #[doc = concat!("In ", $unit, ".")]
                #[must_use]
                pub const fn $to(self) -> f64 { self.0 / $factor }
            )+
            /// Without its sign.
            #[must_use]
            pub const fn abs(self) -> Self { Self(self.0.abs()) }
            /// The larger of the two; not-a-number is kept, never dropped.
            #[must_use]
            pub const fn max(self, other: Self) -> Self { if self.0 >= other.0 || self.0.is_nan() { self } else { other } }
            /// The smaller of the two; not-a-number is kept, never dropped.
            #[must_use]
            pub const fn min(self, other: Self) -> Self { if self.0 <= other.0 || self.0.is_nan() { self } else { other } }
            /// Whether it is an ordinary number.
            #[must_use]
            pub const fn is_finite(self) -> bool { self.0.is_finite() }
        }

        impl core::ops::Add for $name { type Output = Self; fn add(self, o: Self) -> Self { Self(self.0 + o.0) } }
        impl core::ops::Sub for $name { type Output = Self; fn sub(self, o: Self) -> Self { Self(self.0 - o.0) } }
        impl core::ops::Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl core::ops::AddAssign for $name { fn add_assign(&mut self, o: Self) { self.0 += o.0; } }
        impl core::ops::Mul<f64> for $name { type Output = Self; fn mul(self, k: f64) -> Self { Self(self.0 * k) } }
        impl core::ops::Mul<$name> for f64 { type Output = $name; fn mul(self, q: $name) -> $name { $name(self * q.0) } }
        impl core::ops::Div<f64> for $name { type Output = Self; fn div(self, k: f64) -> Self { Self(self.0 / k) } }
        impl core::ops::Div for $name { type Output = f64; fn div(self, o: Self) -> f64 { self.0 / o.0 } }
        impl core::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(it: I) -> Self { Self(it.map(|q| q.0).sum()) } }
        impl $crate::range::Scalar for $name {
            fn si(self) -> f64 { self.0 }
            fn of_si(v: f64) -> Self { Self(v) }
            const DIMENSION: $crate::trail::Dimension = $crate::trail::Dimension::$dimension;
        }
    };
}

/// The pound, exactly 0.453 592 37 kg. Source key `nist-sp811`.
pub const POUND_KG: f64 = 0.453_592_37;
/// The pound-force in newtons: the pound times standard gravity, exact. Source key `nist-sp811`.
pub const POUND_FORCE_N: f64 = POUND_KG * crate::STANDARD_GRAVITY;
/// The inch, exactly 25.4 mm. Source key `nist-sp811`.
pub const INCH_M: f64 = 0.0254;

quantity!(
    /// A force. Which kind of force it is (tension, rating, resistance…) is told by [`crate::role`].
    Force, Force,
    from_n / as_n = 1.0; "newtons",
    from_kn / as_kn = 1000.0; "kilonewtons",
    from_kgf / as_kgf = crate::STANDARD_GRAVITY; "kilograms-force",
    from_tonnef / as_tonnef = 1000.0 * crate::STANDARD_GRAVITY; "tonnes-force",
    from_lbf / as_lbf = POUND_FORCE_N; "pounds-force",
    from_short_tonf / as_short_tonf = 2000.0 * POUND_FORCE_N; "short tons-force (2000 lbf)",
    from_long_tonf / as_long_tonf = 2240.0 * POUND_FORCE_N; "long tons-force (2240 lbf)",
);
quantity!(
    /// A mass.
    Mass, Mass,
    from_kg / as_kg = 1.0; "kilograms",
    from_tonne / as_tonne = 1000.0; "tonnes",
    from_lb / as_lb = POUND_KG; "pounds",
    from_short_ton / as_short_ton = 2000.0 * POUND_KG; "short tons (2000 lb)",
    from_long_ton / as_long_ton = 2240.0 * POUND_KG; "long tons (2240 lb)",
);
quantity!(
    /// A length.
    Length, Length,
    from_m / as_m = 1.0; "metres",
    from_mm / as_mm = 0.001; "millimetres",
    from_cm / as_cm = 0.01; "centimetres",
    from_inch / as_inch = INCH_M; "inches",
    from_foot / as_foot = 12.0 * INCH_M; "feet",
    from_yard / as_yard = 36.0 * INCH_M; "yards",
);
quantity!(
    /// An angle.
    Angle, Angle,
    from_rad / as_rad = 1.0; "radians",
    from_deg / as_deg = core::f64::consts::PI / 180.0; "degrees",
);
quantity!(
    /// A pressure or a stress.
    Pressure, Pressure,
    from_pa / as_pa = 1.0; "pascals",
    from_kpa / as_kpa = 1000.0; "kilopascals",
    from_mpa / as_mpa = 1.0e6; "megapascals",
    from_bar / as_bar = 1.0e5; "bar",
    from_psi / as_psi = POUND_FORCE_N / (INCH_M * INCH_M); "pounds per square inch",
);
quantity!(
    /// An area.
    Area, Area,
    from_m2 / as_m2 = 1.0; "square metres",
    from_mm2 / as_mm2 = 1.0e-6; "square millimetres",
);
quantity!(
    /// A span of time.
    Time, Time,
    from_s / as_s = 1.0; "seconds",
    from_min / as_min = 60.0; "minutes",
    from_hour / as_hour = 3600.0; "hours",
    from_day / as_day = 86_400.0; "days",
    from_year / as_year = 86_400.0 * 365.25; "years of 365.25 days",
);
quantity!(
    /// An energy.
    Energy, Energy,
    from_j / as_j = 1.0; "joules",
    from_kj / as_kj = 1000.0; "kilojoules",
);
quantity!(
    /// A turning moment. It has the dimension of an energy and is not one.
    Moment, Moment,
    from_nm / as_nm = 1.0; "newton metres",
    from_knm / as_knm = 1000.0; "kilonewton metres",
);
quantity!(
    /// A speed.
    Speed, Speed,
    from_m_s / as_m_s = 1.0; "metres per second",
    from_km_h / as_km_h = 1.0 / 3.6; "kilometres per hour",
    from_mph / as_mph = 0.44704; "miles per hour",
);

quantity!(
    /// An electric current.
    Current, Current,
    from_a / as_a = 1.0; "amperes",
);
quantity!(
    /// An electric tension. Called voltage here, because a tension is a force in this trade.
    Voltage, Voltage,
    from_v / as_v = 1.0; "volts",
);
quantity!(
    /// An electric charge.
    Charge, Charge,
    from_as / as_as = 1.0; "ampere-seconds",
    from_ah / as_ah = 3600.0; "ampere-hours",
);
quantity!(
    /// An electric resistance. Mechanical ones are forces: see [`crate::role`].
    Ohms, Ohms,
    from_ohm / as_ohm = 1.0; "ohms",
    from_milliohm / as_milliohm = 0.001; "milliohms",
);

impl Mass {
    /// The weight of this mass under standard gravity.
    #[must_use]
    pub const fn weight(self) -> Force {
        Force::from_kgf(self.as_kg())
    }
}
impl Force {
    /// The moment of this force on a lever arm.
    #[must_use]
    pub const fn times_arm(self, arm: Length) -> Moment {
        Moment::from_nm(self.as_n() * arm.as_m())
    }
    /// The stress of this force on an area.
    #[must_use]
    pub const fn over_area(self, area: Area) -> Pressure {
        Pressure::from_pa(self.as_n() / area.as_m2())
    }
}
impl Force {
    /// The work of this force over a way along it.
    #[must_use]
    pub const fn over_way(self, way: Length) -> Energy {
        Energy::from_j(self.as_n() * way.as_m())
    }
}
impl Current {
    /// The charge that this current carries in a time.
    #[must_use]
    pub const fn for_time(self, time: Time) -> Charge {
        Charge::from_as(self.as_a() * time.as_s())
    }
    /// The voltage that it loses over a resistance.
    #[must_use]
    pub const fn over(self, resistance: Ohms) -> Voltage {
        Voltage::from_v(self.as_a() * resistance.as_ohm())
    }
}
impl Moment {
    /// The force that makes this moment on an arm.
    #[must_use]
    pub const fn over_arm(self, arm: Length) -> Force {
        Force::from_n(self.as_nm() / arm.as_m())
    }
}
impl Length {
    /// The area of a rectangle.
    #[must_use]
    pub const fn times(self, other: Length) -> Area {
        Area::from_m2(self.as_m() * other.as_m())
    }
}
impl Angle {
    /// Half a turn.
    pub const HALF_TURN: Self = Self(core::f64::consts::PI);
    /// Sine.
    #[must_use]
    pub fn sin(self) -> f64 {
        libm::sin(self.0)
    }
    /// Cosine.
    #[must_use]
    pub fn cos(self) -> f64 {
        libm::cos(self.0)
    }
    /// Tangent.
    #[must_use]
    pub fn tan(self) -> f64 {
        libm::tan(self.0)
    }
    /// The slope angle of a grade given as rise over run (0.12 for 12 %).
    #[must_use]
    pub fn of_grade(rise_over_run: f64) -> Self {
        Self(libm::atan(rise_over_run))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_conversions_are_the_definitions() {
        assert!((Force::from_lbf(9500.0).as_n() - 42_258.105_4).abs() < 1e-3);
        assert!((Force::from_tonnef(4.75).as_kn() - 46.581_587_5).abs() < 1e-9);
        assert!((Force::from_short_tonf(4.75).as_kn() - 42.258_105_4).abs() < 1e-6);
        assert_eq!(Mass::from_tonne(2.0).weight().as_n(), 19_613.3);
        assert!((Pressure::from_psi(7700.0).as_mpa() - 53.09).abs() < 0.01);
    }

    #[test]
    fn not_a_number_survives_max_and_min() {
        assert!(!Force::from_n(f64::NAN).max(Force::ZERO).is_finite());
        assert!(!Force::from_n(f64::NAN).min(Force::ZERO).is_finite());
    }
}
