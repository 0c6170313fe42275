//! Finding names: all a table has, the one most like a misspelt one, the table
//! that a misplaced one belongs to.

use super::{Member, Shape};

/// All names of the members, aliases too.
pub fn names(members: &[Member]) -> impl Iterator<Item = &str> {
    members
        .iter()
        .flat_map(|member| std::iter::once(member.name).chain(member.aliases.iter().copied()))
}

/// The candidate most like a word, if one is like it at all.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let mut best: Option<(f64, &str)> = None;
    for candidate in candidates {
        let likeness = strsim::jaro_winkler(&word, &candidate.to_lowercase()).max(
            strsim::normalized_damerau_levenshtein(&word, &candidate.to_lowercase()),
        );
        // Below this, words share letters by chance alone.
        if likeness >= 0.8 && best.is_none_or(|(most, _)| likeness > most) {
            best = Some((likeness, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The table that has a member of that name.
pub fn elsewhere(name: &str, members: &'static [Member]) -> Option<String> {
    members.iter().find_map(|member| match member.shape {
        Shape::Table(inner) | Shape::List(inner) => {
            if inner.iter().any(|field| field.is_called(name)) {
                Some(member.name.to_owned())
            } else {
                elsewhere(name, inner).map(|home| format!("{}.{home}", member.name))
            }
        }
        _ => None,
    })
}
