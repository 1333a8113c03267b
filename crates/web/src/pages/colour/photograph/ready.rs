//! Pictures decoded and taken apart, kept for the next colour: taking apart is slow, laying a colour on is not.
//!
//! A picture is worked on at screen size. What is kept is small and few; a mark or another old colour makes it anew.

use std::sync::{Arc, Mutex, PoisonError};

use colour::photo::card::{GREY_CARD, Spot};
use colour::photo::grow::{Reach, grow};
use colour::photo::{Mask, OldColour, PhotoError, Picture, Repaint};
use shop::swatch::{OldAs, Point, Trial};
use store::Photograph;

use crate::app::App;
use crate::error::PageError;

/// Longer side of the picture that is worked on, pixels.
const WORKING: usize = 1100;
/// Pictures and parts that are kept.
const KEPT: usize = 3;
/// Radius of a spot, as a share of the longer side.
const SPOT_SHARE: usize = 90;

/// What was done last.
#[derive(Clone, Default)]
pub(super) struct Darkroom {
    shelves: Arc<Mutex<Shelves>>,
}

#[derive(Default)]
struct Shelves {
    pictures: Vec<(i64, Arc<Picture>)>,
    parts: Vec<(String, Arc<Part>)>,
}

/// A part taken apart, and the share of the picture that it takes.
pub(super) struct Part {
    pub(super) repaint: Repaint,
    pub(super) share: f64,
}

/// Why there is nothing to show.
pub(super) enum NotReady {
    /// In words for the user.
    Worded(String),
    Page(PageError),
}

impl From<PhotoError> for NotReady {
    fn from(error: PhotoError) -> Self {
        NotReady::Worded(error.to_string())
    }
}

impl From<PageError> for NotReady {
    fn from(error: PageError) -> Self {
        NotReady::Page(error)
    }
}

/// A photograph with what was marked on it.
pub(super) struct Loaded {
    pub(super) photograph: Photograph,
    pub(super) trial: Trial,
    pub(super) picture: Arc<Picture>,
}

impl Darkroom {
    /// The photograph at working size, with its trial.
    pub(super) async fn load(&self, app: &App, id: i64) -> Result<Loaded, PageError> {
        let there = self
            .shelves()
            .pictures
            .iter()
            .find(|(kept, _)| *kept == id)
            .map(|(_, picture)| Arc::clone(picture));
        let is_there = there.is_some();
        let (photograph, trial, bytes) = app
            .at_desk(move |desk, _| {
                let photograph = desk.store.photograph(id)?.ok_or(PageError::NotFound("photograph"))?;
                let trial = desk.store.trial(id)?;
                let bytes = if is_there {
                    Vec::new()
                } else {
                    desk.store.photograph_bytes(&photograph)?
                };
                Ok((photograph, trial, bytes))
            })
            .await?;
        let picture = match there {
            Some(picture) => picture,
            None => {
                let decoded = off_thread(move || Picture::decode(&bytes))
                    .await?
                    .map_err(PageError::from_photo)?;
                self.keep_picture(id, &decoded)
            }
        };
        Ok(Loaded {
            photograph,
            trial,
            picture,
        })
    }

    /// The part taken apart, ready for a colour.
    pub(super) async fn part(&self, loaded: &Loaded) -> Result<Arc<Part>, NotReady> {
        let trial = loaded.trial.clone();
        let key = marks_key(loaded);
        if let Some((_, part)) = self.shelves().parts.iter().find(|(kept, _)| *kept == key) {
            return Ok(Arc::clone(part));
        }
        let picture = Arc::clone(&loaded.picture);
        let part = off_thread(move || take_apart(&picture, &trial))
            .await
            .map_err(NotReady::Page)??;
        let part = Arc::new(part);
        let mut shelves = self.shelves();
        shelves.parts.insert(0, (key, Arc::clone(&part)));
        shelves.parts.truncate(KEPT);
        Ok(part)
    }

    pub(super) fn keep_picture(&self, id: i64, picture: &Picture) -> Arc<Picture> {
        let picture = Arc::new(picture.shrunk_to(WORKING));
        let mut shelves = self.shelves();
        shelves.pictures.insert(0, (id, Arc::clone(&picture)));
        shelves.pictures.truncate(KEPT);
        picture
    }

