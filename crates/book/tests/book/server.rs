//! A PostgreSQL of the tests' own: made, started, stopped and thrown away here.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// A server that listens on a socket in its own folder only.
pub(crate) struct Server {
    folder: TempDir,
    programs: PathBuf,
}

fn programs() -> Option<PathBuf> {
    let mut found: Vec<PathBuf> = std::fs::read_dir("/usr/lib/postgresql")
        .ok()?
        .flatten()
        .map(|version| version.path().join("bin"))
        .filter(|bin| bin.join("initdb").is_file() && bin.join("pg_ctl").is_file())
        .collect();
    found.sort();
    found.pop()
}

fn is_root() -> bool {
    Command::new("id").arg("-u").output().is_ok_and(|o| o.stdout == b"0\n")
}

impl Server {
    /// Starts one. `None`, and loud about it, when there are no server programs.
    pub(crate) fn start(settings: &str) -> Option<Server> {
        let Some(programs) = programs() else {
            eprintln!(
                "\nNOT RUN: there is no PostgreSQL server in /usr/lib/postgresql (Debian package postgresql); nothing about PostgreSQL was tested\n"
            );
            return None;
        };
        let folder = tempfile::Builder::new().prefix("pinchbar-pg").tempdir().expect("a folder");
        let server = Server { folder, programs };
        if is_root() {
            let chown = Command::new("chown").arg("postgres").arg(server.folder.path()).status();
            assert!(chown.is_ok_and(|s| s.success()), "the server does not run as root");
        }
        let data = server.data();
        server.run(
            "initdb",
            &["-D", &data, "-A", "trust", "-U", "postgres", "-N", "-E", "UTF8", "--locale=C.UTF-8"],
        );
        let own = std::fs::read_to_string(format!("{data}/postgresql.conf")).expect("settings");
        let dir = server.folder.path().display();
        let text = format!(
            "{own}\nlisten_addresses = ''\nunix_socket_directories = '{dir}'\nmax_connections = 60\n{settings}\n"
        );
        std::fs::write(format!("{data}/postgresql.conf"), text).expect("settings");
        server.up();
        Some(server)
    }

    fn data(&self) -> String {
        self.folder.path().join("data").display().to_string()
    }

    fn run(&self, program: &str, args: &[&str]) {
        let path = self.programs.join(program);
        let mut command = if is_root() {
            let mut command = Command::new("runuser");
            command.args(["-u", "postgres", "--"]).arg(path);
            command
        } else {
            Command::new(path)
        };
        command.args(args).current_dir("/").stdout(Stdio::null()).stderr(Stdio::null());
        let status = command.status().expect("the server's programs run");
        assert!(status.success(), "{program} {args:?}: {status}");
    }

    pub(crate) fn up(&self) {
        let log = self.folder.path().join("log").display().to_string();
        self.run("pg_ctl", &["-D", &self.data(), "-l", &log, "-w", "start"]);
    }

    /// Stops at once, as a power cut of the server would, or gently.
    pub(crate) fn down(&self, how: &str) {
        self.run("pg_ctl", &["-D", &self.data(), "-m", how, "-w", "stop"]);
    }

    pub(crate) fn address(&self) -> String {
        format!("host={} user=postgres dbname=postgres", self.folder.path().display())
    }

    fn folder(&self) -> &Path {
        self.folder.path()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        if self.folder().join("data/postmaster.pid").exists() {
            self.down("immediate");
        }
    }
}
