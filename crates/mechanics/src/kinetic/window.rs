//! The window of run-up: fast enough to free it even where the ground holds most, slow enough for the weakest part even where the
//! peak is highest. It may be empty; then it says why.

use super::closed::run_up_slack;
use super::outcome::{End, Outcome};
use super::range::{At, Corner, PullInputs, reckon, travel_corners, worst_peak};
use crate::error::{MechanicsError, between, positive};
use core::fmt;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Force, Length, Range, Speed};

/// What is asked of a run-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// Travel of the stuck vehicle that counts as freed.
    pub travel: Length,
    /// Greatest tension in the rope that the weakest part allows: see [`super::chain_limit`].
    pub limit: Force,
    /// Fastest closing speed that is looked at.
    pub fastest: Speed,
}

/// Speeds at which the rope may become taut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Slowest that is enough; zero: a steady pull does it.
    pub slowest: Speed,
    /// Fastest that is not too much.
    pub fastest: Speed,
    /// Whether the fastest is only the fastest that was looked at.
    pub capped: bool,
    /// Slack from rest that is enough to get the slowest speed, at full throttle on the least traction; none: never. Where it is more
    /// than what is allowed, the slack can't set the speed: the driver has to hold it.
    pub slack_needed: Option<Length>,
    /// Slack from rest within which full throttle on the most traction does not get beyond the fastest speed; none: no bound.
    pub slack_allowed: Option<Length>,
    /// Peak at the slowest speed, high end.
    pub peak_at_slowest: Force,
    /// Peak at the fastest speed, high end.
    pub peak_at_fastest: Force,
}

/// Why there is no window.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum NoWindow {
    /// The weakest part allows less than what it takes to break away at the high end: no run-up helps. Dig, or another way.
    LimitUnderResistance {
        /// What the weakest part allows.
        limit: Force,
        /// What it takes, weight along the slope included.
        resistance: Force,
    },
    /// Traction alone, from rest with the rope just taut, makes more than the weakest part allows.
    TractionTooMuch {
        /// The peak that it makes, high end.
        peak: Force,
        /// What the weakest part allows.
        limit: Force,
    },
    /// At the fastest speed that was looked at it is still not freed at the high end of what holds it. Dig first.
    NeverEnough {
        /// That speed.
        fastest: Speed,
        /// The travel that it gives there, low end.
        travel: Length,
        /// The travel that was asked.
        asked: Length,
    },
    /// What frees it at the high end of what holds it is already too much for the weakest part.
    TooMuchBeforeEnough {
        /// Slowest speed that is enough.
        enough: Speed,
        /// Fastest speed that is not too much.
        allowed: Speed,
        /// Peak at the speed that is enough, high end.
        peak: Force,
        /// What the weakest part allows.
        limit: Force,
    },
}
impl NoWindow {
    /// A stable code.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::LimitUnderResistance { .. } => "kinetic-limit-under-resistance",
            Self::TractionTooMuch { .. } => "kinetic-traction-too-much",
            Self::NeverEnough { .. } => "kinetic-never-enough",
            Self::TooMuchBeforeEnough { .. } => "kinetic-too-much-before-enough",
        }
    }
}
/// Loads up, strengths down, in tenths of a kilonewton.
fn kn(f: Force, up: bool) -> f64 {
    let tenths = f.as_kn() * 10.0;
    (if up { (tenths - 1e-9).ceil() } else { (tenths + 1e-9).floor() }) / 10.0
}
impl fmt::Display for NoWindow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LimitUnderResistance { limit, resistance } => write!(
                f,
                "it may take {:.1} kN to break away and the weakest part allows {:.1} kN: no run-up helps; lower the resistance first",
                kn(*resistance, true),
                kn(*limit, false)
            ),
            Self::TractionTooMuch { peak, limit } => write!(
                f,
                "traction alone may make {:.1} kN and the weakest part allows {:.1} kN",
                kn(*peak, true),
                kn(*limit, false)
            ),
            Self::NeverEnough { fastest, travel, asked } => write!(
                f,
                "even at {:.1} km/h it may move only {:.2} m of the {:.2} m asked: faster is not the answer; lower the resistance first",
                fastest.as_km_h(),
                (travel.as_m() * 100.0).floor() / 100.0,
                asked.as_m()
            ),
            Self::TooMuchBeforeEnough { enough, allowed, peak, limit } => write!(
                f,
                "it may take {:.1} km/h to free it, which may make {:.1} kN; the weakest part allows {:.1} kN, reached at {:.1} km/h",
                (enough.as_km_h() * 10.0).ceil() / 10.0,
                kn(*peak, true),
                kn(*limit, false),
                (allowed.as_km_h() * 10.0).floor() / 10.0
            ),
        }
    }
}

