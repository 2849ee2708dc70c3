//! Looking things up in the JSON of a report. What is not there is not there: no default stands for it.

use crate::tree::Tree;

/// A place in a report; it may be empty.
#[derive(Clone, Copy, Debug)]
pub struct Node<'a>(Option<&'a Tree>);
impl<'a> Node<'a> {
    /// The place of a value.
    #[must_use]
    pub fn of(value: &'a Tree) -> Self {
        Self(Some(value))
    }
    /// What stands under a name.
    #[must_use]
    pub fn get(self, key: &str) -> Self {
        Self(self.0.and_then(|v| v.get(key)).filter(|v| **v != Tree::Null))
    }
    fn list(self) -> &'a [Tree] {
        match self.0 {
            Some(Tree::List(all)) => all,
            _ => &[],
        }
    }
    /// The one at a place of a list.
    #[must_use]
    pub fn at(self, i: usize) -> Self {
        Self(self.list().get(i).filter(|v| **v != Tree::Null))
    }
    /// Whether something stands there.
    #[must_use]
    pub fn there(self) -> bool {
        self.0.is_some()
    }
    /// A text.
    #[must_use]
    pub fn text(self) -> Option<&'a str> {
        self.0?.text()
    }
    /// A number.
    #[must_use]
    pub fn number(self) -> Option<f64> {
        match self.0? {
            Tree::Number(n) => Some(*n),
            _ => None,
        }
    }
    /// A place in a list, or how many there are: a whole number that is not negative.
    #[must_use]
    pub fn count(self) -> Option<usize> {
        let n = self.number()?;
        // Exact below 2^32, which is more than any list has.
        (n >= 0.0 && n <= f64::from(u32::MAX) && n.trunc().to_bits() == n.to_bits()).then_some(n as usize)
    }
    /// The members of a list; none if there is none.
    pub fn each(self) -> impl Iterator<Item = Node<'a>> + use<'a> {
        self.list().iter().map(Self::of)
    }
    /// How many members a list has.
    #[must_use]
    pub fn len(self) -> usize {
        self.list().len()
    }
    /// Whether there is no list, or nothing in it.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.list().is_empty()
    }
}
