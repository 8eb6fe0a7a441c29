//! Starts the program.

mod program;

fn main() -> std::process::ExitCode {
    program::run()
}
