//! Writing a line through the door, and keeping what was said of it then.

use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::JobView;
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_store::NewEntry;
use swarfbook_words::Language;

use super::{Opened, Shop, Written};
use crate::guard::Found;
use crate::guard::rules;

/// A grey picture of 400 by 300 px; what is behind its end no reader looks at.
const PHOTO: &[u8] = include_bytes!("../grey.png");

impl Shop {
    /// Writes a line; `None` when it was refused.
    pub fn write(&mut self, fact: Fact) -> Option<EntryId> {
        self.write_with(fact, None)
    }

    /// The same with the word by which its text is found again.
    pub fn write_with(&mut self, fact: Fact, token: Option<String>) -> Option<EntryId> {
        self.wait(60);
        self.steps += 1;
        let job = self.job();
        let command = Command::Write {
            job,
            fact: Box::new(fact.clone()),
            sure: true,
        };
        let before = self.view.take();
        match self.call(command) {
            Ok(Reply::Written { entry, job: view }) => {
                if let Some(before) = &before {
                    let found = rules::step(&fact, before, &view, &mut self.explained);
                    self.found.extend(found);
                }
                self.keep(entry, &view, fact, token);
                self.view = Some(view);
                Some(entry)
            }
            Ok(other) => panic!("{other:?}"),
            Err(_) => {
                self.view = before;
                None
            }
        }
    }

    /// A line that the app writes itself, put there as it does.
    pub fn append(&mut self, fact: Fact) -> EntryId {
        self.wait(5);
        self.steps += 1;
        let job = self.job();
        let device = self.device();
        let now = device.clock.now();
        let line = NewEntry { job, fact, now };
        let entry = device.app.store().append(&[line]).expect("kept")[0]
            .entry
            .id;
        self.look();
        entry
    }

    fn keep(&mut self, entry: EntryId, view: &JobView, fact: Fact, token: Option<String>) {
        let job = self.job();
        let device = self.device();
        let (by, language) = (device.settings.technician.clone(), device.settings.language);
        let Some(line) = view.recent.iter().find(|line| line.entry == entry) else {
            return;
        };
        if line.by != by {
            self.found.push(Found {
                rule: rules::KEPT,
                place: "job/recent, when it was written".into(),
                sentence: format!("{} ({})", line.words, line.by),
                why: format!("{by:?} wrote it"),
            });
        }
        let alone = matches!(
            fact,
            Fact::CarNoted { .. }
                | Fact::Noted { .. }
                | Fact::Observed { .. }
                | Fact::Measured { .. }
                | Fact::PartOff { .. }
                | Fact::Tightened { .. }
                | Fact::StepSkipped { .. }
                | Fact::ComplaintNoted { .. }
                | Fact::CodesRead { .. }
        );
        let english = language.unwrap_or_default() == Language::En;
        self.written.push(Written {
            job,
            entry,
            by,
            at: line.at.clone(),
            words: (alone && english).then(|| line.words.clone()),
            token,
            fact,
        });
    }

    /// A photo of the job, on disk and in the log.
    pub fn photo(&mut self, step: String, subject: PhotoSubject) -> Option<EntryId> {
        self.photos += 1;
        let mut bytes = PHOTO.to_vec();
        bytes.extend(self.photos.to_be_bytes());
        bytes.push(self.writer as u8);
        let photo = self.app().put_photo(&bytes).expect("a picture");
        self.write(Fact::PhotoTaken {
            step,
            photo,
            subject,
        })
    }

    /// A new job of the car.
    pub fn open(&mut self, procedure: Option<String>) {
        self.wait(60);
        self.steps += 1;
        match self.call(Command::OpenJob { procedure }) {
            Ok(Reply::Job { job }) => {
                let id = job.id;
                self.explained.clear();
                self.view = Some(job);
                self.jobs.push(Opened {
                    job: id,
                    procedure: String::new(),
                    version: 0,
                    titles: None,
                });
                let state = self.state();
                let (procedure, version) = state.procedure.expect("opened by one");
                let opened = self.jobs.last_mut().expect("just opened");
                (opened.procedure, opened.version) = (procedure, version);
            }
            other => panic!("{other:?}"),
        }
    }

    /// A job that another version of the app opened.
    pub fn open_old(&mut self, job: JobId, procedure: &str, version: u32) {
        self.explained.clear();
        self.jobs.push(Opened {
            job,
            procedure: procedure.to_owned(),
            version,
            titles: None,
        });
        self.append(Fact::Opened {
            procedure: procedure.to_owned(),
            procedure_version: version,
        });
    }
}
