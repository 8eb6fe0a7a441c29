//! `throwbook man`: the manual pages.

use std::path::Path;

use clap::CommandFactory;
use clap_mangen::Man as Page;

use super::arguments::{Arguments, Man};
use super::output::{Output, make_folder, shown, write_whole};
use super::{Failure, Outcome};

/// Prints the program's page, or writes it and one for each command into a folder.
pub(crate) fn run(arguments: &Man, output: &mut Output) -> Result<Outcome, Failure> {
    let mut command = Arguments::command();
    command.build();
    match &arguments.dir {
        None => output.bytes(&page(command)?)?,
        Some(folder) => {
            let commands: Vec<clap::Command> = command.get_subcommands().cloned().collect();
            let mut pages = vec![("throwbook.1".to_owned(), page(command)?)];
            for command in commands {
                let name = format!("throwbook-{}", command.get_name());
                pages.push((format!("{name}.1"), page(command.display_name(name))?));
            }
            make_folder(folder)?;
            for (name, page) in &pages {
                write_page(folder, name, page, output)?;
            }
        }
    }
    Ok(Outcome::Fine)
}

fn write_page(folder: &Path, name: &str, page: &[u8], output: &mut Output) -> Result<(), Failure> {
    let path = folder.join(name);
    write_whole(&path, page)?;
    output.results(&format!("wrote {}\n", shown(&path)))
}

fn page(command: clap::Command) -> Result<Vec<u8>, Failure> {
    let mut page = Vec::new();
    Page::new(command)
        .render(&mut page)
        .map_err(|error| Failure::new(format!("cannot make a manual page: {error}")))?;
    Ok(page)
}