/// The answer about a window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindowAnswer {
    /// The window, or why there is none.
    pub window: Result<Window, NoWindow>,
    /// Pulls that were reckoned.
    pub runs: u32,
}

/// Speeds that are tried between the slowest and the fastest, besides the closing in.
const TRIALS: u32 = 24;
/// How closely a bound is found, m/s.
const CLOSE: f64 = 0.005;

/// A search under way.
struct Search<'a> {
    inputs: &'a PullInputs,
    asked: &'a Asked,
    runs: u32,
}
impl Search<'_> {
    /// The inputs with the rope becoming taut at exactly this speed.
    fn closing(&self, v: f64) -> PullInputs {
        at_closing(self.inputs, Speed::from_m_s(v))
    }
    /// The high end of the peak.
    fn peak(&mut self, v: f64) -> Result<Force, MechanicsError> {
        let (o, _, runs) = worst_peak(&self.closing(v))?;
        self.runs += runs;
        Ok(o.peak)
    }
    /// The low end of the travel, or the first that is too short.
    fn travel(&mut self, v: f64) -> Result<Length, MechanicsError> {
        let inputs = self.closing(v);
        let mut least: Option<Length> = None;
        for c in travel_corners(&inputs, false) {
            let t = freed(&reckon(&inputs.at(&c))?);
            self.runs += 1;
            least = Some(least.map_or(t, |l| l.min(t)));
            if t < self.asked.travel {
                break;
            }
        }
        Ok(least.unwrap_or(Length::ZERO))
    }
    fn enough(&mut self, v: f64) -> Result<bool, MechanicsError> {
        Ok(self.travel(v)? >= self.asked.travel)
    }
}

/// Travel that counts: none where it would roll back.
fn freed(o: &Outcome) -> Length {
    if o.rolls_back || o.end == End::NeverTaut { Length::ZERO } else { o.travel }
}

fn at_closing(inputs: &PullInputs, v: Speed) -> PullInputs {
    let mut at = *inputs;
    at.speed = Range::hull(v, v, v);
    at.slack = Range::hull(Length::ZERO, Length::ZERO, Length::ZERO);
    at
}

