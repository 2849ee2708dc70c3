//! The answers of the first minute as the reader of answers takes them, made from steps instead of typing.

/// An answer to the question for the slope: along the way out (up is positive) and across it (left high is positive).
#[must_use]
pub fn slope(along_deg: f64, across_deg: f64) -> String {
    let along = match along_deg {
        d if d < 0.0 => format!("{} deg down", -d),
        d => format!("{d} deg up"),
    };
    let across = match across_deg {
        d if d < 0.0 => format!("{} deg right high", -d),
        d => format!("{d} deg left high"),
    };
    format!("{along}, {across}")
}

/// An answer to the question for the tree: metres, degrees left of the heading, metres higher.
#[must_use]
pub fn tree(distance_m: f64, left_deg: f64, rise_m: f64) -> String {
    let height = match rise_m {
        r if r < 0.0 => format!("{} m down", -r),
        r => format!("{r} m up"),
    };
    format!("{distance_m} m {}, {height}", super::place::direction(left_deg))
}

/// Slopes along and across the way out, degrees, from a phone that lies flat with its top toward the way out: `beta` is
/// its pitch (top up is positive), `gamma` its roll (right edge down is positive), as the browser tells them. None for
/// what is no ordinary angle or no lying phone. Rounded to half a degree.
#[must_use]
pub fn slope_from_phone(beta: Option<f64>, gamma: Option<f64>) -> Option<(f64, f64)> {
    let (beta, gamma) = (beta?, gamma?);
    let lies = |a: f64| a.is_finite() && a.abs() <= 60.0;
    let half = |a: f64| libm::round(a * 2.0) / 2.0;
    (lies(beta) && lies(gamma)).then(|| (half(beta), half(gamma)))
}

/// The bearing of a device's top edge, degrees clockwise from north, from what the browser tells: `compass` where it gives
/// a compass heading, else `alpha`, which counts the other way round and only where it is said to be `absolute`. Rounded to
/// a degree; a device that stands steeper than 60 degrees points nowhere.
#[must_use]
pub fn bearing_from_phone(alpha: Option<f64>, beta: Option<f64>, absolute: bool, compass: Option<f64>) -> Option<f64> {
    if beta.is_some_and(|b| b.is_nan() || b.abs() > 60.0) {
        return None;
    }
    let bearing = compass.or_else(|| alpha.filter(|_| absolute).map(|a| 360.0 - a))?;
    bearing.is_finite().then(|| libm::round(bearing).rem_euclid(360.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;
    use unmire_casefile::{case_from_answers, questions};

    fn read(id: &str, answer: String) -> unmire_model::case::Case {
        let answers = BTreeMap::from([(id.to_owned(), answer)]);
        super::super::read(&case_from_answers(&answers).unwrap(), &[]).unwrap()
    }

    #[test]
    fn regress_steps_make_answers_that_the_reader_takes() {
        for (along, across) in [(0.0, 0.0), (4.5, -6.0), (-3.0, 12.5)] {
            let case = read("slope", slope(along, across));
            assert!((case.way_out.grade.value.likely().as_deg() - along).abs() < 1e-9);
            assert!((case.way_out.side_slope.value.as_deg() - across).abs() < 1e-9);
        }
        for (d, left, rise) in [(22.0, 0.0, 0.0), (22.5, 15.0, 1.5), (8.0, -170.0, -2.0)] {
            let at = read("anchor", tree(d, left, rise)).anchors[0].position;
            let is = super::super::place::Polar::of(at);
            assert!(
                (is.distance_m - d).abs() < 1e-9
                    && (is.left_deg - left).abs() < 1e-9
                    && (is.rise_m - rise).abs() < 1e-9
            );
        }
    }
    #[test]
    fn closed_form_a_phone_on_the_ground_tells_both_slopes() {
        assert_eq!(slope_from_phone(Some(4.2), Some(-6.1)), Some((4.0, -6.0)));
        assert_eq!(slope_from_phone(Some(85.0), Some(0.0)), None);
        assert_eq!(slope_from_phone(None, Some(0.0)), None);
        assert_eq!(slope_from_phone(Some(f64::NAN), Some(0.0)), None);
    }
    #[test]
    fn closed_form_a_phone_that_points_somewhere_tells_the_bearing() {
        let of = bearing_from_phone;
        assert_eq!(of(Some(90.0), Some(3.0), true, None), Some(270.0));
        assert_eq!(of(Some(0.2), Some(-3.0), true, None), Some(0.0));
        assert_eq!(of(Some(90.0), None, false, Some(310.4)), Some(310.0));
        assert_eq!(of(Some(90.0), None, false, None), None);
        assert_eq!(of(Some(90.0), Some(80.0), true, None), None);
        assert_eq!(of(Some(f64::NAN), None, true, None), None);
    }
    #[test]
    fn regress_every_question_and_every_gate_has_words_and_english_has_the_program_s() {
        let (english, german) = (
            crate::catalogue::Catalogue::of(crate::catalogue::Language::English),
            crate::catalogue::Catalogue::of(crate::catalogue::Language::German),
        );
        for q in questions() {
            for (key, text) in [("", q.text), ("-help", q.help), ("-unknown", q.unknown)] {
                let key = format!("{}{key}", q.id);
                assert_eq!(english.translate("question", &key), text, "{key}");
                assert_ne!(german.translate("question", &key), text, "{key}");
            }
        }
        for g in unmire_planner::steps::gate() {
            assert_eq!(english.translate("gate", g.word), g.text, "{}", g.word);
            assert_ne!(german.translate("gate", g.word), g.text, "{}", g.word);
        }
    }
    #[test]
    fn regress_every_kind_of_anchor_and_every_key_of_it_has_words_in_both_languages() {
        for language in crate::catalogue::Language::ALL {
            let words = crate::catalogue::Catalogue::of(language);
            for kind in unmire_casefile::keys::anchor::ANCHOR_KINDS {
                assert_ne!(words.translate("kind", kind), "", "{kind}");
                assert!(words.has("kind", kind), "{language:?}: {kind}");
                for key in unmire_casefile::keys_of_anchor(kind).unwrap() {
                    assert!(words.has("key", key.key.name), "{language:?}: {}", key.key.name);
                }
            }
            for depth in unmire_casefile::keys::case::DEPTH {
                assert!(words.has("depth", depth), "{depth}");
            }
        }
    }
}
