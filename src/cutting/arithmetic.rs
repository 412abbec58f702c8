//! Arithmetic of integers that several steps need.

/// The greatest common divisor of two numbers that are not negative (Euclid); zero of two zeros. It ends because the second number falls.
pub(crate) fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 {
        a
    } else {
        greatest_common_divisor(b, a % b)
    }
}

/// A fraction rounded up; `denominator` is above zero.
pub(crate) fn ceiling(numerator: i128, denominator: i128) -> i128 {
    numerator.div_euclid(denominator) + i128::from(numerator.rem_euclid(denominator) != 0)
}
