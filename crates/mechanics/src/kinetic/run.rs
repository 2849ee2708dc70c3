//! One kinetic pull from taut to its end: steps in time, events found where they happen.

use super::outcome::{End, Energies, Event, Outcome, Sample};
use super::stepper::{Stepped, step};
use super::system::{Back, Front, Mode, State, System};
use crate::error::MechanicsError;
use unmire_model::{Energy, Force, Length, Speed, Time};

/// How finely the pull is reckoned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Error allowed a step, relative; 1e-12 to 1e-3.
    pub tolerance: f64,
    /// Longest step.
    pub longest: Time,
}
impl Default for Fineness {
    fn default() -> Self {
        Self { tolerance: 1e-9, longest: Time::from_s(0.02) }
    }
}

/// Most steps of one pull.
const MOST_STEPS: u32 = 200_000;
/// How closely an event is found, s.
const CLOSE: f64 = 1e-12;

/// Share of the greatest tension so far under which the rope must be for a pull to end by its travel: it is past its peak.
const PAST_PEAK: f64 = 0.99;

/// Kinds of events, in the order of the switches below.
const EVENTS: usize = 12;
const FRONT: usize = 0;
const BACK: usize = 1;
const ROLLS: usize = 2;
const TURN: usize = 3;
const SLACK: usize = 4;
const PARTS: usize = 5;
const CREST: usize = 6;
const LIMP: usize = 7;
const UP: usize = 8;
const DOWN: usize = 9;
const FAR: usize = 10;
const QUICKEST: usize = 11;

/// Switches: an event happens where its number rises above zero.
type Switches = [f64; EVENTS];
/// Which of them happened.
type Happened = [bool; EVENTS];

fn switches(s: &System, m: &Mode, y: &State) -> Switches {
    let mut g = [-1.0; EVENTS];
    let (e, rate) = (y[0] - y[2], y[1] - y[3]);
    let pull = s.pull(m, y);
    let t = if m.limp { 0.0 } else { pull };
    match m.front {
        Front::Driving => g[FRONT] = -y[1],
        Front::Held if s.hold.is_finite() => g[FRONT] = t + s.g1 - s.hold,
        Front::Held => {}
        Front::Dragged => g[FRONT] = y[1],
    }
    match m.back {
        Back::Stands if s.rb.is_finite() => {
            let r = s.resistance(y[2]);
            g[BACK] = t - s.g2 - r;
            g[ROLLS] = s.g2 - t - r;
        }
        Back::Stands => {}
        Back::Forward => {
            g[BACK] = -y[3];
            g[QUICKEST] = s.g2 + s.resistance(y[2]) - t;
        }
        Back::Backward => g[BACK] = y[3],
    }
    g[TURN] = if m.returning { e - m.em } else { -rate };
    g[SLACK] = if m.returning { m.er - e } else { -e };
    g[PARTS] = t - s.breaking;
    if s.viscous > 0.0 {
        g[CREST] = if m.limp { -1.0 } else { -s.tension_rate(m, y) };
        g[LIMP] = if m.limp { pull } else { -pull };
    }
    if !m.returning {
        let (low, high) = s.curve.span(m.piece);
        g[UP] = e - high;
        g[DOWN] = low - e;
    }
    if s.travel.is_finite() {
        g[FAR] = (y[2] - s.travel).min(PAST_PEAK * m.crest - t);
    }
    g
}

/// Which events happen between two sets of switches.
fn fired(before: &Switches, after: &Switches) -> Happened {
    let mut out = [false; EVENTS];
    for (slot, (b, a)) in out.iter_mut().zip(before.iter().zip(after)) {
        *slot = *b <= 0.0 && *a > 0.0;
    }
    out
}

/// How far beyond the nearest of some events a state is.
fn beyond(of: &Happened, at: &Switches) -> f64 {
    of.iter().zip(at).filter(|(on, _)| **on).fold(f64::NEG_INFINITY, |w, (_, a)| w.max(*a))
}

/// Somebody who looks on. The pull does not depend on who does.
pub(super) trait Watch {
    fn see(&mut self, sample: impl FnOnce() -> Sample);
}
/// Nobody.
pub(super) struct Nobody;
impl Watch for Nobody {
    #[inline(always)]
    fn see(&mut self, _: impl FnOnce() -> Sample) {}
}
impl Watch for Vec<Sample> {
    fn see(&mut self, sample: impl FnOnce() -> Sample) {
        self.push(sample());
    }
}

