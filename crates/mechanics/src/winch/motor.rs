//! What a winch draws and how fast it winds at a line pull on its layer: from its data sheet, else from bands that say so.
//!
//! The drum turns line pull into torque: a pull F on layer k asks the motor for what F · r_k / r₁ asks on the first. All sheets and
//! bands are for the first layer.

use super::curve::{Course, Curve, fit_line};
use super::{first_layer_share, stall_first_layer};
use crate::error::{MechanicsError, positive};
use crate::lookup;
use crate::standing::Warning;
use unmire_model::drive::{Battery, Motor, SheetPoint};
use unmire_model::range::Scalar;
use unmire_model::trail::{Dimension, Origin, Step};
use unmire_model::vehicle::Winch;
use unmire_model::{Current, Force, Range, Recorder, Speed, Time, Voltage};

/// What turns the drum, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriveKind {
    /// An electric motor.
    Electric,
    /// A hydraulic motor.
    Hydraulic,
    /// A driven capstan.
    Capstan,
    /// A person on a lever.
    Hand,
    /// A vehicle that drives.
    Tow,
}
impl DriveKind {
    /// The word, as in table `winch_speed_band`.
    ///
    /// # Source
    /// None: naming.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Electric => "electric",
            Self::Hydraulic => "hydraulic",
            Self::Capstan => "capstan",
            Self::Hand => "hand",
            Self::Tow => "tow",
        }
    }
}

/// What must be told beside the figures of a motor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct MotorFlags {
    /// Nobody said what drives the winch.
    pub drive_assumed: bool,
    /// The current comes from a band.
    pub current_assumed: bool,
    /// The speed comes from a band.
    pub speed_assumed: bool,
    /// The sheet's points do not go one way: a straight line through them stands in.
    pub sheet_fitted: bool,
    /// The longest run or the rest is a band.
    pub duty_assumed: bool,
    /// No battery is described.
    pub battery_untold: bool,
}
impl MotorFlags {
    /// The flags that are up, as findings.
    ///
    /// # Source
    /// None: texts only.
    #[must_use]
    pub fn warnings(&self) -> Vec<Warning> {
        let all = [
            (
                self.drive_assumed,
                "drive-assumed",
                "what drives this winch is not told: an electric motor at 12 V is assumed",
            ),
            (
                self.current_assumed,
                "current-assumed",
                "no data sheet tells the current: a band round one published winch, half as much again from end to end",
            ),
            (
                self.speed_assumed,
                "speed-assumed",
                "no data sheet tells the speed of the line: a band round three published winches, a factor of two from end to end",
            ),
            (
                self.sheet_fitted,
                "sheet-fitted",
                "the points of the data sheet do not go one way: a straight line through all of them stands in",
            ),
            (
                self.duty_assumed,
                "duty-assumed",
                "how long the motor may run is not told: texts differ by a factor of nine, and the range with them",
            ),
            (
                self.battery_untold,
                "battery-untold",
                "no battery is described: what is left in it and how far its voltage sags are not known",
            ),
        ];
        all.into_iter().filter(|a| a.0).map(|a| Warning::new(a.1, a.2)).collect()
    }
}

/// The electric side of a winch.
#[derive(Clone, Debug, PartialEq)]
pub struct Electric {
    /// Voltage that it is made for.
    pub nominal: Voltage,
    /// Current against pull on the first layer.
    pub current: Curve<Current>,
    /// Current at the rated pull on the first layer, likely.
    pub at_rated: Current,
    /// Longest run at the rated pull from cold.
    pub run: Range<Time>,
    /// Rest until it is cold again.
    pub rest: Range<Time>,
    /// The battery, if told.
    pub battery: Option<Battery>,
    /// What the alternator gives; nothing if not told.
    pub alternator: Range<Current>,
}

