//! Saying a sentence in the language that is spoken.

use std::fmt::Display;

use fluent_bundle::{FluentArgs, FluentValue};

use crate::message::{MESSAGES, place};
use crate::speaking;
use crate::texts::texts;

/// A message in the language that is spoken, with its values by their names:
/// `say!("n-of-all-off", n = n, all = all)`. The values that it shows and no
/// others, or it does not compile.
#[macro_export]
macro_rules! say {
    ($id:literal $(, $name:ident = $value:expr)* $(,)?) => {{
        const {
            assert!($crate::known($id), concat!("no message ", $id));
            assert!(
                $crate::shows($id, &[$(stringify!($name)),*]),
                concat!("other values than the message shows: ", $id)
            );
        };
        $crate::say($id, &[$((stringify!($name), &$value as &dyn ::std::fmt::Display)),*])
    }};
}

/// A message that is given nothing, in the language that is spoken, as `&'static str`.
#[macro_export]
macro_rules! term {
    ($id:literal) => {{
        const {
            assert!($crate::known($id), concat!("no message ", $id));
            assert!(
                $crate::shows($id, &[]),
                concat!("this message shows values: ", $id)
            );
        };
        $crate::term($id)
    }};
}

/// The id of a message, for who chooses among several before one is said.
#[macro_export]
macro_rules! id {
    ($id:literal) => {{
        const { assert!($crate::known($id), concat!("no message ", $id)) };
        $id
    }};
}

/// What [`say!`] comes to; values that the message does not show may stand among them.
pub fn say(id: &str, given: &[(&str, &dyn Display)]) -> String {
    if let Some(plain) = texts(speaking()).plain(id) {
        return plain.to_owned();
    }
    let numbers = place(id).map_or(&[][..], |at| MESSAGES[at].numbers);
    let mut values = FluentArgs::with_capacity(given.len());
    for (name, value) in given {
        let text = value.to_string();
        let value = match numbers.contains(name) {
            true => FluentValue::try_number(&text).into_owned(),
            false => FluentValue::from(text),
        };
        values.set(*name, value);
    }
    texts(speaking()).told(id, Some(&values))
}

/// What [`term!`] comes to; the id itself where there is no such message.
pub fn term(id: &str) -> &str {
    texts(speaking()).plain(id).unwrap_or(id)
}

#[cfg(test)]
mod tests {
    use crate::{Language, in_language, speaking};

    #[test]
    fn a_value_that_looks_like_a_place_is_left_alone() {
        let said = say!("n-photos", n = "{$n}");
        assert_eq!(said, "{$n} photos");
    }

    #[test]
    fn one_is_said_as_one_in_each_language() {
        let both = |n: u32| {
            Language::ALL.map(|language| in_language(language, || say!("n-photos", n = n)))
        };
        assert_eq!(both(1), ["1 photo", "1 Foto", "1 foto"]);
        assert_eq!(both(0), ["0 photos", "0 Fotos", "0 fotos"]);
        assert_eq!(both(21), ["21 photos", "21 Fotos", "21 fotos"]);
    }

    #[test]
    fn the_language_is_set_back_after_a_panic_too() {
        let panicked = std::panic::catch_unwind(|| in_language(Language::De, || panic!("a test")));
        assert!(panicked.is_err());
        assert_eq!(speaking(), Language::En);
    }

    #[test]
    fn a_language_inside_another_gives_way_again() {
        in_language(Language::De, || {
            in_language(Language::En, || assert_eq!(speaking(), Language::En));
            assert_eq!(speaking(), Language::De);
        });
    }
}
