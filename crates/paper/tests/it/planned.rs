//! A small plan to hand on.

use jiff::Timestamp;
use shop::file::{NothingBeside, Source, read};
use shop::plan::{Effort, Plan, plan};

/// The moment at which every test believes to be.
pub(crate) fn now() -> Timestamp {
    "2027-03-08T15:00:00Z".parse().unwrap()
}

/// A piece whose name holds everything that a format might trip over, in a shop across a change of the clocks.
pub(crate) fn plan_of_a_difficult_name() -> Plan {
    let text = "[shop]\nzone_id = \"America/Chicago\"\nstarts = \"2027-03-11T09:00\"\nhours = { thu = \"9:00-12:00\", fri = \"9:00-12:00\", sat = \"9:00-12:00\", sun = \"0:00-5:00\", mon = \"9:00-17:00\" }\n\n[[piece]]\nname = \"Ädel, \\\"oak\\\"; <chest> \\\\ 50 % — =SUM(A1)\"\nform = \"case\"\nmade = \"1990\"\nwidth = \"30 in\"\ndepth = \"18 in\"\nheight = \"34 in\"\n";
    let read = read(&[Source::new("chest.toml", text)], &NothingBeside).unwrap_or_else(|refusals| panic!("{refusals}"));
    plan(&read.shop, now(), Effort::least()).unwrap_or_else(|failure| panic!("{failure:#?}"))
}
