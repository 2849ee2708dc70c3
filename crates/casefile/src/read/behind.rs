//! What stands behind what: anchors that are tied back to another, helpers that another holds.

use super::kit::refer;
use super::layout::is_line;
use crate::walk::{Mistake, Node, Walk, either, nearest};
use core::ops::Range as Span;
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};
use unmire_model::anchor::TieBack;
use unmire_model::case::Case;

/// The tables of a list. Only if each of them was read does its place in the list tell which it is.
fn items<'a, 't>(n: &Node<'a, 't>, name: &str, read: usize) -> Vec<&'a DeTable<'t>> {
    let Some(DeValue::Array(all)) = n.table.get(name).map(|v| v.get_ref()) else { return Vec::new() };
    let tables: Vec<_> = all.iter().filter_map(|i| i.get_ref().as_table()).collect();
    if tables.len() == read { tables } else { Vec::new() }
}

fn span(table: &DeTable<'_>, name: &str) -> Span<usize> {
    table.get_key_value(name).map_or(0..0, |(k, _)| k.span())
}

/// One thing of a chain.
struct Link<'c> {
    id: &'c str,
    /// The one behind it, and where that is said.
    behind: Option<(&'c str, Span<usize>)>,
}

/// How a chain is spoken of.
struct Words {
    /// What each thing of the chain is.
    thing: &'static str,
    /// How it is joined to the one behind.
    joined: &'static str,
}

/// Tells of links that go nowhere, to themselves or round in a ring.
fn chain(w: &mut Walk<'_>, links: &[Link<'_>], words: &Words) {
    let Words { thing, joined } = words;
    let mut place: BTreeMap<&str, usize> = BTreeMap::new();
    place.extend(links.iter().enumerate().map(|(i, l)| (l.id, i)));
    let next = |i: usize| links.get(i).and_then(|l| l.behind.as_ref()).and_then(|(id, _)| place.get(id).copied());
    for (i, link) in links.iter().enumerate() {
        let Some((behind, at)) = &link.behind else { continue };
        if *behind == link.id {
            w.tell(
                Mistake::new("contradiction", at.clone(), format!("\"{behind}\" is {joined} itself"))
                    .expected(format!("another {thing}")),
            );
            continue;
        }
        if next(i).is_none() {
            let others: Vec<&str> = links.iter().map(|l| l.id).filter(|id| *id != link.id).collect();
            w.tell(
                Mistake::new("unknown-id", at.clone(), format!("there is no {thing} \"{behind}\" in this case"))
                    .expected(if others.is_empty() { format!("another {thing}") } else { either(&others) })
                    .maybe_hint(nearest(behind, others.iter().copied()).map(|x| format!("did you mean \"{x}\"?"))),
            );
            continue;
        }
        // A ring is told of once, at the first of its links.
        let mut ring = vec![i];
        while let Some(on) = ring.last().and_then(|l| next(*l))
            && !ring.contains(&on)
        {
            ring.push(on);
        }
        let back = ring.last().and_then(|l| next(*l)) == Some(i);
        if back && ring.iter().min() == Some(&i) {
            let way: Vec<String> =
                ring.iter().chain([&i]).filter_map(|l| links.get(*l)).map(|l| format!("\"{}\"", l.id)).collect();
            w.tell(
                Mistake::new("contradiction", at.clone(), format!("a ring: {}", way.join(&format!(" is {joined} "))))
                    .expected(format!("a last {thing} that stands alone")),
            );
        }
    }
}

/// What is tied to what stands behind it: what it is, its tie, and its table.
struct Tied<'c, 't> {
    id: &'c str,
    tie: Option<&'c TieBack>,
    table: &'c DeTable<'t>,
}

/// Tells of ties that go nowhere, and of pieces that are not there, are no line, or have another place already.
fn ties<'c>(
    w: &mut Walk<'_>,
    case: &'c Case,
    all: &[Tied<'c, '_>],
    key: &str,
    words: &Words,
    used: &mut BTreeMap<&'c str, &'c str>,
) {
    let mut links = Vec::new();
    for one in all {
        let said = one.table.get(key).and_then(|x| x.get_ref().as_table()).zip(one.tie);
        links.push(Link { id: one.id, behind: said.map(|(t, tie)| (tie.to.as_str(), span(t, "to"))) });
        let Some((t, tie)) = said else { continue };
        let at = span(t, "with");
        if refer(w, &case.kit, &tie.with, at.clone(), "a tie-back", is_line).is_none() {
            continue;
        }
        if let Some(before) = used.insert(&tie.with, one.id) {
            w.tell(
                Mistake::new("used-twice", at, format!("\"{}\" already holds back \"{before}\"", tie.with))
                    .expected("each piece in one place"),
            );
        }
    }
    chain(w, &links, words);
}

/// Anchors and helpers that another holds from behind, with a piece that is there and has no other place.
pub(super) fn behind(w: &mut Walk<'_>, n: &Node<'_, '_>, case: &Case) {
    let mut used = BTreeMap::new();
    let tables = items(n, "anchor", case.anchors.len());
    let anchors: Vec<_> = case
        .anchors
        .iter()
        .zip(tables)
        .map(|(a, table)| Tied { id: &a.id, tie: a.tied_back.as_ref(), table })
        .collect();
    ties(w, case, &anchors, "tied_back", &Words { thing: "anchor", joined: "tied back to" }, &mut used);
    let tables = items(n, "helper", case.helpers.len());
    let helpers: Vec<_> = case
        .helpers
        .iter()
        .zip(tables)
        .map(|(h, table)| Tied { id: &h.vehicle.name, tie: h.backed_by.as_ref(), table })
        .collect();
    ties(w, case, &helpers, "backed_by", &Words { thing: "helper", joined: "backed by" }, &mut used);
}
