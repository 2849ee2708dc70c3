//! Roles of a force. A tension, a working load limit and a breaking strength are all newtons, and comparing them the
//! wrong way round kills; so each is its own type and can only be compared by a named method.

use crate::Force;

macro_rules! role {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name(pub Force);
        impl $name {
            /// The bare force.
            #[must_use]
            pub const fn force(self) -> Force { self.0 }
        }
    };
}

role!(
    /// The force in a line, a strap or at a point when the rig is loaded.
    Tension
);
role!(
    /// What must be overcome to move the vehicle.
    Resistance
);
role!(
    /// Mass times gravity.
    Weight
);
role!(
    /// The most that the maker allows in normal use.
    WorkingLoadLimit
);
role!(
    /// The least force at which a new piece breaks in a straight, slow pull.
    BreakingStrength
);

impl Tension {
    /// How many times this tension the breaking strength is.
    #[must_use]
    pub fn margin_to_break(self, strength: BreakingStrength) -> f64 {
        strength.0 / self.0
    }
    /// How many times this tension the working load limit is.
    #[must_use]
    pub fn margin_to_working_limit(self, limit: WorkingLoadLimit) -> f64 {
        limit.0 / self.0
    }
}
impl WorkingLoadLimit {
    /// The breaking strength that a design factor implies.
    #[must_use]
    pub fn breaking_strength(self, design_factor: f64) -> BreakingStrength {
        BreakingStrength(self.0 * design_factor)
    }
}
impl BreakingStrength {
    /// The working load limit that a design factor implies.
    #[must_use]
    pub fn working_load_limit(self, design_factor: f64) -> WorkingLoadLimit {
        WorkingLoadLimit(self.0 / design_factor)
    }
}
impl Weight {
    /// The resistance that is a fraction of this weight.
    #[must_use]
    pub fn fraction(self, of_weight: f64) -> Resistance {
        Resistance(self.0 * of_weight)
    }
}
