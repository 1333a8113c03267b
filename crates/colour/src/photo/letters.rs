//! Letters for a picture that has to say something and must not need a font to do it: capitals, figures and a few signs,
//! five dots wide and seven high, drawn for this crate.

use crate::photo::Picture;

/// Dots of a letter, seven rows of five bits.
type Dots = [u8; 7];

#[rustfmt::skip]
const LETTERS: &[(char, Dots)] = &[
    ('!', [0b00100, 0b00100, 0b00100, 0b00100, 0b00100, 0b00000, 0b00100]),
    ('#', [0b01010, 0b01010, 0b11111, 0b01010, 0b11111, 0b01010, 0b01010]),
    ('%', [0b11001, 0b11010, 0b00010, 0b00100, 0b01000, 0b01011, 0b10011]),
    ('&', [0b01100, 0b10010, 0b10100, 0b01000, 0b10101, 0b10010, 0b01101]),
    ('\'', [0b00100, 0b00100, 0b01000, 0b00000, 0b00000, 0b00000, 0b00000]),
    ('(', [0b00010, 0b00100, 0b01000, 0b01000, 0b01000, 0b00100, 0b00010]),
    (')', [0b01000, 0b00100, 0b00010, 0b00010, 0b00010, 0b00100, 0b01000]),
    ('+', [0b00000, 0b00100, 0b00100, 0b11111, 0b00100, 0b00100, 0b00000]),
    (',', [0b00000, 0b00000, 0b00000, 0b00000, 0b01100, 0b00100, 0b01000]),
    ('-', [0b00000, 0b00000, 0b00000, 0b01110, 0b00000, 0b00000, 0b00000]),
    ('.', [0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b01100, 0b01100]),
    ('/', [0b00001, 0b00010, 0b00010, 0b00100, 0b01000, 0b01000, 0b10000]),
    ('0', [0b01110, 0b10001, 0b10011, 0b10101, 0b11001, 0b10001, 0b01110]),
    ('1', [0b00100, 0b01100, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('2', [0b01110, 0b10001, 0b00001, 0b00110, 0b01000, 0b10000, 0b11111]),
    ('3', [0b11110, 0b00001, 0b00001, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('4', [0b00010, 0b00110, 0b01010, 0b10010, 0b11111, 0b00010, 0b00010]),
    ('5', [0b11111, 0b10000, 0b11110, 0b00001, 0b00001, 0b10001, 0b01110]),
    ('6', [0b00110, 0b01000, 0b10000, 0b11110, 0b10001, 0b10001, 0b01110]),
    ('7', [0b11111, 0b00001, 0b00010, 0b00010, 0b00100, 0b00100, 0b00100]),
    ('8', [0b01110, 0b10001, 0b10001, 0b01110, 0b10001, 0b10001, 0b01110]),
    ('9', [0b01110, 0b10001, 0b10001, 0b01111, 0b00001, 0b00010, 0b01100]),
    (':', [0b00000, 0b01100, 0b01100, 0b00000, 0b01100, 0b01100, 0b00000]),
    (';', [0b00000, 0b01100, 0b01100, 0b00000, 0b01100, 0b00100, 0b01000]),
    ('=', [0b00000, 0b00000, 0b11111, 0b00000, 0b11111, 0b00000, 0b00000]),
    ('?', [0b01110, 0b10001, 0b00001, 0b00110, 0b00100, 0b00000, 0b00100]),
    ('A', [0b01110, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b10001]),
    ('B', [0b11110, 0b10001, 0b10001, 0b11110, 0b10001, 0b10001, 0b11110]),
    ('C', [0b01111, 0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b01111]),
    ('D', [0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b11110]),
    ('E', [0b11111, 0b10000, 0b10000, 0b11110, 0b10000, 0b10000, 0b11111]),
    ('F', [0b11111, 0b10000, 0b10000, 0b11110, 0b10000, 0b10000, 0b10000]),
    ('G', [0b01111, 0b10000, 0b10000, 0b10111, 0b10001, 0b10001, 0b01111]),
    ('H', [0b10001, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b10001]),
    ('I', [0b01110, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('J', [0b00111, 0b00010, 0b00010, 0b00010, 0b00010, 0b10010, 0b01100]),
    ('K', [0b10001, 0b10010, 0b10100, 0b11000, 0b10100, 0b10010, 0b10001]),
    ('L', [0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b11111]),
    ('M', [0b10001, 0b11011, 0b10101, 0b10101, 0b10001, 0b10001, 0b10001]),
    ('N', [0b10001, 0b11001, 0b11001, 0b10101, 0b10011, 0b10011, 0b10001]),
    ('O', [0b01110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('P', [0b11110, 0b10001, 0b10001, 0b11110, 0b10000, 0b10000, 0b10000]),
    ('Q', [0b01110, 0b10001, 0b10001, 0b10001, 0b10101, 0b10010, 0b01101]),
    ('R', [0b11110, 0b10001, 0b10001, 0b11110, 0b10100, 0b10010, 0b10001]),
    ('S', [0b01111, 0b10000, 0b10000, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('T', [0b11111, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('U', [0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('V', [0b10001, 0b10001, 0b10001, 0b10001, 0b01010, 0b01010, 0b00100]),
    ('W', [0b10001, 0b10001, 0b10001, 0b10101, 0b10101, 0b11011, 0b10001]),
    ('X', [0b10001, 0b01010, 0b01010, 0b00100, 0b01010, 0b01010, 0b10001]),
    ('Y', [0b10001, 0b01010, 0b01010, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('Z', [0b11111, 0b00001, 0b00010, 0b00100, 0b01000, 0b10000, 0b11111]),
];

/// Height of a line of text in dots, with the space to the next.
pub(crate) const LINE: usize = 10;
/// Width of a letter in dots, with the space to the next.
pub(crate) const ADVANCE: usize = 6;

/// The dots of a letter; accents are left out, what is not known is a question mark, a blank has none.
fn dots(letter: char) -> Option<Dots> {
    if letter.is_whitespace() {
        return None;
    }
    let plain = match letter {
        'à'..='å' | 'À'..='Å' => 'A',
        'ç' | 'Ç' => 'C',
        'è'..='ë' | 'È'..='Ë' => 'E',
        'ì'..='ï' | 'Ì'..='Ï' => 'I',
        'ñ' | 'Ñ' => 'N',
        'ò'..='ö' | 'Ò'..='Ö' | 'ø' | 'Ø' => 'O',
        'ù'..='ü' | 'Ù'..='Ü' => 'U',
        '–' | '—' => '-',
        '‘' | '’' | '“' | '”' | '"' => '\'',
        other => other.to_ascii_uppercase(),
    };
    let find = |c: char| LETTERS.iter().find(|(letter, _)| *letter == c).map(|(_, dots)| *dots);
    find(plain).or_else(|| find('?'))
}

/// Writes one line with its top left corner at (x, y), each dot a square of `size` pixels; what leaves the picture is cut.
pub(crate) fn write(picture: &mut Picture, text: &str, x: usize, y: usize, size: usize, ink: [u8; 3]) {
    for (i, letter) in text.chars().enumerate() {
        let Some(rows) = dots(letter) else { continue };
        for (row, bits) in rows.iter().enumerate() {
            for column in (0..5).filter(|column| bits >> (4 - column) & 1 == 1) {
                square(picture, x + (i * ADVANCE + column) * size, y + row * size, size, ink);
            }
        }
    }
}

fn square(picture: &mut Picture, left: usize, top: usize, size: usize, ink: [u8; 3]) {
    for y in top..(top + size).min(picture.height) {
        for x in left..(left + size).min(picture.width) {
            let at = (y * picture.width + x) * 3;
            picture.rgb[at..at + 3].copy_from_slice(&ink);
        }
    }
}

/// Breaks a text into lines of at most `letters` letters, between words where it can.
pub(crate) fn broken(text: &str, letters: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= letters => {
                line.push(' ');
                line.push_str(word);
            }
            _ => {
                let all: Vec<char> = word.chars().collect();
                lines.extend(all.chunks(letters.max(1)).map(|part| part.iter().collect::<String>()));
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_letters_look_alike() {
        for (i, (letter, dots)) in LETTERS.iter().enumerate() {
            assert!(dots.iter().all(|row| *row < 32), "{letter}");
            assert!(LETTERS[..i].iter().all(|(_, other)| other != dots), "{letter}");
        }
    }

    #[test]
    fn writing_stays_within_the_picture() {
        let mut picture = Picture::from_rgb(20, 10, vec![255; 600]).unwrap();
        write(&mut picture, "Sage é 12", 3, 2, 1, [0, 0, 0]);
        assert_eq!(picture.rgb().len(), 600);
        let inked = picture.rgb().chunks(3).filter(|pixel| **pixel == [0, 0, 0]).count();
        assert!(inked > 20, "{inked}");
        assert_eq!(dots('é'), dots('E'));
        assert_eq!(dots('漢'), dots('?'));
    }

    #[test]
    fn lines_break_between_words() {
        assert_eq!(
            broken("a screen does not show paint", 10),
            ["a screen", "does not", "show paint"]
        );
        assert_eq!(broken("abcdefghij", 4), ["abcd", "efgh", "ij"]);
    }
}
