//! Where in a document something stands: `vehicle.point[0].position[2]`.

use core::fmt;
use core::str::FromStr;

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Into a table.
    Key(String),
    /// Into a list, from zero.
    Index(usize),
}

/// A path from the root of a document.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Path(Vec<Step>);

impl Path {
    /// Its steps.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }
    /// The path one step further.
    #[must_use]
    pub fn then(&self, step: Step) -> Self {
        let mut steps = self.0.clone();
        steps.push(step);
        Self(steps)
    }
}
impl From<Vec<Step>> for Path {
    fn from(steps: Vec<Step>) -> Self {
        Self(steps)
    }
}
impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, step) in self.0.iter().enumerate() {
            match step {
                Step::Key(k) if i == 0 => f.write_str(k)?,
                Step::Key(k) => write!(f, ".{k}")?,
                Step::Index(n) => write!(f, "[{n}]")?,
            }
        }
        Ok(())
    }
}

/// What is no path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoPath(pub String);

impl FromStr for Path {
    type Err = NoPath;

    /// Keys are bare keys of TOML, as all of a case file are.
    fn from_str(text: &str) -> Result<Self, NoPath> {
        let fail = || NoPath(text.to_owned());
        let mut steps = Vec::new();
        for part in text.split('.') {
            let (key, mut rest) = part.find('[').map_or((part, ""), |i| part.split_at(i));
            if key.is_empty() || !key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-') {
                return Err(fail());
            }
            steps.push(Step::Key(key.to_owned()));
            while !rest.is_empty() {
                let (index, behind) = rest.strip_prefix('[').and_then(|r| r.split_once(']')).ok_or_else(fail)?;
                steps.push(Step::Index(index.parse().map_err(|_| fail())?));
                rest = behind;
            }
        }
        Ok(Self(steps))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_paths_are_read_and_printed() {
        for text in ["mass", "vehicle.point[0].position[2]", "a[1][2].b-c_d"] {
            assert_eq!(text.parse::<Path>().unwrap().to_string(), text);
        }
        for wrong in ["", ".", "a.", "a[", "a[]", "a[-1]", "a[0]b", "[0]", "a b", "a.[0]"] {
            assert!(wrong.parse::<Path>().is_err(), "{wrong}");
        }
    }
}
