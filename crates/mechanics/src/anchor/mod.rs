//! What an anchor holds: its ultimate holding force as a range, what gives first, and why it may not be used.
//!
//! A sign that rules a tree or a stump out comes first, and one that nobody looked for leaves it unknown ([`Signs`]). Then a
//! capacity stated in the case. Trees have a model (stem and root plate), and stumps one that is carried over from it by
//! our own judgement; parked vehicles are held by their tyres ([`parked`]); boulders hold by weight and friction; pickets and deadmen by field tables and earth pressure; plates and bolts
//! no more than a proof pull showed. What has no model and no stated capacity is *unknown*, and unknown never passes.
//!
//! One reduction for ignorance, not two: the policy either takes the low end of the range, or a factor on the likely value.

mod bark;
mod boulder;
mod build_sheet;
mod capacity;
mod deadman;
mod earth;
mod kind;
mod made;
mod mass;
pub mod parked;
mod picket;
mod plate;
mod rock_bolt;
mod root;
pub mod series;
pub mod sharing;
mod signs;
mod stem;
mod stiffness;
mod stump;
mod tree;
pub mod watch;

pub use bark::{
    Around, BarkCheck, BarkGives, BarkLimit, band_pressure, bark_check, bark_limit, least_width, strap_friction,
};
pub use boulder::{boulder, boulder_sliding, boulder_tipping};
pub use build_sheet::{
    Ask, BuildKind, BuildMeasure, BuildPiece, BuildSheet, Buried, Measure, build_deadman, build_pickets, build_plates,
};
pub use capacity::{AnchorCapacity, AnchorMode, Pulled, Way, capacity};
pub use deadman::{HoldingPower, deadman, holding_power};
pub use earth::{
    EarthStrength, active_coefficient, counts_as_full_height, earth_strength, passive_coefficient, plate_in_clay,
    strip_in_sand,
};
pub use made::{deadman_area_force, deadman_distance, deadman_length, picket_layout, steel_pickets};
pub use mass::{
    StemMass, dry_biomass, dry_stem_mass, green_stem_mass, stem_mass, stem_mass_by_diameter, stem_volume,
    stem_volume_honer,
};
pub use picket::{driven_share, height_share, listed_layout, pickets};
pub use plate::{bridled, plates};
pub use rock_bolt::{bolt_bond, bond_strength, rock_bolts};
pub use root::{beyond_tests, force_at_strap, lever_at_strap, root_moment, slope_of_root_moment};
pub use signs::{Signs, sign_words};
pub use stem::{
    arborist_stem_force, hollow_ratio, section_modulus, stem_bending_force, stem_breaking_moment, stem_shear_force,
};
pub use stiffness::{movement_at_ultimate, movement_parked, stiffness, stiffness_parked};
pub use stump::{StumpStrength, breast_diameter_of_stump, left_of_stump, stump_strength};
pub use tree::{TreeStrength, tree_strength};
