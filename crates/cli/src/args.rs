//! The command line. One source for parsing, help, completions and the man page.

use crate::output::Color;
use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum, ValueHint};
use std::path::PathBuf;
use unmire_audit::Policy;
use unmire_model::quantity::show;

/// Plan the recovery of a stuck vehicle: what to do first, which rig, what every part sees, and where nobody may stand.
///
/// Start with 'unmire examples' (writes invented case files) or 'unmire new' (asks at most ten questions and writes
/// one), then 'unmire plan CASE'.
#[derive(Debug, Parser)]
#[command(name = "unmire", version, propagate_version = true, arg_required_else_help = true, after_help = AFTER)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub verb: Verb,
}

const AFTER: &str = "\
Exit status: 0 the best rig holds, or holds below a stop load; 1 no rig does; 2 the input or the command is at fault.

unmire helps trained people to think. It never says that a rig may be used: it says what was checked, under which \
policy, and what was not. Local rules, manufacturers' instructions and licensed practice come first.";

/// The verbs.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Look for rigs in the kit and on the ground, check and rank them
    Plan(PlanArgs),
    /// Check the rig that the case file gives, or balance a bare rig
    Check(CheckArgs),
    /// Tell what an anchor holds: use it, share it, or find another; and why
    Anchor(AnchorArgs),
    /// Tell what flies if something lets go, how fast at most, and where nobody may stand
    Recoil(RecoilArgs),
    /// Reckon a kinetic pull: peak at every part, run-up between too little and too much, what flies, who stands where
    Kinetic(KineticArgs),
    /// Play the whole pull, from first movement to the last metre: line, winch, heat, worst moments, stages
    Pull(PullArgs),
    /// Ask at most ten questions and write a case file
    New(NewArgs),
    /// Tell what stands behind a code in the output: what is checked, why, what to do, the source
    Explain(ExplainArgs),
    /// Print a JSON Schema: of the case file, the kit file, or the JSON output
    Schema(SchemaArgs),
    /// Write the invented example cases to a folder
    Examples(ExamplesArgs),
    /// Serve the app to a browser on this machine
    Serve(ServeArgs),
    /// Print a completion script for a shell
    Completions(CompletionsArgs),
    /// Print the man page, or write one page a verb to a folder
    Man(ManArgs),
}

/// How to show a report.
#[derive(Debug, Args)]
pub struct View {
    /// Print the JSON that other programs rely on, instead of text
    #[arg(long)]
    pub json: bool,
    /// Draw the plan view to scale into this file; '-' prints it instead of text
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub svg: Option<PathBuf>,
    /// Units of the text and the drawing; JSON is always SI
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// Show the working behind every number: formula, inputs and where each came from
    #[arg(long)]
    pub explain: bool,
    /// When to use colour; it never says anything that the words don't
    #[arg(long, alias = "colour", value_enum, value_name = "WHEN", default_value_t = Color::Auto)]
    pub color: Color,
    /// Width of the text in columns [default: that of the terminal]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(20..=1000))]
    pub width: Option<u16>,
}

/// `unmire plan`
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// The case file, or '-' for standard input
    #[arg(value_hint = ValueHint::FilePath)]
    pub case: PathBuf,
    /// The policy that the verdicts use [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// How many ranked rigs to give
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=100))]
    pub limit: u16,
    /// How to show it.
    #[command(flatten)]
    pub view: View,
}

/// `unmire check`
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The case file with its rig, or '-' for standard input
    #[arg(value_hint = ValueHint::FilePath)]
    pub case: PathBuf,
    /// The policy that the verdicts use [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// How to show it.
    #[command(flatten)]
    pub view: View,
}

