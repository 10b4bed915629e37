//! What a paired phone tries that lies: nothing of it may get in, but what it writes as itself.

use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_sync::Request;
use swarfbook_sync::auth::Signed;
use uuid::Uuid;

use crate::device::{Device, shown};
use crate::world::{DAY, Message, World};

impl World {
    /// The liar tries something.
    pub fn lie(&self) {
        let Some(liar) = self.liar() else { return };
        let victim = match self.dice.below(self.honest().len() + 1) {
            0 => &self.hub,
            n => &self.honest()[n - 1],
        };
        let what = self.dice.below(10);
        self.tell(format_args!("the liar tries {what} on {}", victim.name));
        self.count("lies");
        match what {
            0 => self.writes_as(liar, victim),
            1 => self.changes_a_line(liar, victim),
            2 => self.writes_its_own_line_anew(liar),
            3 => self.dates_a_line_far_ahead(liar),
            4 => self.takes_the_id_of_another_line(liar),
            5 => self.sends_other_bytes_as_a_photo(liar),
            6 => self.sends_nonsense(liar),
            7 => self.sends_a_customer_that_can_not_be(liar),
            8 => self.brings_lines_of_another(liar, victim),
            _ => self.asks_as(liar, victim),
        }
    }

    fn post(&self, liar: &Device, target: &str, body: Vec<u8>) -> (u16, String) {
        let request = Request {
            method: "POST",
            target: target.to_owned(),
            body,
        };
        let response = self.hub_answers(&self.message(liar, &request));
        let words = String::from_utf8_lossy(&response.body).into_owned();
        (response.status, words)
    }

    /// Sends lines; none of them may be new at the hub.
    fn in_vain(&self, liar: &Device, lines: &[String]) {
        let (status, words) = self.post(liar, "/sync/lines", lines.concat().into_bytes());
        let refused = status != 200 || words.contains("\"new\":0");
        assert!(refused, "taken in: {lines:?}: {words}");
    }

    fn made_up(&self, device: DeviceId, seq: u64, prev: Sha256Hex) -> Entry {
        let now = self.now.get();
        Entry {
            id: EntryId(Uuid::from_slice(&self.dice.bytes(16)).expect("16 bytes")),
            job: JobId(Uuid::from_u128(1)),
            device,
            seq,
            wall: shown(now),
            hlc: Default::default(),
            prev,
            body: Fact::StepTicked {
                step: "a lie".into(),
            }
            .into(),
        }
    }

    fn writes_as(&self, liar: &Device, victim: &Device) {
        let (seq, prev) = self.hub.store().head(victim.id).expect("reads");
        let line = self
            .made_up(victim.id, seq + 1, prev)
            .seal()
            .expect("sealed");
        let by = match self.dice.below(5) {
            0 => String::new(),
            1 => format!("\t{}", liar.key.public_hex()),
            2 => signed(&line, liar, liar),
            3 => signed(&line, liar, victim),
            _ => {
                // A signature that is the victim's, over another line.
                let other = victim.written.borrow().last().cloned();
                other.map_or(String::new(), |other| signed(&other, victim, victim))
            }
        };
        self.in_vain(liar, &[format!("{}{by}\n", line.bytes)]);
    }

    fn changes_a_line(&self, liar: &Device, victim: &Device) {
        // One that the hub may have already or not.
        let lines = victim.written.borrow();
        let Some(line) = lines.get(self.dice.below(lines.len())) else {
            return;
        };
        let mut entry = line.entry.clone();
        match self.dice.below(3) {
            0 => entry.wall = shown(self.now.get() + 1),
            1 => entry.job = JobId(Uuid::from_u128(9)),
            _ => entry.body = self.made_up(victim.id, 1, Sha256Hex::ZERO).body,
        }
        let changed = entry.seal().expect("sealed");
        if changed.bytes == line.bytes {
            return;
        }
        let by = match self.dice.below(3) {
            0 => String::new(),
            1 => signed(line, victim, victim),
            _ => signed(&changed, liar, victim),
        };
        self.in_vain(liar, &[format!("{}{by}\n", changed.bytes)]);
    }

    /// Two histories of its own: the hub keeps the one that it has.
    fn writes_its_own_line_anew(&self, liar: &Device) {
        let (seq, _) = self.hub.store().head(liar.id).expect("reads");
        if seq < 2 {
            return;
        }
        let at = self.dice.within(1..seq as usize);
        let before = liar.written.borrow()[at - 1].hash;
        let line = self.made_up(liar.id, at as u64 + 1, before);
        let line = line.seal().expect("sealed");
        let by = signed(&line, liar, liar);
        self.in_vain(liar, &[format!("{}{by}\n", line.bytes)]);
    }

