//! A kinetic pull whose inputs are ranges: which corner gives the low and the high end, and why.

use super::gear::RopeRange;
use super::outcome::{End, Outcome};
use super::problem::{Problem, Puller, Resistance, Stuck};
use super::run::{Fineness, Nobody, run};
use crate::error::MechanicsError;
use crate::standing::Warning;
use unmire_model::range::Scalar;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Energy, Force, Length, Mass, Range, Speed, Time};

/// What holds the stuck vehicle, as ranges. The weight along the slope is not part of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ResistanceRange {
    /// To break away.
    pub breakaway: Range<Force>,
    /// Once it is far from there; with `over` none it is not looked at.
    pub moving: Range<Force>,
    /// Distance over which it lets go; none: it stays as at break-away.
    pub over: Option<Length>,
}
impl ResistanceRange {
    /// The same all the way.
    ///
    /// # Source
    /// None: a constructor.
    #[must_use]
    pub fn constant(r: Range<Force>) -> Self {
        Self { breakaway: r, moving: r, over: None }
    }
}

/// A kinetic pull with its inputs as ranges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullInputs {
    /// All of the puller that moves.
    pub puller_mass: Range<Mass>,
    /// All of the stuck vehicle that moves.
    pub stuck_mass: Range<Mass>,
    /// The puller's speed at the start of the slack.
    pub speed: Range<Speed>,
    /// Slack that it drives through.
    pub slack: Range<Length>,
    /// What its tyres give along the line, less its own rolling resistance, while it drives.
    pub traction: Range<Force>,
    /// Rise of its ground in the direction of the pull.
    pub puller_slope: Angle,
    /// What its brakes hold once it has been stopped; none: taken as a rock, and said so.
    pub holds: Option<Range<Force>>,
    /// What holds the stuck vehicle.
    pub resistance: ResistanceRange,
    /// Rise of the stuck vehicle's ground in the direction of the pull.
    pub stuck_slope: Range<Angle>,
    /// The rope.
    pub rope: RopeRange,
    /// Travel at which the driver lifts off.
    pub travel_limit: Option<Length>,
    /// Time after which the reckoning ends.
    pub time_limit: Time,
}

/// An end of a range, or its likely value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum At {
    Low,
    Likely,
    High,
}
impl At {
    fn of<Q: Scalar>(self, r: &Range<Q>) -> Q {
        match self {
            Self::Low => r.low(),
            Self::Likely => r.likely(),
            Self::High => r.high(),
        }
    }
    const fn other(self) -> Self {
        match self {
            Self::Low => Self::High,
            Self::Likely => Self::Likely,
            Self::High => Self::Low,
        }
    }
    const fn high_if(high: bool) -> Self {
        if high { Self::High } else { Self::Low }
    }
}

/// One choice among the inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Corner {
    pub puller: At,
    pub stuck: At,
    /// Speed, slack and traction.
    pub drive: At,
    pub holds: At,
    /// Resistance and slope of the stuck vehicle.
    pub resists: At,
    /// Stiffness and shortness of the rope.
    pub stiff: At,
    /// Loss in the rope.
    pub loses: At,
}
impl Corner {
    /// All that raises the peak.
    pub(super) const HARSH: Self = Self { loses: At::Low, ..Self::all(At::High) };
    /// All that lowers it.
    pub(super) const GENTLE: Self = Self { loses: At::High, ..Self::all(At::Low) };
    pub(super) const fn all(at: At) -> Self {
        Self { puller: at, stuck: at, drive: at, holds: at, resists: at, stiff: at, loses: at }
    }
}

impl PullInputs {
    /// The problem at a corner.
    pub(super) fn at(&self, c: &Corner) -> Problem {
        let r = &self.resistance;
        let (breakaway, moving) = (c.resists.of(&r.breakaway), c.resists.of(&r.moving));
        let (mass, traction) = (c.puller.of(&self.puller_mass), c.drive.of(&self.traction));
        // Slack gathers speed, but where the slope takes more than the traction gives.
        let gathers = traction >= mass.weight() * self.puller_slope.sin();
        let slack = if gathers { c.drive } else { c.drive.other() }.of(&self.slack);
        Problem {
            puller: Puller {
                mass,
                speed: c.drive.of(&self.speed),
                traction,
                slope: self.puller_slope,
                holds: self.holds.map(|h| c.holds.of(&h)),
            },
            stuck: Stuck {
                mass: c.stuck.of(&self.stuck_mass),
                resistance: match r.over {
                    None => Resistance::Constant(breakaway),
                    Some(over) => Resistance::Decaying { breakaway, moving, over },
                },
                slope: c.resists.of(&self.stuck_slope),
            },
            rope: self.rope.at(c.stiff, c.loses),
            slack,
            travel_limit: self.travel_limit,
            time_limit: self.time_limit,
        }
    }
    pub(super) fn checked(&self) -> Result<(), MechanicsError> {
        self.rope.checked()?;
        for c in [Corner::GENTLE, Corner::HARSH, Corner::all(At::Likely)] {
            self.at(&c).checked()?;
        }
        Ok(())
    }
}

