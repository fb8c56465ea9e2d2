//! The answers of a row in the order in which they are worked out.

use alloc::vec::Vec;
use core::cell::OnceCell;

use super::admission::Admission;
use super::starting_value::{Credit, StartingValue, best_credit};
use super::submission::Submission;
use super::written::Written;
use super::{figures, formula, slips};
use crate::class::marking::answer::{Answer, Expected, Judgement, Obstacle};
use crate::class::marking::bench_key::BenchResult;
use crate::class::marking::remark::Remark;
use crate::class::{FiguresRule, Marks, Policy, Reported, ReportedValue, Tolerance};
use crate::formula::Formula;
use crate::gravimetry::{Interval, Quantity, Weighings, figures_kept};
use crate::mistake::Slip;
use crate::number::Ratio;

/// Marks the answers of one row, each after those that it may follow from.
pub(in crate::class::marking) struct Judge<'a> {
    submission: Submission<'a>,
    policy: &'a Policy,
    /// Whether there has been a remark on the significant figures of this submission.
    figures_remarked: bool,
    /// The powers of ten by which answers so far are wrong, each with the first such answer.
    wrong_powers: Vec<(i32, Quantity)>,
    /// The first mass with the container still in it.
    gross: Option<Quantity>,
    /// Whether the amount of salt handed in is that of what was issued, if the amount earned something.
    as_issued: Option<bool>,
}

/// How a number agrees with the bench's own value, and what it earns, with its admission there.
type Earned = (Admission, Option<(Credit, Admission)>);

/// What follows from the answers handed in before, worked out when it is asked for.
type Following = OnceCell<Vec<StartingValue>>;

impl<'a> Judge<'a> {
    pub(in crate::class::marking) fn new(
        weighings: &'a Weighings,
        bench: &'a BenchResult,
        issued: &'a Formula,
        policy: &'a Policy,
    ) -> Self {
        Judge {
            submission: Submission {
                weighings,
                bench,
                issued,
                values: Vec::new(),
            },
            policy,
            figures_remarked: false,
            wrong_powers: Vec::new(),
            gross: None,
            as_issued: None,
        }
    }

    /// Returns whether there has been a remark on the significant figures of an answer so far.
    pub(in crate::class::marking) fn figures_remarked(&self) -> bool {
        self.figures_remarked
    }

    pub(in crate::class::marking) fn answer(&mut self, reported: &Reported) -> Answer {
        let quantity = reported.quantity();
        let out_of = self.policy.marks_for(quantity);
        let (Credit { judgement, marks }, remarks) = match reported.value() {
            ReportedValue::Missing => (Credit::zero(Judgement::Missing), Vec::new()),
            ReportedValue::Unreadable => {
                let obstacle = Judgement::Obstacle(Obstacle::Unreadable);
                (Credit::zero(obstacle), Vec::new())
            }
            ReportedValue::Number(_) | ReportedValue::WholeRatio(..) => {
                self.number(reported, out_of)
            }
            ReportedValue::Formula => {
                let rule = self.policy.formula_rule();
                formula::judge(&self.submission, rule, reported.text(), out_of)
            }
        };
        Answer {
            quantity,
            reported: reported.text().into(),
            judgement,
            marks,
            out_of,
            expected: Expected::of(&self.submission.bench.dehydration, quantity),
            defensible: self.submission.bench.defensible.interval(quantity).cloned(),
            remarks,
        }
    }

    fn number(&mut self, reported: &Reported, out_of: Marks) -> (Credit, Vec<Remark>) {
        let quantity = reported.quantity();
        let measured = self.submission.bench.dehydration.measured(quantity);
        let allowed = measured.and_then(|m| m.figures()).unwrap_or(1);
        let following = OnceCell::new();
        let best = self.best_meaning(reported, out_of, allowed, &following);
        let Some((ref number, (admission, earned))) = best else {
            return (Credit::zero(Judgement::Unexplained), Vec::new());
        };
        let last_place = matches!(earned, Some((_, Admission::LastPlace)));
        let credit = match earned {
            Some(_) if number.has_other_basis(reported, self.as_issued) => {
                Credit::zero(Judgement::Unexplained)
            }
            // A residue is weighed, so nothing follows for it.
            Some((credit, _)) if quantity == Quantity::ResidueMass => credit.into_same_error(),
            Some((credit, _)) => {
                if quantity == Quantity::MolSalt {
                    self.as_issued = Some(number.as_issued);
                }
                credit
            }
            None if admission == Admission::Within => {
                Credit::zero(Judgement::Obstacle(Obstacle::OutsideTolerance))
            }
            // So few digits fit a slip by chance. The whole ratio of the book has no more.
            None if admission == Admission::TooCoarse && !self.is_of_the_book(quantity, number) => {
                Credit::zero(Judgement::Obstacle(Obstacle::TooCoarse))
            }
            None => self.wrong((quantity, number), out_of, allowed, &following),
        };
        let defensible = self.submission.bench.defensible.interval(quantity);
        let correct = matches!(credit.judgement, Judgement::Correct { .. });
        let figures_count = self.figures_count((quantity, number), &credit);
        // A quotient of whole numbers has no significant figures.
        let remark = number.plain().filter(|_| figures_count);
        let remark =
            remark.and_then(|number| figures::remark(number, allowed, correct, defensible));
        self.figures_remarked |= remark.is_some();
        let numbers = defensible.and_then(|values| number.of(values));
        let coarse = figures::written(&number.number, numbers.as_deref()) < figures_kept(allowed);
        let admitted = matches!(admission, Admission::Within | Admission::LastPlace);
        self.keep_for_later(quantity, number, &credit.judgement, coarse, admitted);
        let last_place = last_place.then(|| Remark::LastPlace(number.number));
        (credit, last_place.into_iter().chain(remark).collect())
    }

