//! A hub under load, in one run: `cargo bench -p swarfbook-hub --bench clients`. 200 clients,
//! each of whom asks, reads the answer and waits a second: three reads to a write. How long a
//! small call takes for one client alone, for all of them, and for all of them while three
//! photos of 12 MP are taken in and counted and two reports are made. An answer that is no
//! success ends the run. It measures, and says beside each figure what was asked for.

#![allow(clippy::expect_used, clippy::panic, missing_docs)]

mod common;
#[path = "../tests/common/mod.rs"]
mod hub;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use hub::Running;
use serde_json::{Value, json};

const CLIENTS: usize = 200;
/// From one address; the hub lets in no more than 100.
const AN_ADDRESS: usize = 50;
const JOBS: usize = 40;
/// Between an answer and the next call, on average.
const PAUSE: Duration = Duration::from_secs(1);
const ALONE: usize = 300;
/// How long all of them ask before the photos come.
const CALM: Duration = Duration::from_secs(30);
const PHOTOS: usize = 3;
const REPORTS: usize = 2;
const P99_MS: f64 = 250.0;
const TIMES_ALONE: f64 = 3.0;

fn main() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let jobs: Vec<String> = (0..JOBS).map(|_| open_job(&hub)).collect();
    let photo = common::grainy_jpeg(4000, 3000);
    let cores = thread::available_parallelism().map_or(0, usize::from);
    println!("{CLIENTS} clients, {JOBS} jobs, {cores} cores; ms of a small call");

    let mut alone = Client::new(&hub, 0, &jobs);
    let alone = Taken((0..ALONE).map(|_| alone.call()).collect());
    println!("{:>34}  {}", "one alone", alone.words());
    let (all, beside) = under_load(&hub, &jobs, &photo);
    println!("{:>34}  {}", "all", all.words());
    println!(
        "{:>34}  {}",
        "all, photos and reports meanwhile",
        beside.words()
    );
    println!(
        "p99 {:.0} ms, asked for: at most {P99_MS}; {:.1} times that of all without photos, {:.1} times that of one alone, asked for: at most {TIMES_ALONE}",
        beside.part(0.99),
        beside.part(0.99) / all.part(0.99),
        beside.part(0.99) / alone.part(0.99),
    );
}

/// What small calls took without other work, and beside it.
fn under_load(hub: &Running, jobs: &[String], photo: &[u8]) -> (Taken, Taken) {
    let (heavy, over) = (AtomicBool::new(false), AtomicBool::new(false));
    thread::scope(|scope| {
        let clients: Vec<_> = (0..CLIENTS)
            .map(|n| {
                let (heavy, over) = (&heavy, &over);
                scope.spawn(move || {
                    let mut client = Client::new(hub, n, jobs);
                    let mut taken = [Vec::new(), Vec::new()];
                    // Not all in one breath.
                    thread::sleep(PAUSE * client.chance(1000) / 1000);
                    while !over.load(Ordering::Relaxed) {
                        let beside = heavy.load(Ordering::Relaxed);
                        taken[usize::from(beside)].push(client.call());
                        thread::sleep(PAUSE / 2 + PAUSE * client.chance(1000) / 1000);
                    }
                    taken
                })
            })
            .collect();
        thread::sleep(CALM);
        heavy.store(true, Ordering::Relaxed);
        let began = Instant::now();
        thread::scope(|scope| {
            for job in &jobs[..PHOTOS] {
                scope.spawn(move || take_photo(hub, job, photo));
            }
            for job in &jobs[PHOTOS..PHOTOS + REPORTS] {
                scope.spawn(move || make_report(hub, job));
            }
        });
        println!(
            "{PHOTOS} photos of 12 MP counted and {REPORTS} reports made in {:.1} s",
            began.elapsed().as_secs_f64()
        );
        over.store(true, Ordering::Relaxed);
        let mut all = [Vec::new(), Vec::new()];
        for client in clients {
            let taken = client.join().expect("each answer is a success");
            for (all, taken) in all.iter_mut().zip(taken) {
                all.extend(taken);
            }
        }
        let [all, beside] = all;
        (Taken(all), Taken(beside))
    })
}

fn done(hub: &Running, command: &Value) -> Value {
    let answer = hub.call(command);
    assert_eq!(answer.status, 200, "{command}: {}", answer.text());
    answer.json()
}

