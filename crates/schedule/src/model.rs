//! What is to be scheduled: hands and their hours, activities, the waits between them, and what must not happen together.
//!
//! Times are whole minutes from an origin which the caller chooses; the crate reads no clock and knows no time zone.
//! Everything is plain data with public fields: build a [`Problem`], give it to [`crate::solve`], read the [`Plan`].
//! What a wait *is* (drying, glue setting, a courier on the road) is the caller's business.

use crate::clock::Clock;

/// Whole minutes from the caller's origin, or a length in minutes.
pub type Minute = i64;

/// Index of an activity in [`Problem::activities`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ActivityId(pub usize);

/// Index of a hand (a person at work) in [`Problem::hands`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HandId(pub usize);

/// Index of a resource in [`Problem::resources`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ResourceId(pub usize);

/// Index of a progress clock in [`Problem::clocks`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClockId(pub usize);

/// A room, for what must not happen together in it. Any number the caller likes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RoomId(pub usize);

/// Index of a product in [`Problem::clean_up_min`]: what a hand's tools are full of during an activity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ProductId(pub usize);

/// A stretch of time, `from` included and `to` not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First minute.
    pub from: Minute,
    /// First minute after it.
    pub to: Minute,
}

impl Span {
    /// The stretch from `from` up to, not including, `to`.
    #[must_use]
    pub const fn new(from: Minute, to: Minute) -> Self {
        Self { from, to }
    }

    /// Minutes in it; zero if it is turned round.
    #[must_use]
    pub fn length(self) -> Minute {
        (self.to - self.from).max(0)
    }

    /// Whether two stretches share a minute.
    #[must_use]
    pub const fn overlaps(self, other: Self) -> bool {
        self.from < other.to && other.from < self.to
    }
}

/// One person at work, with the periods in which they work.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Hand {
    /// The caller's name for this hand.
    pub name: String,
    /// Working periods: ascending, not overlapping; two that touch count as one.
    pub periods: Vec<Span>,
}

/// A one-off stretch in which a hand (or everybody) does not work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// The caller's name, for messages.
    pub name: String,
    /// Who is away; `None` for everybody.
    pub hand: Option<HandId>,
    /// When.
    pub span: Span,
}

/// Something of which only so much can be in use at once: a sander (1), a drying rack (6 places).
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Resource {
    /// The caller's name.
    pub name: String,
    /// `(from, amount)` ascending: the amount there is from that minute on. Before the first entry there is none;
    /// the usual constant resource has the one entry `(Minute::MIN, amount)`, see [`Resource::constant`].
    pub capacity: Vec<(Minute, u32)>,
}

impl Resource {
    /// A resource of which there is always the same amount.
    #[must_use]
    pub fn constant(name: impl Into<String>, amount: u32) -> Self {
        Self {
            name: name.into(),
            capacity: vec![(Minute::MIN, amount)],
        }
    }

    /// The most there ever is.
    #[must_use]
    pub fn most(&self) -> u32 {
        self.capacity.iter().map(|&(_, amount)| amount).max().unwrap_or(0)
    }
}

/// How an activity meets the end of a working period.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Breaks {
    /// It lies wholly inside one working period of each hand it takes.
    #[default]
    Within,
    /// It may be laid down at a break and taken up when the same hands work again; nothing else comes between.
    Split,
}

/// What an activity does to the air of its room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effect {
    /// It raises dust from start to end.
    Dust,
    /// It leaves a wet surface: no dust in the room from its start until `wet` after its end.
    Coat {
        /// How long after its end dust would still stick.
        wet: Wait,
    },
}

/// A length of waiting: by the wall clock, or by how fast things dry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wait {
    /// So many minutes round the clock; may be negative in a lag.
    Minutes(Minute),
    /// Until the integral of the clock's rate since the wait began reaches `progress`.
    Progress {
        /// Which clock it runs on.
        clock: ClockId,
        /// How much progress it takes, in the units of the clock's rate × minutes.
        progress: i64,
    },
}

impl Default for Wait {
    fn default() -> Self {
        Self::Minutes(0)
    }
}

/// A start that is not to be moved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pin {
    /// When it starts or has started.
    pub start: Minute,
    /// By whom; empty to let the solver choose.
    pub hands: Vec<HandId>,
    /// Begun already: hours and start windows are no longer asked, only what it occupies counts.
    pub begun: bool,
}

/// One thing to be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Activity {
    /// The caller's id, for messages.
    pub name: String,
    /// Hands-on minutes, 0 or more. Without hands it is elapsed time.
    pub duration: Minute,
    /// How many hands it takes all the while (0: nobody need be there, and no working period binds it).
    pub hands: usize,
    /// Who may do it; empty for anybody.
    pub among: Vec<HandId>,
    /// What else it takes while it lasts, breaks included.
    pub uses: Vec<Use>,
    /// Whether it must fit one working period.
    pub breaks: Breaks,
    /// It does not start before this.
    pub release: Minute,
    /// It must end by this, at any price. For a date that may be missed at a cost see [`Due`].
    pub deadline: Option<Minute>,
    /// If there are any, it must start inside one of them (`from <= start < to`). Ascending, disjoint.
    pub start_windows: Vec<Span>,
    /// Where its start is given.
    pub pin: Option<Pin>,
    /// Activities of a lower group are placed first by the opening rule; the search may find better.
    pub group: u32,
    /// What the hand's tools are full of; between two different products a hand cleans up.
    pub product: Option<ProductId>,
    /// What it does to which room.
    pub room: Option<(RoomId, Effect)>,
}

