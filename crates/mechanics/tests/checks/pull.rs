//! From a row about drives, lowering and tipping to the function.

use crate::row::Row;
use unmire_mechanics::stability::{Pull, ground_axes, tip};
use unmire_mechanics::winch::{HydraulicMotor, Lay, WinchMotor};
use unmire_mechanics::{lowering, winch};
use unmire_model::drive::Battery;
use unmire_model::ground::WayOut;
use unmire_model::range::Scalar;
use unmire_model::trail::Input;
use unmire_model::vehicle::{Drum, Vehicle, Winch};
use unmire_model::{Angle, Charge, Current, Force, Length, Mass, Ohms, Pressure, Range, Silent, Time, Vec3, Voltage};

type Outcome = Result<f64, String>;

fn no(e: impl core::fmt::Debug) -> String {
    format!("{e:?}")
}
fn exact<Q: Scalar>(v: Q) -> Range<Q> {
    Range::hull(v, v, v)
}
fn given<Q: Scalar>(v: Q) -> Input<Range<Q>> {
    Input::assumed(exact(v), "a row")
}
fn of<Q: Scalar>(r: &Row, key: &str) -> Result<Q, String> {
    r.num(key).map(Q::of_si)
}
fn range<Q: Scalar>(r: &Row, key: &str) -> Result<Range<Q>, String> {
    of(r, key).map(exact)
}
fn length(r: &Row, key: &str) -> Result<Length, String> {
    of(r, key)
}
fn hydraulic(r: &Row) -> Result<HydraulicMotor, String> {
    let efficiency = r.num("efficiency")?;
    Ok(HydraulicMotor {
        displacement: r.num("displacement")?,
        ratio: r.num("ratio")?,
        torque_efficiency: efficiency,
        flow_efficiency: efficiency,
    })
}
fn battery(r: &Row, capacity: Charge) -> Result<Battery, String> {
    let resistance = if r.has("resistance") { Some(given(of::<Ohms>(r, "resistance")?)) } else { None };
    Ok(Battery { capacity: given(capacity), filled: given(r.num("filled")?), resistance })
}
fn twelve() -> Voltage {
    Voltage::from_v(12.0)
}

