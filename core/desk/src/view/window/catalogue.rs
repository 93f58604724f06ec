//! The catalogue page: the firm's catalogues are looked at, changed part by part or from a file, and put in force.

use std::path::Path;

use super::{Desk, Window, files};
use crate::parts::{self, Cells, Edit, FieldFault, Preview, Sheet};
use crate::sites::{DEMO, KeptCatalogue, Said, SiteError, Sites};
use crate::view::wire::{CatalogueEntry, CatalogueForm, CataloguePage, OpenCatalogue, PartLine, Refusal, SheetForm};

impl Window {
    /// The fields of every sheet of a catalogue.
    pub fn part_forms(&self) -> Vec<SheetForm> {
        let sheets = [&[Sheet::Catalogue][..], &Sheet::PARTS, &[Sheet::Labour]].concat();
        sheets.into_iter().map(|sheet| SheetForm { sheet, fields: parts::fields(sheet).to_vec() }).collect()
    }

    /// The catalogues, with the parts of one; of the one in force where none is named, else of the demo.
    ///
    /// # Errors
    /// There is no such catalogue, or the store fails.
    pub fn catalogues(&self, id: Option<&str>) -> Result<CataloguePage, Refusal> {
        self.with_store(|desk, sites| page(desk, sites, id, None))
    }

    /// What is wrong with a form, field by field; nothing where it can be kept.
    ///
    /// # Errors
    /// There is no such catalogue, or the store fails.
    pub fn check_part(
        &self,
        id: &str,
        sheet: Sheet,
        was: Option<&str>,
        cells: &Cells,
    ) -> Result<Vec<FieldFault>, Refusal> {
        self.with_store(|_, sites| {
            let full = sites.full_catalogue(id)?;
            Ok(parts::check(sheet, cells, &full, was).err().unwrap_or_default())
        })
    }

    /// Keeps a form: a part that was there under a reference, a new one where there was none, what the catalogue says of
    /// itself, or labour.
    ///
    /// # Errors
    /// The form has faults, the catalogue is built in, or the store is open for reading only or fails; then nothing is
    /// changed.
    pub fn save_part(
        &self,
        id: &str,
        sheet: Sheet,
        was: Option<&str>,
        cells: &Cells,
    ) -> Result<CataloguePage, Refusal> {
        self.changed(Some(id), |sites| {
            let full = sites.kept_catalogue(id)?.full()?;
            let read =
                parts::check(sheet, cells, &full, was).map_err(|faults| SiteError::Faults(listed(id, &faults)))?;
            let name = cells.get("part").map_or("", String::as_str);
            let (edit, said) = match (sheet, was) {
                (Sheet::Catalogue, _) => (Edit::Catalogue { head: read }, "what it says of itself changed".to_owned()),
                (Sheet::Labour, _) => (Edit::Labour { labour: read }, "labour changed".to_owned()),
                (_, None) => (Edit::Put { sheet, was: None, part: read }, format!("part {name} added")),
                (_, Some(was)) => {
                    let renamed = if was == name { String::new() } else { format!(", now {name}") };
                    let said = format!("part {was} changed{renamed}");
                    (Edit::Put { sheet, was: Some(was.to_owned()), part: read }, said)
                }
            };
            if let Some(gone) = was.filter(|was| Sheet::PARTS.contains(&sheet) && parts::find(&full, was).is_none()) {
                return Err(SiteError::NoPart { part: gone.to_owned(), catalogue: id.to_owned() });
            }
            sites.edit_catalogue(id, &[edit], &said)
        })
    }

    /// Takes a part out of a catalogue.
    ///
    /// # Errors
    /// There is no such part, the catalogue is built in, or the store is open for reading only or fails.
    pub fn delete_part(&self, id: &str, part: &str) -> Result<CataloguePage, Refusal> {
        self.changed(Some(id), |sites| sites.remove_part(id, part))
    }

    /// Copies a catalogue under another name, and looks at the copy.
    ///
    /// # Errors
    /// The name is taken or empty, or the store is open for reading only or fails.
    pub fn copy_catalogue(&self, id: &str, name: &str) -> Result<CataloguePage, Refusal> {
        self.changed(None, |sites| sites.copy_catalogue(id, name.trim()))
    }

