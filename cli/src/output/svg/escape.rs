//! Any text as text of XML.

use std::borrow::Cow;

/// The text with the signs of XML written out; what XML cannot hold becomes `?`.
pub(super) fn escaped(text: &str) -> Cow<'_, str> {
    if !text.contains(|character| sign(character).is_some()) {
        return Cow::Borrowed(text);
    }
    let mut escaped = String::with_capacity(text.len() + 16);
    for character in text.chars() {
        match sign(character) {
            Some(sign) => escaped += sign,
            None => escaped.push(character),
        }
    }
    Cow::Owned(escaped)
}

const fn sign(character: char) -> Option<&'static str> {
    match character {
        '&' => Some("&amp;"),
        '<' => Some("&lt;"),
        '>' => Some("&gt;"),
        '"' => Some("&quot;"),
        '\t' | '\n' | '\r' => Some(" "),
        // XML 1.0, section 2.2: these stand in no document, written out or not.
        '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => Some("?"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn every_text_is_a_text_of_xml() {
        assert_eq!(escaped("Saw 3 / Пила"), "Saw 3 / Пила");
        assert_eq!(
            escaped("<b>&\"it's\"\u{7}\u{fffe}\n"),
            "&lt;b&gt;&amp;&quot;it's&quot;?? "
        );
    }
}
