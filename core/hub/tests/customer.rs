//! The customer reads by a link that nobody can guess, answers per item, and
//! the answer is a line of the log.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use common::{Answer, Running};
use serde_json::{Value, json};
use swarfbook_job::id::Sha256Hex;

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");

struct Shop {
    _dir: tempfile::TempDir,
    hub: Running,
    job: Value,
}

impl Shop {
    fn demo() -> Shop {
        let dir = tempfile::tempdir().expect("folder");
        let hub = Running::start(dir.path(), &["--demo"]);
        let jobs = hub.call(&json!({"do":"jobs","limit":10})).json();
        // The one that is furthest along: it has the most to advise.
        let job = jobs["jobs"]
            .as_array()
            .expect("jobs")
            .iter()
            .map(|line| line["id"].clone())
            .max_by_key(|id| view(&hub, id)["photos"].as_array().map_or(0, Vec::len))
            .expect("a job");
        Shop {
            _dir: dir,
            hub,
            job,
        }
    }

    fn share(&self, with_code: bool) -> (String, Value) {
        let made = self.hub.call(&json!({"do":"share_report","job":self.job,
            "base":"http://192.0.2.7:8350","days":30,"with_code":with_code}));
        let made = made.json();
        let path = made["url"]
            .as_str()
            .expect("a link")
            .strip_prefix("http://192.0.2.7:8350")
            .expect("at the hub")
            .to_owned();
        (path, made)
    }

    /// As a browser that never saw the hub's key.
    fn get(&self, path: &str) -> Answer {
        self.hub.send("GET", path, &[], b"")
    }

    fn post(&self, path: &str, form: &str) -> Answer {
        self.hub.send("POST", path, &[FORM], form.as_bytes())
    }

    fn view(&self) -> Value {
        view(&self.hub, &self.job)
    }
}

fn view(hub: &Running, job: &Value) -> Value {
    hub.call(&json!({"do":"job","job":job})).json()["job"].clone()
}

#[test]
fn a_link_opens_one_report_and_takes_the_answer_for_each_item() {
    let shop = Shop::demo();
    let (path, made) = shop.share(false);
    assert!(
        path.strip_prefix("/r/").expect("its place").len() * 4 >= 128,
        "at least 128 bits: {path}"
    );
    assert!(made["qr_svg"].as_str().expect("a code").starts_with("<svg"));
    let page = shop.get(&path);
    assert_eq!(page.status, 200);
    assert!(
        page.text().contains("class=\"invented\""),
        "{}",
        page.text()
    );
    assert!(!page.text().contains("<script"));
    assert!(page.header("cache-control").contains("no-store"));
    assert_eq!(page.header("referrer-policy"), "same-origin");

    let report = shop.post(&path, "read=1");
    let line = shop.hub.call(&json!({"do":"log","job":shop.job})).json();
    assert!(line.to_string().contains("Report shared with the customer"));
    assert!(report.text().contains("Condition report"));

    let sent = shop.post(
        &path,
        "code=&choice-0=ask&text-0=How+much+is+%3Cb%3Ethat%3C%2Fb%3E%3F&name=Ada+Invented",
    );
    assert_eq!(sent.status, 200);
    assert!(sent.text().contains("Thank you"), "{}", sent.text());
    assert!(!sent.text().contains("<b>that"), "what they type is text");
    let answers = shop.view()["answers"].clone();
    assert_eq!(answers.as_array().map(Vec::len), Some(1));
    assert_eq!(answers[0]["choice"], "ask");
    assert_eq!(answers[0]["words"], "asks first: How much is <b>that</b>?");
    assert_eq!(answers[0]["by"], "Ada Invented");

    shop.post(&path, "choice-0=agree&text-0=&name=Ada+Invented");
    let answers = shop.view()["answers"].clone();
    assert_eq!(answers.as_array().map(Vec::len), Some(1), "the last counts");
    assert_eq!(answers[0]["choice"], "agree");
    assert!(shop.get(&path).text().contains("value=\"agree\" checked"));
    let undo = shop.hub.call(&json!({"do":"undo","job":shop.job})).json();
    assert_eq!(
        undo["job"]["answers"].as_array().map(Vec::len),
        Some(1),
        "undo is the technician's own: it closes the link, the answer stays"
    );
}

