//! The mathematics of patterns, free of routines.
//!
//! A [`Pattern`] is a written sequence that can repeat for ever. From it follow the props it
//! needs, the [`Schedule`] it must be entered with, the [`orbit`]s its props go through, the colour
//! [`effect`]s that they allow and what each hand does ([`hands`]). It can be routed otherwise
//! ([`Pattern::routings`]) and begun at another of its steps ([`Pattern::rotations`]). Beats count
//! from 0 inside and are shown from 1.

pub mod effect;
mod faults;
pub mod hands;
mod landing;
mod neighbours;
pub mod orbit;
mod pattern;
mod reroute;
mod rotation;
pub mod routing;
mod schedule;

pub use pattern::Pattern;
pub use schedule::{Misfit, Schedule};
