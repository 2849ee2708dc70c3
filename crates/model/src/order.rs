//! Putting things in order. All lists are sorted by one and the same sort of their indices: the standard library's would be
//! compiled anew for every kind of thing, and the app in a browser has to be small.

use core::cmp::Ordering;

/// Sorts a list. Equal things keep their order.
///
/// ```
/// let mut lengths = [3.0, 1.0, 2.0];
/// unmire_model::order::sort_by(&mut lengths, f64::total_cmp);
/// assert_eq!(lengths, [1.0, 2.0, 3.0]);
/// ```
pub fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let order = in_order(items.len(), &|a, b| match (items.get(a), items.get(b)) {
        (Some(a), Some(b)) => compare(a, b),
        _ => Ordering::Equal,
    });
    for place in 0..items.len() {
        // What belongs here may have made room for another one before, and lies where that one came from.
        let mut from = place;
        loop {
            from = order.get(from).copied().unwrap_or(place);
            if from >= place {
                break;
            }
        }
        items.swap(place, from);
    }
}

/// Sorts a list by a key of each thing. Equal things keep their order.
pub fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

/// The indices of so many things, in order.
#[inline(never)]
fn in_order(n: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|a, b| compare(*a, *b));
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_program_sorts_as_the_standard_library_does() {
        // Numbers by chance, many of them equal: what was first among equals stays first.
        let mut seed = 7_u32;
        for n in [0, 1, 2, 3, 10, 100, 1000] {
            let mut list: Vec<(u32, usize)> = (0..n)
                .map(|i| {
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    (seed >> 27, i)
                })
                .collect();
            let mut expected = list.clone();
            expected.sort_by_key(|t| t.0);
            let mut by_compare = list.clone();
            sort_by(&mut by_compare, |a, b| a.0.cmp(&b.0));
            sort_by_key(&mut list, |t| t.0);
            assert_eq!((&list, &by_compare), (&expected, &expected));
        }
    }
}