/// A winch's drive, made ready for many pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct WinchMotor {
    /// What pulls.
    pub kind: DriveKind,
    /// Rated pull on the first layer.
    pub rated: Force,
    /// Stall on the first layer.
    pub stall: Range<Force>,
    /// Speed of the line on the first layer against pull there.
    pub speed: Curve<Speed>,
    /// The electric side, if it has one.
    pub electric: Option<Electric>,
    /// What must be told.
    pub flags: MotorFlags,
}

/// What a winch draws and does at one line pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// The pull that would ask the same of the motor on the first layer.
    pub first_layer: Range<Force>,
    /// Current; none where nothing electric turns it.
    pub current: Option<Range<Current>>,
    /// Speed of the line.
    pub speed: Range<Speed>,
    /// Whether it may stop there: the low end of its stall is reached.
    pub may_stall: bool,
    /// Whether the sheet ends before that pull.
    pub outside: bool,
}

impl WinchMotor {
    /// The drive of a vehicle's winch.
    ///
    /// # Source
    /// The case's data sheet; else tables `winch_motor`, `winch_speed_band`, `winch_duty`: likely values and ends round what
    /// `winch-current-page`, `winch-speed-page` and `winch-manual-duty-a` print (read), ends `own-judgement`.
    ///
    /// # Errors
    /// If a number of the winch or of its sheet is not in order.
    pub fn of(winch: &Winch) -> Result<Self, MechanicsError> {
        let rated = Force::from_n(positive(
            "the rated pull of the winch",
            winch.rated_pull.value.as_n(),
            "a force greater than zero",
        )?);
        let (stall, _) = stall_first_layer(winch);
        let mut flags = MotorFlags { drive_assumed: winch.drive.is_none(), ..MotorFlags::default() };
        let sheet: &[SheetPoint] = winch.drive.as_ref().map_or(&[], |d| &d.sheet);
        let kind = match winch.drive.as_ref().map(|d| &d.motor) {
            None | Some(Motor::Electric(_)) => DriveKind::Electric,
            Some(Motor::Hydraulic) => DriveKind::Hydraulic,
            Some(Motor::Capstan { .. }) => DriveKind::Capstan,
        };
        let speeds: Vec<(Force, Speed)> = sheet.iter().filter_map(|p| Some((p.pull, p.speed?))).collect();
        let speed = match from_sheet(&speeds, lookup::sheet_speed(), Course::Falls, &mut flags)? {
            Some(c) => c,
            None => {
                flags.speed_assumed = true;
                speed_band(kind, rated)?
            }
        };
        let electric =
            if kind == DriveKind::Electric { Some(electric(winch, rated, sheet, &mut flags)?) } else { None };
        Ok(Self { kind, rated, stall, speed, electric, flags })
    }

    /// A lever-driven puller or a vehicle that drives: rated pull and stall as they are, speed from a band.
    ///
    /// # Source
    /// Table `winch_speed_band`, rows for hand and tow: `own-judgement`.
    ///
    /// # Errors
    /// If the rated pull is not greater than zero.
    pub fn by_band(kind: DriveKind, rated: Force, stall: Range<Force>) -> Result<Self, MechanicsError> {
        positive("what the puller is rated for", rated.as_n(), "a force greater than zero")?;
        let flags = MotorFlags { speed_assumed: true, ..MotorFlags::default() };
        let speed = speed_band(kind, rated)?;
        Ok(Self { kind, rated, stall, speed, electric: None, flags })
    }

