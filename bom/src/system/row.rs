//! The data file as it is written; nothing but reading it.

use super::recipe::Recipe;
use super::{Adapter, Consumable, Joint, Metal, SizeRow, Sourced, SwanNeck, System};
use crate::quantity::{Length, PartSize, Size};
use crate::rating::Rating;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table {
    name: String,
    title: String,
    material: String,
    shelf: String,
    grade: Option<String>,
    metal: Metal,
    joint: Joint,
    threads: Option<String>,
    #[serde(default = "yes")]
    carries_main: bool,
    #[serde(default)]
    comes_apart: bool,
    adapter_metal: Option<Metal>,
    #[serde(default)]
    cautions: Vec<String>,
    services: String,
    alloy: Option<String>,
    stick: Length,
    kerf: Length,
    upright_spacing: Length,
    upright_free: Length,
    roughness: Roughness,
    growth: Growth,
    #[serde(default)]
    nipples: Vec<Length>,
    #[serde(default)]
    ready: Vec<Length>,
    #[serde(default)]
    ready_within: Length,
    #[serde(default)]
    tape_turns: u32,
    #[serde(default)]
    tape_roll: Length,
    pipe: Vec<Pipe>,
    fitting: Vec<Fitting>,
    #[serde(default)]
    bushing: Vec<Bushing>,
    #[serde(default)]
    adapter: Vec<AdapterRow>,
    #[serde(default)]
    saddle: Vec<Saddle>,
    #[serde(default)]
    swan_neck: Vec<SwanNeckRow>,
    #[serde(default)]
    reducing: Vec<Reducing>,
    #[serde(default)]
    lacks: BTreeSet<String>,
    #[serde(default)]
    consumable: Vec<ConsumableRow>,
    support: Vec<Support>,
    #[serde(default)]
    recipe: Vec<RecipeRow>,
    #[serde(default)]
    rating: Vec<Rating>,
}

const fn yes() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Roughness {
    mm: f64,
    source: String,
    aged_mm: Option<f64>,
    aged_source: Option<String>,
}