fn open_job(hub: &Running) -> String {
    let opened = done(hub, &json!({"do": "open_job"}));
    let id = opened["job"]["id"].as_str().expect("an id");
    id.to_owned()
}

fn take_photo(hub: &Running, job: &str, photo: &[u8]) {
    let kept = hub.ask("POST", "/photo", "image/jpeg", photo);
    assert_eq!(kept.status, 200, "{}", kept.text());
    let fact = json!({"fact": "photo_taken", "step": "patch", "photo": kept.json()["photo"],
        "subject": "patch"});
    let written = done(hub, &json!({"do": "write", "job": job, "fact": fact}));
    done(
        hub,
        &json!({"do": "take_census", "job": job, "photo": written["entry"]}),
    );
}

fn make_report(hub: &Running, job: &str) {
    done(hub, &json!({"do": "make_report", "job": job}));
}

/// How long calls took.
struct Taken(Vec<Duration>);

impl Taken {
    /// So many of a hundred are no longer, ms.
    fn part(&self, part: f64) -> f64 {
        let mut all = self.0.clone();
        all.sort();
        let at = (all.len() as f64 * part) as usize;
        let one = all.get(at.min(all.len().saturating_sub(1)));
        one.map_or(f64::NAN, |one| one.as_secs_f64() * 1e3)
    }

    fn words(&self) -> String {
        let [half, most, all] = [0.5, 0.99, 1.0].map(|part| self.part(part));
        let calls = self.0.len();
        format!("{calls:>6} calls  median {half:>7.1}  p99 {most:>7.1}  longest {all:>7.1}")
    }
}

/// A browser with one connection of its own.
struct Client<'a> {
    stream: BufReader<TcpStream>,
    hub: &'a Running,
    jobs: &'a [String],
    state: u32,
    calls: usize,
}

impl<'a> Client<'a> {
    fn new(hub: &'a Running, n: usize, jobs: &'a [String]) -> Client<'a> {
        let stream = hub.connect_from(&format!("127.0.0.{}", 2 + n / AN_ADDRESS));
        stream.set_nodelay(true).expect("set");
        Client {
            stream: BufReader::new(stream),
            hub,
            jobs,
            state: n as u32 + 1,
            calls: n,
        }
    }

    fn chance(&mut self, of: u32) -> u32 {
        self.state = self
            .state
            .wrapping_mul(1_664_525)
            .wrapping_add(1_013_904_223);
        (self.state >> 8) % of
    }

    /// A small call, and how long its answer took.
    fn call(&mut self) -> Duration {
        let at = self.chance(JOBS as u32) as usize;
        let job = &self.jobs[at];
        self.calls += 1;
        let command = match self.calls % 4 {
            0 => json!({"do": "write", "job": job, "fact": {"fact": "noted", "step": "car",
                "topic": null, "text": "seen", "private": false}}),
            1 => json!({"do": "jobs", "search": "", "skip": 0, "limit": 20}),
            _ => json!({"do": "job", "job": job}),
        };
        let began = Instant::now();
        let (status, body) = self.ask(&command.to_string()).expect("answers");
        assert_eq!(status, 200, "{command}: {}", String::from_utf8_lossy(&body));
        began.elapsed()
    }

    fn ask(&mut self, body: &str) -> std::io::Result<(u16, Vec<u8>)> {
        let request = format!(
            "POST /call HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nContent-Type: application/json\r\n\
             Content-Length: {}\r\n\r\n{body}",
            self.hub.host(),
            self.hub.cookie(),
            body.len()
        );
        self.stream.get_mut().write_all(request.as_bytes())?;
        let (mut status, mut length, mut line) = (0, 0, String::new());
        while line != "\r\n" {
            line.clear();
            if self.stream.read_line(&mut line)? == 0 {
                return Err(std::io::ErrorKind::UnexpectedEof.into());
            }
            if let Some(rest) = line.strip_prefix("HTTP/1.1 ") {
                status = rest[..3].parse().expect("a status");
            }
            let lower = line.to_ascii_lowercase();
            if let Some(value) = lower.strip_prefix("content-length:") {
                length = value.trim().parse().expect("a length");
            }
        }
        let mut body = vec![0; length];
        self.stream.read_exact(&mut body)?;
        Ok((status, body))
    }
}
