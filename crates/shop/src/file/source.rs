//! The text of one plan file and the way from a byte in it to a line number.

/// One plan file as it was read.
#[derive(Debug, Clone)]
pub struct Source {
    /// Name as the user gave it; refusals carry it.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Source {
    /// A file of this name with this text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Source {
            name: name.into(),
            text: text.into(),
        }
    }

    /// The line, from 1, that byte `offset` stands on.
    pub(crate) fn line(&self, offset: usize) -> usize {
        let end = offset.min(self.text.len());
        1 + self.text.as_bytes()[..end]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
    }

    /// What stands in the byte range, on one line and no longer than a line may be.
    pub(crate) fn shown(&self, range: std::ops::Range<usize>) -> String {
        let text = self.text.get(range).unwrap_or("");
        let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let mut short: String = one_line.chars().filter(|c| !c.is_control()).take(60).collect();
        if one_line.chars().count() > 60 {
            short.push('…');
        }
        short
    }
}

/// What lies beside the plan files: readings and meshes that they name.
///
/// The shop does no reading of its own; whoever calls it says how a name beside a file is opened.
pub trait Beside {
    /// The bytes of `name` as seen from plan file `from`.
    ///
    /// # Errors
    /// The reason in plain words, such as "no such file".
    fn bytes(&self, from: &str, name: &str) -> Result<Vec<u8>, String>;
}

/// Nothing lies beside the files: every name is refused.
#[derive(Debug, Clone, Copy, Default)]
pub struct NothingBeside;

impl Beside for NothingBeside {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        Err(format!("there is no file {name} here"))
    }
}
