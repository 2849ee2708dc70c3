//! Terramechanics of the whole vehicle: four wheels alike.

use super::bekker::{Bekker, bekker, soil, soil_thrust};
use super::need::Scene;
use crate::error::MechanicsError;
use unmire_model::trail::Recorder;
use unmire_model::{Area, Force, Length, Range, Silent};
use unmire_tables::How;

/// Terramechanics of the whole vehicle.
pub(super) struct Terra {
    /// One wheel at the likely weight.
    pub wheel: Bekker,
    /// Compaction under four wheels.
    pub total: Range<Force>,
    /// The most that the soil pushes back under four driven wheels.
    pub traction: Range<Force>,
    /// Standing of the soil's row.
    pub how: How,
}

/// Compaction under four wheels that share the weight evenly, and the most that the soil pushes back; none where soil or tyres are
/// not described.
pub(super) fn terramechanics(
    scene: &Scene<'_>,
    weight: &Range<Force>,
    rec: &mut impl Recorder,
) -> Result<Option<Terra>, MechanicsError> {
    let (Some(key), Some(tyres)) = (&scene.ground.soil, &scene.vehicle.tyres) else {
        return Ok(None);
    };
    let row = soil(&key.value)?;
    let cos = scene.way_out.grade.value.likely().cos();
    let at = |w: Force, rec: &mut _| bekker(&row, w * (0.25 * cos), tyres.width, tyres.diameter, rec);
    let mut silent = Silent;
    let low = bekker(&row, weight.low() * (0.25 * cos), tyres.width, tyres.diameter, &mut silent)?;
    let high = bekker(&row, weight.high() * (0.25 * cos), tyres.width, tyres.diameter, &mut silent)?;
    let wheel = at(weight.likely(), rec)?;
    let total = Range::hull(low.resistance * 4.0, wheel.resistance * 4.0, high.resistance * 4.0);
    // Contact length of a rigid wheel sunk by z: the chord √(z (D − z)), z at most half of the wheel.
    let thrust = |w: Force, z: Length| {
        let d = tyres.diameter.as_m();
        let z = if z.as_m() > 0.5 * d { 0.5 * d } else { z.as_m() };
        let area = Area::from_m2(tyres.width.as_m() * (z * (d - z)).sqrt());
        soil_thrust(&row, w * (0.25 * cos), area).map(|t| t * 4.0)
    };
    let traction = Range::hull(
        thrust(weight.low(), low.sinkage)?,
        thrust(weight.likely(), wheel.sinkage)?,
        thrust(weight.high(), high.sinkage)?,
    );
    Ok(Some(Terra { wheel, total, traction, how: row.how }))
}