    /// Returns whether the significant figures of a number count, which earns this.
    fn figures_count(&self, (quantity, number): (Quantity, &Written), credit: &Credit) -> bool {
        !self.figures_remarked
            && !self.whole_is_wanted(quantity, number)
            && match self.policy.figures_rule() {
                FiguresRule::Ignore => false,
                // A wrong answer has greater faults than its significant figures.
                FiguresRule::Remark => matches!(
                    credit.judgement,
                    Judgement::Correct { .. }
                        | Judgement::CarriedForward { .. }
                        | Judgement::SameError { .. }
                ),
                FiguresRule::OneMark => credit.marks > Marks::ZERO,
            }
    }

    /// Returns the meaning of a number that is right, or else the first that earns something, with what it earns.
    fn best_meaning(
        &self,
        reported: &Reported,
        out_of: Marks,
        allowed: u32,
        following: &Following,
    ) -> Option<(Written, Earned)> {
        let judged = |number: Written| {
            let number = number.fraction_by_value(reported, allowed, |x| self.degree(x) == *x);
            let earned = self.earned((reported.quantity(), &number), out_of, allowed, following);
            (number, earned)
        };
        let usual = Written::usual(reported)?;
        let mut best = judged(usual.clone());
        if is_right(&best.1) {
            return Some(best);
        }
        for other in usual.others(reported, self.submission.issued) {
            let found = judged(other);
            if is_right(&found.1) {
                return Some(found);
            }
            if best.1.1.is_none() && found.1.1.is_some() {
                best = found;
            }
        }
        Some(best)
    }

    /// Judges a number that earns nothing as it is. A wrong power of ten, such as another unit, costs marks
    /// only in the first mass or amount that has it. It cancels out of a ratio, so there it is an error of its
    /// own.
    fn wrong(
        &mut self,
        (quantity, number): (Quantity, &Written),
        out_of: Marks,
        allowed: u32,
        following: &Following,
    ) -> Credit {
        if let Some(with) = self.same_error(quantity, number) {
            return Credit {
                judgement: Judgement::SameError { with },
                marks: out_of,
            };
        }
        let powers = match quantity.unit() {
            "g" | "mol" => &[-3, -2, -1, 1, 2, 3][..],
            "%" => &[-1, 1],
            _ => &[],
        };
        let mut of_power = None;
        for &power in powers {
            let without = number.times_power_of_ten(-power);
            let earned = without.and_then(|number| {
                self.earned((quantity, &number), out_of, allowed, following)
                    .1
            });
            let Some((Credit { marks, .. }, _)) = earned else {
                continue;
            };
            let mut charged = self.wrong_powers.iter();
            let same = |(of, from): &&(i32, _)| *of == power && may_share_power(*from, quantity);
            if let Some((_, from)) = charged.find(same) {
                let judgement = Judgement::SameError { with: *from };
                return Credit { judgement, marks };
            }
            self.wrong_powers.push((power, quantity));
            of_power = Some(match power {
                -3 | 3 => Slip::FactorOfThousand,
                _ => Slip::FactorOfTen,
            });
        }
        Credit::zero(
            match slips::judge(&self.submission, quantity, &number.decimal()) {
                // Its zeros at the end may only hold the place, so no slip gives its digits.
                Judgement::Unexplained if of_power.is_some() => Judgement::Slips {
                    slips: of_power.into_iter().collect(),
                    certain: false,
                },
                judgement => judgement,
            },
        )
    }

    /// Returns the earlier answer that an exchange with this one is charged in, or the container that is not
    /// subtracted.
    fn same_error(&mut self, quantity: Quantity, number: &Written) -> Option<Quantity> {
        if !self.is_gross(quantity, number) {
            return self.exchanged_with(quantity, number);
        }
        let Some(first) = self.gross else {
            self.gross = Some(quantity);
            return None;
        };
        // Another weighing than the last one is another error.
        let last = self.submission.weighings.heated().last();
        let is_last = last.is_some_and(|last| last.value() == number.value());
        (is_last || quantity == Quantity::HydrateMass).then_some(first)
    }

