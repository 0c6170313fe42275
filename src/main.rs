//! The `lastcourse` program.

fn main() {}
