//! Anchors one behind the other: the front one takes the pull, a tie joins it to one behind, and what the front one moves
//! is what the tie must lose in slack before the one behind does anything.
//!
//! Front and tie stand side by side against the pull: they move by the same δ along it. The tie and the anchor behind stand in
//! a row: they carry the same T, and their movements add up.
//!
//! ```text
//! P = F(δ) + T cos θ          δ cos θ = s + T L/EA + δ_b(T)          s slack, θ angle of the tie off the line of pull
//! ```
//!
//! **How an anchor gives** ([`Gives`]). With x the share of the movement at which it gives, earth and roots soften:
//! `F = F_u x / (a + (1 − a) x)`, a hyperbola whose secant at the ultimate F_u is down to the share a of its first stiffness.
//! Braked wheels are a spring until they slide and then keep what they have; their ultimate is the sliding value, not the peak.
//!
//! **What the two hold together.** The pull at which the first of front, tie and back gives, but never less than the front
//! alone. A softening front that has given holds nothing more, and what is behind it is not counted alone: the whole pull would
//! fall on it at once, along another line. A front that slides goes on holding, so there the anchor behind gets the rest.
//! A tie with more slack than the front moves before it gives adds nothing.
//!
//! Not modelled: the jerk when the tie comes taut, friction and bending at the front anchor, creep.

use crate::error::{MechanicsError, between, positive};
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_model::{Angle, Force, Length, Range};

/// How an anchor gives way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gives {
    /// It softens until it gives, and then holds nothing more: roots, stumps, what is dug or driven into earth.
    Softens,
    /// It is a spring until it slides, and holds as much while it slides: braked wheels, a boulder.
    Slides,
}

/// An anchor in a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InSeries {
    /// How far it moves along the pull until it gives, or begins to slide.
    pub moves: Range<Length>,
    /// What it holds alone; sliding and not just before it, where it slides.
    pub ultimate: Range<Force>,
    /// How it gives.
    pub gives: Gives,
}

/// What joins the two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// Its length.
    pub length: Length,
    /// Stiffness EA: force per unit strain.
    pub ea: Range<Force>,
    /// How much slack it has before the pull; below zero it was made tight by so much.
    pub slack: Range<Length>,
    /// What it holds.
    pub holds: Force,
    /// Angle between the tie and the line of pull, seen at the front anchor.
    pub off: Angle,
}

/// Which of the three gives first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum First {
    /// The front anchor.
    Front,
    /// The tie between them.
    Tie,
    /// The anchor behind.
    Back,
}
impl First {
    /// In words.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "the front anchor",
            Self::Tie => "the tie",
            Self::Back => "the anchor behind",
        }
    }
}

/// What two anchors in a row hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Series {
    /// Together, along the pull.
    pub ultimate: Range<Force>,
    /// Which gives first where they hold least together.
    pub first: First,
    /// Which gives first, likely.
    pub first_likely: First,
    /// The pull at which the anchor behind begins to work: earliest, likely, latest. The front's ultimate stands for 'never'.
    pub starts: Range<Force>,
    /// Whether the front one may give before the tie is taut, so that the anchor behind adds nothing.
    pub may_never: bool,
    /// How far the front one moves until the two hold no more, over all that is not known.
    pub movement: Range<Length>,
}

/// What each gets of one pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// The front anchor.
    pub front: Range<Force>,
    /// The tie and the anchor behind.
    pub back: Range<Force>,
    /// How far the front one moves.
    pub movement: Range<Length>,
    /// Whether the pull is under what they hold together at every end. Where it is not, all of it is put on the tie.
    pub holds: bool,
}

/// What the secant of a softening anchor has left of its first stiffness when it gives: a third. Own judgement, after the
/// root plate, whose secant at its peak is 0.2 to 0.4 of that at a quarter of a degree (`detter-2023`, `dundee-2025`, derived).
pub const SECANT_LEFT: f64 = 1.0 / 3.0;
/// The widest angle of a tie off the line of pull: beyond it the front anchor is pulled aside more than it is held. Own judgement.
pub const WIDEST_TIE: Angle = Angle::from_deg(30.0);
/// Halvings of a bisection: more than the binary digits of a number.
const HALVINGS: usize = 60;

