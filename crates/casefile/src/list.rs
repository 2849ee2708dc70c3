//! Getters for lists of values.

use crate::amount::whole;
use crate::key::Kind;
use crate::walk::{Mistake, Node, Walk, assignment, expected, unwrap_assumed, what_it_is, wrong_type};
use toml::de::DeValue;
use unmire_model::Range;
use unmire_model::quantity::text::{Notation, Written};
use unmire_model::trail::Input;

impl Node<'_, '_> {
    /// A list of exactly `N` ranges, each with where it came from; the whole list may be assumed, or each of them.
    pub(crate) fn ranges<Q: Written, const N: usize>(
        &self,
        w: &mut Walk<'_>,
        name: &'static str,
    ) -> Option<[Input<Range<Q>>; N]> {
        let all = self.si_of_ranges(w, name, Q::NOTATION, N)?;
        let typed: Vec<_> = all.into_iter().map(|i| Input::new(Range::of_si(i.value), i.origin)).collect();
        typed.try_into().ok()
    }
    fn si_of_ranges(
        &self,
        w: &mut Walk<'_>,
        name: &'static str,
        q: &Notation,
        n: usize,
    ) -> Option<Vec<Input<Range<f64>>>> {
        let f = self.find(w, name)?;
        let DeValue::Array(items) = f.value else {
            w.tell(wrong_type(&f, f.value, "a list"));
            return None;
        };
        if items.len() != n {
            w.tell(
                Mistake::new("wrong-type", f.span.clone(), format!("`{name}` has {} values, not {n}", items.len()))
                    .expected(f.key.about.trim_end_matches('.'))
                    .example(assignment(f.key)),
            );
            return None;
        }
        let mut out = Vec::with_capacity(n);
        for item in items.iter() {
            let Some(mut one) = unwrap_assumed(w, f.key, item) else { continue };
            one.assumed = one.assumed.or_else(|| f.assumed.clone());
            out.extend(one.range(w, q).map(|r| Input::new(r, one.origin(w))));
        }
        Some(out)
    }
    /// A list of whole numbers.
    pub(crate) fn counts(&self, w: &mut Walk<'_>, name: &'static str) -> Option<Vec<u32>> {
        let f = self.find(w, name)?;
        let Kind::Counts(most, low, high) = f.key.kind else { return None };
        let DeValue::Array(items) = f.value else {
            w.tell(wrong_type(&f, f.value, "a list"));
            return None;
        };
        let told = |code, span, message: String| {
            Mistake::new(code, span, message).expected(expected(f.key)).example(assignment(f.key))
        };
        if items.is_empty() || items.len() > most {
            w.tell(told("wrong-type", f.span.clone(), format!("`{name}` has {} entries", items.len())));
            return None;
        }
        let mut out = Vec::with_capacity(items.len());
        for item in items.iter() {
            match item.get_ref() {
                DeValue::Integer(i) if (low..=high).contains(&whole(i)) => out.extend(u32::try_from(whole(i))),
                DeValue::Integer(i) => {
                    w.tell(told("out-of-range", item.span(), format!("an entry of `{name}` is {}", whole(i))));
                }
                other => {
                    w.tell(told("wrong-type", item.span(), format!("an entry of `{name}` is {}", what_it_is(other))));
                }
            }
        }
        (out.len() == items.len()).then_some(out)
    }
}
