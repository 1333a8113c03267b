//! Why there is no plan: something of a piece cannot be used, or no schedule meets a wish.

use std::fmt;

use finish::NoSchedule;

/// Something of a piece that cannot be used, found only once it was measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanRefusal {
    /// The piece's name.
    pub piece: String,
    /// The zone's name, if it is one of a zone.
    pub zone: Option<String>,
    /// Where, in the file's own terms.
    pub field: String,
    /// What stands there.
    pub found: String,
    /// The limit that it breaks.
    pub limit: String,
    /// What would be right.
    pub right: String,
    /// Where it stands in a plan file, more nearly than its zone, and what could be written there.
    pub in_file: Option<InFile>,
}

/// A place in a zone's table of a plan file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InFile {
    /// The key.
    pub key: &'static str,
    /// The entry of its list, from 0; `None` for the whole of it.
    pub entry: Option<usize>,
    /// What could be written in the file; `None` where it is for the user to mend.
    pub write: Option<String>,
}

/// A wish that no schedule meets, or demands on the calendar that cannot all hold.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPlan {
    /// No finishing schedule for a zone.
    Zone {
        /// The piece's name.
        piece: String,
        /// Which wish against which finding, and what would free it.
        no_schedule: NoSchedule,
    },
    /// No dates for the steps.
    Calendar {
        /// What cannot all hold.
        demands: Vec<String>,
        /// What would free it.
        releases: Vec<String>,
    },
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanFailure {
    /// The input is wrong.
    Refused(Vec<PlanRefusal>),
    /// The input is sound, and no schedule exists.
    NoSchedule(Vec<NoPlan>),
}

impl fmt::Display for NoPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoPlan::Zone { piece, no_schedule } => {
                write!(
                    f,
                    "{piece}, {}: {} stands against {}.",
                    no_schedule.zone, no_schedule.wish, no_schedule.against
                )?;
                for finding in no_schedule.findings.iter().take(4) {
                    write!(
                        f,
                        "\n    finding: {} ({}) [{}]",
                        finding.message, finding.why, finding.source
                    )?;
                }
                for release in &no_schedule.releases {
                    write!(f, "\n    would free it: {}", release.change)?;
                }
                if no_schedule.releases.is_empty() {
                    write!(
                        f,
                        "\n    would free it: no single change that was tried; ask for another look, or strip to the bare substrate"
                    )?;
                }
                Ok(())
            }
            NoPlan::Calendar { demands, releases } => {
                write!(f, "The steps have no dates that keep all of these:")?;
                for demand in demands {
                    write!(f, "\n    finding: {demand}")?;
                }
                for release in releases {
                    write!(f, "\n    would free it: {release}")?;
                }
                Ok(())
            }
        }
    }
}

impl fmt::Display for PlanRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: {} is {}; limit: {}; right: {}",
            self.piece, self.field, self.found, self.limit, self.right
        )
    }
}