/// One anchor with everything chosen.
#[derive(Clone, Copy)]
struct One {
    moves: f64,
    most: f64,
    gives: Gives,
}
impl One {
    fn secant_left(self) -> f64 {
        match self.gives {
            Gives::Softens => SECANT_LEFT,
            Gives::Slides => 1.0,
        }
    }
    /// Force at a movement, up to where it gives; pushed back it is as stiff as pulled.
    fn force(self, d: f64) -> f64 {
        let (x, a) = ((d.abs() / self.moves).min(1.0), self.secant_left());
        let f = self.most * x / (a + (1.0 - a) * x);
        if d < 0.0 { -f } else { f }
    }
    /// Movement at a force, up to the ultimate.
    fn movement(self, f: f64) -> f64 {
        let (f, a) = (f.min(self.most), self.secant_left());
        self.moves * a * f / (self.most - (1.0 - a) * f)
    }
}

/// Everything chosen.
#[derive(Clone, Copy)]
struct Chosen {
    front: One,
    back: One,
    flexibility: f64,
    slack: f64,
    holds: f64,
    cos: f64,
}
impl Chosen {
    /// The tension at which tie or back gives.
    fn most_behind(self) -> f64 {
        self.back.most.min(self.holds)
    }
    /// Movement of the front at which the tie has this tension.
    fn movement_for(self, t: f64) -> f64 {
        (self.slack + t * self.flexibility + self.back.movement(t)) / self.cos
    }
    /// Tension of the tie at a movement of the front, up to where it or the back gives.
    fn tension(self, d: f64) -> f64 {
        if d * self.cos <= self.slack {
            return 0.0;
        }
        let (mut low, mut high) = (0.0, self.most_behind());
        if self.movement_for(high) <= d {
            return high;
        }
        for _ in 0..HALVINGS {
            let t = 0.5 * (low + high);
            if self.movement_for(t) < d {
                low = t;
            } else {
                high = t;
            }
        }
        low
    }
    fn pull(self, d: f64) -> f64 {
        self.front.force(d) + self.tension(d) * self.cos
    }
    /// What they hold together, which gives first, and how far the front has moved then.
    fn ultimate(self) -> (f64, First, f64) {
        let (own, behind) = (self.front.moves, self.movement_for(self.most_behind()));
        let of_back = if self.back.most <= self.holds { First::Back } else { First::Tie };
        // What slides goes on holding while the other comes to its own.
        let slides_on = |first: First| match first {
            First::Front => self.front.gives == Gives::Slides,
            First::Back => self.back.gives == Gives::Slides,
            First::Tie => false,
        };
        let (first, here, later) = if own <= behind { (First::Front, own, behind) } else { (of_back, behind, own) };
        let d = if slides_on(first) { later } else { here };
        let both = self.pull(d);
        if both >= self.front.most { (both, first, d) } else { (self.front.most, first, own) }
    }
    /// Movement of the front under a pull that they hold.
    fn under(self, pull: f64) -> f64 {
        let (_, _, most) = self.ultimate();
        let (mut low, mut high) = (self.slack.min(0.0) / self.cos, most);
        for _ in 0..HALVINGS {
            let d = 0.5 * (low + high);
            if self.pull(d) < pull {
                low = d;
            } else {
                high = d;
            }
        }
        0.5 * (low + high)
    }
}

/// Ends of the ranges: movement and ultimate of front and back, stiffness and slack of the tie.
#[derive(Clone, Copy)]
struct Ends {
    front: (usize, usize),
    back: (usize, usize),
    tie: usize,
    slack: usize,
}
const LIKELY: Ends = Ends { front: (1, 1), back: (1, 1), tie: 1, slack: 1 };
/// The front gets least and the back most: a soft front, a stiff tie without slack on a stiff anchor.
const BACK_GETS_MOST: Ends = Ends { front: (2, 0), back: (0, 2), tie: 2, slack: 0 };
/// The other way round.
const FRONT_GETS_MOST: Ends = Ends { front: (0, 2), back: (2, 0), tie: 0, slack: 2 };

