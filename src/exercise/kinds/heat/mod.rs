//! The heat that an anhydrous salt gives off when it takes up water.

// Files in order; each uses only those before it:
//   hydration     a salt that takes up water: the values of careful work
//   prompt        the wordings, and the values that they give
//   wrong_values  the values of wrong steps
//   steps         the steps to an answer
//   kind          how a problem is drawn

mod hydration;
mod kind;
mod prompt;
mod steps;
mod wrong_values;

pub(super) use kind::KIND;
