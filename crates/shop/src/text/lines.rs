//! A page of text being set: headings, hanging indents, and columns that line up.

/// Columns of a line.
pub(crate) const WIDTH: usize = 80;

/// Text being set.
#[derive(Default)]
pub(crate) struct Page {
    text: String,
}

impl Page {
    /// The page without trailing blanks, ending in one line break.
    pub(crate) fn finish(self) -> String {
        let mut out = String::with_capacity(self.text.len());
        for line in self.text.trim_end().lines() {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }

    /// An empty line, never two.
    pub(crate) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// One line as it is.
    pub(crate) fn line(&mut self, text: &str) {
        self.text.push_str(text);
        self.text.push('\n');
    }

    /// A heading between two rules' worth of air: the name on the left, a remark on the right.
    pub(crate) fn heading(&mut self, name: &str, remark: &str) {
        self.gap();
        self.line(&"═".repeat(WIDTH));
        self.spread(name, remark);
        self.line(&"═".repeat(WIDTH));
    }

    /// A lesser heading, underlined.
    pub(crate) fn subheading(&mut self, name: &str, remark: &str) {
        self.gap();
        let used = width(name) + width(remark) + 2;
        let rule = "─".repeat(WIDTH.saturating_sub(used).max(2));
        if remark.is_empty() {
            self.line(&format!("{name} {rule}─"));
        } else {
            self.line(&format!("{name} {rule} {remark}"));
        }
    }

    /// Two texts at the two ends of a line; the second goes below if both do not fit.
    pub(crate) fn spread(&mut self, left: &str, right: &str) {
        let used = width(left) + width(right);
        if right.is_empty() {
            self.line(left);
        } else if used + 2 <= WIDTH {
            self.line(&format!("{left}{}{right}", " ".repeat(WIDTH - used)));
        } else {
            self.line(left);
            self.line(&format!("{}{right}", " ".repeat(WIDTH.saturating_sub(width(right)))));
        }
    }

    /// A paragraph whose first line begins with `lead`, and whose others hang below its text.
    pub(crate) fn hanging(&mut self, lead: &str, text: &str) {
        let indent = width(lead);
        let mut line = lead.to_owned();
        let mut used = indent;
        let mut is_first = true;
        for word in text.split_whitespace() {
            let needed = width(word) + usize::from(!is_first);
            if !is_first && used + needed > WIDTH {
                self.line(&line);
                line = " ".repeat(indent);
                used = indent;
                is_first = true;
            }
            if !is_first {
                line.push(' ');
                used += 1;
            }
            line.push_str(word);
            used += width(word);
            is_first = false;
        }
        self.line(&line);
    }
}

/// Columns that a text takes: one a character, which holds for the letters and signs that are used here.
pub(crate) fn width(text: &str) -> usize {
    text.chars().count()
}

/// A text filled up with blanks on its right.
pub(crate) fn left(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}

/// A text filled up with blanks on its left.
pub(crate) fn right(text: &str, columns: usize) -> String {
    format!("{}{text}", " ".repeat(columns.saturating_sub(width(text))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hanging_paragraph_keeps_within_the_width() {
        let mut page = Page::default();
        page.hanging("  why  ", &"word ".repeat(60));
        let text = page.finish();
        assert!(text.lines().all(|line| width(line) <= WIDTH));
        assert!(text.lines().skip(1).all(|line| line.starts_with("       word")));
    }

    #[test]
    fn the_two_ends_of_a_line_meet_its_edges() {
        let mut page = Page::default();
        page.spread("hall bench", "due Saturday");
        assert_eq!(width(page.finish().trim_end()), WIDTH);
    }
}