impl Activity {
    /// An activity for one hand, with nothing else asked of it.
    #[must_use]
    pub fn new(name: impl Into<String>, duration: Minute) -> Self {
        Self {
            name: name.into(),
            duration,
            hands: 1,
            among: Vec::new(),
            uses: Vec::new(),
            breaks: Breaks::Within,
            release: 0,
            deadline: None,
            start_windows: Vec::new(),
            pin: None,
            group: 0,
            product: None,
            room: None,
        }
    }

    /// The same for nobody's hands: elapsed time only.
    #[must_use]
    pub fn unattended(name: impl Into<String>, duration: Minute) -> Self {
        Self {
            hands: 0,
            ..Self::new(name, duration)
        }
    }
}

/// So much of a resource, while an activity lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Use {
    /// Of what.
    pub resource: ResourceId,
    /// How much.
    pub amount: u32,
}

/// Which end of an activity a lag is measured at.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Point {
    /// Its start.
    Start,
    /// Its end.
    #[default]
    End,
}

/// How two activities are spaced. With `gap` the minutes from one point to the other: `min <= gap`, `gap <= max`, and
/// if there is a [`Lag::closed`] stretch, `gap <= closed.0` or `gap >= closed.1`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lag {
    /// Where the wait begins.
    pub from: ActivityId,
    /// At which end of it.
    pub from_point: Point,
    /// What waits.
    pub to: ActivityId,
    /// Which end of it.
    pub to_point: Point,
    /// The shortest wait.
    pub min: Wait,
    /// The longest wait, if there is one.
    pub max: Option<Wait>,
    /// Waits longer than the first and shorter than the second are not allowed: recoat soon, or only after the cure.
    pub closed: Option<(Wait, Wait)>,
}

impl Lag {
    /// `to` starts at least `min` after `from` ends.
    #[must_use]
    pub fn after(from: ActivityId, to: ActivityId, min: Wait) -> Self {
        Self {
            from,
            from_point: Point::End,
            to,
            to_point: Point::Start,
            min,
            max: None,
            closed: None,
        }
    }
}

/// A place taken from the end of one activity until the start of another: a piece lying on the rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// Where it lies.
    pub resource: ResourceId,
    /// How many places it takes.
    pub amount: u32,
    /// It is put there when this ends,
    pub after: ActivityId,
    /// and taken off when this starts.
    pub until: ActivityId,
}

/// A date which costs something to miss.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Due {
    /// What is to have ended,
    pub activity: ActivityId,
    /// by when,
    pub at: Minute,
    /// and what each minute late counts.
    pub weight: u32,
}

/// The plan that people already follow, for a replan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Previous {
    /// For each activity where it stood; `None` for what is new.
    pub placements: Vec<Option<Placement>>,
    /// How many weighted minutes of the first level it must save to move one step that could stay. It counts in the
    /// first level, once for each step that starts elsewhere; completion and all else come after it.
    /// 0 ranks closeness last, after everything else.
    pub worth_moving_min: Minute,
}

/// Everything the solver is told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Nothing starts before this unless it is pinned: the "now" of a replan.
    pub not_before: Minute,
    /// Nothing ends after this.
    pub horizon: Minute,
    /// Starts are multiples of this many minutes (1 or more); pins excepted.
    pub grid: Minute,
    /// Who works, and when.
    pub hands: Vec<Hand>,
    /// When somebody does not.
    pub blocks: Vec<Block>,
    /// What is limited besides hands.
    pub resources: Vec<Resource>,
    /// The series on which clocked waits run.
    pub clocks: Vec<Clock>,
    /// For each product, the minutes a hand cleans up before it goes on with another.
    pub clean_up_min: Vec<Minute>,
    /// What is to be done.
    pub activities: Vec<Activity>,
    /// The waits between.
    pub lags: Vec<Lag>,
    /// Places taken during waits.
    pub holds: Vec<Hold>,
    /// Dates with a price.
    pub dues: Vec<Due>,
    /// Weight of completion *inside* the first level, beside lateness. 0: completion ranks strictly after lateness.
    pub completion_weight: u32,
    /// Where things stood.
    pub previous: Option<Previous>,
}

impl Default for Problem {
    fn default() -> Self {
        Self {
            not_before: 0,
            horizon: 0,
            grid: 1,
            hands: Vec::new(),
            blocks: Vec::new(),
            resources: Vec::new(),
            clocks: Vec::new(),
            clean_up_min: Vec::new(),
            activities: Vec::new(),
            lags: Vec::new(),
            holds: Vec::new(),
            dues: Vec::new(),
            completion_weight: 0,
            previous: None,
        }
    }
}

impl Problem {
    /// Adds an activity and returns its id.
    pub fn add(&mut self, activity: Activity) -> ActivityId {
        self.activities.push(activity);
        ActivityId(self.activities.len() - 1)
    }
}

/// When one activity is done, and by whom.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Placement {
    /// First minute.
    pub start: Minute,
    /// First minute after it.
    pub end: Minute,
    /// Who does it, ascending.
    pub hands: Vec<HandId>,
    /// The stretches of work: one, or several where it is split at breaks. Their lengths add up to the duration.
    pub segments: Vec<Span>,
}

/// When everything is done. One placement for each activity, in the problem's order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Plan {
    /// By activity index.
    pub placements: Vec<Placement>,
}

/// How good a plan is: compared from the first field down, less is better.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Score {
    /// Weighted minutes late, plus completion × [`Problem::completion_weight`], plus what moved steps count on a replan.
    pub weighted: i64,
    /// When the last activity ends.
    pub completion: Minute,
    /// Working minutes lost by hands before their last step, clean-ups included.
    pub lost_min: i64,
    /// Minutes by which starts differ from the previous plan, added up.
    pub moved_min: i64,
}
