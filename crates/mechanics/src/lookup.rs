//! The door to the tables: which row answers which question. Everything else in this crate takes plain numbers.
//!
//! Rows that must be there are found when the program is compiled: a table without them does not build.

use crate::anchor::parked::TyreFriction;
use crate::error::MechanicsError;
use crate::ground::{Doctrine, Effect, Rolling, Soil};
use unmire_model::gear::{Bearing, Material, StrapUse};
use unmire_model::{Angle, Force, Length, Mass, Ohms, Range, Time, Voltage};
use unmire_tables::generated as g;
use unmire_tables::{How, ground as tables, hardware, row};

/// Whether two texts are the same, at compile time.
const fn same(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    if a.len() != b.len() {
        return false;
    }
    let mut i = 0;
    while i < a.len() {
        if a[i] != b[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// A row by its key, found at compile time.
macro_rules! fixed {
    ($name:ident, $table:ident, $key:literal) => {
        const $name: g::$table::Row = g::$table::ROWS[{
            let mut i = 0;
            while i < g::$table::ROWS.len() && !same(g::$table::ROWS[i].key, $key) {
                i += 1;
            }
            i
        }];
    };
}

/// The numbers of a banded row as a range.
macro_rules! band {
    ($row:expr) => {
        Range::hull($row.low, $row.likely, $row.high)
    };
}

/// The keys of a table, for a message.
macro_rules! keys {
    ($table:ident) => {
        g::$table::ROWS.iter().map(|r| r.key).collect::<Vec<&'static str>>()
    };
}

fixed!(SHEAVE_PLAIN, sheave_band, "plain");
fixed!(SHEAVE_BRONZE, sheave_band, "bronze");
fixed!(SHEAVE_ROLLER, sheave_band, "roller");
fixed!(SHEAVE_UNKNOWN, sheave_band, "unknown");
fixed!(RING, ring_friction, "smooth_ring");
fixed!(WRAPS_WIRE, min_wraps, "default_wire");
fixed!(WRAPS_FIBRE, min_wraps, "default_fibre");
fixed!(STALL, winch_stall, "electric");
fixed!(STALL_LEVER, winch_stall, "hand_lever");
fixed!(IDLE, winch_motor, "no_load");
fixed!(AT_RATED, winch_motor, "at_rated");
fixed!(SHEET_CURRENT, winch_motor, "sheet_current");
fixed!(SHEET_SPEED, winch_motor, "sheet_speed");
fixed!(RUN, winch_duty, "run_at_rated");
fixed!(REST, winch_duty, "rest");
fixed!(BATTERY_OHMS, battery, "resistance");
fixed!(BATTERY_LEFT, battery, "left_at_winch_current");
fixed!(BATTERY_STOP, battery, "stop_voltage");
fixed!(LAYER_1, winch_layer_share, "1");
fixed!(LAYER_LAST, winch_layer_share, "5");
fixed!(PENETRATION, tyre_penetration, "ce417");
fixed!(LOCKED, resistance_extra, "locked_wheels");
fixed!(RIGHTING, resistance_extra, "righting");
fixed!(GRADE_ONE_WEIGHT, resistance_extra, "grade_as_one_weight");
fixed!(HUNG, resistance_extra, "hung_on_rock");
fixed!(MARGIN, resistance_extra, "margin_commonwealth");
fixed!(US_CHOKER, hitch_factor, "us_choker");
fixed!(WIRE_EA, rope_stiffness, "wire_6x19");
fixed!(STRETCH_UNKNOWN, strap_stretch, "unknown");
fixed!(BEND_STATIC, dd_fibre, "static");
fixed!(BEND_RUNNING, dd_fibre, "running");
fixed!(FAIRLEAD, line_angle, "fairlead_side");
fixed!(CHAIN_STUDLESS, chain_fit, "studless");
fixed!(CHAIN_STUDLINK, chain_fit, "studlink");

/// A sheave's row.
pub(crate) struct Sheave {
    /// Tension beyond ÷ before while hauled.
    pub efficiency: Range<f64>,
    /// Its key.
    pub key: &'static str,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: &'static str,
}

pub(crate) fn sheave(bearing: Bearing) -> Sheave {
    let r = match bearing {
        Bearing::Plain => SHEAVE_PLAIN,
        Bearing::Bronze => SHEAVE_BRONZE,
        Bearing::Roller => SHEAVE_ROLLER,
        Bearing::Unknown => SHEAVE_UNKNOWN,
    };
    Sheave { efficiency: band!(r).decreasing(|k: f64| 1.0 / k), key: r.key, source: r.source, how: r.how.words() }
}

pub(crate) fn ring_friction() -> Range<f64> {
    band!(RING)
}

pub(crate) fn choke_factor(choke: Angle) -> f64 {
    // An angle that was reckoned to be a whole degree is one: rounding must not lift 120° into the higher band.
    let degree = (choke.as_deg() + 0.5).floor();
    let angle = if (choke.as_deg() - degree).abs() < 1e-7 { Angle::from_deg(degree) } else { choke };
    // Not a number: nothing is granted.
    hardware::choke(angle).map_or(0.0, |r| r.factor)
}

pub(crate) fn choker_share() -> f64 {
    US_CHOKER.factor
}

/// Turns that must stay on the drum where the maker does not say.
pub(crate) fn min_wraps(wire: bool) -> f64 {
    f64::from(if wire { WRAPS_WIRE.turns } else { WRAPS_FIBRE.turns })
}

pub(crate) fn stall_band() -> Range<f64> {
    band!(STALL)
}

pub(crate) fn lever_stall_band() -> Range<f64> {
    band!(STALL_LEVER)
}

/// Share of the first layer's pull where the layer is not known: from the last layer's low end to the first layer.
pub(crate) fn unknown_layer_share() -> Range<f64> {
    Range::hull(LAYER_LAST.low, LAYER_LAST.high, LAYER_1.high)
}

/// Current of an electric winch at 12 V: without load in A, at its rated pull in A for each kN of it.
pub(crate) fn current_line() -> (Range<f64>, Range<f64>) {
    (band!(IDLE), band!(AT_RATED))
}

/// Factors on a data sheet's current and speed.
pub(crate) fn sheet_current() -> Range<f64> {
    band!(SHEET_CURRENT)
}
pub(crate) fn sheet_speed() -> Range<f64> {
    band!(SHEET_SPEED)
}

/// Speed bands of a drive by the share of the rated pull, m/min.
pub(crate) fn speed_band(drive: &'static str) -> impl Iterator<Item = (f64, Range<f64>)> {
    g::winch_speed_band::ROWS.iter().filter(move |r| r.drive == drive).map(|r| (r.share, band!(r)))
}

/// Longest run at the rated pull, and the rest after it.
pub(crate) fn duty() -> (Range<Time>, Range<Time>) {
    let s = |b: Range<f64>| b.increasing(Time::from_s);
    (s(band!(RUN)), s(band!(REST)))
}

pub(crate) fn battery_resistance() -> Range<Ohms> {
    let b: Range<f64> = band!(BATTERY_OHMS);
    b.increasing(Ohms::from_milliohm)
}

pub(crate) fn battery_left() -> Range<f64> {
    band!(BATTERY_LEFT)
}

pub(crate) fn stop_voltage() -> Range<Voltage> {
    let b: Range<f64> = band!(BATTERY_STOP);
    b.increasing(Voltage::from_v)
}

/// Voltage at rest of a 12 V battery that is so full, straight between the rows; `filled` lies between 0 and 1.
pub(crate) fn battery_rest(filled: f64) -> f64 {
    let rows = g::battery_voltage::ROWS;
    let mut found = f64::NAN;
    for (a, b) in rows.iter().zip(rows.iter().skip(1)) {
        if filled >= a.filled && filled <= b.filled {
            found = a.voltage + (b.voltage - a.voltage) * (filled - a.filled) / (b.filled - a.filled);
        }
    }
    found
}

/// A band of table `line_friction`; no number for a key that is not there.
pub(crate) fn line_friction(key: &str) -> Range<f64> {
    let none = Range::hull(f64::NAN, f64::NAN, f64::NAN);
    g::line_friction::ROWS.iter().find(|r| r.key == key).map_or(none, |r| band!(r))
}

pub(crate) fn fairlead_limit() -> Angle {
    FAIRLEAD.angle
}

pub(crate) fn fibre_least_bend(running: bool) -> f64 {
    if running { BEND_RUNNING.d_over_d } else { BEND_STATIC.d_over_d }
}

pub(crate) fn termination(key: &str) -> Result<&'static g::termination::Row, MechanicsError> {
    row(g::termination::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "rope terminations",
        key: key.to_owned(),
        known: keys!(termination),
    })
}

/// EA ÷ breaking strength, by material and use.
pub(crate) fn stiffness_ratio(material: Material, use_of: Option<StrapUse>) -> Option<Range<f64>> {
    let web = use_of.is_some_and(|u| u != StrapUse::Kinetic);
    if web {
        // EA = WLL / stretch with a fifth of the breaking strength as working load limit.
        let key = match material {
            Material::Polyester => "polyester",
            Material::Nylon => "nylon",
            Material::Unknown => "unknown",
            Material::Hmpe => return rope_ratio("hmpe"),
            Material::Polypropylene | Material::SteelWire | Material::Chain => return None,
        };
        let r = row(g::strap_stretch::ROWS, key).unwrap_or(&STRETCH_UNKNOWN);
        return Some(band!(r).decreasing(|stretch: f64| 0.2 / stretch));
    }
    match material {
        Material::Polyester => rope_ratio("polyester"),
        Material::Nylon => rope_ratio("nylon"),
        Material::Hmpe => rope_ratio("hmpe"),
        Material::Polypropylene | Material::SteelWire | Material::Chain | Material::Unknown => None,
    }
}

fn rope_ratio(key: &str) -> Option<Range<f64>> {
    let r = row(g::rope_stiffness::ROWS, key)?;
    (r.of == "strength").then(|| band!(r))
}

/// EA ÷ diameter squared of steel wire rope, N/m².
pub(crate) fn wire_stiffness() -> Range<f64> {
    band!(WIRE_EA)
}

/// Mass of a metre of rope ÷ diameter squared, kg/m³.
pub(crate) fn mass_coefficient(material: Material) -> Option<Range<f64>> {
    let fit = |key| row(g::fibre_fit::ROWS, key).map(|r| Range::hull(r.mass_d2, r.mass_d2, r.mass_d2));
    match material {
        Material::Hmpe => fit("hmpe"),
        Material::Nylon => fit("nylon"),
        Material::Polyester => fit("polyester_parallel_core"),
        Material::SteelWire => {
            let pound_per_foot = Mass::from_lb(1.0).as_kg() / Length::from_foot(1.0).as_m();
            let metric = g::wire_metric::ROWS.iter().map(|r| 0.01 * r.kg_per_100m / square(r.diameter));
            let inch = g::wire_ips_fibre_core::ROWS.iter().map(|r| r.lb_per_ft * pound_per_foot / square(r.diameter));
            let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
            for k in metric.chain(inch) {
                low = low.min(k);
                high = high.max(k);
            }
            let steel_core = 1.1 * high;
            Range::new(low, 0.5 * (low + steel_core), steel_core).ok()
        }
        Material::Polypropylene | Material::Chain | Material::Unknown => None,
    }
}

/// Mass and stiffness coefficients of chain: kg/m and N for each square metre of link diameter.
pub(crate) fn chain_fit() -> (Range<f64>, Range<f64>) {
    let [a, b] = [CHAIN_STUDLESS, CHAIN_STUDLINK];
    (Range::hull(a.mass_d2, a.mass_d2, b.mass_d2), Range::hull(a.ea_d2, a.ea_d2, b.ea_d2))
}

/// Kilograms a metre for each meganewton of strength.
pub(crate) fn line_mass(material: Material) -> Option<Range<f64>> {
    let key = match material {
        Material::Polyester => "polyester",
        Material::Nylon => "nylon",
        Material::Hmpe => "hmpe",
        Material::Polypropylene => "polypropylene",
        Material::Unknown => "unknown",
        Material::SteelWire | Material::Chain => return None,
    };
    row(g::line_mass::ROWS, key).map(|r| band!(r))
}

/// Mass of a fitting that nobody weighed.
pub(crate) fn flying_mass(key: &'static str) -> Result<Range<Mass>, MechanicsError> {
    let r = row(g::flying_mass::ROWS, key).ok_or_else(|| MechanicsError::UnknownKey {
        table: "masses that fly",
        key: key.to_owned(),
        known: keys!(flying_mass),
    })?;
    Ok(band!(r))
}

/// Mass of a shackle by its working load limit: between the next smaller and the next larger size.
pub(crate) fn shackle_mass(working: Force) -> Result<Range<Mass>, MechanicsError> {
    // The digits in short tons are the lesser force; a hair for rounding.
    let digits = |f: Force| f.as_short_tonf() * 0.907 / 1.0001;
    let rows = g::shackle_mass::ROWS;
    let fits = |r: &&g::shackle_mass::Row| r.digits >= digits(working);
    let i = if working.is_finite() { rows.iter().position(|r| fits(&r)) } else { None };
    let Some((i, own)) = i.and_then(|i| rows.get(i).map(|r| (i, r))) else {
        return Err(MechanicsError::BadInput {
            what: "the working load limit of a shackle",
            got: working.as_n(),
            expected: "not over 55 t; give the mass of a larger one",
        });
    };
    let smaller = rows.get(i.saturating_sub(1)).unwrap_or(own);
    let larger = rows.get(i + 1).unwrap_or(own);
    Ok(Range::hull(smaller.screw, own.screw, larger.bolt.unwrap_or(larger.screw)))
}

fn square(d: Length) -> f64 {
    d.as_m() * d.as_m()
}

pub(crate) fn rolling(surface: &str) -> Result<Rolling, MechanicsError> {
    tables::rolling(surface)
        .map(|r| Rolling { key: r.key, name: r.name, share: band!(r), source: r.source, how: r.how })
        .ok_or_else(|| MechanicsError::UnknownKey { table: "surfaces", key: surface.to_owned(), known: keys!(rolling) })
}

pub(crate) fn tyre_penetration() -> (f64, f64) {
    (PENETRATION.base, PENETRATION.per_inch)
}

pub(crate) fn soil(key: &str) -> Result<Soil, MechanicsError> {
    tables::soil(key)
        .map(|r| Soil {
            key: r.key,
            n: r.n,
            k_c: r.k_c,
            k_phi: r.k_phi,
            cohesion_kpa: r.cohesion.as_kpa(),
            friction_deg: r.phi.as_deg(),
            source: r.source,
            how: r.how,
        })
        .ok_or_else(|| MechanicsError::UnknownKey { table: "soils", key: key.to_owned(), known: keys!(bekker) })
}

pub(crate) fn mire_band(depth: &str) -> Result<Doctrine, MechanicsError> {
    g::mire_band::ROWS
        .iter()
        .find(|r| r.depth == depth)
        .map(|r| Doctrine {
            key: r.key,
            family: "band",
            condition: "the band that the verdict uses",
            share: band!(r),
            source: r.source,
            how: r.how,
            note: r.note,
        })
        .ok_or_else(|| MechanicsError::UnknownKey {
            table: "mire depths",
            key: depth.to_owned(),
            known: keys!(mire_band),
        })
}

pub(crate) fn doctrines(depth: &str) -> Vec<Doctrine> {
    g::mire_doctrine::ROWS
        .iter()
        .filter(|r| r.depth == depth || r.depth == "any")
        .map(|r| Doctrine {
            key: r.key,
            family: r.doctrine,
            condition: r.condition,
            share: band!(r),
            source: r.source,
            how: r.how,
            note: r.note,
        })
        .collect()
}

/// A share with its standing.
#[derive(Clone, Copy)]
pub(crate) struct Share {
    /// The share of a weight.
    pub share: Range<f64>,
    /// Key of the source.
    pub source: &'static str,
    /// How it is known.
    pub how: How,
}

macro_rules! share {
    ($fn:ident, $row:ident) => {
        pub(crate) fn $fn() -> Share {
            Share { share: band!($row), source: $row.source, how: $row.how }
        }
    };
}
share!(locked_wheels, LOCKED);
share!(righting, RIGHTING);
share!(grade_as_one_weight, GRADE_ONE_WEIGHT);
share!(hung_on_rock, HUNG);
share!(commonwealth_margin, MARGIN);

/// The Commonwealth ground factor that goes with a surface, if there is one: key, share, source, standing.
pub(crate) fn ground_factor(surface: &str) -> Option<(&'static str, f64, &'static str, How)> {
    let key = match surface {
        "hard_road" => "hard_road",
        "firm_grass" | "wet_grass" => "grass",
        "sand_wet_hard" => "hard_wet_sand",
        "gravel" => "gravel_or_soft_wet_sand",
        "sand_soft" => "soft_dry_sand",
        "mud_shallow" => "shallow_mud",
        "bog" => "bog",
        _ => return None,
    };
    row(g::ground_factor::ROWS, key).map(|r| (r.key, 1.0 / r.gf, r.source, r.how))
}

pub(crate) fn action(key: &str) -> Result<(Effect, &'static str), MechanicsError> {
    row(g::action::ROWS, key)
        .map(|r| {
            let time = Range::hull(r.minutes_low, (r.minutes_low + r.minutes_high) * 0.5, r.minutes_high);
            let e = Effect { factor: band!(r), time, what: r.what, source: r.source, how: r.how, note: r.note };
            (e, r.on)
        })
        .ok_or_else(|| MechanicsError::UnknownKey { table: "actions", key: key.to_owned(), known: keys!(action) })
}

/// Friction of tyres by surface, low and high over all that is published for tyres that slide, or the peak where only that is.
pub(crate) fn tyre_friction(surface: &str) -> Result<TyreFriction, MechanicsError> {
    row(g::tyre_ground::ROWS, surface)
        .and_then(|r| {
            let low = r.sliding_low.or(r.peak_low)?;
            let high = r.sliding_high.or(r.peak_high)?;
            let friction = Range::between(low, high).ok()?;
            Some(TyreFriction { key: r.key, name: r.name, friction, source: r.source, how: r.how, note: r.note })
        })
        .ok_or_else(|| MechanicsError::UnknownKey {
            table: "tyre friction",
            key: surface.to_owned(),
            known: keys!(tyre_ground),
        })
}
