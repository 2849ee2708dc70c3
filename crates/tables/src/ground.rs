//! Which rows hold for the ground under the stuck vehicle.

use crate::generated::{bekker, mire_band, mire_doctrine, rolling, tyre_ground};
use crate::row;
use unmire_model::ground::Depth;

/// The word that the mire tables use for a depth; none if it is not mired.
#[must_use]
pub const fn depth_word(depth: Depth) -> Option<&'static str> {
    match depth {
        Depth::NotMired => None,
        Depth::Wheel => Some("wheel"),
        Depth::WheelArch => Some("wheel-arch"),
        Depth::Cab => Some("cab"),
    }
}

/// The band that a verdict uses at a depth; none if it is not mired.
#[must_use]
pub fn mire(depth: Depth) -> Option<&'static mire_band::Row> {
    row(mire_band::ROWS, depth_word(depth)?)
}

/// What each doctrine says at a depth, rows for any depth included.
pub fn doctrines(depth: Depth) -> impl Iterator<Item = &'static mire_doctrine::Row> {
    let word = depth_word(depth);
    mire_doctrine::ROWS.iter().filter(move |r| word.is_some_and(|w| r.depth == w || r.depth == "any"))
}

/// Rolling resistance of a surface.
#[must_use]
pub fn rolling(surface: &str) -> Option<&'static rolling::Row> {
    row(rolling::ROWS, surface)
}

/// Tyre friction of a surface.
#[must_use]
pub fn tyre(surface: &str) -> Option<&'static tyre_ground::Row> {
    row(tyre_ground::ROWS, surface)
}

/// Bekker's constants of a soil.
#[must_use]
pub fn soil(key: &str) -> Option<&'static bekker::Row> {
    row(bekker::ROWS, key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_deeper_is_never_less() {
        let bands = [Depth::Wheel, Depth::WheelArch, Depth::Cab].map(|d| mire(d).map(mire_band::Row::band));
        for pair in bands.windows(2) {
            let (a, b) = (pair[0].unwrap(), pair[1].unwrap());
            assert!(a.low() < b.low() && a.likely() < b.likely() && a.high() < b.high());
        }
    }

    #[test]
    fn regress_no_row_from_memory_is_called_published() {
        let us: Vec<_> = doctrines(Depth::Cab).filter(|r| r.doctrine == "us-multiples").collect();
        assert_eq!(us.len(), 1);
        assert!(us.iter().all(|r| !r.how.is_published()));
    }
}
