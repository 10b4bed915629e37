//! The customer reads by a link that nobody can guess, answers per item, and
//! the answer is a line of the log.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

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
    /// How the answer to a form begins of whose body of `length` bytes only the first are sent.
    fn begin_form(&self, path: &str, length: usize) -> [u8; 12] {
        let host = self.hub.host();
        let mut stream = TcpStream::connect(host).expect("connects");
        let soon = Some(Duration::from_secs(5));
        stream.set_read_timeout(soon).expect("set");
        write!(
            stream,
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nContent-Type: {}\r\nContent-Length: {length}\r\n\r\nname=",
            FORM.1
        )
        .expect("sent");
        let mut answer = [0; 12];
        stream.read_exact(&mut answer).expect("an answer");
        answer
    }

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
            "base":"https://192.0.2.7:8350","days":30,"with_code":with_code}));
        let made = made.json();
        let path = made["url"]
            .as_str()
            .expect("a link")
            .strip_prefix("https://192.0.2.7:8350")
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
    shop.hub.call(
        &json!({"do":"write","job":shop.job,"sure":true,"fact":{"fact":"cost_given",
        "of":"work","amount":{"minor":38_600,"currency":"EUR"},"text":"with tax"}}),
    );
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
    // What it costs stands in the letter's first page, and a price, or that there is none,
    // beside each thing that is asked.
    assert!(page.text().contains("386.00"), "{}", page.text());
    let asked = page.text().matches("<fieldset>").count();
    assert!(asked > 0);
    assert_eq!(page.text().matches("Price: not stated").count(), asked);
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
fn a_link_that_leads_to_this_machine_only_is_said_to_and_has_no_code_to_scan() {
    let shop = Shop::demo();
    let shared = |base: &str| {
        let made = shop.hub.call(&json!({"do":"share_report","job":shop.job,
            "base":base,"days":30,"with_code":false}));
        made.json()
    };
    let here = shared("http://127.0.0.1:8350");
    let said = here["here_only"].as_str().expect("said");
    assert!(said.contains("opens on this computer only"), "{said}");
    assert_eq!(here["qr_svg"], Value::Null);
    let others = shared("https://192.0.2.7:8350");
    assert_eq!(others["here_only"], Value::Null);
    assert!(others["qr_svg"].is_string());
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

/// 200,000 fields took 138 s of all threads when each was looked for among all.
#[test]
fn a_form_of_very_many_fields_is_refused_at_once() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    let many = |n: u32| (0..n).map(|n| format!("text-{n}=&")).collect::<String>();
    let asked = |form: &str| {
        let begun = Instant::now();
        let status = shop.post(&path, form).status;
        (status, begun.elapsed() < Duration::from_secs(3))
    };
    assert_eq!(asked(&format!("{}name=Ada", many(30_000))), (413, true));
    // Too long by its head: answered before its body, which a client may find closed in its face.
    let begun = Instant::now();
    assert_eq!(&shop.begin_form(&path, 2 * 1024 * 1024), b"HTTP/1.1 413");
    assert!(begun.elapsed() < Duration::from_secs(3));
    // One item that is answered many times over is answered once.
    let again = "choice-0=agree&text-0=&".repeat(100);
    assert_eq!(asked(&format!("{again}name=Ada")), (200, true));
    assert_eq!(shop.view()["answers"].as_array().map(Vec::len), Some(1));
    let log = shop.hub.call(&json!({"do":"log","job":shop.job})).text();
    assert_eq!(log.matches("The customer answered").count(), 1, "{log}");
}

