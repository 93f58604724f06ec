//! The pictures themselves, by address: `photo://localhost/<content>/<320|1600|original>`. Content is the SHA-256 of the
//! file's bytes, and only photos of the open site have an address.

use std::sync::PoisonError;

use ::photos::{Content, Edge, Kind, Library};

use super::Window;
use crate::sites::home_folder;

/// A picture as the page gets it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sent {
    /// Its media type.
    pub mime: &'static str,
    /// The file.
    pub bytes: Vec<u8>,
}

impl Window {
    /// The picture at an address; none for anything that is no address of a photo of the open site, or where there is no
    /// picture. It waits neither for edits nor for plans.
    pub fn picture(&self, address: &str) -> Option<Sent> {
        let (content, size) = asked(address)?;
        if !self.shows_photo(content) {
            return None;
        }
        let library = Library::at(&home_folder(self.home.as_deref()).ok()?);
        let edge = match size {
            Size::Small => Edge::Small,
            Size::Large => Edge::Large,
            Size::Original => return original(&library, content),
        };
        let bytes = library.thumbnail_kept(content, edge).or_else(|| {
            // One after another: a page that asks for fifty at once must not fill the memory with fifty originals.
            let _turn = self.making.lock().unwrap_or_else(PoisonError::into_inner);
            library.thumbnail_bytes(content, edge).ok()
        })?;
        Some(Sent { mime: "image/jpeg", bytes })
    }

    /// A file that is merely looked at may name any content, so only a stored site counts.
    fn shows_photo(&self, content: Content) -> bool {
        let site = self.shown().as_ref().filter(|shown| shown.is_stored).map(|shown| shown.site.clone());
        let name = content.to_string();
        site.is_some_and(|site| site.survey.photos.iter().any(|photo| photo.content.as_deref() == Some(name.as_str())))
    }
}

fn original(library: &Library, content: Content) -> Option<Sent> {
    let bytes = library.read(content).ok()?;
    let mime = match Kind::of(&bytes)? {
        Kind::Jpeg => "image/jpeg",
        Kind::Png => "image/png",
        Kind::WebP => "image/webp",
        // No web view shows the others, so the page asks for their thumbnails.
        _ => return None,
    };
    Some(Sent { mime, bytes })
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Size {
    Small,
    Large,
    Original,
}

/// Reads an address as it stands: nothing is decoded, joined or cut off.
fn asked(address: &str) -> Option<(Content, Size)> {
    let (content, size) = address.strip_prefix("photo://localhost/")?.split_once('/')?;
    let size = match size {
        "320" => Size::Small,
        "1600" => Size::Large,
        "original" => Size::Original,
        _ => return None,
    };
    Some((Content::parse(content)?, size))
}

#[cfg(test)]
mod tests {
    use super::{Size, asked};

    /// FIPS 180-2, appendix B.1: the digest of "abc".
    const CONTENT: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn each_size_has_its_address() {
        for (size, expected) in [("320", Size::Small), ("1600", Size::Large), ("original", Size::Original)] {
            let (content, size) = asked(&format!("photo://localhost/{CONTENT}/{size}")).expect("an address");
            assert_eq!((content.to_string().as_str(), size), (CONTENT, expected));
        }
    }

    #[test]
    fn a_hostile_address_names_nothing() {
        let base = "photo://localhost";
        for hostile in [
            String::new(),
            format!("{base}/"),
            format!("{base}/{CONTENT}"),
            format!("{base}/{CONTENT}/"),
            format!("{base}/{CONTENT}/321"),
            format!("{base}/{CONTENT}/0320"),
            format!("{base}/{CONTENT}/320/"),
            format!("{base}/{CONTENT}/320?"),
            format!("{base}/{CONTENT}/320?size=original"),
            format!("{base}/{CONTENT}/320#original"),
            format!("{base}/{CONTENT}/../{CONTENT}/320"),
            format!("{base}//{CONTENT}/320"),
            format!("{base}/{}/320", CONTENT.to_uppercase()),
            format!("{base}/{}/320", &CONTENT[1..]),
            format!("{base}/{CONTENT}0/320"),
            format!("{base}/{CONTENT}%2f..%2f/320"),
            format!("{base}/..%2f{}/original", &CONTENT[6..]),
            format!("{base}/{CONTENT}\0/320"),
            format!("{base}/../../../etc/passwd/original"),
            format!("{base}/C:\\Windows\\win.ini/original"),
            format!("photo://localhost:80/{CONTENT}/320"),
            format!("photo://other/{CONTENT}/320"),
            format!("photo://someone@localhost/{CONTENT}/320"),
            format!("PHOTO://localhost/{CONTENT}/320"),
            format!("http://localhost/{CONTENT}/320"),
            format!("file:///{CONTENT}/320"),
            format!("/{CONTENT}/320"),
        ] {
            assert_eq!(asked(&hostile), None, "{hostile:?}");
        }
    }
}
