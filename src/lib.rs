//! Lengthwise.
