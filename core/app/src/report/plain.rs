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

/// Several things in one line; what asks has a mark of its own.
pub(super) fn listed(all: &[&str]) -> String {
    let mut line = String::new();
    for one in all {
        let between = match line.chars().next_back() {
            None => "",
            Some('?' | '!') => " ",
            Some(_) => "; ",
        };
        line.push_str(between);
        line.push_str(one);
    }
    line
}

#[cfg(test)]
mod tests {
    use super::{listed, sentence};

    #[test]
    fn a_question_in_a_list_has_one_mark() {
        let all = ["Codes read", "Does it explain them?", "Part replaced"];
        let line = "Codes read; Does it explain them? Part replaced";
        assert_eq!(listed(&all), line);
    }

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
