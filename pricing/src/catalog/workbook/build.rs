//! Small workbooks for tests, written by hand.

use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// A workbook of one or several sheets, each with its name and its rows as the
/// file format writes them: `<row r="1"><c r="A1" t="inlineStr">…`. Style 1 is
/// a date.
pub(crate) fn workbook(sheets: &[(&str, &str)]) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let mut file = |name: &str, text: &str| {
        let options = SimpleFileOptions::default();
        zip.start_file(name, options).unwrap();
        zip.write_all(text.as_bytes()).unwrap();
    };
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let packages = "http://schemas.openxmlformats.org/package/2006/relationships";
    let types = "http://schemas.openxmlformats.org/package/2006/content-types";
    file(
        "[Content_Types].xml",
        &format!("<Types xmlns=\"{types}\"/>"),
    );
    file(
        "_rels/.rels",
        &format!(
            "<Relationships xmlns=\"{packages}\"><Relationship Id=\"rId1\" \
             Type=\"{office}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
        ),
    );
    let (mut listed, mut related) = (String::new(), String::new());
    for (at, (name, rows)) in sheets.iter().enumerate() {
        let id = at + 1;
        listed += &format!("<sheet name=\"{name}\" sheetId=\"{id}\" r:id=\"rId{id}\"/>");
        related += &format!(
            "<Relationship Id=\"rId{id}\" Type=\"{office}/worksheet\" \
             Target=\"worksheets/sheet{id}.xml\"/>"
        );
        file(
            &format!("xl/worksheets/sheet{id}.xml"),
            &format!("<worksheet xmlns=\"{main}\"><sheetData>{rows}</sheetData></worksheet>"),
        );
    }
    file(
        "xl/workbook.xml",
        &format!(
            "<workbook xmlns=\"{main}\" xmlns:r=\"{office}\"><sheets>{listed}</sheets></workbook>"
        ),
    );
    file(
        "xl/_rels/workbook.xml.rels",
        &format!(
            "<Relationships xmlns=\"{packages}\">{related}<Relationship Id=\"rId99\" \
             Type=\"{office}/styles\" Target=\"styles.xml\"/></Relationships>"
        ),
    );
    file(
        "xl/styles.xml",
        &format!(
            "<styleSheet xmlns=\"{main}\"><cellXfs count=\"2\"><xf numFmtId=\"0\"/>\
             <xf numFmtId=\"14\"/></cellXfs></styleSheet>"
        ),
    );
    zip.finish().unwrap().into_inner()
}

/// A row of cells: `'text`, a number, or `@number` for a date.
pub(crate) fn row(number: u32, cells: &[&str]) -> String {
    let mut row = format!("<row r=\"{number}\">");
    for (column, cell) in ('A'..='Z').zip(cells) {
        let at = format!("{column}{number}");
        row += &match (cell.strip_prefix('\''), cell.strip_prefix('@')) {
            _ if cell.is_empty() => String::new(),
            (Some(text), _) => {
                format!("<c r=\"{at}\" t=\"inlineStr\"><is><t>{text}</t></is></c>")
            }
            (None, Some(day)) => format!("<c r=\"{at}\" s=\"1\"><v>{day}</v></c>"),
            (None, None) => format!("<c r=\"{at}\"><v>{cell}</v></c>"),
        };
    }
    row + "</row>"
}
