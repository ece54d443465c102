//! Reads a written file again, for tests.

use lopdf::{Dictionary, Document, Object, ObjectId};

/// A bookmark: how deep it stands, its title, the number of its page and its height.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Found {
    pub(super) level: usize,
    pub(super) title: String,
    pub(super) page: u32,
    pub(super) up: f32,
}

/// The text of each page, a line for each piece of it, in the order of the file.
pub(super) fn texts(bytes: &[u8]) -> Vec<String> {
    let file = Document::load_mem(bytes).unwrap();
    let numbers = file.get_pages().into_keys();
    numbers
        .map(|number| file.extract_text(&[number]).unwrap())
        .collect()
}

/// Whether a text has this line.
pub(super) fn holds(text: &str, line: &str) -> bool {
    text.lines().any(|found| found.trim() == line)
}

/// The width and height of each page.
pub(super) fn sizes(bytes: &[u8]) -> Vec<[f32; 2]> {
    let file = Document::load_mem(bytes).unwrap();
    let pages = file.get_pages().into_values();
    pages
        .map(|page| {
            let page = file.get_dictionary(page).unwrap();
            let area = page.get(b"MediaBox").unwrap().as_array().unwrap();
            [2, 3].map(|at| area[at].as_float().unwrap())
        })
        .collect()
}

/// The outline, from its first bookmark to its last.
pub(super) fn bookmarks(bytes: &[u8]) -> Vec<Found> {
    let file = Document::load_mem(bytes).unwrap();
    let mut found = Vec::new();
    if let Ok(root) = file.catalog().unwrap().get(b"Outlines") {
        let root = file.get_dictionary(root.as_reference().unwrap()).unwrap();
        below(&file, root, 0, &mut found);
    }
    found
}

fn below(file: &Document, parent: &Dictionary, level: usize, found: &mut Vec<Found>) {
    let pages: Vec<(u32, ObjectId)> = file.get_pages().into_iter().collect();
    let mut next = parent.get(b"First").ok();
    let mut count = 0;
    let mut last = None;
    while let Some(id) = next {
        let item = file.get_dictionary(id.as_reference().unwrap()).unwrap();
        let place = item.get(b"Dest").unwrap().as_array().unwrap();
        let page = place[0].as_reference().unwrap();
        let page = pages.iter().find(|(_, id)| *id == page).unwrap().0;
        found.push(Found {
            level,
            title: title(item.get(b"Title").unwrap()),
            page,
            up: place[3].as_float().unwrap(),
        });
        below(file, item, level + 1, found);
        last = Some(id.clone());
        count += 1;
        next = item.get(b"Next").ok();
    }
    if count > 0 {
        assert_eq!(parent.get(b"Last").ok(), last.as_ref());
        let said = parent.get(b"Count").unwrap().as_i64().unwrap();
        assert_eq!(said, if level == 0 { count } else { -count });
    }
}

fn title(text: &Object) -> String {
    let bytes = text.as_str().unwrap();
    match bytes.strip_prefix(&[0xFE, 0xFF]) {
        Some(wide) => {
            let units = wide
                .chunks(2)
                .map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
            String::from_utf16(&units.collect::<Vec<u16>>()).unwrap()
        }
        None => String::from_utf8(bytes.to_vec()).unwrap(),
    }
}
