//! Any request, solved by the operation that it names.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::solved::{Pointer, Solved};
use super::{
    balance, class, dehydration, empirical, factor, formula, heat, limiting, mixture, stages,
};
use crate::exercise::error::{Error, ErrorKind, wrong};
use crate::exercise::request::{Operation, Request};

impl Request {
    /// Solves the request and returns one value of its result.
    ///
    /// # Errors
    /// Returns an error if a field is missing or cannot be read, if the module that does the work refuses it, or
    /// if the result has no such value.
    ///
    /// ```
    /// use effloresce::exercise::{Exercises, Kind, Solved};
    /// let problem = Exercises::new(1).kinds([Kind::PercentWater]).problem(0)?;
    /// let Solved::Number(percent) = problem.request().answer("/percent_water")? else { panic!() };
    /// let right = problem.tolerance().unwrap();
    /// assert!(*right.low() <= percent && percent <= *right.high());
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    pub fn answer(&self, pointer: &str) -> Result<Solved, Error> {
        let nothing = || self.no_value(pointer);
        let steps = Pointer::new(pointer).ok_or_else(nothing)?;
        let (members, weights) = (self.members(), self.weights());
        let solved = match self.operation() {
            Operation::Class => class::answer(&members, weights, &steps),
            Operation::Empirical => empirical::answer(&members, weights, &steps),
            Operation::Factor => factor::answer(&members, weights, &steps),
            Operation::Dehydration => dehydration::answer(&members, weights, &steps),
            Operation::Formula => formula::answer(&members, weights, &steps),
            Operation::Stages => stages::answer(&members, weights, &steps),
            Operation::Mixture => mixture::answer(&members, weights, &steps),
            Operation::Heat => heat::answer(&members, weights, &steps),
            Operation::Balance => balance::answer(&members, &steps),
            Operation::Limiting => limiting::answer(&members, weights, &steps),
        };
        solved?.ok_or_else(nothing)
    }

    /// Solves the request and returns several values of its result. A class is marked once for all of them.
    pub(in crate::exercise) fn answers(&self, pointers: &[String]) -> Result<Vec<Solved>, Error> {
        let each = pointers.iter();
        if self.operation() != Operation::Class {
            return each.map(|pointer| self.answer(pointer)).collect();
        }
        let marked = class::marked(&self.members(), self.weights())?;
        let value = |pointer: &String| {
            let steps = Pointer::new(pointer);
            let value = steps.and_then(|steps| class::value(&marked, &steps));
            value.ok_or_else(|| self.no_value(pointer))
        };
        each.map(value).collect()
    }

    fn no_value(&self, pointer: &str) -> Error {
        let message = format!(
            "the result of `{}` has no `{pointer}`",
            self.operation().code()
        );
        let help =
            "give the JSON Pointer of a value that the operation returns, such as `/percent_water`";
        wrong(ErrorKind::BadRequest, message, help)
    }
}
