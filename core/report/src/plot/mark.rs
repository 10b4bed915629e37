//! How each class of debris is drawn: its letter and its line. One table for
//! the outlines, the legend and the app.

use swarfbook_job::census::DebrisClass;

/// Letter and line of a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mark {
    /// Its letter.
    pub letter: &'static str,
    /// `stroke-dasharray`, px; "none" for an unbroken line.
    pub dashes: &'static str,
    /// Drawn as two thin lines.
    pub double: bool,
}

impl Mark {
    /// The mark of a class.
    pub const fn of(class: DebrisClass) -> Mark {
        let (letter, dashes, double) = match class {
            DebrisClass::SteelFlake => ("S", "none", false),
            DebrisClass::SteelSliver => ("V", "9 3", false),
            DebrisClass::YellowMetal => ("Y", "3 3", false),
            DebrisClass::LightMetal => ("M", "9 3 2 3", false),
            DebrisClass::Lining => ("L", "none", true),
            DebrisClass::Plastic => ("P", "9 3 2 3 2 3", false),
            DebrisClass::Elastomer => ("R", "9 3", true),
            DebrisClass::Grit => ("G", "1 3", false),
            DebrisClass::Lint => ("T", "3 3", true),
        };
        Mark {
            letter,
            dashes,
            double,
        }
    }

    /// Where the words have what `field` ("name", "one", "plain") says of the class.
    pub(crate) fn words_path(class: DebrisClass, field: &str) -> String {
        let class = match class {
            DebrisClass::SteelFlake => "steel_flake",
            DebrisClass::SteelSliver => "steel_sliver",
            DebrisClass::YellowMetal => "yellow_metal",
            DebrisClass::LightMetal => "light_metal",
            DebrisClass::Lining => "lining",
            DebrisClass::Plastic => "plastic",
            DebrisClass::Elastomer => "elastomer",
            DebrisClass::Grit => "grit",
            DebrisClass::Lint => "lint",
        };
        format!("class.{class}.{field}")
    }

    /// The strokes that draw it, outermost first: class, attributes. A light
    /// edge under a dark line shows on any ground.
    pub(crate) fn strokes(self) -> Vec<String> {
        let dashes = self.dashes;
        let mut strokes =
            vec!["stroke=\"#fff\" stroke-width=\"4.5\" stroke-opacity=\".85\"".to_owned()];
        if self.double {
            strokes.push(format!(
                "stroke=\"#111\" stroke-width=\"3.6\" stroke-dasharray=\"{dashes}\""
            ));
            strokes.push("stroke=\"#fff\" stroke-width=\"1.4\"".to_owned());
        } else {
            strokes.push(format!(
                "stroke=\"#111\" stroke-width=\"1.8\" stroke-dasharray=\"{dashes}\""
            ));
        }
        strokes
    }
}

/// A short sample of the line, for a legend. Decoration: the letter and the
/// class's name stand beside it.
pub fn line_sample(class: DebrisClass) -> String {
    let lines: String = Mark::of(class)
        .strokes()
        .iter()
        .map(|stroke| format!("<path d=\"M2 7L46 7\" fill=\"none\" {stroke}/>"))
        .collect();
    format!(
        "<svg class=\"line\" viewBox=\"0 0 48 14\" aria-hidden=\"true\" \
         xmlns=\"http://www.w3.org/2000/svg\">{lines}</svg>"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Words;

    #[test]
    fn no_two_classes_look_alike() {
        let marks: Vec<Mark> = DebrisClass::ALL.into_iter().map(Mark::of).collect();
        for (at, mark) in marks.iter().enumerate() {
            for other in marks.iter().skip(at + 1) {
                assert_ne!(mark.letter, other.letter);
                assert_ne!((mark.dashes, mark.double), (other.dashes, other.double));
            }
        }
    }

    #[test]
    fn each_class_has_its_words() {
        let words = Words::of("en").unwrap();
        for class in DebrisClass::ALL {
            for field in ["name", "one", "plain"] {
                assert!(
                    words.find(&Mark::words_path(class, field)).is_some(),
                    "{class:?}"
                );
            }
        }
    }
}
