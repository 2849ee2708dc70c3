//! A bare problem: exactly the numbers that the file gives.

use super::{NoRunUp, said};
use unmire_mechanics::MechanicsError;
use unmire_mechanics::kinetic::{
    Asked, History, KineticRope, Law, Points, Problem, PullInputs, Puller, Resistance, ResistanceRange, RopeRange,
    Stuck, TIME_LIMIT, Unloading, Window, kinetic_history, kinetic_range, run_up_window,
};
use unmire_mechanics::standing::Warning;
use unmire_model::kinetic::{BareLaw, BarePull};
use unmire_model::range::Scalar;
use unmire_model::trail::Trail;
use unmire_model::{Energy, Range, Recorder, Silent};

/// What was asked about the run-up, and the answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Asking {
    /// The question.
    pub asked: Asked,
    /// The answer.
    pub window: Result<Window, NoRunUp>,
}

/// The answer to a bare problem.
#[derive(Clone, Debug, PartialEq)]
pub struct BareReport {
    /// Its title.
    pub title: String,
    /// As the mechanics take it.
    pub problem: Problem,
    /// What happens.
    pub history: History,
    /// Energy that the rope takes up at its greatest stretch.
    pub rope_energy: Energy,
    /// The window, where one was asked for.
    pub asking: Option<Asking>,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
    /// The words that come with every kinetic pull.
    pub words: Vec<String>,
    /// The working.
    pub trail: Trail,
}
impl BareReport {
    /// Exit status 0: no window was asked for, or there is one.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.asking.as_ref().is_none_or(|a| a.window.is_ok())
    }
}

/// Reckons a bare problem.
///
/// # Errors
/// If a number is not in order.
pub fn bare(problem: &BarePull, title: &str, explain: bool) -> Result<BareReport, MechanicsError> {
    let mut trail = Trail::default();
    let mut out = if explain { reckon(problem, &mut trail) } else { reckon(problem, &mut Silent) }?;
    out.title = problem.title.clone().unwrap_or_else(|| title.to_owned());
    out.trail = trail;
    Ok(out)
}

/// The problem as the mechanics take it.
pub(crate) fn problem_of(b: &BarePull) -> Result<Problem, MechanicsError> {
    let law = match &b.rope.law {
        BareLaw::Linear { strength, strain } => Law::Linear { ea: *strength * (1.0 / *strain) },
        BareLaw::Power { strength, strain, exponent } => {
            Law::Power { strength: *strength, strain: *strain, exponent: *exponent }
        }
        BareLaw::Polynomial { strength, strain, c } => Law::Polynomial { strength: *strength, strain: *strain, c: *c },
        BareLaw::Measured(points) => Law::Measured(Points::new(points)?),
    };
    Ok(Problem {
        puller: Puller {
            mass: b.puller.mass,
            speed: b.puller.speed,
            traction: b.puller.traction,
            slope: b.puller.slope,
            holds: b.puller.brakes,
        },
        stuck: Stuck { mass: b.stuck.mass, resistance: b.stuck.resistance, slope: b.stuck.slope },
        rope: KineticRope {
            length: b.rope.length,
            law,
            unloading: b.rope.unloading.map(|(residual, exponent)| Unloading { residual, exponent }),
            viscous: b.rope.viscous,
            breaking: b.rope.breaking,
        },
        slack: b.slack,
        travel_limit: b.travel_limit,
        time_limit: b.time_limit.unwrap_or(TIME_LIMIT),
    })
}

fn exact<Q: Scalar>(q: Q) -> Range<Q> {
    Range::hull(q, q, q)
}

/// The same as ranges without width; none for one that can't move.
fn inputs_of(p: &Problem) -> Option<PullInputs> {
    let (breakaway, moving, over) = match p.stuck.resistance {
        Resistance::Constant(r) => (r, r, None),
        Resistance::Decaying { breakaway, moving, over } => (breakaway, moving, Some(over)),
        Resistance::Fixed => return None,
    };
    Some(PullInputs {
        puller_mass: exact(p.puller.mass),
        stuck_mass: exact(p.stuck.mass),
        speed: exact(p.puller.speed),
        slack: exact(p.slack),
        traction: exact(p.puller.traction),
        puller_slope: p.puller.slope,
        holds: p.puller.holds.map(exact),
        resistance: ResistanceRange { breakaway: exact(breakaway), moving: exact(moving), over },
        stuck_slope: exact(p.stuck.slope),
        rope: RopeRange::exact(&p.rope),
        travel_limit: p.travel_limit,
        time_limit: p.time_limit,
    })
}

fn reckon(bare: &BarePull, rec: &mut impl Recorder) -> Result<BareReport, MechanicsError> {
    let problem = problem_of(bare)?;
    let history = kinetic_history(&problem, rec)?;
    let rope_energy = history.outcome.energy.rope_greatest;
    let inputs = inputs_of(&problem);
    let mut warnings = match &inputs {
        // The rope parts in the reckoning of a bare problem, and not in that of ranges: they are asked for what must be told alone.
        Some(i) => kinetic_range(i, rec)?.warnings,
        None => Vec::new(),
    };
    // Nobody forgot to say so: a bare problem without brakes means the rock.
    warnings.retain(|w| w.code != "kinetic-puller-like-a-rock");
    let asking = match &bare.asked {
        None => None,
        Some(a) => {
            let asked = Asked { travel: a.travel, limit: a.limit, fastest: a.fastest };
            let window = match &inputs {
                None => Err(NoRunUp::Fixed),
                Some(i) => run_up_window(i, &asked, rec)?.window.map_err(NoRunUp::None),
            };
            Some(Asking { asked, window })
        }
    };
    Ok(BareReport {
        title: String::new(),
        problem,
        history,
        rope_energy,
        asking,
        warnings,
        words: said::first(None),
        trail: Trail::default(),
    })
}
