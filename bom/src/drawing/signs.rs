//! All signs that drawings use, with their names and where they are from.

use super::shape::{Area, At, Shape, Stroke};
use super::text::{Text, TextSize, wrap};
use super::{Layer, Mark, Scene, Sheet, Symbol, symbols};

/// From one row to the next, unless its sources take more lines.
const ROW: f64 = 9.0;
/// The room of the heads.
const HEAD: f64 = 7.5;
/// Where the signs' middles, their names and their sources stand.
const SIGN: f64 = 11.0;
const NAME: f64 = 23.0;
const SOURCE: f64 = 62.0;

/// Says what each sign stands for, and by what standard; on more sheets where one is
/// full.
#[must_use]
pub fn signs(scene: &Scene<'_>) -> Vec<Sheet> {
    let field = scene.field;
    let mut sheets: Vec<Vec<Mark>> = Vec::new();
    let mut down = f64::INFINITY;
    let mut named: Vec<(&String, &Symbol)> = symbols().iter().collect();
    named.sort_by_key(|(_, symbol)| &symbol.words);
    for (name, symbol) in named {
        let (mark, height) = row(name, symbol, field.width);
        if down + height > field.height {
            sheets.push(vec![heads(field.width)]);
            down = HEAD;
        }
        if let Some(sheet) = sheets.last_mut() {
            sheet.push(mark.moved(0.0, down));
        }
        down += height;
    }
    let several = sheets.len() > 1;
    let numbered = sheets.into_iter().enumerate();
    numbered
        .map(|(number, marks)| sheet(marks, several.then_some(number + 1), field.width))
        .collect()
}

fn sheet(marks: Vec<Mark>, number: Option<usize>, width: f64) -> Sheet {
    let (id, title) = match number {
        None => ("signs".to_owned(), "Signs".to_owned()),
        Some(number) => (format!("signs-{number}"), format!("Signs, sheet {number}")),
    };
    let areas = marks.iter().flat_map(|mark| &mark.shapes);
    let areas = areas.filter_map(Shape::area).map(|area| area.bottom);
    let height = areas.fold(0.0, f64::max) + 1.0;
    let names: Vec<&str> = marks
        .iter()
        .filter_map(|mark| mark.title.as_deref())
        .collect();
    Sheet {
        id,
        title,
        about: format!(
            "What each sign of the drawings stands for, and by what standard: {}.",
            names.join(", ")
        ),
        width,
        height,
        marks,
    }
}

fn heads(width: f64) -> Mark {
    let head = |x, words| Shape::Text(Text::new(At::new(x, 3.0), TextSize::Small, words).bold());
    let rule = vec![At::new(0.0, 5.0), At::new(width, 5.0)];
    Mark::new(
        Layer::Note,
        vec![
            head(0.0, "Sign"),
            head(NAME, "What it stands for"),
            head(SOURCE, "In the manner of"),
            Shape::line(Stroke::NARROW, rule),
        ],
    )
}

/// A sign with the pipe that comes to it, its name, and its sources; and how tall that
/// is.
fn row(name: &str, symbol: &Symbol, width: f64) -> (Mark, f64) {
    let size = TextSize::Small;
    let sources = symbol.sources.iter().filter(|one| says_more(one, symbol));
    let lines = sources.flat_map(|source| wrap(source, size, false, width - SOURCE));
    let mut down = (ROW - size.leading()) / 2.0;
    let mut texts = Vec::new();
    for line in lines {
        let at = At::new(SOURCE, down + 0.8 * size.mm());
        texts.push(Shape::Text(Text::new(at, size, line)));
        down += size.leading();
    }
    let height = (down + 1.5).max(ROW);
    let middle = At::new(SIGN, ROW / 2.0);
    let mut shapes = symbol.drawn(middle, (1.0, 0.0), (0.0, 1.0));
    let own = shapes.iter().filter_map(Shape::area);
    let left = own.map(|area: Area| area.left).fold(middle.x, f64::min);
    let begins = At::new(SIGN - 8.0, middle.y);
    let pipe = vec![begins, At::new(left.max(begins.x), middle.y)];
    shapes.insert(0, Shape::line(Stroke::WIDE, pipe));
    let named = TextSize::Plain;
    let baseline = At::new(NAME, middle.y + 0.365 * named.mm());
    shapes.push(Shape::Text(
        Text::new(baseline, named, &*symbol.words).bold(),
    ));
    shapes.extend(texts);
    let id = format!("sign-{name}");
    (Mark::named(Layer::Note, &id, &symbol.words, shapes), height)
}

/// Whether a source says more than the standard that another one names as well.
fn says_more(source: &str, symbol: &Symbol) -> bool {
    let standard = source.strip_suffix(", from memory").unwrap_or(source);
    let mut others = symbol.sources.iter().filter(|other| *other != source);
    !others.any(|other| other.starts_with(standard))
}

#[cfg(test)]
mod tests {
    use crate::drawing::{Field, Scene, collisions, signs, symbols};
    use crate::library::Library;
    use crate::source::Source;

    #[test]
    fn every_sign_stands_on_a_sheet_and_is_read() {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../../catalogs-demo/garage.toml");
        let (plan, _) = crate::plan(&Source::new("garage.toml", job), &library);
        let plan = plan.unwrap();
        let mut field = Field::COMMON;
        for (height, count) in [(field.height, 2), (100.0, 4)] {
            field.height = height;
            let sheets = signs(&Scene {
                plan: &plan,
                library: &library,
                field,
            });
            assert_eq!(sheets.len(), count);
            let marks = sheets.iter().flat_map(|sheet| &sheet.marks);
            let titles: Vec<&str> = marks.filter_map(|mark| mark.title.as_deref()).collect();
            let mut words: Vec<&str> = symbols().values().map(|one| &*one.words).collect();
            words.sort_unstable();
            assert_eq!(titles, words);
            for sheet in &sheets {
                assert_eq!(collisions(sheet), [], "{}", sheet.id);
                assert!(sheet.height <= height, "{}", sheet.height);
            }
        }
    }
}
