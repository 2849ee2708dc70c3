//! Reads a decimal number to the nearest double, as the standard library does. That has a table of 10 kB for it, to be quick with millions
//! of numbers; in the app it would have to travel, and a case has some hundreds.

/// Powers of ten that a double holds exactly.
const EXACT: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20,
    1e21, 1e22,
];

/// A number that is written as digits, perhaps with a sign, a point, an exponent; nothing if it is none. Ties go to the even neighbour;
/// what is too large is infinite.
///
/// ```
/// use unmire_model::quantity::decimal::decimal;
/// assert_eq!(decimal("-12.5e-1"), Some(-1.25));
/// assert_eq!(decimal("1,5"), None);
/// ```
#[must_use]
pub fn decimal(text: &str) -> Option<f64> {
    let (negative, body) = match text.as_bytes().first()? {
        b'-' => (true, text.get(1..)?),
        b'+' => (false, text.get(1..)?),
        _ => (false, text),
    };
    let value = match body {
        "inf" => f64::INFINITY,
        "nan" => f64::NAN,
        _ => unsigned(body)?,
    };
    Some(if negative { -value } else { value })
}

fn unsigned(body: &str) -> Option<f64> {
    let (digits, exponent) = match body.find(['e', 'E']) {
        Some(i) => (body.get(..i)?, power(body.get(i + 1..)?)?),
        None => (body, 0),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    if whole.is_empty() && part.is_empty() || !whole.bytes().chain(part.bytes()).all(|b| b.is_ascii_digit()) {
        return None;
    }
    let mut exponent = exponent - i64::try_from(part.len()).ok()?;
    let all: Vec<u8> = whole.bytes().chain(part.bytes()).map(|b| b - b'0').collect();
    let first = all.iter().position(|d| *d > 0);
    let Some(significant) = first.and_then(|i| all.get(i..)) else { return Some(0.0) };
    let last = significant.iter().rposition(|d| *d > 0)?;
    let significant = significant.get(..=last)?;
    exponent += i64::try_from(all.len() - first? - significant.len()).ok()?;
    // Where its first digit stands tells whether it can be a double at all.
    let magnitude = exponent + i64::try_from(significant.len()).ok()?;
    if magnitude > 310 {
        return Some(f64::INFINITY);
    }
    if magnitude < -330 {
        return Some(0.0);
    }
    if significant.len() <= 19 {
        let n = significant.iter().fold(0_u64, |n, d| n * 10 + u64::from(*d));
        let of_ten = usize::try_from(exponent.unsigned_abs()).ok()?;
        // Both are exact, so that one rounding is all there is.
        if let (true, Some(p)) = (n < 1 << 53, EXACT.get(of_ten)) {
            return Some(if exponent < 0 { n as f64 / p } else { n as f64 * p });
        }
        if let (-21..=0, Ok(ten)) = (exponent, u32::try_from(of_ten)) {
            let below = 10_u128.pow(ten);
            let shift = 56 + i64::from(n.leading_zeros()) - 64 + i64::from(u128::BITS - below.leading_zeros());
            let above = if shift < 0 { 0 } else { u128::from(n) << shift };
            if shift >= 0 {
                return Some(rounded(u64::try_from(above / below).ok()?, above % below != 0, -shift));
            }
        }
    }
    Some(large(significant, exponent))
}

/// An exponent; one that is beyond all sense is as good as a smaller one.
fn power(text: &str) -> Option<i64> {
    let (negative, digits) = match text.as_bytes().first()? {
        b'-' => (true, text.get(1..)?),
        b'+' => (false, text.get(1..)?),
        _ => (false, text),
    };
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let n = digits.bytes().fold(0_i64, |n, b| (n * 10 + i64::from(b - b'0')).min(1_000_000));
    Some(if negative { -n } else { n })
}

/// The double nearest to a whole number times a power of two; `more` if it is a little more than that.
fn rounded(n: u64, more: bool, power: i64) -> f64 {
    let bits = i64::from(u64::BITS - n.leading_zeros());
    // The last place that a double of this size has.
    let place = (bits + power - 53).max(-1074);
    let Ok(drop @ 1..=63) = u32::try_from(place - power) else {
        // It has more places than are needed, or is less than the half of the least double.
        return if place <= power { libm::scalbn(n as f64, i32::try_from(power).unwrap_or(0)) } else { 0.0 };
    };
    let kept = n >> drop;
    let (rest, half) = (n & ((1 << drop) - 1), 1 << (drop - 1));
    let up = rest > half || rest == half && (more || kept & 1 == 1);
    libm::scalbn((kept + u64::from(up)) as f64, i32::try_from(place).unwrap_or(0))
}

/// Digits times a power of ten, however many of both: by long division.
fn large(digits: &[u8], exponent: i64) -> f64 {
    let mut above = vec![0];
    for d in digits {
        times(&mut above, 10, u32::from(*d));
    }
    let mut below = vec![1];
    for _ in 0..exponent.unsigned_abs() {
        times(if exponent < 0 { &mut below } else { &mut above }, 10, 0);
    }
    // So that the quotient has 57 or 58 bits.
    let shift = 57 - (length(&above) - length(&below));
    for _ in 0..shift.unsigned_abs() {
        times(if shift < 0 { &mut below } else { &mut above }, 2, 0);
    }
    for _ in 0..58 {
        times(&mut below, 2, 0);
    }
    let mut quotient = 0_u64;
    for _ in 0..=58 {
        quotient <<= 1;
        if less(&mut above, &below) {
            quotient |= 1;
        }
        half(&mut below);
    }
    rounded(quotient, above.iter().any(|w| *w > 0), -shift)
}

/// Multiplies a large number, least part first, and adds to it.
fn times(n: &mut Vec<u32>, by: u32, plus: u32) {
    let mut carry = u64::from(plus);
    for word in n.iter_mut() {
        carry += u64::from(*word) * u64::from(by);
        *word = carry as u32;
        carry >>= 32;
    }
    if carry > 0 {
        n.push(carry as u32);
    }
}

/// How many bits it has.
fn length(n: &[u32]) -> i64 {
    let top = n.iter().rposition(|w| *w > 0);
    top.and_then(|i| Some(i64::try_from(i).ok()? * 32 + i64::from(32 - n.get(i)?.leading_zeros()))).unwrap_or(0)
}

fn half(n: &mut [u32]) {
    let mut carry = 0;
    for word in n.iter_mut().rev() {
        let low = *word & 1;
        *word = *word >> 1 | carry << 31;
        carry = low;
    }
}

/// Takes a number away from another if it is not larger. Gives whether it did.
fn less(from: &mut [u32], what: &[u32]) -> bool {
    let at = |n: &[u32], i: usize| n.get(i).copied().unwrap_or(0);
    let differs = (0..from.len().max(what.len())).rev().find(|i| at(from, *i) != at(what, *i));
    if differs.is_some_and(|i| at(from, i) < at(what, i)) {
        return false;
    }
    let mut borrow = 0_i64;
    for (i, word) in from.iter_mut().enumerate() {
        let mut left = i64::from(*word) - i64::from(at(what, i)) - borrow;
        borrow = i64::from(left < 0);
        left += borrow << 32;
        *word = left as u32;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::decimal;

    #[track_caller]
    fn same(text: &str) {
        let (ours, theirs) = (decimal(text), text.parse::<f64>().ok());
        assert_eq!(ours.map(f64::to_bits), theirs.map(f64::to_bits), "{text}: {ours:?}, and std reads {theirs:?}");
    }

    #[test]
    fn other_program_numbers_are_read_as_std_reads_them() {
        for text in [
            "0",
            "-0",
            "1",
            "+1.5",
            ".5",
            "5.",
            "1e3",
            "1E-3",
            "1e",
            "e1",
            "",
            "-",
            ".",
            "1.2.3",
            "1_0",
            " 1",
            "0x10",
            "--1",
            "1e+5",
            "1e400",
            "-1e400",
            "1e-400",
            "1e-99999999999",
            "0e99999999999",
            "1e99999999999",
            "9007199254740993",
            "9007199254740992.5",
            "9007199254740993.0000000000000000000000001",
            "2.2250738585072014e-308",
            "2.2250738585072011e-308",
            "5e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "179769313486231580793e289",
            "123456789012345678901234567890",
            "0.1",
            "0.3",
            "18446744073709551615",
            "18446744073709551616",
            "1e22",
            "1e23",
            "8.5e-23",
            "0.000000000000000000000000000000000000001",
            "4503599627370496.5",
            "4503599627370497.5",
            "00012.500",
            "72057594037927945",
            "3.4e38",
            "6.02214076e23",
            "9.999999999999999999999e22",
            "1e-21",
            "1e-22",
            "1234567890123456789e-21",
        ] {
            same(text);
        }
    }
    #[test]
    fn other_program_numbers_by_chance_are_read_as_std_reads_them() {
        let mut seed = 1_u64;
        let mut next = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            seed ^ seed >> 29
        };
        for i in 0..8_000 {
            let x = f64::from_bits(next());
            if x.is_finite() {
                same(&format!("{x:e}"));
                // Half way to the next is where rounding is hard.
                if i % 20 == 0 {
                    same(&format!("{:.30e}", x));
                    same(&format!("{:.760e}", x * 1e-3));
                }
            }
            let usual = (next() % 2_000_000_000_000) as f64 / 3e7;
            same(&usual.to_string());
            same(&format!("{}.{}", next() % 1000, next()));
            same(&format!("{}e{}", next(), next() % 60) as &str);
            same(&format!("{}e-{}", next(), next() % 400));
        }
    }
}
