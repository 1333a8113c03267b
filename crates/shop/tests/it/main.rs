//! Behaviour of the shop: plan files, plans, and the use cases over them.

mod plan_files;
