//! Packages of QTI 3.0: an evaluator of our own marks what pupils enter by the response rules of each item.

mod body;
mod by_hand;
mod carried;
mod carry;
mod evaluator;
mod expression;
mod form;
mod line;
mod marking;
mod opened;
mod pattern;
mod pupil;
mod sets;
mod value;
mod xml;