    /// What it draws and does at this line pull, where a newton on this layer counts as 1 ÷ `share` newtons on the first.
    ///
    /// Beyond the sheet's last point the speed falls straight to nothing at the stall: its low end at the stall's low end, its
    /// high end at the high end.
    ///
    /// # Source
    /// `rated-line-pull-page` (read): the pull on any layer is what the torque of the rated pull on the first layer gives.
    /// Speed by layer: `statics`, the same turns on a greater radius.
    #[must_use]
    pub fn running(&self, pull: &Range<Force>, share: &Range<f64>) -> Running {
        // The least share asks most of the motor.
        let first_layer =
            Range::hull(pull.low() / share.high(), pull.likely() / share.likely(), pull.high() / share.low());
        let mut outside = false;
        let mut speed = |f: Force, share: f64| {
            let r = self.speed.at(f);
            outside |= r.outside;
            let end = self.speed.end();
            let value = if f > end {
                let last = self.speed.at(end).value;
                let left = |from: Speed, stall: Force| {
                    let t = (stall - f) / (stall - end);
                    if t > 0.0 { from * t } else { Speed::ZERO }
                };
                Range::hull(
                    left(last.low(), self.stall.low()),
                    left(last.likely(), self.stall.likely()),
                    left(last.high(), self.stall.high()),
                )
            } else {
                r.value
            };
            value.increasing(|v: Speed| v / share)
        };
        // A thicker layer asks more of the motor and brings in more line a turn: either end of the share may be the slow one.
        let slow = speed(pull.high() / share.low(), share.low()).low();
        let slow = slow.min(speed(pull.high() / share.high(), share.high()).low());
        let likely = speed(first_layer.likely(), share.likely()).likely();
        let fast = speed(pull.low() / share.high(), share.high()).high();
        let fast = fast.max(speed(pull.low() / share.low(), share.low()).high());
        let current = self.electric.as_ref().map(|e| {
            let at = |f: Force| e.current.at(f).value;
            Range::hull(at(first_layer.low()).low(), at(first_layer.likely()).likely(), at(first_layer.high()).high())
        });
        let outside = outside || self.electric.as_ref().is_some_and(|e| e.current.at(first_layer.high()).outside);
        Running {
            first_layer,
            current,
            speed: Range::hull(slow, likely, fast),
            may_stall: first_layer.high() >= self.stall.low(),
            outside,
        }
    }

    /// As [`WinchMotor::running`], with its step in the trail.
    ///
    /// # Source
    /// `rated-line-pull-page`, as [`WinchMotor::running`].
    pub fn running_recorded(&self, pull: &Range<Force>, share: &Range<f64>, rec: &mut impl Recorder) -> Running {
        let r = self.running(pull, share);
        rec.record(|| {
            let s = Step::range("speed of the line", "v", "v = v₁(F / s) / s", &r.speed, "rated-line-pull-page")
                .input_range("F", pull, Origin::Earlier)
                .input_range("s", share, Origin::Earlier);
            if self.flags.speed_assumed { s.note("from a band: no data sheet tells the speed") } else { s }
        });
        if let Some(i) = &r.current {
            rec.record(|| {
                let s = Step::range("current of the winch", "I", "I = I₁(F / s)", i, "winch-current-page")
                    .input_range("F", pull, Origin::Earlier)
                    .input_range("s", share, Origin::Earlier)
                    .input("rated pull", self.rated.as_n(), Dimension::Force, Origin::Earlier);
                if self.flags.current_assumed { s.note("from a band: no data sheet tells the current") } else { s }
            });
        }
        r
    }
}

/// The curve of a sheet, with the scatter of its kind; none if it has fewer than two points of that quantity.
fn from_sheet<Q: Scalar>(
    points: &[(Force, Q)],
    scatter: Range<f64>,
    course: Course,
    flags: &mut MotorFlags,
) -> Result<Option<Curve<Q>>, MechanicsError> {
    if points.len() < 2 {
        return Ok(None);
    }
    let wide = |v: f64| scatter.increasing(|k: f64| Q::of_si(v * k));
    let plain: Vec<(Force, Range<Q>)> = points.iter().map(|(f, q)| (*f, wide(q.si()))).collect();
    match Curve::through(plain, course) {
        Ok(c) => Ok(Some(c)),
        Err(why) => {
            // Points that go up and down: one straight line through all of them, if that goes the right way.
            let bare: Vec<(Force, f64)> = points.iter().map(|(f, q)| (*f, q.si())).collect();
            let fit = fit_line(&bare)?;
            let (first, last) = match (points.first(), points.last()) {
                (Some(a), Some(b)) => (a.0, b.0),
                _ => return Ok(None),
            };
            let at = |f: Force| wide((fit.at_zero + fit.slope * f.as_n()).max(0.0));
            let c = Curve::through(vec![(first, at(first)), (last, at(last))], course).map_err(|_| why)?;
            flags.sheet_fitted = true;
            Ok(Some(c))
        }
    }
}