/// A stranger's form is not even read: the answer comes before its body.
#[test]
fn a_form_to_no_link_is_answered_unread() {
    let shop = Shop::demo();
    let none = format!("/r/{}", "0".repeat(40));
    let answer = shop.begin_form(&none, 1_000_000);
    assert_eq!(&answer, b"HTTP/1.1 404");
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
    // Whoever has a wrong link reads whose it is, and how to reach them.
    let settings = shop.hub.call(&json!({"do":"settings"})).json();
    let name = settings["settings"]["shop"].as_str().expect("a name");
    let page = shop.get(&wrong).text();
    assert!(
        page.contains(&format!("Ask {name} for a new one.")),
        "{page}"
    );
    // The link's secret is nowhere but in the link.
    let secret = path.trim_start_matches("/r/");
    let log = shop.hub.call(&json!({"do":"log","job":shop.job})).text();
    assert!(!log.contains(secret));
}

#[test]
fn a_code_is_asked_for_and_guessing_ends_for_who_guesses() {
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
    let (wrong, right) = (format!("code={other}"), format!("code={code}"));
    let stranger = |form: &str| shop.hub.post_from("127.0.0.2", &path, form);
    for _ in 0..5 {
        assert!(stranger(&wrong).starts_with("HTTP/1.1 401"));
    }
    for form in [&wrong, &right] {
        let locked = stranger(form);
        assert!(locked.starts_with("HTTP/1.1 429"), "{locked}");
        assert!(locked.contains("Wait 15 minutes"), "{locked}");
    }
    // Who guessed is locked out, not the customer, however often they use the right code.
    for _ in 0..7 {
        assert_eq!(shop.post(&path, &right).status, 200);
    }
    // Many guesses at once are no more than one after another.
    let tried: Vec<String> = std::thread::scope(|scope| {
        let ask = || shop.hub.post_from("127.0.0.3", &path, &wrong);
        let all: Vec<_> = (0..20).map(|_| scope.spawn(ask)).collect();
        all.into_iter()
            .map(|one| one.join().expect("answers"))
            .collect()
    });
    let looked_at = tried.iter().filter(|said| said.starts_with("HTTP/1.1 401"));
    assert_eq!(looked_at.count(), 5);
}

/// A link is 160 bits; that it can't be guessed fast is one more thing.
#[test]
fn a_link_that_opens_nothing_is_answered_slowly_and_holds_up_nobody() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    let none = format!("/r/{}", "0".repeat(40));
    let timed = |path: &str| {
        let begun = Instant::now();
        (shop.get(path).status, begun.elapsed())
    };
    std::thread::scope(|scope| {
        let guess = scope.spawn(|| timed(&none));
        assert_eq!(timed(&path).0, 200);
        let (status, took) = guess.join().expect("answers");
        assert_eq!(status, 404);
        assert!(took >= Duration::from_secs(1), "{took:?}");
    });
}

#[test]
fn answers_to_a_link_are_capped() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    let form = |n: u32| format!("choice-0=ask&text-0=again+{n}&name=Ada");
    let mut taken = 0;
    let refused = loop {
        let answer = shop.post(&path, &form(taken));
        if answer.status != 200 {
            break answer;
        }
        taken += 1;
        assert!(taken <= 200, "no end");
    };
    assert_eq!((refused.status, taken), (422, 200));
    assert!(
        refused.text().contains("Call the shop"),
        "{}",
        refused.text()
    );
    assert_eq!(shop.post(&path, "read=1").status, 200, "it is read on");
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

impl Shop {
    fn note(&self, text: &str) {
        let noted = self.hub.call(&json!({"do":"write","job":self.job,
            "fact":{"fact":"noted","step":"car","topic":null,"text":text,"private":false}}));
        assert_eq!(noted.json()["reply"], "written", "{}", noted.text());
    }

    /// Withdraws the report that was made last.
    fn withdraw(&self, reason: &str) -> Answer {
        let report = self.view()["reports"]
            .as_array()
            .and_then(|all| all.last())
            .expect("a report")["entry"]
            .clone();
        self.hub.call(&json!({"do":"write","job":self.job,
            "fact":{"fact":"report_withdrawn","report":report,"reason":reason}}))
    }

