//! The drum: how much line lies on which layer, and at which radius.

use crate::error::{MechanicsError, not_negative, positive};
use unmire_model::vehicle::Drum;
use unmire_model::{Force, Length};

/// How one layer lies on the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// Turn on turn: a layer is a whole line diameter thick.
    Stacked,
    /// In the furrows of the layer below: √3 / 2 of it.
    Nested,
}
impl Lay {
    /// Thickness of a layer ÷ line diameter: 1 or √3 / 2.
    ///
    /// # Source
    /// `statics` (circles packed in squares or triangles), derived.
    #[must_use]
    pub fn step(self) -> f64 {
        match self {
            Self::Stacked => 1.0,
            Self::Nested => 0.866_025_403_784_438_6,
        }
    }
}

/// Line on a drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrumLine {
    /// The layer that the next metre comes off, from one.
    pub layer: u32,
    /// Radius to the middle of the line there.
    pub radius: Length,
    /// Pull there ÷ pull on the first layer.
    pub pull_share: f64,
    /// Turns on the drum.
    pub turns: f64,
}

/// Whole turns side by side on a drum: width ÷ line diameter, rounded down.
///
/// # Source
/// `statics` (packing), derived.
///
/// # Errors
/// If a measure is not greater than zero or not even one turn fits.
pub fn wraps_per_layer(drum: &Drum, line: Length) -> Result<f64, MechanicsError> {
    let width = positive("the width of the drum", drum.width.as_m(), "a length greater than zero, for example 229 mm")?;
    let d = positive("the diameter of the line", line.as_m(), "a length greater than zero, for example 8 mm")?;
    // A drum of 224 mm takes 28 turns of 8 mm although 0.224 / 0.008 falls a hair short of 28 in binary.
    let n = (width / d * (1.0 + 1e-12)).floor();
    if n < 1.0 {
        return Err(MechanicsError::BadInput {
            what: "the width of the drum",
            got: width,
            expected: "room for one turn of the line at least",
        });
    }
    Ok(n)
}

/// So much line on this drum: the layer that works, its radius, its share of the first layer's pull and the turns there are.
/// Radius of layer k: `r_k = D / 2 + d / 2 + (k − 1) c d`; a full layer holds `2 π r_k N`.
///
/// # Source
/// `statics`, derived; the shares agree with `tm-9-2320-279-10-2` Table 2-7 (read) within 0.12 %.
///
/// # Errors
/// If a measure is not greater than zero, the line is negative, or it would need more than 10,000 layers.
///
/// # Assumes
/// Every layer is full before the next starts.
pub fn drum_line(drum: &Drum, line: Length, on_drum: Length, lay: Lay) -> Result<DrumLine, MechanicsError> {
    let n = wraps_per_layer(drum, line)?;
    let barrel =
        positive("the diameter of the drum", drum.diameter.as_m(), "a length greater than zero, for example 64 mm")?;
    let mut rest = not_negative("the line on the drum", on_drum.as_m(), "zero or more")?;
    let d = line.as_m();
    let first = 0.5 * (barrel + d);
    let mut turns = 0.0;
    for layer in 1..=10_000_u32 {
        let radius = first + f64::from(layer - 1) * lay.step() * d;
        let around = 2.0 * core::f64::consts::PI * radius;
        let full = around * n;
        if rest <= full {
            turns += rest / around;
            return Ok(DrumLine { layer, radius: Length::from_m(radius), pull_share: first / radius, turns });
        }
        rest -= full;
        turns += n;
    }
    Err(MechanicsError::BadInput {
        what: "the line on the drum",
        got: on_drum.as_m(),
        expected: "a length that goes onto this drum, for example 25 m",
    })
}

/// Line that the given number of full layers holds.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// As [`wraps_per_layer`]; more than 1000 layers are refused.
pub fn drum_capacity(drum: &Drum, line: Length, layers: u32, lay: Lay) -> Result<Length, MechanicsError> {
    if layers > 1000 {
        return Err(MechanicsError::BadInput {
            what: "the number of layers",
            got: f64::from(layers),
            expected: "1 to 1000",
        });
    }
    let n = wraps_per_layer(drum, line)?;
    let barrel = positive("the diameter of the drum", drum.diameter.as_m(), "a length greater than zero")?;
    let d = line.as_m();
    let mut sum = 0.0;
    for k in 0..layers {
        sum += 2.0 * core::f64::consts::PI * (0.5 * (barrel + d) + f64::from(k) * lay.step() * d) * n;
    }
    Ok(Length::from_m(sum))
}

