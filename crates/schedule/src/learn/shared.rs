//! Statements of one kind that share many variables each: which are to be looked at again.

/// All statements of a kind, which variables they are about, and which of them are due.
#[derive(Debug)]
pub(super) struct Shared<T> {
    all: Vec<T>,
    /// By variable.
    about: Vec<Vec<u32>>,
    due: Vec<bool>,
}

impl<T: Default> Shared<T> {
    pub(super) const fn new() -> Self {
        Self {
            all: Vec::new(),
            about: Vec::new(),
            due: Vec::new(),
        }
    }

    /// Makes place for one variable more.
    pub(super) fn add_variable(&mut self) {
        self.about.push(Vec::new());
    }

    /// Adds a statement, to be looked at first.
    pub(super) fn add(&mut self, statement: T, variables: impl IntoIterator<Item = u32>) {
        let index = crate::number::small(self.all.len());
        for var in variables {
            self.about[var as usize].push(index);
        }
        self.all.push(statement);
        self.due.push(true);
    }

    /// Whatever is said about a variable is to be looked at again.
    pub(super) fn touch(&mut self, var: usize) {
        for &index in &self.about[var] {
            self.due[index as usize] = true;
        }
    }

    /// Everything is to be looked at again.
    pub(super) fn touch_all(&mut self) {
        self.due.fill(true);
    }

    /// Takes out the first that is due, to be [put back](Self::put_back) once looked at.
    pub(super) fn take_due(&mut self) -> Option<(usize, T)> {
        let index = self.due.iter().position(|&due| due)?;
        self.due[index] = false;
        Some((index, std::mem::take(&mut self.all[index])))
    }

    pub(super) fn put_back(&mut self, index: usize, statement: T) {
        self.all[index] = statement;
    }
}

#[cfg(test)]
mod tests {
    use super::Shared;

    #[test]
    fn a_statement_is_due_when_new_and_when_one_of_its_variables_is_touched() {
        let mut shared = Shared::new();
        for _ in 0..3 {
            shared.add_variable();
        }
        shared.add("of 0 and 1", [0, 1]);
        shared.add("of 2", [2]);
        let mut due = |touched: Option<usize>| {
            touched.into_iter().for_each(|var| shared.touch(var));
            let mut seen = Vec::new();
            while let Some((index, statement)) = shared.take_due() {
                seen.push(statement);
                shared.put_back(index, statement);
            }
            seen
        };
        assert_eq!(due(None), ["of 0 and 1", "of 2"]);
        assert_eq!(due(None), [""; 0]);
        assert_eq!(due(Some(1)), ["of 0 and 1"]);
        assert_eq!(due(Some(2)), ["of 2"]);
    }
}
