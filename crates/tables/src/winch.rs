//! Defaults of winches and made anchors.

use crate::generated::{deadman, min_wraps, winch_layer_share, winch_stall};
use crate::row;
use unmire_model::gear::Material;
use unmire_model::{Length, Pressure};

/// The least turns on the drum for a line of a material, where the maker says nothing.
#[must_use]
pub fn default_wraps(material: Material) -> Option<&'static min_wraps::Row> {
    let wire = matches!(material, Material::SteelWire | Material::Chain);
    row(min_wraps::ROWS, if wire { "default_wire" } else { "default_fibre" })
}

/// Pull of a layer as a share of the first, where the drum was not measured; beyond the table its last row.
#[must_use]
pub fn layer_share(layer: u32) -> Option<&'static winch_layer_share::Row> {
    let rows = winch_layer_share::ROWS;
    let i = usize::try_from(layer).ok()?.checked_sub(1)?;
    rows.get(i).or_else(|| rows.last())
}

/// Stall over the rated first-layer pull: a judgement.
#[must_use]
pub fn stall(hand: bool) -> Option<&'static winch_stall::Row> {
    row(winch_stall::ROWS, if hand { "hand_lever" } else { "electric" })
}

/// Holding power of a buried log in loam at a mean depth, straight lines between the depths, for a line that falls
/// one in `run`. A run between two rows takes the lower row; none outside the table.
#[must_use]
pub fn deadman_pressure(depth: Length, run: f64) -> Option<Pressure> {
    let step = deadman::ROWS.iter().map(|r| r.run).filter(|r| *r <= run).fold(f64::NAN, f64::max);
    let column: Vec<&deadman::Row> = deadman::ROWS.iter().filter(|r| r.run == step).collect();
    column.windows(2).find_map(|w| match w {
        [a, b] if a.depth <= depth && depth <= b.depth => {
            Some(a.holds + ((depth - a.depth) / (b.depth - a.depth)) * (b.holds - a.holds))
        }
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::generated::winch_layers;

    #[test]
    fn published_deadman_rows() {
        let psf = |ft, run| deadman_pressure(Length::from_foot(ft), run).map(|p| (p.as_psi() * 144.0).round());
        assert_eq!(psf(4.0, 3.0), Some(2600.0));
        assert_eq!(psf(3.0, 1.0), Some(950.0));
        assert_eq!(psf(7.0, 4.0), Some(8400.0));
        assert_eq!(psf(4.0, 3.9), Some(2600.0));
        assert_eq!(psf(2.9, 1.0), None);
        assert_eq!(psf(4.0, 0.9), None);
    }
    #[test]
    fn regress_layers_fall() {
        assert!(winch_layers::ROWS.windows(2).all(|w| w[0].pull > w[1].pull));
        assert!(winch_layer_share::ROWS.windows(2).all(|w| w[0].likely > w[1].likely && w[0].low > w[1].low));
        assert_eq!(layer_share(0), None);
        assert_eq!(layer_share(9), layer_share(5));
    }
    #[test]
    fn regress_fibre_needs_more_turns_than_wire() {
        let turns = |m| default_wraps(m).map_or(0, |r| r.turns);
        assert!(turns(Material::Hmpe) > turns(Material::SteelWire));
    }
}