/// The value in SI; none if the formula is not one of these.
pub fn value(r: &Row, plain: impl Fn() -> Winch) -> Option<Outcome> {
    let s = &mut Silent;
    let with_rating = || {
        let mut w = plain();
        w.rated_pull.value = of(r, "rated")?;
        Ok::<Winch, String>(w)
    };
    Some((|| {
        Ok(match (r.formula.as_str(), r.out.as_str()) {
            ("winch::running_at", "current") => {
                // All line off: the first layer.
                let mut w = with_rating()?;
                w.drum = Some(Drum { diameter: Length::from_mm(64.0), width: Length::from_mm(229.0) });
                let motor = WinchMotor::of(&w).map_err(no)?;
                let out = w.line.length;
                let run = winch::running_at(&w, &motor, out, &range(r, "pull")?, s).map_err(no)?;
                run.current.ok_or("no current")?.likely().as_a()
            }
            ("winch::longest_run", "") => {
                let share = if r.has("current_share") {
                    r.num("current_share")?
                } else {
                    let w = with_rating()?;
                    let motor = WinchMotor::of(&w).map_err(no)?;
                    let pull: Force = w.rated_pull.value * r.num("share")?;
                    let current = motor.running(&exact(pull), &exact(1.0)).current.ok_or("no current")?;
                    current.likely() / motor.electric.as_ref().ok_or("not electric")?.at_rated
                };
                winch::longest_run(share, &range(r, "run")?).map_err(no)?.likely().as_s()
            }
            ("winch::heat", "") => {
                winch::heat(&range(r, "current_share")?, &range(r, "time")?, &range(r, "run")?, s).likely()
            }
            ("winch::rests", "") => f64::from(winch::rests(r.num("heat")?)),
            ("winch::drum_capacity", "") => {
                let drum = Drum { diameter: length(r, "drum")?, width: length(r, "width")? };
                winch::drum_capacity(&drum, length(r, "line")?, r.count("layer")?, Lay::Stacked).map_err(no)?.as_m()
            }
            ("winch::first_layer_pull_by_step", "") => {
                winch::first_layer_pull_by_step(of(r, "pull")?, r.num("step")?, r.count("layer")?).map_err(no)?.as_n()
            }
            ("winch::first_layer_pull", "") => {
                let drum = Drum { diameter: length(r, "drum")?, width: Length::from_mm(229.0) };
                winch::first_layer_pull(of(r, "pull")?, &drum, length(r, "line")?, r.count("layer")?, Lay::Stacked)
                    .map_err(no)?
                    .as_n()
            }
            ("winch::capstan_grip", "") => {
                winch::capstan_grip(of(r, "tail")?, r.num("turns")?, &range(r, "friction")?, s)
                    .map_err(no)?
                    .likely()
                    .as_n()
            }
            ("winch::capstan_tail", "") => {
                winch::capstan_tail(of(r, "pull")?, r.num("turns")?, &range(r, "friction")?, s)
                    .map_err(no)?
                    .likely()
                    .as_n()
            }
            ("winch::capstan_turns", "") => {
                f64::from(winch::capstan_turns(of(r, "pull")?, of(r, "tail")?, r.num("friction")?).map_err(no)?)
            }
            ("winch::resting_voltage", "") => winch::resting_voltage(r.num("filled")?, twelve()).map_err(no)?.as_v(),
            ("winch::drawn", "") => {
                let (i, a) = (range::<Current>(r, "current")?, range::<Current>(r, "alternator")?);
                winch::drawn(&i, &a, &range::<Time>(r, "time")?).likely().as_as()
            }
            ("winch::terminal_voltage", "") => {
                let b = battery(r, Charge::from_ah(80.0))?;
                winch::terminal_voltage(&b, &range(r, "filled")?, &range(r, "current")?, twelve(), s)
                    .map_err(no)?
                    .likely()
                    .as_v()
            }
            ("winch::filled_after", "") => {
                let b = battery(r, of(r, "capacity")?)?;
                winch::filled_after(&b, &range(r, "charge")?, s).map_err(no)?.likely()
            }
            ("winch::hydraulic_pull", "") => {
                let p: Pressure = of(r, "pressure")?;
                winch::hydraulic_pull(&hydraulic(r)?, p, length(r, "radius")?).map_err(no)?.as_n()
            }
            ("winch::hydraulic_speed", "") => {
                winch::hydraulic_speed(&hydraulic(r)?, r.num("flow")?, length(r, "radius")?).map_err(no)?.as_m_s()
            }
            ("lowering::lowering_tension", "") => {
                let (w, a) = (range::<Force>(r, "weight")?, range::<Angle>(r, "slope")?);
                lowering::lowering_tension(&w, &a, &range(r, "rolling")?, s).map_err(no)?.likely().as_n()
            }
            ("lowering::brake_trunk_load", "") => {
                lowering::brake_trunk_load(of(r, "load")?, of(r, "tail")?).map_err(no)?.as_n()
            }
            ("lowering::winch_brake_holds", "") => {
                lowering::winch_brake_holds(of(r, "rated")?, r.num("share")?).map_err(no)?.as_n()
            }
            ("stability::tip", "") => tipping(r)?,
            _ => return Err(String::new()),
        })
    })())
    .filter(|v: &Outcome| v != &Err(String::new()))
}

/// The line pull at which it begins to tip, along the ground at this height.
fn tipping(r: &Row) -> Outcome {
    let slope = if r.has("slope") { r.num("slope")? } else { 0.0 };
    let out = WayOut {
        bearing: Input::assumed(Angle::ZERO, "a row"),
        grade: given(Angle::ZERO),
        side_slope: Input::assumed(Angle::from_rad(slope), "a row"),
        distance: given(Length::from_m(5.0)),
    };
    let vehicle = Vehicle {
        name: "v".into(),
        mass: given(of::<Mass>(r, "mass")?),
        payload: None,
        wheelbase: Some(Input::assumed(length(r, "wheelbase")?, "a row")),
        track: Some(Input::assumed(length(r, "track")?, "a row")),
        cg_height: Some(given(length(r, "cg")?)),
        points: Vec::new(),
        winch: None,
        tyres: None,
    };
    let axes = ground_axes(&out, Angle::ZERO);
    let (along, over) = match r.text("direction")? {
        "left" => (axes.left, "left"),
        "right" => (-axes.left, "right"),
        "ahead" => (axes.ahead, "nose"),
        "back" => (-axes.ahead, "tail"),
        other => return Err(format!("direction {other}")),
    };
    let one = Force::from_kn(1.0);
    let pull = Pull { at: Vec3::new(0.0, 0.0, r.num("height")?), force: along * one.as_n() };
    let found = tip(&vehicle, &axes, &[pull], &mut Silent).map_err(no)?;
    if found.over.word() != over {
        return Err(format!("it would go over the {}", found.over.word()));
    }
    Ok(found.factor.ok_or("nothing tips it")?.likely() * one.as_n())
}
