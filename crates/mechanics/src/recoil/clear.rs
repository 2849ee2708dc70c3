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

impl StandClear {
    /// Whether the rule is meant for a strap or a rope between two vehicles.
    #[must_use]
    pub fn is_for_straps(&self) -> bool {
        g::stand_clear::ROWS.iter().any(|r| r.key == self.key && r.of == "strap")
    }
}

/// The lengths that published rules count in.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lengths {
    /// The longest tensioned line with its stretch.
    pub longest_line: Length,
    /// The line that is paid out.
    pub paid_out: Length,
    /// The strap or rope between two vehicles, without its stretch.
    pub strap: Option<Length>,
    /// How far apart the two most distant points of the rig are.
    pub farthest: Option<Length>,
    /// Height of the tallest tree that the rig pulls on.
    pub tree: Option<Length>,
}

/// What the published rules ask here. A rule whose length is not known, or that gives none, is left out.
///
/// # Source
/// Table `stand_clear`; each row has its own.
#[must_use]
pub fn published_distances(of: &Lengths) -> Vec<StandClear> {
    g::stand_clear::ROWS
        .iter()
        .filter(|r| r.key != "default")
        .filter_map(|r| {
            let distance = match (r.of, r.times, r.flat) {
                ("longest-line", Some(k), _) => of.longest_line * k,
                ("paid-out", Some(k), _) => of.paid_out * k,
                ("strap", Some(k), _) => of.strap? * k,
                ("farthest", Some(k), _) => of.farthest? * k,
                ("tree", Some(k), _) => of.tree? * k,
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

    #[test]
    fn published_distances_count_in_their_own_lengths() {
        let m = Length::from_m;
        let winch = Lengths { longest_line: m(25.0), paid_out: m(24.0), ..Lengths::default() };
        let all = published_distances(&winch);
        let of = |all: &[StandClear], key: &str| all.iter().find(|r| r.key == key).map(|r| r.distance.as_m());
        assert_eq!((of(&all, "longest_cable"), of(&all, "paid_out_2")), (Some(25.0), Some(48.0)));
        assert_eq!((of(&all, "strap_1_5"), of(&all, "tree_heights_2"), of(&all, "default")), (None, None, None));
        let tow = Lengths { strap: Some(m(9.0)), farthest: Some(m(12.0)), tree: Some(m(20.0)), ..winch };
        let all = published_distances(&tow);
        assert_eq!((of(&all, "strap_1_5"), of(&all, "strap_4")), (Some(13.5), Some(36.0)));
        assert_eq!((of(&all, "farthest_points"), of(&all, "tree_heights_2")), (Some(12.0), Some(40.0)));
    }
}