    /// Puts a catalogue in force: every site is planned with it from then on.
    ///
    /// # Errors
    /// There is none, it is built in, or the store is open for reading only or fails.
    pub fn put_in_force(&self, id: &str) -> Result<CataloguePage, Refusal> {
        self.changed(Some(id), |sites| {
            let kept = sites.kept_catalogue(id)?;
            kept.full()?;
            if kept.is_built_in() { Err(SiteError::BuiltIn) } else { sites.put_in_force(id) }
        })
    }

    /// Settles a catalogue that people changed at once by one of their versions.
    ///
    /// # Errors
    /// Nobody did, there is no such version, or the store is open for reading only or fails.
    pub fn settle_catalogue(&self, id: &str, number: u32) -> Result<CataloguePage, Refusal> {
        self.changed(Some(id), |sites| sites.settle_catalogue(id, number))
    }

    /// What a file would change in a catalogue, or what it would be as one of its own; nothing is kept.
    ///
    /// # Errors
    /// Nothing of the file can be taken: every fault.
    pub fn preview_import(&self, id: Option<&str>, path: &str) -> Result<Preview, Refusal> {
        let bytes = files::read(Path::new(path))?;
        self.with_store(|_, sites| sites.preview_import(id, &bytes, &file_name(path)).map_err(|why| cannot(path, why)))
    }

    /// Takes in a file that was looked at; `file_sha256` and `content_sha256` are of what was seen.
    ///
    /// # Errors
    /// As [`Self::preview_import`]; or the file or the catalogue is not as it was, the catalogue is built in, or the store is
    /// open for reading only or fails; then nothing is changed.
    pub fn take_import(
        &self,
        id: Option<&str>,
        path: &str,
        file_sha256: &str,
        content_sha256: &str,
    ) -> Result<CataloguePage, Refusal> {
        let bytes = files::read(Path::new(path))?;
        self.changed(None, |sites| {
            sites.import_parts(id, &bytes, &file_name(path), Some((file_sha256, content_sha256)))
        })
    }

    /// Writes a catalogue, a list of its parts or a template into a file, and says so.
    ///
    /// # Errors
    /// There is none, or the file cannot be written.
    pub fn export_catalogue(&self, id: &str, path: &str, form: CatalogueForm) -> Result<String, Refusal> {
        self.with_store(|_, sites| {
            let bytes = match form {
                CatalogueForm::Toml => sites.catalogue_toml(id)?,
                CatalogueForm::Csv { sheet, style } => sites.catalogue_csv(id, sheet, style)?,
                CatalogueForm::Template { sheet, style } => parts::template_of(sheet, style),
            };
            sites.write_outside(Path::new(path), &bytes)?;
            Ok(format!("written to {path}"))
        })
    }

