//! A text where every piece of it is a picture: in pieces, and in lines.

/// Parts a text into what is a picture each: a digit, or a word without digits with the space before it. What changes while
/// something moves are digits.
pub fn pieces(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    core::iter::from_fn(move || {
        let mut letters = rest.char_indices().skip(1);
        let end = match rest.chars().next()? {
            '0'..='9' => 1,
            _ => letters.find(|(_, c)| *c == ' ' || c.is_ascii_digit()).map_or(rest.len(), |(i, _)| i),
        };
        let (piece, after) = rest.split_at(end);
        rest = after;
        Some(piece)
    })
}

/// Breaks a text at spaces where a line would be wider than allowed. A word that is wider stands alone.
pub fn broken(text: &str, most: f64, wide: impl Fn(&str) -> f64) -> Vec<&str> {
    let mut lines = Vec::new();
    let (mut rest, mut end, mut used) = (text.trim(), 0, 0.0);
    while !rest.is_empty() {
        // The next word with the space before it.
        let (line, more) = rest.split_at(end);
        let word = more.trim_start_matches(' ');
        let to = rest.len() - word.len() + word.find(' ').unwrap_or(word.len());
        let longer = used + wide(more.get(..to - end).unwrap_or(more));
        if word.is_empty() || (end > 0 && longer > most) {
            lines.push(line);
            (rest, end, used) = (word, 0, 0.0);
        } else {
            (end, used) = (to, longer);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_a_text_is_parted_into_digits_and_words_and_nothing_is_lost() {
        let parts = |t| pieces(t).collect::<Vec<_>>();
        assert_eq!(parts("12.4 kN"), ["1", "2", ".", "4", " kN"]);
        assert_eq!(parts("● Hält. 3 m"), ["●", " Hält.", " ", "3", " m"]);
        assert!(parts("").is_empty());
    }
    #[test]
    fn regress_lines_are_as_long_as_they_may_be_and_every_word_is_in_one() {
        let letters = |t: &str| t.chars().count() as f64;
        assert_eq!(broken("one two  three four", 9.0, letters), ["one two", "three", "four"]);
        assert_eq!(broken("one two  three four", 10.0, letters), ["one two", "three four"]);
        assert_eq!(broken(" überlang ja ", 3.0, letters), ["überlang", "ja"]);
        assert!(broken("  ", 3.0, letters).is_empty());
        assert_eq!(broken("1 2 3", f64::NAN, letters), ["1 2 3"]);
    }
}
