//! Signs that rule an anchor out. A yes rules it out; a sign that nobody looked at leaves it unknown, and unknown never passes.

use unmire_model::anchor::AnchorKind;

/// What the signs of an anchor say together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Signs {
    /// Every sign was looked for and none is there.
    Clear,
    /// These are there: it is not used.
    RulesOut(Vec<&'static str>),
    /// None is there of those that were looked for; nobody looked for these.
    NotLookedAt(Vec<&'static str>),
}
impl Signs {
    /// What the signs of a tree, a stump or a boulder say; clear for any other kind. The names are the keys of the case file;
    /// [`sign_words`] says them in words.
    ///
    /// # Source
    /// `fm-5-125` ch. 4, as [`Signs::of_answers`].
    #[must_use]
    pub fn of(kind: &AnchorKind) -> Self {
        match kind {
            AnchorKind::Tree(t) => Self::of_answers(&t.signs.each()),
            AnchorKind::Stump(s) => Self::of_answers(&s.signs.each()),
            AnchorKind::Boulder(b) => Self::of_answers(&b.signs.each()),
            _ => Self::Clear,
        }
    }

    /// What these answers say together.
    ///
    /// # Source
    /// `fm-5-125` ch. 4 (read: avoid dead or rotten trees) and `own-judgement`: one yes is enough, one open question too.
    #[must_use]
    pub fn of_answers(each: &[(&'static str, Option<bool>)]) -> Self {
        let with = |state: Option<bool>| each.iter().filter(|s| s.1 == state).map(|s| s.0).collect::<Vec<_>>();
        let (there, open) = (with(Some(true)), with(None));
        if !there.is_empty() {
            Self::RulesOut(there)
        } else if !open.is_empty() {
            Self::NotLookedAt(open)
        } else {
            Self::Clear
        }
    }
}

/// A sign in words, to follow 'it is' or 'it has': dead, leaning, decay, roots lifted.
///
/// # Source
/// None: naming.
#[must_use]
pub fn sign_words(sign: &'static str) -> &'static str {
    match sign {
        "fungus" => "fungus at the base or on the stem",
        "cavity" => "a cavity or decay",
        "lifted_roots" => "roots lifted, cut or undercut",
        "bank_edge" => "on the edge of a bank",
        "flooded" => "water stands at its foot",
        "frozen_top" => "a frozen crust over wet soil",
        "split" => "split where the strap would lie",
        "rocks" => "rocks when it is levered",
        "undercut" => "undercut or on the edge of a drop",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unmire_model::Length;
    use unmire_model::Range;
    use unmire_model::anchor::{Rooting, SoilGroup, Stump, StumpSigns};
    use unmire_model::trail::Input;

    fn stump(signs: StumpSigns) -> AnchorKind {
        AnchorKind::Stump(Stump {
            species: None,
            conifer: None,
            diameter: Input::assumed(Range::exact(Length::from_cm(40.0)).unwrap(), "test"),
            height: None,
            felled_ago: None,
            soil: SoilGroup::Unknown,
            rooting: Rooting::Medium,
            signs,
        })
    }

    #[test]
    fn closed_form_a_yes_goes_before_an_open_question_and_that_before_clear() {
        let none = StumpSigns::default();
        assert!(matches!(Signs::of(&stump(none.clone())), Signs::NotLookedAt(s) if s.len() == 6));
        let rotten = StumpSigns { rotten: Some(true), ..none };
        assert_eq!(Signs::of(&stump(rotten)), Signs::RulesOut(vec!["rotten"]));
        let clear = StumpSigns::all(false);
        assert_eq!(Signs::of(&stump(clear.clone())), Signs::Clear);
        let crust = StumpSigns { frozen_top: None, ..clear };
        assert_eq!(Signs::of(&stump(crust)), Signs::NotLookedAt(vec!["frozen_top"]));
        assert_eq!(Signs::of(&AnchorKind::Made { what: "a frame".into() }), Signs::Clear);
    }
}
