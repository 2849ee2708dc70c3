//! The squares of a QR code (ISO/IEC 18004, model 2): alphanumeric mode, middle error correction, versions 1 to 20. Written here
//! because it is a tenth of what a library for all of it weighs; another program's reader tests it.

/// Error-correcting codewords of a block at the middle level, for versions 1 to 20.
const CORRECTING: [usize; 20] = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26];
/// Blocks at the middle level, for versions 1 to 20.
const BLOCKS: [usize; 20] = [1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16];
/// The letters of the mode, in the order of their values.
const LETTERS: &[u8] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// A square of squares: dark or light, and which of them are no data.
struct Grid {
    side: usize,
    dark: Vec<bool>,
    fixed: Vec<bool>,
}
impl Grid {
    fn put(&mut self, x: usize, y: usize, dark: bool) {
        let at = y * self.side + x;
        if let (true, Some(d), Some(f)) = (x < self.side, self.dark.get_mut(at), self.fixed.get_mut(at)) {
            (*d, *f) = (dark, true);
        }
    }
    /// A pattern round a middle: dark by the distance from it.
    fn rings(&mut self, x: usize, y: usize, reach: usize, dark: impl Fn(usize) -> bool) {
        for dy in 0..=2 * reach {
            for dx in 0..=2 * reach {
                if let (Some(px), Some(py)) = ((x + dx).checked_sub(reach), (y + dy).checked_sub(reach))
                    && py < self.side
                {
                    self.put(px, py, dark(dx.abs_diff(reach).max(dy.abs_diff(reach))));
                }
            }
        }
    }
}

/// Bits, the highest of a value first.
struct Bits(Vec<bool>);
impl Bits {
    fn push(&mut self, value: usize, bits: usize) {
        self.0.extend((0..bits).rev().map(|b| value >> b & 1 == 1));
    }
    fn bytes(&self) -> Vec<u8> {
        self.0.chunks(8).map(|c| c.iter().fold(0, |n, b| n << 1 | u8::from(*b))).collect()
    }
}

/// Codewords that a version has, data and correction together.
fn codewords(version: usize) -> usize {
    let mut squares = (16 * version + 128) * version + 64;
    if version >= 2 {
        let n = version / 7 + 2;
        squares -= (25 * n - 10) * n - 55;
    }
    if version >= 7 {
        squares -= 36;
    }
    squares / 8
}

/// Squares a side, and which are dark, row by row; nothing if a letter is none of the mode or there are too many.
pub(super) fn encode(text: &str) -> Option<(usize, Vec<bool>)> {
    let values = text.bytes().map(|b| LETTERS.iter().position(|l| *l == b)).collect::<Option<Vec<usize>>>()?;
    let needs = |count: usize| 4 + count + values.len() / 2 * 11 + values.len() % 2 * 6;
    let (version, counting, room) = (1..=20).zip(CORRECTING).zip(BLOCKS).find_map(|((v, correcting), blocks)| {
        let counting = if v < 10 { 9 } else { 11 };
        let room = codewords(v) - correcting * blocks;
        (needs(counting) <= 8 * room).then_some((v, counting, room))
    })?;
    let mut bits = Bits(Vec::new());
    bits.push(0b0010, 4);
    bits.push(values.len(), counting);
    for pair in values.chunks(2) {
        match *pair {
            [a, b] => bits.push(45 * a + b, 11),
            [a] => bits.push(a, 6),
            _ => {}
        }
    }
    bits.push(0, 4.min(8 * room - bits.0.len()));
    bits.push(0, (8 - bits.0.len() % 8) % 8);
    let mut data = bits.bytes();
    data.extend([0xEC, 0x11].into_iter().cycle().take(room - data.len()));
    let mut grid = patterns(version);
    fill(&mut grid, &woven(version, &data)?);
    let masked = (0..8).map(|mask| mask_with(&grid, mask)).min_by_key(penalty)?;
    Some((masked.side, masked.dark))
}

/// Data in blocks, each with its correction, woven into one row.
fn woven(version: usize, data: &[u8]) -> Option<Vec<u8>> {
    let (correcting, blocks) = (*CORRECTING.get(version - 1)?, *BLOCKS.get(version - 1)?);
    let all = codewords(version);
    let (short, long) = (all / blocks - correcting, all % blocks);
    let divisor = divisor(correcting);
    let (mut parts, mut rest) = (Vec::new(), data);
    for b in 0..blocks {
        let (part, more) = rest.split_at_checked(short + usize::from(b >= blocks - long))?;
        parts.push((part, remainder(part, &divisor)));
        rest = more;
    }
    let mut out = Vec::with_capacity(all);
    for i in 0..=short {
        out.extend(parts.iter().filter_map(|(part, _)| part.get(i)));
    }
    for i in 0..correcting {
        out.extend(parts.iter().filter_map(|(_, c)| c.get(i)));
    }
    Some(out)
}

