//! Bands and steps of hardware: bends, chokers, shackles.

use crate::generated::{choke_angle, dd_wire, shackle_side, shackle_temperature};
use unmire_model::Angle;

/// Where a look-up stands against the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Within {
    /// Inside the table.
    Inside,
    /// Beyond the end at which the last row may be kept, on the cautious side.
    Kept,
    /// Beyond the end at which nothing is known.
    Unknown,
}

/// Share of the strength of wire rope left at a ratio of bend to rope diameter, straight lines between the rows.
/// Above the table its greatest row is kept (cautious); below it nothing is known and the result is none.
#[must_use]
pub fn bend_strength(d_over_d: f64) -> Option<(f64, Within)> {
    let rows = dd_wire::ROWS; // greatest ratio first
    let (first, last) = (rows.first()?, rows.last()?);
    if d_over_d.is_nan() || d_over_d < last.d_over_d {
        return None;
    }
    if d_over_d > first.d_over_d {
        return Some((first.strength, Within::Kept));
    }
    rows.windows(2).find_map(|w| match w {
        [hi, lo] if d_over_d >= lo.d_over_d => {
            let share = (d_over_d - lo.d_over_d) / (hi.d_over_d - lo.d_over_d);
            Some((lo.strength + share * (hi.strength - lo.strength), Within::Inside))
        }
        _ => None,
    })
}

/// The band of the choke angle: share of the sling's *choker* rating.
#[must_use]
pub fn choke(angle: Angle) -> Option<&'static choke_angle::Row> {
    let starts = |r: &&choke_angle::Row| angle > r.above || (r.inclusive && angle >= r.above);
    choke_angle::ROWS.iter().find(starts)
}

/// The step of the side load on a shackle; none over the last angle: not permitted.
#[must_use]
pub fn side_load(off_plane: Angle) -> Option<&'static shackle_side::Row> {
    shackle_side::ROWS.iter().find(|r| off_plane.abs() <= r.up_to)
}

/// The step of a shackle's temperature; none above the table: do not use.
#[must_use]
pub fn shackle_heat(celsius: f64) -> Option<&'static shackle_temperature::Row> {
    shackle_temperature::ROWS.iter().find(|r| celsius <= r.up_to_c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_bend_strength_at_the_rows() {
        for (ratio, strength) in [(40.0, 0.95), (20.0, 0.91), (8.0, 0.83), (1.0, 0.50)] {
            assert_eq!(bend_strength(ratio), Some((strength, Within::Inside)), "{ratio}");
        }
    }
    #[test]
    fn closed_form_bend_strength_between_and_beyond() {
        let (s, _) = bend_strength(9.4).unwrap();
        assert!((s - 0.851).abs() < 1e-12, "{s}");
        assert_eq!(bend_strength(80.0), Some((0.95, Within::Kept)));
        assert_eq!(bend_strength(0.9), None);
        assert_eq!(bend_strength(f64::NAN), None);
    }
    #[test]
    fn published_choke_bands() {
        let at = |deg| choke(Angle::from_deg(deg)).map(|r| r.factor);
        assert_eq!(at(135.0), Some(1.0));
        assert_eq!(at(120.0), Some(0.87));
        assert_eq!(at(100.0), Some(0.87));
        assert_eq!(at(60.0), Some(0.74));
        assert_eq!(at(0.0), Some(0.49));
        assert_eq!(at(f64::NAN), None);
    }
    #[test]
    fn published_side_load_steps() {
        let at = |deg| side_load(Angle::from_deg(deg)).map(|r| r.factor);
        assert_eq!(
            [at(0.0), at(5.0), at(5.1), at(45.0), at(-46.0), at(90.0)],
            [Some(1.0), Some(1.0), Some(0.7), Some(0.7), Some(0.5), Some(0.5)]
        );
        assert_eq!(at(91.0), None);
        assert_eq!(at(f64::NAN), None);
    }
}
