//! The data file as it is written; nothing but reading it.

use super::recipe::Recipe;
use super::{Joint, SizeRow, System};
use crate::quantity::{Length, Size};
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table {
    name: String,
    title: String,
    material: String,
    shelf: String,
    joint: Joint,
    stick: Length,
    kerf: Length,
    upright_spacing: Length,
    upright_free: Length,
    nipples: Vec<Length>,
    ready: Vec<Length>,
    ready_within: Length,
    tape_turns: u32,
    tape_roll: Length,
    pipe: Vec<Pipe>,
    fitting: Vec<Fitting>,
    bushing: Vec<Bushing>,
    support: Vec<Support>,
    recipe: Vec<RecipeRow>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pipe {
    size: Size,
    outside: Length,
    wall: Length,
    mass_lb_per_ft: f64,
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
    union: Length,
    close_nipple: Length,
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
        if self.source.trim().is_empty() {
            return Err(format!("the recipe for {} has no source", self.part));
        }
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
            let row = SizeRow {
                size: pipe.size,
                outside: pipe.outside,
                wall: pipe.wall,
                mass_lb_per_ft: pipe.mass_lb_per_ft,
                centre_to_end: fitting.centre_to_end,
                centre_to_end_45: fitting.centre_to_end_45,
                coupling: fitting.coupling,
                make_up: fitting.make_up,
                union: fitting.union,
                close_nipple: fitting.close_nipple,
                support: support.level,
            };
            if sizes.insert(pipe.size, row).is_some() {
                return Err(format!("{} stands twice in `pipe`", pipe.size));
            }
        }
        let bushings = self
            .bushing
            .into_iter()
            .map(|row| (row.outside, row.inside))
            .collect();
        Ok(System {
            name: self.name,
            title: self.title,
            joint: self.joint,
            material: self.material,
            shelf: self.shelf,
            stick: self.stick,
            kerf: self.kerf,
            upright_spacing: self.upright_spacing,
            upright_free: self.upright_free,
            nipples: self.nipples,
            ready: self.ready,
            at_hand: None,
            ready_within: self.ready_within,
            tape_turns: self.tape_turns,
            tape_roll: self.tape_roll,
            sizes,
            bushings,
            recipes: self
                .recipe
                .into_iter()
                .map(RecipeRow::into_recipe)
                .collect::<Result<_, _>>()?,
        })
    }

    fn every_row_has_a_source(&self) -> Result<(), String> {
        let pipe = self.pipe.iter().map(|row| (&row.size, &row.source));
        let fitting = self.fitting.iter().map(|row| (&row.size, &row.source));
        let bushing = self.bushing.iter().map(|row| (&row.outside, &row.source));
        let support = self.support.iter().map(|row| (&row.size, &row.source));
        for (size, source) in pipe.chain(fitting).chain(bushing).chain(support) {
            if source.trim().is_empty() {
                return Err(format!("a row of {size} has no source"));
            }
        }
        Ok(())
    }
}
