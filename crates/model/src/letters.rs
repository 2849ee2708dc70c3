//! Small and large letters of names: the Latin letters of western Europe.
//!
//! The words of the program are ASCII and are compared as such. Names are in whatever letters people write; what is here
//! keeps an `Ö` an `ö`. The methods of `str` know every alphabet of the world, by tables that are 24 kB in the app.

/// The small letter of a large one. Letters beyond Latin-1 stay as they are.
#[must_use]
pub fn small(c: char) -> char {
    match c {
        'A'..='Z' => c.to_ascii_lowercase(),
        '\u{c0}'..='\u{de}' if c != '\u{d7}' => shifted(c, 0x20),
        _ => c,
    }
}

/// The large letter of a small one. Letters beyond Latin-1 stay as they are, and so does `ß`.
#[must_use]
pub fn large(c: char) -> char {
    match c {
        'a'..='z' => c.to_ascii_uppercase(),
        '\u{e0}'..='\u{fe}' if c != '\u{f7}' => shifted(c, -0x20),
        _ => c,
    }
}

fn shifted(c: char, by: i32) -> char {
    u32::from(c).checked_add_signed(by).and_then(char::from_u32).unwrap_or(c)
}

/// Whether it is a letter of an alphabet: Latin, Greek, Cyrillic, or one of those written further east.
#[must_use]
pub fn is_letter(c: char) -> bool {
    c.is_ascii_alphabetic()
        || matches!(c, '\u{aa}' | '\u{b5}' | '\u{ba}' | '\u{c0}'..='\u{2c1}' if !matches!(c, '\u{d7}' | '\u{f7}'))
        || matches!(c, '\u{370}'..='\u{1fff}' | '\u{2c00}'..='\u{2dff}' | '\u{3041}'..='\u{d7ff}' | '\u{f900}'..='\u{fdff}')
        || matches!(c, '\u{10000}'..='\u{1cfff}' | '\u{20000}'..='\u{3ffff}')
}

/// Whether it can stand in a word: a letter, a digit, a raised or lowered one, a fraction.
#[must_use]
pub fn is_word(c: char) -> bool {
    is_letter(c)
        || c.is_ascii_digit()
        || matches!(c, '\u{b2}' | '\u{b3}' | '\u{b9}' | '\u{bc}'..='\u{be}' | '\u{2070}'..='\u{2079}' | '\u{2080}'..='\u{2089}')
}

/// A text in small letters.
///
/// ```
/// assert_eq!(unmire_model::letters::lower("Große ÖSE × 2"), "große öse × 2");
/// ```
#[must_use]
pub fn lower(text: &str) -> String {
    text.chars().map(small).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_program_letters_and_words_are_those_of_std() {
        for c in (0..0x250).chain(0x391..0x3a2).chain(0x400..0x460).filter_map(char::from_u32) {
            assert_eq!(is_letter(c), c.is_alphabetic(), "{c:?}");
            assert_eq!(is_word(c), c.is_alphanumeric(), "{c:?}");
        }
        for c in "–—°·×÷≥≤½²₂→€… \u{a0}ж語한".chars() {
            assert_eq!((is_letter(c), is_word(c)), (c.is_alphabetic(), c.is_alphanumeric()), "{c:?}");
        }
    }
    #[test]
    fn other_program_latin_letters_change_as_std_changes_them() {
        for c in (0..0x100).filter_map(char::from_u32) {
            assert_eq!(small(c).to_string(), c.to_lowercase().to_string(), "{c:?}");
            // These become letters that are not of Latin-1, or two letters.
            if !matches!(c, '\u{b5}' | '\u{df}' | '\u{ff}') {
                assert_eq!(large(c).to_string(), c.to_uppercase().to_string(), "{c:?}");
            }
        }
        assert_eq!((large('ß'), large('ж'), small('Ж')), ('ß', 'ж', 'Ж'));
    }
}
