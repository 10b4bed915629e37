//! Writing a demo job line by line, through the same checks as a screen's.

use chrono::{DateTime, Duration, FixedOffset};
use swarfbook_debris::{Settings, census};
use swarfbook_job::census::PhotoHints;
use swarfbook_job::fact::*;
use swarfbook_job::id::{CustomerId, EntryId, JobId};
use swarfbook_store::NewEntry;
use uuid::Uuid;

use crate::problem::{Problem, ProblemKind};
use crate::state::App;

/// A demo job being written; each line is two minutes after the one before.
pub(super) struct Script<'a> {
    app: &'a App,
    job: JobId,
    now: DateTime<FixedOffset>,
}

impl<'a> Script<'a> {
    pub fn open(app: &'a App, now: DateTime<FixedOffset>) -> Result<Script<'a>, Problem> {
        let mut script = Script {
            app,
            job: JobId(Uuid::new_v4()),
            now,
        };
        let procedure = crate::state::procedures::newest(app.store(), None)?;
        script.append(Fact::Opened {
            procedure: procedure.id,
            procedure_version: procedure.version,
        })?;
        script.append(Fact::WrittenBy {
            name: "Robin Invented".into(),
        })?;
        Ok(script)
    }

    /// Writes a line that a screen could write.
    pub fn write(&mut self, fact: Fact) -> Result<EntryId, Problem> {
        {
            let store = self.app.store();
            let loaded = crate::state::load(self.app, store, self.job)?;
            crate::check::fact(self.app, store, &loaded, &fact, true)?;
        }
        self.append(fact)
    }

    fn append(&mut self, fact: Fact) -> Result<EntryId, Problem> {
        self.now += Duration::minutes(2);
        let line = NewEntry {
            job: self.job,
            fact,
            now: self.now,
        };
        let written = self.app.store().append(&[line])?;
        written.last().map(|line| line.entry.id).ok_or_else(|| {
            Problem::new(
                ProblemKind::Storage,
                "A line was not written.",
                "Start again.",
            )
        })
    }

    pub fn customer(&mut self, name: &str) -> Result<(), Problem> {
        let customer = CustomerId(Uuid::new_v4());
        self.app
            .store()
            .save_customer(customer, name, "invented, no number", self.now)?;
        self.append(Fact::CustomerLinked { customer }).map(|_| ())
    }

    pub fn tick(&mut self, step: &str) -> Result<(), Problem> {
        self.write(Fact::StepTicked { step: step.into() })
            .map(|_| ())
    }

    pub fn skip(&mut self, step: &str, reason: &str) -> Result<(), Problem> {
        self.write(Fact::StepSkipped {
            step: step.into(),
            reason: reason.into(),
        })
        .map(|_| ())
    }

    pub fn observe(&mut self, step: &str, topic: &str, choice: &str) -> Result<(), Problem> {
        self.write(Fact::Observed {
            observed: Observed {
                step: step.into(),
                topic: topic.into(),
                choice: choice.into(),
                also: Vec::new(),
                text: String::new(),
            },
        })
        .map(|_| ())
    }

    pub fn measure(&mut self, step: &str, topic: &str, value: f64) -> Result<(), Problem> {
        self.write(Fact::Measured {
            measured: Measured {
                step: step.into(),
                topic: topic.into(),
                value,
                typed: value.to_string(),
            },
        })
        .map(|_| ())
    }

    /// What a step asks for in words.
    pub fn text(&mut self, step: &str, topic: &str, text: &str) -> Result<(), Problem> {
        self.write(Fact::Noted {
            step: step.into(),
            topic: Some(topic.into()),
            text: text.into(),
            private: false,
        })
        .map(|_| ())
    }

    /// A photo, counted as the app counts it.
    pub fn photo(
        &mut self,
        step: &str,
        subject: PhotoSubject,
        bytes: &[u8],
        hints: Option<PhotoHints>,
    ) -> Result<EntryId, Problem> {
        let photo = self.app.put_photo(bytes)?;
        let entry = self.write(Fact::PhotoTaken {
            step: step.into(),
            photo,
            subject,
        })?;
        if let Some(hints) = &hints {
            self.write(Fact::PhotoHinted {
                photo: entry,
                hints: hints.clone(),
            })?;
        }
        if let Some(kind) = subject.kind() {
            let settings = Settings { kind };
            let census = census(bytes, &hints.unwrap_or_default(), &settings)
                .unwrap_or_else(|why| swarfbook_debris::unread(kind, &why));
            self.append(Fact::CensusMade {
                photo: entry,
                census,
            })?;
        }
        Ok(entry)
    }

    /// The technician looks and says of every piece in a photo: not debris.
    pub fn nothing_in(&mut self, photo: EntryId) -> Result<(), Problem> {
        let at: Vec<_> = crate::state::load(self.app, self.app.store(), self.job)?
            .state
            .photo(photo)
            .and_then(|p| p.census.as_ref())
            .map(|c| c.particles.iter().map(|p| [p.x_px, p.y_px]).collect())
            .unwrap_or_default();
        for at_px in at {
            self.write(Fact::ParticleCorrected {
                photo,
                at_px,
                to: Correction::NotDebris,
            })?;
        }
        Ok(())
    }

    /// Stands by every census that can be stood by.
    pub fn confirm_all(&mut self) -> Result<(), Problem> {
        let photos: Vec<EntryId> = crate::state::load(self.app, self.app.store(), self.job)?
            .state
            .photos
            .iter()
            .filter(|p| p.census.as_ref().is_some_and(|c| c.problem.is_none()))
            .map(|p| p.stamp.entry)
            .collect();
        for photo in photos {
            self.write(Fact::CensusConfirmed { photo })?;
        }
        Ok(())
    }

    /// Decides as advised.
    pub fn follow_advice(&mut self) -> Result<(), Problem> {
        let advice = {
            let store = self.app.store();
            let loaded = crate::state::load(self.app, store, self.job)?;
            let wear = loaded.judged().wear.clone()?;
            wear.map(|a| a.advice.advised.choice())
        };
        if let Some(advised) = advice {
            self.write(Fact::Decided {
                advised,
                chosen: advised,
                reason: None,
            })?;
        }
        Ok(())
    }

    pub fn component(&mut self, name: &str, code: Option<&str>) -> Result<EntryId, Problem> {
        let component = self.write(Fact::ComponentNoted {
            component: Component {
                name: name.into(),
                kind: ComponentKind::OnOffSolenoid,
                connector: "green".into(),
                part_number: "DEMO-1".into(),
                codes: code.map(str::to_owned).into_iter().collect(),
                grounded_by_case: false,
            },
        })?;
        self.write(Fact::SpecEntered {
            component,
            spec: SpecEntered {
                quantity: ReadingKind::Resistance,
                low: Some(11.0),
                high: Some(15.0),
                at_c: Some(20.0),
                source: "invented data sheet".into(),
                sensor: None,
            },
        })?;
        Ok(component)
    }

    pub fn read(&mut self, component: EntryId, samples: [&str; 3]) -> Result<(), Problem> {
        self.write(Fact::ReadingTaken {
            component,
            reading: Reading {
                quantity: ReadingKind::Resistance,
                samples: samples.map(str::to_owned).into(),
                leads: Some("0.2".into()),
                part_c: Some(24.0),
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
                contact_shown: true,
                part_within_k: None,
                part_from: None,
                test_volts: None,
                sibling: None,
                range_top: None,
                guard: None,
                applied: None,
                display: None,
            },
        })
        .map(|_| ())
    }

    pub fn tighten(
        &mut self,
        step: &str,
        what: &str,
        torque_nm: f64,
        passes: u32,
    ) -> Result<(), Problem> {
        self.write(Fact::Tightened {
            step: step.into(),
            tightened: Tightened {
                what: what.into(),
                torque_nm: Some(torque_nm),
                by_hand_first: true,
                passes,
                ..Tightened::default()
            },
        })
        .map(|_| ())
    }
}