#[test]
fn an_answer_without_a_name_or_a_choice_is_asked_again_and_keeps_what_was_typed() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    for form in [
        "choice-0=decline&text-0=too+dear&name=+",
        "text-0=too+dear&name=Ada",
    ] {
        let page = shop.post(&path, form);
        assert!(page.text().contains("role=\"alert\""), "{form}");
        assert!(page.text().contains("too dear"), "{form}");
    }
    assert_eq!(shop.view()["answers"], json!([]));
    let page = shop.post(&path, "choice-99=agree&text-99=&name=Ada");
    assert_eq!(page.status, 422);
    assert_eq!(shop.view()["answers"], json!([]));
}

#[test]
fn a_link_can_be_closed_and_no_other_opens() {
    let shop = Shop::demo();
    let (path, made) = shop.share(false);
    let wrong = format!("/r/{}", "0".repeat(40));
    for path in [wrong.as_str(), "/r/", "/r/..%2Fjobs"] {
        assert!(
            [401, 404].contains(&shop.get(path).status),
            "{path} opens nothing"
        );
    }
    let link = made["job"]["links"][0]["entry"].clone();
    shop.hub
        .call(&json!({"do":"retract","job":shop.job,"entry":link}));
    assert_eq!(shop.get(&path).status, 404);
    assert_eq!(shop.post(&path, "read=1").status, 404);
    assert_eq!(
        shop.post(&path, "choice-0=agree&text-0=&name=Ada").status,
        404
    );
    assert_eq!(shop.view()["links"], json!([]));
    // The link's secret is nowhere but in the link.
    let secret = path.trim_start_matches("/r/");
    let log = shop.hub.call(&json!({"do":"log","job":shop.job})).text();
    assert!(!log.contains(secret));
}

#[test]
fn a_code_is_asked_for_and_guessing_ends() {
    let shop = Shop::demo();
    let (path, made) = shop.share(true);
    let code = made["code"].as_str().expect("a code").to_owned();
    assert_eq!(code.len(), 6);
    let closed = shop.get(&path);
    assert_eq!(closed.status, 401);
    assert!(!closed.text().contains("DEMO"), "tells nothing of the car");
    assert_eq!(shop.post(&path, &format!("code={code}")).status, 200);
    assert_eq!(shop.post(&path, &format!("code={code}&read=1")).status, 200);
    let other = if code == "000000" { "000001" } else { "000000" };
    for _ in 0..5 {
        assert_eq!(shop.post(&path, &format!("code={other}")).status, 401);
    }
    assert_eq!(
        shop.post(&path, &format!("code={code}")).status,
        404,
        "closed, for the right code too"
    );
}

#[test]
fn the_customer_reads_the_bytes_that_were_shared_not_a_later_report() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    let before = Sha256Hex::of(&shop.post(&path, "read=1").body);
    shop.hub.call(
        &json!({"do":"write","job":shop.job,"fact":{"fact":"noted","step":"car",
        "topic":null,"text":"written later","private":false}}),
    );
    assert_eq!(Sha256Hex::of(&shop.post(&path, "read=1").body), before);
}

#[test]
fn another_site_can_not_answer_in_the_customers_name() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    let sent = shop.hub.send(
        "POST",
        &path,
        &[FORM, ("origin", "http://198.51.100.9")],
        b"choice-0=agree&text-0=&name=Ada",
    );
    assert_eq!(sent.status, 403);
    assert_eq!(shop.view()["answers"], json!([]));
}
