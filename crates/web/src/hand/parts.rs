//! A case in parts, and the parts together again. A part is `UNMIRE1/number/of/set/letters/`: the last stroke says where it
//! ends, for a space is one of the letters and texts get trimmed on their way.

use super::base45;
use core::fmt;
use serde::Serialize;

/// What a part starts with, and the version of the way it is packed.
const HEAD: &str = "UNMIRE1";
/// Letters of the packed case in one part: a code of them has about 80 squares a side, which a phone reads off another's
/// screen.
const LETTERS: usize = 570;
/// The most codes that somebody can be asked to hold up one after another.
pub const MOST_PARTS: usize = 16;
/// The most that a set may unpack to: the case and its kits at their largest.
const LARGEST: usize = 8 * unmire_casefile::LARGEST;

/// What is handed over: a case with the kit files that it refers to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Handed {
    /// What its file is called.
    pub name: String,
    /// Its text.
    pub text: String,
    /// Its kit files: path and text.
    pub kits: Vec<(String, String)>,
}

/// Why a case can't be handed over, or what came is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HandError {
    /// It would need so many codes, more than [`MOST_PARTS`].
    TooLarge(usize),
    /// This is no part of a case.
    NoPart,
    /// It was packed by a version of the program that this one does not know.
    OtherVersion,
    /// It was changed on the way.
    Damaged,
}
impl fmt::Display for HandError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge(n) => write!(f, "it would need {n} codes, and {MOST_PARTS} are the most"),
            Self::NoPart => f.write_str("this is no part of a case"),
            Self::OtherVersion => f.write_str("it was packed by another version of the program"),
            Self::Damaged => f.write_str("it was changed on the way"),
        }
    }
}
impl core::error::Error for HandError {}

/// One part, as it was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heard {
    /// Which it is, from one.
    pub number: usize,
    /// Of how many.
    pub of: usize,
    /// The set that it belongs to.
    pub set: u32,
    letters: String,
}

/// FNV-1a with 32 bits: tells sets apart and notices a part that does not belong. The packed data carries a checksum of
/// its own.
fn checksum(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0x811c_9dc5, |h, b| (h ^ u32::from(*b)).wrapping_mul(0x0100_0193))
}

/// A case in parts, each the text of one code.
///
/// # Errors
/// If it is too large for codes; a file is the way then.
pub fn split(handed: &Handed) -> Result<Vec<String>, HandError> {
    let plain = serde_json::to_vec(handed).map_err(|_| HandError::NoPart)?;
    let packed = miniz_oxide::deflate::compress_to_vec_zlib(&plain, 10);
    let letters = base45::encode(&packed);
    let of = letters.len().div_ceil(LETTERS);
    if of > MOST_PARTS {
        return Err(HandError::TooLarge(of));
    }
    let set = checksum(&packed);
    // All letters are ASCII, so that every byte is one. Equal parts make codes of one size.
    let each = letters.len().div_ceil(of.max(1)).max(1);
    let parts = letters.as_bytes().chunks(each).enumerate();
    Ok(parts.map(|(i, part)| format!("{HEAD}/{}/{of}/{set:08X}/{}/", i + 1, String::from_utf8_lossy(part))).collect())
}

/// Reads one part.
///
/// # Errors
/// If it is none, or of another version.
pub fn hear(text: &str) -> Result<Heard, HandError> {
    let line: String = text.trim().chars().filter(|c| !matches!(c, '\n' | '\r' | '\t')).collect();
    let mut fields = line.splitn(5, '/');
    let mut next = || fields.next().ok_or(HandError::NoPart);
    let head = next()?;
    if head != HEAD {
        return Err(if head.starts_with("UNMIRE") { HandError::OtherVersion } else { HandError::NoPart });
    }
    let count = |t: &str| t.parse::<usize>().ok().filter(|n| (1..=MOST_PARTS).contains(n)).ok_or(HandError::NoPart);
    let (number, of) = (count(next()?)?, count(next()?)?);
    let set = u32::from_str_radix(next()?, 16).map_err(|_| HandError::NoPart)?;
    let letters = next()?.strip_suffix('/').ok_or(HandError::NoPart)?.to_owned();
    if number > of || letters.is_empty() {
        return Err(HandError::NoPart);
    }
    Ok(Heard { number, of, set, letters })
}

