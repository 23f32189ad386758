use snapspark::prediction::{Inputs, Reading};

/// A way in which the world is not as the prior says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wrong {
    /// It is.
    Nothing,
    /// The thermometer reads 40 K high.
    ReadsHigh,
    /// Carbon diffuses 1.5 times as fast.
    FastCarbon,
    /// The charcoal holds 0.6 of its potential.
    WeakCharcoal,
    /// The pores of the compound are three times as wide.
    WidePores,
    /// The eye ends a case at 0.55 %C.
    RichEdge,
}

impl Wrong {
    pub(super) const ALL: [Self; 6] = [
        Self::Nothing,
        Self::ReadsHigh,
        Self::FastCarbon,
        Self::WeakCharcoal,
        Self::WidePores,
        Self::RichEdge,
    ];

    /// In the table.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Nothing => "as the prior says",
            Self::ReadsHigh => "thermometer reads 40 K high",
            Self::FastCarbon => "diffusion 1.5 times as fast",
            Self::WeakCharcoal => "charcoal at 0.6 of its potential",
            Self::WidePores => "pores three times as wide",
            Self::RichEdge => "visible edge at 0.55 %C",
        }
    }

    /// A truth of the prior as it is then.
    pub(super) fn made(self, mut truth: Inputs) -> Inputs {
        match self {
            Self::Nothing => {}
            Self::ReadsHigh => truth.temperature_shift -= 40.0,
            Self::FastCarbon => truth.law_factor *= 1.5,
            Self::WeakCharcoal => truth.potential = truth.potential.times(0.6),
            Self::WidePores => truth.pore *= 3.0,
            Self::RichEdge => truth.visible_edge = 0.55,
        }
        truth
    }

    /// What it must move, as far as physics says so without a computation: heat and diffusivity carry carbon deeper and
    /// more of it, the potential sets the surface and with it the amount, the eye moves the depth that it sees and no
    /// carbon. Pores act where heat lags only: nothing is claimed.
    pub(super) fn moves(self) -> &'static [Reading] {
        match self {
            Self::Nothing | Self::WidePores => &[],
            Self::ReadsHigh | Self::FastCarbon => &[Reading::Total, Reading::MassGain],
            Self::WeakCharcoal => &[Reading::Surface, Reading::MassGain],
            Self::RichEdge => &[Reading::Visible],
        }
    }

    /// What it leaves alone.
    pub(super) fn leaves(self) -> &'static [Reading] {
        match self {
            Self::Nothing => {
                &[Reading::Surface, Reading::Visible, Reading::Total, Reading::MassGain, Reading::Edge]
            }
            Self::RichEdge => &[Reading::Surface, Reading::Total, Reading::MassGain, Reading::Edge],
            Self::ReadsHigh | Self::FastCarbon | Self::WeakCharcoal | Self::WidePores => &[],
        }
    }
}
