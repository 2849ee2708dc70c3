//! Steps in time: the embedded Runge-Kutta pair of order 5(4) of Dormand and Prince.

use super::system::{Mode, State, System};

/// What a step gives.
pub(super) struct Stepped {
    /// State at its end.
    pub y: State,
    /// Rate there: the first stage of the next step.
    pub rate: State,
    /// Error estimate ÷ what is allowed; not over one: good.
    pub error: f64,
}

/// y + h Σ a k.
#[inline(always)]
fn ahead<const N: usize>(y: &State, h: f64, a: [f64; N], k: [&State; N]) -> State {
    let mut out = *y;
    for (c, o) in out.iter_mut().enumerate() {
        let mut sum = 0.0;
        for (a, k) in a.iter().zip(k) {
            sum += a * k[c];
        }
        *o += h * sum;
    }
    out
}

/// One step of h from y, whose rate is known. Coefficients: source key `dormand-prince-1980`.
#[inline]
pub(super) fn step(s: &System, m: &Mode, y: &State, k1: &State, h: f64, tolerance: f64) -> Stepped {
    let k2 = s.rate(m, &ahead(y, h, [1.0 / 5.0], [k1]));
    let k3 = s.rate(m, &ahead(y, h, [3.0 / 40.0, 9.0 / 40.0], [k1, &k2]));
    let k4 = s.rate(m, &ahead(y, h, [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0], [k1, &k2, &k3]));
    let a5 = [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0];
    let k5 = s.rate(m, &ahead(y, h, a5, [k1, &k2, &k3, &k4]));
    let a6 = [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0];
    let k6 = s.rate(m, &ahead(y, h, a6, [k1, &k2, &k3, &k4, &k5]));
    let a7 = [35.0 / 384.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0];
    let end = ahead(y, h, a7, [k1, &k3, &k4, &k5, &k6]);
    let k7 = s.rate(m, &end);
    // Fifth less fourth order.
    let e = [71.0 / 57600.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];
    let off = ahead(&[0.0; 5], h, e, [k1, &k3, &k4, &k5, &k6, &k7]);
    let mut worst = 0.0_f64;
    // Metres and metres a second count from a hundredth on, the energy of the viscous term from a joule.
    for (c, from) in [0.01, 0.01, 0.01, 0.01, 1.0].into_iter().enumerate() {
        let share = off[c].abs() / (tolerance * (from + y[c].abs().max(end[c].abs())));
        // Not-a-number counts as the worst.
        worst = if share > worst || share.is_nan() { share } else { worst };
    }
    Stepped { y: end, rate: k7, error: if worst.is_nan() { f64::INFINITY } else { worst } }
}
