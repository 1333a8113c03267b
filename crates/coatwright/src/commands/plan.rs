//! `coatwright plan`: pieces in files in; schedules, quantities, days, shopping, price and cautions out.

use std::io;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::Timestamp;
use shop::file::{Beside, FileRefusal, FileRefusals, Source};
use shop::plan::{Effort, Plan, PlanFailure};

use crate::files::Files;
use crate::outcome::Outcome;

/// What `plan` is given.
#[derive(Debug, Args)]
pub struct PlanArguments {
    /// Plan files: the shop, its shelf and its pieces, in one file or several
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Print the plan as JSON
    #[arg(long)]
    pub json: bool,
    /// Write the bench hours as an iCalendar file
    #[arg(long, value_name = "FILE")]
    pub ics: Option<PathBuf>,
    /// Write printable documents (HTML, and the steps as CSV) into this folder
    #[arg(long, value_name = "DIR")]
    pub paper: Option<PathBuf>,
}

/// Plans the pieces of the files.
pub fn run(arguments: &PlanArguments, files: &dyn Files, now: Timestamp, effort: Effort) -> Outcome {
    let sources = match read_sources(&arguments.files, files) {
        Ok(sources) => sources,
        Err(refusals) => return refused(&refusals),
    };
    let read = match shop::file::read(&sources, &BesideFiles { files }) {
        Ok(read) => read,
        Err(refusals) => return refused(&refusals),
    };
    let plan = match shop::plan::plan(&read.shop, now, effort) {
        Ok(mut plan) => {
            plan.assumed.splice(0..0, read.assumed);
            plan
        }
        Err(PlanFailure::Refused(refusals)) => return refused(&located(refusals, &sources)),
        Err(PlanFailure::NoSchedule(reasons)) => {
            let text: Vec<String> = reasons.iter().map(ToString::to_string).collect();
            return Outcome::no_schedule(format!("No schedule exists.\n\n{}\n", text.join("\n\n")));
        }
    };
    let answer = if arguments.json {
        plan.to_json().map(|json| json + "\n")
    } else {
        Ok(shop::text::plan_as_text(&plan))
    };
    let answer = match answer {
        Ok(answer) => answer,
        Err(error) => return Outcome::refused(format!("The plan could not be written as JSON: {error}\n")),
    };
    match papers(arguments, &plan, now).and_then(|papers| {
        files
            .write_all(&papers)
            .map_err(|(path, error)| unwritable(&path, &error))
    }) {
        Ok(()) => Outcome::answered(answer),
        Err(reason) => Outcome::refused(reason),
    }
}

fn refused(refusals: &FileRefusals) -> Outcome {
    Outcome::refused(refused_in_words(refusals))
}

/// All refusals under one head.
pub(super) fn refused_in_words(refusals: &FileRefusals) -> String {
    let count = refusals.0.len();
    let head = if count == 1 {
        "One thing is to be mended:".to_owned()
    } else {
        format!("{count} things are to be mended:")
    };
    format!("{head}\n\n{refusals}\n")
}

pub(super) fn read_sources(paths: &[PathBuf], files: &dyn Files) -> Result<Vec<Source>, FileRefusals> {
    let mut sources = Vec::new();
    let mut refusals = FileRefusals::default();
    for path in paths {
        let name = path.display().to_string();
        let refuse = |found: &str, limit: &str, right: &str| FileRefusal {
            file: name.clone(),
            line: 0,
            field: String::new(),
            found: found.to_owned(),
            limit: limit.to_owned(),
            right: right.to_owned(),
        };
        match files.read(path).map(String::from_utf8) {
            Ok(Ok(text)) => sources.push(Source::new(name, text)),
            Ok(Err(error)) => {
                let at = error.utf8_error().valid_up_to();
                refusals.0.push(refuse(
                    &format!("a byte at {at} that is no UTF-8"),
                    "a plan file is TOML, which is UTF-8 text",
                    "save the file as UTF-8",
                ));
            }
            Err(error) => refusals.0.push(refuse(
                &plainly(&error),
                "the file must be there and readable",
                "the path of a plan file such as examples/hall-bench.toml",
            )),
        }
    }
    if refusals.0.is_empty() {
        Ok(sources)
    } else {
        Err(refusals)
    }
}

/// What the disk said, without its number.
fn plainly(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "this may not be opened by you".to_owned(),
        io::ErrorKind::IsADirectory => "this is a folder".to_owned(),
        _ => error.to_string(),
    }
}

fn unwritable(path: &Path, error: &io::Error) -> String {
    format!(
        "{}: this could not be written, and nothing was\n    found: {}\n    limit: the folder must be there and writable\n    right: another path\n",
        path.display(),
        plainly(error)
    )
}

/// Files that a plan file names lie in its own folder.
pub(super) struct BesideFiles<'f> {
    pub(super) files: &'f dyn Files,
}

impl Beside for BesideFiles<'_> {
    fn bytes(&self, from: &str, name: &str) -> Result<Vec<u8>, String> {
        let folder = Path::new(from).parent().unwrap_or(Path::new(""));
        self.files
            .read(&folder.join(name))
            .map_err(|error| format!("{}: {}", folder.join(name).display(), plainly(&error)))
    }
}

/// Gives each refusal of the plan the line of the file that its piece stands on.
fn located(refusals: Vec<shop::plan::PlanRefusal>, sources: &[Source]) -> FileRefusals {
    let refusals = refusals.into_iter().map(|refusal| {
        let entry = refusal.in_file.as_ref().map(|at| (at.key, at.entry));
        let (file, line) = shop::file::place_in(sources, &refusal.piece, refusal.zone.as_deref(), entry);
        let write = refusal.in_file.and_then(|at| at.write);
        FileRefusal {
            file,
            line,
            field: refusal.field,
            found: refusal.found,
            limit: refusal.limit,
            right: match write {
                Some(write) => format!("{}: {write}", refusal.right),
                None => refusal.right,
            },
        }
    });
    FileRefusals(refusals.collect())
}

/// What is to be written beside the answer.
fn papers(arguments: &PlanArguments, plan: &Plan, now: Timestamp) -> Result<Vec<(PathBuf, Vec<u8>)>, String> {
    let mut papers = Vec::new();
    if let Some(path) = &arguments.ics {
        papers.push((path.clone(), paper::calendar::icalendar(plan, now).into_bytes()));
    }
    if let Some(folder) = &arguments.paper {
        for (name, html) in paper::document::documents(plan) {
            papers.push((folder.join(name), html.into_bytes()));
        }
        let csv =
            paper::table::csv(plan).map_err(|error| format!("The steps could not be written as CSV: {error}\n"))?;
        papers.push((folder.join("steps.csv"), csv.into_bytes()));
    }
    Ok(papers)
}
