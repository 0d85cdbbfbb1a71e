//! Turns the readings of a quantitative chemistry experiment into a checked, worked, shareable lab report.
//!
//! Data flows one way, and the modules are the stages in order:
//!
//! 1. [`lab`] reads a teacher's lab description, [`record`] a group's data file;
//! 2. [`working`] plans the steps of the calculation as a graph of small expressions,
//!    evaluates them on the readings and writes the worked text;
//! 3. [`answers`] judges what the students worked out themselves;
//! 4. [`causes`] weighs what at the bench could explain the results;
//! 5. [`report`] composes everything a reader sees, in words;
//! 6. [`render`] turns that into Markdown and one HTML page;
//! 7. [`command`] alone touches disk and terminal.
//!
//! [`problem`] (what is wrong with a file, and where), [`measure`] (numbers with
//! their digits) and [`chem`] (formulas, equations, atomic weights) serve them all.

pub mod answers;
pub mod causes;
pub mod chem;
pub mod class;
pub mod cli;
pub mod command;
pub mod lab;
pub mod measure;
pub mod planning;
pub mod problem;
pub mod record;
pub mod render;
pub mod report;
pub mod status;
pub mod words;
pub mod working;
