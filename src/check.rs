//! Checks a plan against its job.
