//! What OpenDAL asks of a WebDAV drive with more requests than it takes: whether a folder is there, and making one.

use backon::{ExponentialBuilder, Retryable};
use exchange::layout::object_folders;
use futures::{StreamExt, TryStreamExt, stream};
use http::{HeaderValue, Method, Request, StatusCode, header};
use opendal::{Buffer, HttpTransporter};
use url::Url;

use crate::Fault;
use crate::remote::{FIRST_PAUSE, GROWTH, TRIES};

/// So many folders are made at once.
const AT_ONCE: usize = 8;

/// A WebDAV drive beside what OpenDAL knows of it.
pub(crate) struct Dav {
    transport: HttpTransporter,
    /// Its address without a slash at its end.
    base: String,
    login: Option<HeaderValue>,
}

impl Dav {
    pub fn new(transport: HttpTransporter, url: &Url, login: Option<HeaderValue>) -> Self {
        let base = url.as_str().trim_end_matches('/').to_owned();
        Self { transport, base, login }
    }

    /// Asks, and again after a fault that passes, with the pauses of everything else that is asked.
    async fn ask(&self, method: &str, folder: &str, depth: Option<&'static str>) -> Result<StatusCode, Fault> {
        let pauses = ExponentialBuilder::new().with_jitter().with_factor(GROWTH).with_min_delay(FIRST_PAUSE);
        let ask = || self.ask_once(method, folder, depth);
        ask.retry(pauses.with_max_times(TRIES)).when(Fault::passes).await
    }

    async fn ask_once(&self, method: &str, folder: &str, depth: Option<&'static str>) -> Result<StatusCode, Fault> {
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

    /// Makes a folder that is missing, and those above it. Of the folders for objects all are made at once, in one go with
    /// the founding of a team, so that no change has to wait for one later.
    ///
    /// # Errors
    /// It cannot be made.
    pub async fn make(&self, folder: &str) -> Result<(), Fault> {
        let mut above = String::new();
        for part in folder.split('/') {
            if !above.is_empty() {
                above.push('/');
            }
            above.push_str(part);
            self.make_one(&above).await?;
        }
        if object_folders().all(|other| other != folder) {
            return Ok(());
        }
        let made = stream::iter(object_folders().map(|other| async move { self.make_one(&other).await }));
        made.buffer_unordered(AT_ONCE).try_collect().await
    }

    /// Makes one folder within one that is there.
    async fn make_one(&self, folder: &str) -> Result<(), Fault> {
        let asked = match self.ask("MKCOL", folder, None).await {
            // Where two make it in the same moment, mod_dav refuses one of them as if nobody might write.
            Err(Fault::ReadOnly) => self.ask("MKCOL", folder, None).await,
            asked => asked,
        };
        match asked? {
            // Where it is there already, it is not allowed (RFC 4918, 9.3.1).
            StatusCode::CREATED | StatusCode::OK | StatusCode::METHOD_NOT_ALLOWED => Ok(()),
            // The folder above is missing.
            StatusCode::CONFLICT | StatusCode::NOT_FOUND => Err(Fault::NoFolder),
            _ => Err(Fault::OtherServer("WebDAV drive")),
        }
    }
}
