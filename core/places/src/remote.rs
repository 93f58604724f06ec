//! A place on another machine, through OpenDAL.

use std::future::Future;
use std::sync::{Arc, PoisonError, mpsc};
use std::time::Duration;

use exchange::place::{Entry, Place, PlaceError, Span, is_proper};
use futures::StreamExt;
use http::HeaderValue;
use opendal::layers::RetryLayer;
use opendal::services::{S3, Webdav};
use opendal::{ErrorKind, HttpTransporter, Operator};
use opendal_http_transport_reqwest::ReqwestTransport;
use tokio::runtime::Runtime;
use url::Url;

use crate::dav::Dav;
use crate::settings::Kind;
use crate::transport::{ServerTime, Speech, Transport};
use crate::{Fault, Settings, Stop, client};

/// So often a request is tried again after a fault that passes, with pauses that grow threefold and differ by chance.
pub(crate) const TRIES: usize = 3;
/// The first of those pauses.
pub(crate) const FIRST_PAUSE: Duration = Duration::from_millis(200);
/// How many times as long each is as the one before.
pub(crate) const GROWTH: f32 = 3.0;
/// No folder of a team has so many files: each of its folders for objects has a 256th of them all.
const MOST_ENTRIES: usize = 1 << 18;

/// A drive on the web or an object store.
pub(crate) struct Remote {
    store: Arc<Store>,
    /// None once it is dropped.
    runtime: Option<Runtime>,
    stop: Stop,
}

/// What its requests share.
struct Store {
    operator: Operator,
    dav: Option<Dav>,
    /// Its address, for people.
    address: String,
    server_time: ServerTime,
}

impl Remote {
    /// A WebDAV drive or an object store; nothing is asked of it yet. `stop` ends all waiting for it.
    ///
    /// # Errors
    /// A setting cannot be used.
    pub fn new(settings: &Settings, kind: &Kind, stop: &Stop) -> Result<Self, Fault> {
        let server_time = ServerTime::default();
        let speech = if matches!(kind, Kind::Dav(_)) { Speech::Dav } else { Speech::Store };
        let transport = HttpTransporter::new(Transport {
            inner: ReqwestTransport::new(client::client(settings)?),
            patience: settings.patience,
            speech,
            server_time: Arc::clone(&server_time),
        });
        let (operator, dav) = match kind {
            Kind::Dav(url) => {
                let login = settings.user.as_deref().map(|user| login(user, password(settings))).transpose()?;
                (dav_operator(settings, url)?, Some(Dav::new(transport.clone(), url, login)))
            }
            Kind::Store { bucket, prefix, server } => (store_operator(settings, bucket, prefix, server)?, None),
            Kind::Folder(path) => {
                let why = format!("{} is a folder of this machine", path.display());
                return Err(Fault::Setting { what: "the address", why });
            }
        };
        let context = operator.context().clone().with_http_transport(transport);
        let retry =
            RetryLayer::new().with_jitter().with_factor(GROWTH).with_min_delay(FIRST_PAUSE).with_max_times(TRIES);
        let operator = operator.with_context(context).layer(retry);
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(2).thread_name("place").enable_all().build();
        let runtime =
            runtime.map_err(|why| Fault::Setting { what: "the network of this machine", why: why.to_string() })?;
        let address = settings.address.trim().trim_end_matches('/').to_owned();
        let store = Arc::new(Store { operator, dav, address, server_time });
        Ok(Self { store, runtime: Some(runtime), stop: stop.clone() })
    }

