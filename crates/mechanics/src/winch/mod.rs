//! What a winch can pull and what it pulls before it stops, by the layer of line that is on its drum.
//!
//! Two questions with two cautious ends: can it do the work (the low end, on the highest layer of the pull), and what will it load
//! the rig with if the button is held (the high end of its stall, on the lowest layer of the pull).

mod battery;
mod capstan;
mod curve;
mod drum;
mod fleet;
mod heat;
mod hydraulic;
mod motor;

pub use battery::{drawn, filled_after, net_current, resting_voltage, stop_voltage, terminal_voltage};
pub use capstan::{bark_friction, capstan_friction, capstan_grip, capstan_tail, capstan_turns, hand_on_tail};
pub use curve::{Course, Curve, Fit, Reading, fit_line};
pub use drum::{
    DrumLine, Lay, capacity_formula, drum_capacity, drum_capacity_constant, drum_line, first_layer_pull,
    first_layer_pull_by_step, layer_pull, layer_pull_by_step, wraps_per_layer,
};
pub use fleet::{fairlead_angle, fleet_angle, fleet_lead};
pub use heat::{heat, longest_run, rests};
pub use hydraulic::{HydraulicMotor, hydraulic_pull, hydraulic_speed};
pub use motor::{DriveKind, Electric, MotorFlags, Running, WinchMotor, running_at};

use crate::error::MechanicsError;
use crate::lookup;
use crate::standing::Warning;
use unmire_model::drive::Motor;
use unmire_model::gear::Material;
use unmire_model::trail::{Dimension, Input, Origin, Step};
use unmire_model::vehicle::Winch;
use unmire_model::{Force, Length, Range, Recorder};

/// What must be told beside the figures of a winch. Plain flags, so that the search need not allocate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct WinchFlags {
    /// The stall is the rated pull times a band of our own judgement.
    pub stall_assumed: bool,
    /// The drum is not known: the layer is not, the ability is taken at its lowest and the stall at its highest.
    pub drum_unknown: bool,
    /// More line is asked for than there is.
    pub line_short: bool,
    /// Fewer turns are left on the drum than must stay.
    pub turns_short: bool,
    /// The turns that must stay come from a rule, not from the maker.
    pub turns_rule: bool,
    /// The line does not go onto the drum in eight layers: its measures are doubtful.
    pub drum_doubtful: bool,
    /// A higher layer pulls with line in it that lies over another one: real winding may need one layer more.
    pub uneven_winding: bool,
}
impl WinchFlags {
    /// The flags that are up, as findings.
    ///
    /// # Source
    /// Texts only; the winding remark: `sae-j706` (secondary, factor 0.7 to 0.9 on capacity).
    #[must_use]
    pub fn warnings(&self) -> Vec<Warning> {
        let mut w = Vec::new();
        let mut add = |up: bool, code: &'static str, text: &str| {
            if up {
                w.push(Warning::new(code, text));
            }
        };
        add(
            self.stall_assumed,
            "stall-assumed",
            "the stall of this winch is not stated: rated pull times a band of our own judgement; its high end is used",
        );
        add(
            self.drum_unknown,
            "drum-unknown",
            "the drum is not measured: the layer is not known; ability is taken as on the fifth layer (under half of the rated pull), stall as on the first",
        );
        add(self.line_short, "line-short", "more line is needed off the drum than there is");
        add(self.turns_short, "turns-short", "fewer turns stay on the drum than must stay");
        add(self.turns_rule, "turns-by-rule", "the maker's least number of turns is not stated: a rule stands in");
        add(
            self.drum_doubtful,
            "drum-doubtful",
            "the line would lie in more than eight layers on this drum: check its diameter and width",
        );
        add(
            self.uneven_winding,
            "uneven-winding",
            "turns that lie unevenly put the line one layer higher, where the winch pulls less",
        );
        w
    }
}

/// A winch with so much line off its drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WinchAt {
    /// Line off the drum.
    pub line_out: Length,
    /// The layer that works there; none if the drum is not known.
    pub layer: Option<u32>,
    /// Pull there ÷ pull on the first layer.
    pub share: Range<f64>,
    /// What it can pull there: low (use for ability), likely, high.
    pub pull: Range<Force>,
    /// What it pulls before it stops there: low, likely, high (use for stall).
    pub stall: Range<Force>,
    /// Turns left on the drum, low end; none if the drum is not known.
    pub turns_left: Option<f64>,
    /// Turns that must stay.
    pub turns_required: f64,
    /// What must be told beside it.
    pub flags: WinchFlags,
}

