//! Ten thousand spoiled plan files through `plan`: no panic, exit status 0, 2 or 3, and a reason in words whenever it is
//! not 0.

use std::ffi::OsString;

use coatwright::files::InMemory;
use shop::plan::Effort;

use crate::plan_command::{EXAMPLES, example, now};

const CASES: u64 = 10_000;

/// A small generator of chance (xorshift64*), so that the same files are spoiled the same way every time.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(limit.max(1)).unwrap()).unwrap()
    }

    fn pick<'t, T: ?Sized>(&mut self, of: &[&'t T]) -> &'t T {
        of[self.below(of.len())]
    }
}

/// Values that have hurt readers before.
const NASTY: &[&str] = &[
    "-1",
    "0",
    "1e308",
    "nan",
    "inf",
    "-inf",
    "9223372036854775807",
    "99999999999999999999",
    "0x10",
    "\"\"",
    "\" \"",
    "\"0 in\"",
    "\"1e9 in\"",
    "\"-3 in\"",
    "\"½ in\"",
    "\"18 3/0\\\"\"",
    "\"\\u0000\"",
    "\"😀 in\"",
    "[]",
    "{}",
    "[[]]",
    "true",
    "1979-05-27",
    "1979-05-27T07:32:00Z",
    "\"9999-12-31\"",
    "\"0000-01-01\"",
    "\"2027-02-30\"",
    "\"unknown\"",
    "\"brass\"",
    "\"glass\"",
    "\"wicker\"",
    "\"paint\"",
    "\"wax\"",
    "\"keep\"",
    "\"metallic\"",
    "\"stain\"",
    "\"silicone\"",
    "50",
    "0.0001",
    "\"mesh\"",
    "\"turned\"",
];

/// Words that may stand in a file.
const WORDS: &[&str] = &[
    "oak",
    "beech",
    "pine",
    "mdf",
    "laminate",
    "steel",
    "glass",
    "veneer",
    "teak",
    "waterborne-acrylic-enamel",
    "paste-wax",
    "unknown",
    "chalk-type-paint",
    "conversion-varnish",
    "hardwax-oil",
    "dye-stain",
    "gel-stain",
    "clear",
    "stain",
    "paint",
    "metallic",
    "wax",
    "keep",
    "flaking",
    "smoky",
    "greasy",
    "water-marked",
    "sanding",
    "spraying",
    "strong-solvents",
    "chemical-stripping",
    "heat",
    "bed",
    "frame",
    "panel",
    "door",
    "bench",
    "table",
    "chair",
    "nursery",
    "kitchen",
    "outdoors",
    "gloss",
    "true",
    "false",
    "present",
    "none",
];

fn spoil(text: &str, chance: &mut Chance) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=chance.below(3) {
        if lines.is_empty() {
            break;
        }
        let at = chance.below(lines.len());
        match chance.below(9) {
            0 => {
                lines.remove(at);
            }
            1 => {
                let line = lines[at].clone();
                lines.insert(chance.below(lines.len()), line);
            }
            2 => {
                let other = chance.below(lines.len());
                lines.swap(at, other);
            }
            3..=4 => {
                if let Some((key, _)) = lines[at].clone().split_once('=') {
                    lines[at] = format!("{key}= {}", chance.pick(NASTY));
                }
            }
            5..=6 => lines[at] = replace_a_word(&lines[at], chance.pick(WORDS), chance),
            7 => lines[at] = replace_a_number(&lines[at], chance),
            _ => lines[at] = cut_or_flip(&lines[at], chance),
        }
    }
    lines.join("\n")
}

fn replace_a_word(line: &str, word: &str, chance: &mut Chance) -> String {
    let parts: Vec<&str> = line.split('"').collect();
    if parts.len() < 3 {
        return format!("{line} {word}");
    }
    let quoted = 1 + 2 * chance.below((parts.len() - 1) / 2);
    parts
        .iter()
        .enumerate()
        .map(|(idx, part)| if idx == quoted { word } else { part })
        .collect::<Vec<_>>()
        .join("\"")
}

fn replace_a_number(line: &str, chance: &mut Chance) -> String {
    let number = match chance.below(4) {
        0 => "0".to_owned(),
        1 => (chance.next() % 1000).to_string(),
        2 => format!("-{}", chance.next() % 100),
        _ => chance.next().to_string(),
    };
    match line.find(|c: char| c.is_ascii_digit()) {
        Some(at) => {
            let rest = line[at..].trim_start_matches(|c: char| c.is_ascii_digit());
            format!("{}{number}{rest}", &line[..at])
        }
        None => line.to_owned(),
    }
}

fn cut_or_flip(line: &str, chance: &mut Chance) -> String {
    let mut chars: Vec<char> = line.chars().collect();
    if chars.is_empty() {
        return "[[piece]]".to_owned();
    }
    let at = chance.below(chars.len());
    match chance.below(3) {
        0 => chars.truncate(at),
        1 => chars[at] = char::from(u8::try_from(33 + chance.below(94)).unwrap()),
        _ => chars.insert(at, ['"', '[', '{', '=', '\u{feff}', 'é', '\t', '#'][chance.below(8)]),
    }
    chars.into_iter().collect()
}

#[test]
fn no_spoiled_file_makes_a_panic_or_goes_without_a_reason() {
    let mut chance = Chance(0x5eed_2027);
    let mut counts = [0_u32; 4];
    // One small piece a file, with and without a shop: what is tried is the reading and the rules, not the calendar.
    let bodies: Vec<String> = EXAMPLES.iter().map(|name| example(name)).collect();
    let shop = example("garage-in-march/shop.toml");
    let csv = example("garage-in-march/garage.csv");
    for case in 0..CASES {
        let body = spoil(&bodies[chance.below(bodies.len())], &mut chance);
        let shop = if chance.below(4) == 0 {
            spoil(&shop, &mut chance)
        } else {
            shop.clone()
        };
        let text = if body.contains("[shop]") || chance.below(3) == 0 {
            body
        } else {
            format!("{shop}\n{body}")
        };
        let files = InMemory::holding([("piece.toml", text.as_bytes()), ("garage.csv", csv.as_bytes())]);
        let args = ["coatwright", "plan", "piece.toml", "--json", "--ics", "out.ics"].map(OsString::from);
        let ended = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            coatwright::run(args, &files, now(), Effort::least())
        }));
        let Ok(outcome) = ended else {
            panic!("case {case} panicked with this file:\n{text}")
        };
        let wrote = files.paths().iter().any(|path| path.ends_with("out.ics"));
        match outcome.status {
            0 => assert!(
                !outcome.out.is_empty() && wrote,
                "case {case}: a plan is printed and written"
            ),
            2 | 3 => {
                assert!(
                    outcome.err.split_whitespace().count() > 5,
                    "case {case} has no worded reason: {}",
                    outcome.err
                );
                assert!(
                    outcome.out.is_empty() && !wrote,
                    "case {case}: nothing is printed or written beside a refusal"
                );
            }
            status => panic!("case {case} ended with {status}"),
        }
        counts[usize::from(outcome.status)] += 1;
    }
    // A fuzz that only ever meets the parser would be worth nothing.
    assert!(
        counts[0] > 500 && counts[2] > 2000,
        "plans, refusals, no schedule: {counts:?}"
    );
}