/// The speed's band by the share of the rated pull.
fn speed_band(kind: DriveKind, rated: Force) -> Result<Curve<Speed>, MechanicsError> {
    let m_per_min = |v: f64| Speed::from_m_s(v / 60.0);
    let points =
        lookup::speed_band(kind.word()).map(|(share, band)| (rated * share, band.increasing(m_per_min))).collect();
    Curve::through(points, Course::Falls)
}

fn electric(
    winch: &Winch,
    rated: Force,
    sheet: &[SheetPoint],
    flags: &mut MotorFlags,
) -> Result<Electric, MechanicsError> {
    let twelve = Voltage::from_v(12.0);
    let none = Range::hull(Current::ZERO, Current::ZERO, Current::ZERO);
    let told = match winch.drive.as_ref().map(|d| &d.motor) {
        Some(Motor::Electric(e)) => {
            (e.nominal.value, e.battery.clone(), e.alternator.as_ref(), e.run_at_rated.as_ref(), e.rest.as_ref())
        }
        _ => (twelve, None, None, None, None),
    };
    let (nominal, battery, alternator, run, rest) = told;
    positive("the voltage of the winch", nominal.as_v(), "12 V or 24 V")?;
    let currents: Vec<(Force, Current)> = sheet.iter().filter_map(|p| Some((p.pull, p.current?))).collect();
    let current = match from_sheet(&currents, lookup::sheet_current(), Course::Rises, flags)? {
        Some(c) => c,
        None => {
            flags.current_assumed = true;
            let (idle, per_kn) = lookup::current_line();
            // The same power at twice the voltage takes half the current.
            let k = twelve / nominal;
            let amps = |a: f64| Current::from_a(a * k);
            let at_rated = per_kn.increasing(|a: f64| amps(a * rated.as_kn()));
            Curve::through(vec![(Force::ZERO, idle.increasing(amps)), (rated, at_rated)], Course::Rises)?
        }
    };
    let (run_band, rest_band) = lookup::duty();
    flags.duty_assumed = run.is_none() || rest.is_none();
    flags.battery_untold = battery.is_none();
    let at_rated = current.at(rated).value.likely();
    Ok(Electric {
        nominal,
        at_rated,
        current,
        run: run.map_or(run_band, |i| i.value),
        rest: rest.map_or(rest_band, |i| i.value),
        battery,
        alternator: alternator.map_or(none, |i| i.value),
    })
}

/// What a winch draws and does with so much line off its drum: by the layer that works there.
///
/// # Source
/// `rated-line-pull-page` (read), as [`WinchMotor::running`]; layers as [`super::winch_at`].
///
/// # Errors
/// As [`super::winch_at`].
pub fn running_at(
    winch: &Winch,
    motor: &WinchMotor,
    line_out: unmire_model::Length,
    pull: &Range<Force>,
    rec: &mut impl Recorder,
) -> Result<Running, MechanicsError> {
    let share = first_layer_share(winch, line_out)?;
    Ok(motor.running_recorded(pull, &share, rec))
}

#[cfg(test)]
mod tests {
    use super::super::tests::winch;
    use super::*;
    use unmire_model::drive::{Drive, Electrics};
    use unmire_model::trail::Input;
    use unmire_model::{Length, Silent, Trail};

    fn exact<Q: Scalar>(v: Q) -> Range<Q> {
        Range::hull(v, v, v)
    }

