//! What is half typed, what comes from outside, and what can't be told.

use super::*;

#[test]
fn a_file_that_is_no_photo_is_refused_with_the_reason() {
    let bay = by_minutes();
    for (bytes, part) in [
        (&b""[..], "empty"),
        (
            b"hello, this is text and not a picture at all",
            "not a photo",
        ),
        (
            &[0xff, 0xd8, 0xff, 0xe0, 0, 16, b'J', b'F', b'I', b'F', 0][..],
            "photo",
        ),
    ] {
        let problem = bay.app.put_photo(bytes).expect_err("refused");
        assert!(problem.what.contains(part), "{problem}");
    }
}

#[test]
fn a_draft_and_the_place_survive_and_are_forgotten_when_done() {
    let bay = by_minutes();
    let draft = |text: &str| Command::KeepDraft {
        job: bay.job,
        field: "complaint".into(),
        text: text.into(),
    };
    bay.app.call(draft("slips when ho")).expect("kept");
    bay.app
        .call(Command::StandAt {
            job: Some(bay.job),
            place: "complaint".into(),
        })
        .expect("kept");
    assert_eq!(bay.view().drafts["complaint"], "slips when ho");
    match bay.app.call(Command::Start {}).expect("start") {
        Reply::Start { start } => {
            assert_eq!(
                (start.job, start.place.as_str()),
                (Some(bay.job), "complaint")
            );
            assert!(start.first_run);
            assert_eq!(start.jobs, 1);
        }
        other => panic!("{other:?}"),
    }
    bay.app.call(draft("")).expect("forgotten");
    assert!(bay.view().drafts.is_empty());
}

#[test]
fn what_one_browser_half_typed_another_neither_sees_nor_loses() {
    let bay = by_minutes();
    let [ada, bo] = [Profile::make(), Profile::make()].map(|made| made.expect("made"));
    let types = |who: Option<&Profile>, text: &str| {
        let command = Command::KeepDraft {
            job: bay.job,
            field: "codes before".into(),
            text: text.into(),
        };
        bay.app
            .asked_by(who.cloned(), || bay.app.call(command))
            .expect("kept");
    };
    let sees = |who: Option<&Profile>| {
        let view = bay.app.asked_by(who.cloned(), || bay.view());
        view.drafts.get("codes before").cloned()
    };
    types(Some(&ada), "P07");
    assert_eq!((sees(Some(&bo)), sees(None)), (None, None));
    types(Some(&bo), "U0");
    types(None, "hub");
    let all = || (sees(Some(&ada)), sees(Some(&bo)), sees(None));
    let said = |text: &str| Some(text.to_owned());
    assert_eq!(all(), (said("P07"), said("U0"), said("hub")));
    types(Some(&bo), "");
    assert_eq!(all(), (said("P07"), None, said("hub")));
}

#[test]
fn lines_that_only_the_app_writes_are_refused_from_outside() {
    let bay = by_minutes();
    bay.refused(
        Fact::Opened {
            procedure: "x".into(),
            procedure_version: 1,
        },
        ProblemKind::BadRequest,
        "by the app itself",
    );
}

#[test]
fn a_shop_adds_a_procedure_and_a_bad_one_is_told_by_its_line() {
    let bay = by_minutes();
    let good = "id = \"short\"\nversion = 1\ntitle = \"Short\"\n[[stage]]\nid = \"one\"\ntitle = \"One\"\n[[stage.step]]\nid = \"look\"\ntitle = \"Look\"\n";
    bay.app
        .call(Command::AddProcedure { text: good.into() })
        .expect("added");
    let bad = format!("{good}[[stage.step]]\nid = \"look\"\ntitle = \"Again\"\n");
    let problem = bay
        .app
        .call(Command::AddProcedure {
            text: bad.replace("version = 1", "version = 2"),
        })
        .expect_err("twice");
    assert!(
        problem.what.contains("line 11") && problem.what.contains("second time"),
        "{problem}"
    );
    let job = match bay
        .app
        .call(Command::OpenJob {
            procedure: Some("short".into()),
        })
        .expect("opens")
    {
        Reply::Job { job } => job,
        other => panic!("{other:?}"),
    };
    assert_eq!(job.step_in_hand, "look");
}

#[test]
fn a_job_that_can_not_be_told_does_not_hide_the_others() {
    let bay = by_minutes();
    bay.write(car(90_000.0));
    // Opened on another device by a procedure that is not here.
    let strange = swarfbook_job::id::JobId(uuid::Uuid::from_u128(1));
    let line = swarfbook_store::NewEntry {
        job: strange,
        fact: Fact::Opened {
            procedure: "elsewhere".into(),
            procedure_version: 3,
        },
        now: Minutes::default().now(),
    };
    bay.app.store().append(&[line]).expect("kept");
    let list = Command::Jobs {
        search: String::new(),
        skip: 0,
        limit: 10,
    };
    match bay.app.call(list).expect("a list") {
        Reply::Jobs { jobs, total } => {
            assert_eq!(total, 2);
            assert!(jobs.iter().any(|line| line.title == "TEST 1"));
            let told = jobs.iter().find(|line| line.id == strange).expect("a line");
            assert!(told.subtitle.contains("elsewhere"), "{told:?}");
        }
        other => panic!("{other:?}"),
    }
}