/// `unmire anchor`
///
/// With a case file: its anchors and parked vehicles, or those that are named. With a kind of anchor: one that is described
/// here, in the words of the case file: unmire anchor tree girth="1.2 m" species="scots pine" attach_height="0.4 m".
/// A kind without words lists the words that it knows.
#[derive(Debug, Args)]
pub struct AnchorArgs {
    /// A case file ('-' for standard input), or a kind: tree, stump, boulder, rock-bolts, pickets, deadman, plates, made, other
    #[arg(value_name = "CASE|KIND", value_hint = ValueHint::FilePath)]
    pub of: std::path::PathBuf,
    /// With a case: ids of anchors or helpers. With a kind: key=value
    #[arg(value_name = "ID|KEY=VALUE")]
    pub words: Vec<String>,
    /// With a case and two or three ids: what each gets of one pull, by legs of its own and by a line through a ring
    #[arg(long)]
    pub share: bool,
    /// With --share: how far before the anchors the ring lies [default: where the legs spread over 60 deg]
    #[arg(long, value_name = "LENGTH", requires = "share")]
    pub ring: Option<String>,
    /// Load on the anchor at work, or a range whose high end counts [default with a case: one line for its whole need]
    #[arg(long, value_name = "FORCE")]
    pub pull: Option<String>,
    /// Load on the anchor when the winch stalls [default with a case: what its winch gives then]
    #[arg(long, value_name = "FORCE")]
    pub stall: Option<String>,
    /// How steeply the line rises from the anchor, as '5 deg up' [default: level]
    #[arg(long, value_name = "SLOPE")]
    pub rise: Option<String>,
    /// Width of the strap that would lie on it
    #[arg(long, value_name = "LENGTH")]
    pub strap: Option<String>,
    /// How many people would build one [with a case: its people]
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=50))]
    pub crew: u32,
    /// The ground is saturated
    #[arg(long)]
    pub saturated: bool,
    /// The trees' season [default: growing, when bark peels most easily]
    #[arg(long, value_enum)]
    pub season: Option<SeasonWord>,
    /// Somebody watches a tilt meter on its foot, or a marker beside it, through the whole pull
    #[arg(long)]
    pub watched: bool,
    /// Somebody walked round it and looked: none of the signs that rule it out is there
    #[arg(long)]
    pub no_signs: bool,
    /// The policy that the answer uses [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// How to show it.
    #[command(flatten)]
    pub view: View,
}

/// `unmire recoil`
///
/// For the rig that the case gives, or else for the best that is found: the energy in every member, what flies when each part fails,
/// the ground to keep clear over all of it, and places outside it.
#[derive(Debug, Args)]
pub struct RecoilArgs {
    /// The case file, or '-' for standard input
    #[arg(value_hint = ValueHint::FilePath)]
    pub case: PathBuf,
    /// The policy that the rig is judged by [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// How to show it.
    #[command(flatten)]
    pub view: View,
}

/// `unmire kinetic`
///
/// For every helper that can drive and every kinetic rope of the kit: the peak as a range, the force at every part, the window of run-up speed and
/// slack, what flies at the peak, and who stands where. Static gear is refused, with the reason. A file with a bare problem (two masses and a
/// rope) is reckoned with exactly its numbers.
#[derive(Debug, Args)]
pub struct KineticArgs {
    /// The case file or the file of a bare kinetic problem, or '-' for standard input
    #[arg(value_hint = ValueHint::FilePath)]
    pub case: PathBuf,
    /// The policy that the parts are judged by [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// How to show it.
    #[command(flatten)]
    pub view: View,
}

/// The trees' season.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SeasonWord {
    /// Sap rises, the wood grows
    Growing,
    /// The tree rests
    Dormant,
}