fn chosen(front: &InSeries, tie: &Tie, back: &InSeries, at: Ends) -> Chosen {
    fn end<Q: Copy>(values: [Q; 3], i: usize) -> Q {
        let [low, likely, high] = values;
        match i {
            0 => low,
            1 => likely,
            _ => high,
        }
    }
    let one = |a: &InSeries, (d, f): (usize, usize)| One {
        moves: end(a.moves.values(), d).as_m(),
        most: end(a.ultimate.values(), f).as_n(),
        gives: a.gives,
    };
    Chosen {
        front: one(front, at.front),
        back: one(back, at.back),
        flexibility: tie.length.as_m() / end(tie.ea.values(), at.tie).as_n(),
        slack: end(tie.slack.values(), at.slack).as_m(),
        holds: tie.holds.as_n(),
        cos: libm::cos(tie.off.as_rad()),
    }
}

fn check(front: &InSeries, tie: &Tie, back: &InSeries) -> Result<(), MechanicsError> {
    for anchor in [front, back] {
        let moves = anchor.moves.low().as_m();
        positive("the movement at which an anchor gives", moves, "greater than zero, for example 3 cm")?;
        positive("what an anchor holds", anchor.ultimate.low().as_n(), "greater than zero, for example 20 kN")?;
    }
    positive("the length of the tie", tie.length.as_m(), "greater than zero, for example 3 m")?;
    positive("the stiffness EA of the tie", tie.ea.low().as_n(), "greater than zero, for example 400 kN")?;
    positive("what the tie holds", tie.holds.as_n(), "greater than zero, for example 60 kN")?;
    let long = tie.length.as_m();
    between(
        "the slack of the tie",
        tie.slack.low().as_m(),
        -0.2 * long,
        long,
        "no more tight than a fifth of its length",
    )?;
    between("the slack of the tie", tie.slack.high().as_m(), -0.2 * long, long, "less than its length")?;
    between("the angle of the tie", tie.off.as_rad(), 0.0, WIDEST_TIE.as_rad(), "0° to 30° off the line of pull")?;
    Ok(())
}

/// What two anchors hold in a row, when the one behind begins to work, and which gives first.
///
/// # Source
/// `statics`: springs side by side and in a row, derived at the head of this file; how an anchor softens: `own-judgement`.
///
/// # Errors
/// If a number is not in order or the tie stands more than 30° off the line of pull.
///
/// # Assumes
/// See the head of this file. The low end is the least over every corner of stiffness and slack with both anchors at their
/// least, the high end the greatest with both at their most.
pub fn series(front: &InSeries, tie: &Tie, back: &InSeries, rec: &mut impl Recorder) -> Result<Series, MechanicsError> {
    check(front, tie, back)?;
    let likely = chosen(front, tie, back, LIKELY).ultimate();
    let (mut least, mut most) = (likely, likely);
    let (mut short, mut long) = (likely.2, likely.2);
    for bits in 0..32_usize {
        let end = |place: usize| if bits >> place & 1 == 1 { 2 } else { 0 };
        let strong = end(4);
        let ends = Ends { front: (end(0), strong), back: (end(1), strong), tie: end(2), slack: end(3) };
        let found = chosen(front, tie, back, ends).ultimate();
        if found.0 < least.0 {
            least = found;
        }
        if found.0 > most.0 {
            most = found;
        }
        short = short.min(found.2);
        long = long.max(found.2);
    }
    let begins = |ends: Ends| {
        let c = chosen(front, tie, back, ends);
        let d = c.slack.max(0.0) / c.cos;
        (Force::from_n(c.front.force(d)), d >= c.front.moves && front.gives == Gives::Softens)
    };
    let ((earliest, _), (on, _), (latest, may_never)) =
        (begins(BACK_GETS_MOST), begins(LIKELY), begins(FRONT_GETS_MOST));
    let out = Series {
        ultimate: Range::hull(Force::from_n(least.0), Force::from_n(likely.0), Force::from_n(most.0)),
        first: least.1,
        first_likely: likely.1,
        starts: Range::hull(earliest, on, latest),
        may_never,
        movement: Range::hull(Length::from_m(short), Length::from_m(likely.2), Length::from_m(long)),
    };
    rec.record(|| {
        let step = Step::range(
            "what two anchors in a row hold together",
            "P_u",
            "P = F(δ) + T cos θ where the first gives; δ cos θ = s + T L/EA + δ_b(T); never less than the front alone",
            &out.ultimate,
            "statics",
        )
        .input_range("F_u front", &front.ultimate, Origin::Earlier)
        .input_range("δ_u front", &front.moves, Origin::Earlier)
        .input_range("F_u behind", &back.ultimate, Origin::Earlier)
        .input_range("δ_u behind", &back.moves, Origin::Earlier)
        .input("L", tie.length.as_m(), Dimension::Length, Origin::Earlier)
        .input_range("EA", &tie.ea, Origin::Earlier)
        .input_range("s", &tie.slack, Origin::Assumed("how tight a crew makes it".into()))
        .input("θ", tie.off.as_rad(), Dimension::Angle, Origin::Earlier)
        .note(format!("gives first where they hold least: {}", out.first.words()));
        if out.may_never {
            step.note("at the low end the front one gives before the tie is taut: the one behind adds nothing")
        } else {
            step
        }
    });
    Ok(out)
}