    /// The server's time when it answered last, seconds since 1970.
    pub fn server_time(&self) -> Option<i64> {
        *self.store.server_time.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether the place is there, and the names of files and folders directly in it.
    ///
    /// # Errors
    /// It is not, or cannot be reached.
    pub fn names(&self) -> Result<Vec<String>, Fault> {
        self.run(
            |store| async move { Ok(store.list(String::new()).await?.into_iter().map(|entry| entry.name).collect()) },
        )
    }

    /// Bytes of a file, as a place reads them.
    ///
    /// # Errors
    /// The file is not there or no plain file, or the place cannot be reached or refuses.
    pub fn fetch(&self, path: &str, span: Span) -> Result<Vec<u8>, Fault> {
        self.fetch_into(path, span, Vec::new())
    }

    /// The same with a buffer to be used.
    fn fetch_into(&self, path: &str, span: Span, bytes: Vec<u8>) -> Result<Vec<u8>, Fault> {
        let whole = path.to_owned();
        if !is_proper(path) {
            return Err(Fault::Path(whole));
        }
        self.run(move |store| async move { store.read(&whole, span, bytes).await })
    }

    /// Runs something on the threads of this place and waits for it, whatever thread asks.
    fn run<T, F>(&self, work: impl FnOnce(Arc<Store>) -> F) -> Result<T, Fault>
    where
        T: Send + 'static,
        F: Future<Output = Result<T, Fault>> + Send + 'static,
    {
        let Some(runtime) = &self.runtime else { return Err(Fault::Stopped) };
        let (tell, told) = mpsc::sync_channel(1);
        let work = work(Arc::clone(&self.store));
        let asked = runtime.spawn(async move {
            // Nobody waits any more where this fails.
            let _ = tell.send(work.await);
        });
        // What reads a server's answers has come to grief over one; no server that means well answers so.
        let ended = Fault::OtherServer("server of the kind that the address names");
        let answer = self.stop.wait(&told, None, ended);
        if self.stop.is_stopped() {
            // Not a byte more is sent.
            asked.abort();
        }
        answer
    }

    fn at(&self, path: &str) -> impl FnOnce(Fault) -> PlaceError + use<> {
        let place = format!("{}/{path}", self.store.address);
        move |fault| fault.at(place)
    }
}

impl Drop for Remote {
    fn drop(&mut self) {
        // Waiting for the threads is forbidden within another runtime, and they have nothing left to do.
        if let Some(runtime) = self.runtime.take() {
            runtime.shutdown_background();
        }
    }
}

impl Store {
    async fn list(&self, folder: String) -> Result<Vec<Entry>, Fault> {
        let path = if folder.is_empty() { "/".to_owned() } else { format!("{folder}/") };
        let failed = |error: opendal::Error| match Fault::of(&error) {
            Fault::Missing => Fault::NoFolder,
            fault => fault,
        };
        let mut found = self.operator.lister(&path).await.map_err(failed)?;
        let mut there = false;
        let mut entries = Vec::new();
        while let Some(entry) = found.next().await {
            let entry = entry.map_err(failed)?;
            let within = if folder.is_empty() { Some(entry.path()) } else { entry.path().strip_prefix(&path) };
            // What lies elsewhere says nothing of this folder.
            let Some(name) = within.map(|within| within.trim_matches('/')) else { continue };
            there = true;
            // A listing of a drive names the folder itself as well.
            if name.is_empty() {
                continue;
            }
            if entries.len() == MOST_ENTRIES {
                // An object store lists page by page, and says itself whether there are more.
                return Err(Fault::OtherServer("server of this kind: it lists without end"));
            }
            let (plain, bytes) = (entry.metadata().is_file(), entry.metadata().content_length());
            entries.push(Entry { name: name.to_owned(), bytes, plain });
        }
        if let Some(dav) = &self.dav
            && !there
        {
            // No such folder, or no such drive.
            dav.look().await?;
        }
        Ok(entries)
    }

    async fn read(&self, path: &str, span: Span, mut bytes: Vec<u8>) -> Result<Vec<u8>, Fault> {
        bytes.clear();
        if span.most == 0 {
            let found = self.operator.stat(path).await.map_err(|error| Fault::of(&error))?;
            return if found.is_file() { Ok(bytes) } else { Err(Fault::Unreadable) };
        }
        let reader = self.operator.reader(path).await.map_err(|error| Fault::of(&error))?;
        // OpenDAL takes a file that ends before a bound for broken; so none is named, and what is beyond it is not read.
        let chunks = reader.into_bytes_stream(span.from..).await;
        let mut chunks = chunks.map_err(|error| Fault::of(&error))?;
        while let Some(chunk) = chunks.next().await {
            let chunk = match chunk.map(Ok).unwrap_or_else(Err) {
                Ok(chunk) => chunk,
                Err(error) => {
                    let carried = error.get_ref().and_then(|held| held.downcast_ref::<opendal::Error>());
                    return match carried {
                        Some(held) if held.kind() == ErrorKind::RangeNotSatisfied => Ok(bytes),
                        Some(held) => Err(Fault::of(held)),
                        None => Err(Fault::Away(error.kind().to_string())),
                    };
                }
            };
            bytes.extend_from_slice(&chunk);
            if bytes.len() as u64 >= span.most {
                bytes.truncate(usize::try_from(span.most).unwrap_or(usize::MAX));
                break;
            }
        }
        Ok(bytes)
    }

