//! Reads an SVG again.

use quick_xml::events::Event;
use quick_xml::{Reader, XmlVersion};
use std::fmt::Write as _;

/// What stands in a file.
#[derive(Debug, Default)]
pub(crate) struct Read {
    pub(crate) ids: Vec<String>,
    /// What each `<text>` says.
    pub(crate) texts: Vec<String>,
    /// The classes of groups.
    pub(crate) classes: Vec<String>,
    /// What `<title>` and `<desc>` say.
    pub(crate) titles: Vec<String>,
}

/// Reads a well-formed SVG, and stops at everything that is wrong with it.
pub(crate) fn svg(text: &str) -> Read {
    let illegal = |sign: char| {
        sign < ' ' && sign != '\n' || ('\u{fffe}'..).contains(&sign) && sign < '\u{10000}'
    };
    assert!(!text.contains(illegal), "XML cannot hold this: {text}");
    let mut reader = Reader::from_str(text);
    reader.config_mut().expand_empty_elements = true;
    let mut read = Read::default();
    let mut open: Vec<String> = Vec::new();
    let mut said = String::new();
    loop {
        match reader.read_event().unwrap() {
            Event::Start(tag) => {
                let name = tag.name();
                open.push(name.as_ref().to_owned());
                said.clear();
                for attribute in tag.attributes() {
                    let attribute = attribute.unwrap();
                    let value = attribute.normalized_value(XmlVersion::Explicit1_0).unwrap();
                    match attribute.key.as_ref() {
                        "id" => read.ids.push(value.into_owned()),
                        "class" => read.classes.push(value.into_owned()),
                        key => is_of_its_kind(key, &value),
                    }
                }
            }
            Event::Text(text) => said += &text.xml10_content(),
            Event::GeneralRef(sign) => {
                let name: &str = &sign;
                said += quick_xml::escape::resolve_xml_entity(name).unwrap();
            }
            Event::End(_) => match open.pop().unwrap().as_str() {
                "text" => read.texts.push(std::mem::take(&mut said)),
                "title" | "desc" => read.titles.push(std::mem::take(&mut said)),
                "svg" | "g" | "path" | "circle" | "rect" => {}
                other => panic!("<{other}>"),
            },
            Event::Decl(_) => {}
            Event::Eof => break,
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(open, [""; 0]);
    read
}

/// Figures are figures with two decimals at most; nothing asks for another file.
fn is_of_its_kind(key: &str, value: &str) {
    let figures = match key {
        "d" | "viewBox" | "points" | "stroke-dasharray" => value.to_owned(),
        "transform" => {
            let turn = value.strip_prefix("rotate(").unwrap();
            turn.strip_suffix(')').unwrap().to_owned()
        }
        "width" | "height" => value.trim_end_matches("mm").to_owned(),
        "x" | "y" | "cx" | "cy" | "r" | "textLength" | "font-size" | "stroke-width" => {
            value.to_owned()
        }
        "xmlns" | "role" | "aria-labelledby" | "xml:space" | "fill" | "stroke" | "color"
        | "stroke-linecap" | "stroke-linejoin" | "font-family" | "font-weight" | "text-anchor"
        | "lengthAdjust" => return assert!(!value.contains("url("), "{value}"),
        other => panic!("{other}=\"{value}\""),
    };
    // Letters of a path, signs, and second points begin figures.
    let mut apart = String::new();
    for sign in figures.chars() {
        let last = apart.rsplit(' ').next().unwrap_or_default();
        let begins = sign == '-' || sign == '.' && last.contains('.');
        match sign {
            'M' | 'l' | 'h' | 'v' | 'z' if key == "d" => apart.push(' '),
            _ if begins => write!(apart, " {sign}").unwrap(),
            _ => apart.push(sign),
        }
    }
    for figure in apart.split_whitespace() {
        let number: f64 = figure
            .parse()
            .unwrap_or_else(|_| panic!("{key}=\"{value}\""));
        assert!(number.is_finite() && figure != "-0", "{key}=\"{value}\"");
        let decimals = figure.split_once('.').map_or("", |(_, decimals)| decimals);
        assert!(decimals.len() <= 2, "{key}=\"{value}\"");
    }
}
