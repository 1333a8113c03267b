//! What screens share: the frame of a page, form fields, and how moments, quantities and steps are shown.

pub(crate) mod cautions;
pub(crate) mod drawing;
pub(crate) mod fields;
pub(crate) mod jobcard;
pub(crate) mod risk;
pub(crate) mod schedules;
pub(crate) mod shell;
pub(crate) mod show;
pub(crate) mod steps;
