//! Runs the typesetting engine on one template and one set of values: no files, no network, no clock.

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Dict, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::PdfError;
use super::typeface::typefaces;

/// What the engine may see: one source text, the values beside it, and the embedded typefaces.
struct ClosedWorld {
    library: LazyHash<Library>,
    main: Source,
    today: Datetime,
}

impl World for ClosedWorld {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        typefaces().book()
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, _: FileId) -> FileResult<Bytes> {
        Err(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        typefaces().font(index)
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        Some(self.today)
    }
}

/// Typesets `template` with `values` (read in it as `sys.inputs`) and returns the PDF's bytes.
///
/// The file is tagged and meets PDF/A-2a and PDF/UA-1. `issued` is the only date in it, and `ident`
/// makes its identifier, so that the same input gives the same bytes.
pub fn typeset(template: &str, values: Dict, issued: Datetime, ident: &str) -> Result<Vec<u8>, PdfError> {
    let path = VirtualPath::new("paper.typ").map_err(|_| engine_fault("the template's name"))?;
    let world = ClosedWorld {
        library: LazyHash::new(Library::builder().with_inputs(values).build()),
        main: Source::new(RootedPath::new(VirtualRoot::Project, path).intern(), template.to_owned()),
        today: issued,
    };
    let document: PagedDocument = typst::compile(&world).output.map_err(|faults| first_fault(&world, &faults))?;
    let standards =
        PdfStandards::new(&[PdfStandard::A_2a, PdfStandard::Ua_1]).map_err(|fault| engine_fault(fault.message()))?;
    let options = PdfOptions {
        ident: Smart::Custom(ident.to_owned()),
        creator: Smart::Custom(Some("Newel".to_owned())),
        timestamp: Some(Timestamp::new_utc(issued)),
        standards,
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&document, &options).map_err(|faults| first_fault(&world, &faults))?;
    // The engine keeps results between runs; a long-lived window must not grow with every paper.
    typst::comemo::evict(0);
    Ok(bytes)
}

fn engine_fault(message: &str) -> PdfError {
    PdfError::Engine { message: message.to_owned() }
}

fn first_fault(world: &ClosedWorld, faults: &[SourceDiagnostic]) -> PdfError {
    let Some(fault) = faults.first() else {
        return engine_fault("the engine gave no reason");
    };
    let line = typst::WorldExt::range(world, fault.span)
        .and_then(|range| world.main.lines().byte_to_line(range.start))
        .map_or(String::new(), |line| format!(" (template line {})", line + 1));
    let hints: String = fault.hints.iter().map(|hint| format!("; {}", hint.v)).collect();
    engine_fault(&format!("{}{line}{hints}", fault.message))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day() -> Datetime {
        Datetime::from_ymd_hms(2030, 3, 4, 0, 0, 0).expect("a valid day")
    }

    const TINY: &str = "#set document(title: \"t\")\n#set page(width: 50mm, height: 20mm)\n";

    #[test]
    fn a_template_becomes_a_pdf_twice_the_same() {
        let text = format!("{TINY}= Rail\n#sys.inputs.at(\"label\", default: \"none\")");
        let one = typeset(&text, Dict::new(), day(), "x").expect("compiles");
        let two = typeset(&text, Dict::new(), day(), "x").expect("compiles");
        assert!(one.starts_with(b"%PDF-1.7"));
        assert_eq!(one, two);
    }

    #[test]
    fn files_and_packages_are_out_of_reach() {
        for reach in ["#read(\"/etc/hostname\")", "#import \"@preview/cetz:0.3.4\"", "#image(\"x.png\")"] {
            let fault = typeset(&format!("{TINY}{reach}"), Dict::new(), day(), "x");
            assert!(matches!(fault, Err(PdfError::Engine { .. })), "{reach}");
        }
    }

    #[test]
    fn a_fault_names_its_line() {
        let fault = typeset(&format!("{TINY}#nosuch"), Dict::new(), day(), "x").unwrap_err();
        assert!(fault.to_string().contains("template line 3"), "{fault}");
    }
}
