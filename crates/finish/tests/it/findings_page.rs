//! `docs/FINDINGS.md` is the table of rules as a page; run with `COATWRIGHT_WRITE_DOCS=1` to write it anew.

use finish::{RuleId, Severity, rules};
use std::fmt::Write;
use std::path::Path;

fn page() -> String {
    let mut page = String::from(
        "# Findings\n\n\
         What the check of a finishing schedule says, and what to do about it.\n\
         A *note* asks for nothing, a *warning* can be overruled and the plan records that it was, a *stop* cannot.\n\n\
         This page is written from `crates/finish/data/rules.toml` by a test; sources are keys of [SOURCES.toml](SOURCES.toml).\n",
    );
    for rule in rules() {
        let severity = match rule.severity {
            Severity::Stop => "stop",
            Severity::Warn => "warning",
            Severity::Note => "note",
        };
        let about = rule
            .about
            .as_ref()
            .map(|about| format!(", rule {about}"))
            .unwrap_or_default();
        write!(
            page,
            "\n## `{id}`\n\n*{severity}.* {message}\n{why}\n\n**What to do.** {do_}\n\nSource: `{source}`{about}.\n",
            id = rule.id.id(),
            message = rule.message,
            why = rule.why,
            do_ = rule.do_,
            source = rule.source,
        )
        .unwrap();
    }
    page
}

#[test]
fn the_page_of_findings_is_the_table_of_rules() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/FINDINGS.md");
    if std::env::var_os("COATWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(&path, page()).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        written == page(),
        "docs/FINDINGS.md is not the table of rules: run this test with COATWRIGHT_WRITE_DOCS=1"
    );
}

#[test]
fn every_rule_has_its_words() {
    assert_eq!(rules().len(), RuleId::EVERY.len());
    for (rule, id) in rules().iter().zip(RuleId::EVERY) {
        assert_eq!(rule.id, *id, "the table stands in the order of the ids");
        for words in [&rule.message, &rule.why, &rule.do_] {
            assert!(words.ends_with('.') && words.len() > 10, "{}: {words}", rule.id.id());
        }
    }
}
