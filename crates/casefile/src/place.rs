//! Getters for places and directions.

use crate::key::Kind;
use crate::walk::{Found, Mistake, Node, Walk, assignment, expected, number, wrong_type};
use toml::Spanned;
use toml::de::DeValue;
use unmire_model::quantity::text::{TextError, Written, read_one};
use unmire_model::trail::Input;
use unmire_model::{Angle, Length, Vec3};

/// Greatest coordinate of a case, metres. A line is never longer.
const FAR: f64 = 1000.0;
/// Greatest coordinate of a bare rig, metres.
const FAR_BARE: f64 = 1e6;

fn coordinate(w: &mut Walk<'_>, f: &Found<'_, '_>, item: &Spanned<DeValue<'_>>, far: f64) -> Option<f64> {
    let value = match item.get_ref() {
        DeValue::String(s) => match read_one::<Length>(s) {
            Ok(l) => l.as_m(),
            Err(e) => {
                w.tell(
                    Mistake::new("bad-value", item.span(), format!("`{}`: {}", f.key.name, e.message))
                        .expected(expected(f.key))
                        .example(assignment(f.key))
                        .maybe_hint(e.hint),
                );
                return None;
            }
        },
        other => match number(other) {
            Some(n) => n,
            None => {
                w.tell(
                    Mistake::new(
                        "wrong-type",
                        item.span(),
                        format!("a coordinate of `{}` is {}", f.key.name, crate::walk::what_it_is(other)),
                    )
                    .expected(expected(f.key))
                    .example(assignment(f.key)),
                );
                return None;
            }
        },
    };
    if !value.is_finite() || value.abs() > far {
        w.tell(
            Mistake::new(
                "out-of-range",
                item.span(),
                format!(
                    "a coordinate of `{}` is {}",
                    f.key.name,
                    if value.is_finite() { "not believable" } else { "not an ordinary number" }
                ),
            )
            .expected(format!("metres from -{far} to {far}"))
            .example(assignment(f.key))
            .hint("coordinates count from the middle of the stuck vehicle's wheelbase"),
        );
        return None;
    }
    Some(value)
}

fn triple(
    w: &mut Walk<'_>,
    f: &Found<'_, '_>,
    value: &DeValue<'_>,
    span: core::ops::Range<usize>,
    least: usize,
    far: f64,
) -> Option<Vec3> {
    let DeValue::Array(items) = value else {
        w.tell(
            Mistake::new(
                "wrong-type",
                span,
                format!("`{}` is {}, not a place", f.key.name, crate::walk::what_it_is(value)),
            )
            .expected(expected(f.key))
            .example(assignment(f.key)),
        );
        return None;
    };
    if items.len() < least || items.len() > 3 {
        w.tell(
            Mistake::new("wrong-type", span, format!("`{}` has {} coordinates", f.key.name, items.len()))
                .expected(expected(f.key))
                .example(assignment(f.key)),
        );
        return None;
    }
    let mut c = [0.0; 3];
    let mut good = true;
    for (slot, item) in c.iter_mut().zip(items.iter()) {
        match coordinate(w, f, item, far) {
            Some(v) => *slot = v,
            None => good = false,
        }
    }
    good.then(|| Vec3::new(c[0], c[1], c[2]))
}

/// Reads a direction seen from above: `ahead`, `20 deg left`; left is positive.
pub(crate) fn read_heading(text: &str) -> Result<Angle, TextError> {
    let clean = text.trim().to_ascii_lowercase();
    let quarter = Angle::HALF_TURN * 0.5;
    let plain = match clean.as_str() {
        "ahead" | "forward" | "forwards" => Some(Angle::ZERO),
        "back" | "backward" | "backwards" | "behind" => Some(Angle::HALF_TURN),
        "left" => Some(quarter),
        "right" => Some(-quarter),
        _ => None,
    };
    if let Some(a) = plain {
        return Ok(a);
    }
    let fail = |message: String| TextError {
        at: 0,
        len: text.len().max(1),
        message,
        expected: "ahead, back, left, right, or an angle to one side".into(),
        example: "20 deg left".into(),
        hint: None,
    };
    let (number, side) = match (clean.strip_suffix("left"), clean.strip_suffix("right")) {
        (Some(n), _) => (n, 1.0),
        (_, Some(n)) => (n, -1.0),
        _ => return Err(fail(format!("`{}` does not say to which side", text.trim()))),
    };
    let angle: Angle = read_one(number)?;
    if angle.as_rad() < 0.0 || angle > Angle::HALF_TURN * (1.0 + 1e-12) {
        return Err(fail(format!("`{}` is not an angle from 0 deg to 180 deg to one side", text.trim())));
    }
    Ok(angle * side)
}

