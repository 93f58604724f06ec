//! How requests travel: with patience that ends, with answers that are bounded, and with what is the matter told at once.

use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll};
use std::time::Duration;

use futures::{FutureExt, Stream};
use http::{HeaderMap, Method, Request, Response, StatusCode, header};
use opendal::raw::{Operation, Timestamp};
use opendal::{Buffer, Error, ErrorKind, HttpBody, HttpTransport};
use opendal_http_transport_reqwest::ReqwestTransport;
use tokio::time::Sleep;

use crate::{Fault, client};

/// Whoever sends slower than this many bytes a second is taken to have stopped.
pub(crate) const SLOWEST: u64 = 8 << 10;
/// No listing and no error is longer, bytes; files are bounded by whoever reads them.
const MOST_TOLD: u64 = 64 << 20;

/// What the servers of a kind answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Speech {
    /// As RFC 4918 says.
    Dav,
    /// As the S3 API says, whose errors tell themselves in XML.
    Store,
}

/// The time by the server's clock when it answered last, seconds since 1970.
pub(crate) type ServerTime = Arc<Mutex<Option<i64>>>;

/// How requests travel.
pub(crate) struct Transport {
    pub inner: ReqwestTransport,
    pub patience: Duration,
    pub speech: Speech,
    pub server_time: ServerTime,
}

impl HttpTransport for Transport {
    async fn fetch(&self, request: Request<Buffer>) -> opendal::Result<Response<HttpBody>> {
        let (method, length) = (request.method().clone(), request.body().len() as u64);
        let later =
            request.headers().get(header::RANGE).is_some_and(|range| !range.as_bytes().starts_with(b"bytes=0-"));
        let of_a_file = request.extensions().get::<Operation>() == Some(&Operation::Read);
        let patience = self.patience + Duration::from_secs(length / SLOWEST);
        let slow = || Fault::Slow(patience.as_secs()).carried();
        let answered = tokio::time::timeout(patience, self.inner.fetch(request)).await.map_err(|_| slow())?;
        let response = answered.map_err(|error| client::unsent(&error, patience.as_secs()).carried())?;
        self.keep_time(response.headers());
        let status = response.status();
        if let Some(error) = self.matter(&method, status, response.headers(), length) {
            return Err(error);
        }
        if later && status == StatusCode::OK {
            return Err(Fault::NoParts.carried());
        }
        let most = if of_a_file && status.is_success() { u64::MAX } else { MOST_TOLD };
        Ok(response.map(|body| body.map_inner(|inner| Box::new(Patient::new(inner, self.patience, most)))))
    }
}

impl Transport {
    fn keep_time(&self, headers: &HeaderMap) {
        let date = headers.get(header::DATE).and_then(|date| date.to_str().ok());
        if let Some(date) = date.and_then(|date| Timestamp::parse_rfc2822(date).ok()) {
            *self.server_time.lock().unwrap_or_else(PoisonError::into_inner) = Some(date.into_inner().as_second());
        }
    }

    /// What an answer says is the matter; `None` where it is for OpenDAL to read.
    fn matter(&self, method: &Method, status: StatusCode, headers: &HeaderMap, length: u64) -> Option<Error> {
        let method = method.as_str();
        let writes = matches!(method, "PUT" | "DELETE" | "MKCOL" | "POST");
        let dav = self.speech == Speech::Dav;
        let fault = match status.as_u16() {
            416 => return Some(Error::new(ErrorKind::RangeNotSatisfied, "it begins behind the end")),
            // The folder above is not there (RFC 4918, 9.7.1).
            409 if dav && method == "PUT" => return Some(Error::new(ErrorKind::NotFound, "there is no such folder")),
            200 if dav && method == "PROPFIND" => Fault::OtherServer("WebDAV drive"),
            401 if dav => Fault::Password,
            403 if dav && writes => Fault::ReadOnly,
            403 if dav => Fault::Forbidden,
            405 if dav && matches!(method, "PUT" | "DELETE") => Fault::ReadOnly,
            405 | 501 if dav && method == "PROPFIND" => Fault::OtherServer("WebDAV drive"),
            407 => Fault::ProxyPassword,
            413 => Fault::TooLarge(length),
            423 => Fault::Locked,
            429 | 503 => Fault::Busy(status.as_u16()),
            507 => Fault::Full,
            301 | 302 | 303 | 307 | 308 => {
                let text = |name: &str| headers.get(name).and_then(|text| text.to_str().ok());
                match (text("location"), dav) {
                    // What follows a question mark may be a secret.
                    (Some(to), _) => Fault::Moved(to.split(['?', '#']).next().unwrap_or_default().to_owned()),
                    (None, true) => Fault::Moved("another address".to_owned()),
                    // So an object store answers who asks in another region than the bucket's.
                    (None, false) => Fault::Region(text("x-amz-bucket-region").map(str::to_owned)),
                }
            }
            code @ 500.. => Fault::Server(code),
            _ => return None,
        };
        Some(fault.carried())
    }
}

/// What HTTP answers come as.
type Chunks = Box<dyn Stream<Item = opendal::Result<Buffer>> + Send + Sync + Unpin + 'static>;

/// An answer that must go on arriving, and must end.
struct Patient {
    chunks: Chunks,
    patience: Duration,
    timer: Pin<Box<Sleep>>,
    left: u64,
}

impl Patient {
    fn new(chunks: Chunks, patience: Duration, most: u64) -> Self {
        Self { chunks, patience, timer: Box::pin(tokio::time::sleep(patience)), left: most }
    }
}

impl Stream for Patient {
    type Item = opendal::Result<Buffer>;

    fn poll_next(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        let this = &mut *self;
        match Pin::new(&mut this.chunks).poll_next(context) {
            Poll::Ready(Some(Ok(chunk))) => {
                let Some(left) = this.left.checked_sub(chunk.len() as u64) else {
                    return Poll::Ready(Some(Err(
                        Fault::OtherServer("server of this kind: it tells without end").carried()
                    )));
                };
                this.left = left;
                let next = tokio::time::Instant::now() + this.patience;
                this.timer.as_mut().reset(next);
                Poll::Ready(Some(Ok(chunk)))
            }
            Poll::Ready(other) => Poll::Ready(other),
            Poll::Pending => match this.timer.poll_unpin(context) {
                Poll::Ready(()) => Poll::Ready(Some(Err(Fault::Slow(this.patience.as_secs()).carried()))),
                Poll::Pending => Poll::Pending,
            },
        }
    }
}
