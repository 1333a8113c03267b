//! `coatwright serve` and `coatwright demo`: the shop in the browser.

use std::io::{IsTerminal, Write};
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

use clap::Args;
use jiff::{SignedDuration, Timestamp};
use shop::plan::Effort;
use store::Store;
use tokio::net::TcpListener;
use web::qr::Qr;
use web::{App, Clock, Pairing};

use crate::commands::furnish;
use crate::outcome::Outcome;

/// What `demo` is given.
#[derive(Debug, Args)]
pub struct DemoArguments {
    /// The port to listen on; 0 takes any that is free
    #[arg(long, default_value_t = 0)]
    pub port: u16,
    /// Do not open the browser
    #[arg(long)]
    pub no_open: bool,
}

/// What `serve` is given.
#[derive(Debug, Args)]
pub struct ServeArguments {
    /// The shop's folder; made where it is not there yet
    #[arg(long, value_name = "DIR", default_value = "my-shop")]
    pub shop: PathBuf,
    /// The port to listen on; 0 takes any that is free
    #[arg(long, default_value_t = 4180)]
    pub port: u16,
    /// Do not open the browser
    #[arg(long)]
    pub no_open: bool,
    /// Let phones on the same network in, each paired once
    #[arg(long)]
    pub lan: bool,
}

/// How the pages are served.
struct Serving {
    port: u16,
    opens_browser: bool,
    reach: Reach,
    effort: Effort,
}

/// From where the pages can be reached.
#[derive(PartialEq, Eq)]
enum Reach {
    ThisMachine,
    Network,
}

/// Serves the furnished example shop from a folder that is thrown away at the end.
pub fn demo(arguments: &DemoArguments, out: &mut dyn Write, effort: Effort) -> Outcome {
    let folder = match tempfile::Builder::new().prefix("coatwright-demo-").tempdir() {
        Ok(folder) => folder,
        Err(error) => return Outcome::refused(format!("No folder for the demo could be made: {error}\n")),
    };
    let (shop, first, moment) = match furnish::example() {
        Ok(furnished) => furnished,
        Err(reason) => return Outcome::refused(reason),
    };
    let store = match Store::open(folder.path()).and_then(|store| store.save(&shop).map(|()| store)) {
        Ok(store) => store,
        Err(error) => return Outcome::refused(format!("The demo's shop could not be written: {error}\n")),
    };
    let serving = Serving {
        port: arguments.port,
        opens_browser: !arguments.no_open,
        reach: Reach::ThisMachine,
        effort,
    };
    let opening: web::Opening = Box::new(move |shop| furnish::work_until(shop, first, moment));
    serve_store(store, running_from(moment), Some(opening), &serving, out)
}

/// Serves the shop of a folder.
pub fn serve(arguments: &ServeArguments, out: &mut dyn Write, effort: Effort) -> Outcome {
    let store = match open_shop(&arguments.shop) {
        Ok(store) => store,
        Err(reason) => return Outcome::refused(reason),
    };
    let serving = Serving {
        port: arguments.port,
        opens_browser: !arguments.no_open,
        reach: if arguments.lan {
            Reach::Network
        } else {
            Reach::ThisMachine
        },
        effort,
    };
    serve_store(store, Arc::new(Timestamp::now), None, &serving, out)
}

/// Opens a shop's folder; a new one takes its clock from this machine.
fn open_shop(folder: &Path) -> Result<Store, String> {
    let wrong = |error: store::StoreError| format!("{}: the shop could not be opened: {error}\n", folder.display());
    let store = Store::open(folder).map_err(wrong)?;
    if store.is_new().map_err(wrong)? {
        let mut settings = shop::model::Settings::default();
        if let Some(zone) = jiff::tz::TimeZone::system().iana_name() {
            settings.zone_id = zone.to_owned();
        }
        store.save_settings(&settings).map_err(wrong)?;
    }
    Ok(store)
}

/// A clock that shows `moment` now and runs on from there.
fn running_from(moment: Timestamp) -> Clock {
    let began = Instant::now();
    Arc::new(move || {
        let passed = SignedDuration::try_from(began.elapsed()).unwrap_or(SignedDuration::ZERO);
        moment.checked_add(passed).unwrap_or(moment)
    })
}

