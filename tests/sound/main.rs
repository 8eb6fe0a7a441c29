//! Music files: decoded, measured and listened to.
#![cfg(feature = "audio")]
#![allow(missing_docs)]

mod explore;
mod formats;
mod synthesis;
