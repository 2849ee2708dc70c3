//! What a label says a new piece can take: its least breaking strength and its working load limit, each at its lower
//! meaning. Hitch, angle, side load, bend and splice come after this, in the mechanics room.

use unmire_model::gear::{Label, Material, Piece, PieceKind, Rating, RatingKind, StrapUse};
use unmire_model::layout::Hitch;
use unmire_model::{Force, role};
use unmire_tables::generated::design_factor;

/// Kinds of gear with a design factor of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearClass {
    /// A flat strap or web sling.
    WebSling,
    /// An endless round sling.
    RoundSling,
    /// A steel shackle.
    Shackle,
    /// A hook.
    Hook,
    /// A snatch block.
    Block,
    /// Rope of fibre, a soft shackle included.
    FibreRope,
    /// Wire rope.
    WireRope,
    /// Chain.
    Chain,
    /// A ring, a load cell, a hand winch, a recovery point, a winch's mount: no design factor was found in print.
    Unpublished,
}
impl GearClass {
    /// The class of a piece.
    #[must_use]
    pub const fn of_piece(piece: &Piece) -> Self {
        match &piece.kind {
            PieceKind::Strap(s) if matches!(s.made_for, StrapUse::RoundSling) => Self::RoundSling,
            PieceKind::Strap(_) => Self::WebSling,
            PieceKind::Rope(r) => Self::of_line(r.material),
            PieceKind::Shackle { .. } => Self::Shackle,
            PieceKind::SoftShackle => Self::FibreRope,
            PieceKind::Hook { .. } => Self::Hook,
            PieceKind::Block { .. } => Self::Block,
            _ => Self::Unpublished,
        }
    }
    /// The class of a line of this material.
    #[must_use]
    pub const fn of_line(material: Material) -> Self {
        match material {
            Material::SteelWire => Self::WireRope,
            Material::Chain => Self::Chain,
            Material::Unknown => Self::Unpublished,
            Material::Polyester | Material::Nylon | Material::Hmpe | Material::Polypropylene => Self::FibreRope,
        }
    }
    /// Rows of the design factor table with the least and the greatest published factor of this class.
    const fn rows(self) -> Option<(&'static str, &'static str)> {
        Some(match self {
            Self::WebSling => ("web_sling_us", "web_sling_au"),
            Self::RoundSling => ("web_sling_us", "round_sling_au"),
            Self::Shackle => ("shackle", "shackle_sheet"),
            Self::Hook | Self::Chain => ("chain_43", "chain_field"),
            Self::Block => ("block_asme", "block_as_2089"),
            Self::FibreRope => ("fibre_rope_low", "fibre_rope_high"),
            Self::WireRope => ("wire_unmarked", "wire_sling"),
            Self::Unpublished => return None,
        })
    }
}

/// Breaking strength ÷ working load limit where nothing is published for the kind of part.
///
/// The reason for 2: a rated shackle must carry twice its rating in the proof test without permanent set, so that what
/// is rated by the same habit breaks at no less than that.
///
/// # Source
/// `own-judgement`, after the proof load of `asme-b30-26`, 26-1.4.2 (read).
pub const FACTOR_WITHOUT_SOURCE: f64 = 2.0;

/// Above this rating a shackle's least published factor is lower: 150 short tons.
///
/// # Source
/// `asme-b30-26`, 26-1.2 (read).
const LARGE_SHACKLE: Force = Force::from_short_tonf(150.0);

/// A design factor and where it came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factor {
    /// Breaking strength ÷ working load limit.
    pub value: f64,
    /// Key of its source; `label` if the piece prints it.
    pub source: &'static str,
}

/// What a label gave.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Strength {
    /// Least breaking strength.
    pub breaking: Option<Force>,
    /// Working load limit.
    pub working: Option<Force>,
    /// Whether the label does not print what kind of force it states.
    pub kind_unstated: bool,
    /// The design factor that turned the printed meaning into the other one.
    pub factor: Option<Factor>,
    /// Why it is not known.
    pub unknown_because: Option<&'static str>,
}
impl Strength {
    const fn unknown(why: &'static str) -> Self {
        Self { breaking: None, working: None, kind_unstated: false, factor: None, unknown_because: Some(why) }
    }
    /// Whether a design factor was used that the label does not print.
    #[must_use]
    pub fn factor_assumed(&self) -> bool {
        self.factor.is_some_and(|f| f.source != "label")
    }
}

