//! Music files: decoded, measured and listened to.
#![cfg(feature = "audio")]
#![allow(missing_docs)]

mod formats;
mod program;
mod proposal;
mod synthesis;
mod tempo;