/// A winch over a pull: from so much line off the drum at the start to so much at the end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WinchOver {
    /// At the start, with the most line off.
    pub start: WinchAt,
    /// At the end, with the least line off.
    pub end: WinchAt,
    /// Ability for the whole pull: the low end on the highest layer that it reaches.
    pub ability: Force,
    /// Stall for the whole pull: the high end on the lowest layer that it reaches.
    pub stall: Force,
}

/// Turns that must stay on a drum: the maker's number, else a rule by what the line is made of; and whether it is a rule.
///
/// # Source
/// Table `min_wraps`: wire 5 (`tm-9-2320-279-10-2`, `alberta-ohs-code-299`, read); synthetic more (memory).
#[must_use]
pub fn turns_required(winch: &Winch) -> (f64, bool) {
    match winch.min_wraps {
        Some(n) => (f64::from(n), false),
        None => (
            lookup::min_wraps(winch.line.material == Material::SteelWire || winch.line.material == Material::Chain),
            true,
        ),
    }
}

/// Stall on the first layer: the file's range, or the rated pull times a band.
///
/// # Source
/// The file; else table `winch_stall` row `electric`: `own-judgement`.
#[must_use]
pub fn stall_first_layer(winch: &Winch) -> (Range<Force>, bool) {
    match &winch.stall {
        Some(s) => (s.value, false),
        None => {
            let rated = winch.rated_pull.value;
            (lookup::stall_band().increasing(|k| rated * k), true)
        }
    }
}

/// What a lever-driven puller gives before it stops: the maker's range, or its rating times a band; and whether it is the band.
///
/// # Source
/// The file; else table `winch_stall` row `hand_lever`: `own-judgement` (it depends on the person on the lever).
#[must_use]
pub fn hand_winch_stall(rated: Force, stated: Option<&Range<Force>>) -> (Range<Force>, bool) {
    match stated {
        Some(s) => (*s, false),
        None => (lookup::lever_stall_band().increasing(|k| rated * k), true),
    }
}

/// The most that the line may leave the fairlead away from square: the maker's limit, else the trade's; and whether the maker said it.
///
/// # Source
/// The file; else table `line_angle` row `fairlead_side`: 15°, `recollection` (memory).
#[must_use]
pub fn fairlead_limit(winch: &Winch) -> (unmire_model::Angle, bool) {
    winch.fairlead_limit.map_or_else(|| (lookup::fairlead_limit(), false), |a| (a, true))
}

/// Pull with so much line off the drum ÷ pull on the first layer: low, likely, high, as in [`winch_at`].
///
/// # Source
/// `statics`, as [`winch_at`].
///
/// # Errors
/// As [`winch_at`].
pub fn first_layer_share(winch: &Winch, line_out: Length) -> Result<Range<f64>, MechanicsError> {
    Ok(winch_at(winch, line_out, &mut unmire_model::Silent)?.share)
}