/// The product in the field of 256 with x⁸ + x⁴ + x³ + x² + 1.
fn times(a: u8, b: u8) -> u8 {
    (0..8).rev().fold(0_u8, |z, i| (z << 1) ^ ((z >> 7) * 0x1D) ^ ((b >> i & 1) * a))
}
/// The polynomial with the first powers of 2 as its roots, without its leading one.
fn divisor(degree: usize) -> Vec<u8> {
    let mut out = vec![0; degree];
    if let Some(last) = out.last_mut() {
        *last = 1;
    }
    let mut root = 1;
    for _ in 0..degree {
        for j in 0..degree {
            let next = out.get(j + 1).copied().unwrap_or_default();
            if let Some(c) = out.get_mut(j) {
                *c = times(*c, root) ^ next;
            }
        }
        root = times(root, 2);
    }
    out
}
fn remainder(data: &[u8], divisor: &[u8]) -> Vec<u8> {
    let mut out = vec![0; divisor.len()];
    for b in data {
        let factor = b ^ out.first().copied().unwrap_or_default();
        out.rotate_left(1);
        if let Some(last) = out.last_mut() {
            *last = 0;
        }
        for (c, d) in out.iter_mut().zip(divisor) {
            *c ^= times(*d, factor);
        }
    }
    out
}

/// Everything that is no data, the format as if the mask were the first.
fn patterns(version: usize) -> Grid {
    let side = 4 * version + 17;
    let mut g = Grid { side, dark: vec![false; side * side], fixed: vec![false; side * side] };
    for i in 0..side {
        g.put(6, i, i % 2 == 0);
        g.put(i, 6, i % 2 == 0);
    }
    for (x, y) in [(3, 3), (side - 4, 3), (3, side - 4)] {
        g.rings(x, y, 4, |d| d != 2 && d != 4);
    }
    if version > 1 {
        let n = version / 7 + 2;
        let step = (8 * version + 3 * n + 5) / (4 * n - 4) * 2;
        let place = |i: usize| if i == 0 { 6 } else { side - 7 - (n - 1 - i) * step };
        for (i, j) in (0..n).flat_map(|i| (0..n).map(move |j| (i, j))) {
            if ![(0, 0), (0, n - 1), (n - 1, 0)].contains(&(i, j)) {
                g.rings(place(i), place(j), 2, |d| d != 1);
            }
        }
    }
    if version >= 7 {
        let rest = (0..12).fold(version, |r, _| (r << 1) ^ ((r >> 11) * 0x1F25));
        let bits = version << 12 | rest;
        for i in 0..18 {
            let (a, b, dark) = (side - 11 + i % 3, i / 3, bits >> i & 1 == 1);
            g.put(a, b, dark);
            g.put(b, a, dark);
        }
    }
    format(&mut g, 0);
    g
}

/// Level and mask, twice. The middle level is 00.
fn format(g: &mut Grid, mask: usize) {
    let rest = (0..10).fold(mask, |r, _| (r << 1) ^ ((r >> 9) * 0x537));
    let bits = (mask << 10 | rest) ^ 0x5412;
    let side = g.side;
    for i in 0..15 {
        let dark = bits >> i & 1 == 1;
        let (x, y) = match i {
            0..=5 => (8, i),
            6 | 7 => (8, i + 1),
            8 => (7, 8),
            _ => (14 - i, 8),
        };
        g.put(x, y, dark);
        let (x, y) = if i < 8 { (side - 1 - i, 8) } else { (8, side - 15 + i) };
        g.put(x, y, dark);
    }
    g.put(8, side - 8, true);
}

/// Puts data into what is free: columns in twos from the right, up and down in turn.
fn fill(g: &mut Grid, data: &[u8]) {
    let mut bits = data.iter().flat_map(|b| (0..8).rev().map(move |i| b >> i & 1 == 1));
    for right in (1..g.side).rev().step_by(2).map(|r| if r <= 6 { r - 1 } else { r }) {
        for down in 0..g.side {
            let y = if (right + 1) & 2 == 0 { g.side - 1 - down } else { down };
            for x in [right, right.wrapping_sub(1)] {
                let at = y * g.side + x;
                if g.fixed.get(at) == Some(&false)
                    && let Some(d) = g.dark.get_mut(at)
                {
                    *d = bits.next().unwrap_or_default();
                }
            }
        }
    }
}

/// The code under one of the eight masks.
fn mask_with(g: &Grid, mask: usize) -> Grid {
    let mut out = Grid { side: g.side, dark: g.dark.clone(), fixed: g.fixed.clone() };
    for (at, (dark, fixed)) in out.dark.iter_mut().zip(&g.fixed).enumerate() {
        let (x, y) = (at % g.side, at / g.side);
        let turned = match mask {
            0 => (x + y) % 2,
            1 => y % 2,
            2 => x % 3,
            3 => (x + y) % 3,
            4 => (x / 3 + y / 2) % 2,
            5 => x * y % 2 + x * y % 3,
            6 => (x * y % 2 + x * y % 3) % 2,
            _ => ((x + y) % 2 + x * y % 3) % 2,
        } == 0;
        *dark ^= turned && !fixed;
    }
    format(&mut out, mask);
    out
}

/// How hard a code is to read: long runs of one colour and squares of it. Which mask is taken matters to no reader.
fn penalty(g: &Grid) -> usize {
    let at = |x: usize, y: usize| x < g.side && g.dark.get(y * g.side + x).copied().unwrap_or_default();
    let mut out = 0;
    for a in 0..g.side {
        for turned in [false, true] {
            let mut run = 0;
            for b in 0..g.side {
                let same = b > 0 && if turned { at(a, b) == at(a, b - 1) } else { at(b, a) == at(b - 1, a) };
                run = if same { run + 1 } else { 1 };
                out += match run {
                    5 => 3,
                    6.. => 1,
                    _ => 0,
                };
            }
        }
        for b in 1..g.side {
            if a > 0 && at(a, b) == at(a - 1, b) && at(a, b) == at(a, b - 1) && at(a, b) == at(a - 1, b - 1) {
                out += 3;
            }
        }
    }
    out
}
