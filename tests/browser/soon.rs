//! What a test expects to see, waited for. The page follows what is done in turns, so what a test reads at once may be of the moment before.

/// That the page comes to show what is wanted: its lists follow what was done in turns, a moment later. Reads again and again, and fails as
/// `assert_eq!` does where it never becomes so.
macro_rules! assert_becomes {
    ($seen:expr, $wanted:expr $(, $($told:tt)+)?) => {{
        let began = std::time::Instant::now();
        loop {
            match (&$seen, &$wanted) {
                (seen, wanted) if *seen == *wanted => break,
                (seen, wanted) if began.elapsed() > $crate::harness::PATIENCE => {
                    assert_eq!(*seen, *wanted $(, $($told)+)?);
                }
                _ => std::thread::sleep($crate::harness::PERIOD),
            }
        }
    }};
    ($seen:expr, $wanted:expr,) => { assert_becomes!($seen, $wanted) };
}

/// The same for what is to be true.
macro_rules! assert_soon {
    ($seen:expr $(, $($told:tt)+)?) => {{
        let began = std::time::Instant::now();
        loop {
            let seen: bool = $seen;
            if seen {
                break;
            }
            if began.elapsed() > $crate::harness::PATIENCE {
                assert!($seen $(, $($told)+)?);
            }
            std::thread::sleep($crate::harness::PERIOD);
        }
    }};
    ($seen:expr,) => { assert_soon!($seen) };
}
