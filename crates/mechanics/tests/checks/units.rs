//! The units of the rows: what one of each is in SI. The sizes come from the model's constructors.

use unmire_model::{Angle, Area, Charge, Current, Energy, Force, Length, Mass, Moment, Pressure, Speed, Time, Voltage};

/// One of a unit, in SI.
pub fn size(unit: &str) -> Result<f64, String> {
    Ok(match unit {
        "1" | "Nm/kg" | "m3" => 1.0,
        "kN/m3" => 1000.0,
        "N" => Force::from_n(1.0).as_n(),
        "kN" => Force::from_kn(1.0).as_n(),
        "MN" => Force::from_kn(1000.0).as_n(),
        "kip" => Force::from_lbf(1000.0).as_n(),
        "lbf" => Force::from_lbf(1.0).as_n(),
        "kgf" => Force::from_kgf(1.0).as_n(),
        "tonnef" => Force::from_tonnef(1.0).as_n(),
        "stonf" => Force::from_short_tonf(1.0).as_n(),
        "kg" => Mass::from_kg(1.0).as_kg(),
        "t" => Mass::from_tonne(1.0).as_kg(),
        "m" => Length::from_m(1.0).as_m(),
        "mm" => Length::from_mm(1.0).as_m(),
        "cm" => Length::from_cm(1.0).as_m(),
        "in" => Length::from_inch(1.0).as_m(),
        "ft" => Length::from_foot(1.0).as_m(),
        "deg" => Angle::from_deg(1.0).as_rad(),
        "kPa" => Pressure::from_kpa(1.0).as_pa(),
        "MPa" => Pressure::from_mpa(1.0).as_pa(),
        "lbf/ft2" => Force::from_lbf(1.0).as_n() / (Length::from_foot(1.0).as_m() * Length::from_foot(1.0).as_m()),
        "m2" => Area::from_m2(1.0).as_m2(),
        "s" => Time::from_s(1.0).as_s(),
        "A" => Current::from_a(1.0).as_a(),
        "V" => Voltage::from_v(1.0).as_v(),
        "Ah" => Charge::from_ah(1.0).as_as(),
        "m/min" => 1.0 / Time::from_min(1.0).as_s(),
        "kN/mm" => Force::from_kn(1.0).as_n() / Length::from_mm(1.0).as_m(),
        "%" => 0.01,
        "m/s" => Speed::from_m_s(1.0).as_m_s(),
        "km/h" => Speed::from_km_h(1.0).as_m_s(),
        "J" => Energy::from_j(1.0).as_j(),
        "kJ" => Energy::from_kj(1.0).as_j(),
        "kNm" => Moment::from_knm(1.0).as_nm(),
        other => return Err(format!("unit {other} is not known")),
    })
}

/// A text like `1000 lbf`, in SI.
pub fn quantity(text: &str) -> Result<f64, String> {
    let (number, unit) = text.split_once(' ').ok_or_else(|| format!("'{text}' is not a number and a unit"))?;
    let n: f64 = number.parse().map_err(|e| format!("'{text}': {e}"))?;
    Ok(n * size(unit)?)
}
