//! How a level is laid on paper: which scale, upright or lying, where its list goes,
//! and in how many parts.

use super::super::Scene;
use super::super::shape::{Area, At};
use super::foot::Foot;
use super::ground::Ground;
use super::level::Level;
use super::scale::{Scale, scales};
use super::view::View;

/// Round the window of a part, for labels that reach beyond it.
const EDGE: f64 = 5.0;
/// Between the plan and its list.
const APART: f64 = 4.0;
/// As many parts as a level is split into.
const MOST: usize = 36;

/// A way to lay a level on paper.
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub(super) scale: Scale,
    pub(super) width: f64,
    pub(super) height: f64,
    /// One for each sheet, row by row.
    pub(super) views: Vec<View>,
    /// How many stand in a row.
    pub(super) columns: usize,
    /// Where the foot stands, and how wide it is.
    pub(super) foot: (At, f64),
    /// Where the list stands, if it does.
    pub(super) table: Option<At>,
    /// Whether outlets have their names.
    pub(super) names: bool,
    /// Whether signs and notes stand on the list's sheet.
    pub(super) bare: bool,
}

/// The ways to lay a level on paper, the best first.
pub(super) fn layouts(
    scene: &Scene<'_>,
    level: &Level,
    foot: &Foot,
    table: Option<(f64, f64)>,
) -> Option<Vec<Layout>> {
    let ground = Ground::of(scene, level)?;
    let field = &scene.field;
    let lying = ground.across >= ground.down;
    let mut papers = [
        (field.lying_width, field.lying_height),
        (field.width, field.height),
    ];
    if !lying {
        papers.reverse();
    }
    let scales = scales(scene.plan.network.units);
    let what = What {
        scene,
        level,
        ground: &ground,
    };
    let sheets = |bare: bool| -> Vec<Paper> {
        let papers = papers.iter();
        papers
            .flat_map(|(width, height)| foot.places(*width, *height, bare))
            .collect()
    };
    let mut layouts = Vec::new();
    for bare in [false, true] {
        let sheets = sheets(bare);
        let whole = sheets.iter();
        let whole = whole.filter_map(|sheet| what.whole(&scales, table.filter(|_| !bare), sheet));
        // The larger scale, then the one with its list; of equals the first.
        let best = whole.min_by(|a, b| {
            let listed = |one: &Layout| one.table.is_none();
            let larger = a.scale.per.total_cmp(&b.scale.per);
            larger.then(listed(a).cmp(&listed(b)))
        });
        if let Some(best) = best {
            let numbered = Layout {
                names: false,
                ..best.clone()
            };
            layouts.extend([best, numbered]);
        }
    }
    let base = layouts.last().map(|one: &Layout| one.scale.per)?;
    let sheets = sheets(true);
    for scale in scales.iter().rev().filter(|scale| scale.per < base) {
        for names in [true, false] {
            let split = sheets.iter().map(|sheet| what.split(scale, sheet, names));
            layouts.extend(split.min_by_key(|one| one.views.len()));
        }
    }
    layouts.retain(|one| one.views.len() <= MOST);
    Some(layouts)
}

/// A sheet of paper with its foot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paper {
    pub(super) width: f64,
    pub(super) height: f64,
    /// Where the foot stands, and how wide it is.
    pub(super) foot: (At, f64),
    /// Whether that foot is north and scale alone.
    pub(super) bare: bool,
    /// What is left for the plan.
    pub(super) room: Area,
}

struct What<'a> {
    scene: &'a Scene<'a>,
    level: &'a Level,
    ground: &'a Ground,
}

impl What<'_> {
    /// The whole level on one sheet, at the largest scale at which it fits.
    fn whole(&self, scales: &[Scale], table: Option<(f64, f64)>, sheet: &Paper) -> Option<Layout> {
        let room = sheet.room;
        let paper = |scale: &Scale| self.ground.paper(self.scene, self.level, scale.per);
        let fits = |scale: &&Scale| {
            let paper = paper(scale);
            paper.width() <= room.width() && paper.height() <= room.height()
        };
        let scale = scales.iter().find(fits)?;
        let paper = paper(scale);
        let mut board = room;
        let mut place = None;
        if let Some((across, down)) = table {
            if across <= room.width() && paper.height() + down + APART <= room.height() {
                board.bottom -= down + APART;
                place = Some(At::new(room.left, board.bottom + APART / 2.0));
            } else if paper.width() + across + APART <= room.width() && down <= room.height() {
                board.right -= across + APART;
                place = Some(At::new(board.right + APART, 1.0));
            }
        }
        let view = self.view(scale, &board, &board, &paper);
        Some(Layout {
            views: vec![view],
            columns: 1,
            table: place,
            ..sheet.laid(scale, true)
        })
    }

    /// A level in equal parts, at a scale; more than ever drawn if there are too many.
    fn split(&self, scale: &Scale, sheet: &Paper, names: bool) -> Layout {
        let window = sheet.room.grown(-EDGE);
        let paper = self.ground.paper(self.scene, self.level, scale.per);
        let count = |long: f64, step: f64| (1..=MOST).find(|count| steps(*count, step) >= long);
        let columns = count(paper.width(), window.width()).unwrap_or(MOST + 1);
        let rows = count(paper.height(), window.height()).unwrap_or(MOST + 1);
        // All windows are equally full.
        let share = |long: f64, count: usize| {
            (1..)
                .zip(0..count)
                .fold(long, |_, (n, _)| long / f64::from(n))
        };
        let window = Area {
            right: window.left + share(paper.width(), columns),
            bottom: window.top + share(paper.height(), rows),
            ..window
        };
        let whole = Area {
            right: window.left + paper.width(),
            bottom: window.top + paper.height(),
            ..window
        };
        let first = self.view(scale, &whole, &window, &paper);
        let mut views = Vec::new();
        for number in 0..(columns * rows).min(MOST + 1) {
            let x = steps(number % columns, window.width());
            let y = steps(number / columns, window.height());
            let origin = first.origin.by(-x, -y);
            views.push(View { origin, ..first });
        }
        Layout {
            views,
            columns,
            ..sheet.laid(scale, names)
        }
    }

    /// A window on the ground, which stands in the middle of an area.
    fn view(&self, scale: &Scale, middle: &Area, window: &Area, paper: &Area) -> View {
        let left = middle.left + (middle.width() - paper.width()) / 2.0 - paper.left;
        let top = middle.top + (middle.height() - paper.height()) / 2.0 - paper.top;
        let (west, north) = (self.ground.west / scale.per, self.ground.north / scale.per);
        View {
            origin: At::new(left - west, top + north),
            per: scale.per,
            window: *window,
            board: *window,
        }
    }
}

impl Paper {
    fn laid(&self, scale: &Scale, names: bool) -> Layout {
        Layout {
            scale: scale.clone(),
            width: self.width,
            height: self.height,
            views: Vec::new(),
            columns: 1,
            foot: self.foot,
            table: None,
            names,
            bare: self.bare,
        }
    }
}

fn steps(count: usize, step: f64) -> f64 {
    (0..count).map(|_| step).sum()
}