/// A pull under way.
struct Pull<'a> {
    s: &'a System,
    m: Mode,
    t: f64,
    y: State,
    peak: f64,
    peak_at: f64,
    stretch: f64,
    fastest: f64,
    broke: Option<f64>,
    stopped: Option<Sample>,
    /// Travel at the last switch of the stuck vehicle, and the work against its resistance up to there.
    leg: f64,
    resisted: f64,
    /// Way of the puller while it drove, and how far it was dragged.
    driven: f64,
    dragged: f64,
    last_stop: f64,
    steps: u32,
}

fn sample(s: &System, m: &Mode, t: f64, y: &State, event: Option<Event>) -> Sample {
    Sample {
        time: Time::from_s(t),
        tension: Force::from_n(s.tension(m, y).max(0.0)),
        stretch: Length::from_m(y[0] - y[2]),
        puller_travel: Length::from_m(y[0]),
        puller_speed: Speed::from_m_s(y[1]),
        stuck_travel: Length::from_m(y[2]),
        stuck_speed: Speed::from_m_s(y[3]),
        event,
    }
}

/// How much longer or shorter the next step may be: `0.9 / ⁴√error`. Roots are cheap and the same everywhere; a fifth root, as the order
/// of the pair has it, is not.
fn scale(error: f64) -> f64 {
    if error > 0.0 { 0.9 / error.sqrt().sqrt() } else { 4.0 }
}

/// One pull.
pub(super) fn run(s: &System, fine: Fineness, watch: &mut impl Watch) -> Result<Outcome, MechanicsError> {
    let moves = s.closing_squared > 0.0 || (s.closing_squared == 0.0 && s.drive > 0.0);
    if !moves {
        return Ok(never_taut());
    }
    let mut p = Pull {
        s,
        m: Mode {
            front: Front::Driving,
            back: Back::Stands,
            returning: false,
            em: 0.0,
            tm: 0.0,
            er: 0.0,
            limp: false,
            piece: 0,
            crest: 0.0,
        },
        t: 0.0,
        y: [0.0, s.closing_squared.sqrt(), 0.0, 0.0, 0.0],
        peak: 0.0,
        peak_at: 0.0,
        stretch: 0.0,
        fastest: 0.0,
        broke: None,
        stopped: None,
        leg: 0.0,
        resisted: 0.0,
        driven: 0.0,
        dragged: 0.0,
        last_stop: 0.0,
        steps: 0,
    };
    p.track();
    p.note(watch, Some(Event::Taut));
    // With a viscous term the rope pulls at once, and may break away or part at once.
    let mut end = p.resolve(&[true; EVENTS], watch);
    let mut rate = s.rate(&p.m, &p.y);
    let mut g = switches(s, &p.m, &p.y);
    let mut h = 1e-4_f64;
    while end.is_none() {
        let left = s.time - p.t;
        if left <= 1e-12 || p.steps >= MOST_STEPS {
            end = Some(End::StillMoving);
            break;
        }
        h = h.min(fine.longest.as_s()).min(left);
        p.steps += 1;
        let next = step(s, &p.m, &p.y, &rate, h, fine.tolerance);
        if !(next.error <= 1.0) && h > 1e-9 {
            h *= scale(next.error).clamp(0.1, 0.9);
            continue;
        }
        if next.y.iter().any(|v| !v.is_finite()) {
            return Err(MechanicsError::BadInput {
                what: "the motion",
                got: p.t,
                expected: "ordinary numbers all the way; the inputs are too extreme",
            });
        }
        let after = switches(s, &p.m, &next.y);
        let longer = scale(next.error).clamp(0.3, 4.0);
        let mut happened = fired(&g, &after);
        if happened.contains(&true) {
            let (dt, there) = p.find(&g, &rate, h, next, &mut happened, fine.tolerance);
            p.t += dt;
            p.y = there.y;
            p.track();
            end = p.resolve(&happened, watch);
            p.track();
            rate = s.rate(&p.m, &p.y);
            g = switches(s, &p.m, &p.y);
            h = (h * 0.5).max(1e-6);
        } else {
            p.t += h;
            p.y = next.y;
            rate = next.rate;
            let before = g;
            g = after;
            p.track();
            p.note(watch, None);
            h *= longer;
            let late = p.overdue(&before, &g);
            if late.contains(&true) {
                end = p.resolve(&late, watch);
                rate = s.rate(&p.m, &p.y);
                g = switches(s, &p.m, &p.y);
            }
        }
    }
    Ok(p.finish(end.unwrap_or(End::StillMoving)))
}

