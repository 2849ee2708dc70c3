//! Base45: two bytes in three of the letters that a QR code packs densely.
//!
//! Recalled from RFC 9285; the tests hold it against the examples that are recalled from the same document, and against
//! a reader of somebody else's through the whole way of a code.

const LETTERS: &[u8; 45] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

fn letter(n: u32) -> char {
    LETTERS.get(n as usize).map_or('0', |b| char::from(*b))
}
fn value(c: u8) -> Option<u32> {
    LETTERS.iter().position(|l| *l == c).and_then(|n| u32::try_from(n).ok())
}

/// Bytes in letters.
pub(super) fn encode(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len().div_ceil(2) * 3);
    for pair in bytes.chunks(2) {
        match *pair {
            [a, b] => {
                let n = u32::from(a) * 256 + u32::from(b);
                out.extend([n % 45, n / 45 % 45, n / 2025].map(letter));
            }
            [a] => out.extend([u32::from(a) % 45, u32::from(a) / 45].map(letter)),
            _ => {}
        }
    }
    out
}

/// Letters in bytes; nothing if they are not what [`encode`] gives.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(text.len() / 3 * 2 + 1);
    for group in text.as_bytes().chunks(3) {
        match *group {
            [a, b, c] => {
                let n = value(a)? + value(b)? * 45 + value(c)? * 2025;
                out.extend(u16::try_from(n).ok()?.to_be_bytes());
            }
            [a, b] => out.push(u8::try_from(value(a)? + value(b)? * 45).ok()?),
            _ => return None,
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_the_recalled_examples() {
        for (plain, coded) in
            [("AB", "BB8"), ("Hello!!", "%69 VD92EX0"), ("base-45", "UJCLQE7W581"), ("ietf!", "QED8WEX0")]
        {
            assert_eq!(encode(plain.as_bytes()), coded);
            assert_eq!(decode(coded).as_deref(), Some(plain.as_bytes()));
        }
    }
    #[test]
    fn regress_every_byte_comes_back_and_what_is_none_is_refused() {
        let all: Vec<u8> = (0..=255).chain((0..=255).rev()).chain([7]).collect();
        assert_eq!(decode(&encode(&all)), Some(all));
        for wrong in ["GGW", "::", "A", "ab8", "BB8A", "BBÄ"] {
            assert_eq!(decode(wrong), None, "{wrong}");
        }
    }
}