/// Whether the peak of this pull can't fall when its puller gets heavier, all else the same: the traction is no more than the least
/// resistance, and the work that it does before the stuck vehicle breaks away is not more than the rope takes up plus what the
/// stuck vehicle would have at the starting speed: `P (e_R + s) − W(e_R) ≤ ½ m₂ v₀²`, e_R the stretch at break-away, s the slack.
///
/// With more traction than that a heavier puller is slower once it gets there, and the peak can fall by some per cent: so it does in
/// a pull that is nearly steady.
///
/// # Source
/// `dynamics`: the derivative of the energy balance by the puller's mass, for a constant resistance; derived. For one that lets go it
/// is held by random pulls in the tests.
///
/// # Errors
/// As [`super::kinetic_pull`].
pub fn peak_rises_with_puller(problem: &Problem) -> Result<bool, MechanicsError> {
    let s = problem.checked()?;
    if !s.rb.is_finite() {
        return Ok(true);
    }
    // Weight along the slopes counts with what drives and what resists.
    let breaks = s.rb + s.g2;
    let least = s.rm + s.g2;
    let Ok(e) = problem.rope.stretch_at(Force::from_n(breaks.max(0.0))) else { return Ok(false) };
    let e = e.as_m();
    let (taken, v) = (s.curve.energy(s.curve.piece_at(e), e), problem.puller.speed.as_m_s());
    // A slope pulls the more the heavier the puller is: no claim there.
    let level = s.g1 == 0.0;
    let surplus = s.drive * (e + problem.slack.as_m()) - taken;
    Ok(level && s.viscous == 0.0 && s.drive <= least && surplus <= 0.5 * s.m2 * v * v)
}

/// What a kinetic pull does, as ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct PullRange {
    /// Greatest tension.
    pub peak: Range<Force>,
    /// Greatest stretch of the rope.
    pub stretch: Range<Length>,
    /// Travel of the stuck vehicle, coasting included.
    pub travel: Range<Length>,
    /// The pull of the least peak.
    pub low: Outcome,
    /// The pull with everything likely.
    pub likely: Outcome,
    /// The pull of the greatest peak.
    pub high: Outcome,
    /// The problem of the greatest peak, for its history.
    pub high_problem: Problem,
    /// The problem with everything likely.
    pub likely_problem: Problem,
    /// Whether the stuck vehicle breaks away at every corner that was reckoned; none: at some.
    pub breaks_away: Option<bool>,
    /// High end of the peak ÷ what the rope bears at least; none: not judged.
    pub share_of_breaking: Option<f64>,
    /// Pulls that were reckoned.
    pub runs: u32,
    /// What must be told beside it.
    pub warnings: Vec<Warning>,
}

/// Puller masses that are tried where the peak may fall with it.
const TRIALS: u32 = 9;

/// The greatest peak over the puller's mass with all else at its worst, the problem that gives it, and how many pulls it took.
pub(super) fn worst_peak(inputs: &PullInputs) -> Result<(Outcome, Problem, u32), MechanicsError> {
    let (low, high) = (inputs.puller_mass.low(), inputs.puller_mass.high());
    let heavy = inputs.at(&Corner::HARSH);
    let mut best = (reckon(&heavy)?, heavy);
    let mut runs = 1;
    if low < high && !peak_rises_with_puller(&heavy)? {
        for i in 0..TRIALS - 1 {
            let mut p = heavy;
            p.puller.mass = low + (high - low) * (f64::from(i) / f64::from(TRIALS - 1));
            let o = reckon(&p)?;
            runs += 1;
            if o.peak > best.0.peak {
                best = (o, p);
            }
        }
    }
    Ok((best.0, best.1, runs))
}

/// The least peak over the puller's mass with all else at its gentlest: at one end of it or the other.
fn least_peak(inputs: &PullInputs) -> Result<(Outcome, u32), MechanicsError> {
    let light = reckon(&inputs.at(&Corner::GENTLE))?;
    if inputs.puller_mass.is_exact() {
        return Ok((light, 1));
    }
    let heavy = reckon(&inputs.at(&Corner { puller: At::High, ..Corner::GENTLE }))?;
    Ok((if heavy.peak < light.peak { heavy } else { light }, 2))
}