    fn shelves(&self) -> std::sync::MutexGuard<'_, Shelves> {
        self.shelves.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl PageError {
    /// A photograph that was kept but cannot be read any more.
    fn from_photo(error: PhotoError) -> Self {
        PageError::Refused(format!("This photograph cannot be shown: {error}"))
    }
}

/// What the part hangs on: the picture, its marks, the old colour.
fn marks_key(loaded: &Loaded) -> String {
    let trial = &loaded.trial;
    let (id, old) = (loaded.photograph.id, (trial.old_at, trial.old));
    format!("{id} {:?} {:?} {:?} {old:?}", trial.outlines, trial.inside, trial.card)
}

/// A short word that changes with the marks, so that a browser never shows an old picture for a new one.
pub(super) fn stamp(loaded: &Loaded) -> String {
    let hash = marks_key(loaded).bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{hash:x}")
}

/// Decoding and taking apart go one at a time, so that large pictures do not fill the memory together.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// Runs heavy work off the threads that answer, one at a time.
pub(super) async fn off_thread<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, PageError> {
    tokio::task::spawn_blocking(move || {
        let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
        work()
    })
    .await
    .map_err(|fault| PageError::fault(&fault))
}

/// Where a mark lies on a picture, in pixels.
pub(super) fn place(picture: &Picture, point: Point) -> (usize, usize) {
    let along = |share: u16, side: usize| (usize::from(share) * side / 10_000).min(side.saturating_sub(1));
    (along(point.x, picture.width()), along(point.y, picture.height()))
}

fn spot(picture: &Picture, point: Point) -> Spot {
    let (x, y) = place(picture, point);
    Spot {
        x,
        y,
        radius: (picture.width().max(picture.height()) / SPOT_SHARE).max(2),
    }
}

/// What the marks enclose.
pub(super) fn mask(picture: &Picture, trial: &Trial) -> Result<Mask, PhotoError> {
    let (width, height) = (picture.width(), picture.height());
    let mut mask = Mask::empty(width, height);
    let corner = |point: &Point| {
        let along =
            |share: u16, side: usize| f64::from(share) / 10_000.0 * f64::from(u32::try_from(side).unwrap_or(u32::MAX));
        (along(point.x, width), along(point.y, height))
    };
    for outline in trial.outlines.iter().filter(|outline| outline.len() >= 3) {
        let corners: Vec<(f64, f64)> = outline.iter().map(corner).collect();
        mask = mask.joined(&Mask::polygon(width, height, &corners))?;
    }
    if !trial.inside.is_empty() {
        let touches: Vec<(usize, usize)> = trial.inside.iter().map(|point| place(picture, *point)).collect();
        mask = mask.joined(&grow(picture, &touches, Reach::default())?)?;
    }
    Ok(mask)
}

/// How the old colour is known, for the crate: said, tapped against a card, or tapped alone.
fn old_colour(picture: &Picture, trial: &Trial) -> Result<OldColour, NotReady> {
    match (trial.old, trial.old_at, trial.card) {
        (OldAs::Said(said), _, _) => Ok(OldColour::Reading(said.to_lab())),
        (OldAs::Tapped, Some(old), Some(card)) => Ok(OldColour::Card {
            card: spot(picture, card),
            reflectance: GREY_CARD,
            zone: spot(picture, old),
        }),
        (OldAs::Tapped, Some(old), None) => {
            let (x, y) = place(picture, old);
            let seen = picture.pixel(x, y).map(colour::Srgb::to_lab);
            seen.map(OldColour::Reading)
                .ok_or_else(|| NotReady::Worded("the tap on the old colour lies outside of the picture".to_owned()))
        }
        (OldAs::Tapped, None, _) => Err(NotReady::Worded(
            "the old colour is not known yet: tap it on the picture, or say it".to_owned(),
        )),
    }
}

fn take_apart(picture: &Picture, trial: &Trial) -> Result<Part, NotReady> {
    let mask = mask(picture, trial)?;
    let old = old_colour(picture, trial)?;
    let share = mask.share();
    let repaint = Repaint::prepare(picture.clone(), mask, old)?;
    Ok(Part { repaint, share })
}
