//! What can be done in a shop. Numbers choose among what there is then: the third part, the
//! second topic, counted around.

/// One thing done.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// What the next so many steps ask for, as on a good day.
    Usual(u8),
    /// Every step that is open is left out.
    LeaveOutTheRest,
    /// From here on another device writes.
    Device(u8),
    /// The devices exchange what they have.
    Sync,
    /// Another technician takes the device in hand.
    Technician(u8),
    /// The device is set to other units.
    Units(u8),
    /// The device is set to other tools.
    Tools(u8),
    /// The device speaks another language.
    Language(u8),
    /// Time goes by.
    Wait(u16),
    /// The car comes again, with so many thousand km more.
    Visit(u8),
    /// A job as an earlier version of the app began it.
    OldJob(u8),
    /// A job by the shop's own procedure, which is then given a new version.
    ShopsOwn(u8),
    /// What is known of the car is written down.
    Car {
        /// Thousand km.
        km: u16,
        /// Thousand km since the fluid was changed.
        since: Option<u8>,
        /// With a VIN.
        vin: bool,
    },
    /// The customer's name.
    Customer(u8),
    /// It is erased.
    EraseCustomer,
    /// What the customer says is wrong is written down.
    Complaint {
        /// Which of the texts.
        text: u8,
        /// Bits of the symptoms offered.
        symptoms: u8,
        /// Bits of the times offered.
        when: u8,
    },
    /// Codes are read.
    Codes {
        /// As it came in, or after.
        before: bool,
        /// Bits of the codes.
        which: u8,
    },
    /// Leave to open.
    GoAhead {
        /// Which of the people.
        by: u8,
        /// Up to how much.
        limit: Option<u16>,
    },
    /// What something costs.
    Price {
        /// Which of the things that can have a price.
        of: u8,
        /// How much; none takes it back.
        minor: Option<u16>,
        /// With words.
        text: u8,
    },
    /// A step is ticked.
    Tick(u8),
    /// A step is left out.
    Skip {
        /// Which step.
        step: u8,
        /// Which of the texts is the reason.
        text: u8,
    },
    /// A note is written.
    Note {
        /// At which step.
        step: u8,
        /// Which of the texts.
        text: u8,
        /// Kept out of the report.
        private: bool,
    },
    /// An answer on a topic.
    Observe {
        /// Which of the topics that the procedure asks for.
        topic: u8,
        /// Which answer.
        choice: u8,
        /// With words.
        text: Option<u8>,
    },
    /// A number on a topic.
    Measure {
        /// Which of the numbers that the procedure asks for.
        topic: u8,
        /// Where between its least and its most, 0 to 255.
        at: u8,
    },
    /// A photo, counted or not.
    Photo {
        /// Which of those that the procedure asks for.
        which: u8,
        /// What is found on it.
        census: Option<Drawn>,
    },
    /// A photo is counted again.
    Count {
        /// Which of those taken.
        photo: u8,
        /// What is found.
        census: Drawn,
    },
    /// One piece is corrected.
    Correct {
        /// On which photo.
        photo: u8,
        /// Which piece.
        piece: u8,
        /// To which class; none: it is no debris.
        to: Option<u8>,
    },
    /// The technician stands by a count.
    Confirm(u8),
    /// A photo belongs to an earlier one.
    Link {
        /// Which of those taken is the later one.
        photo: u8,
        /// Which is the earlier one.
        to: u8,
        /// Which kind of link.
        how: u8,
    },
    /// Bolts or a brace come off.
    Off {
        /// How many.
        count: u8,
        /// With words for the place.
        text: u8,
    },
    /// Some go back.
    Back {
        /// Which of those off.
        part: u8,
        /// How many.
        count: u8,
        /// As new ones.
        new: bool,
    },
    /// Some are lost.
    Lost {
        /// Which of those off.
        part: u8,
        /// What happened.
        text: u8,
    },
    /// An electrical part.
    Component {
        /// Which kind.
        kind: u8,
        /// Bits of the codes that name it.
        codes: u8,
    },
    /// The maker's limits of a part.
    Limits {
        /// Of which part.
        part: u8,
        /// Of which quantity.
        quantity: u8,
    },
    /// A reading of it.
    Reading {
        /// Of which part.
        part: u8,
        /// Of which quantity.
        quantity: u8,
        /// 0 in the middle of the limits, 1 far out, 2 open, 3 jumping, 4 at the limit, 5 none.
        how: u8,
    },
    /// The wires of a part are read.
    Harness {
        /// Of which part.
        part: u8,
        /// 0 sound, 1 open, 2 to ground, 3 together, 4 half read.
        how: u8,
    },
    /// A part that is out of spec by one quantity and then reads well by another.
    Bench {
        /// Which kind.
        kind: u8,
        /// The quantity that is out of spec.
        bad: u8,
        /// The quantity that then reads well.
        good: u8,
    },
    /// A code, the part that explains it, and another part in its place that reads well.
    Mend(u8),
    /// A part goes out and another in.
    Replace {
        /// Which electrical part; none: something else.
        part: Option<u8>,
        /// Which of the texts.
        text: u8,
    },
    /// Bolts are tightened.
    Tighten {
        /// At which step that asks for it.
        step: u8,
        /// N·m; none: to feel.
        torque: Option<u8>,
    },
    /// The technician decides with or against the advice.
    Decide {
        /// Which of the choices.
        chosen: u8,
        /// Which of the texts is the reason.
        text: u8,
    },
    /// The last line is taken back.
    Undo,
    /// Some line is taken back.
    Retract {
        /// Which, from the last.
        line: u8,
        /// Which of the texts is the reason; none: without one.
        text: Option<u8>,
    },
    /// A report is made.
    Report {
        /// As paper.
        paper: bool,
    },
    /// A report is withdrawn.
    Withdraw {
        /// Which of those made.
        report: u8,
        /// Which of the texts is the reason.
        text: u8,
    },
    /// The report is shared by a link.
    Share,
    /// The customer answers by the last link.
    Answer {
        /// Which item.
        item: u8,
        /// Which of the answers.
        choice: u8,
        /// Which of the texts.
        text: u8,
    },
}

/// A census as a photo might have given it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Class and size of each piece, counted around.
    pub pieces: Vec<(u8, u8)>,
    /// The card was found.
    pub scale: bool,
    /// The smallest piece that the photo can show, in tenths of a millimetre.
    pub smallest: u8,
    /// Percent of the magnet's face that is covered.
    pub cover: u8,
    /// The fluid's colour was read.
    pub fluid: bool,
    /// It could not be read at all.
    pub unread: bool,
}
