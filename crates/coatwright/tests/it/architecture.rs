//! The arrows between the crates only point down, and the crates that compute reach for nothing outside themselves.

use std::collections::BTreeMap;
use std::path::Path;

use cargo_metadata::{DependencyKind, Metadata, MetadataCommand};

/// The layers, lowest first: a crate may use crates of lower layers only, and those of its own layer that are named.
const LAYERS: &[(&str, u32, &[&str])] = &[
    ("quantity", 0, &[]),
    ("trade", 1, &[]),
    ("takeoff", 2, &[]),
    ("climate", 2, &[]),
    ("colour", 2, &[]),
    ("finish", 2, &["climate", "colour", "takeoff"]),
    ("hazard", 2, &["climate"]),
    ("money", 2, &[]),
    ("schedule", 2, &[]),
    ("shop", 3, &[]),
    ("store", 4, &[]),
    ("paper", 4, &[]),
    ("web", 5, &[]),
    ("coatwright", 6, &[]),
];

/// The crates that compute: no disk, no net, no clock, no chance, no HTML, no SQL.
const COMPUTING: &[&str] = &[
    "quantity", "trade", "takeoff", "climate", "colour", "finish", "hazard", "money", "schedule", "shop",
];

/// What no computing crate may depend on, apart from its tests.
const FORBIDDEN: &[&str] = &[
    "axum",
    "maud",
    "rusqlite",
    "rusqlite_migration",
    "tokio",
    "tower",
    "hyper",
    "reqwest",
    "ureq",
    "rand",
    "getrandom",
    "fastrand",
    "chrono",
    "time",
    "tracing-subscriber",
    "tempfile",
    "clap",
    "walkdir",
];

/// What no computing crate may write in its sources; the bench binaries beside them may.
const FORBIDDEN_CALLS: &[&str] = &[
    "SystemTime::now",
    "Instant::now",
    "Timestamp::now",
    "Zoned::now",
    "std::fs::",
    "std::env::",
    "std::net::",
    "std::process::",
    "HashMap::new",
    "HashSet::new",
];

fn metadata() -> Metadata {
    MetadataCommand::new()
        .manifest_path(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml"))
        .no_deps()
        .other_options(["--offline".to_owned()])
        .exec()
        .expect("cargo metadata of this workspace")
}

fn layer(name: &str) -> Option<(u32, &'static [&'static str])> {
    LAYERS
        .iter()
        .find(|(known, ..)| *known == name)
        .map(|(_, layer, beside)| (*layer, *beside))
}

#[test]
fn every_crate_has_its_layer() {
    let unknown: Vec<String> = metadata()
        .workspace_packages()
        .iter()
        .map(|package| package.name.to_string())
        .filter(|name| layer(name).is_none() && name != "testkit" && name != "xtask")
        .collect();
    assert!(unknown.is_empty(), "give these crates a layer: {unknown:?}");
}

#[test]
fn arrows_between_crates_only_point_down() {
    let mut wrong = Vec::new();
    let metadata = metadata();
    for package in metadata.workspace_packages() {
        let Some((own, beside)) = layer(&package.name) else {
            continue;
        };
        for dependency in package
            .dependencies
            .iter()
            .filter(|dependency| dependency.kind == DependencyKind::Normal)
        {
            let Some((other, _)) = layer(&dependency.name) else {
                continue;
            };
            let is_down = other < own || (other == own && beside.contains(&dependency.name.as_str()));
            if !is_down {
                wrong.push(format!("{} -> {}", package.name, dependency.name));
            }
        }
    }
    assert!(wrong.is_empty(), "these arrows point up or sideways: {wrong:?}");
}

#[test]
fn the_scheduler_knows_no_furniture() {
    let metadata = metadata();
    let schedule = metadata
        .packages
        .iter()
        .find(|package| package.name.as_str() == "schedule")
        .expect("crate schedule");
    let ours: Vec<&str> = schedule
        .dependencies
        .iter()
        .filter(|dependency| dependency.kind == DependencyKind::Normal)
        .map(|dependency| dependency.name.as_str())
        .filter(|name| layer(name).is_some())
        .collect();
    assert!(ours.is_empty(), "schedule uses {ours:?}");
}

#[test]
fn computing_crates_depend_on_nothing_that_reaches_outside() {
    let mut wrong = Vec::new();
    for package in metadata().workspace_packages() {
        if !COMPUTING.contains(&package.name.as_str()) {
            continue;
        }
        for dependency in package
            .dependencies
            .iter()
            .filter(|dependency| dependency.kind != DependencyKind::Development)
        {
            if FORBIDDEN.contains(&dependency.name.as_str()) {
                wrong.push(format!("{} -> {}", package.name, dependency.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn computing_crates_call_no_clock_no_disk_and_no_chance() {
    let mut found = BTreeMap::new();
    for package in metadata().workspace_packages() {
        if !COMPUTING.contains(&package.name.as_str()) {
            continue;
        }
        let folder = package
            .manifest_path
            .parent()
            .expect("a manifest lies in a folder")
            .join("src");
        // Modules that are only there for the tests may do as they need, like tests beside the code.
        let root = std::fs::read_to_string(folder.join("lib.rs")).unwrap_or_default();
        for (path, text) in rust_sources(folder.as_std_path()) {
            let stem = Path::new(&path)
                .file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            if path.contains("/bin/") || root.contains(&format!("#[cfg(test)]\nmod {stem};")) {
                continue;
            }
            // Tests beside the code may do as they need.
            let code = text.split("#[cfg(test)]").next().unwrap_or("");
            for call in FORBIDDEN_CALLS {
                let is_called = code
                    .lines()
                    .any(|line| !line.trim_start().starts_with("//") && line.contains(call));
                if is_called {
                    found.entry(path.clone()).or_insert_with(Vec::new).push(*call);
                }
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

fn rust_sources(folder: &Path) -> Vec<(String, String)> {
    let mut sources = Vec::new();
    let Ok(entries) = std::fs::read_dir(folder) else {
        return sources;
    };
    for entry in entries.flatten() {
        let path = entry.path();
        if path.is_dir() {
            sources.extend(rust_sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            sources.push((
                path.display().to_string(),
                std::fs::read_to_string(&path).unwrap_or_default(),
            ));
        }
    }
    sources
}
