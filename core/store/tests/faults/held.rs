//! Whether what was acknowledged is there.

use std::path::Path;

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Store, StoreError};

use crate::work::{AGAIN, CUSTOMER, DRAFT, JOB, OTHER, SAFE, SHOP, append, noted};

type Found = Result<(), String>;

/// What a run was told, as far as it had come.
pub struct Told<'a> {
    /// Acknowledged by then.
    pub kept: &'a [String],
    /// And what was acknowledged, or would have been, later: may be there already.
    pub later: &'a [String],
}

impl Told<'_> {
    fn last<'a>(&'a self, what: &str) -> Option<&'a str> {
        let kept = self.kept.iter().rev();
        kept.filter_map(|said| said.strip_prefix(what)).next()
    }

    /// What was acknowledged last, or something later.
    fn may_be(&self, what: &str, found: &str) -> bool {
        let last = self.last(what).unwrap_or("");
        let mut later = self.later.iter().filter_map(|said| said.strip_prefix(what));
        found == last || later.any(|later| later == found)
    }
}

fn some(holds: bool, else_say: impl FnOnce() -> String) -> Found {
    if holds { Ok(()) } else { Err(else_say()) }
}

/// The shop's own folder: all that was acknowledged is there, and it can be worked on.
pub fn shop_is_whole(root: &Path, told: &Told<'_>) -> Found {
    let dir = root.join(SHOP);
    let store = Store::open(&dir).map_err(|why| format!("does not open: {why}"))?;
    if let Some(why) = store.read_only() {
        return Err(format!("can only be read: {}", why.words));
    }
    all_is_kept(&store, told)?;
    let wrong = |what: &'static str| move |why: StoreError| format!("{what}: {why}");
    let done = append(&store, vec![noted("goes on")]).map_err(wrong("takes no line"))?;
    let photo = store.put_photo(b"goes on").map_err(wrong("no photo"))?;
    store
        .keep_draft(JOB, "other", "x")
        .map_err(wrong("no draft"))?;
    drop(store);
    let store = Store::open(&dir).map_err(wrong("opens no second time"))?;
    some(store.read_only().is_none(), || {
        "held at the second start".into()
    })?;
    let (seq, _) = store.head(store.device()).map_err(wrong("no head"))?;
    some(done[0].starts_with(&format!("line {seq} ")), || {
        "the new line is lost".into()
    })?;
    some(store.has_photo(photo), || "the new photo is lost".into())
}

fn all_is_kept(store: &Store, told: &Told<'_>) -> Found {
    let wrong = |why: StoreError| format!("can't be read: {why}");
    if let Some(device) = told.last("device ") {
        some(store.device().to_string() == device, || {
            "another name".into()
        })?;
    }
    lines_are_kept(store, told)?;
    let named = store.photos_named().map_err(wrong)?;
    let acknowledged = told
        .kept
        .iter()
        .filter_map(|said| said.strip_prefix("photo "));
    for photo in acknowledged {
        let photo: Sha256Hex = photo.parse().expect("a hash");
        some(named.contains(&photo), || {
            format!("{photo} is named by no line")
        })?;
    }
    for photo in named {
        store
            .photo(photo)
            .map_err(|why| format!("a photo that a line names: {why}"))?;
    }
    let drafts = store.drafts(JOB).map_err(wrong)?;
    let draft = drafts.get(DRAFT).map_or("", String::as_str);
    some(told.may_be("draft ", draft), || format!("draft {draft:?}"))?;
    let customer = store.customer(CUSTOMER).map_err(wrong)?;
    let name = customer.map(|customer| customer.name).unwrap_or_default();
    some(told.may_be("customer ", &name), || {
        format!("customer {name:?}")
    })?;
    if told.last("beside").is_some() {
        let shown: Option<String> = store.setting("shown").map_err(wrong)?;
        some(shown.as_deref() == Some("bay"), || "setting lost".into())?;
        let peer = store.peer(OTHER).map_err(wrong)?;
        some(peer.is_some(), || "pairing lost".into())?;
        let own = store.procedures().map_err(wrong)?;
        some(own.len() == 1, || "procedure lost".into())?;
    }
    let theirs = store.head(OTHER).map_err(wrong)?.0.to_string();
    some(
        told.may_be("taken in ", &theirs) || theirs == "0" && told.last("taken in ").is_none(),
        || format!("{theirs} lines of the other device"),
    )
}

