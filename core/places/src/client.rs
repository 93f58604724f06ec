//! The HTTP client: TLS with this machine's authorities and perhaps one of the office's own, and a proxy.

use std::path::Path;
use std::sync::Arc;

use reqwest::redirect::Policy;
use reqwest::{Client, Proxy};
use rustls::pki_types::CertificateDer;
use rustls::pki_types::pem::PemObject;
use rustls::{CertificateError, ClientConfig};
use rustls_platform_verifier::Verifier;

use crate::{Fault, Settings};

/// The client of a place.
pub(crate) fn client(settings: &Settings) -> Result<Client, Fault> {
    let broken =
        |why: &dyn std::fmt::Display| Fault::Setting { what: "the network of this machine", why: why.to_string() };
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let extra = settings.ca.as_deref().map(certificates).transpose()?.unwrap_or_default();
    let own = settings.ca.clone();
    let verifier = Verifier::new_with_extra_roots(extra, Arc::clone(&provider)).map_err(|why| match own {
        Some(path) => Fault::CaFile { path, why: why.to_string() },
        None => broken(&why),
    })?;
    let tls = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map_err(|why| broken(&why))?
        .dangerous()
        .with_custom_certificate_verifier(Arc::new(verifier))
        .with_no_client_auth();
    let mut builder = Client::builder()
        .tls_backend_preconfigured(tls)
        .user_agent(concat!("newel/", env!("CARGO_PKG_VERSION")))
        // A file that was put elsewhere would be lost, and whoever sends on would see what is sent.
        .redirect(Policy::none())
        .connect_timeout(settings.patience);
    if let Some(proxy) = &settings.proxy {
        let proxy = Proxy::all(proxy.0.trim()).map_err(|_| Fault::Setting {
            what: "the proxy",
            why: "it is no address; write it as http://host:port".to_owned(),
        })?;
        builder = builder.proxy(proxy);
    }
    builder.build().map_err(|why| broken(&why))
}

fn certificates(path: &Path) -> Result<Vec<CertificateDer<'static>>, Fault> {
    let wrong = |why: String| Fault::CaFile { path: path.to_owned(), why };
    let bytes = std::fs::read(path).map_err(|why| wrong(why.to_string()))?;
    let read: Result<Vec<_>, _> = CertificateDer::pem_slice_iter(&bytes).collect();
    let found = read.map_err(|why| wrong(format!("{why:?}")))?;
    if found.is_empty() { Err(wrong("it holds none".to_owned())) } else { Ok(found) }
}

/// Why a request did not get through.
pub(crate) fn unsent(error: &opendal::Error, patience_s: u64) -> Fault {
    let mut cause: Option<&(dyn std::error::Error + 'static)> = Some(error);
    let (mut text, mut last) = (String::new(), String::new());
    while let Some(found) = cause {
        if let Some(tls) = found.downcast_ref::<rustls::Error>() {
            return refused(tls);
        }
        if let Some(sent) = found.downcast_ref::<reqwest::Error>()
            && sent.is_timeout()
        {
            return Fault::Slow(patience_s);
        }
        last = found.to_string();
        text.push_str(&last);
        // An error of input or output tells what it holds in its own way alone.
        let held = found.downcast_ref::<std::io::Error>().and_then(std::io::Error::get_ref);
        cause = match held {
            Some(held) => Some(held),
            None => found.source(),
        };
    }
    if text.contains("dns error") {
        Fault::Name
    } else if text.contains("proxy authorization required") || text.contains("proxy authentication required") {
        Fault::ProxyPassword
    } else {
        Fault::Away(last)
    }
}

/// What TLS says, with what to do about it.
fn refused(error: &rustls::Error) -> Fault {
    let rustls::Error::InvalidCertificate(why) = error else {
        return match error {
            rustls::Error::InvalidMessage(_) | rustls::Error::PeerIncompatible(_) => Fault::NoTls,
            other => Fault::Away(other.to_string()),
        };
    };
    let said = match why {
        CertificateError::UnknownIssuer => {
            "nobody that this machine knows has issued it; ask whoever runs it for the certificate of their authority, and \
             give its file"
        }
        CertificateError::Expired | CertificateError::ExpiredContext { .. } => {
            "it has run out, unless this device's clock is ahead; look at the clock, then tell whoever runs it"
        }
        CertificateError::NotValidYet | CertificateError::NotValidYetContext { .. } => {
            "it counts only from later on, unless this device's clock is behind; look at the clock, then tell whoever runs it"
        }
        CertificateError::NotValidForName | CertificateError::NotValidForNameContext { .. } => {
            "it is for another name; check the address, since somebody may be in between"
        }
        CertificateError::Revoked => "it was revoked; do not go on, and tell whoever runs it",
        _ => "it is not in order; tell whoever runs it",
    };
    Fault::Certificate(said.to_owned())
}
