//! How much energy a stretched member stores.

use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Energy, Force, Length};

/// Energy in a member that stretches linearly: `U = F² L / (2 EA)`, L its length without load.
///
/// Taking the loaded length for L, as the outputs do, gives a little more than there is.
///
/// # Source
/// `statics`: the area under a straight loading line, derived.
///
/// # Errors
/// If the tension or the length is negative, or EA is not greater than zero.
///
/// # Assumes
/// One stiffness up to the load. A rope that stiffens stores less at the same load.
pub fn stored_energy(
    tension: Force,
    length: Length,
    ea: Force,
    rec: &mut impl Recorder,
) -> Result<Energy, MechanicsError> {
    let f = not_negative("the tension", tension.as_n(), "zero or more")?;
    let l = not_negative("the length", length.as_m(), "zero or more")?;
    let k = positive("the stiffness EA", ea.as_n(), "a force greater than zero")?;
    let u = Energy::from_j(f * f * l / (2.0 * k));
    rec.record(|| {
        Step::new("energy stored", "U", "U = F² L / (2 EA)", u.as_j(), Dimension::Energy, "statics")
            .input("F", f, Dimension::Force, Origin::Earlier)
            .input("L", l, Dimension::Length, Origin::Earlier)
            .input("EA", k, Dimension::Force, Origin::Earlier)
    });
    Ok(u)
}

/// What a loading curve gives at a tension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stored {
    /// The energy.
    pub energy: Energy,
    /// Stretch ÷ length without load.
    pub strain: f64,
}

/// Energy in a member by its loading curve: `U = L ∫ F dε` up to the tension, straight between the points.
///
/// `curve`: strain and force, both rising, from the first point after no load on; the curve begins at (0, 0).
///
/// # Source
/// `statics`: the area under the loading line, derived.
///
/// # Errors
/// If the points do not rise, or the tension lies above the last one: nothing is drawn on beyond it.
pub fn stored_by_curve(tension: Force, length: Length, curve: &[(f64, Force)]) -> Result<Stored, MechanicsError> {
    let f = not_negative("the tension", tension.as_n(), "zero or more")?;
    let l = not_negative("the length", length.as_m(), "zero or more")?;
    let (mut e0, mut f0, mut area) = (0.0, 0.0, 0.0);
    for &(e1, force) in curve {
        let f1 = force.as_n();
        if !(e1.is_finite() && f1.is_finite() && e1 > e0 && f1 > f0) {
            return Err(MechanicsError::BadInput {
                what: "a point of the loading curve",
                got: e1,
                expected: "strain and force that both rise from point to point",
            });
        }
        if f <= f1 {
            let e = e0 + (e1 - e0) * (f - f0) / (f1 - f0);
            let energy = Energy::from_j(l * (area + 0.5 * (f0 + f) * (e - e0)));
            return Ok(Stored { energy, strain: e });
        }
        area += 0.5 * (f0 + f1) * (e1 - e0);
        (e0, f0) = (e1, f1);
    }
    Err(MechanicsError::BadInput {
        what: "the tension",
        got: f,
        expected: "a force within the loading curve; nothing is known beyond its last point",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    fn n(v: f64) -> Force {
        Force::from_n(v)
    }

    #[test]
    fn closed_form_a_straight_curve_is_the_linear_formula() {
        let l = Length::from_m(9.0);
        let curve = [(0.01, n(1000.0)), (0.05, n(5000.0)), (0.2, n(20_000.0))];
        for f in [0.0, 500.0, 1000.0, 3333.0, 20_000.0] {
            let by_curve = stored_by_curve(n(f), l, &curve).unwrap();
            let linear = stored_energy(n(f), l, n(100_000.0), &mut Silent).unwrap();
            assert!((by_curve.energy - linear).abs().as_j() < 1e-9 * (1.0 + linear.as_j()));
            assert!((by_curve.strain - f / 100_000.0).abs() < 1e-15);
        }
    }

    #[test]
    fn closed_form_a_parabola_stores_a_third_of_the_rectangle() {
        // F = F1 (ε/ε1)²: U = L F1 ε1 / 3.
        let curve: Vec<(f64, Force)> =
            (1..=4000).map(|i| f64::from(i) / 4000.0).map(|x| (0.3 * x, n(60_000.0 * x * x))).collect();
        let u = stored_by_curve(n(60_000.0), Length::from_m(9.0), &curve).unwrap().energy.as_j();
        let exact = 9.0 * 60_000.0 * 0.3 / 3.0;
        assert!((u - exact).abs() < 1e-6 * exact, "{u} for {exact}");
    }

    #[test]
    fn closed_form_nothing_is_drawn_on_beyond_the_curve() {
        let l = Length::from_m(1.0);
        assert!(stored_by_curve(n(1001.0), l, &[(0.01, n(1000.0))]).is_err());
        assert!(stored_by_curve(n(1.0), l, &[]).is_err());
        assert!(stored_by_curve(n(1.0), l, &[(0.01, n(1000.0)), (0.01, n(2000.0))]).is_ok());
        assert!(stored_by_curve(n(1500.0), l, &[(0.01, n(1000.0)), (0.01, n(2000.0))]).is_err());
        assert!(stored_by_curve(n(f64::NAN), l, &[(0.01, n(1000.0))]).is_err());
        assert!(stored_energy(n(1.0), l, n(0.0), &mut Silent).is_err());
        assert!(stored_energy(n(-1.0), l, n(1.0), &mut Silent).is_err());
    }
}