/// Every corner for the travel: both masses, rope and loss; with `all` the drive, the brakes and what resists too, which else stay at
/// the end that is hard on it.
pub(super) fn travel_corners(inputs: &PullInputs, all: bool) -> impl Iterator<Item = Corner> {
    let r = &inputs.resistance;
    let drives = !(inputs.speed.is_exact() && inputs.slack.is_exact() && inputs.traction.is_exact());
    let resists = !(r.breakaway.is_exact() && r.moving.is_exact() && inputs.stuck_slope.is_exact());
    // An input without width has one corner.
    let wide = [
        !inputs.puller_mass.is_exact(),
        !inputs.stuck_mass.is_exact(),
        inputs.rope.soft != inputs.rope.stiff || !inputs.rope.length.is_exact(),
        inputs.rope.least_loss != inputs.rope.most_loss,
        all && drives,
        all && inputs.holds.is_some_and(|h| !h.is_exact()),
        all && resists,
    ];
    let mask = wide.iter().zip(0..).fold(0_u32, |m, (w, k)| if *w { m | (1 << k) } else { m });
    (0..=mask).filter(move |i| i & !mask == 0).map(move |i| {
        let high = |k: u32| At::high_if(i & (1 << k) != 0);
        Corner {
            puller: high(0),
            stuck: high(1),
            stiff: high(2),
            loses: if wide[3] { high(3) } else { At::High },
            drive: high(4),
            holds: high(5),
            resists: if wide[6] { high(6) } else { At::High },
        }
    })
}

/// One pull at the usual fineness.
pub(super) fn reckon(p: &Problem) -> Result<Outcome, MechanicsError> {
    run(&p.checked()?, Fineness::default(), &mut Nobody)
}

/// A kinetic pull with its inputs as ranges.
///
/// Peak: its high end is the pull with speed, slack, traction, resistance, slope and stuck mass at their high ends on the shortest and
/// stiffest rope without loss; the low end the other way round. That the peak never falls with any of these is held by property
/// tests (stiffer: the same forces at smaller strains). With the puller's mass it can fall, see [`peak_rises_with_puller`]: there nine masses
/// are tried for the high end, both ends for the low one. Stretch: the high end is that of the softest and longest rope with all else
/// as for the high peak.
///
/// Travel follows no such order (stiffness, masses): its ends are the least and greatest over all corners and the likely pull. A point inside
/// the box can lie outside them by a little; see the tests.
///
/// # Source
/// `dynamics`; derived. The rope's laws have their own.
///
/// # Errors
/// If an input is not in order.
///
/// # Assumes
/// As [`Problem`]. The rope does not part here: `share_of_breaking` compares.
pub fn kinetic_range(inputs: &PullInputs, rec: &mut impl Recorder) -> Result<PullRange, MechanicsError> {
    inputs.checked()?;
    let likely_problem = inputs.at(&Corner::all(At::Likely));
    let likely = reckon(&likely_problem)?;
    let (high, high_problem, tried) = worst_peak(inputs)?;
    let (low, two) = least_peak(inputs)?;
    let mut long = high_problem;
    long.rope = inputs.rope.at(At::Low, At::Low);
    let short = Corner { stiff: At::High, ..Corner::GENTLE };
    let stretches = [
        reckon(&inputs.at(&short))?.stretch.min(low.stretch),
        likely.stretch,
        reckon(&long)?.stretch.max(high.stretch),
    ];
    let mut runs = 3 + tried + two;
    let (mut least, mut most) = (likely.travel, likely.travel);
    let (mut all, mut any) = (true, false);
    let (mut beyond, mut rolls_on, mut rolls_back, mut moving) = (high.beyond_law, false, false, false);
    let again = |o: &Outcome| o.end == End::Slack && o.puller_speed_at_end > Speed::ZERO;
    let mut pulls_on = again(&high) || again(&likely);
    for c in travel_corners(inputs, true) {
        let o = reckon(&inputs.at(&c))?;
        runs += 1;
        least = least.min(o.travel);
        most = most.max(o.travel);
        all &= o.broke_away_at.is_some();
        any |= o.broke_away_at.is_some();
        beyond |= o.beyond_law;
        pulls_on |= again(&o);
        rolls_on |= o.coast.is_none() && o.end != End::StillMoving;
        rolls_back |= o.rolls_back;
        moving |= o.end == End::StillMoving;
    }
    let peak = Range::hull(low.peak, likely.peak, high.peak);
    let share = inputs.rope.breaking.map(|b| high.peak / b);
    let found = Found {
        share,
        beyond,
        rolls_on,
        rolls_back,
        moving,
        pulls_on,
        rock: inputs.holds.is_none(),
        assumed: inputs.rope.assumed,
        tried: tried > 1,
    };
    explain(inputs, &peak, &high, &found, rec);
    Ok(PullRange {
        peak,
        stretch: Range::hull(stretches[0], stretches[1], stretches[2]),
        travel: Range::hull(least, likely.travel, most),
        low,
        likely,
        high,
        high_problem,
        likely_problem,
        breaks_away: (all || !any).then_some(all),
        share_of_breaking: share,
        runs,
        warnings: found.warnings(),
    })
}