impl Roughness {
    /// The figure for old pipe; none where it stays as it is.
    fn aged(&self) -> Result<Option<Sourced>, String> {
        match (self.aged_mm, &self.aged_source) {
            (None, None) => Ok(None),
            (Some(mm), Some(source)) if mm >= self.mm && !source.trim().is_empty() => {
                Ok(Some(Sourced::new(mm, source.clone())))
            }
            (Some(_), Some(_)) => Err("`aged_mm` is no less than `mm` and has a source".to_owned()),
            _ => Err("`aged_mm` and `aged_source` go together".to_owned()),
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Growth {
    per_million_per_f: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pipe {
    size: Size,
    outside: Length,
    wall: Length,
    mass_lb_per_ft: f64,
    thread: Option<Size>,
    threads_per_inch: Option<f64>,
    #[serde(default)]
    wall_tolerance: Length,
    #[serde(default)]
    outside_tolerance: Length,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Fitting {
    size: Size,
    centre_to_end: Length,
    centre_to_end_45: Length,
    coupling: Length,
    make_up: Length,
    #[serde(default)]
    union: Length,
    close_nipple: Option<Length>,
    shortest: Option<Length>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bushing {
    outside: Size,
    inside: Vec<Size>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AdapterRow {
    tube: Size,
    #[serde(default)]
    male: Vec<Size>,
    #[serde(default)]
    female: Vec<Size>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Saddle {
    main: Size,
    branch: Vec<Size>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SwanNeckRow {
    size: Size,
    rise: Length,
    reach: Length,
    take_out: Length,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reducing {
    part: String,
    sizes: Vec<String>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ConsumableRow {
    part: String,
    pack: f64,
    measure: String,
    per_joint: BTreeMap<String, f64>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Support {
    size: Size,
    level: Length,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RecipeRow {
    part: String,
    ports: String,
    gives: Vec<String>,
    source: String,
}

impl RecipeRow {
    fn into_recipe(self) -> Result<Recipe, String> {
        Ok(Recipe {
            reducing: match self.ports.as_str() {
                "reducing" => true,
                "straight" => false,
                other => return Err(format!("a recipe has the ports `{other}`")),
            },
            part: self.part,
            gives: self.gives,
        })
    }
}

impl Table {
    pub(super) fn into_system(self) -> Result<System, String> {
        self.every_row_has_a_source()?;
        self.fits_its_joint()?;
        let sizes = self.sizes()?;
        let system = System {
            adapter_metal: self.adapter_metal.unwrap_or(self.metal),
            name: self.name,
            title: self.title,
            joint: self.joint,
            material: self.material,
            shelf: self.shelf,
            grade: self.grade,
            metal: self.metal,
            threads: self.threads,
            carries_main: self.carries_main,
            comes_apart: self.comes_apart,
            cautions: self.cautions,
            services: self.services,
            alloy: self.alloy,
            ratings: self.rating,
            stick: self.stick,
            kerf: self.kerf,
            upright_spacing: self.upright_spacing,
            upright_free: self.upright_free,
            aged_roughness_mm: self.roughness.aged()?,
            roughness_mm: Sourced::new(self.roughness.mm, self.roughness.source),
            growth_per_million_per_f: Sourced::new(
                self.growth.per_million_per_f,
                self.growth.source,
            ),
            nipples: self.nipples,
            ready: self.ready,
            at_hand: None,
            ready_within: self.ready_within,
            tape_turns: self.tape_turns,
            tape_roll: self.tape_roll,
            sizes,
            bushings: self
                .bushing
                .into_iter()
                .map(|row| (row.outside, row.inside))
                .collect(),
            adapters: self
                .adapter
                .into_iter()
                .map(|row| {
                    let adapter = Adapter {
                        male: row.male,
                        female: row.female,
                    };
                    (row.tube, adapter)
                })
                .collect(),
            saddles: self
                .saddle
                .into_iter()
                .flat_map(|row| row.branch.into_iter().map(move |branch| (row.main, branch)))
                .collect(),
            swan_necks: self
                .swan_neck
                .into_iter()
                .map(|row| {
                    let neck = SwanNeck {
                        rise: row.rise,
                        reach: row.reach,
                        take_out: row.take_out,
                    };
                    (row.size, neck)
                })
                .collect(),
            reducing: reducing(self.reducing)?,
            lacks: self.lacks,
            consumables: self
                .consumable
                .into_iter()
                .map(ConsumableRow::into_consumable)
                .collect::<Result<_, _>>()?,
            recipes: self
                .recipe
                .into_iter()
                .map(RecipeRow::into_recipe)
                .collect::<Result<_, _>>()?,
            sources: Vec::new(),
        };
        system.holds_together()?;
        Ok(system)
    }

    fn fits_its_joint(&self) -> Result<(), String> {
        match (self.joint, &self.threads) {
            (Joint::Threaded, Some(_)) => {
                Err("a threaded system has its own nipples: leave `threads` out".to_owned())
            }
            (Joint::Threaded, None) => Ok(()),
            (_, None) => Err(
                "`threads` is missing: the threaded system that joins the threads of devices, like \"brass\"".to_owned(),
            ),
            (_, Some(_)) if !self.nipples.is_empty() || !self.ready.is_empty() => {
                Err("`nipples` and `ready` are of threaded systems only".to_owned())
            }
            (_, Some(_)) => Ok(()),
        }
    }

    fn sizes(&self) -> Result<BTreeMap<Size, SizeRow>, String> {
        let mut sizes = BTreeMap::new();
        for pipe in &self.pipe {
            let missing = |what: &str| format!("{} has no {what} row", pipe.size);
            let fitting = self
                .fitting
                .iter()
                .find(|row| row.size == pipe.size)
                .ok_or_else(|| missing("fitting"))?;
            let support = self
                .support
                .iter()
                .find(|row| row.size == pipe.size)
                .ok_or_else(|| missing("support"))?;
            let shortest = match self.joint {
                Joint::Threaded => fitting
                    .close_nipple
                    .ok_or_else(|| missing("close_nipple in its fitting"))?,
                _ => fitting.shortest.unwrap_or(fitting.make_up.times(2)),
            };
            if pipe.wall.times(2) >= pipe.outside {
                return Err(format!("{} has no bore: its wall is too thick", pipe.size));
            }
            let row = SizeRow {
                size: pipe.size,
                outside: pipe.outside,
                wall: pipe.wall,
                mass_lb_per_ft: pipe.mass_lb_per_ft,
                thread: pipe.thread.or(match pipe.size {
                    Size::Nominal(_) => Some(pipe.size),
                    Size::Outside(_) => None,
                }),
                threads_per_inch: pipe.threads_per_inch,
                wall_tolerance: pipe.wall_tolerance,
                outside_tolerance: pipe.outside_tolerance,
                centre_to_end: fitting.centre_to_end,
                centre_to_end_45: fitting.centre_to_end_45,
                coupling: fitting.coupling,
                make_up: fitting.make_up,
                union: fitting.union,
                shortest,
                support: support.level,
                sources: [
                    pipe.source.clone(),
                    fitting.source.clone(),
                    support.source.clone(),
                ],
            };
            if sizes.insert(pipe.size, row).is_some() {
                return Err(format!("{} stands twice in `pipe`", pipe.size));
            }
        }
        if sizes.is_empty() {
            return Err("`pipe` has no rows".to_owned());
        }
        Ok(sizes)
    }

    fn every_row_has_a_source(&self) -> Result<(), String> {
        let sized = |what: &str, size: &Size| format!("the `{what}` row of {size}");
        let rows = self
            .pipe
            .iter()
            .map(|row| (sized("pipe", &row.size), &row.source))
            .chain(
                self.fitting
                    .iter()
                    .map(|row| (sized("fitting", &row.size), &row.source)),
            )
            .chain(
                self.bushing
                    .iter()
                    .map(|row| (sized("bushing", &row.outside), &row.source)),
            )
            .chain(
                self.adapter
                    .iter()
                    .map(|row| (sized("adapter", &row.tube), &row.source)),
            )
            .chain(
                self.saddle
                    .iter()
                    .map(|row| (sized("saddle", &row.main), &row.source)),
            )
            .chain(
                self.swan_neck
                    .iter()
                    .map(|row| (sized("swan_neck", &row.size), &row.source)),
            )
            .chain(
                self.support
                    .iter()
                    .map(|row| (sized("support", &row.size), &row.source)),
            )
            .chain(
                self.reducing
                    .iter()
                    .map(|row| (format!("the `reducing` row of {}", row.part), &row.source)),
            )
            .chain(
                self.consumable
                    .iter()
                    .map(|row| (format!("the `consumable` {}", row.part), &row.source)),
            )
            .chain(
                self.recipe
                    .iter()
                    .map(|row| (format!("the recipe for {}", row.part), &row.source)),
            )
            .chain([
                ("`roughness`".to_owned(), &self.roughness.source),
                ("`growth`".to_owned(), &self.growth.source),
            ]);
        for (row, source) in rows {
            if source.trim().is_empty() {
                return Err(format!("{row} has no source"));
            }
        }
        Ok(())
    }
}

impl ConsumableRow {
    fn into_consumable(self) -> Result<Consumable, String> {
        let per_joint = self
            .per_joint
            .into_iter()
            .map(|(size, amount)| {
                let size = Size::parse(&size)
                    .map_err(|error| format!("consumable {}: {error}", self.part))?;
                Ok((size, amount))
            })
            .collect::<Result<_, String>>()?;
        if self.pack.is_nan() || self.pack <= 0.0 {
            return Err(format!("consumable {}: a pack holds nothing", self.part));
        }
        Ok(Consumable {
            part: self.part,
            pack: self.pack,
            measure: self.measure,
            per_joint,
            source: self.source,
        })
    }
}

fn reducing(rows: Vec<Reducing>) -> Result<BTreeMap<String, BTreeSet<PartSize>>, String> {
    let mut made = BTreeMap::new();
    for row in rows {
        let sizes = row
            .sizes
            .iter()
            .map(|size| {
                PartSize::parse(size, false)
                    .map_err(|error| format!("`reducing` of {}: {error}", row.part))
            })
            .collect::<Result<BTreeSet<_>, String>>()?;
        made.insert(row.part, sizes);
    }
    Ok(made)
}
