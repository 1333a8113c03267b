//! Several colours for one piece side by side, as one picture to send to a client.

use serde::{Deserialize, Serialize};

use crate::photo::letters::{ADVANCE, LINE, broken, write};
use crate::photo::{Look, Picture, Repaint};

/// One choice to show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// What it is called, as the client will say it.
    pub name: String,
    /// Its colour, sheen and grain.
    pub look: Look,
    /// A line under the name, such as the recipe.
    pub note: String,
}

/// What every such picture says of itself.
pub const SCREENS_LIE: &str = "Screens and prints show neither the exact colour nor the sheen. Decide by a dry painted swatch, in the room, by day and by lamp.";

const PAPER: [u8; 3] = [246, 242, 234];
const INK: [u8; 3] = [51, 48, 46];
/// Most choices on one sheet.
pub const MOST_CHOICES: usize = 6;

/// The choices in rows of at most three, each with its name, note and a patch of its colour, over a line that says what a
/// screen cannot show. At most [`MOST_CHOICES`] are shown; none gives the photograph as it is.
#[must_use]
pub fn choices(ready: &Repaint, choices: &[Choice]) -> Picture {
    let choices = &choices[..choices.len().min(MOST_CHOICES)];
    let panels: Vec<Picture> = if choices.is_empty() {
        vec![ready.picture().clone()]
    } else {
        choices.iter().map(|choice| ready.paint(&choice.look)).collect()
    };
    let columns = panels.len().min(3);
    let (panel_width, panel_height) = (ready.picture().width(), ready.picture().height());
    let dot = (panel_width / 260).max(1);
    let gap = 8 * dot;
    let letters = (panel_width / (ADVANCE * dot)).max(8);
    let captions: Vec<Vec<String>> = choices.iter().map(|c| caption(c, letters)).collect();
    let caption_height = captions.iter().map(Vec::len).max().unwrap_or(0) * LINE * dot + 14 * dot;
    let width = columns * panel_width + (columns + 1) * gap;
    let foot = broken(SCREENS_LIE, ((width - 2 * gap) / (ADVANCE * dot)).max(8));
    let cell_height = panel_height + caption_height + gap;
    let rows = panels.len().div_ceil(columns);
    let height = gap + rows * cell_height + foot.len() * LINE * dot + gap;
    let mut sheet = Picture {
        width,
        height,
        rgb: PAPER.repeat(width * height),
    };
    for (i, panel) in panels.iter().enumerate() {
        let (left, top) = (gap + i % columns * (panel_width + gap), gap + i / columns * cell_height);
        lay(&mut sheet, panel, left, top);
        if let (Some(choice), Some(lines)) = (choices.get(i), captions.get(i)) {
            let under = top + panel_height + 2 * dot;
            patch(&mut sheet, left, under, panel_width, 8 * dot, choice);
            for (n, line) in lines.iter().enumerate() {
                write(&mut sheet, line, left, under + 11 * dot + n * LINE * dot, dot, INK);
            }
        }
    }
    for (n, line) in foot.iter().enumerate() {
        write(
            &mut sheet,
            line,
            gap,
            gap + rows * cell_height + n * LINE * dot,
            dot,
            INK,
        );
    }
    sheet
}

fn caption(choice: &Choice, letters: usize) -> Vec<String> {
    let screen = crate::Srgb::nearest(choice.look.colour);
    let mut lines = broken(&format!("{} ({screen})", choice.name), letters);
    lines.extend(broken(&choice.note, letters));
    lines
}

fn lay(sheet: &mut Picture, panel: &Picture, left: usize, top: usize) {
    for (y, line) in panel.rgb.chunks_exact(panel.width * 3).enumerate() {
        let at = ((top + y) * sheet.width + left) * 3;
        sheet.rgb[at..at + line.len()].copy_from_slice(line);
    }
}

fn patch(sheet: &mut Picture, left: usize, top: usize, width: usize, height: usize, choice: &Choice) {
    let screen = crate::Srgb::nearest(choice.look.colour);
    for y in top..top + height {
        let at = (y * sheet.width + left) * 3;
        sheet.rgb[at..at + width * 3].copy_from_slice(&[screen.r, screen.g, screen.b].repeat(width));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::{Mask, OldColour};
    use crate::{Lab, Srgb};

    fn ready() -> Repaint {
        let picture = Picture::from_rgb(60, 40, [0x7a, 0x4a, 0x2b].repeat(2400)).unwrap();
        let mask = Mask::from_cover(60, 40, vec![255; 2400]).unwrap();
        Repaint::prepare(picture, mask, OldColour::Reading(Srgb::new(0x7a, 0x4a, 0x2b).to_lab())).unwrap()
    }

    fn choice(name: &str, l: f64) -> Choice {
        Choice {
            name: name.to_owned(),
            look: Look::paint(Lab::new(l, 0.0, 0.0)),
            note: "3 parts white, 1 part umber".to_owned(),
        }
    }

    #[test]
    fn every_choice_is_on_the_sheet_in_its_colour() {
        let all = [
            choice("Pale", 85.0),
            choice("Middle", 55.0),
            choice("Deep", 25.0),
            choice("Black", 10.0),
        ];
        let sheet = choices(&ready(), &all);
        for c in &all {
            let want = Srgb::nearest(c.look.colour);
            let count = sheet
                .rgb()
                .chunks(3)
                .filter(|p| **p == [want.r, want.g, want.b])
                .count();
            assert!(count >= 60 * 8, "{}: {count}", c.name);
        }
        assert!(sheet.width() >= 3 * 60 && sheet.height() >= 2 * 40);
    }

    #[test]
    fn the_sheet_says_that_screens_lie() {
        let with = choices(&ready(), &[choice("Pale", 85.0)]);
        let below = &with.rgb()[(with.height() - 30) * with.width() * 3..];
        assert!(below.chunks(3).filter(|p| **p == INK).count() > 30);
        assert!(SCREENS_LIE.contains("dry painted swatch"));
    }

    #[test]
    fn no_choice_gives_the_photograph() {
        let sheet = choices(&ready(), &[]);
        assert!(sheet.rgb().chunks(3).filter(|p| **p == [0x7a, 0x4a, 0x2b]).count() == 2400);
    }
}
