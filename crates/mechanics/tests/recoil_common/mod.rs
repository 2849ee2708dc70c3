//! Chains of point masses joined by springs that only pull, stepped through time. They know nothing of the bounds.

/// One stretch of line: length without load in metres, EA in newtons, kilograms a metre.
#[derive(Clone, Copy, Debug)]
pub struct Bit {
    pub length: f64,
    pub ea: f64,
    pub mass: f64,
}

/// Numbers that look like chance, always the same from the same seed.
pub struct Chance(u64);
impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed | 1)
    }
    fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    /// Ten to a power between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        libm::pow(10.0, low + (high - low) * self.unit())
    }
    pub fn bit(&mut self) -> Bit {
        Bit { length: self.between(-0.3, 1.4), ea: self.between(5.0, 6.7), mass: self.between(-1.4, 0.0) }
    }
    /// A fitting, at least a twentieth of its line: a lighter one would be less than a cell.
    pub fn end(&mut self, bits: &[Bit]) -> f64 {
        let line: f64 = bits.iter().map(|b| b.length * b.mass).sum();
        self.between(-1.5, 1.3).max(0.05 * line)
    }
}

/// The springs and masses of a straight line: stiffness, length without load, mass at each node after the first.
fn cells(bits: &[Bit], lumps: &[f64], end: f64, count: usize) -> (Vec<f64>, Vec<f64>, Vec<f64>) {
    let time: Vec<f64> = bits.iter().map(|b| b.length * (b.mass / b.ea).sqrt()).collect();
    let whole: f64 = time.iter().sum();
    let (mut k, mut rest, mut mass) = (Vec::new(), Vec::new(), vec![0.0]);
    for (i, b) in bits.iter().enumerate() {
        let n = ((count as f64 * time[i] / whole).round() as usize).max(8);
        let cell = b.length / n as f64;
        for _ in 0..n {
            k.push(b.ea / cell);
            rest.push(cell);
            *mass.last_mut().unwrap() += 0.5 * b.mass * cell;
            mass.push(0.5 * b.mass * cell);
        }
        *mass.last_mut().unwrap() += if i + 1 < bits.len() { lumps.get(i).copied().unwrap_or(0.0) } else { end };
    }
    (k, rest, mass)
}

/// Steps and time: well within a cell's own time, and long enough for all that can come.
fn timing(bits: &[Bit], k: &[f64], mass: &[f64], whole_mass: f64) -> (f64, usize) {
    let quickest =
        (1..mass.len()).map(|i| ((k[i - 1] + k.get(i).copied().unwrap_or(0.0)) / mass[i]).sqrt()).fold(0.0, f64::max);
    let dt = 0.3 / quickest;
    let there: f64 = bits.iter().map(|b| b.length * (b.mass / b.ea).sqrt()).sum();
    let give: f64 = bits.iter().map(|b| b.length / b.ea).sum();
    (dt, ((3.0 * there + 3.0 * (whole_mass * give).sqrt()) / dt) as usize)
}

/// The greatest speed of a fitting on the end of a straight line that lets go there, its first end being held.
pub fn chain(tension: f64, bits: &[Bit], lumps: &[f64], end: f64, count: usize) -> f64 {
    let (k, rest, mass) = cells(bits, lumps, end, count);
    let n = k.len();
    let (mut x, mut v, mut pull) = (vec![0.0; n + 1], vec![0.0; n + 1], vec![0.0; n + 1]);
    for i in 0..n {
        x[i + 1] = x[i] + rest[i] + tension / k[i];
    }
    let (dt, steps) = timing(bits, &k, &mass, mass.iter().sum());
    let mut best = 0.0_f64;
    for _ in 0..steps {
        for i in 0..n {
            pull[i] = (k[i] * (x[i + 1] - x[i] - rest[i])).max(0.0);
        }
        for i in 1..=n {
            v[i] += (if i < n { pull[i] } else { 0.0 } - pull[i - 1]) / mass[i] * dt;
            x[i] += v[i] * dt;
        }
        best = best.max(-v[n]);
    }
    best
}

