//! Plans and cut lists by chance: held against models written independently, by
//! enumeration and by another solver, against the rules, and against their proofs.

#[path = "../support/mod.rs"]
mod support;

mod curve;
mod cuts;
mod links;
mod models;
mod proof;
mod properties;
mod reference;
mod rules;
mod supports;
mod verified;
mod walks;
