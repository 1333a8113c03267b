//! The form of one step: what it is done with, its grit, how it is put on, and the wait after it.

use maud::{Markup, html};
use quantity::Minutes;
use shop::Shop;
use shop::bench::BenchRefusal;
use shop::by_hand::{materials_for, usual_step};
use shop::model::{LONGEST_WAIT_MIN, OwnStep};
use trade::methods::Method;
use trade::{Grit, Material, Operation};

use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};

/// How a coat may be put on at a small bench.
const METHODS: [Method; 5] = [
    Method::Brush,
    Method::Pad,
    Method::Roller,
    Method::Hvlp,
    Method::AerosolCan,
];

/// Reads a step of this operation.
pub(super) fn read(operation: Operation, typed: &Typed) -> Result<OwnStep, BenchRefusal> {
    let step = OwnStep {
        material: said(typed, "material", Material::parse)?,
        grit: said(typed, "grit", Grit::parse)?,
        method: said(typed, "method", Method::parse)?,
        wet: typed.is_ticked("wet"),
        wait_min: wait(typed)?,
        ..OwnStep::of(operation)
    };
    step.checked()
        .map_err(|(limit, right)| refusal("material", operation.label(), limit, right))?;
    Ok(step)
}

/// Reads a new step; what is left open is filled in as is usual for its operation.
pub(super) fn read_new(shop: &Shop, steps: &[OwnStep], typed: &Typed) -> Result<OwnStep, BenchRefusal> {
    let Some(operation) = said(typed, "operation", Operation::parse)? else {
        return Err(refusal(
            "operation",
            "nothing",
            "a step is some operation".to_owned(),
            "one of the list".to_owned(),
        ));
    };
    let usual = usual_step(shop, steps, operation);
    let step = OwnStep {
        material: said(typed, "material", Material::parse)?.or(usual.material),
        grit: said(typed, "grit", Grit::parse)?.or(usual.grit),
        wet: typed.is_ticked("wet"),
        wait_min: wait(typed)?,
        ..OwnStep::of(operation)
    };
    step.checked()
        .map_err(|(limit, right)| refusal("material", typed.text("material"), limit, right))?;
    Ok(step)
}

fn said<T, E: std::fmt::Display>(
    typed: &Typed,
    field: &str,
    parse: fn(&str) -> Result<T, E>,
) -> Result<Option<T>, BenchRefusal> {
    let text = typed.text(field);
    if text.is_empty() {
        return Ok(None);
    }
    let read = parse(text).map_err(|unknown| refusal(field, text, unknown.to_string(), "one of the list".to_owned()));
    read.map(Some)
}

fn wait(typed: &Typed) -> Result<Option<u32>, BenchRefusal> {
    let text = typed.text("wait");
    if text.is_empty() {
        return Ok(None);
    }
    let right = || "a time such as 45 min, 4 h or 2 days, or nothing for the table's".to_owned();
    let minutes = Minutes::parse(text).map_err(|why| refusal("wait", text, why.to_string(), right()))?;
    u32::try_from(minutes.get())
        .ok()
        .filter(|wait_min| *wait_min <= LONGEST_WAIT_MIN)
        .map(Some)
        .ok_or_else(|| refusal("wait", text, "a wait is from nothing to a year".to_owned(), right()))
}

fn refusal(field: &str, found: &str, limit: String, right: String) -> BenchRefusal {
    BenchRefusal {
        field: field.to_owned(),
        found: found.to_owned(),
        limit,
        right,
    }
}

/// What a step holds, as its form shows it.
pub(super) fn typed_of(step: &OwnStep) -> Typed {
    let mut typed = Typed::default();
    typed.set("material", step.material.map_or("", |material| material.id()));
    typed.set("grit", step.grit.map_or("", |grit| grit.id()));
    typed.set("method", step.method.map_or("", |method| method.id()));
    if step.wet {
        typed.set("wet", "yes");
    }
    typed.set(
        "wait",
        step.wait_min
            .map(|wait_min| format!("{wait_min} min"))
            .unwrap_or_default(),
    );
    typed
}

/// The fields of a step of a known operation: only those that mean something for it.
pub(super) fn fields(form: &str, operation: Operation, typed: &Typed) -> Markup {
    let fields = Fields { form, typed };
    let mut materials: Vec<(String, Vec<Choice>)> = Vec::new();
    if !finish::needs_material(operation) {
        let without = if operation == Operation::Rinse {
            "water"
        } else {
            "nothing further"
        };
        materials.push((String::new(), vec![(String::new(), without.to_owned())]));
    }
    let offered = materials_for(operation);
    materials.extend(
        offered
            .iter()
            .map(|(kind, members)| ((*kind).to_owned(), choices(members))),
    );
    html! {
        div.three {
            @if !offered.is_empty() { (fields.select_of("material", "With", "", &materials)) }
            @if finish::takes_grit(operation) {
                (fields.select("grit", "Grit", "", &grits("none")))
                (fields.tick("wet", "Wet, so that no dust flies"))
            }
            @if operation.is_coating() { (fields.select("method", "How put on", "", &methods())) }
            (fields.text("wait", "Wait after it", "empty: as the tables say"))
        }
    }
}

/// The fields of a step whose operation is still to be said.
pub(super) fn new_fields(form: &str, typed: &Typed) -> Markup {
    let fields = Fields { form, typed };
    let operations: Vec<Choice> = Operation::EVERY
        .iter()
        .map(|operation| (operation.id().to_owned(), operation.label().to_owned()))
        .collect();
    let mut materials = vec![(String::new(), vec![(String::new(), "as usual for it".to_owned())])];
    let mut kinds: Vec<(&'static str, Vec<Material>)> = Vec::new();
    for (kind, members) in Operation::EVERY.iter().flat_map(|operation| materials_for(*operation)) {
        match kinds.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, all)) => {
                for member in members {
                    if !all.contains(&member) {
                        all.push(member);
                    }
                }
            }
            None => kinds.push((kind, members)),
        }
    }
    materials.extend(
        kinds
            .iter()
            .map(|(kind, members)| ((*kind).to_owned(), choices(members))),
    );
    html! {
        div.three {
            (fields.select("operation", "What is done", "", &operations))
            (fields.select_of("material", "With", "", &materials))
            (fields.select("grit", "Grit", "", &grits("as usual for it")))
            (fields.text("wait", "Wait after it", "empty: as the tables say"))
        }
        (fields.tick("wet", "Abraded wet, so that no dust flies"))
    }
}

fn choices(materials: &[Material]) -> Vec<Choice> {
    let each = materials.iter();
    each.map(|material| (material.id().to_owned(), material.label().to_owned()))
        .collect()
}

fn grits(open: &str) -> Vec<Choice> {
    let none = (String::new(), open.to_owned());
    let each = finish::GRITS
        .iter()
        .map(|grit| (grit.id().to_owned(), grit.id().to_owned()));
    std::iter::once(none).chain(each).collect()
}

fn methods() -> Vec<Choice> {
    let usual = (String::new(), "as is usual".to_owned());
    let each = METHODS
        .iter()
        .map(|method| (method.id().to_owned(), method.label().to_owned()));
    std::iter::once(usual).chain(each).collect()
}
