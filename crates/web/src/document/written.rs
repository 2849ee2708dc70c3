//! A document as it is written: blocks with a heading each, in them keys with their values. TOML has three ways of writing a table and two
//! of writing a list; here they are found by their paths.

use super::Step;
use super::raw::{Node, Raw};

/// A document.
#[derive(Clone, Debug, Default)]
pub(super) struct Written {
    /// The first has no heading.
    pub(super) blocks: Vec<Block>,
    /// What stands behind the last of them.
    pub(super) tail: String,
}

/// What stands under one heading.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    /// Space, comments and empty lines before the heading.
    pub(super) lead: String,
    /// The parts of its key.
    pub(super) key: Vec<String>,
    /// Whether it is one of a list.
    pub(super) list: bool,
    /// The heading as it is written, with the end of its line.
    pub(super) line: String,
    /// What is in it.
    pub(super) nodes: Vec<Node>,
    /// Where it is in the document.
    pub(super) path: Vec<Step>,
}
impl Block {
    pub(super) fn write(&self, out: &mut String) {
        out.push_str(&self.lead);
        out.push_str(&self.line);
        self.nodes.iter().for_each(|n| n.write(out));
    }
}

/// What stands at a path.
#[derive(Clone, Copy, Debug)]
pub(super) enum Spot<'a> {
    /// A value.
    Value(&'a Raw),
    /// A table with a heading, or of keys with points in them.
    Table,
    /// Tables with a heading each: so many.
    List(usize),
}

/// How far the parts of a key lead along a path: to its end or beyond it.
pub(super) fn along(key: &[String], path: &[Step]) -> bool {
    key.iter().zip(path).all(|(k, step)| matches!(step, Step::Key(s) if s == k))
}

impl Written {
    pub(super) fn text(&self) -> String {
        let mut out = String::new();
        self.blocks.iter().for_each(|b| b.write(&mut out));
        out.push_str(&self.tail);
        out
    }
    /// Works out anew where each block is.
    pub(super) fn number(&mut self) {
        let mut lists: Vec<(Vec<Step>, usize)> = Vec::new();
        for block in &mut self.blocks {
            let mut path = Vec::new();
            for (i, part) in block.key.iter().enumerate() {
                path.push(Step::Key(part.clone()));
                let its = lists.iter_mut().find(|(list, _)| *list == path);
                let new = block.list && i + 1 == block.key.len();
                match its {
                    Some((_, n)) => {
                        *n += usize::from(new);
                        let last = *n - 1;
                        path.push(Step::Index(last));
                    }
                    None if new => {
                        lists.push((path.clone(), 1));
                        path.push(Step::Index(0));
                    }
                    None => {}
                }
            }
            block.path = path;
        }
    }
    /// What stands at a path.
    pub(super) fn spot(&self, path: &[Step]) -> Option<Spot<'_>> {
        let mut found = None;
        for block in &self.blocks {
            if !path.is_empty() && block.path.starts_with(path) {
                found = Some(match block.path.get(path.len()) {
                    Some(Step::Index(n)) => Spot::List(n + 1),
                    _ => Spot::Table,
                });
            }
            let Some(rest) = path.strip_prefix(block.path.as_slice()) else { continue };
            for node in block.nodes.iter().filter(|n| along(&n.key, rest)) {
                match rest.get(node.key.len()..) {
                    Some(inner) => return descend(&node.value, inner).map(Spot::Value),
                    None => found = found.or(Some(Spot::Table)),
                }
            }
        }
        found
    }
    /// The keys of the table at a path, each once.
    pub(super) fn keys(&self, path: &[Step]) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        let mut add = |key: Option<&String>| {
            if let Some(key) = key.filter(|k| !out.contains(k)) {
                out.push(key.clone());
            }
        };
        if let Some(Raw::Table(row)) = self.value(path) {
            row.nodes.iter().for_each(|n| add(n.key.first()));
        }
        for block in &self.blocks {
            if let (true, Some(Step::Key(key))) = (block.path.starts_with(path), block.path.get(path.len())) {
                add(Some(key));
            }
            let Some(rest) = path.strip_prefix(block.path.as_slice()) else { continue };
            block.nodes.iter().filter(|n| along(&n.key, rest)).for_each(|n| add(n.key.get(rest.len())));
        }
        out
    }
    /// The value that stands at a path.
    pub(super) fn value(&self, path: &[Step]) -> Option<&Raw> {
        match self.spot(path)? {
            Spot::Value(v) => Some(v),
            _ => None,
        }
    }
    /// The same, to be changed.
    pub(super) fn value_mut(&mut self, path: &[Step]) -> Option<&mut Raw> {
        for block in &mut self.blocks {
            let Some(rest) = path.strip_prefix(block.path.as_slice()) else { continue };
            for node in &mut block.nodes {
                if let (true, Some(inner)) = (along(&node.key, rest), rest.get(node.key.len()..)) {
                    return descend_mut(&mut node.value, inner);
                }
            }
        }
        None
    }
    /// The deepest thing that a byte belongs to: a value, a key, or the heading of a table.
    pub(super) fn at(&self, byte: usize) -> Option<Vec<Step>> {
        let mut start = 0;
        for block in &self.blocks {
            let mut path = block.path.clone();
            start += block.lead.len();
            if (start..start + block.line.trim_end().len()).contains(&byte) {
                return Some(path);
            }
            start += block.line.len();
            if within(&block.nodes, 0, &mut start, byte, &mut path) {
                return Some(path);
            }
        }
        None
    }
}

/// Goes through some nodes that begin at a byte, with so many bytes between two of them; leaves the path at the one that is looked for.
fn within(nodes: &[Node], between: usize, start: &mut usize, byte: usize, path: &mut Vec<Step>) -> bool {
    for (i, node) in nodes.iter().enumerate() {
        let before = path.len();
        match node.key.is_empty() {
            true => path.push(Step::Index(i)),
            false => path.extend(node.key.iter().cloned().map(Step::Key)),
        }
        *start += node.lead.len();
        let whole = *start..*start + node.name.len() + node.value.text().len();
        if whole.contains(&byte) {
            *start += node.name.len() + 1;
            if let Raw::List(row) | Raw::Table(row) = &node.value {
                within(&row.nodes, 1, start, byte, path);
            }
            return true;
        }
        *start = whole.end + node.tail.len() + between;
        path.truncate(before);
    }
    false
}

fn descend<'r>(raw: &'r Raw, path: &[Step]) -> Option<&'r Raw> {
    let Some((first, rest)) = path.split_first() else { return Some(raw) };
    match (raw, first) {
        (Raw::List(row), Step::Index(n)) => descend(&row.nodes.get(*n)?.value, rest),
        (Raw::Table(row), Step::Key(_)) => {
            let node = row.nodes.iter().find(|n| along(&n.key, path) && n.key.len() <= path.len())?;
            descend(&node.value, path.get(node.key.len()..)?)
        }
        _ => None,
    }
}
fn descend_mut<'r>(raw: &'r mut Raw, path: &[Step]) -> Option<&'r mut Raw> {
    let Some((first, rest)) = path.split_first() else { return Some(raw) };
    match (raw, first) {
        (Raw::List(row), Step::Index(n)) => descend_mut(&mut row.nodes.get_mut(*n)?.value, rest),
        (Raw::Table(row), Step::Key(_)) => {
            let node = row.nodes.iter_mut().find(|n| along(&n.key, path) && n.key.len() <= path.len())?;
            let rest = path.get(node.key.len()..)?;
            descend_mut(&mut node.value, rest)
        }
        _ => None,
    }
}
