//! `steps` and `overruled` of a zone: a schedule of the user's own, and the warnings gone on in spite of.

use finish::{RuleId, Severity};
use trade::methods::Method;
use trade::{Grit, Operation};

use super::nearest::one_of;
use super::node::{Table, Value};
use super::values;
use super::words;
use crate::model::{LONGEST_REASON, LONGEST_WAIT_MIN, MOST_STEPS, Overruled, OwnStep};

/// Most consents of one zone.
const MOST_CONSENTS: usize = 60;
/// The longest text of a situation, characters.
const LONGEST_SITUATION: usize = 2_000;

const RIGHT_STEPS: &str = "steps in order, such as [ { operation = \"scuff\", grit = \"P220\" }, { operation = \"paint\", material = \"alkyd-enamel\" } ]";

/// Reads `steps`: a schedule that is planned, so that it has a step at least.
pub(crate) fn read_steps(value: &Value<'_>) -> Option<Vec<OwnStep>> {
    read_listed(value, 1)
}

/// Reads `draft`: steps being written by hand, which are kept and not planned; there may be none yet.
pub(crate) fn read_draft(value: &Value<'_>) -> Option<Vec<OwnStep>> {
    let steps = read_listed(value, 0);
    if steps.is_some() {
        let text = format!(
            "{}: steps being written by hand are kept, and not planned yet",
            value.field
        );
        value.reader.assume(text);
    }
    steps
}

fn read_listed(value: &Value<'_>, least: usize) -> Option<Vec<OwnStep>> {
    if !value.is_list() {
        value.refuse("this is a list in brackets", RIGHT_STEPS);
        return None;
    }
    let items = value.list(RIGHT_STEPS);
    if !(least..=MOST_STEPS).contains(&items.len()) {
        value.refuse(&format!("a schedule of {least} to {MOST_STEPS} steps"), RIGHT_STEPS);
        return None;
    }
    let steps: Vec<OwnStep> = items.iter().filter_map(|item| read_step(item, RIGHT_STEPS)).collect();
    (steps.len() == items.len()).then_some(steps)
}

fn read_step(value: &Value<'_>, right: &str) -> Option<OwnStep> {
    let table = value.table(right)?;
    let operation = table
        .need("operation", "an operation such as \"scuff\"")
        .and_then(|value| words::trade_word(&value, "an operation such as \"scuff\"", Operation::parse));
    let material = table.get("material").map(|value| words::material(&value));
    let grit = table
        .get("grit")
        .map(|value| words::trade_word(&value, "a grit such as \"P220\"", Grit::parse));
    let method = table
        .get("method")
        .map(|value| words::trade_word(&value, "a method such as \"brush\"", Method::parse));
    let wet = table.get("wet").and_then(|value| value.flag()).unwrap_or(false);
    let wait = table.get("wait").map(|value| {
        let minutes = values::minutes(&value)?;
        let wait_min = u32::try_from(minutes.get())
            .ok()
            .filter(|wait_min| *wait_min <= LONGEST_WAIT_MIN);
        if wait_min.is_none() {
            value.refuse("a wait is at most a year", "a shorter wait, such as \"4 h\"");
        }
        wait_min
    });
    table.close();
    // What was refused by itself is not judged again beside the rest.
    let step = OwnStep {
        operation: operation?,
        material: said(material)?,
        grit: said(grit)?,
        method: said(method)?,
        wet,
        wait_min: said(wait)?,
    };
    match step.checked() {
        Ok(()) => Some(step),
        Err((limit, right)) => {
            value.refuse(&limit, &right);
            None
        }
    }
}

/// Nothing said is fine; something refused is not.
#[expect(clippy::option_option, reason = "said or not, and if said, read or refused")]
fn said<T>(read: Option<Option<T>>) -> Option<Option<T>> {
    match read {
        None => Some(None),
        Some(read) => read.map(Some),
    }
}

/// Reads `overruled`: every consent with its rule, its situation, its reason, by whom and when.
pub(crate) fn read_consents(value: &Value<'_>) -> Vec<Overruled> {
    let right = "consents such as [ { rule = \"pores-show\", situation = \"…\", reason = \"…\", by = \"…\", on = \"2027-03-08\" } ]";
    let items = value.list(right);
    if items.len() > MOST_CONSENTS {
        value.refuse(&format!("at most {MOST_CONSENTS} of them"), right);
        return Vec::new();
    }
    items.iter().filter_map(|item| read_consent(item, right)).collect()
}

fn read_consent(value: &Value<'_>, right: &str) -> Option<Overruled> {
    let table = value.table(right)?;
    let rule = table
        .need("rule", "the rule that warns, as the check names it")
        .and_then(|value| warning(&value));
    let situation = need_text(
        &table,
        "situation",
        LONGEST_SITUATION,
        "the situation, word for word as the check or the refusal tells it",
    );
    let reason = need_text(&table, "reason", LONGEST_REASON, "why you go on");
    let by = need_text(&table, "by", 80, "who says so");
    let on = table
        .need("on", "the day it was said, such as \"2027-03-08\"")
        .and_then(|value| values::date(&value));
    table.close();
    Some(Overruled {
        rule: rule?,
        situation: situation?,
        reason: reason?,
        by: by?,
        on: on?,
    })
}

fn need_text(table: &Table<'_>, key: &'static str, longest: usize, right: &str) -> Option<String> {
    table.need(key, right).and_then(|value| value.text(longest, right))
}

/// A rule that warns. One that stops is refused with its reason: nobody's consent makes it safe.
fn warning(value: &Value<'_>) -> Option<String> {
    let rule = value.as_text().and_then(|word| RuleId::parse(word).ok());
    let Some(rule) = rule else {
        let known: Vec<&str> = RuleId::EVERY
            .iter()
            .filter(|rule| rule.rule().severity == Severity::Warn)
            .map(|rule| rule.id())
            .collect();
        value.refuse(
            "this is no rule of the check",
            &one_of(value.as_text().unwrap_or(""), &known),
        );
        return None;
    };
    let words = rule.rule();
    match words.severity {
        Severity::Warn => Some(rule.id().to_owned()),
        Severity::Stop => {
            value.refuse(
                &format!("this is a stop, and a stop cannot be overruled: {}", words.why),
                &words.do_,
            );
            None
        }
        Severity::Note => {
            value.refuse("this is a note, which asks for no consent", "leave it out");
            None
        }
    }
}
