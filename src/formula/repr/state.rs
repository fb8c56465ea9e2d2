//! States of matter.

use crate::formula::error::{Error, ErrorKind};

/// A state of matter, as a label gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum State {
    /// `(s)`
    Solid,
    /// `(l)`
    Liquid,
    /// `(g)`
    Gas,
    /// `(aq)`
    Aqueous,
}

crate::text::codes! {
    State, "states of matter", Error(ErrorKind::UnknownCode);
    Solid => "s",
    Liquid => "l",
    Gas => "g",
    Aqueous => "aq",
}

impl State {
    /// The text without the label at its end, and the state that it names.
    pub(crate) fn split_label(text: &str) -> (&str, Option<State>) {
        let all = State::ALL.iter();
        let mut labelled =
            all.filter_map(|state| Some((text.strip_suffix(state.label())?, *state)));
        match labelled.next() {
            Some((text, state)) => (text, Some(state)),
            None => (text, None),
        }
    }

    pub(crate) const fn label(self) -> &'static str {
        match self {
            State::Solid => "(s)",
            State::Liquid => "(l)",
            State::Gas => "(g)",
            State::Aqueous => "(aq)",
        }
    }
}

/// A state or none, in a byte that may hold any number.
///
/// The compiler would use the spare values of an `Option<State>` as the tag of a `Result<Formula, _>`. The
/// tag would then lie in what the parser has just written. Unwrapping the result would have to read it
/// from there, and to move the formula once more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct PackedState(u8);

impl PackedState {
    pub(crate) const NONE: PackedState = PackedState(0);

    pub(crate) const fn of(state: Option<State>) -> PackedState {
        match state {
            None => PackedState::NONE,
            Some(state) => PackedState(state as u8 + 1),
        }
    }

    pub(crate) const fn state(self) -> Option<State> {
        match self.0 {
            1 => Some(State::Solid),
            2 => Some(State::Liquid),
            3 => Some(State::Gas),
            4 => Some(State::Aqueous),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Formula;

    #[test]
    fn a_label_is_its_state() {
        for state in State::ALL.map(Some).into_iter().chain([None]) {
            assert_eq!(PackedState::of(state).state(), state);
        }
    }

    #[test]
    fn a_result_has_a_tag_of_its_own() {
        assert!(size_of::<Result<Formula, Error>>() > size_of::<Formula>());
    }
}