fn never_taut() -> Outcome {
    Outcome {
        closing_speed: Speed::ZERO,
        peak: Force::ZERO,
        peak_at: Time::ZERO,
        stretch: Length::ZERO,
        strain: 0.0,
        share_of_breaking: None,
        broke_away_at: None,
        puller_stopped: None,
        travel_in_line: Length::ZERO,
        coast: Some(Length::ZERO),
        travel: Length::ZERO,
        stuck_speed: Speed::ZERO,
        stuck_speed_at_end: Speed::ZERO,
        puller_speed_at_end: Speed::ZERO,
        tension_at_end: Force::ZERO,
        rolls_back: false,
        beyond_law: false,
        end: End::NeverTaut,
        ended_at: Time::ZERO,
        energy: Energies::default(),
        steps: 0,
    }
}

impl Pull<'_> {
    /// Where within a step the first event happens: the step up to just beyond it, and which events that are. Every trial is a
    /// step of its own from the same start, so the state has the accuracy of a step.
    fn find(
        &self,
        before: &Switches,
        rate: &State,
        h: f64,
        whole: Stepped,
        of: &mut Happened,
        tolerance: f64,
    ) -> (f64, Stepped) {
        let s = self.s;
        let (mut high, mut at_high) = (h, whole);
        for _ in 0..EVENTS {
            let mut low = 0.0;
            let mut g_low = beyond(of, before).min(0.0);
            let mut g_high = beyond(of, &switches(s, &self.m, &at_high.y));
            // Weights of the ends in false position: the Illinois rule halves that of an end which stays.
            let (mut w_low, mut w_high, mut last) = (1.0, 1.0, 0_i8);
            for _ in 0..100 {
                // How far beyond the event the far end is, by the straight line between the ends.
                let over = g_high * (high - low) / (g_high - g_low);
                if over <= CLOSE || high - low <= CLOSE {
                    break;
                }
                let (a, b) = (w_low * g_low, w_high * g_high);
                // Aimed a hair beyond the event, so that the bracket closes from both sides; halved where that is no help.
                let mut x = if g_low == 0.0 { low + CLOSE } else { high - b * (high - low) / (b - a) + 0.25 * CLOSE };
                if !(x > low && x < high) {
                    x = 0.5 * (low + high);
                }
                let trial = step(s, &self.m, &self.y, rate, x, tolerance);
                let g = beyond(of, &switches(s, &self.m, &trial.y));
                if g > 0.0 {
                    (high, g_high, at_high) = (x, g, trial);
                    (w_low, w_high) = (if last == 1 { 0.5 * w_low } else { w_low }, 1.0);
                    last = 1;
                } else {
                    (low, g_low) = (x, g);
                    (w_low, w_high) = (1.0, if last == -1 { 0.5 * w_high } else { w_high });
                    last = -1;
                }
            }
            // An event that came and went within the step comes first.
            let there = fired(before, &switches(s, &self.m, &at_high.y));
            let more = there.iter().zip(of.iter()).any(|(t, o)| *t && !*o);
            *of = there;
            if !more {
                break;
            }
        }
        (high, at_high)
    }

    /// Events that are due though no switch rose through zero: those that stood beyond it from the start and go further.
    fn overdue(&self, before: &Switches, now: &Switches) -> Happened {
        let mut out = [false; EVENTS];
        let lossy = self.s.loss.is_some();
        for i in [FRONT, BACK, ROLLS, TURN] {
            out[i] = before[i] > 0.0 && now[i] > before[i] && (i != TURN || lossy);
        }
        out
    }

    /// Switches what the events ask for, in one order; gives the end if it is one.
    fn resolve(&mut self, happened: &Happened, watch: &mut impl Watch) -> Option<End> {
        let s = self.s;
        let on = |i: usize| happened[i];
        let (e, closing) = (self.y[0] - self.y[2], self.y[1] - self.y[3]);
        if on(LIMP) && s.viscous > 0.0 {
            self.m.limp = s.pull(&self.m, &self.y) < 0.0;
        }
        if !self.m.returning && (on(UP) || on(DOWN)) {
            let (low, high) = s.curve.span(self.m.piece);
            if e >= high {
                self.m.piece += 1;
            } else if e < low {
                self.m.piece = self.m.piece.saturating_sub(1);
            }
        }
        if on(TURN) && !self.m.returning && closing < 0.0 && e > 0.0 {
            if let Some((r, _)) = s.loss {
                self.m.em = e;
                self.m.tm = s.curve.force(self.m.piece, e);
                self.m.er = r * e;
                self.m.returning = true;
            }
            self.note(watch, Some(Event::GreatestStretch));
        } else if on(TURN) && self.m.returning && e > self.m.em && closing > 0.0 {
            self.m.returning = false;
            self.m.piece = s.curve.piece_at(e);
            self.note(watch, Some(Event::BeyondFormer));
        }
        let t = s.tension(&self.m, &self.y);
        if on(FRONT) {
            self.front(t, watch);
        }
        if (on(BACK) || on(ROLLS)) && s.rb.is_finite() {
            self.back(t, watch);
        }
        if on(PARTS) && t >= s.breaking {
            self.note(watch, Some(Event::Parts));
            return Some(End::Parted);
        }
        if on(SLACK) && closing < 0.0 && e <= if self.m.returning { self.m.er } else { 0.0 } {
            self.note(watch, Some(Event::Slack));
            return Some(End::Slack);
        }
        if on(FAR) && self.y[2] >= s.travel {
            self.note(watch, Some(Event::TravelReached));
            return Some(End::TravelReached);
        }
        let stands = self.m.front == Front::Held && self.m.back == Back::Stands;
        (stands && !(t - s.g2 > s.resistance(self.y[2]))).then_some(End::AtRest)
    }

    /// The puller stops, is dragged, or comes to rest.
    fn front(&mut self, t: f64, watch: &mut impl Watch) {
        let s = self.s;
        let holds = t + s.g1 <= s.hold;
        match self.m.front {
            Front::Driving if self.y[1] <= 0.0 && s.drive - t < 0.0 => {
                self.y[1] = 0.0;
                self.driven = self.y[0];
                self.last_stop = self.y[0];
                self.m.front = if holds { Front::Held } else { Front::Dragged };
                let event = if holds { Event::PullerStops } else { Event::PullerDragged };
                if self.stopped.is_none() {
                    self.stopped = Some(sample(s, &self.m, self.t, &self.y, Some(event)));
                }
                self.note(watch, Some(event));
            }
            Front::Held if !holds => {
                self.m.front = Front::Dragged;
                self.last_stop = self.y[0];
                self.note(watch, Some(Event::PullerDragged));
            }
            Front::Dragged if self.y[1] >= 0.0 => {
                self.y[1] = 0.0;
                self.dragged += self.last_stop - self.y[0];
                self.last_stop = self.y[0];
                if holds {
                    self.m.front = Front::Held;
                    self.note(watch, Some(Event::PullerHolds));
                }
            }
            Front::Driving | Front::Held | Front::Dragged => {}
        }
    }

    /// The stuck vehicle breaks away, sticks, or rolls back.
    fn back(&mut self, t: f64, watch: &mut impl Watch) {
        let s = self.s;
        let (net, r) = (t - s.g2, s.resistance(self.y[2]));
        let to = match self.m.back {
            Back::Stands if net > r => Back::Forward,
            Back::Stands if net < -r => Back::Backward,
            Back::Forward if self.y[3] > 0.0 => return,
            Back::Backward if self.y[3] < 0.0 => return,
            Back::Forward if net < -r => Back::Backward,
            Back::Backward if net > r => Back::Forward,
            Back::Forward | Back::Backward => Back::Stands,
            Back::Stands => return,
        };
        self.settle_leg();
        self.y[3] = 0.0;
        self.m.back = to;
        let event = match to {
            Back::Forward => {
                if self.broke.is_none() {
                    self.broke = Some(self.t);
                }
                Event::BreaksAway
            }
            Back::Backward => Event::RollsBack,
            Back::Stands => Event::Sticks,
        };
        self.note(watch, Some(event));
    }

    /// Adds the work against the resistance since the last switch.
    fn settle_leg(&mut self) {
        if self.m.back != Back::Stands {
            self.resisted += (self.s.resisted(self.y[2]) - self.s.resisted(self.leg)).abs();
        }
        self.leg = self.y[2];
    }

    /// Keeps what is greatest.
    fn track(&mut self) {
        let t = self.s.tension(&self.m, &self.y);
        if t > self.peak {
            self.peak = t;
            self.peak_at = self.t;
            self.m.crest = t;
        }
        self.stretch = self.stretch.max(self.y[0] - self.y[2]);
        self.fastest = self.fastest.max(self.y[3]);
    }

    fn note(&self, watch: &mut impl Watch, event: Option<Event>) {
        watch.see(|| sample(self.s, &self.m, self.t, &self.y, event));
    }

    /// How far the stuck vehicle coasts without the rope; none if it does not stop.
    fn coast(&self) -> Option<f64> {
        let (s, x, v) = (self.s, self.y[2], self.y[3]);
        if v <= 1e-9 {
            return Some(0.0);
        }
        let energy = 0.5 * s.m2 * v * v;
        if s.inv_d == 0.0 {
            let net = s.rb + s.g2;
            return (net > 0.0).then(|| energy / net);
        }
        // Work of ground and weight over a further way; it rises as long as the ground holds more than the slope pulls.
        let work = |d: f64| s.resisted(x + d) - s.resisted(x) + s.g2 * d;
        let slope_wins = s.rm + s.g2 <= 0.0;
        let mut high = if slope_wins {
            let share = (-s.g2 - s.rm) / (s.rb - s.rm);
            if !(share > 0.0) { 1e4 } else { (-libm::log(share) / s.inv_d - x).max(0.0) }
        } else {
            energy / (s.rm + s.g2)
        };
        if !(work(high) >= energy * (1.0 - 1e-12)) {
            return None;
        }
        let mut low = 0.0;
        for _ in 0..200 {
            let mid = 0.5 * (low + high);
            if mid <= low || mid >= high {
                break;
            }
            if work(mid) < energy { low = mid } else { high = mid }
        }
        Some(high)
    }

    fn finish(mut self, end: End) -> Outcome {
        let s = self.s;
        if self.peak == 0.0 {
            self.track();
        }
        self.settle_leg();
        match self.m.front {
            Front::Driving => self.driven = self.y[0],
            Front::Dragged => self.dragged += self.last_stop - self.y[0],
            Front::Held => {}
        }
        let e = self.y[0] - self.y[2];
        let (in_rope, left) = s.rope_energy(&self.m, e.max(0.0));
        let j = Energy::from_j;
        let run_up = 0.5 * s.m1 * s.closing_squared;
        let traction = s.traction * self.driven;
        let weights = -s.g1 * self.y[0] - s.g2 * self.y[2];
        let dragging = if self.dragged > 0.0 { s.hold * self.dragged } else { 0.0 };
        let motion = 0.5 * (s.m1 * self.y[1] * self.y[1] + s.m2 * self.y[3] * self.y[3]);
        let rope_loss = in_rope - left + self.y[4];
        let curve = &s.curve;
        let greatest = curve.energy(curve.piece_at(self.stretch), self.stretch);
        let coast = if end == End::StillMoving { None } else { self.coast() };
        let stop = self.y[2] + coast.unwrap_or(0.0);
        Outcome {
            closing_speed: Speed::from_m_s(s.closing_squared.sqrt()),
            peak: Force::from_n(self.peak),
            peak_at: Time::from_s(self.peak_at),
            stretch: Length::from_m(self.stretch),
            strain: self.stretch / s.length,
            share_of_breaking: s.breaking.is_finite().then(|| self.peak / s.breaking),
            broke_away_at: self.broke.map(Time::from_s),
            puller_stopped: self.stopped,
            travel_in_line: Length::from_m(self.y[2]),
            coast: coast.map(Length::from_m),
            travel: Length::from_m(stop),
            stuck_speed: Speed::from_m_s(self.fastest),
            stuck_speed_at_end: Speed::from_m_s(self.y[3]),
            puller_speed_at_end: Speed::from_m_s(self.y[1]),
            tension_at_end: Force::from_n(if matches!(end, End::Parted | End::Slack) {
                0.0
            } else {
                s.tension(&self.m, &self.y).max(0.0)
            }),
            rolls_back: s.rb.is_finite() && s.g2 > s.resistance(stop),
            beyond_law: self.stretch > curve.ends() * (1.0 + 1e-9),
            end,
            ended_at: Time::from_s(self.t),
            energy: Energies {
                run_up: j(run_up),
                traction: j(traction),
                weights: j(weights),
                resistance: j(self.resisted),
                dragging: j(dragging),
                rope_loss: j(rope_loss),
                rope_left: j(left),
                rope_greatest: j(greatest),
                motion_left: j(motion),
                unaccounted: j(run_up + traction + weights - self.resisted - dragging - rope_loss - left - motion),
            },
            steps: self.steps,
        }
    }
}
