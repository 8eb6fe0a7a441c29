//! A folder of a test's own, in which the program is run as its user runs it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The music of the worked example, as it calls it.
const MUSIC: &str = "lantern.wav";

/// Its music, as long as it says: 1:05 of silence.
fn music() -> Vec<u8> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 1000,
        bits_per_sample: 8,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = std::io::Cursor::new(Vec::new());
    let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
    (0..65_000).for_each(|_| writer.write_sample(0_i8).unwrap());
    writer.finalize().unwrap();
    bytes.into_inner()
}

/// A text with pieces of it replaced, wherever they stand.
pub(crate) fn with(text: &str, replaced: &[(&str, &str)]) -> String {
    replaced.iter().fold(text.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replace(old, new)
    })
}

/// A folder of its own for one test, gone when the test is over.
pub(crate) struct Folder(pub(crate) PathBuf);

impl Folder {
    pub(crate) fn new(test: &str) -> Folder {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(test);
        let folder = Folder(path);
        for path in [&folder.0, &folder.cache()] {
            let _ = fs::remove_dir_all(path);
        }
        fs::create_dir_all(&folder.0).unwrap();
        folder
    }

    /// Writes a file, beside a routine its music too.
    pub(crate) fn write(&self, name: &str, text: impl AsRef<[u8]>) -> &Folder {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        if name.ends_with(".ron") {
            fs::write(path.with_file_name(MUSIC), music()).unwrap();
        }
        fs::write(path, text).unwrap();
        self
    }

    /// The files in it, in order, but for that music.
    pub(crate) fn names(&self) -> Vec<String> {
        self.all_names(".").into_iter().filter(|name| name != MUSIC).collect()
    }

    /// The files in a folder below it, in order; none where there is no such folder.
    pub(crate) fn all_names(&self, below: &str) -> Vec<String> {
        let entries = fs::read_dir(self.0.join(below)).into_iter().flatten();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    /// The text of a file.
    pub(crate) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.0.join(name)).unwrap()
    }

    /// The program, to be run there as if nothing were set.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_throwbook"));
        command.current_dir(&self.0).args(arguments);
        for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS"] {
            command.env_remove(variable);
        }
        // Nothing is left in the cache of whoever runs the tests.
        command.env("XDG_CACHE_HOME", self.cache());
        command
    }

    /// Where the program keeps what it heard: beside the folder, so that no test counts it.
    pub(crate) fn cache(&self) -> PathBuf {
        let mut name = self.0.file_name().unwrap().to_owned();
        name.push(".cache");
        self.0.with_file_name(name)
    }

    /// Exit status, standard output and standard error.
    pub(crate) fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        let Output { status, stdout, stderr } = self.command(arguments).output().unwrap();
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (status.code().expect("no signal ends the program"), text(stdout), text(stderr))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
        let _ = fs::remove_dir_all(self.cache());
    }
}
