//! Between a phone and the hub: cuts at any byte, answers that are lost, messages that come
//! late or twice, and other things that happen meanwhile.

use std::cell::Cell;

use swarfbook_sync::{Peer, PeerError, Request, Response};

use crate::device::Device;
use crate::world::{Message, World};

/// A message that the hub may get later.
pub struct Late {
    pub message: Message,
    /// It got it before: somebody listened in and sends it again.
    pub delivered: bool,
}

/// Counts what a liar in the hub's place says.
pub const CHANGED: &str = "answers changed on the way";

/// The most messages that are on their way at once.
const MOST_LATE: usize = 12;

/// The hub as a phone sees it during one exchange.
pub struct Wire<'a> {
    world: &'a World,
    phone: &'a Device,
    trouble: bool,
    /// Bytes until the connection breaks.
    left: Cell<usize>,
    /// Which start of the phone this exchange belongs to.
    start: u32,
    hub_was_hindered: Cell<bool>,
    was_not_alone: Cell<bool>,
}

impl<'a> Wire<'a> {
    pub fn new(world: &'a World, phone: &'a Device, trouble: bool) -> Wire<'a> {
        let breaks = trouble && world.dice.one_in(2);
        let left = if breaks {
            world.dice.a_length(3_000_000)
        } else {
            usize::MAX
        };
        Wire {
            world,
            phone,
            trouble,
            left: Cell::new(left),
            start: phone.starts.get(),
            hub_was_hindered: Cell::new(false),
            was_not_alone: Cell::new(false),
        }
    }

    /// The hub had no room at some time of this exchange.
    pub fn hub_was_hindered(&self) -> bool {
        self.hub_was_hindered.get()
    }

    /// The phone began another exchange during this one.
    pub fn was_not_alone(&self) -> bool {
        self.was_not_alone.get()
    }

    /// Whether so many bytes get through.
    fn carries(&self, bytes: usize) -> bool {
        let left = self.left.get().checked_sub(bytes);
        self.left.set(left.unwrap_or(0));
        left.is_some()
    }

    fn meanwhile(&self) {
        while self.trouble && self.world.dice.one_in(5) {
            let before = self.phone.exchanges.get();
            self.world.step();
            if self.phone.exchanges.get() > before {
                self.was_not_alone.set(true);
            }
        }
    }

    fn is_dead(&self) -> bool {
        self.phone.starts.get() != self.start
    }

    fn delay(&self, message: &Message, delivered: bool) {
        let mut late = self.world.late.borrow_mut();
        if late.len() < MOST_LATE {
            late.push(Late {
                message: message.clone(),
                delivered,
            });
        }
    }

    fn deliver(&self, message: &Message) -> Response {
        let hub = &self.world.hub;
        if hub.is_full() || hub.is_held() {
            self.hub_was_hindered.set(true);
        }
        self.world.hub_answers(message)
    }
}

fn cut(why: &str) -> Result<Response, PeerError> {
    Err(PeerError::Cut(why.to_owned()))
}

impl Peer for Wire<'_> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        let (world, dice) = (self.world, &self.world.dice);
        self.meanwhile();
        if self.is_dead() {
            return cut("the phone was started again");
        }
        let message = world.message(self.phone, request);
        let bytes = message.header.len() + request.target.len() + request.body.len();
        if !self.carries(bytes) {
            world.count("requests cut");
            return cut("before all of the request was there");
        }
        if self.trouble && dice.one_in(60) {
            // The phone gives up; the message arrives all the same.
            self.delay(&message, false);
            return cut("no answer in time");
        }
        let response = self.deliver(&message);
        world.tell(format_args!(
            "{} {}: {}",
            request.method, request.target, response.status
        ));
        if self.trouble && dice.one_in(12) {
            let again = self.deliver(&message);
            assert_eq!(again.status, 401, "{}", request.target);
            world.count("messages that came twice");
        }
        if self.trouble && dice.one_in(12) {
            self.delay(&message, true);
        }
        self.meanwhile();
        if self.is_dead() {
            return cut("the phone was started again");
        }
        if !self.carries(response.body.len() + 1) {
            world.count("answers cut");
            return cut("before all of the answer was there");
        }
        if self.trouble && world.hub_lies.get() && dice.one_in(3) {
            world.count(CHANGED);
            return Ok(changed(world, request, response));
        }
        Ok(response)
    }
}

/// An answer as a liar in the hub's place would give it. Customers and procedures are signed
/// by nobody, so that a hub can say of them what it likes: it is left to say the truth.
fn changed(world: &World, request: &Request, mut response: Response) -> Response {
    let dice = &world.dice;
    let path = request.target.split('?').next().unwrap_or_default();
    let body = &mut response.body;
    match path {
        "/sync/customers" | "/sync/procedures" | "/sync/procedure" => {}
        "/sync/lines" if request.method == "GET" && dice.one_in(2) => {
            let mut lines: Vec<&[u8]> = body.split_inclusive(|byte| *byte == b'\n').collect();
            if lines.len() > 1 {
                let (a, b) = (dice.below(lines.len()), dice.below(lines.len()));
                match dice.below(3) {
                    0 => lines.swap(a, b),
                    1 => drop(lines.remove(a)),
                    _ => lines.insert(a, lines[b]),
                }
            }
            *body = lines.concat();
        }
        _ if body.is_empty() => {}
        _ => {
            let at = dice.below(body.len());
            match dice.below(4) {
                0 => body.truncate(at),
                // A digit for a digit: what is JSON stays so.
                1 => {
                    let digit = body[at..].iter().position(u8::is_ascii_digit);
                    if let Some(digit) = digit {
                        body[at + digit] = b'0' + dice.below(10) as u8;
                    }
                }
                2 => response.status = *dice.of_these(&[200, 404, 422, 500]),
                _ => body[at] ^= 1 << dice.below(8),
            }
        }
    }
    response
}