    /// Returns the earlier mass or amount that is right with the name of this one, while this one is right
    /// with its name. The exchange is charged there.
    fn exchanged_with(&self, quantity: Quantity, number: &Written) -> Option<Quantity> {
        let own = |quantity| self.submission.bench.defensible.interval(quantity);
        let unit = quantity.unit();
        let values = self.submission.values.iter();
        let mut others =
            values.filter(|(other, _)| matches!(unit, "g" | "mol") && other.unit() == unit);
        let exchanged = others.find(|(other, value)| {
            let is_other = own(*other).is_some_and(|other| other.admits(&number.number));
            is_other
                && own(quantity).is_some_and(|own| {
                    value.range.low() <= own.high() && own.low() <= value.range.high()
                })
        });
        exchanged.map(|(other, _)| *other)
    }

    /// Returns how a number agrees with the bench's own value, and what it earns, with its admission
    /// there.
    fn earned(
        &self,
        (quantity, number): (Quantity, &Written),
        out_of: Marks,
        allowed: u32,
        following: &Following,
    ) -> Earned {
        let range = self.submission.bench.defensible.interval(quantity);
        let own = self.submission.bench.dehydration.value(quantity);
        let own = own.as_ref();
        let admission = range.zip(own).map_or(Admission::Outside, |(range, own)| {
            let own = Interval::point(own.clone());
            self.admission((quantity, number), range, &own, allowed)
        });
        let own = own.map(|own| (own, admission));
        (
            admission,
            self.credit((quantity, number), out_of, allowed, own, following),
        )
    }

    /// Returns what a number earns by the bench's own value, with its admission there, or by what was
    /// handed in before. A number that agrees within its last place earns it only if none agrees
    /// exactly.
    fn credit(
        &self,
        (quantity, number): (Quantity, &Written),
        out_of: Marks,
        allowed: u32,
        own: Option<(&Ratio, Admission)>,
        following: &Following,
    ) -> Option<(Credit, Admission)> {
        let own_marks = |wanted: Admission| {
            let (own, admission) = own?;
            self.marks((quantity, number), out_of, (own, own), admission == wanted)
        };
        let own_credit = |marks: Marks| Credit {
            judgement: Judgement::Correct { follows: None },
            marks,
        };
        if own_marks(Admission::Within) == Some(out_of) {
            return Some((own_credit(out_of), Admission::Within));
        }
        let values = match self.is_gross(quantity, number) {
            true => &[][..],
            false => following.get_or_init(|| self.submission.following(quantity)),
        };
        let admitted = values.iter().map(|value| {
            let ends = (value.range.low(), value.range.high());
            let range = &value.range;
            let admission = self.admission((quantity, number), range, range, allowed);
            (value, ends, admission)
        });
        let admitted: Vec<_> = admitted.collect();
        let following = |wanted: Admission| {
            best_credit(admitted.iter().filter_map(|(value, ends, admission)| {
                let is_wanted = *admission == wanted;
                let marks = self.marks((quantity, number), out_of, *ends, is_wanted)?;
                Some(((*value).clone(), marks))
            }))
        };
        [Admission::Within, Admission::LastPlace]
            .into_iter()
            .find_map(|wanted| {
                let credit = match (own_marks(wanted), following(wanted)) {
                    // An answer may earn a low band by the bench's own value and a better one by what it
                    // follows from. It keeps the better one.
                    (Some(own), Some(credit)) if credit.marks <= own => own_credit(own),
                    (Some(own), None) => own_credit(own),
                    (_, credit) => credit?,
                };
                Some((credit, wanted))
            })
    }

    /// Returns how a number agrees with an interval of values, and a coarse one with the exact values.
    fn admission(
        &self,
        (quantity, number): (Quantity, &Written),
        values: &Interval,
        exact: &Interval,
        allowed: u32,
    ) -> Admission {
        let computed = self.is_computed(quantity) && !number.is_fraction();
        let (Some(numbers), Some(exact)) = (number.of(values), number.of(exact)) else {
            return Admission::Outside;
        };
        let ends = (exact.low(), exact.high());
        Admission::of(&number.number, &numbers, ends, allowed, computed)
    }

    /// Returns whether a quantity is worked out by more than a subtraction.
    fn is_computed(&self, quantity: Quantity) -> bool {
        match quantity {
            Quantity::HydrateMass | Quantity::ResidueMass | Quantity::WaterMass => false,
            Quantity::PercentWater => self.submission.weighings.percent().is_none(),
            _ => true,
        }
    }

