//! Texts as a customer reads them.

/// With one full stop at its end, unless it ends with another such sign: what somebody
/// typed may have one of its own.
pub(super) fn sentence(text: &str) -> String {
    let text = text.trim_end();
    if text.is_empty() || text.ends_with(['.', '!', '?', '…', ':']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

#[cfg(test)]
mod tests {
    use super::sentence;

    #[test]
    fn a_sentence_ends_once() {
        for (text, ended) in [
            ("it came on", "it came on."),
            ("it came on..", "it came on.."),
            ("Why? ", "Why?"),
            ("", ""),
        ] {
            assert_eq!(sentence(text), ended);
        }
    }
}
