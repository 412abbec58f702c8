//! Planning for the page.