/// What a label says.
///
/// A working load limit without a printed design factor is taken times the *least* published factor of its kind; a
/// breaking strength is divided by the *greatest*: each way the lower result. A number without its kind counts as a
/// breaking strength. A label that is missing, unreadable or no ordinary number gives nothing.
///
/// # Source
/// Table `design_factor`, each row with its own; [`FACTOR_WITHOUT_SOURCE`] elsewhere. The lower meaning: own judgement.
#[must_use]
pub fn label_strength(label: &Label, class: GearClass) -> Strength {
    match label {
        Label::Missing => Strength::unknown("it has no label"),
        Label::Unreadable => Strength::unknown("its label can't be read"),
        Label::Printed(r) => rating_strength(r, class),
    }
}

/// What a readable rating says; see [`label_strength`].
#[must_use]
pub fn rating_strength(rating: &Rating, class: GearClass) -> Strength {
    let force = rating.force;
    if !(force.is_finite() && force.as_n() > 0.0) {
        return Strength::unknown("its label states no ordinary force");
    }
    let printed = match rating.design_factor {
        Some(v) if v.is_finite() && v >= 1.0 => Some(Factor { value: v, source: "label" }),
        Some(_) => return Strength::unknown("its label states a design factor below one"),
        None => None,
    };
    if rating.kind == RatingKind::Working {
        let factor = printed.or_else(|| least(class, force));
        return Strength {
            breaking: factor.map(|f| role::WorkingLoadLimit(force).breaking_strength(f.value).force()),
            working: Some(force),
            kind_unstated: false,
            factor,
            unknown_because: None,
        };
    }
    let factor = printed.or_else(|| greatest(class));
    Strength {
        breaking: Some(force),
        working: factor.map(|f| role::BreakingStrength(force).working_load_limit(f.value).force()),
        kind_unstated: rating.kind == RatingKind::Unstated,
        factor,
        unknown_because: None,
    }
}

/// What a piece's own label says.
#[must_use]
pub fn piece_strength(piece: &Piece) -> Strength {
    label_strength(&piece.label, GearClass::of_piece(piece))
}

/// Which hitch a strength is already rated for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RatedFor {
    /// A straight pull: the hitch's factor is still to be applied.
    Straight,
    /// A choker of a wide choke angle: only the choke angle is still to be applied.
    Choker,
    /// A basket with parallel legs, both legs together: only the legs' angle is still to be applied.
    Basket,
}

/// What a strap's label says for a hitch: the rating of that very hitch where the maker prints it, else the main one.
#[must_use]
pub fn strap_strength(piece: &Piece, hitch: Hitch) -> (Strength, RatedFor) {
    let class = GearClass::of_piece(piece);
    if let PieceKind::Strap(s) = &piece.kind {
        match (hitch, &s.choker_label, &s.basket_label) {
            (Hitch::Choker, Some(r), _) => return (rating_strength(&like(piece, r), class), RatedFor::Choker),
            (Hitch::Basket, _, Some(r)) => return (rating_strength(&like(piece, r), class), RatedFor::Basket),
            _ => {}
        }
    }
    (piece_strength(piece), RatedFor::Straight)
}

/// A hitch's rating with the design factor that the same piece's main label prints, if it prints none itself.
fn like(piece: &Piece, r: &Rating) -> Rating {
    let mut out = r.clone();
    if out.design_factor.is_none() {
        out.design_factor = piece.label.rating().and_then(|m| m.design_factor);
    }
    out
}