/// The winch with so much line off its drum: layer, pull and stall there, turns left.
///
/// The pull falls with the radius at which the line lies: `F_k = F₁ r₁ / r_k`. The turns may lie one over the other (c = 1) or in
/// the furrows (c = 0.866): both are reckoned and the span between them is the range. A drum that is not known gives the
/// pull of the last layer at its low end and the stall of the first at its high end.
///
/// # Source
/// `statics` for the model; checked against `tm-9-2320-279-10-2` Table 2-7 (read). Where the drum is not known: table
/// `winch_layer_share` (`own-judgement`; `navedtra-14081`, read, says that the last layer may have lost half).
///
/// # Errors
/// If a measure is not greater than zero or the line off is negative.
pub fn winch_at(winch: &Winch, line_out: Length, rec: &mut impl Recorder) -> Result<WinchAt, MechanicsError> {
    let rated = crate::error::positive(
        "the rated pull of the winch",
        winch.rated_pull.value.as_n(),
        "a force greater than zero",
    )?;
    let out = crate::error::not_negative("the line off the drum", line_out.as_m(), "zero or more, for example 12 m")?;
    let total =
        crate::error::positive("the length of the line", winch.line.length.as_m(), "a length greater than zero")?;
    let (stall_first, stall_assumed) = stall_first_layer(winch);
    let (turns_needed, turns_rule) = turns_required(winch);
    let mut flags = WinchFlags { stall_assumed, turns_rule, line_short: out > total, ..WinchFlags::default() };

    if let Some(Motor::Capstan { turns, friction, .. }) = winch.drive.as_ref().map(|d| &d.motor) {
        return on_capstan(winch, out, *turns, friction.as_ref(), &stall_first, flags, rec);
    }
    let Some(drum) = winch.drum else {
        flags.drum_unknown = true;
        let share = lookup::unknown_layer_share();
        let pull = share.increasing(|s| Force::from_n(rated * s));
        let stall = Range::hull(
            stall_first.low() * share.low(),
            stall_first.likely() * share.high(),
            stall_first.high() * share.high(),
        );
        rec.record(|| {
            Step::range("pull of the winch, layer not known", "F", "F = s F₁", &pull, "own-judgement")
                .input("F₁", rated, Dimension::Force, winch.rated_pull.origin.clone())
                .input_range("s", &share, Origin::Constant("own-judgement"))
                .note("the drum is not measured: from the low end of the last layer to the first")
        });
        return Ok(WinchAt {
            line_out,
            layer: None,
            share,
            pull,
            stall,
            turns_left: None,
            turns_required: turns_needed,
            flags,
        });
    };

    let on_drum = Length::from_m((total - out).max(0.0));
    let stacked = drum_line(&drum, winch.line.diameter, on_drum, Lay::Stacked)?;
    let nested = drum_line(&drum, winch.line.diameter, on_drum, Lay::Nested)?;
    let share_low = stacked.pull_share.min(nested.pull_share);
    let share_high = stacked.pull_share.max(nested.pull_share);
    let pull = Range::hull(
        Force::from_n(rated * share_low),
        Force::from_n(rated * stacked.pull_share),
        Force::from_n(rated * share_high),
    );
    let stall = Range::hull(
        stall_first.low() * share_low,
        stall_first.likely() * stacked.pull_share,
        stall_first.high() * share_high,
    );
    let turns = stacked.turns.min(nested.turns);
    flags.turns_short = turns < turns_needed;
    flags.drum_doubtful = stacked.layer > 8;
    flags.uneven_winding = stacked.layer > 1;
    rec.record(|| {
        Step::range("pull of the winch on this layer", "F_k", "F_k = F₁ r₁ / r_k", &pull, "statics")
            .input("F₁", rated, Dimension::Force, winch.rated_pull.origin.clone())
            .input("line on the drum", on_drum.as_m(), Dimension::Length, Origin::Earlier)
            .input("drum", drum.diameter.as_m(), Dimension::Length, Origin::File { line: winch.line_no })
            .input("d", winch.line.diameter.as_m(), Dimension::Length, Origin::File { line: winch.line_no })
            .input("layer", f64::from(stacked.layer), Dimension::Count, Origin::Earlier)
    });
    rec.record(|| {
        let mut s = Step::range("stall of the winch on this layer", "S_k", "S_k = S₁ r₁ / r_k", &stall, "statics")
            .input_range(
                "S₁",
                &stall_first,
                winch.stall.as_ref().map_or(Origin::Constant("own-judgement"), |i| i.origin.clone()),
            );
        if stall_assumed {
            s = s.note("stall is not stated: rated pull times a band of our own judgement");
        }
        s
    });
    Ok(WinchAt {
        line_out,
        layer: Some(stacked.layer),
        share: Range::hull(share_low, stacked.pull_share, share_high),
        pull,
        stall,
        turns_left: Some(turns),
        turns_required: turns_needed,
        flags,
    })
}

/// A driven capstan: no layers. It can pull what its rating and the grip of its turns allow, the tail held by one person; its
/// stall is that of the drive, as if nothing slipped.
fn on_capstan(
    winch: &Winch,
    out: f64,
    turns: u32,
    friction: Option<&Input<Range<f64>>>,
    stall: &Range<Force>,
    mut flags: WinchFlags,
    rec: &mut impl Recorder,
) -> Result<WinchAt, MechanicsError> {
    let rated = winch.rated_pull.value;
    let mu = friction.map_or_else(capstan_friction, |f| f.value);
    let tail = hand_on_tail();
    let grip = capstan_grip(tail.low(), f64::from(turns), &mu, rec)?;
    let needed = capstan_turns(rated, tail.low(), mu.low())?;
    flags.turns_rule = true;
    flags.turns_short = turns < needed;
    Ok(WinchAt {
        line_out: Length::from_m(out),
        layer: None,
        share: Range::hull(1.0, 1.0, 1.0),
        pull: grip.increasing(|g: Force| g.min(rated)),
        stall: *stall,
        turns_left: Some(f64::from(turns)),
        turns_required: f64::from(needed),
        flags,
    })
}