    /// How the reports stand, oldest first.
    fn standings(&self) -> Vec<String> {
        let view = self.view();
        let reports = view["reports"].as_array().expect("reports");
        let is = |report: &Value| report["standing"]["is"].as_str().map(str::to_owned);
        reports.iter().filter_map(is).collect()
    }
}

#[test]
fn the_link_of_a_withdrawn_report_says_so_with_the_reason_and_takes_no_answer() {
    let shop = Shop::demo();
    let (path, _) = shop.share(false);
    assert_eq!(shop.withdraw(" ").status, 422, "a reason is wanted");
    assert_eq!(shop.standings().last().map(String::as_str), Some("stands"));
    shop.withdraw("One reading was of <another> part.");
    assert_eq!(
        shop.standings().last().map(String::as_str),
        Some("withdrawn")
    );
    for form in ["", "read=1", "choice-0=agree&text-0=&name=Ada"] {
        let page = shop.post(&path, form);
        assert!(page.text().contains("no longer counts"), "{form}");
        assert!(
            page.text()
                .contains("One reading was of &lt;another&gt; part."),
            "{}",
            page.text()
        );
        assert!(!page.text().contains("Condition report</h1>"), "{form}");
        assert!(
            !page.text().contains("name=\"newest\""),
            "there is none yet"
        );
    }
    assert_eq!(shop.view()["answers"], json!([]));
    let log = shop.hub.call(&json!({"do":"log","job":shop.job})).text();
    assert!(log.contains("Report withdrawn: One reading"));
    assert_eq!(
        shop.withdraw("again").status,
        422,
        "it is withdrawn already"
    );
    // Taking the withdrawing back opens it again.
    shop.hub.call(&json!({"do":"undo","job":shop.job}));
    assert!(
        shop.post(&path, "read=1")
            .text()
            .contains("Condition report</h1>")
    );
}

#[test]
fn an_older_link_leads_on_to_the_report_that_takes_its_place() {
    let shop = Shop::demo();
    let (old, _) = shop.share(false);
    let before = shop.post(&old, "read=1").text();
    assert!(!shop.get(&old).text().contains("newest"), "it stands");
    shop.note("seen since");
    shop.hub.call(&json!({"do":"make_report","job":shop.job}));
    let page = shop.get(&old).text();
    assert!(page.contains("has made a newer report"), "{page}");
    assert!(
        !page.contains("name=\"newest\""),
        "the newer one is not shared"
    );
    let (new, _) = shop.share(false);
    assert!(shop.get(&old).text().contains("name=\"newest\""));
    assert_eq!(
        shop.post(&old, "read=1").text(),
        before,
        "the old one is kept"
    );
    assert_eq!(
        shop.post(&old, "newest=1&read=1").text(),
        shop.post(&new, "read=1").text()
    );
    // An answer by that way is an answer to the newer report.
    let sent = shop.post(&old, "newest=1&choice-0=agree&text-0=&name=Ada+Invented");
    assert!(sent.text().contains("Thank you"), "{}", sent.text());
    assert!(shop.get(&new).text().contains("value=\"agree\" checked"));
    assert!(!shop.get(&old).text().contains("value=\"agree\" checked"));
}

#[test]
fn an_older_link_does_not_lead_to_what_it_left_out_nor_past_a_code() {
    let shop = Shop::demo();
    let made = shop.hub.call(&json!({"do":"share_report","job":shop.job,
        "base":"https://192.0.2.7:8350","days":30,"leave_out":{"customer":true}}));
    let url = made.json()["url"].as_str().expect("a link").to_owned();
    let old = url.trim_start_matches("https://192.0.2.7:8350");
    shop.note("seen since");
    shop.share(false);
    let page = shop.get(old).text();
    assert!(page.contains("has made a newer report"), "{page}");
    assert!(
        !page.contains("name=\"newest\""),
        "the newer one names the customer"
    );
    let shop = Shop::demo();
    let (old, _) = shop.share(false);
    shop.note("seen since");
    shop.share(true);
    assert!(!shop.get(&old).text().contains("name=\"newest\""));
}
