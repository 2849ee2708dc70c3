//! Which screen is shown. The address of the page says it, so that the browser's way back is the way back.

/// A screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Screen {
    /// Where a case is begun, opened or gone on with.
    #[default]
    Start,
    /// The place: vehicle, ground, way out, anchors.
    Scene,
    /// The bag.
    Kit,
    /// The rigs that were found.
    Rigs,
    /// What the crew does.
    Brief,
    /// Language, units, look.
    Settings,
}
impl Screen {
    /// All of them, in the order of the way through them.
    pub const ALL: [Self; 6] = [Self::Start, Self::Scene, Self::Kit, Self::Rigs, Self::Brief, Self::Settings];
    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Scene => "scene",
            Self::Kit => "kit",
            Self::Rigs => "rigs",
            Self::Brief => "brief",
            Self::Settings => "settings",
        }
    }
    /// The part of an address that leads to it.
    #[must_use]
    pub fn address(self) -> String {
        format!("#/{}", self.word())
    }
    /// By that part of an address; the first screen for anything else.
    #[must_use]
    pub fn by_address(hash: &str) -> Self {
        let word = hash.trim_start_matches(['#', '/']);
        Self::ALL.into_iter().find(|s| s.word() == word).unwrap_or_default()
    }
    /// Whether it shows a case, and so needs one.
    #[must_use]
    pub const fn needs_case(self) -> bool {
        !matches!(self, Self::Start | Self::Settings)
    }
}

#[cfg(test)]
mod tests {
    use super::Screen;

    #[test]
    fn regress_addresses_lead_to_their_screens() {
        for screen in Screen::ALL {
            assert_eq!(Screen::by_address(&screen.address()), screen);
        }
        for other in ["", "#", "#/", "#/nowhere", "#/rigs/7"] {
            assert_eq!(Screen::by_address(other), Screen::Start);
        }
    }
}