    async fn write(&self, path: &str, bytes: Vec<u8>) -> Result<(), Fault> {
        let put = |bytes: opendal::Buffer| async {
            let written = self.operator.write(path, bytes).await;
            written.map(drop).map_err(|error| match Fault::of(&error) {
                Fault::Forbidden => Fault::ReadOnly,
                fault => fault,
            })
        };
        let bytes = opendal::Buffer::from(bytes);
        let Some(dav) = &self.dav else {
            return put(bytes).await.map_err(|fault| if fault == Fault::Missing { Fault::NoFolder } else { fault });
        };
        match (put(bytes.clone()).await, path.rsplit_once('/')) {
            (Err(Fault::Missing), Some((folder, _))) => {
                dav.make(folder).await?;
                put(bytes).await.map_err(|fault| if fault == Fault::Missing { Fault::NoFolder } else { fault })
            }
            (Err(Fault::Missing), None) => Err(Fault::NoFolder),
            (how, _) => how,
        }
    }

    async fn delete(&self, path: &str) -> Result<(), Fault> {
        match self.operator.delete(path).await.map_err(|error| Fault::of(&error)) {
            Err(Fault::Missing) | Ok(()) => Ok(()),
            Err(Fault::Forbidden) => Err(Fault::ReadOnly),
            Err(fault) => Err(fault),
        }
    }
}

impl Place for Remote {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        let whole = folder.to_owned();
        if !is_proper(folder) {
            return Err(Fault::Path(whole)).map_err(self.at(folder));
        }
        self.run(|store| async move { store.list(whole).await }).map_err(self.at(folder))
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.fetch(path, span).map_err(self.at(path))
    }

    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        *bytes = self.fetch_into(path, span, std::mem::take(bytes)).map_err(self.at(path))?;
        Ok(())
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        let whole = path.to_owned();
        if !is_proper(path) {
            return Err(Fault::Path(whole)).map_err(self.at(path));
        }
        let bytes = bytes.to_vec();
        self.run(|store| async move { store.write(&whole, bytes).await }).map_err(self.at(path))
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        let whole = path.to_owned();
        if !is_proper(path) {
            return Err(Fault::Path(whole)).map_err(self.at(path));
        }
        self.run(|store| async move { store.delete(&whole).await }).map_err(self.at(path))
    }
}

fn password(settings: &Settings) -> &str {
    settings.password.as_ref().map_or("", |password| &password.0)
}

/// HTTP's basic authentication (RFC 7617).
fn login(user: &str, password: &str) -> Result<HeaderValue, Fault> {
    let wrong = |why: &str| Fault::Setting { what: "the name or the password", why: why.to_owned() };
    let text = opendal::raw::format_authorization_by_basic(user, password).map_err(|_| wrong("a name has no colon"))?;
    let mut value = HeaderValue::from_str(&text).map_err(|_| wrong("it holds what cannot be sent"))?;
    value.set_sensitive(true);
    Ok(value)
}

fn unusable(error: &opendal::Error) -> Fault {
    Fault::Setting { what: "the address", why: error.message().to_owned() }
}

fn dav_operator(settings: &Settings, url: &Url) -> Result<Operator, Fault> {
    // OpenDAL would look for each folder before each file that it writes; `Dav` makes them with fewer requests.
    let mut service = Webdav::default().endpoint(url.as_str().trim_end_matches('/')).disable_create_dir(true);
    if let Some(user) = &settings.user {
        service = service.username(user).password(password(settings));
    }
    Operator::new(service).map_err(|error| unusable(&error))
}

fn store_operator(settings: &Settings, bucket: &str, prefix: &str, server: &Url) -> Result<Operator, Fault> {
    let key = settings.user.as_deref().filter(|key| !key.is_empty()).ok_or_else(|| Fault::Setting {
        what: "the key of the object store",
        why: "none is given; enter its id as the name and its secret as the password".to_owned(),
    })?;
    let service = S3::default()
        .bucket(bucket)
        .root(prefix)
        .endpoint(server.as_str().trim_end_matches('/'))
        .region(settings.region.as_deref().unwrap_or("us-east-1"))
        .access_key_id(key)
        .secret_access_key(password(settings))
        // Nothing else on this machine decides who is asked, and as whom.
        .disable_config_load()
        .disable_ec2_metadata();
    Operator::new(service).map_err(|error| unusable(&error))
}