/// What each of two anchors in a row gets of one pull.
///
/// # Source
/// `statics`, as [`series`].
///
/// # Errors
/// As [`series`], and if the pull is negative or no ordinary number.
///
/// # Assumes
/// Side by side the stiffer takes more, so two corners bound it: a soft front with a stiff tight tie, and the other way round.
pub fn carried(front: &InSeries, tie: &Tie, back: &InSeries, pull: Force) -> Result<Carried, MechanicsError> {
    check(front, tie, back)?;
    let p = crate::error::not_negative("the pull", pull.as_n(), "zero or more, for example 20 kN")?;
    let at = |ends: Ends| {
        let c = chosen(front, tie, back, ends);
        let d = c.under(p);
        (Force::from_n(c.front.force(d).max(0.0)), Force::from_n(c.tension(d)), Length::from_m(d.max(0.0)))
    };
    let (likely, behind, ahead) = (at(LIKELY), at(BACK_GETS_MOST), at(FRONT_GETS_MOST));
    let holds = p < series(front, tie, back, &mut unmire_model::Silent)?.ultimate.low().as_n();
    let most_behind = if holds { behind.1 } else { behind.1.max(pull) };
    Ok(Carried {
        front: Range::hull(behind.0, likely.0, ahead.0),
        back: Range::hull(ahead.1, likely.1, most_behind),
        movement: Range::hull(ahead.2, likely.2, behind.2),
        holds,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::{Silent, Trail};

    fn kn(v: f64) -> Range<Force> {
        let f = Force::from_kn(v);
        Range::hull(f, f, f)
    }
    fn cm(v: f64) -> Range<Length> {
        let l = Length::from_cm(v);
        Range::hull(l, l, l)
    }
    /// One of this stiffness at the start, N/m.
    fn anchor(k: f64, most: f64, gives: Gives) -> InSeries {
        let left = if gives == Gives::Softens { SECANT_LEFT } else { 1.0 };
        InSeries { moves: cm(most * 1e5 / (k * left)), ultimate: kn(most), gives }
    }
    /// 300 kN/m.
    fn tie(slack: f64) -> Tie {
        Tie {
            length: Length::from_m(3.0),
            ea: kn(900.0),
            slack: cm(slack),
            holds: Force::from_kn(80.0),
            off: Angle::ZERO,
        }
    }
    fn near(got: f64, want: f64, within: f64) {
        assert!((got - want).abs() <= within, "{got}, but {want} is right");
    }

    #[test]
    fn closed_form_springs_side_by_side_after_the_slack() {
        // Front 400 kN/m; tie 300 and back 600 in a row: 200 kN/m. 2 cm of slack: the back starts at 8 kN.
        let (f, b) = (anchor(4e5, 30.0, Gives::Slides), anchor(6e5, 50.0, Gives::Slides));
        let s = series(&f, &tie(2.0), &b, &mut Silent).unwrap();
        near(s.starts.likely().as_kn(), 8.0, 1e-9);
        let c = carried(&f, &tie(2.0), &b, Force::from_kn(5.0)).unwrap();
        assert!(c.holds && c.back.high() == Force::ZERO);
        // Beyond it: 12 kN more share 2 to 1.
        let c = carried(&f, &tie(2.0), &b, Force::from_kn(20.0)).unwrap();
        near(c.front.likely().as_kn(), 8.0 + 8.0, 1e-9);
        near(c.back.likely().as_kn(), 4.0, 1e-9);
        near(c.movement.likely().as_cm(), 4.0, 1e-9);
        // The front slides at 30 kN and goes on holding; the back comes to its 50 kN.
        near(s.ultimate.low().as_kn(), 80.0, 1e-9);
        assert_eq!(s.first, First::Front);
        let c = carried(&f, &tie(2.0), &b, Force::from_kn(70.0)).unwrap();
        near(c.back.likely().as_kn(), 40.0, 1e-6);
        near(c.front.likely().as_kn(), 30.0, 1e-9);
    }

    #[test]
    fn closed_form_a_softening_anchor_has_a_third_of_its_stiffness_left_where_it_gives() {
        let one = One { moves: 0.06, most: 20e3, gives: Gives::Softens };
        near(one.force(0.06), 20e3, 1e-6);
        near(one.force(1e-9) / 1e-9, 1e6, 1.0);
        for f in [1e3, 7e3, 19e3, 20e3] {
            near(one.force(one.movement(f)), f, 1e-6);
        }
        // Half of it at a quarter of the movement: k d / (1 + 2 k d / (3 F)) = 15 000 / 1.5.
        near(one.force(0.015), 10e3, 1e-6);
    }

    #[test]
    fn closed_form_slack_that_the_front_never_takes_up_adds_nothing() {
        // The front gives after 3 · 20 kN / 1 MN/m = 6 cm.
        let (f, b) = (anchor(1e6, 20.0, Gives::Softens), anchor(1e6, 60.0, Gives::Softens));
        let s = series(&f, &tie(7.0), &b, &mut Silent).unwrap();
        assert!(s.may_never);
        assert_eq!(
            (s.ultimate.low(), s.ultimate.high(), s.first),
            (Force::from_kn(20.0), Force::from_kn(20.0), First::Front)
        );
        // With 1 cm of slack, 5 cm are left for tie and back: T / 300 + T / (1000 (1 − 2 T / 180)) = 5 cm, T in kN, so
        // T² · 2 / 54000 − T (1/300 + 1/1000 + 0.1/180) + 0.05 = 0.
        let (qa, qb, qc) = (2.0 / 54_000.0, -(1.0 / 300.0 + 1.0 / 1000.0 + 0.1 / 180.0), 0.05);
        let t = (-qb - libm::sqrt(qb * qb - 4.0 * qa * qc)) / (2.0 * qa);
        let s = series(&f, &tie(1.0), &b, &mut Silent).unwrap();
        near(s.ultimate.likely().as_kn(), 20.0 + t, 1e-9);
        assert!(!s.may_never && s.first == First::Front);
        near(s.movement.likely().as_cm(), 6.0, 1e-9);
    }

    #[test]
    fn closed_form_a_weak_tie_or_back_gives_first_and_the_front_is_still_there() {
        let f = anchor(2e5, 40.0, Gives::Slides);
        let weak = Tie { holds: Force::from_kn(3.0), ..tie(0.0) };
        let s = series(&f, &weak, &anchor(6e5, 50.0, Gives::Softens), &mut Silent).unwrap();
        assert_eq!((s.first, s.ultimate.low()), (First::Tie, Force::from_kn(40.0)));
        let s = series(&f, &tie(0.0), &anchor(6e5, 2.0, Gives::Softens), &mut Silent).unwrap();
        assert_eq!((s.first, s.ultimate.low()), (First::Back, Force::from_kn(40.0)));
        // A back that slides goes on holding.
        let s = series(&f, &tie(0.0), &anchor(6e5, 2.0, Gives::Slides), &mut Silent).unwrap();
        near(s.ultimate.low().as_kn(), 42.0, 1e-9);
    }

    #[test]
    fn closed_form_a_tight_tie_works_from_the_start_and_one_aside_works_less() {
        let (f, b) = (anchor(4e5, 30.0, Gives::Slides), anchor(6e5, 50.0, Gives::Slides));
        // 1 cm tight: front and tie together 600 kN/m, the tie has 200 · (δ + 1 cm).
        let c = carried(&f, &tie(-1.0), &b, Force::from_kn(10.0)).unwrap();
        near(c.movement.likely().as_cm(), 100.0 * (10.0 - 2.0) / 600.0, 1e-9);
        near(c.back.likely().as_kn(), 200.0 * (8.0 / 600.0 + 0.01), 1e-9);
        assert_eq!(series(&f, &tie(-1.0), &b, &mut Silent).unwrap().starts.high(), Force::ZERO);
        let aside = Tie { off: Angle::from_deg(30.0), ..tie(0.0) };
        let c = carried(&f, &aside, &b, Force::from_kn(11.0)).unwrap();
        // cos² 30° = 3/4: 400 + 150 kN/m.
        near(c.movement.likely().as_cm(), 2.0, 1e-9);
        near(c.back.likely().as_kn() * libm::cos(aside.off.as_rad()), 3.0, 1e-9);
    }

    #[test]
    fn balance_parts_add_up_and_recording_changes_no_bit() {
        let mut seed = 3_u64;
        let mut random = |low: f64, high: f64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
        };
        for i in 0..200 {
            let gives = |i: usize| if i.is_multiple_of(2) { Gives::Softens } else { Gives::Slides };
            let mut wide = |i: usize| {
                let (d, f) = (random(1.0, 8.0), random(5.0, 60.0));
                InSeries {
                    moves: Range::hull(Length::from_cm(d), Length::from_cm(2.0 * d), Length::from_cm(5.0 * d)),
                    ultimate: Range::hull(Force::from_kn(f), Force::from_kn(1.5 * f), Force::from_kn(2.5 * f)),
                    gives: gives(i),
                }
            };
            let (f, b) = (wide(i), wide(i / 2));
            let t = Tie {
                length: Length::from_m(random(1.0, 6.0)),
                ea: Range::hull(Force::from_kn(200.0), Force::from_kn(400.0), Force::from_kn(500.0)),
                slack: Range::hull(Length::ZERO, Length::from_cm(2.0), Length::from_cm(random(2.0, 8.0))),
                holds: Force::from_kn(random(10.0, 90.0)),
                off: Angle::from_deg(random(0.0, 30.0)),
            };
            let mut kept = Trail::default();
            let s = series(&f, &t, &b, &mut kept).unwrap();
            assert_eq!(s, series(&f, &t, &b, &mut Silent).unwrap());
            assert_eq!(kept.steps.len(), 1);
            // Never less than the front alone, never more than both.
            assert!(s.ultimate.low() >= f.ultimate.low());
            assert!(s.ultimate.high().as_n() <= (f.ultimate.high() + b.ultimate.high()).as_n() + 1e-6);
            let mut last = Force::ZERO;
            for share in [0.1, 0.5, 0.9, 0.999] {
                let p = s.ultimate.low() * share;
                let c = carried(&f, &t, &b, p).unwrap();
                assert!(c.holds && c.back.high() >= last);
                last = c.back.high();
                let sum = c.front.likely() + c.back.likely() * libm::cos(t.off.as_rad());
                near(sum.as_n(), p.as_n(), 1e-6 * p.as_n());
            }
            let c = carried(&f, &t, &b, s.ultimate.low() * 1.01).unwrap();
            assert!(!c.holds && c.back.high() >= s.ultimate.low());
        }
    }

    #[test]
    fn balance_what_is_out_of_order_is_an_error() {
        let good = anchor(4e5, 30.0, Gives::Slides);
        let t = tie(0.0);
        for (f, t, b) in [
            (InSeries { moves: cm(0.0), ..good }, t, good),
            (good, t, anchor(1.0, 0.0, Gives::Softens)),
            (good, Tie { off: Angle::from_deg(31.0), ..t }, good),
            (good, Tie { length: Length::ZERO, ..t }, good),
            (good, Tie { slack: cm(400.0), ..t }, good),
            (good, Tie { holds: Force::from_n(f64::NAN), ..t }, good),
        ] {
            assert!(series(&f, &t, &b, &mut Silent).is_err());
        }
        assert!(carried(&good, &t, &good, Force::from_n(-1.0)).is_err());
        assert!(carried(&good, &t, &good, Force::from_n(f64::NAN)).is_err());
    }
}