/// Puts the parts of one set together, in whatever order they came. Gives nothing as long as one is missing.
///
/// # Errors
/// If something in them was changed on the way.
pub fn join(parts: &[Heard]) -> Result<Option<Handed>, HandError> {
    let Some(first) = parts.first() else { return Ok(None) };
    if parts.iter().any(|p| (p.set, p.of) != (first.set, first.of)) {
        return Err(HandError::Damaged);
    }
    let mut letters = String::new();
    for n in 1..=first.of {
        let Some(part) = parts.iter().find(|p| p.number == n) else { return Ok(None) };
        letters.push_str(&part.letters);
    }
    let packed = base45::decode(&letters).ok_or(HandError::Damaged)?;
    if checksum(&packed) != first.set {
        return Err(HandError::Damaged);
    }
    let plain =
        miniz_oxide::inflate::decompress_to_vec_zlib_with_limit(&packed, LARGEST).map_err(|_| HandError::Damaged)?;
    let text = String::from_utf8(plain).map_err(|_| HandError::Damaged)?;
    crate::tree::read(&text).map(Some).map_err(|_| HandError::Damaged)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{cases, kits};

    fn handed() -> Handed {
        let example = cases().into_iter().find(|c| c.file == "side-slope.toml").unwrap();
        Handed { name: example.file.to_owned(), text: example.text.to_owned(), kits: kits() }
    }

    #[test]
    fn regress_every_example_comes_over_whole_in_any_order() {
        for example in cases() {
            let handed = Handed { name: example.file.to_owned(), text: example.text.to_owned(), kits: kits() };
            let parts = split(&handed).unwrap();
            let mut heard: Vec<Heard> = parts.iter().map(|p| hear(p).unwrap()).collect();
            heard.reverse();
            assert_eq!(join(&heard), Ok(Some(handed)), "{}", example.file);
            assert!(parts.len() <= 8, "{}: {} codes", example.file, parts.len());
            assert!(parts.iter().all(|p| p.len() < LETTERS + 30));
        }
    }
    #[test]
    fn regress_a_missing_part_is_waited_for_and_a_double_one_does_no_harm() {
        let mut heard: Vec<Heard> = split(&handed()).unwrap().iter().map(|p| hear(p).unwrap()).collect();
        let last = heard.pop().unwrap();
        heard.push(heard[0].clone());
        assert_eq!((join(&heard), join(&[])), (Ok(None), Ok(None)));
        heard.push(last);
        assert_eq!(join(&heard), Ok(Some(handed())));
    }
    #[test]
    fn regress_lines_that_were_broken_on_the_way_are_read() {
        let parts = split(&handed()).unwrap();
        let (a, b) = parts[0].split_at(40);
        assert_eq!(hear(&format!("  {a}\r\n{b}\n")), hear(&parts[0]));
    }
    #[test]
    fn regress_a_space_at_an_end_belongs_to_the_part() {
        // A space is one of the letters: whoever trims a text must not take it.
        let heard = hear(" UNMIRE1/1/1/00000000/ AB /\n").unwrap();
        assert_eq!(heard.letters, " AB ");
        assert_eq!(hear("UNMIRE1/1/1/00000000/AB"), Err(HandError::NoPart), "one that was cut short is none");
    }
    #[test]
    fn regress_what_was_changed_is_noticed() {
        let parts = split(&handed()).unwrap();
        let all = |parts: &[String]| join(&parts.iter().map(|p| hear(p).unwrap()).collect::<Vec<_>>());
        for (i, at) in [(0, 60), (1, 200), (parts.len() - 1, 90)] {
            let mut wrong = parts.clone();
            let with = if wrong[i].as_bytes()[at] == b'0' { "1" } else { "0" };
            wrong[i].replace_range(at..=at, with);
            assert_eq!(all(&wrong), Err(HandError::Damaged));
        }
        let mut mixed = parts.clone();
        let other = Handed { name: "other".to_owned(), ..handed() };
        mixed[0] = split(&other).unwrap()[0].clone();
        assert_eq!(all(&mixed), Err(HandError::Damaged));
        for (text, why) in [
            ("", HandError::NoPart),
            ("https://example.org", HandError::NoPart),
            ("UNMIRE1/2/1/00000000/AB/", HandError::NoPart),
            ("UNMIRE1/0/1/00000000/AB/", HandError::NoPart),
            ("UNMIRE1/1/99/00000000/AB/", HandError::NoPart),
            ("UNMIRE1/1/1/0000000G/AB/", HandError::NoPart),
            ("UNMIRE1/1/1/00000000/AB", HandError::NoPart),
            ("UNMIRE1/1/1/00000000//", HandError::NoPart),
            ("UNMIRE2/1/1/00000000/AB/", HandError::OtherVersion),
        ] {
            assert_eq!(hear(text), Err(why), "{text}");
        }
    }
    #[test]
    fn regress_what_is_too_large_is_refused() {
        // Text that can't be packed: each line another hash.
        let text: String = (0..2000_u32)
            .map(|n| format!("# {:08x}{:08x}\n", checksum(&n.to_le_bytes()), checksum(&n.to_be_bytes())))
            .collect();
        let told = split(&Handed { text, ..handed() });
        assert!(matches!(told, Err(HandError::TooLarge(n)) if n > MOST_PARTS), "{told:?}");
    }
}