/// Pull on layer k from the pull on the first: `F_k = F₁ r₁ / r_k`.
///
/// # Source
/// `statics`, derived: equal torque.
///
/// # Errors
/// If a measure is not greater than zero or the layer is zero.
pub fn layer_pull(first: Force, drum: &Drum, line: Length, layer: u32, lay: Lay) -> Result<Force, MechanicsError> {
    let barrel = positive("the diameter of the drum", drum.diameter.as_m(), "a length greater than zero")?;
    let d = positive("the diameter of the line", line.as_m(), "a length greater than zero")?;
    layer_pull_by_step(first, lay.step() * d / (0.5 * (barrel + d)), layer)
}

/// Pull on layer k from the pull on the first and the thickness of a layer ÷ radius of the first:
/// `F_k = F₁ / (1 + s (k − 1))`.
///
/// # Source
/// `statics`, derived: equal torque.
///
/// # Errors
/// If the step is negative or the layer is zero.
pub fn layer_pull_by_step(first: Force, step_over_radius: f64, layer: u32) -> Result<Force, MechanicsError> {
    let s = not_negative(
        "the thickness of a layer ÷ radius of the first",
        step_over_radius,
        "zero or more, for example 0.1",
    )?;
    if layer == 0 {
        return Err(MechanicsError::BadInput { what: "the layer", got: 0.0, expected: "1 or more" });
    }
    Ok(first / (1.0 + s * f64::from(layer - 1)))
}

/// Pull on the first layer from the pull on layer k, where a winch is rated on a fuller drum: `F₁ = F_k r_k / r₁`.
///
/// # Source
/// `statics`, derived: equal torque. `sae-j706` (secondary) asks makers for the rated pull on the full drum and on the first layer;
/// `rated-line-pull-page` (read) for the torque. Here a rated pull is always the first layer's.
///
/// # Errors
/// As [`layer_pull`].
pub fn first_layer_pull(
    on_layer: Force,
    drum: &Drum,
    line: Length,
    layer: u32,
    lay: Lay,
) -> Result<Force, MechanicsError> {
    Ok(on_layer / layer_pull(Force::from_n(1.0), drum, line, layer, lay)?.as_n())
}

/// As [`first_layer_pull`], from the thickness of a layer ÷ radius of the first: `F₁ = F_k (1 + s (k − 1))`.
///
/// # Source
/// `statics`, derived: equal torque.
///
/// # Errors
/// As [`layer_pull_by_step`].
pub fn first_layer_pull_by_step(on_layer: Force, step_over_radius: f64, layer: u32) -> Result<Force, MechanicsError> {
    Ok(on_layer / layer_pull_by_step(Force::from_n(1.0), step_over_radius, layer)?.as_n())
}

/// The winch-hire formula for a drum's capacity in feet: `(A + D) A B K`, inches; A depth of the flange above the barrel, D
/// barrel diameter, B width, K a constant of the rope.
///
/// # Source
/// Winch-hire text (`drum-capacity-text`, read for the form).
///
/// # Errors
/// If an input is not greater than zero.
pub fn capacity_formula(flange: Length, barrel: Length, width: Length, k: f64) -> Result<Length, MechanicsError> {
    let a = positive("the depth of the flange", flange.as_inch(), "greater than zero")?;
    let d = positive("the diameter of the barrel", barrel.as_inch(), "greater than zero")?;
    let b = positive("the width of the drum", width.as_inch(), "greater than zero")?;
    let k = positive("the constant of the rope", k, "greater than zero")?;
    Ok(Length::from_foot((a + d) * a * b * k))
}

/// The constant K of [`capacity_formula`] for turns packed in squares: `π / (12 d²)`, d in inches.
///
/// # Source
/// `statics`, derived.
///
/// # Errors
/// If the diameter is not greater than zero.
pub fn drum_capacity_constant(line: Length) -> Result<f64, MechanicsError> {
    let d = positive("the diameter of the line", line.as_inch(), "greater than zero")?;
    Ok(core::f64::consts::PI / (12.0 * d * d))
}