/// The window of closing speeds: not under the slowest speed from which on every speed that was tried frees it at the high end of what
/// holds it (drive and brakes at their low end, the worst of both masses, rope and loss), not over the fastest at which the high
/// end of the peak stays within what the weakest part allows. `speed` and `slack` of the inputs are not looked at.
///
/// Too much is found by closing in: the peak never falls with speed. Enough is tried at 24 speeds and closed in from there: travel can
/// fall with speed in rare pulls, so the bound is the slowest after which none of the tried ones fails.
///
/// # Source
/// `dynamics`; derived. As [`super::kinetic_range`].
///
/// # Errors
/// If an input is not in order. That there is no window is an answer and no error.
pub fn run_up_window(
    inputs: &PullInputs,
    asked: &Asked,
    rec: &mut impl Recorder,
) -> Result<WindowAnswer, MechanicsError> {
    let travel =
        positive("the travel that counts as freed", asked.travel.as_m(), "greater than zero, for example 1 m")?;
    positive("what the weakest part allows", asked.limit.as_n(), "greater than zero, for example 40 kN")?;
    let cap = between("the fastest speed", asked.fastest.as_m_s(), 0.1, 15.0, "0.1 to 15 m/s, for example 20 km/h")?;
    if let Some(l) = inputs.travel_limit
        && l.as_m() < travel
    {
        return Err(MechanicsError::BadInput {
            what: "the travel at which the driver lifts off",
            got: l.as_m(),
            expected: "not less than the travel that counts as freed",
        });
    }
    at_closing(inputs, asked.fastest).checked()?;
    let mut s = Search { inputs, asked, runs: 0 };
    let window = search(&mut s, cap)?;
    let runs = s.runs;
    rec.record(|| step(inputs, asked, &window, runs));
    Ok(WindowAnswer { window, runs })
}

fn search(s: &mut Search, cap: f64) -> Result<Result<Window, NoWindow>, MechanicsError> {
    let limit = s.asked.limit;
    let worst = s.inputs.at(&Corner::HARSH).checked()?;
    let resistance = Force::from_n(worst.rb + worst.g2);
    if !(resistance <= limit) {
        return Ok(Err(NoWindow::LimitUnderResistance { limit, resistance }));
    }
    // The fastest that is not too much.
    let at_rest = s.peak(0.0)?;
    if at_rest > limit {
        return Ok(Err(NoWindow::TractionTooMuch { peak: at_rest, limit }));
    }
    let at_cap = s.peak(cap)?;
    let (mut fastest, mut peak_at_fastest) = (cap, at_cap);
    let capped = at_cap <= limit;
    if !capped {
        (fastest, peak_at_fastest) = (0.0, at_rest);
        let mut over = cap;
        while over - fastest > CLOSE {
            let mid = 0.5 * (fastest + over);
            let peak = s.peak(mid)?;
            if peak <= limit { (fastest, peak_at_fastest) = (mid, peak) } else { over = mid }
        }
    }
    // The slowest that is enough, looked for from the fastest downwards.
    let mut slowest = None;
    for i in 0..=TRIALS {
        let v = fastest * (1.0 - f64::from(i) / f64::from(TRIALS));
        if !s.enough(v)? {
            break;
        }
        slowest = Some((v, i == TRIALS));
    }
    let Some((mut slowest, from_rest)) = slowest else {
        return beyond(s, cap, fastest, capped).map(Err);
    };
    if !from_rest {
        let mut short = slowest - fastest / f64::from(TRIALS);
        while slowest - short > CLOSE {
            let mid = 0.5 * (slowest + short);
            if s.enough(mid)? { slowest = mid } else { short = mid }
        }
    }
    let (slow, fast) = (Speed::from_m_s(slowest), Speed::from_m_s(fastest));
    let (lean, rich) = (s.inputs.at(&Corner::GENTLE).checked()?, s.inputs.at(&Corner::HARSH).checked()?);
    let (heavy, light) = (s.inputs.puller_mass.high(), s.inputs.puller_mass.low());
    // Uphill the weight takes off the traction: of the heavier puller more.
    let least_drive = Force::from_n(lean.traction - heavy.weight().as_n() * s.inputs.puller_slope.sin());
    let most_drive = Force::from_n(rich.traction - light.weight().as_n() * s.inputs.puller_slope.sin());
    let slack_needed = match slow == Speed::ZERO {
        true => Some(Length::ZERO),
        false => run_up_slack(slow, least_drive, heavy).ok(),
    };
    Ok(Ok(Window {
        slowest: slow,
        fastest: fast,
        capped,
        slack_needed,
        slack_allowed: run_up_slack(fast, most_drive, light).ok(),
        peak_at_slowest: s.peak(slowest)?,
        peak_at_fastest,
    }))
}

