//! The verbs, one a file.

mod anchor;
mod check;
mod completions;
mod examples;
mod explain;
mod kinetic;
mod man;
mod new;
mod plan;
mod pull;
mod recoil;
mod schema;
mod serve;
mod show;

use crate::args::{Cli, Verb};
use crate::status::{Status, Trouble};

/// Does what the command line says.
pub fn run(cli: Cli) -> Result<Status, Trouble> {
    match cli.verb {
        Verb::Plan(a) => plan::run(&a),
        Verb::Check(a) => check::run(&a),
        Verb::Anchor(a) => anchor::run(&a),
        Verb::Recoil(a) => recoil::run(&a),
        Verb::Kinetic(a) => kinetic::run(&a),
        Verb::Pull(a) => pull::run(&a),
        Verb::New(a) => new::run(&a),
        Verb::Explain(a) => explain::run(&a),
        Verb::Schema(a) => schema::run(&a),
        Verb::Examples(a) => examples::run(&a),
        Verb::Serve(a) => serve::run(&a),
        Verb::Completions(a) => completions::run(&a),
        Verb::Man(a) => man::run(&a),
    }
}
