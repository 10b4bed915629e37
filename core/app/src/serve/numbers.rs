//! What is typed, as numbers that a line can hold: one reader of numbers for
//! every screen, in the units of this device.

use swarfbook_measure::input;
use swarfbook_words::say;

use crate::command::NumberTyped;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::settings::units;

/// More numbers than any screen has.
const MOST: usize = 200;

pub(super) fn read(app: &App, typed: &[NumberTyped]) -> Result<Reply, Problem> {
    if typed.len() > MOST {
        return Err(Problem::bad_input(
            say!(
                "typed-numbers-at-once-at-most-most-are",
                typed = typed.len(),
                most = MOST
            ),
            say!("ask-for-fewer"),
        ));
    }
    let units = units(app.store())?;
    let numbers = typed
        .iter()
        .map(|one| {
            if one.typed.trim().is_empty() {
                return Ok(None);
            }
            let read = match one.quantity {
                // What is open is no number, and may not be taken for "nothing typed".
                Some(quantity) => input::parse_in(&one.typed, quantity, units.of(quantity))
                    .and_then(|entered| match entered.number() {
                        None => Err(input::InputError::NotANumber {
                            text: entered.text,
                            quantity,
                        }),
                        number => Ok(number),
                    }),
                None => input::parse_bare(&one.typed).map(Some),
            };
            read.map_err(|why| {
                Problem::bad_input(
                    format!("{}: {why}", one.name),
                    say!("nothing-was-written-what-you-typed-is-still"),
                )
            })
        })
        .collect::<Result<_, _>>()?;
    Ok(Reply::Numbers { numbers })
}