fn lines_are_kept(store: &Store, told: &Told<'_>) -> Found {
    let lines = store.entries_after(store.device(), 0, usize::MAX);
    let lines = lines.map_err(|why| format!("the lines can't be read: {why}"))?;
    let there: Vec<String> = lines
        .iter()
        .map(|line| format!("line {} {}", line.entry.seq, line.hash))
        .collect();
    for (at, line) in lines.iter().enumerate() {
        some(line.entry.seq == at as u64 + 1, || "a gap".into())?;
    }
    for said in told.kept.iter().filter(|said| said.starts_with("line ")) {
        some(there.contains(said), || format!("lost: {said}"))?;
    }
    let is_told = |line: &String| told.kept.contains(line) || told.later.contains(line);
    for line in &there {
        some(is_told(line), || format!("nobody wrote {line}"))?;
    }
    for pair in ["pair one", "pair two"] {
        let of_it = lines.iter().filter(|line| {
            matches!(line.entry.body.known(), Some(Fact::StepTicked { step }) if step == pair)
        });
        let of_it = of_it.count();
        some(of_it == 0 || of_it == 2, || format!("{of_it} of {pair}"))?;
    }
    Ok(())
}

/// The backup's folder: what the last one that was acknowledged held comes back out of it, and
/// the next one goes into it.
pub fn backup_is_whole(root: &Path, told: &Told<'_>) -> Found {
    let (safe, out) = (root.join(SAFE), root.join("out of safe"));
    let restored = Store::restore(&safe, &out);
    if let Some(acknowledged) = told.last("backup ") {
        let done = restored.map_err(|why| format!("the backup: {why}"))?;
        let mut had = acknowledged
            .split(' ')
            .map(|n| n.parse().expect("a number"));
        let (lines, photos): (u64, u64) = (had.next().expect("two"), had.next().expect("two"));
        some(done.lines >= lines && done.photos >= photos, || {
            format!("the backup had {acknowledged}, and has {done:?}")
        })?;
        let store = Store::open(&out).map_err(|why| format!("restored: {why}"))?;
        some(store.read_only().is_none(), || {
            "restored to read only".into()
        })?;
    } else if let Err(why) = restored {
        some(matches!(why, StoreError::Backup(_)), || {
            format!("no backup yet: {why}")
        })?;
    }
    let Ok(store) = Store::open(&root.join(SHOP)) else {
        return Ok(()); // told of elsewhere
    };
    let next = store.backup(&safe);
    next.map_err(|why| format!("the next backup: {why}"))?;
    Ok(())
}

/// The folder that was restored to: whole, or to be restored to again.
pub fn restored_is_whole(root: &Path, told: &Told<'_>) -> Found {
    let again = root.join(AGAIN);
    if told.last("restored ").is_none() {
        match Store::restore(&root.join(SAFE), &again) {
            // It had come that far.
            Err(StoreError::Backup(_)) => {}
            done => {
                return done
                    .map(drop)
                    .map_err(|why| format!("restores no more: {why}"));
            }
        }
    }
    let store = Store::open(&again).map_err(|why| format!("restored, and: {why}"))?;
    if let Some(why) = store.read_only() {
        return Err(format!("what was restored can only be read: {}", why.words));
    }
    let of_shop = store.earlier_names().map_err(|why| why.to_string())?;
    let device: DeviceId = *of_shop.last().ok_or("restored from nobody")?;
    let lines = store.head(device).map_err(|why| why.to_string())?.0;
    let theirs = store.head(OTHER).map_err(|why| why.to_string())?.0;
    let had = told
        .last("restored ")
        .map_or(1, |n| n.parse().expect("a number"));
    some(lines + theirs >= had, || {
        format!("{lines} and {theirs} restored")
    })
}
