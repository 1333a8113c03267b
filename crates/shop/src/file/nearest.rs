//! The words nearest to one that nobody knows: "did you mean", for keys and for words of the trade.

/// Up to three of `known` that are nearest to `word`, nearest first; ties in the order of `known`.
///
/// Nearness is the normalised Damerau–Levenshtein similarity of the lower-cased words; a word that shares little is left out.
pub(crate) fn nearest<'k>(word: &str, known: &[&'k str]) -> Vec<&'k str> {
    // A runaway string would cost quadratic time and can be near nothing.
    let word: String = word.chars().take(60).collect::<String>().to_lowercase();
    let mut scored: Vec<(f64, &str)> = known
        .iter()
        .map(|candidate| {
            let mut score = strsim::normalized_damerau_levenshtein(&word, &candidate.to_lowercase());
            if word.len() > 2 && (candidate.starts_with(&word) || candidate.contains(&word)) {
                score = score.max(0.75);
            }
            (score, *candidate)
        })
        .filter(|(score, _)| *score >= 0.4)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored.into_iter().take(3).map(|(_, candidate)| candidate).collect()
}

/// "one of a, b, c" with the nearest first if there is one: the `right` of a refused word.
pub(crate) fn one_of(word: &str, known: &[&str]) -> String {
    let near = nearest(word, known);
    if near.is_empty() || known.len() <= 8 {
        format!("one of {}", known.join(", "))
    } else {
        format!("nearest: {}", near.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        assert_eq!(nearest("widht", &["width", "depth", "height"])[0], "width");
        assert_eq!(nearest("paste wax", &["paste-wax", "wax-stick"])[0], "paste-wax");
    }

    #[test]
    fn nothing_near_lists_all() {
        assert_eq!(one_of("zzzz", &["case", "table"]), "one of case, table");
    }
}
