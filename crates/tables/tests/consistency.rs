//! What holds between rows and between tables.

use unmire_tables::{
    biomass, creg, creg_single, min_wraps, row, species, stem_volume, stem_volume_honer, tested_stem_mass,
};
use unmire_tables::{deadman, mire_band, mire_doctrine, picket, winch_layer_share, winch_layers, wood_green};

#[test]
fn regress_the_keys_of_a_species_resolve() {
    for s in species::ROWS {
        assert!(row(stem_volume::ROWS, s.volume).is_some() || row(stem_volume_honer::ROWS, s.volume).is_some());
        assert!(row(biomass::ROWS, s.biomass).is_some(), "{}", s.key);
        assert!(s.wood.is_none_or(|w| row(wood_green::ROWS, w).is_some()), "{}", s.key);
        assert!(
            s.creg.is_none_or(|c| row(creg::ROWS, c).is_some() || row(creg_single::ROWS, c).is_some()),
            "{}",
            s.key
        );
    }
    for s in species::ROWS {
        assert!(s.second.is_none_or(|c| row(creg_single::ROWS, c).is_some()), "{}", s.key);
    }
    for t in tested_stem_mass::ROWS {
        assert!(row(species::ROWS, t.species).is_some(), "{}", t.key);
        assert!(t.shallow.or(t.medium).or(t.deep).is_some_and(|m| m.as_kg() > 0.0), "{}", t.key);
    }
}

#[test]
fn regress_gley_is_the_least_of_the_soils() {
    // An unknown soil takes the gley column; that is only right while it is the least of the four.
    for r in creg::ROWS {
        for (a, b, c, d) in [
            (r.a_shallow, r.b_shallow, r.c_shallow, r.d_shallow),
            (r.a_medium, r.b_medium, r.c_medium, r.d_medium),
            (r.a_deep, r.b_deep, r.c_deep, r.d_deep),
        ] {
            assert!(b <= a && b <= c && b <= d, "{}", r.key);
        }
    }
}

#[test]
fn regress_the_fallbacks_lie_under_every_measured_coefficient() {
    let least = |conifer: bool| {
        species::ROWS
            .iter()
            .filter(|s| s.conifer == conifer)
            .filter_map(|s| row(creg::ROWS, s.creg?))
            .map(|r| r.b_shallow.min(r.b_medium).min(r.b_deep))
            .fold(f64::INFINITY, f64::min)
    };
    let fallback = |key| row(creg_single::ROWS, key).map_or(f64::NAN, |r| r.c);
    assert!(fallback("conifer") < least(true) && fallback("broadleaf") < least(false));
}

#[test]
fn regress_no_mire_row_from_memory_is_called_published() {
    assert!(mire_band::ROWS.iter().all(|r| !r.how.is_published()));
    assert!(mire_doctrine::ROWS.iter().filter(|r| r.doctrine == "us-multiples").all(|r| !r.how.is_published()));
}

#[test]
fn closed_form_deeper_is_never_less() {
    for pair in mire_band::ROWS.windows(2) {
        assert!(pair[0].low < pair[1].low && pair[0].likely < pair[1].likely && pair[0].high < pair[1].high);
    }
    for pair in deadman::ROWS.windows(2).filter(|p| p[0].depth == p[1].depth) {
        assert!(pair[0].run < pair[1].run && pair[0].holds < pair[1].holds, "{}", pair[0].key);
    }
}

#[test]
fn closed_form_a_layer_further_out_pulls_less() {
    assert!(winch_layers::ROWS.windows(2).all(|w| w[0].pull > w[1].pull));
    assert!(winch_layer_share::ROWS.windows(2).all(|w| w[0].likely > w[1].likely && w[0].low > w[1].low));
}

#[test]
fn regress_fibre_needs_more_turns_than_wire() {
    let turns = |key| row(min_wraps::ROWS, key).map_or(0, |r| r.turns);
    assert!(turns("default_fibre") > turns("default_wire"));
}

#[test]
fn published_pickets_in_pounds() {
    let holds = |key| row(picket::ROWS, key).map_or(f64::NAN, |r| r.holds.as_lbf());
    assert_eq!([holds("1"), holds("1-1-1"), holds("3-2-1")], [700.0, 1800.0, 4000.0]);
}
