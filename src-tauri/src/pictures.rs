//! The pictures of photos, which the page names by address; `desk` says what is an address.

use desk::view::{Sent, Window};
use tauri::http::{Method, Request, Response, StatusCode, header};
use tauri::{AppHandle, Manager as _, UriSchemeResponder};

/// How the addresses begin.
pub(crate) const SCHEME: &str = "photo";

/// Answers a request for a picture, apart from the thread that draws the window.
pub(crate) fn answer(app: AppHandle, request: &Request<Vec<u8>>, responder: UriSchemeResponder) {
    let address = (request.method() == Method::GET).then(|| request.uri().to_string());
    tauri::async_runtime::spawn_blocking(move || {
        let sent = address.and_then(|address| app.state::<Window>().picture(&address));
        responder.respond(response(sent));
    });
}

/// The picture, or that there is none.
fn response(sent: Option<Sent>) -> Response<Vec<u8>> {
    let mut response = Response::new(Vec::new());
    let Some(sent) = sent else {
        *response.status_mut() = StatusCode::NOT_FOUND;
        return response;
    };
    *response.body_mut() = sent.bytes;
    let headers = [
        (header::CONTENT_TYPE, sent.mime),
        // The address names the content, which never changes.
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    ];
    for (name, value) in headers {
        response.headers_mut().insert(name, header::HeaderValue::from_static(value));
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_comes_with_its_kind_and_nothing_comes_without_one() {
        let sent = response(Some(Sent { mime: "image/jpeg", bytes: vec![1, 2] }));
        assert_eq!((sent.status(), sent.body().as_slice()), (StatusCode::OK, &[1, 2][..]));
        assert_eq!(sent.headers()[header::CONTENT_TYPE], "image/jpeg");
        assert_eq!(sent.headers()[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        let none = response(None);
        assert_eq!((none.status(), none.body().len(), none.headers().len()), (StatusCode::NOT_FOUND, 0, 0));
    }
}