/// Brings an angle into the half-open turn from minus half a turn (not in it) to half a turn (in it).
pub(crate) fn wrapped(a: Angle) -> Angle {
    let turn = 2.0 * core::f64::consts::PI;
    let mut r = a.as_rad() % turn;
    if r > core::f64::consts::PI {
        r -= turn;
    } else if r <= -core::f64::consts::PI {
        r += turn;
    }
    Angle::from_rad(r)
}

impl Node<'_, '_> {
    /// Coordinates in a case.
    pub(crate) fn position(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec3> {
        let f = self.find(w, name)?;
        triple(w, &f, f.value, f.span.clone(), 3, FAR)
    }
    /// Coordinates in a bare rig.
    pub(crate) fn bare_position(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec3> {
        let f = self.find(w, name)?;
        triple(w, &f, f.value, f.span.clone(), 3, FAR_BARE)
    }
    /// Corners.
    pub(crate) fn outline(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec<Vec3>> {
        let f = self.find(w, name)?;
        let DeValue::Array(items) = f.value else {
            w.tell(wrong_type(&f, f.value, "a list of places"));
            return None;
        };
        if items.len() < 2 || items.len() > 200 {
            w.tell(
                Mistake::new("wrong-type", f.span.clone(), format!("`{name}` has {} corners", items.len()))
                    .expected("2 to 200 places: two make a line, three or more an area")
                    .example(assignment(f.key)),
            );
            return None;
        }
        let corners: Vec<_> = items.iter().map(|i| triple(w, &f, i.get_ref(), i.span(), 2, FAR)).collect();
        corners.into_iter().collect()
    }
    /// A direction in space, as a unit vector.
    pub(crate) fn vector(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec3> {
        let f = self.find(w, name)?;
        if let DeValue::String(s) = f.value {
            let v = match s.trim() {
                "ahead" => Vec3::new(1.0, 0.0, 0.0),
                "back" => Vec3::new(-1.0, 0.0, 0.0),
                "left" => Vec3::new(0.0, 1.0, 0.0),
                "right" => Vec3::new(0.0, -1.0, 0.0),
                "up" => Vec3::UP,
                "down" => -Vec3::UP,
                _ => {
                    let shown: String = s.chars().take(40).collect();
                    w.tell(
                        Mistake::new(
                            "unknown-word",
                            f.span.clone(),
                            format!("`{name}` = \"{shown}\" is not a direction"),
                        )
                        .expected(expected(f.key))
                        .example(assignment(f.key)),
                    );
                    return None;
                }
            };
            return Some(v);
        }
        let v = triple(w, &f, f.value, f.span.clone(), 3, FAR_BARE)?;
        if v.unit().is_none() {
            w.tell(
                Mistake::new("bad-value", f.span.clone(), format!("`{name}` has no length, so no direction"))
                    .expected(expected(f.key))
                    .example(assignment(f.key)),
            );
            return None;
        }
        Some(v)
    }
    /// A direction seen from above, from the heading.
    pub(crate) fn heading(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Angle>> {
        let f = self.find(w, name)?;
        debug_assert!(matches!(f.key.kind, Kind::Heading));
        let t = f.text(w)?;
        match read_heading(&t) {
            Ok(a) => Some(Input::new(a, f.origin(w))),
            Err(e) => {
                f.tell_text(w, e);
                None
            }
        }
    }
    /// A compass bearing.
    pub(crate) fn bearing(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Input<Angle>> {
        let f = self.find(w, name)?;
        let a = Angle::from_si(f.one(w, Angle::NOTATION)?);
        if a.as_rad() < 0.0 || a.as_deg() > 360.0 + 1e-9 {
            w.tell(
                Mistake::new("out-of-range", f.span.clone(), format!("`{name}` is not a compass bearing"))
                    .expected(expected(f.key))
                    .example(assignment(f.key)),
            );
            return None;
        }
        Some(Input::new(a, f.origin(w)))
    }
}
