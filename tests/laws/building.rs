//! Formulas made in code: what is built is what is read.

use effloresce::element::Atom;
use effloresce::formula::{Error, ErrorKind, FormulaBuilder, GroupBuilder, State, Times};
use effloresce::{Formula, Ratio};
use proptest::prelude::*;

use crate::strategies::{Meaning, Number, Part, Spelling, Term, open_meaning};

/// What takes atoms and groups: a formula or what stands between its brackets.
pub(crate) trait Takes: Sized {
    fn add_atom(self, atom: Atom, count: Times) -> Self;
    fn add_group(
        self,
        bracket: char,
        inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
        count: Times,
    ) -> Self;
}

macro_rules! takes {
    ($builder:ty) => {
        impl Takes for $builder {
            fn add_atom(self, atom: Atom, count: Times) -> Self {
                self.atom(atom, count)
            }

            fn add_group(
                self,
                bracket: char,
                inside: impl FnOnce(GroupBuilder) -> GroupBuilder,
                count: Times,
            ) -> Self {
                match bracket {
                    '(' => self.group(inside, count),
                    '[' => self.square_group(inside, count),
                    '{' => self.curly_group(inside, count),
                    other => panic!("{other} opens no group"),
                }
            }
        }
    };
}
takes!(FormulaBuilder);
takes!(GroupBuilder);

pub(crate) fn state(label: &str) -> State {
    match label {
        "(s)" => State::Solid,
        "(l)" => State::Liquid,
        "(g)" => State::Gas,
        "(aq)" => State::Aqueous,
        other => panic!("{other} is no label"),
    }
}

fn times(number: Number) -> Times {
    match number {
        Number::Of(n, d) => Ratio::new(n.into(), d.into()).unwrap().into(),
        Number::Open('x') => Times::X,
        Number::Open(_) => Times::N,
    }
}

fn add<B: Takes>(builder: B, terms: &[Term]) -> B {
    terms.iter().fold(builder, |builder, term| match term {
        Term::Atom(atom, number) => builder.add_atom(*atom, times(*number)),
        Term::Group([open, _], inside, number) => {
            builder.add_group(*open, |group| add(group, inside), times(*number))
        }
    })
}

fn build(meaning: &Meaning) -> Result<Formula, Error> {
    let mut builder = Formula::builder();
    if let Some(label) = meaning.state {
        builder = builder.state(state(label));
    }
    for (index, part) in meaning.parts.iter().enumerate() {
        builder = match part {
            water if index > 0 && water.is_water() => builder.waters(times(water.coefficient)),
            Part {
                coefficient,
                terms,
                charge,
            } => add(builder.part(times(*coefficient)), terms).charge(*charge),
        };
    }
    builder.build()
}

proptest! {
    #[test]
    fn what_is_built_is_what_is_read(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        match (build(&meaning), Formula::read(&text)) {
            (Ok(built), Ok((read, _))) => prop_assert_eq!(built, read, "{}", text),
            (Err(built), Err(read)) => {
                prop_assert_eq!(built.kind(), read.kind(), "{}", text);
                prop_assert_eq!(read.kind(), ErrorKind::TooLarge, "{}", text);
            }
            // A long spelling may be refused where its meaning is short.
            (Ok(_), Err(read)) => prop_assert_eq!(read.kind(), ErrorKind::TooLarge, "{}", text),
            (Err(built), Ok(_)) => prop_assert!(false, "{}: {}", text, built),
        }
    }

    /// With any charge on any part: also on one that is a single group.
    #[test]
    fn what_is_built_reads_back(meaning in open_meaning(), charge in -999_i32..=999) {
        let mut meaning = meaning;
        for part in &mut meaning.parts {
            part.charge = charge;
        }
        if let Ok(built) = build(&meaning) {
            let canonical = built.to_string();
            let read = Formula::read(&canonical);
            prop_assert_eq!(read.map(|(formula, _)| formula), Ok(built), "{}", canonical);
        }
    }

    #[test]
    fn a_count_is_exact_and_above_nought(n in any::<i64>(), d in 1_i64..=i64::MAX) {
        let count = Ratio::new(n.into(), d.into()).unwrap();
        let oxygen: Atom = Atom::natural("O".parse().unwrap());
        let built = Formula::builder().atom(oxygen, &count).build();
        match built {
            Ok(formula) => prop_assert_eq!(formula.composition().unwrap().count(oxygen), count),
            Err(error) => {
                let expected = match count.is_positive() {
                    true => ErrorKind::TooLarge,
                    false => ErrorKind::BadFormula,
                };
                prop_assert_eq!(error.kind(), expected, "{}", count);
                prop_assert!(error.span().is_none() && error.help().is_some());
            }
        }
    }
}