    #[test]
    fn closed_form_a_full_drum_asks_the_motor_for_more_and_winds_faster() {
        let w = winch();
        let m = WinchMotor::of(&w).unwrap();
        let pull = exact(Force::from_kn(10.0));
        let one = running_at(&w, &m, Length::from_m(20.0), &pull, &mut Silent).unwrap();
        let three = running_at(&w, &m, Length::from_m(6.0), &pull, &mut Silent).unwrap();
        assert!((one.first_layer.likely().as_kn() - 10.0).abs() < 1e-9);
        assert!((three.first_layer.likely().as_kn() - 10.0 * 52.0 / 36.0).abs() < 1e-9);
        assert!(three.current.unwrap().likely() > one.current.unwrap().likely());
        assert!(m.flags.drive_assumed && m.flags.current_assumed && m.flags.speed_assumed && m.flags.battery_untold);
        assert_eq!(m.flags.warnings().len(), 5);
    }

    #[test]
    fn closed_form_beyond_the_rated_pull_it_slows_down_and_stops_at_its_stall() {
        let mut w = winch();
        w.stall =
            Some(Input::assumed(Range::hull(Force::from_kn(40.0), Force::from_kn(42.0), Force::from_kn(44.0)), "t"));
        let m = WinchMotor::of(&w).unwrap();
        let share = exact(1.0);
        let at = |kn: f64| m.running(&exact(Force::from_kn(kn)), &share);
        let rated = at(35.6).speed;
        assert!(at(38.0).speed.likely() < rated.likely() && at(38.0).speed.likely() > Speed::ZERO);
        assert_eq!(at(40.0).speed.low(), Speed::ZERO);
        assert!(at(40.0).speed.high() > Speed::ZERO && at(40.0).may_stall && !at(35.6).may_stall);
        assert_eq!(at(44.0).speed.high(), Speed::ZERO);
        assert!((at(42.0).speed.likely().as_m_s()).abs() < 1e-15);
    }

    #[test]
    fn closed_form_a_sheet_is_read_as_it_stands_and_one_that_wavers_is_fitted() {
        let mut w = winch();
        let point =
            |kn: f64, a: f64| SheetPoint { pull: Force::from_kn(kn), current: Some(Current::from_a(a)), speed: None };
        let electric = |sheet| {
            Some(Drive {
                motor: Motor::Electric(Box::new(Electrics {
                    nominal: Input::assumed(Voltage::from_v(12.0), "t"),
                    battery: None,
                    alternator: None,
                    run_at_rated: None,
                    rest: None,
                })),
                sheet,
            })
        };
        w.drive = electric(vec![point(0.0, 60.0), point(20.0, 200.0), point(35.6, 400.0)]);
        let m = WinchMotor::of(&w).unwrap();
        let amps = m.running(&exact(Force::from_kn(10.0)), &exact(1.0)).current.unwrap();
        assert!((amps.likely().as_a() - 130.0).abs() < 1e-9);
        assert!(!m.flags.current_assumed && !m.flags.sheet_fitted);
        w.drive = electric(vec![point(0.0, 60.0), point(20.0, 220.0), point(30.0, 210.0), point(35.6, 400.0)]);
        let m = WinchMotor::of(&w).unwrap();
        assert!(m.flags.sheet_fitted);
        w.drive = electric(vec![point(0.0, 400.0), point(20.0, 220.0)]);
        assert!(WinchMotor::of(&w).is_err());
    }

    #[test]
    fn balance_recording_changes_no_bit_of_what_a_winch_draws() {
        let w = winch();
        let m = WinchMotor::of(&w).unwrap();
        let pull = Range::hull(Force::from_kn(8.0), Force::from_kn(12.0), Force::from_kn(20.0));
        let mut t = Trail::default();
        let a = running_at(&w, &m, Length::from_m(12.0), &pull, &mut Silent).unwrap();
        let b = running_at(&w, &m, Length::from_m(12.0), &pull, &mut t).unwrap();
        assert_eq!(a, b);
        assert_eq!(t.steps.len(), 2);
    }
}