    /// Returns whether a number is the ratio of what was issued.
    fn is_of_the_book(&self, quantity: Quantity, number: &Written) -> bool {
        let issued = self.submission.issued.one_formula_unit();
        quantity == Quantity::Ratio && issued.is_some_and(|(_, degree)| degree == number.value())
    }

    /// Returns whether a number is whole and the policy asks for the nearest whole number.
    fn whole_is_wanted(&self, quantity: Quantity, number: &Written) -> bool {
        self.policy.tolerance_for(quantity) == Some(&Tolerance::NearestWhole)
            && (number.value().is_integer() || self.degree(&number.value()) == number.value())
    }

    /// Returns the number of waters that is nearest to a ratio, among those that this salt may have.
    fn degree(&self, ratio: &Ratio) -> Ratio {
        let hydrate = self.submission.bench.dehydration.nearest_formula_to(ratio);
        let waters = hydrate.and_then(|hydrate| hydrate.waters());
        waters.unwrap_or_default()
    }

    /// Returns whether a number has the same nearest hydrate as a value from `low` to `high`; `None` unless
    /// the policy asks for the nearest whole number and one of these hydrates has a fraction of water.
    fn is_nearest(
        &self,
        (quantity, number): (Quantity, &Ratio),
        (low, high): (&Ratio, &Ratio),
    ) -> Option<bool> {
        let wanted = self.policy.tolerance_for(quantity) == Some(&Tolerance::NearestWhole);
        if !wanted || quantity != Quantity::Ratio {
            return None;
        }
        let [of_number, of_low, of_high] = [number, low, high].map(|x| self.degree(x));
        let all = [&of_number, &of_low, &of_high];
        let whole = all.iter().all(|degree| degree.is_integer());
        (!whole).then(|| of_number == of_low || of_number == of_high)
    }

    /// Returns the marks of a number that is compared with the range from `low` to `high`, which admits
    /// it or not.
    fn marks(
        &self,
        (quantity, number): (Quantity, &Written),
        out_of: Marks,
        (low, high): (&Ratio, &Ratio),
        admitted: bool,
    ) -> Option<Marks> {
        let value = number.value();
        let tolerance = self.policy.tolerance_for(quantity);
        match (tolerance, self.is_nearest((quantity, &value), (low, high))) {
            (None, _) => admitted.then_some(out_of),
            (_, Some(nearest)) => nearest.then_some(out_of),
            (Some(tolerance), None) => tolerance.marks_of(&value, low, high, out_of),
        }
    }

    /// Keeps a number as one that later answers may start from. `coarse` says that it has fewer
    /// significant figures than careful work keeps on the way, and `admitted` that it lies in the
    /// defensible range.
    fn keep_for_later(
        &mut self,
        quantity: Quantity,
        number: &Written,
        judgement: &Judgement,
        coarse: bool,
        admitted: bool,
    ) {
        let textbook = matches!(judgement, Judgement::Slips { slips, .. } if slips.contains(&Slip::TextbookValue));
        if textbook || (number.value().is_zero() && quantity != Quantity::Ratio) {
            // Nothing follows from a value that does not come from the readings. From zero, only the
            // anhydrous salt does.
            return;
        }
        let (range, origin) = match judgement {
            Judgement::Correct { follows } => {
                // A value within a tolerance may still be outside what careful work gives.
                let right = !coarse && (admitted || follows.is_some());
                // The paths of careful work already include its unrounded value.
                (
                    Interval::point(number.value()),
                    (!right).then_some(quantity),
                )
            }
            // Later work may have used a wrong number before it was rounded.
            Judgement::CarriedForward { from } | Judgement::SameError { with: from } => {
                (number.about(), Some(*from))
            }
            _ => (number.about(), Some(quantity)),
        };
        let value = StartingValue {
            range,
            from: Some(quantity),
            origin,
        };
        self.submission.values.push((quantity, value));
    }

    /// Returns whether a mass is one of the weighings, with the container still in it.
    fn is_gross(&self, quantity: Quantity, number: &Written) -> bool {
        let Some(weighings) = self.submission.weighings.container_weighings() else {
            return false;
        };
        match quantity {
            Quantity::HydrateMass => number.value() == weighings.with_hydrate.value(),
            Quantity::ResidueMass => weighings.heated.iter().any(|a| number.value() == a.value()),
            _ => false,
        }
    }
}

/// Returns whether a wrong power of ten may be that of an earlier answer. In a percentage it is that of the
/// water alone.
fn may_share_power(earlier: Quantity, quantity: Quantity) -> bool {
    quantity != Quantity::PercentWater
        && (earlier != Quantity::PercentWater || quantity == Quantity::MolWater)
}

/// Returns whether what a number earns is for a right value.
fn is_right((_, earned): &Earned) -> bool {
    matches!(earned, Some((credit, _)) if matches!(credit.judgement, Judgement::Correct { .. }))
}