/// `unmire pull`
#[derive(Debug, Args)]
pub struct PullArgs {
    /// The case file, or '-' for standard input. With a rig in it that rig is played, else one of the ranking
    #[arg(value_hint = ValueHint::FilePath)]
    pub case: PathBuf,
    /// Which rig of the ranking, counted from 1, where the case gives none
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
    pub rig: u16,
    /// Steps that the way is cut into at least; where something changes much they are cut finer
    #[arg(long, value_name = "N", default_value_t = 100, value_parser = clap::value_parser!(u16).range(1..=10000))]
    pub steps: u16,
    /// Stages that are planned at most, each with its own rig
    #[arg(long, value_name = "N", default_value_t = 6, value_parser = clap::value_parser!(u16).range(1..=50))]
    pub stages: u16,
    /// Write every place as comma-separated values into this file; '-' prints them instead of text
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub csv: Option<PathBuf>,
    /// The policy that the verdicts use [default: the one that the case names, else the first of 'unmire explain policies']
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Policy::names()), hide_possible_values = true)]
    pub policy: Option<String>,
    /// Print the JSON that other programs rely on, instead of text
    #[arg(long)]
    pub json: bool,
    /// Draw charts of it into this file; '-' prints them instead of text
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub svg: Option<PathBuf>,
    /// Units of the text and the charts; JSON and CSV are always SI
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// When to use colour; it never says anything that the words don't
    #[arg(long, alias = "colour", value_enum, value_name = "WHEN", default_value_t = Color::Auto)]
    pub color: Color,
    /// Width of the text in columns [default: that of the terminal]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(20..=1000))]
    pub width: Option<u16>,
}

/// `unmire new`
#[derive(Debug, Args)]
pub struct NewArgs {
    /// The case file to write; without it, or with '-', the case goes to standard output
    #[arg(value_hint = ValueHint::FilePath)]
    pub file: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
}

/// `unmire explain`
#[derive(Debug, Args)]
pub struct ExplainArgs {
    /// The code, as in [brackets] in the output; 'codes' lists them, 'policies' lists the policies, 'sources' the sources
    pub code: String,
    /// Width of the text in columns [default: that of the terminal]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(20..=1000))]
    pub width: Option<u16>,
}

/// `unmire schema`
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Of which document [default: case, kit and rig in one, as editors want it]
    #[arg(value_enum)]
    pub of: Option<SchemaOf>,
}

/// The documents that have a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// The case file
    Case,
    /// The kit file that a case can point at
    Kit,
    /// The bare rig
    Rig,
    /// The JSON output of 'plan' and 'check'
    Plan,
    /// The JSON output of 'pull'
    Pull,
    /// The JSON output of 'anchor'
    Anchor,
    /// The JSON output of 'recoil'
    Recoil,
    /// The JSON output of 'kinetic'
    Kinetic,
    /// The bare kinetic problem
    KineticProblem,
}

/// `unmire examples`
#[derive(Debug, Args)]
pub struct ExamplesArgs {
    /// The folder to write them to; made if it isn't there
    #[arg(default_value = "unmire-examples", value_hint = ValueHint::DirPath)]
    pub folder: PathBuf,
    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
    /// Only list them
    #[arg(long)]
    pub list: bool,
}

/// `unmire serve`
#[derive(Debug, Args)]
pub struct ServeArgs {
    /// The port on 127.0.0.1; 0 takes any that is free. A browser keeps the saved cases of each port apart
    #[arg(long, value_name = "N", default_value_t = 8640)]
    pub port: u16,
}

/// `unmire completions`
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// Which shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// `unmire man`
#[derive(Debug, Args)]
pub struct ManArgs {
    /// The folder to write one page a verb to; without it the main page is printed
    #[arg(value_hint = ValueHint::DirPath)]
    pub folder: Option<PathBuf>,
}

/// The reader's units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// kN, t, kg, m, mm
    Metric,
    /// lbf, lb, ft, in
    Us,
}
impl From<Units> for show::Units {
    fn from(u: Units) -> Self {
        match u {
            Units::Metric => Self::Metric,
            Units::Us => Self::Us,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_the_command_line_is_well_formed() {
        use clap::CommandFactory;
        Cli::command().debug_assert();
    }
}
