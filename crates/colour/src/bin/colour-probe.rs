//! Prints figures of the colour crate for `reference/colours.py`, which holds them against a reference library.
//!
//! Each line of the input is a word and numbers, each line of the output the numbers that it asks for:
//!
//! | line | answer |
//! | --- | --- |
//! | `difference L a b L a b` | CIEDE2000 |
//! | `xyz-to-lab X Y Z Xn Yn Zn` | L a b |
//! | `lab-to-xyz L a b Xn Yn Zn` | X Y Z |
//! | `screen-to-lab r g b` (0 to 255) | L a b |
//! | `day R400 … R700`, `lamp R400 … R700` | X Y Z |
//! | `smoothest L a b` | 31 reflectances |
//! | `time-difference n` | seconds for n differences on one core, and their sum |

use std::io::{BufWriter, Read, Write};
use std::time::Instant;

use colour::{Lab, Light, Spectrum, Srgb, Xyz, difference};

fn main() -> std::io::Result<()> {
    let mut input = String::new();
    std::io::stdin().read_to_string(&mut input)?;
    let mut out = BufWriter::new(std::io::stdout().lock());
    for (number, line) in (1..).zip(input.lines()) {
        match answer(line) {
            Ok(values) => {
                let words: Vec<String> = values.iter().map(|v| format!("{v:.12e}")).collect();
                writeln!(out, "{}", words.join(" "))?;
            }
            Err(why) => {
                let why = format!("line {number}: {why}");
                return Err(std::io::Error::new(std::io::ErrorKind::InvalidInput, why));
            }
        }
    }
    out.flush()
}

fn answer(line: &str) -> Result<Vec<f64>, String> {
    let mut words = line.split_whitespace();
    let what = words.next().unwrap_or_default();
    let n: Vec<f64> = words
        .map(|w| w.parse().map_err(|_| format!("“{w}” is no number")))
        .collect::<Result<_, _>>()?;
    match (what, n.as_slice()) {
        ("difference", &[l1, a1, b1, l2, a2, b2]) => Ok(vec![difference(Lab::new(l1, a1, b1), Lab::new(l2, a2, b2))]),
        ("xyz-to-lab", &[x, y, z, xn, yn, zn]) => {
            let lab = Xyz { x, y, z }.to_lab(Xyz { x: xn, y: yn, z: zn });
            Ok(vec![lab.l, lab.a, lab.b])
        }
        ("lab-to-xyz", &[l, a, b, xn, yn, zn]) => {
            let xyz = Lab::new(l, a, b).to_xyz(Xyz { x: xn, y: yn, z: zn });
            Ok(vec![xyz.x, xyz.y, xyz.z])
        }
        ("screen-to-lab", &[r, g, b]) => {
            let lab = Srgb::new(level(r)?, level(g)?, level(b)?).to_lab();
            Ok(vec![lab.l, lab.a, lab.b])
        }
        ("day" | "lamp", bands) => {
            let bands = bands.try_into().map_err(|_| "a spectrum has 31 numbers".to_owned())?;
            let xyz = Spectrum(bands).xyz(if what == "day" { Light::Day } else { Light::Lamp });
            Ok(vec![xyz.x, xyz.y, xyz.z])
        }
        ("smoothest", &[l, a, b]) => Spectrum::smoothest(Lab::new(l, a, b))
            .map(|s| s.0.to_vec())
            .map_err(|e| e.to_string()),
        ("time-difference", &[n]) => Ok(timed(n)),
        _ => Err(format!("“{what}” with {} numbers is not known", n.len())),
    }
}

fn level(value: f64) -> Result<u8, String> {
    (0..=255)
        .find(|v| f64::from(*v) == value)
        .ok_or_else(|| format!("{value} is no level from 0 to 255"))
}

/// Differences between colours that wander over the whole space.
fn timed(n: f64) -> Vec<f64> {
    let colours: Vec<Lab> = (0..1000)
        .map(|i| {
            let t = f64::from(i);
            Lab::new(
                t * 0.61803 % 1.0 * 100.0,
                (t * 0.7548 % 1.0 - 0.5) * 200.0,
                (t * 0.5698 % 1.0 - 0.5) * 200.0,
            )
        })
        .collect();
    let start = Instant::now();
    let (mut sum, mut done) = (0.0, 0.0);
    'all: loop {
        for pair in colours.windows(2) {
            if done >= n {
                break 'all;
            }
            sum += difference(pair[0], pair[1]);
            done += 1.0;
        }
    }
    vec![start.elapsed().as_secs_f64(), sum]
}
