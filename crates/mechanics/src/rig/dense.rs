//! Linear equations on flat buffers: a symmetric positive factorisation with a test for singularity, and a general one
//! with pivoting. Small systems only; nothing is allocated.

/// Factors `h` + `lambda`·I = L D Lᵀ, lower triangles, row after row. `l` takes L with D on its diagonal, `inv` 1/D.
///
/// # Errors
/// The row whose pivot isn't above `floor`; the rows before it are done.
pub(super) fn ldl(h: &[f64], n: usize, lambda: f64, floor: f64, l: &mut [f64], inv: &mut [f64]) -> Result<(), usize> {
    for i in 0..n {
        let (done, rest) = l.split_at_mut(i * n);
        let row = &mut rest[..n];
        for j in 0..i {
            let mut s = h[i * n + j];
            let other = &done[j * n..j * n + j];
            for (a, b) in row[..j].iter().zip(other) {
                s -= a * b;
            }
            row[j] = s;
        }
        let mut d = h[i * n + i] + lambda;
        for (a, v) in row[..i].iter_mut().zip(&inv[..i]) {
            let scaled = *a * v;
            d -= *a * scaled;
            *a = scaled;
        }
        row[i] = d;
        if !(d > floor && d.is_finite()) {
            return Err(i);
        }
        inv[i] = 1.0 / d;
    }
    Ok(())
}

/// Solves L D Lᵀ x = x in place.
pub(super) fn ldl_solve(l: &[f64], inv: &[f64], n: usize, x: &mut [f64]) {
    for i in 0..n {
        let mut s = x[i];
        for (a, b) in l[i * n..i * n + i].iter().zip(&x[..i]) {
            s -= a * b;
        }
        x[i] = s;
    }
    for (a, v) in x[..n].iter_mut().zip(inv) {
        *a *= v;
    }
    for i in (0..n).rev() {
        let s = x[i];
        for (a, b) in l[i * n..i * n + i].iter().zip(x[..i].iter_mut()) {
            *b -= a * s;
        }
    }
}

/// After [`ldl`] gave up at row `j`: a vector that the matrix all but forgets, in `x[..n]`.
pub(super) fn null_vector(l: &[f64], n: usize, j: usize, x: &mut [f64]) {
    x[..n].fill(0.0);
    x[j] = 1.0;
    for (k, a) in l[j * n..j * n + j].iter().enumerate() {
        x[k] = -a;
    }
    for i in (0..j).rev() {
        let s = x[i];
        for (a, b) in l[i * n..i * n + i].iter().zip(x[..i].iter_mut()) {
            *b -= a * s;
        }
    }
}

/// Solves a general system in place: `a` (row after row) is spent, `b` becomes the answer.
///
/// # Errors
/// The column where no usable pivot was left.
pub(super) fn lu_solve(a: &mut [f64], n: usize, b: &mut [f64]) -> Result<(), usize> {
    let most = a[..n * n].iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    for c in 0..n {
        let mut best = c;
        for r in c + 1..n {
            if a[r * n + c].abs() > a[best * n + c].abs() {
                best = r;
            }
        }
        let pivot = a[best * n + c];
        if !(pivot.abs() > 1e-18 * most && pivot.is_finite()) {
            return Err(c);
        }
        if best != c {
            for k in c..n {
                a.swap(c * n + k, best * n + k);
            }
            b.swap(c, best);
        }
        let (top, below) = a.split_at_mut((c + 1) * n);
        let head = &top[c * n..];
        for (r, row) in below.chunks_exact_mut(n).take(n - c - 1).enumerate() {
            let factor = row[c] / pivot;
            if factor != 0.0 {
                for k in c + 1..n {
                    row[k] -= factor * head[k];
                }
                b[c + 1 + r] -= factor * b[c];
            }
        }
    }
    for c in (0..n).rev() {
        let mut s = b[c];
        for k in c + 1..n {
            s -= a[c * n + k] * b[k];
        }
        b[c] = s / a[c * n + c];
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_factorisation_solves() {
        let h = [4.0, 0.0, 0.0, 2.0, 5.0, 0.0, 1.0, 3.0, 6.0];
        let (mut l, mut inv, mut x) = ([0.0; 9], [0.0; 3], [9.0, 21.0, 25.0]);
        ldl(&h, 3, 0.0, 0.0, &mut l, &mut inv).unwrap();
        ldl_solve(&l, &inv, 3, &mut x);
        for (k, want) in [4.0 * x[0] + 2.0 * x[1] + x[2], 2.0 * x[0] + 5.0 * x[1] + 3.0 * x[2]].iter().enumerate() {
            assert!((want - [9.0, 21.0][k]).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_form_singular_matrix_names_its_row_and_direction() {
        // x + y alone is stiff: (1, -1) is forgotten.
        let h = [2.0, 0.0, 2.0, 2.0];
        let (mut l, mut inv, mut x) = ([0.0; 4], [0.0; 2], [0.0; 2]);
        assert_eq!(ldl(&h, 2, 0.0, 1e-12, &mut l, &mut inv), Err(1));
        null_vector(&l, 2, 1, &mut x);
        assert_eq!(x, [-1.0, 1.0]);
    }

    #[test]
    fn closed_form_general_system_needs_pivoting() {
        let mut a = [0.0, 2.0, 1.0, 1.0, 1.0, 1.0, 2.0, 0.0, 3.0];
        let mut b = [7.0, 6.0, 11.0];
        lu_solve(&mut a, 3, &mut b).unwrap();
        for (got, want) in b.iter().zip([1.0, 2.0, 3.0]) {
            assert!((got - want).abs() < 1e-12);
        }
        assert_eq!(lu_solve(&mut [1.0, 2.0, 2.0, 4.0], 2, &mut [1.0, 2.0]), Err(1));
    }
}
