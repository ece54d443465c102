use super::{millimetres, print};
use bom::library::Library;
use bom::library::refused::Refused;
use bom::quantity::{Pressure, Size};
use bom::rating::{Item, Rating};
use bom::system::{SizeRow, System};
use serde_json::{Map, Value, json};
use std::io::{self, Write};

/// The systems in a few facts each, and what is refused.
///
/// # Errors
/// What the writer says.
pub fn systems(library: &Library, out: &mut dyn Write) -> io::Result<()> {
    let systems: Vec<Value> = library
        .systems()
        .iter()
        .map(|system| {
            json!({
                "name": system.name,
                "title": system.title,
                "joint": system.joint.word(),
                "metal": system.metal.word(),
                "carries_main": system.carries_main,
                "sizes": system.sizes().map(|row| row.size.to_string()).collect::<Vec<_>>(),
                "stick_mm": millimetres(system.stick),
            })
        })
        .collect();
    let refused: Vec<Value> = library.refused().iter().map(said_of).collect();
    print(&json!({ "systems": systems, "refused": refused }), out)
}

/// What is said of a refused pipe.
///
/// # Errors
/// What the writer says.
pub fn refused(refused: &Refused, out: &mut dyn Write) -> io::Result<()> {
    print(&json!({ "refused": said_of(refused) }), out)
}

fn said_of(refused: &Refused) -> Value {
    let water: Vec<Value> = refused
        .water
        .iter()
        .map(|rating| json!({ "kpa": rating.pressure.kpa(), "celsius": rating.temperature.celsius() }))
        .collect();
    json!({
        "name": refused.name,
        "words": refused.words,
        "at_any_pressure": refused.never,
        "happens": refused.happens,
        "why": refused.why,
        "water_ratings": water,
        "bulletins": refused.bulletins,
        "alternatives": refused.alternatives,
        "source": refused.source,
    })
}

/// One system with all its rows.
///
/// # Errors
/// What the writer says.
pub fn system(system: &System, out: &mut dyn Write) -> io::Result<()> {
    let sizes: Vec<Value> = system.sizes().map(size).collect();
    let bushings: Vec<Value> = system
        .bushing_rows()
        .map(|(outside, inside)| json!({ "outside": outside.to_string(), "inside": names(inside) }))
        .collect();
    let adapters: Vec<Value> = system
        .adapter_rows()
        .map(|(tube, male, female)| {
            json!({ "tube": tube.to_string(), "male": names(male), "female": names(female) })
        })
        .collect();
    let saddles: Vec<Value> = system
        .saddle_rows()
        .iter()
        .map(|(main, branch)| json!({ "main": main.to_string(), "branch": names(branch) }))
        .collect();
    let swan_necks: Vec<Value> = system
        .swan_neck_rows()
        .map(|(size, neck)| {
            json!({
                "size": size.to_string(),
                "rise_mm": millimetres(neck.rise),
                "reach_mm": millimetres(neck.reach),
                "take_out_mm": millimetres(neck.take_out),
            })
        })
        .collect();
    let reducing: Map<String, Value> = system
        .reducing_rows()
        .map(|(part, sizes)| {
            let sizes: Vec<String> = sizes.map(|size| size.to_string()).collect();
            (part.to_owned(), json!(sizes))
        })
        .collect();
    let consumables: Vec<Value> = system
        .consumables
        .iter()
        .map(|consumable| {
            let per_joint: Map<String, Value> = consumable
                .per_joint
                .iter()
                .map(|(size, amount)| (size.to_string(), json!(amount)))
                .collect();
            json!({
                "part": consumable.part,
                "pack": consumable.pack,
                "measure": consumable.measure,
                "per_joint": per_joint,
            })
        })
        .collect();
    let ratings: Vec<Value> = system
        .ratings
        .iter()
        .map(|rating| rated(rating, system))
        .collect();
    let sources: Vec<Value> = system
        .sources()
        .iter()
        .map(|row| json!({ "table": row.table, "row": row.row, "source": row.source }))
        .collect();
    let lengths = |lengths: &[_]| -> Vec<Value> {
        let lengths = lengths.iter().copied();
        lengths.map(millimetres).collect()
    };
    let value = json!({
        "name": system.name,
        "title": system.title,
        "material": system.material,
        "metal": system.metal.word(),
        "adapter_metal": system.adapter_metal.word(),
        "joint": system.joint.word(),
        "threads": system.threads,
        "alloy": system.alloy,
        "carries_main": system.carries_main,
        "comes_apart": system.comes_apart,
        "services": system.services,
        "cautions": system.cautions,
        "stick_mm": millimetres(system.stick),
        "kerf_mm": millimetres(system.kerf),
        "upright_spacing_mm": millimetres(system.upright_spacing),
        "upright_free_mm": millimetres(system.upright_free),
        "roughness_mm": system.roughness_mm.value,
        "growth_per_million_per_f": system.growth_per_million_per_f.value,
        "nipples_mm": lengths(&system.nipples),
        "ready_mm": lengths(&system.ready),
        "sizes": sizes,
        "bushings": bushings,
        "adapters": adapters,
        "saddles": saddles,
        "swan_necks": swan_necks,
        "reducing": reducing,
        "lacks": system.lacks().collect::<Vec<_>>(),
        "consumables": consumables,
        "ratings": ratings,
        "sources": sources,
    });
    print(&value, out)
}

fn size(row: &SizeRow) -> Value {
    let [pipe, fitting, support] = &row.sources;
    json!({
        "size": row.size.to_string(),
        "outside_mm": millimetres(row.outside),
        "wall_mm": millimetres(row.wall),
        "bore_mm": millimetres(row.bore()),
        "mass_lb_per_ft": row.mass_lb_per_ft,
        "thread": row.thread.map(|size| size.to_string()),
        "threads_per_inch": row.threads_per_inch,
        "wall_tolerance_mm": millimetres(row.wall_tolerance),
        "outside_tolerance_mm": millimetres(row.outside_tolerance),
        "centre_to_end_mm": millimetres(row.centre_to_end),
        "centre_to_end_45_mm": millimetres(row.centre_to_end_45),
        "coupling_mm": millimetres(row.coupling),
        "make_up_mm": millimetres(row.make_up),
        "union_mm": millimetres(row.union),
        "shortest_mm": millimetres(row.shortest),
        "support_mm": millimetres(row.support),
        "sources": { "pipe": pipe, "fitting": fitting, "support": support },
    })
}

fn rated(rating: &Rating, system: &System) -> Value {
    let carries: Vec<Value> = system
        .sizes()
        .flat_map(|row| {
            let steps = rating.by_temperature(row).into_iter();
            steps.map(|(temperature, psi)| {
                json!({
                    "size": row.size.to_string(),
                    "celsius": temperature.celsius(),
                    "kpa": Pressure::from_psi(psi).kpa(),
                })
            })
        })
        .collect();
    json!({
        "item": match rating.item {
            Item::Pipe => "pipe",
            Item::Fitting => "fitting",
            Item::Joint => "joint",
        },
        "words": rating.words,
        "alloy": rating.alloy,
        "used": !rating.shown,
        "carries": carries,
        "source": rating.source,
    })
}

fn names(sizes: &[Size]) -> Vec<String> {
    sizes.iter().map(Size::to_string).collect()
}