fn serve_store(
    store: Store,
    clock: Clock,
    opening: Option<web::Opening>,
    serving: &Serving,
    out: &mut dyn Write,
) -> Outcome {
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime,
        Err(error) => return Outcome::refused(format!("The program could not start its threads: {error}\n")),
    };
    match runtime.block_on(run(store, clock, opening, serving, out)) {
        Ok(()) => Outcome::answered(""),
        Err(reason) => Outcome::refused(reason),
    }
}

async fn run(
    store: Store,
    clock: Clock,
    opening: Option<web::Opening>,
    serving: &Serving,
    out: &mut dyn Write,
) -> Result<(), String> {
    let on_network = serving.reach == Reach::Network;
    let host = if on_network {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    let listener = TcpListener::bind(SocketAddr::new(IpAddr::V4(host), serving.port)).await.map_err(|error| {
        format!(
            "Port {} could not be opened: {error}\n    limit: one program at a time listens on a port\n    right: --port 0 takes any that is free\n",
            serving.port
        )
    })?;
    let port = listener
        .local_addr()
        .map_err(|error| format!("The port could not be read back: {error}\n"))?
        .port();
    let address = format!("http://127.0.0.1:{port}/");
    let pairing = if on_network { Some(pairing(port)?) } else { None };
    let said = say(out, &address, pairing.as_ref());
    said.map_err(|error| format!("The address could not be printed: {error}\n"))?;
    let app = match opening {
        Some(opening) => App::furnished(store, clock, serving.effort, opening),
        None => App::with_pairing(store, clock, serving.effort, pairing),
    };
    let app = app.map_err(|error| format!("The shop could not be read: {error}\n"))?;
    let warm = app.clone();
    tokio::spawn(async move { warm.warm_up().await });
    if serving.opens_browser {
        open_browser(&address);
    }
    axum::serve(
        listener,
        web::router(app).into_make_service_with_connect_info::<SocketAddr>(),
    )
    .with_graceful_shutdown(asked_to_stop())
    .await
    .map_err(|error| format!("The pages stopped: {error}\n"))
}

fn say(out: &mut dyn Write, address: &str, pairing: Option<&Pairing>) -> std::io::Result<()> {
    writeln!(out, "{address}")?;
    if let Some(next) = pairing.and_then(Pairing::next_address) {
        writeln!(out, "A phone on the same network opens this once: {next}")?;
        if let Some(qr) = Qr::of(&next) {
            // Colours are for a screen; a file or a pipe gets the letters alone.
            let letters = if std::io::stdout().is_terminal() {
                qr.coloured()
            } else {
                qr.letters()
            };
            write!(out, "{letters}")?;
        }
        writeln!(out, "The Shop page shows the address for the next phone.")?;
    }
    writeln!(out, "Ctrl-C ends it.")?;
    out.flush()
}

/// So many phones can be paired until the program is started again.
const PHONES: usize = 16;

/// Words nobody guesses, from the system's own source of chance.
fn pairing(port: u16) -> Result<Pairing, String> {
    let word = || {
        let mut bytes = [0_u8; 16];
        getrandom::fill(&mut bytes).map_err(|error| format!("No word for pairing could be drawn: {error}\n"))?;
        Ok::<String, String>(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
    };
    let host = own_address().map_or_else(|| "this-machine".to_owned(), |ip| ip.to_string());
    Ok(Pairing {
        address: format!("http://{host}:{port}"),
        invitations: (0..PHONES).map(|_| word()).collect::<Result<_, _>>()?,
        pass: word()?,
    })
}

/// This machine's address on its network: the one a packet out would leave by. Nothing is sent.
fn own_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    socket.local_addr().ok().map(|address| address.ip())
}

/// Opens the browser where there is one; who has none sees the address on the screen.
fn open_browser(address: &str) {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(target_os = "windows") {
        ("cmd", &["/c", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let quiet = std::process::Stdio::null;
    let opened = std::process::Command::new(program)
        .args(before)
        .arg(address)
        .stdout(quiet())
        .stderr(quiet())
        .spawn();
    if let Err(error) = opened {
        tracing::info!(%error, "no browser was opened");
    }
}

/// Waits for Ctrl-C or, where there is such a thing, a request to end.
async fn asked_to_stop() {
    let interrupt = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let ended = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let ended = std::future::pending::<()>();
    tokio::select! {
        () = interrupt => {}
        () = ended => {}
    }
}
