//! The best known values beside the instances: three shapes of CSV, told apart by their header.

use std::path::Path;

/// What is known of an instance.
#[derive(Debug, Default)]
pub(crate) struct Known {
    pub(crate) name: String,
    pub(crate) critical_path: Option<i64>,
    pub(crate) lower: Option<i64>,
    pub(crate) upper: Option<i64>,
    pub(crate) is_infeasible: bool,
}

/// Reads the file; of a file with several sets, the one named like the folder.
pub(crate) fn read(path: &Path, folder: &Path) -> Result<Vec<Known>, String> {
    let text = std::fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let set = folder
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap_or_default().split(',').map(str::trim).collect();
    let column = |names: &[&str]| header.iter().position(|head| names.contains(head));
    let name = column(&["instance", "id"]).ok_or_else(|| format!("{}: no column instance or id", path.display()))?;
    let (cp, lower, upper) = (
        column(&["cp_bound"]),
        column(&["best_lb", "lb", "lower_bound"]),
        column(&["best_ub", "ub", "best_known", "optimum"]),
    );
    let set_column = column(&["set"]);
    let mut known = Vec::new();
    for line in lines {
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        if set_column.is_some_and(|at| cells.get(at) != Some(&set.as_str())) {
            continue;
        }
        let number = |at: Option<usize>| cells.get(at?)?.parse().ok();
        known.push(Known {
            name: (*cells.get(name).unwrap_or(&"")).to_owned(),
            critical_path: number(cp),
            lower: number(lower),
            upper: number(upper),
            is_infeasible: cells.contains(&"unsat"),
        });
    }
    Ok(known)
}