fn row(key: &str) -> Option<Factor> {
    design_factor::ROWS.iter().find(|r| r.key == key).map(|r| Factor { value: r.factor, source: r.source })
}
fn least(class: GearClass, rating: Force) -> Option<Factor> {
    match class.rows() {
        Some(_) if class == GearClass::Shackle && rating > LARGE_SHACKLE => row("shackle_large"),
        Some((low, _)) => row(low),
        None => Some(Factor { value: FACTOR_WITHOUT_SOURCE, source: "own-judgement" }),
    }
}
fn greatest(class: GearClass) -> Option<Factor> {
    // Nothing published bounds the factor from above: then the working load limit is not known.
    class.rows().and_then(|(_, high)| row(high))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn printed(tonnes: f64, kind: RatingKind, design_factor: Option<f64>) -> Label {
        Label::Printed(Rating { as_printed: String::new(), force: Force::from_tonnef(tonnes), kind, design_factor })
    }
    fn tf(f: Option<Force>) -> f64 {
        f.unwrap().as_tonnef()
    }

    #[test]
    fn closed_form_printed_factor_is_used_both_ways() {
        let s = label_strength(&printed(2.0, RatingKind::Working, Some(7.0)), GearClass::WebSling);
        assert!((tf(s.breaking) - 14.0).abs() < 1e-12 && !s.factor_assumed());
        let s = label_strength(&printed(14.0, RatingKind::Breaking, Some(7.0)), GearClass::WebSling);
        assert!((tf(s.working) - 2.0).abs() < 1e-12);
    }
    #[test]
    fn published_least_and_greatest_factor_each_give_the_lower_result() {
        let s = label_strength(&printed(4.75, RatingKind::Working, None), GearClass::Shackle);
        assert!((tf(s.breaking) - 23.75).abs() < 1e-9 && s.factor_assumed());
        let s = label_strength(&printed(24.0, RatingKind::Breaking, None), GearClass::Shackle);
        assert!((tf(s.working) - 4.0).abs() < 1e-9);
        let s = label_strength(&printed(200.0, RatingKind::Working, None), GearClass::Shackle);
        assert_eq!(s.factor.unwrap().value, 4.0);
    }
    #[test]
    fn every_class_has_its_rows_and_the_least_is_not_above_the_greatest() {
        use GearClass::*;
        for c in [WebSling, RoundSling, Shackle, Hook, Block, FibreRope, WireRope, Chain] {
            assert!(least(c, Force::from_kn(10.0)).unwrap().value <= greatest(c).unwrap().value, "{c:?}");
        }
        assert!(greatest(Unpublished).is_none());
    }
    #[test]
    fn a_number_without_its_kind_counts_as_a_breaking_strength() {
        let s = label_strength(&printed(8.0, RatingKind::Unstated, None), GearClass::Block);
        assert!(s.kind_unstated && (tf(s.breaking) - 8.0).abs() < 1e-12 && (tf(s.working) - 1.6).abs() < 1e-12);
    }
    #[test]
    fn nothing_readable_gives_nothing() {
        for l in [
            Label::Missing,
            Label::Unreadable,
            printed(f64::NAN, RatingKind::Working, None),
            printed(-1.0, RatingKind::Breaking, None),
            printed(0.0, RatingKind::Breaking, None),
            printed(1.0, RatingKind::Working, Some(0.5)),
            printed(1.0, RatingKind::Working, Some(f64::NAN)),
        ] {
            let s = label_strength(&l, GearClass::Shackle);
            assert!(s.breaking.is_none() && s.working.is_none() && s.unknown_because.is_some(), "{l:?}");
        }
    }

    #[test]
    fn a_hitchs_own_rating_goes_before_the_main_one() {
        use crate::testkit::{piece, strap};
        let mut p = piece("S1", strap(StrapUse::TreeStrap, 75.0));
        p.label = printed(2.0, RatingKind::Working, Some(7.0));
        assert_eq!(strap_strength(&p, Hitch::Choker).1, RatedFor::Straight);
        if let PieceKind::Strap(s) = &mut p.kind {
            s.choker_label = printed(1.6, RatingKind::Working, None).rating().cloned();
            s.basket_label = printed(4.0, RatingKind::Working, None).rating().cloned();
        }
        let (choked, rated_for) = strap_strength(&p, Hitch::Choker);
        assert_eq!(rated_for, RatedFor::Choker);
        assert!((tf(choked.breaking) - 1.6 * 7.0).abs() < 1e-9, "the main label's factor counts for it");
        let (basket, rated_for) = strap_strength(&p, Hitch::Basket);
        assert_eq!((rated_for, tf(basket.working)), (RatedFor::Basket, 4.0));
        assert_eq!(strap_strength(&p, Hitch::Straight).1, RatedFor::Straight);
    }
}
