//! The mathematics of patterns, free of routines.
//!
//! A [`Pattern`] is a written sequence that can repeat for ever. From it follow the props it
//! needs, the [`Schedule`] it must be entered with, the [`orbit`]s its props go through and what
//! each hand does ([`hands`]); it can be routed otherwise ([`reroute`]) and begun at another of its
//! steps. Beats count from 0 inside and are shown from 1.

mod faults;
pub mod hands;
mod landing;
mod neighbours;
pub mod orbit;
mod pattern;
pub mod reroute;
mod rotation;
pub mod routing;
mod schedule;

pub use pattern::Pattern;
pub use schedule::{Misfit, Schedule};
