//! One instance, whatever file it came from.

use crate::{progen, psplib, shop};
use schedule::{Plan, Problem, Score};
use std::path::Path;

/// An instance ready to be solved.
pub(crate) struct Instance {
    pub(crate) name: String,
    pub(crate) problem: Problem,
    pub(crate) critical_path: Option<i64>,
}

impl Instance {
    /// The one number by which the benchmark judges.
    pub(crate) fn objective(&self, score: &Score) -> i64 {
        if self.problem.completion_weight > 0 {
            score.weighted
        } else {
            score.completion
        }
    }

    /// The plan in the shop format: start minutes by id.
    pub(crate) fn solution_json(&self, plan: &Plan, objective: i64) -> String {
        let start: serde_json::Map<String, serde_json::Value> = self
            .problem
            .activities
            .iter()
            .zip(&plan.placements)
            .map(|(activity, placement)| (activity.name.clone(), placement.start.into()))
            .collect();
        serde_json::json!({ "id": self.name, "objective": objective, "start": start }).to_string()
    }
}

fn extension(path: &Path) -> String {
    path.extension()
        .map(|end| end.to_string_lossy().to_lowercase())
        .unwrap_or_default()
}

/// Whether the file is of a kind this program reads.
pub(crate) fn is_one(path: &Path) -> bool {
    matches!(extension(path).as_str(), "sm" | "sch" | "jsp" | "json")
}

/// Sorts `j30_2` before `j30_10`.
pub(crate) fn natural(path: &Path) -> Vec<(u64, String)> {
    let name = path
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    let mut parts = Vec::new();
    let mut number = String::new();
    let mut word = String::new();
    for letter in name.chars().chain(['\n']) {
        if letter.is_ascii_digit() {
            number.push(letter);
        } else {
            if !number.is_empty() {
                parts.push((number.parse().unwrap_or(u64::MAX), std::mem::take(&mut word)));
                number.clear();
            }
            word.push(letter);
        }
    }
    parts
}

/// Reads an instance.
pub(crate) fn read(path: &Path) -> Result<Instance, String> {
    let text = String::from_utf8_lossy(&std::fs::read(path).map_err(|error| format!("{}: {error}", path.display()))?)
        .into_owned();
    let file = path
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    let read = match extension(path).as_str() {
        "sm" => psplib::read(&text, file),
        "sch" => progen::read(&text, file),
        "jsp" => psplib::read_job_shop(&text, file.trim_end_matches(".jsp").to_owned()),
        _ => shop::read(&text),
    };
    read.map_err(|why| format!("{}: {why}", path.display()))
}

/// Whole numbers of a line.
pub(crate) fn numbers(line: &str) -> Vec<i64> {
    line.split_whitespace().filter_map(|word| word.parse().ok()).collect()
}
