//! An act: a step in the small form that the simulation and the search work with.

use trade::methods::Method;
use trade::{FinishClass, Grit, Material, Operation, PrepClass};

use crate::step::{Step, WaitKind};

/// One operation with everything the state depends on. Copied freely; turned into a [`Step`] only for the schedules shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Act {
    pub(crate) op: Operation,
    pub(crate) material: Option<Material>,
    pub(crate) grit: Option<Grit>,
    pub(crate) method: Option<Method>,
    pub(crate) wet: bool,
    pub(crate) hands_on_min: u32,
    pub(crate) wait_kind: WaitKind,
    pub(crate) wait_min: u32,
    /// Longest wait, where the next step depends on it.
    pub(crate) wait_max: Option<u32>,
    /// Start of the second window.
    pub(crate) wait_or_after: Option<u32>,
}

impl Act {
    pub(crate) const fn of(op: Operation) -> Self {
        Self {
            op,
            material: None,
            grit: None,
            method: None,
            wet: false,
            hands_on_min: 0,
            wait_kind: WaitKind::Dry,
            wait_min: 0,
            wait_max: None,
            wait_or_after: None,
        }
    }

    pub(crate) const fn prep(op: Operation, class: PrepClass) -> Self {
        let mut act = Self::of(op);
        act.material = Some(Material::Prep(class));
        act
    }

    pub(crate) const fn coat(op: Operation, class: FinishClass, method: Method) -> Self {
        let mut act = Self::of(op);
        act.material = Some(Material::Finish(class));
        act.method = Some(method);
        act
    }

    pub(crate) const fn abrade(op: Operation, grit: Grit, wet: bool) -> Self {
        let mut act = Self::of(op);
        act.grit = Some(grit);
        act.wet = wet;
        act
    }

    pub(crate) fn finish(&self) -> Option<FinishClass> {
        self.material.and_then(Material::finish)
    }

    pub(crate) fn prep_class(&self) -> Option<PrepClass> {
        self.material.and_then(Material::prep)
    }

    /// Whether it puts a finish class on the whole zone as a coat.
    pub(crate) fn is_full_coat(&self) -> bool {
        self.finish().is_some() && self.op.is_coating() && self.op != Operation::SpotPrime
    }

    pub(crate) const fn is_sprayed(&self) -> bool {
        matches!(
            self.method,
            Some(
                Method::Hvlp
                    | Method::AirAssistedAirless
                    | Method::Airless
                    | Method::ConventionalAir
                    | Method::Electrostatic
                    | Method::AerosolCan
            )
        )
    }

    pub(crate) fn is_abrasive(&self) -> bool {
        self.op.is_dusty()
    }
}

impl From<&Step> for Act {
    fn from(step: &Step) -> Self {
        let wait = step.wait;
        Self {
            op: step.operation,
            material: step.material,
            grit: step.grit,
            method: step.method.or_else(|| usual_method(step)),
            wet: step.wet,
            hands_on_min: step.hands_on_min,
            wait_kind: wait.map_or(WaitKind::Dry, |wait| wait.kind),
            wait_min: wait.map_or(0, |wait| wait.min_min),
            wait_max: wait.and_then(|wait| wait.max_min),
            wait_or_after: wait.and_then(|wait| wait.or_after_min),
        }
    }
}

/// The method of a step written without one: a can for what comes in cans, a gun for spraying, a brush for the rest.
fn usual_method(step: &Step) -> Option<Method> {
    let class = step.finish()?;
    Some(match step.operation {
        _ if class == FinishClass::AerosolMetallicEnamel => Method::AerosolCan,
        Operation::Spray => Method::Hvlp,
        _ => Method::Brush,
    })
}
