//! The outline of a file: a bookmark for each heading, which a reader shows beside the
//! pages.

use lopdf::{Dictionary, Document, Object, ObjectId};

/// One heading and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bookmark {
    /// 0 for what stands by itself; one more for each heading that it stands under.
    pub(super) level: usize,
    pub(super) title: String,
    /// Its sheet, from 0.
    pub(super) sheet: usize,
    /// Its height above the lower edge.
    pub(super) up: f32,
}

/// Writes the outline into a file with these pages.
pub(super) fn write(file: &mut Document, bookmarks: &[Bookmark]) {
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let root = file.new_object_id();
    let Some((first, last)) = siblings(file, bookmarks, 0, root, &pages) else {
        return;
    };
    let mut outlines = Dictionary::new();
    outlines.set("Type", "Outlines");
    outlines.set("First", first);
    outlines.set("Last", last);
    outlines.set("Count", count(bookmarks, 0));
    file.set_object(root, outlines);
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("Outlines", root);
        if pages.len() > 1 {
            catalog.set("PageMode", "UseOutlines");
        }
    }
}

/// The bookmarks of one level, each with those under it; gives back the first and the
/// last.
fn siblings(
    file: &mut Document,
    bookmarks: &[Bookmark],
    level: usize,
    parent: ObjectId,
    pages: &[ObjectId],
) -> Option<(ObjectId, ObjectId)> {
    let mut groups = Vec::new();
    let mut rest = bookmarks;
    while let Some((one, behind)) = rest.split_first() {
        let under = behind.iter().take_while(|other| other.level > level);
        let (under, next) = behind.split_at(under.count());
        if let Some(page) = pages.get(one.sheet) {
            groups.push((file.new_object_id(), one, under, *page));
        }
        rest = next;
    }
    let ids: Vec<ObjectId> = groups.iter().map(|(id, ..)| *id).collect();
    for (at, (id, one, under, page)) in groups.into_iter().enumerate() {
        let mut item = Dictionary::new();
        item.set("Title", text(&one.title));
        item.set("Parent", parent);
        let place = [
            Object::from(page),
            "XYZ".into(),
            0.into(),
            one.up.into(),
            Object::Null,
        ];
        item.set("Dest", place.to_vec());
        if let Some(before) = at.checked_sub(1) {
            item.set("Prev", ids[before]);
        }
        if let Some(next) = ids.get(at + 1) {
            item.set("Next", *next);
        }
        if let Some((first, last)) = siblings(file, under, level + 1, id, pages) {
            item.set("First", first);
            item.set("Last", last);
            // Less than nothing: they are folded away until they are asked for.
            item.set("Count", -count(under, level + 1));
        }
        file.set_object(id, item);
    }
    Some((*ids.first()?, *ids.last()?))
}

/// How many stand on this level.
fn count(bookmarks: &[Bookmark], level: usize) -> i64 {
    let own = bookmarks.iter().filter(|one| one.level == level);
    i64::try_from(own.count()).unwrap_or(0)
}

/// A text as the file keeps it: plain where it can be, otherwise in UTF-16.
fn text(title: &str) -> Object {
    if title.is_ascii() {
        return Object::string_literal(title);
    }
    let units = std::iter::once(0xFEFF).chain(title.encode_utf16());
    Object::string_literal(units.flat_map(u16::to_be_bytes).collect::<Vec<u8>>())
}
