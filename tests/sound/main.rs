//! Music files: decoded, measured and listened to.
#![cfg(feature = "audio")]
#![allow(missing_docs)]

#[path = "../folder/mod.rs"]
#[allow(dead_code, reason = "shared with other tests, each of which uses a part")]
mod folder;
mod formats;
mod kept;
mod program;
mod proposal;
mod synthesis;
mod tempo;
