//! The power goes while a table of 5,000 rows is being kept: all of its rows are there, or none.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::thread;
use std::time::Duration;

use linkwright_store::records::Trial;
use linkwright_store::{Saved, Store, StoreError};
use scraper::{ElementRef, Html, Selector};
use tokio::time::Instant;

use crate::program::Program;

const ROWS: usize = 5000;

/// Where in the keeping the power goes, as shares of the time it takes undisturbed.
const MOMENTS: [f64; 6] = [0.1, 0.3, 0.5, 0.7, 0.9, 1.0];

/// Sends a request and reads the answer; nothing if the program ended meanwhile.
fn ask(address: &str, method: &str, path: &str, kind: &str, body: &[u8]) -> Option<String> {
    let host = address.trim_start_matches("http://");
    let mut line = TcpStream::connect(host).ok()?;
    let head = format!(
        "{method} {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: {address}\r\nConnection: close\r\n\
         Content-Type: {kind}\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    line.write_all(head.as_bytes()).ok()?;
    line.write_all(body).ok()?;
    let mut answer = Vec::new();
    line.read_to_end(&mut answer).ok()?;
    let answer = String::from_utf8_lossy(&answer).into_owned();
    answer.starts_with("HTTP/1.1").then_some(answer)
}

fn get(address: &str, path: &str) -> Html {
    let answer = ask(address, "GET", path, "text/plain", b"").expect("answered");
    assert!(answer.starts_with("HTTP/1.1 200"), "{path}: {}", &answer[..answer.len().min(400)]);
    Html::parse_document(answer.split_once("\r\n\r\n").expect("a body").1)
}

fn post(address: &str, path: &str, fields: &[(String, String)]) -> Option<String> {
    let form = "application/x-www-form-urlencoded";
    ask(address, "POST", path, form, query(fields).as_bytes())
}

fn query(fields: &[(String, String)]) -> String {
    let encode = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    let pairs: Vec<String> =
        fields.iter().map(|(name, value)| format!("{name}={}", encode(value))).collect();
    pairs.join("&")
}

fn value(element: ElementRef<'_>) -> String {
    element.value().attr("value").unwrap_or_default().to_owned()
}

/// The fields of a form as they stand on the page.
fn fields(page: &Html, form: &str) -> Vec<(String, String)> {
    let select = |css: &str| Selector::parse(css).expect("a selector");
    let mut fields = Vec::new();
    for one in page.select(&select(&format!("{form} input[type=hidden], {form} select"))) {
        let name = one.value().attr("name").expect("a name").to_owned();
        let value = if one.value().name() == "select" {
            one.select(&select("option[selected]")).next().map(value).unwrap_or_default()
        } else {
            value(one)
        };
        fields.push((name, value));
    }
    fields
}

/// Starts a workshop on `data` and sends a table to bring in, up to the last question.
fn stage(data: &Path) {
    let program = Program::start(data);
    let address = program.address.as_str();
    let mut welcome = fields(&get(address, "/welcome"), "form[action='/welcome']");
    welcome.push(("name".to_owned(), "Test bench".to_owned()));
    post(address, "/welcome", &welcome).expect("a workshop");
    let token = &fields(&get(address, "/trials/import"), "main form")[0].1;
    let mut table = String::from("Date;Metal;Temper;Wire;Rod;Good;Outcome\n");
    for row in 0..ROWS {
        let (month, day, good) = (row / 28 % 12 + 1, row % 28 + 1, 10 + row / 336);
        table.push_str(&format!(
            "2024-{month:02}-{day:02};copper;soft;1.29 mm;5.0 mm;{good};good\n"
        ));
    }
    let body = format!(
        "--x\r\nContent-Disposition: form-data; name=\"token\"\r\n\r\n{token}\r\n\
         --x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"old.csv\"\r\n\r\n{table}\r\n--x--\r\n"
    );
    let sent =
        ask(address, "POST", "/trials/import", "multipart/form-data; boundary=x", body.as_bytes());
    assert!(sent.expect("taken").starts_with("HTTP/1.1 303"));
    program.kill();
}

/// What the last form sends, from its page.
fn last_form(address: &str) -> Vec<(String, String)> {
    let matched = get(address, "/trials/import/1/match?sheet=0&heading=1&lines=1");
    let chosen = query(&fields(&matched, "main form"));
    let looked = get(address, &format!("/trials/import/1/preview?{chosen}"));
    fields(&looked, "form[action$=keep]")
}

fn trials(data: &Path) -> usize {
    let store = Store::open(data).expect("a sound file");
    let all: Result<Vec<Saved<Trial>>, StoreError> = store.read(|view| view.all());
    all.expect("read").len()
}

#[test]
fn the_power_goes_while_a_table_is_kept_and_all_of_its_rows_are_there_or_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let staged = folder.path().join("staged.linkwright");
    stage(&staged);
    assert_eq!(trials(&staged), 0, "nothing is kept before the last question");
    let copy = |name: &str| {
        let data = folder.path().join(format!("{name}.linkwright"));
        // Opened once since it was killed, the file is whole without its journal.
        std::fs::copy(&staged, &data).expect("copied");
        data
    };

    let whole = copy("whole");
    let program = Program::start(&whole);
    let form = last_form(&program.address);
    let started = Instant::now();
    let kept = post(&program.address, "/trials/import/1/keep", &form).expect("kept");
    let takes = started.elapsed();
    assert!(kept.starts_with("HTTP/1.1 303") && kept.contains("kept=5000"), "{kept}");
    program.kill();
    assert_eq!(trials(&whole), ROWS, "what was acknowledged is there after the power went");

    let mut none = 0;
    for (number, moment) in MOMENTS.into_iter().enumerate() {
        let data = copy(&format!("cut-{number}"));
        let program = Program::start(&data);
        let form = last_form(&program.address);
        let address = program.address.clone();
        let asking = thread::spawn(move || post(&address, "/trials/import/1/keep", &form));
        thread::sleep(takes.mul_f64(moment).max(Duration::from_millis(1)));
        program.kill();
        let acknowledged = asking.join().expect("asked").is_some();
        let there = trials(&data);
        assert!(there == ROWS || there == 0 && !acknowledged, "{there} rows at {moment}");
        none += usize::from(there == 0);
    }
    assert!(none > 0, "no power cut came in time; all took {takes:?}");
}
