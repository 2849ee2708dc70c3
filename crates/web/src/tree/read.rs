//! From a tree to what it stands for. Everything is read to the end, and what is wrong is remembered: so no half of a thing
//! has to be dropped anywhere, which is most of what makes derived code large.

use super::{NoReading, Tree};
use std::collections::BTreeMap;

/// What was wrong first.
#[derive(Debug, Default)]
pub struct Faults(Option<String>);
impl Faults {
    /// Remembers that something is not what it should be.
    #[inline(never)]
    pub fn tell(&mut self, what: &str) {
        self.0.get_or_insert_with(|| what.to_owned());
    }
    /// A field of an object.
    pub fn field<T: Read>(&mut self, of: &Tree, name: &'static str) -> T {
        let before = self.0.is_some();
        let value = T::read(of.get(name).unwrap_or(&Tree::Null), self);
        if !before && self.0.is_some() {
            self.inside(name);
        }
        value
    }
    /// A field, or what stands for it where it is left out.
    pub fn field_or<T: Read>(&mut self, of: &Tree, name: &'static str, else_: T) -> T {
        if of.get(name).is_some() { self.field(of, name) } else { else_ }
    }
    #[inline(never)]
    fn inside(&mut self, name: &str) {
        if let Some(what) = &mut self.0 {
            *what = format!("{name}: {what}");
        }
    }
}

/// What can be read from a tree.
pub trait Read: Sized {
    /// Reads it. What is wrong is told to the faults; what is given back then means nothing.
    fn read(tree: &Tree, faults: &mut Faults) -> Self;
}

/// Reads something from a text.
///
/// # Errors
/// What is wrong with it, with the names that lead there.
pub fn read<T: Read>(text: &str) -> Result<T, NoReading> {
    read_tree(&Tree::parse(text)?)
}
/// Reads something from a tree.
///
/// # Errors
/// What is wrong with it, with the names that lead there.
pub fn read_tree<T: Read>(tree: &Tree) -> Result<T, NoReading> {
    let mut faults = Faults::default();
    let value = T::read(tree, &mut faults);
    match faults.0 {
        None => Ok(value),
        Some(what) => Err(NoReading(what)),
    }
}

impl Read for String {
    #[inline(never)]
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        match tree.text() {
            Some(t) => t.to_owned(),
            None => {
                faults.tell("no text");
                Self::new()
            }
        }
    }
}
impl Read for f64 {
    #[inline(never)]
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        match tree {
            Tree::Number(n) => *n,
            _ => {
                faults.tell("no number");
                Self::NAN
            }
        }
    }
}
impl Read for bool {
    #[inline(never)]
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        match tree {
            Tree::Flag(f) => *f,
            _ => {
                faults.tell("no flag");
                false
            }
        }
    }
}
/// A whole number from zero to the greatest that is exact.
fn whole(tree: &Tree, most: f64, faults: &mut Faults) -> f64 {
    match tree {
        Tree::Number(n) if *n >= 0.0 && *n <= most && libm::trunc(*n) == *n => *n,
        _ => {
            faults.tell("no whole number");
            0.0
        }
    }
}
macro_rules! whole_numbers {
    ($($type:ty: $most:expr),*) => {
        $(impl Read for $type {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it was looked at just before")]
            fn read(tree: &Tree, faults: &mut Faults) -> Self {
                whole(tree, $most, faults) as $type
            }
        })*
    };
}
whole_numbers!(u32: f64::from(u32::MAX), u64: 9_007_199_254_740_992.0, usize: f64::from(u32::MAX));

impl<T: Read> Read for Option<T> {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        match tree {
            Tree::Null => None,
            some => Some(T::read(some, faults)),
        }
    }
}
impl<T: Read> Read for Vec<T> {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        let Tree::List(all) = tree else {
            faults.tell("no list");
            return Self::new();
        };
        all.iter().map(|t| T::read(t, faults)).collect()
    }
}
impl<T: Read, const N: usize> Read for [T; N] {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        let all = match tree {
            Tree::List(all) if all.len() == N => all.as_slice(),
            _ => {
                faults.tell("no list of that length");
                &[]
            }
        };
        core::array::from_fn(|i| T::read(all.get(i).unwrap_or(&Tree::Null), faults))
    }
}
impl<A: Read, B: Read> Read for (A, B) {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        let (a, b) = match tree {
            Tree::List(all) => match all.as_slice() {
                [a, b] => (a, b),
                _ => (&Tree::Null, &Tree::Null),
            },
            _ => (&Tree::Null, &Tree::Null),
        };
        (A::read(a, faults), B::read(b, faults))
    }
}
impl Read for BTreeMap<String, String> {
    fn read(tree: &Tree, faults: &mut Faults) -> Self {
        let Tree::Object(all) = tree else {
            faults.tell("no object");
            return Self::new();
        };
        let mut read = Self::new();
        read.extend(all.iter().map(|(name, value)| (name.clone(), String::read(value, faults))));
        read
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_what_is_wrong_is_told_with_the_way_to_it() {
        use unmire_sheet::json::Origin;
        let told = |text: &str| read::<Origin>(text).map_err(|e| e.0);
        assert_eq!(told(r#"{"kind":"file","line":3,"text":null}"#).unwrap().line, Some(3));
        assert_eq!(told("{}").unwrap_err(), "kind: no text");
        assert_eq!(told(r#"{"kind":"file","line":3.5}"#).unwrap_err(), "line: no whole number");
        assert!(read::<[f64; 2]>("[1]").is_err() && read::<(u32, bool)>("[1, true]").is_ok());
        assert!(read::<u32>("-1").is_err() && read::<u32>("5e9").is_err() && read::<Vec<f64>>("7").is_err());
    }
}