/// Not enough at the fastest that is allowed: is any speed enough?
fn beyond(s: &mut Search, cap: f64, fastest: f64, capped: bool) -> Result<NoWindow, MechanicsError> {
    let never = |travel: Length, s: &Search| NoWindow::NeverEnough {
        fastest: Speed::from_m_s(cap),
        travel,
        asked: s.asked.travel,
    };
    let at_cap = s.travel(cap)?;
    if capped || at_cap < s.asked.travel {
        return Ok(never(at_cap, s));
    }
    let (mut short, mut enough) = (fastest, cap);
    while enough - short > CLOSE {
        let mid = 0.5 * (short + enough);
        if s.enough(mid)? { enough = mid } else { short = mid }
    }
    Ok(NoWindow::TooMuchBeforeEnough {
        enough: Speed::from_m_s(enough),
        allowed: Speed::from_m_s(fastest),
        peak: s.peak(enough)?,
        limit: s.asked.limit,
    })
}

fn step(inputs: &PullInputs, asked: &Asked, window: &Result<Window, NoWindow>, runs: u32) -> Step {
    let said = match window {
        Ok(w) => {
            let mid = Speed::from_m_s(0.5 * (w.slowest.as_m_s() + w.fastest.as_m_s()));
            let r = Range::hull(w.slowest, mid, w.fastest);
            let s = Step::range(
                "speeds between too little and too much",
                "v",
                "travel(v) ≥ s and F(v) ≤ F_max",
                &r,
                "dynamics",
            );
            if w.capped { s.note("its fast end is only the fastest speed that was looked at") } else { s }
        }
        Err(why) => Step::new(
            "speeds between too little and too much: none",
            "v",
            "travel(v) ≥ s and F(v) ≤ F_max",
            0.0,
            Dimension::Speed,
            "dynamics",
        )
        .note(why.to_string()),
    };
    said.input("s", asked.travel.as_m(), Dimension::Length, Origin::Earlier)
        .input("F_max", asked.limit.as_n(), Dimension::Force, Origin::Earlier)
        .input_range("R at break-away", &inputs.resistance.breakaway, Origin::Earlier)
        .note(format!("{runs} pulls were reckoned"))
}

/// Peak and travel at one closing speed, as ranges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedPoint {
    /// Speed at which the rope becomes taut.
    pub speed: Speed,
    /// Peak.
    pub peak: Range<Force>,
    /// Travel of the stuck vehicle, over every corner; nothing where it would roll back.
    pub travel: Range<Length>,
    /// Pulls that were reckoned.
    pub runs: u32,
}

/// Peak and travel at one closing speed, `speed` and `slack` of the inputs not looked at: a point of the curves over speed, which may be
/// reckoned one by one or side by side.
///
/// # Source
/// `dynamics`; derived. As [`super::kinetic_range`].
///
/// # Errors
/// If an input is not in order.
pub fn at_speed(inputs: &PullInputs, speed: Speed) -> Result<SpeedPoint, MechanicsError> {
    let inputs = at_closing(inputs, speed);
    inputs.checked()?;
    let likely = reckon(&inputs.at(&Corner::all(At::Likely)))?;
    let low = reckon(&inputs.at(&Corner::GENTLE))?;
    let low_heavy = reckon(&inputs.at(&Corner { puller: At::High, ..Corner::GENTLE }))?;
    let (high, _, tried) = worst_peak(&inputs)?;
    let (mut least, mut most, mut runs) = (freed(&likely), freed(&likely), 3 + tried);
    for c in travel_corners(&inputs, true) {
        let t = freed(&reckon(&inputs.at(&c))?);
        runs += 1;
        least = least.min(t);
        most = most.max(t);
    }
    Ok(SpeedPoint {
        speed,
        peak: Range::hull(low.peak.min(low_heavy.peak), likely.peak, high.peak),
        travel: Range::hull(least, freed(&likely), most),
        runs,
    })
}
