//! The `lastcourse` program. What it can do is listed in [`commands`].

mod commands;

fn main() -> std::process::ExitCode {
    commands::main()
}
