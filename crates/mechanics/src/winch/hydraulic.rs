//! A hydraulic winch: pull from pressure, speed from flow. Neither fades with heat or battery; the relief valve is its stall.

use crate::error::{MechanicsError, between, positive};
use unmire_model::{Force, Length, Pressure, Speed};

/// The hydraulic motor with its gears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HydraulicMotor {
    /// Oil that one turn of the motor takes, cubic metres.
    pub displacement: f64,
    /// Turns of the motor for one turn of the drum.
    pub ratio: f64,
    /// What is left of the torque behind motor and gears.
    pub torque_efficiency: f64,
    /// What is left of the flow in the motor.
    pub flow_efficiency: f64,
}

fn checked(m: &HydraulicMotor) -> Result<(), MechanicsError> {
    positive("the displacement of the hydraulic motor", m.displacement, "greater than zero, for example 0.00008 m³")?;
    positive("the ratio of the gears", m.ratio, "greater than zero, for example 30")?;
    between("the torque's efficiency", m.torque_efficiency, 1e-6, 1.0, "above 0 and at most 1, for example 0.7")?;
    between("the flow's efficiency", m.flow_efficiency, 1e-6, 1.0, "above 0 and at most 1, for example 0.9")?;
    Ok(())
}

/// Pull at this pressure and this radius of the line on the drum: `F = p V i η / (2 π r)`.
///
/// # Source
/// `statics`: work of the oil over one turn of the drum against the line's; derived.
///
/// # Errors
/// If a number of the motor or the radius is not in order.
pub fn hydraulic_pull(m: &HydraulicMotor, pressure: Pressure, radius: Length) -> Result<Force, MechanicsError> {
    checked(m)?;
    let p = positive("the pressure", pressure.as_pa(), "greater than zero, for example 160 bar")?;
    let r = positive("the radius of the line on the drum", radius.as_m(), "greater than zero, for example 80 mm")?;
    Ok(Force::from_n(p * m.displacement * m.ratio * m.torque_efficiency / (2.0 * core::f64::consts::PI * r)))
}

/// Speed of the line at this flow, cubic metres a second: `v = 2 π r Q η / (V i)`.
///
/// # Source
/// `statics`: turns of the drum in a second times its circumference; derived.
///
/// # Errors
/// As [`hydraulic_pull`].
pub fn hydraulic_speed(m: &HydraulicMotor, flow: f64, radius: Length) -> Result<Speed, MechanicsError> {
    checked(m)?;
    let q = positive("the flow", flow, "greater than zero, for example 0.0007 m³/s")?;
    let r = positive("the radius of the line on the drum", radius.as_m(), "greater than zero, for example 80 mm")?;
    Ok(Speed::from_m_s(2.0 * core::f64::consts::PI * r * q * m.flow_efficiency / (m.displacement * m.ratio)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn balance_the_line_gets_the_oils_power_less_both_losses() {
        let m = HydraulicMotor { displacement: 8e-5, ratio: 30.0, torque_efficiency: 0.7, flow_efficiency: 0.9 };
        let (p, q) = (Pressure::from_bar(160.0), 0.0007);
        for r in [0.06, 0.08, 0.1].map(Length::from_m) {
            let f = hydraulic_pull(&m, p, r).unwrap();
            let v = hydraulic_speed(&m, q, r).unwrap();
            let power = f.as_n() * v.as_m_s();
            assert!((power - p.as_pa() * q * 0.63).abs() < 1e-6 * power);
        }
        let none = HydraulicMotor { ratio: f64::NAN, ..m };
        assert!(hydraulic_pull(&none, p, Length::from_m(0.1)).is_err());
        assert!(hydraulic_speed(&m, 0.0, Length::from_m(0.1)).is_err());
    }
}
