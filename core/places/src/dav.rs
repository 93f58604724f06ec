//! What OpenDAL asks of a WebDAV drive with more requests than it takes: whether a folder is there, and making one.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use futures::future::BoxFuture;
use http::{HeaderValue, Method, Request, StatusCode, header};
use opendal::{Buffer, HttpTransporter};
use url::Url;

use crate::Fault;

/// A WebDAV drive beside what OpenDAL knows of it.
pub(crate) struct Dav {
    transport: HttpTransporter,
    /// Its address without a slash at its end.
    base: String,
    login: Option<HeaderValue>,
    /// Folders that are known to be there.
    known: Mutex<BTreeSet<String>>,
}

impl Dav {
    pub fn new(transport: HttpTransporter, url: &Url, login: Option<HeaderValue>) -> Self {
        let base = url.as_str().trim_end_matches('/').to_owned();
        Self { transport, base, login, known: Mutex::new(BTreeSet::new()) }
    }

    async fn ask(&self, method: &str, folder: &str, depth: Option<&'static str>) -> Result<StatusCode, Fault> {
        let broken = |why: &dyn std::fmt::Display| Fault::Away(why.to_string());
        let method = Method::from_bytes(method.as_bytes()).map_err(|why| broken(&why))?;
        let mut request = Request::builder().method(method).uri(format!("{}/{folder}", self.base));
        if let Some(login) = &self.login {
            request = request.header(header::AUTHORIZATION, login);
        }
        if let Some(depth) = depth {
            request = request.header("Depth", depth);
        }
        let request = request.body(Buffer::new()).map_err(|why| broken(&why))?;
        match self.transport.send(request).await {
            Ok(answer) => Ok(answer.status()),
            Err(error) => Err(Fault::of(&error)),
        }
    }

    /// Whether the drive's own folder is there.
    ///
    /// # Errors
    /// It is not, or it is none of a WebDAV drive.
    pub async fn look(&self) -> Result<(), Fault> {
        match self.ask("PROPFIND", "", Some("0")).await? {
            StatusCode::MULTI_STATUS => Ok(()),
            StatusCode::NOT_FOUND | StatusCode::GONE => Err(Fault::NoFolder),
            _ => Err(Fault::OtherServer("WebDAV drive")),
        }
    }

    /// Remembers that a folder is there.
    pub fn know(&self, folder: &str) {
        self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(folder.to_owned());
    }

    /// Forgets every folder, since one of them is there no longer.
    pub fn forget(&self) {
        self.known.lock().unwrap_or_else(PoisonError::into_inner).clear();
    }

    /// Makes a folder and those above it, where they are not known to be there. A folder costs one request once, whether it
    /// is there or not.
    ///
    /// # Errors
    /// It cannot be made.
    pub fn make<'a>(&'a self, folder: &'a str) -> BoxFuture<'a, Result<(), Fault>> {
        Box::pin(async move {
            if folder.is_empty() || self.known.lock().unwrap_or_else(PoisonError::into_inner).contains(folder) {
                return Ok(());
            }
            let mut status = self.ask("MKCOL", folder, None).await?;
            // The folder above is missing (RFC 4918, 9.3.1).
            if status == StatusCode::CONFLICT || status == StatusCode::NOT_FOUND {
                match folder.rsplit_once('/') {
                    Some((above, _)) => self.make(above).await?,
                    None => {
                        self.look().await?;
                        return Err(Fault::NoFolder);
                    }
                }
                status = self.ask("MKCOL", folder, None).await?;
            }
            match status {
                // Where it is there already, it is not allowed.
                StatusCode::CREATED | StatusCode::OK | StatusCode::METHOD_NOT_ALLOWED => {
                    self.know(folder);
                    Ok(())
                }
                StatusCode::CONFLICT | StatusCode::NOT_FOUND => Err(Fault::NoFolder),
                _ => Err(Fault::OtherServer("WebDAV drive")),
            }
        })
    }
}