    /// Under its own name it may write what it likes; the line waits everywhere.
    fn dates_a_line_far_ahead(&self, liar: &Device) {
        let step = "far ahead".to_owned();
        let facts = vec![Fact::StepTicked { step }];
        let year = self.now.get() + 400 * DAY;
        liar.write(JobId(Uuid::from_u128(2)), facts, year);
    }

    fn takes_the_id_of_another_line(&self, liar: &Device) {
        let (seq, prev) = self.hub.store().head(liar.id).expect("reads");
        let id = {
            let hub = self.hub.store();
            let there = hub.entries(JobId(Uuid::from_u128(1))).expect("reads");
            match there.is_empty() {
                true => return,
                false => self.dice.of_these(&there).id,
            }
        };
        let line = Entry {
            id,
            ..self.made_up(liar.id, seq + 1, prev)
        };
        let line = line.seal().expect("sealed");
        let by = signed(&line, liar, liar);
        self.in_vain(liar, &[format!("{}{by}\n", line.bytes)]);
    }

    fn sends_other_bytes_as_a_photo(&self, liar: &Device) {
        let photos = self.hub.store().photos_named().expect("reads");
        if photos.is_empty() {
            return;
        }
        let photo = *self.dice.of_these(&photos);
        let bytes = self.dice.bytes(1 + self.dice.a_length(50_000));
        let total = bytes.len() + self.dice.below(2) * self.dice.below(3000);
        let target = format!("/sync/photo?photo={photo}&from=0&total={total}");
        let had = self.hub.store().has_photo(photo);
        let (_, words) = self.post(liar, &target, bytes);
        assert!(had || !words.contains("whole"), "{words}");
    }

    fn sends_nonsense(&self, liar: &Device) {
        let target = *self.dice.of_these(&[
            "/sync/lines",
            "/sync/customers",
            "/sync/procedure",
            "/sync/photo?photo=1&from=-1",
            "/sync/standing",
            "/sync/nothing?",
        ]);
        let bytes = self.dice.bytes(self.dice.a_length(5_000));
        let (status, words) = self.post(liar, target, bytes);
        assert!(status != 200 || words.contains("\"new\":0"), "{words}");
    }

    fn sends_a_customer_that_can_not_be(&self, liar: &Device) {
        let (id, device) = (Uuid::from_u128(1), liar.id);
        let body = format!(
            r#"[{{"id":"{id}","name":"a lie","contact":"","erased":true,
                  "hlc":{{"millis":9000000000000,"counter":0}},"device":"{device}"}}]"#
        );
        let (status, words) = self.post(liar, "/sync/customers", body.into_bytes());
        assert!(status != 200 || words.contains("can't be"), "{words}");
    }

    /// What the victim signed comes in whoever brings it; without the signature it does not.
    fn brings_lines_of_another(&self, liar: &Device, victim: &Device) {
        let (had, _) = self.hub.store().head(victim.id).expect("reads");
        let lines = victim.written.borrow();
        let Some(line) = lines.get(had as usize) else {
            return;
        };
        self.in_vain(liar, &[format!("{}\n", line.bytes)]);
        let by = signed(line, victim, victim);
        let body = format!("{}{by}\n", line.bytes).into_bytes();
        let (status, words) = self.post(liar, "/sync/lines", body);
        if status == 200 {
            assert!(words.contains("\"new\":1"), "{words}");
            self.count("lines brought by another");
        }
    }

    fn asks_as(&self, liar: &Device, victim: &Device) {
        let request = Request {
            method: "GET",
            target: "/sync/standing".to_owned(),
            body: Vec::new(),
        };
        let now = self.hub.now(self.now.get());
        let signed = Signed::sign(&request, victim.id, self.hub.id, &liar.key, now);
        let header = signed.expect("signed").header();
        let answer = self.hub_answers(&Message { header, request });
        assert_eq!(answer.status, 401);
    }
}

/// What travels behind a line: the key that `told` is known by, and a signature of `by`.
fn signed(line: &Sealed, by: &Device, told: &Device) -> String {
    format!(
        "\t{}{}",
        told.key.public_hex(),
        by.key.sign(&line.to_sign())
    )
}
