//! Kinetic pulls: a moving vehicle stretches a rope that is tied to a stuck one.
//!
//! Two masses on one line, a rope that only pulls, mire that holds and lets go. The motion is reckoned in time with the
//! embedded Runge-Kutta pair of Dormand and Prince; where something changes (the stuck vehicle breaks away or sticks, the puller is
//! stopped, the rope turns round, goes slack or parts) the moment is found and the reckoning goes on from there with the laws that hold
//! then. Every outcome carries its energy balance.
//!
//! | file | answers |
//! |---|---|
//! | `law` | what a rope answers to being stretched |
//! | `problem`, `outcome` | a bare pull, and what comes out of it |
//! | `closed` | closed forms |
//! | `gear` | which gear may be used, and what is known of it, as a range |
//! | `range`, `window` | the pull with its inputs as ranges; the run-up between too little and too much |
//! | `chain` | the force at every part |
//! | `practice` | rules of thumb beside it |
//!
//! ```
//! use unmire_mechanics::kinetic::{KineticRope, Problem, Resistance, kinetic_pull, peak_linear};
//! use unmire_model::{Force, Length, Mass, Silent, Speed};
//! let (m1, m2, v) = (Mass::from_kg(2500.0), Mass::from_kg(2800.0), Speed::from_km_h(10.0));
//! let rope = KineticRope::linear(Length::from_m(9.0), 48_148.148);
//! let mire = Force::from_kn(15.0);
//! let out = kinetic_pull(&Problem::plain(m1, v, m2, Resistance::Constant(mire), rope), &mut Silent)?;
//! let (exact, moves) = peak_linear(m1, m2, v, 48_148.148, Force::ZERO, mire)?;
//! assert!(moves && (out.peak / exact - 1.0).abs() < 1e-8);
//! assert!((out.travel.as_m() - 0.643).abs() < 1e-3);
//! # Ok::<(), unmire_mechanics::MechanicsError>(())
//! ```

// Comparisons are written so that not-a-number falls on the side of 'not good enough'.
#![allow(clippy::neg_cmp_op_on_partial_ord)]

mod chain;
mod closed;
mod curve;
mod gear;
mod law;
mod outcome;
mod practice;
mod problem;
mod range;
mod run;
mod stepper;
mod system;
mod window;

pub use chain::{ChainLimit, ChainPart, Loaded, PartPeak, chain_limit, chain_peaks, part_share};
pub use closed::{
    impact_force, impact_stiffness, peak_fixed, peak_fixed_linear, peak_linear, run_up_slack, run_up_speed,
    speed_for_cap, strength_used,
};
pub use gear::{
    RopeRange, STATIC_UNDER, Unfit, fit_as_winch_extension, fit_for_kinetic, rope_by_key, rope_of_piece, rope_range,
};
pub use law::{KineticRope, Law, MOST_POINTS, Points, Unloading};
pub use outcome::{End, Energies, Event, History, Outcome, Sample};
pub use practice::{Practice, PractisedPull, practices};
pub use problem::{Problem, Puller, Resistance, Stuck, TIME_LIMIT};
pub use range::{PullInputs, PullRange, ResistanceRange, kinetic_range, peak_rises_with_puller};
pub use run::Fineness;
pub use unmire_model::kinetic::RopeState;
pub use window::{Asked, NoWindow, SpeedPoint, Window, WindowAnswer, at_speed, run_up_window};

use crate::error::{MechanicsError, between};
use unmire_model::Recorder;
use unmire_model::trail::{Dimension, Origin, Step};

/// One kinetic pull.
///
/// # Source
/// `dynamics`: `m₁ x₁″ = P − G₁ − T`, `m₂ x₂″ = T − G₂ − R`; derived. Steps in time: `dormand-prince-1980`; held against
/// `scipy-ivp` and `ode-solvers`.
///
/// # Errors
/// If an input is not in order.
///
/// # Assumes
/// As [`Problem`].
pub fn kinetic_pull(problem: &Problem, rec: &mut impl Recorder) -> Result<Outcome, MechanicsError> {
    kinetic_pull_with(problem, Fineness::default(), rec)
}

/// One kinetic pull with its fineness chosen: to show that nothing hangs on it.
///
/// # Source
/// `dynamics`, `dormand-prince-1980`; as [`kinetic_pull`].
///
/// # Errors
/// If an input or the fineness is not in order.
pub fn kinetic_pull_with(
    problem: &Problem,
    fine: Fineness,
    rec: &mut impl Recorder,
) -> Result<Outcome, MechanicsError> {
    between("the error allowed a step", fine.tolerance, 1e-13, 1e-3, "1e-13 to 1e-3")?;
    between("the longest step", fine.longest.as_s(), 1e-5, 1.0, "0.01 ms to 1 s")?;
    let o = run::run(&problem.checked()?, fine, &mut run::Nobody)?;
    rec.record(|| step(problem, &o));
    Ok(o)
}

/// One kinetic pull with a sample at every step in time and at every event.
///
/// # Source
/// `dynamics`, `dormand-prince-1980`; as [`kinetic_pull`], whose bits it gives.
///
/// # Errors
/// If an input is not in order.
pub fn kinetic_history(problem: &Problem, rec: &mut impl Recorder) -> Result<History, MechanicsError> {
    let mut samples = Vec::new();
    let outcome = run::run(&problem.checked()?, Fineness::default(), &mut samples)?;
    rec.record(|| step(problem, &outcome));
    Ok(History { outcome, samples })
}

fn step(p: &Problem, o: &Outcome) -> Step {
    let r = match p.stuck.resistance {
        Resistance::Constant(r) => r.as_n(),
        Resistance::Decaying { breakaway, .. } => breakaway.as_n(),
        Resistance::Fixed => f64::INFINITY,
    };
    let s = Step::new(
        "greatest tension of the kinetic pull",
        "F",
        "m₁ x₁″ = P − G₁ − T(x₁ − x₂), m₂ x₂″ = T − G₂ − R, reckoned in time",
        o.peak.as_n(),
        Dimension::Force,
        "dynamics",
    )
    .input("m₁", p.puller.mass.as_kg(), Dimension::Mass, Origin::Earlier)
    .input("m₂", p.stuck.mass.as_kg(), Dimension::Mass, Origin::Earlier)
    .input("v", o.closing_speed.as_m_s(), Dimension::Speed, Origin::Earlier)
    .input("P", p.puller.traction.as_n(), Dimension::Force, Origin::Earlier)
    .input("L", p.rope.length.as_m(), Dimension::Length, Origin::Earlier)
    .note("no loss in the rope is taken off the first peak");
    if r.is_finite() {
        s.input("R", r, Dimension::Force, Origin::Earlier)
    } else {
        s.note("the stuck vehicle is taken not to move")
    }
}
