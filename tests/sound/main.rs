//! Music files: decoded, measured and listened to.
#![cfg(feature = "audio")]
#![allow(missing_docs)]

mod formats;
mod synthesis;
mod explore;
