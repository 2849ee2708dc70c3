//! What happens if something lets go: how much energy is stored, what flies and how fast at most, and how far people stay away.
//!
//! **Energy.** Every member that stretches stores the area under its loading line; members in series add up ([`stored_energy`],
//! [`stored_by_curve`]).
//!
//! **Speed.** A piece that is thrown *along a line* is no faster than the fastest wave bound over the pieces of its line,
//! `max F / √(EA m′)`, and no faster than all of the stored energy would make it, `√(2 U / M)` ([`line_end_speed`],
//! [`thrown_along`]). Where two legs pull at an angle, at a block or where legs meet, only the energy bounds it
//! ([`thrown_aside`]): a line that straightens throws what it turned round several times faster than its own ends recoil. Both
//! are upper bounds: no loss in the rope, no drag of the air. Nothing here bounds the whip of a *bare* line that swings sideways.
//!
//! **Ground.** A whole disc round every loaded hard point ([`keep_out_radius`]), and one outline of them all
//! ([`outline_of`]). Never a cone. A damper is not reckoned: no test of one was found.
//!
//! Held in the tests by a chain of point masses, in one dimension and in two, for lines of one and of several materials.

mod clear;
mod energy;
mod gear;
mod outline;
mod speed;

pub use clear::{Lengths, StandClear, keep_out_radius, published_distances};
pub use energy::{Stored, stored_by_curve, stored_energy};
pub use gear::{Flying, Known, Stretchy, flying_mass, stretchy};
pub use outline::{Disc, Outline, inside, outline_of};
pub use speed::{
    Bound, Held, Limit, LinePiece, energy_speed, fitting_speed, line_end_speed, thrown_along, thrown_aside, wave_speed,
    wave_speed_by_strain,
};