/// What the runs showed that must be told.
struct Found {
    share: Option<f64>,
    beyond: bool,
    rolls_on: bool,
    rolls_back: bool,
    moving: bool,
    pulls_on: bool,
    rock: bool,
    assumed: bool,
    tried: bool,
}
impl Found {
    fn warnings(&self) -> Vec<Warning> {
        let mut out = Vec::new();
        let mut say = |on: bool, code, text: &str| {
            if on {
                out.push(Warning::new(code, text));
            }
        };
        say(
            self.share.is_some_and(|s| !(s < 1.0)),
            "kinetic-may-part",
            "at the high end the peak is not below the force at which the rope may part",
        );
        say(
            self.beyond,
            "kinetic-beyond-law",
            "the rope is stretched beyond what its loading law is made for; its last slope is drawn on",
        );
        say(
            self.rolls_on,
            "kinetic-rolls-on",
            "once free the vehicle does not stop by itself: somebody must be ready to brake it",
        );
        say(
            self.rolls_back,
            "kinetic-rolls-back",
            "come to rest it would roll back: somebody must be ready to hold it",
        );
        say(
            self.moving,
            "kinetic-still-moving",
            "after the time limit something was still moving: its travel is reckoned up to then",
        );
        say(
            self.pulls_on,
            "kinetic-snatch-again",
            "the puller still moves when the rope goes slack: who stays on the throttle snatches once more, and that is not in the peak",
        );
        say(
            self.rock,
            "kinetic-puller-like-a-rock",
            "what the stopped puller's brakes hold is not told: it is taken to stand like a rock, so the travel is on the long side",
        );
        say(
            self.assumed,
            "kinetic-law-assumed",
            "how this rope stretches was not measured: its law is our own judgement between published stiffnesses that differ tenfold",
        );
        out
    }
}

fn explain(inputs: &PullInputs, peak: &Range<Force>, high: &Outcome, found: &Found, rec: &mut impl Recorder) {
    rec.record(|| {
        let e = high.energy;
        let came = e.run_up + e.traction + e.weights;
        Step::new(
            "energy that came in, at the high end",
            "E",
            "E = ½ m₁ v² + P x₁ + weights",
            came.as_j(),
            Dimension::Energy,
            "dynamics",
        )
        .input("½ m₁ v²", e.run_up.as_j(), Dimension::Energy, Origin::Earlier)
        .input("P x₁", e.traction.as_j(), Dimension::Energy, Origin::Earlier)
        .input("weights", e.weights.as_j(), Dimension::Energy, Origin::Earlier)
        .note(if came > Energy::ZERO {
            format!("the reckoning in time leaves {:.0e} of it unaccounted", (e.unaccounted / came).abs())
        } else {
            "nothing comes in: the rope never becomes taut".to_owned()
        })
    });
    rec.record(|| {
        let holds = inputs.holds.unwrap_or_else(|| Range::hull(Force::ZERO, Force::ZERO, Force::ZERO));
        let s = Step::range(
            "greatest tension of the kinetic pull",
            "F",
            "two masses, rope T(e), traction P, resistance R; both motions reckoned in time",
            peak,
            "dynamics",
        )
        .input_range("m₁", &inputs.puller_mass, Origin::Earlier)
        .input_range("m₂", &inputs.stuck_mass, Origin::Earlier)
        .input_range("v₀", &inputs.speed, Origin::Earlier)
        .input_range("slack", &inputs.slack, Origin::Earlier)
        .input_range("P", &inputs.traction, Origin::Earlier)
        .input_range("R at break-away", &inputs.resistance.breakaway, Origin::Earlier)
        .input_range("L", &inputs.rope.length, Origin::Earlier)
        .input_range("brakes", &holds, Origin::Earlier)
        .note("high end: speed, slack, traction, resistance, slope and stuck mass high, rope short and stiff; low end the other way round")
        .note("no loss in the rope is taken off the first peak");
        if found.tried {
            s.note("the traction is more than the puller's mass could make up for: nine masses were tried for the high end")
        } else {
            s
        }
    });
}
