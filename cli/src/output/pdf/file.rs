//! From pages to the bytes of a file.

use super::outline::{self, Bookmark};
use jiff::civil::Date;
use lopdf::{Dictionary, Object, StringFormat};
use printpdf::{OffsetDateTime, PdfDocument, PdfFontMap, PdfPage, PdfSaveOptions};
use sha2::{Digest, Sha256};
use std::io::{self, Write};

/// What the file says about itself.
#[derive(Debug)]
pub(super) struct About<'a> {
    pub(super) title: &'a str,
    pub(super) author: &'a str,
    /// The day on which it says it was made; never the clock's.
    pub(super) date: Date,
}

/// Writes the file.
pub(super) fn write(
    pages: Vec<PdfPage>,
    bookmarks: &[Bookmark],
    fonts: PdfFontMap,
    about: &About,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut document = PdfDocument::new(about.title);
    document.pages = pages;
    document.resources.fonts = fonts;
    let info = &mut document.metadata.info;
    about.author.clone_into(&mut info.author);
    env!("CARGO_PKG_NAME").clone_into(&mut info.creator);
    env!("CARGO_PKG_NAME").clone_into(&mut info.producer);
    let seconds = about
        .date
        .duration_since(Date::constant(1970, 1, 1))
        .as_secs();
    if let Ok(midnight) = OffsetDateTime::from_unix_timestamp(seconds) {
        info.creation_date = midnight;
        info.modification_date = midnight;
        info.metadata_date = midnight;
    }

    let mut file = document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    "1.4".clone_into(&mut file.version);
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("Lang", Object::string_literal("en"));
        let mut viewer = Dictionary::new();
        viewer.set("DisplayDocTitle", true);
        catalog.set("ViewerPreferences", viewer);
    }
    outline::write(&mut file, bookmarks);
    // printpdf writes these even where they are empty, and so marks every file
    // as PDF/X, which this is not.
    let info = file.trailer.get(b"Info").and_then(Object::as_reference);
    if let Ok(info) = info.and_then(|id| file.get_dictionary_mut(id)) {
        for key in ["GTS_PDFXVersion", "Identifier", "Subject", "Keywords"] {
            info.remove(key.as_bytes());
        }
    }
    file.compress();

    // printpdf numbers its files by a counter; a hash of the content is the
    // same for the same content.
    file.trailer.remove(b"ID");
    let mut content = Vec::new();
    file.save_to(&mut content)?;
    let hash = Sha256::digest(&content);
    let id = Object::String(hash[..16].to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    content.clear();
    file.save_to(&mut content)?;
    out.write_all(&content)
}
