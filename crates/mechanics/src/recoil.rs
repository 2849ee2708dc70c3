//! How far people stay away: the default radius, and the larger published rules beside it.

use crate::error::{MechanicsError, not_negative};
use unmire_model::Length;
use unmire_model::trail::{Dimension, Origin, Recorder, Step};
use unmire_tables::generated as g;

/// Radius of the disc to keep clear round every loaded hard point: the greater of 1.5 × the longest tensioned line with its
/// stretch and the length of the line from that point.
///
/// # Source
/// `own-judgement` (table `stand_clear` row `default`): the least that covers the strap rules (`strap-standard-2017`, secondary)
/// and the cable rule (`tm-9-2320-356-bd`, read). No source gives an angle outside which it would be harmless.
///
/// # Errors
/// If a length is negative or not an ordinary number.
pub fn keep_out_radius(
    longest_stretched: Length,
    line_from_point: Length,
    rec: &mut impl Recorder,
) -> Result<Length, MechanicsError> {
    let l = not_negative("the longest line with its stretch", longest_stretched.as_m(), "zero or more")?;
    let own = not_negative("the line from the point", line_from_point.as_m(), "zero or more")?;
    let r = Length::from_m((1.5 * l).max(own));
    rec.record(|| {
        Step::new(
            "radius to keep clear",
            "R",
            "R = max(1.5 · L with stretch, L from the point)",
            r.as_m(),
            Dimension::Length,
            "own-judgement",
        )
        .input("L with stretch", l, Dimension::Length, Origin::Earlier)
        .input("L from the point", own, Dimension::Length, Origin::Earlier)
    });
    Ok(r)
}

/// A published rule of distance, worked out for this rig.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandClear {
    /// Its key.
    pub key: &'static str,
    /// The rule in words.
    pub what: &'static str,
    /// The distance here.
    pub distance: Length,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: unmire_tables::How,
}

/// What the published rules ask here: from the longest line, the line that is paid out and the longest strap.
///
/// # Source
/// Table `stand_clear`; each row has its own.
#[must_use]
pub fn published_distances(longest_line: Length, paid_out: Length, longest_strap: Option<Length>) -> Vec<StandClear> {
    g::stand_clear::ROWS
        .iter()
        .filter(|r| r.key != "default")
        .filter_map(|r| {
            let distance = match (r.of, r.times, r.flat) {
                ("longest-line", Some(k), _) => longest_line * k,
                ("paid-out", Some(k), _) => paid_out * k,
                ("strap", Some(k), _) => longest_strap? * k,
                ("flat", _, Some(flat)) => flat,
                _ => return None,
            };
            Some(StandClear { key: r.key, what: r.what, distance, source: r.source, how: r.how })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Silent;

    #[test]
    fn closed_form_the_radius_is_the_greater_of_the_two() {
        let m = Length::from_m;
        assert_eq!(keep_out_radius(m(20.0), m(25.0), &mut Silent).unwrap(), m(30.0));
        assert_eq!(keep_out_radius(m(10.0), m(25.0), &mut Silent).unwrap(), m(25.0));
        assert!(keep_out_radius(m(f64::NAN), m(25.0), &mut Silent).is_err());
    }
}
