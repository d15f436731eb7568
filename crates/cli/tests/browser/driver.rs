//! The browser's driver, one for each test.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use thirtyfour::ChromeCapabilities;
use thirtyfour::prelude::*;

/// Settings a headless browser needs here: nothing that calls home, nothing kept.
const SETTINGS: &[&str] = &[
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    // Three dimensions without a graphics card.
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--hide-scrollbars",
];

/// Twice the size text has in a browser nobody has changed.
const LARGE_TEXT_PX: u32 = 32;

/// The running driver; it is ended when dropped.
pub struct Driver {
    child: Child,
    port: u16,
}

impl Driver {
    /// Starts the driver at a port it chooses.
    pub fn start() -> Driver {
        let mut child = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is installed; `cargo xtask test` says how");
        let stdout = child.stdout.take().expect("piped");
        let port = BufReader::new(stdout)
            .lines()
            .map_while(Result::ok)
            .find_map(|line| {
                line.split_once("successfully on port ")?.1.trim_end_matches('.').parse().ok()
            })
            .expect("the driver says its port");
        Driver { child, port }
    }

    /// A fresh browser.
    pub async fn browser(&self) -> WebDriver {
        self.open(DesiredCapabilities::chrome()).await
    }

    /// A fresh browser in whose settings text is twice as large as usual, and only text.
    pub async fn browser_with_large_text(&self) -> WebDriver {
        let mut wanted = DesiredCapabilities::chrome();
        let large = serde_json::json!({ "webkit.webprefs.default_font_size": LARGE_TEXT_PX });
        wanted.add_experimental_option("prefs", large).expect("a setting");
        self.open(wanted).await
    }

    /// A fresh browser that has no WebGL, as some old or guarded machines.
    pub async fn browser_without_webgl(&self) -> WebDriver {
        let mut wanted = DesiredCapabilities::chrome();
        wanted.add_arg("--disable-3d-apis").expect("a setting");
        self.open(wanted).await
    }

    async fn open(&self, mut wanted: ChromeCapabilities) -> WebDriver {
        for setting in SETTINGS {
            wanted.add_arg(setting).expect("a setting");
        }
        WebDriver::new(format!("http://127.0.0.1:{}", self.port), wanted)
            .await
            .expect("Chromium starts")
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // It may be gone already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
