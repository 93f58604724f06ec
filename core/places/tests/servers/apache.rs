//! Apache httpd with mod_dav, basic authentication and TLS.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::PathBuf;
use std::process::Command;

use places::{Secret, Settings};

use super::certificates::Certificates;
use super::{Scratch, Server};

/// The name and password that it takes.
pub const USER: &str = "anna";
pub const PASSWORD: &str = "correct horse 7ü";

/// Where Debian keeps what Apache loads.
const MODULES: &str = "/usr/lib/apache2/modules";

/// A server that shares a folder.
pub struct Apache {
    server: Server,
    pub certificates: Certificates,
    /// The folder that is shared as `/team`.
    pub shared: PathBuf,
    log: PathBuf,
    // Dropped last.
    _scratch: Scratch,
}

/// What a server is to be like.
pub struct Wish {
    /// The folder that it shares; one of its own where absent.
    pub shared: Option<PathBuf>,
    /// For so many days its certificate counts.
    pub days: i32,
    /// For what its certificate is.
    pub name: &'static str,
    /// Whether anybody may write.
    pub may_write: bool,
}

impl Default for Wish {
    fn default() -> Self {
        Self { shared: None, days: 2, name: "IP:127.0.0.1,DNS:localhost", may_write: true }
    }
}

impl Apache {
    /// A server at work.
    pub fn start(wish: Wish) -> Self {
        let scratch = Scratch::new();
        let root = scratch.0.clone();
        let certificates = Certificates::new(&root, wish.name, wish.days);
        let shared = wish.shared.unwrap_or_else(|| root.join("shared"));
        let locks = root.join("locks");
        for folder in [&shared, &locks] {
            fs::create_dir_all(folder).expect("a folder");
            // Where the superuser starts it, it works as somebody else.
            fs::set_permissions(folder, fs::Permissions::from_mode(0o777)).expect("open to all");
        }
        let made = Command::new("openssl").args(["passwd", "-apr1", PASSWORD]).output().expect("openssl");
        fs::write(root.join("users"), format!("{USER}:{}", String::from_utf8_lossy(&made.stdout))).expect("written");
        let (config, log) = (root.join("httpd.conf"), root.join("access.log"));
        let settings = |port: u16| {
            let mut modules = String::new();
            for name in [
                "mpm_event",
                "authn_core",
                "authn_file",
                "authz_core",
                "authz_user",
                "auth_basic",
                "alias",
                "dav",
                "dav_fs",
                "ssl",
            ] {
                modules.push_str(&format!("LoadModule {name}_module {MODULES}/mod_{name}.so\n"));
            }
            let at = root.display();
            format!(
                "ServerRoot {at}\nServerName localhost\nListen 127.0.0.1:{port}\nPidFile {at}/pid\nUser www-data\nGroup www-data\n\
                 {modules}\
                 DocumentRoot {at}/locks\nErrorLog {at}/error.log\nLogFormat \"%m %U %>s\" told\nCustomLog {at}/access.log told\n\
                 StartServers 1\nServerLimit 2\nThreadsPerChild 32\nMaxRequestWorkers 64\nMinSpareThreads 1\nMaxSpareThreads 64\n\
                 KeepAlive On\nMaxKeepAliveRequests 0\nEnableMMAP off\n\
                 DavLockDB {at}/locks/lock\nSSLEngine on\nSSLCertificateFile {}\nSSLCertificateKeyFile {}\nSSLSessionCache none\n\
                 Alias /team {}\n<Location /team>\nDav On\nAuthType Basic\nAuthName team\nAuthBasicProvider file\n\
                 AuthUserFile {at}/users\n{}</Location>\n",
                certificates.server.display(),
                certificates.key.display(),
                shared.display(),
                if wish.may_write {
                    "Require valid-user\n"
                } else {
                    "<Limit GET OPTIONS PROPFIND>\nRequire valid-user\n</Limit>\n\
                     <LimitExcept GET OPTIONS PROPFIND>\nRequire all denied\n</LimitExcept>\n"
                },
            )
        };
        let server = Server::start(&root.join("out.log"), |port| {
            fs::write(&config, settings(port)).expect("written");
            let mut command = Command::new("/usr/sbin/apache2");
            command.args(["-D", "FOREGROUND", "-f"]).arg(&config);
            command
        });
        Self { server, certificates, shared, log, _scratch: scratch }
    }

    /// What a device says to reach it.
    pub fn settings(&self) -> Settings {
        let mut settings = Settings::at(&format!("https://127.0.0.1:{}/team", self.server.port));
        settings.user = Some(USER.to_owned());
        settings.password = Some(Secret(PASSWORD.to_owned()));
        settings.ca = Some(self.certificates.ca.clone());
        settings
    }

    /// Its port.
    pub fn port(&self) -> u16 {
        self.server.port
    }

    /// Each request so far by its own log: method, path, status.
    pub fn requests(&self) -> Vec<String> {
        fs::read_to_string(&self.log).unwrap_or_default().lines().map(str::to_owned).collect()
    }
}