/// The winch over a whole pull. The ability is the lowest along the way, the stall the highest.
///
/// # Source
/// `statics`, as [`winch_at`].
///
/// # Errors
/// As [`winch_at`].
pub fn winch_over(
    winch: &Winch,
    out_at_start: Length,
    out_at_end: Length,
    rec: &mut impl Recorder,
) -> Result<WinchOver, MechanicsError> {
    let start = winch_at(winch, out_at_start, rec)?;
    let end = winch_at(winch, out_at_end, rec)?;
    Ok(WinchOver {
        start,
        end,
        ability: start.pull.low().min(end.pull.low()),
        stall: start.stall.high().max(end.stall.high()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::drive::Drive;
    use unmire_model::gear::Label;
    use unmire_model::trail::Input;
    use unmire_model::vehicle::{Drum, WinchLine};
    use unmire_model::{Silent, Trail, Vec3};

    pub(super) fn winch() -> Winch {
        Winch {
            id: "W".into(),
            position: Vec3::ZERO,
            direction: Vec3::new(1.0, 0.0, 0.0),
            rated_pull: Input::assumed(Force::from_kn(35.6), "test"),
            stall: None,
            drum: Some(Drum { diameter: Length::from_mm(64.0), width: Length::from_mm(229.0) }),
            line: WinchLine {
                material: Material::Hmpe,
                diameter: Length::from_mm(8.0),
                length: Length::from_m(24.0),
                label: Label::Missing,
            },
            min_wraps: None,
            mount: Label::Missing,
            fairlead_limit: None,
            current_calibrated: false,
            drive: None,
            line_no: 0,
        }
    }

    #[test]
    fn closed_form_with_nearly_all_line_off_the_first_layer_works() {
        let w = winch_at(&winch(), Length::from_m(18.5), &mut Silent).unwrap();
        assert_eq!(w.layer, Some(1));
        assert!((w.pull.high().as_kn() - 35.6).abs() < 1e-9);
        // 5.5 m on a layer of 28 turns of 2 π 36 mm.
        let turns = 5.5 / (2.0 * core::f64::consts::PI * 0.036);
        assert!((w.turns_left.unwrap() - turns).abs() < 1e-9);
    }

    #[test]
    fn closed_form_the_second_layer_pulls_by_the_ratio_of_the_radii() {
        let w = winch_at(&winch(), Length::from_m(24.0 - 10.0), &mut Silent).unwrap();
        assert_eq!(w.layer, Some(2));
        assert!((w.pull.likely().as_kn() - 35.6 * 36.0 / 44.0).abs() < 1e-9);
        assert!(w.pull.high() > w.pull.likely());
        assert!(w.flags.stall_assumed);
        assert!(w.stall.high() > w.pull.high());
    }

    #[test]
    fn closed_form_an_unknown_drum_takes_the_cautious_end_of_both_questions() {
        let mut known = winch();
        known.drum = None;
        let w = winch_at(&known, Length::from_m(10.0), &mut Silent).unwrap();
        assert_eq!(w.layer, None);
        assert!((w.pull.low().as_kn() - 35.6 * 0.45).abs() < 1e-9);
        assert_eq!(w.stall.high(), stall_first_layer(&known).0.high());
        assert!(w.flags.drum_unknown && !w.flags.warnings().is_empty());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_the_winch() {
        let mut t = Trail::default();
        let a = winch_over(&winch(), Length::from_m(20.0), Length::from_m(8.0), &mut Silent).unwrap();
        let b = winch_over(&winch(), Length::from_m(20.0), Length::from_m(8.0), &mut t).unwrap();
        assert_eq!(a, b);
        assert!(!t.steps.is_empty());
        assert_eq!(a.ability, a.end.pull.low());
        assert_eq!(a.stall, a.start.stall.high());
    }

    #[test]
    fn closed_form_a_capstan_has_no_layers_and_pulls_as_far_as_its_turns_grip() {
        let mut w = winch();
        let capstan = |turns| {
            let mu = Input::assumed(Range::hull(0.2, 0.2, 0.2), "test");
            Some(Drive { motor: Motor::Capstan { turns, friction: Some(mu), diameter: None }, sheet: Vec::new() })
        };
        let tail = hand_on_tail().low();
        w.drive = capstan(3);
        let few = winch_at(&w, Length::from_m(5.0), &mut Silent).unwrap();
        assert!((few.pull.low().as_n() - tail.as_n() * libm::exp(0.2 * 6.0 * core::f64::consts::PI)).abs() < 1e-6);
        assert!(few.flags.turns_short && few.layer.is_none());
        w.drive = capstan(5);
        let many = winch_at(&w, Length::from_m(20.0), &mut Silent).unwrap();
        assert!((many.pull.low().as_kn() - 35.6).abs() < 1e-9 && !many.flags.turns_short);
        assert_eq!(many.stall, few.stall);
    }

    #[test]
    fn closed_form_too_much_line_off_is_told() {
        let w = winch_at(&winch(), Length::from_m(30.0), &mut Silent).unwrap();
        assert!(w.flags.line_short && w.flags.turns_short);
        assert!(winch_at(&winch(), Length::from_m(f64::NAN), &mut Silent).is_err());
    }
}
