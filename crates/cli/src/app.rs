//! Starting the workshop app: open the data file, serve this computer, stop when told.

use std::io::{self, Write};
use std::net::{Ipv4Addr, SocketAddr};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use linkwright_store::Store;
use linkwright_web::{App, Clock};
use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tracing_subscriber::EnvFilter;

use crate::data_file::DataFile;
use crate::failure::Failure;

/// Tried first, so that a kept bookmark mostly still works.
const PORT_PREFERRED: u16 = 8417;

/// How many ports after the preferred one are tried before any free one is taken.
const PORTS_TRIED: u16 = 20;

/// The day turns at most so long before its backup is made.
const BETWEEN_LOOKS_AT_THE_DAY: Duration = Duration::from_secs(60 * 60);

/// How long the end waits for what is still under way.
const LETTING_GO: Duration = Duration::from_secs(2);

/// How the app is started.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(flatten)]
    data: DataFile,

    /// Port of this computer to serve at; 0 takes any free one.
    ///
    /// Left out: 8417, or the next free one.
    #[arg(long, value_name = "NUMBER")]
    port: Option<u16>,

    /// Do not open the browser.
    #[arg(long)]
    no_browser: bool,
}

impl Args {
    /// Whether any of it was typed.
    pub fn is_given(&self) -> bool {
        self.data.is_given() || self.port.is_some() || self.no_browser
    }
}

/// Opens the data file and serves it until Ctrl-C or the end of the session.
pub fn run(args: &Args) -> Result<(), Failure> {
    tracing_subscriber::fmt()
        .with_env_filter(EnvFilter::new("warn"))
        .with_writer(io::stderr)
        .init();
    let path = args.data.path()?;
    let store = Store::open(&path)?;
    // The zone must be read before other threads are started.
    let clock = Clock::of_this_computer();
    let app = App::new(store, clock).map_err(Failure::Store)?;
    let runtime = Runtime::new()?;
    let outcome = runtime.block_on(async {
        let listener = listen(args.port).await?;
        let address = format!("http://{}/", listener.local_addr()?);
        let stopped = stop_signal()?;
        say_where(&address, &path)?;
        if !args.no_browser {
            open_in_browser(&address);
        }
        let daily = tokio::spawn(back_up_every_day(app.clone()));
        linkwright_web::serve(app, listener, stopped).await?;
        daily.abort();
        Ok::<(), Failure>(())
    });
    // What is still connected lets go of the data file, which is then everything, without a log
    // beside it; but a request that hangs must not keep the program from ending.
    runtime.shutdown_timeout(LETTING_GO);
    outcome?;
    writeln!(io::stdout(), "Stopped. Everything that was saved is in the data file.")?;
    Ok(())
}

/// Beside the work, so that a large file keeps nobody waiting; a program left open for days makes
/// its backups all the same.
async fn back_up_every_day(app: App) {
    loop {
        let app = app.clone();
        let made = tokio::task::spawn_blocking(move || back_up_today(app.store(), app.clock()));
        if made.await.is_err() {
            return;
        }
        tokio::time::sleep(BETWEEN_LOOKS_AT_THE_DAY).await;
    }
}

/// Makes the backup of today unless it is there. Without one, work can go on: it is said, no more.
fn back_up_today(store: &Store, clock: &Clock) {
    if let Err(error) = store.back_up_daily(clock.today()) {
        // Nothing is left to tell if the terminal itself is gone.
        drop(writeln!(io::stderr(), "linkwright: no backup of today could be made: {error}"));
    }
}

fn say_where(address: &str, data: &Path) -> Result<(), Failure> {
    let data = std::path::absolute(data).unwrap_or_else(|_| data.to_owned());
    let mut out = io::stdout().lock();
    writeln!(out, "The workshop is open at {address}")?;
    writeln!(out, "Its data file is {}", data.display())?;
    writeln!(out, "Only this computer can see it. Stop it with Ctrl-C.")?;
    out.flush()?;
    Ok(())
}

/// The named port, or the preferred one, or one after it, or any.
async fn listen(named: Option<u16>) -> Result<TcpListener, Failure> {
    let at = |port| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    if let Some(port) = named {
        return at(port).await.map_err(|source| Failure::Port { port, source });
    }
    for port in PORT_PREFERRED..PORT_PREFERRED + PORTS_TRIED {
        if let Ok(listener) = at(port).await {
            return Ok(listener);
        }
    }
    at(0).await.map_err(|source| Failure::Port { port: 0, source })
}

/// Done at Ctrl-C, or where the system asks the program to end.
fn stop_signal() -> io::Result<impl Future<Output = ()> + Send + 'static> {
    #[cfg(unix)]
    let mut asked_to_end =
        tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate())?;
    Ok(async move {
        #[cfg(unix)]
        tokio::select! {
            _ = tokio::signal::ctrl_c() => {}
            _ = asked_to_end.recv() => {}
        }
        #[cfg(not(unix))]
        let _ = tokio::signal::ctrl_c().await;
    })
}

/// Asks the system to show the address; if it cannot, the address printed above still stands.
fn open_in_browser(address: &str) {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/C", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let started = Command::new(program)
        .args(before)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if let Ok(mut child) = started {
        // Waited for on the side, so that it leaves no trace once it has done its work.
        thread::spawn(move || child.wait());
    }
}
