//! Reads the rigs of checks/rig, and makes random ones. Shared by the tests and the benchmark.
#![allow(dead_code, missing_docs, clippy::expect_used, clippy::panic)]

use std::path::PathBuf;
use toml::{Table, Value};
use unmire_model::rig::{Drive, Line, Motion, Node, Sling, Structure, Turn};
use unmire_model::{Force, Length, Vec3};

/// One file of checks/rig.
pub struct Case {
    pub id: String,
    pub structure: Structure,
    pub table: Table,
}
impl Case {
    pub fn node(&self, name: &str) -> usize {
        self.structure.nodes.iter().position(|n| n.name == name).expect("a point of that name")
    }
    pub fn expected(&self, key: &str) -> Vec<Table> {
        tables(self.table["expected"].as_table().expect("a table"), key)
    }
}

pub fn number(v: &Value) -> f64 {
    v.as_float().expect("a number with a point")
}
pub fn text<'a>(t: &'a Table, key: &str) -> &'a str {
    t[key].as_str().expect("a text")
}
pub fn vector(v: &Value) -> Vec3 {
    let a: Vec<f64> = v.as_array().expect("an array").iter().map(number).collect();
    Vec3::new(a[0], a[1], a[2])
}
pub fn tables(t: &Table, key: &str) -> Vec<Table> {
    let rows = t.get(key).and_then(Value::as_array).cloned().unwrap_or_default();
    rows.into_iter().map(|row| row.as_table().expect("a table").clone()).collect()
}

/// All rigs of checks/rig, by name of file.
pub fn cases() -> Vec<Case> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../checks/rig");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder of checks")
        .map(|f| f.expect("a file").path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files.iter().map(|p| case(&std::fs::read_to_string(p).expect("a text"))).collect()
}

pub fn case_named(id: &str) -> Case {
    cases().into_iter().find(|c| c.id == id).expect("a case of that name")
}

fn case(source: &str) -> Case {
    let table: Table = source.parse().expect("TOML");
    let mut nodes = Vec::new();
    for p in tables(&table, "point") {
        let at = vector(&p["at_m"]);
        let fixed = p["fixed"].as_bool().expect("true or false");
        nodes.push(if fixed { Node::fixed(text(&p, "name"), at) } else { Node::free(text(&p, "name"), at) });
    }
    let find = |name: &str| nodes.iter().position(|n| n.name == name).expect("a point of that name");
    let slings = tables(&table, "sling")
        .iter()
        .map(|s| {
            let rest = Length::from_m(number(&s["slack_length_m"]));
            let ea = Force::from_n(number(&s["ea_n"]));
            Sling::new(text(s, "name"), find(text(s, "from")), find(text(s, "to")), rest, ea)
        })
        .collect();
    let line = table["line"].as_table().expect("a table");
    let names = |v: &Value| -> Vec<usize> {
        v.as_array().expect("an array").iter().map(|n| find(n.as_str().expect("a name"))).collect()
    };
    let drive = table["drive"].as_table().expect("a table");
    let drive = match text(drive, "kind") {
        "tension" => Drive::Tension(Force::from_n(number(&drive["tension_n"]))),
        "pull" => Drive::Pull {
            points: names(&drive["points"]),
            direction: vector(&drive["direction"]),
            force: Force::from_n(number(&drive["force_n"])),
        },
        "length" => Drive::Length {
            rest_length: Length::from_m(number(&drive["slack_length_m"])),
            ea: Force::from_n(number(&drive["ea_n"])),
        },
        other => panic!("no drive is called {other}"),
    };
    let turns =
        line["ratios"].as_array().expect("an array").iter().map(|r| Turn::Sheave { ratio: number(r) }).collect();
    let lines = vec![Line { name: "line".into(), path: names(&line["path"]), turns, motion: Motion::Hauling, drive }];
    Case { id: text(&table, "id").to_string(), structure: Structure { nodes, slings, lines }, table }
}

/// A small seeded generator of numbers (splitmix64), so that a random rig is the same everywhere.
pub struct Dice(pub u64);
impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }
    pub fn point(&mut self, centre: Vec3, reach: f64) -> Vec3 {
        centre + Vec3::new(self.between(-reach, reach), self.between(-reach, reach), self.between(-0.2, 0.2) * reach)
    }
}

/// A random rig: one to four blocks, each on two or three slings to anchors of its own (some of them too long to
/// become taut), some blocks joined by a sling, weights, and one line through all of them with a ratio at each.
pub fn random_rig(seed: u64) -> Structure {
    let mut d = Dice(seed);
    let blocks = 1 + d.below(4);
    let mut nodes = vec![Node::fixed("winch", d.point(Vec3::ZERO, 2.0))];
    let mut slings = Vec::new();
    let mut path = vec![0];
    for k in 0..blocks {
        let side = if k % 2 == 0 { 1.0 } else { -1.0 };
        let centre = Vec3::new(8.0 + 7.0 * k as f64, side * d.between(3.0, 10.0), d.between(-1.0, 2.0));
        let at = d.point(centre, 1.0);
        let block = nodes.len();
        nodes.push(Node::free(format!("block{k}"), at).with_weight(Force::from_n(d.between(0.0, 400.0))));
        path.push(block);
        for j in 0..2 + d.below(2) {
            let turn = side * (0.6 + 0.7 * j as f64) + d.between(-0.3, 0.3);
            let far = d.between(2.5, 6.0);
            let anchor =
                at + Vec3::new(far * libm::cos(turn), side * (far * libm::sin(turn)).abs(), d.between(-0.5, 1.0));
            let long = (anchor - at).norm() * if j == 2 { d.between(1.0, 1.6) } else { d.between(0.85, 1.0) };
            nodes.push(Node::fixed(format!("tree{k}{j}"), anchor));
            let ea = Force::from_kn(d.between(150.0, 3000.0));
            slings.push(Sling::new(format!("sling{k}{j}"), nodes.len() - 1, block, Length::from_m(long), ea));
        }
    }
    if blocks > 2 && d.unit() < 0.5 {
        let long = (nodes[path[1]].at - nodes[path[3]].at).norm() * d.between(0.97, 1.1);
        let ea = Force::from_kn(d.between(150.0, 900.0));
        slings.push(Sling::new("tie", path[1], path[3], Length::from_m(long), ea));
    }
    let end = d.point(Vec3::new(8.0 + 7.0 * blocks as f64, 0.0, 0.0), 2.0);
    nodes.push(Node::fixed("end", end));
    path.push(nodes.len() - 1);
    let mut line = Line::hauled("line", path, Force::from_kn(d.between(5.0, 60.0)));
    for turn in &mut line.turns {
        *turn = Turn::Sheave { ratio: d.between(0.8, 1.0) };
    }
    if d.unit() < 0.3 {
        line.motion = Motion::Lowering;
    }
    Structure { nodes, slings, lines: vec![line] }
}
