//! The mathematics of patterns, free of routines.
//!
//! A [`Pattern`] is a written sequence that can repeat for ever. From it follow the props it
//! needs, the [`Schedule`] it must be entered with, the [`orbit`]s its props go through, the colour
//! [`effect`]s that they allow and what each hand does ([`hands`]). Its multiplexes can be written in other orders
//! ([`Pattern::multiplex_orders`]) and it can be begun at another of its steps ([`Pattern::rotations`]). Beats count
//! from 0 inside and are shown from 1.

pub mod effect;
mod faults;
pub mod hands;
mod landing;
mod multiplex_order;
mod neighbours;
pub mod orbit;
mod pattern;
mod rotation;
mod schedule;
pub mod standing;

pub use pattern::Pattern;
pub use schedule::{Misfit, Schedule};