    /// Takes back this device's last change of catalogues.
    ///
    /// # Errors
    /// There is none, or somebody has changed it since.
    pub fn undo_catalogue(&self, id: Option<&str>) -> Result<CataloguePage, Refusal> {
        self.changed(id, |sites| Ok(Said { id: String::new(), sentence: sites.undo_catalogues()? }))
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed it since.
    pub fn redo_catalogue(&self, id: Option<&str>) -> Result<CataloguePage, Refusal> {
        self.changed(id, |sites| Ok(Said { id: String::new(), sentence: sites.redo_catalogues()? }))
    }

    /// Changes catalogues, plans the open site anew where the one in force is another than before, and answers with the
    /// catalogue `id`, else with the one that was made.
    fn changed(
        &self,
        id: Option<&str>,
        work: impl FnOnce(&mut Sites) -> Result<Said, SiteError>,
    ) -> Result<CataloguePage, Refusal> {
        let page = self.with_store(|desk, sites| {
            if let Some(why) = &desk.why_reading {
                return Err(Refusal::of(why.clone()));
            }
            let said = work(sites)?;
            let replanned = plan_anew(desk, sites)?;
            // What was looked at may have been taken back.
            let shown = Some(id.unwrap_or(&said.id)).filter(|id| sites.kept_catalogue(id).is_ok());
            Ok(CataloguePage { replanned, ..page(desk, sites, shown, Some(said.sentence))? })
        })?;
        if page.replanned {
            self.show_open();
        }
        Ok(page)
    }
}

fn plan_anew(desk: &mut Desk, sites: &Sites) -> Result<bool, Refusal> {
    let Some(open) = desk.open.as_mut() else { return Ok(false) };
    let in_force = sites.catalogue_to_plan_with()?;
    if in_force.catalogue == open.in_force().catalogue && in_force.stands_in == open.in_force().stands_in {
        return Ok(false);
    }
    open.plan_with(in_force)?;
    desk.past = None;
    Ok(true)
}

fn page(desk: &Desk, sites: &Sites, id: Option<&str>, said: Option<String>) -> Result<CataloguePage, Refusal> {
    let own = sites.catalogues()?.catalogues;
    let mut catalogues = Vec::new();
    for line in &own {
        catalogues.push(entry(sites, &line.id, line.in_force));
    }
    catalogues.push(entry(sites, DEMO, false));
    let in_force = || own.iter().find(|line| line.in_force).map(|line| line.id.as_str());
    let kept = sites.kept_catalogue(id.or_else(in_force).unwrap_or(DEMO))?;
    let (undo, redo) = sites.catalogue_steps()?;
    let labels = sites.list()?.sites.into_iter().filter(|line| !line.archived).map(|line| line.label);
    Ok(CataloguePage {
        said,
        catalogues,
        open: opened(sites, &kept)?,
        stands_in: sites.catalogue_to_plan_with()?.stands_in,
        sites: labels.collect(),
        undo,
        redo,
        read_only: desk.why_reading.clone(),
        replanned: false,
    })
}

/// A line of the list; one that cannot be used is listed with the reason.
fn entry(sites: &Sites, asked: &str, in_force: bool) -> CatalogueEntry {
    let blank = CatalogueEntry {
        id: asked.to_owned(),
        name: asked.to_owned(),
        parts: 0,
        priced_on: String::new(),
        invented: false,
        built_in: asked == DEMO,
        in_force,
        unusable: None,
    };
    let kept = match sites.kept_catalogue(asked) {
        Ok(kept) => kept,
        Err(why) => return CatalogueEntry { unusable: Some(why.to_string()), ..blank },
    };
    let named = CatalogueEntry { id: kept.id.clone(), name: kept.name.clone(), ..blank };
    let full = match kept.full() {
        Ok(full) => full,
        Err(why) => return CatalogueEntry { unusable: Some(why.to_string()), ..named },
    };
    let parts: usize = Sheet::PARTS.into_iter().map(|sheet| parts::parts_of(&full, sheet).len()).sum();
    CatalogueEntry {
        parts: u32::try_from(parts).unwrap_or(u32::MAX),
        priced_on: full["priced_on"].as_str().unwrap_or_default().to_owned(),
        invented: full["invented"].as_bool().unwrap_or_default(),
        unusable: kept.disputed.then(|| SiteError::Differ(kept.name).to_string()),
        ..named
    }
}

fn opened(sites: &Sites, kept: &KeptCatalogue) -> Result<OpenCatalogue, Refusal> {
    let full = kept.full()?;
    let lines = |sheet: Sheet| {
        let line = move |part| PartLine {
            sheet,
            part: parts::reference(part).to_owned(),
            cells: parts::cells_of(sheet, part),
        };
        parts::parts_of(&full, sheet).iter().map(line).collect::<Vec<_>>()
    };
    Ok(OpenCatalogue {
        id: kept.id.clone(),
        name: kept.name.clone(),
        built_in: kept.is_built_in(),
        currency: full["currency"].as_str().unwrap_or_default().to_owned(),
        copy_name: sites.free_name(if kept.is_built_in() { "My catalogue" } else { &kept.name })?,
        head: parts::cells_of(Sheet::Catalogue, &full),
        labour: parts::cells_of(Sheet::Labour, &full["labour"]),
        disagreement: sites.catalogue_dispute(&kept.id)?,
        parts: Sheet::PARTS.into_iter().flat_map(lines).collect(),
    })
}

fn file_name(path: &str) -> String {
    Path::new(path).file_name().map_or_else(|| path.to_owned(), |name| name.to_string_lossy().into_owned())
}

fn cannot(path: &str, why: SiteError) -> Refusal {
    let refusal = Refusal::from(why);
    match refusal.faults.is_empty() {
        true => refusal,
        false => Refusal { message: format!("nothing of {path} can be taken in as it is"), ..refusal },
    }
}

/// The faults of a form as those of a file.
fn listed(file: &str, faults: &[FieldFault]) -> crate::fault::Faults {
    let one = |fault: &FieldFault| {
        let mut listed = crate::fault::Fault::of_file(file, &fault.matter, &fault.accepted);
        (listed.path, listed.value) = (fault.field.clone(), fault.value.clone());
        listed
    };
    crate::fault::Faults { list: faults.iter().map(one).collect() }
}
