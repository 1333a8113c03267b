//! `serve --lan` as it runs: what it prints, and the one-time address asked for over HTTP by two clients one after the other.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};

/// The program while it serves; it is ended with the test.
struct Serving {
    child: Child,
    port: u16,
    word: String,
    letters: Vec<String>,
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Serving {
    fn begin(folder: &std::path::Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_coatwright"))
            .args(["serve", "--lan", "--port", "0", "--no-open", "--shop"])
            .arg(folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
        let said: Vec<String> = lines.take_while(|line| !line.starts_with("Ctrl-C")).collect();
        let port = said[0]
            .trim_end_matches('/')
            .rsplit_once(':')
            .unwrap()
            .1
            .parse()
            .unwrap();
        let word = said[1].rsplit_once("/pair/").unwrap().1.to_owned();
        let letters = said[2..]
            .iter()
            .filter(|line| !line.contains("Shop page"))
            .cloned()
            .collect();
        Serving {
            child,
            port,
            word,
            letters,
        }
    }

    /// Asks as a client of its own and returns the whole answer.
    fn get(&self, path: &str) -> String {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\r\n",
            self.port
        )
        .unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        String::from_utf8_lossy(&answer).into_owned()
    }
}

#[test]
fn the_one_time_address_lets_one_client_in_and_no_second() {
    let folder = tempfile::tempdir().unwrap();
    let serving = Serving::begin(folder.path());
    assert_eq!(serving.word.len(), 32, "128 bits of chance");
    let widths: Vec<usize> = serving.letters.iter().map(|line| line.chars().count()).collect();
    assert!(
        widths.len() > 15 && widths.windows(2).all(|pair| pair[0] == pair[1]),
        "a square of letters: {widths:?}"
    );

    let wrong = serving.get(&format!("/pair/{}", "0".repeat(32)));
    assert!(
        wrong.starts_with("HTTP/1.1 404") && !wrong.contains("set-cookie"),
        "{wrong}"
    );
    let right = serving.get(&format!("/pair/{}", serving.word));
    assert!(
        right.starts_with("HTTP/1.1 303") && right.contains("set-cookie: paired="),
        "{right}"
    );
    let used_up = serving.get(&format!("/pair/{}", serving.word));
    assert!(
        used_up.starts_with("HTTP/1.1 404") && !used_up.contains("set-cookie"),
        "{used_up}"
    );
    let shop = serving.get("/shop");
    assert!(
        shop.contains("/pair/") && !shop.contains(&serving.word),
        "the page shows the next one"
    );
}
