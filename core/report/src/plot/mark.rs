//! The line of a class of debris, as the outlines and the legend draw it.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::class_table::ClassRow;

/// The strokes that draw a class's line, outermost first: attributes. A light
/// edge under a dark line shows on any ground.
pub(super) fn strokes(row: &ClassRow) -> Vec<String> {
    let dashes = row.dashes;
    let mut strokes =
        vec!["stroke=\"#fff\" stroke-width=\"4.5\" stroke-opacity=\".85\"".to_owned()];
    if row.double {
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

/// A short sample of the line, for a legend. Decoration: the letter and the
/// class's name stand beside it.
pub fn line_sample(class: DebrisClass) -> String {
    let lines: String = strokes(&ClassRow::of(class))
        .iter()
        .map(|stroke| format!("<path d=\"M2 7L46 7\" fill=\"none\" {stroke}/>"))
        .collect();
    format!(
        "<svg class=\"line\" viewBox=\"0 0 48 14\" aria-hidden=\"true\" \
         xmlns=\"http://www.w3.org/2000/svg\">{lines}</svg>"
    )
}