/// The greatest speed of the free end of a line that goes out to a block and back, when its dead end lets go. The block hangs on a
/// strap beyond; all lies on one straight line, x being the distance from the winch.
pub fn double_line(tension: f64, line: Bit, strap: Bit, block: f64, count: usize) -> f64 {
    let n = 2 * count;
    let cell = line.length / count as f64;
    let k = line.ea / cell;
    let loaded = cell + tension / k;
    let out = loaded * count as f64;
    // Nodes by their distance along the line; those past the block lie on the way back.
    let mut x: Vec<f64> =
        (0..=n).map(|i| i as f64 * loaded).map(|s| if s <= out { s } else { 2.0 * out - s }).collect();
    let mut back: Vec<bool> = (0..=n).map(|i| i > count).collect();
    let mut v = vec![0.0; n + 1];
    let mass = |i: usize| line.mass * cell * if i == n { 0.5 + 0.05 * n as f64 } else { 1.0 };
    // The strap as a chain of its own, from the anchor.
    let links = 12;
    let link = strap.length / links as f64;
    let ks = strap.ea / link;
    let anchor = out + strap.length + 2.0 * tension * strap.length / strap.ea;
    let mut sx: Vec<f64> = (0..=links).map(|i| anchor - i as f64 * (link + 2.0 * tension / ks)).collect();
    let mut sv = vec![0.0; links + 1];
    let strap_mass =
        |i: usize| strap.mass * link * if i == links { 0.5 } else { 1.0 } + if i == links { block } else { 0.0 };
    let dt = 0.25 / ((2.0 * k / (line.mass * cell)).sqrt()).max((2.0 * ks / (strap.mass * link)).sqrt());
    let end_mass = mass(n);
    let give = 2.0 * line.length / line.ea + 4.0 * strap.length / strap.ea;
    let steps = ((3.0 * (give * (block + end_mass + 2.0 * line.mass * line.length)).sqrt()
        + 6.0 * line.length * (line.mass / line.ea).sqrt())
        / dt) as usize;
    let mut best = 0.0_f64;
    for _ in 0..steps {
        let d = sx[links];
        let mut f = vec![0.0; n + 1];
        let mut on_block = 0.0;
        for i in 0..n {
            let length = match (back[i], back[i + 1]) {
                (false, false) => x[i + 1] - x[i],
                (true, true) => x[i] - x[i + 1],
                _ => (d - x[i]) + (d - x[i + 1]),
            };
            let t = (k * (length - cell)).max(0.0);
            // Along x, forward on the way out, backward on the way back.
            f[i] += if back[i] { -t } else { t };
            f[i + 1] += if back[i + 1] { t } else { -t };
            if back[i] != back[i + 1] {
                on_block -= 2.0 * t;
            }
        }
        for i in 1..=n {
            v[i] += f[i] / mass(i) * dt;
            x[i] += v[i] * dt;
        }
        let mut sf = vec![0.0; links + 1];
        for i in 0..links {
            let t = (ks * (sx[i] - sx[i + 1] - link)).max(0.0);
            sf[i] -= t;
            sf[i + 1] += t;
        }
        sf[links] += on_block;
        for i in 1..=links {
            sv[i] += sf[i] / strap_mass(i) * dt;
            sx[i] += sv[i] * dt;
        }
        let (d, vd) = (sx[links], sv[links]);
        for i in 1..=n {
            if x[i] > d {
                // It runs over the sheave: on the other side, with the same speed along the line.
                back[i] = !back[i];
                x[i] = 2.0 * d - x[i];
                v[i] = 2.0 * vd - v[i];
            }
        }
        if back[n] {
            best = best.max(v[n].abs());
        } else {
            break;
        }
    }
    best
}

/// The greatest speed of a mass in the bend of a line, both ends held, when what held it lets go. `angle`: between the legs.
pub fn bend(tension: f64, line: Bit, angle: f64, block: f64, count: usize) -> f64 {
    let n = 2 * count;
    let cell = line.length / count as f64;
    let k = line.ea / cell;
    let loaded = cell + tension / k;
    let (cos, sin) = (libm::cos(angle / 2.0), libm::sin(angle / 2.0));
    let mut p: Vec<(f64, f64)> = (0..=n)
        .map(|i| {
            let s = loaded * (count as f64 - i as f64);
            (s.abs() * cos, s * sin)
        })
        .collect();
    let mut v = vec![(0.0, 0.0); n + 1];
    let mass = |i: usize| line.mass * cell + if i == count { block } else { 0.0 };
    let dt = 0.3 * (line.mass * cell / k).sqrt();
    let energy = tension * tension * line.length / line.ea;
    let whole = block + line.mass * 2.0 * line.length;
    let steps = ((8.0 * line.length * (line.mass / line.ea).sqrt()
        + 1.5 * line.length * (whole / (2.0 * energy)).sqrt())
        / dt) as usize;
    let mut best = 0.0_f64;
    for _ in 0..steps {
        let mut f = vec![(0.0, 0.0); n + 1];
        for i in 0..n {
            let d = (p[i + 1].0 - p[i].0, p[i + 1].1 - p[i].1);
            let length = libm::hypot(d.0, d.1);
            let t = k * (length - cell);
            if t > 0.0 {
                let pull = (t * d.0 / length, t * d.1 / length);
                f[i] = (f[i].0 + pull.0, f[i].1 + pull.1);
                f[i + 1] = (f[i + 1].0 - pull.0, f[i + 1].1 - pull.1);
            }
        }
        for i in 1..n {
            v[i] = (v[i].0 + f[i].0 / mass(i) * dt, v[i].1 + f[i].1 / mass(i) * dt);
            p[i] = (p[i].0 + v[i].0 * dt, p[i].1 + v[i].1 * dt);
        }
        best = best.max(libm::hypot(v[count].0, v[count].1));
    }
    best
}
