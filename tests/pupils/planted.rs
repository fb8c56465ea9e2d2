//! Each slip on paper, worked as the table of slips writes it: A the container, B with the hydrate,
//! C after a heating; h = B − A, s = C − A, w = B − C.

use effloresce::gravimetry::Quantity;
use effloresce::mistake::Slip;

use super::bench::{Atoms, Bench, Draws, SALTS};
use super::work::{WATER, Way, cut_off, to_figures, to_places, written};

/// The slips that can be made on these benches, which leave the anhydrous salt.
pub(crate) fn slips() -> impl Iterator<Item = Slip> {
    let all = Slip::ALL.iter().copied();
    all.filter(|slip| *slip != Slip::ResidualWaterMiscounted)
}

/// What a slip leaves on the paper.
pub(crate) enum Left {
    /// A number of the calculator, still to be written to so many figures.
    Number(f64),
    /// The same, cut off where it should be rounded.
    CutOff(f64),
    /// The answer as it stands: masses as the balance shows them, formulas, copied digits.
    Text(String),
    /// The right answer, still to be written, and then copied with two digits exchanged.
    Transposed(f64),
}

impl Left {
    /// The answer in the figures of this pupil; `None` where the slip shows nothing.
    pub(crate) fn written(&self, figures: usize, draws: &mut Draws) -> Option<String> {
        match self {
            Left::Number(value) => Some(written(*value, figures)),
            Left::CutOff(value) => {
                let cut = cut_off(*value, figures);
                (cut != written(*value, figures)).then_some(cut)
            }
            Left::Text(text) => Some(text.clone()),
            Left::Transposed(value) => exchanged(&written(*value, figures), draws),
        }
    }
}

/// A number with two neighbouring digits exchanged, the point left where it is.
fn exchanged(text: &str, draws: &mut Draws) -> Option<String> {
    let digits: Vec<usize> = text
        .char_indices()
        .filter_map(|(at, c)| c.is_ascii_digit().then_some(at))
        .collect();
    let first = digits.iter().position(|at| !text[*at..].starts_with('0'))?;
    let pairs: Vec<[usize; 2]> = digits[first..].windows(2).map(|p| [p[0], p[1]]).collect();
    // Nobody writes a nought before other digits of a whole number: 05, 02.9.
    let leads = |at: usize| at == digits[0] && text[at + 1..].starts_with(|c| c != '.');
    let byte = |at: usize| text.as_bytes()[at];
    let differ: Vec<&[usize; 2]> = pairs
        .iter()
        .filter(|[a, b]| byte(*a) != byte(*b) && !(leads(*a) && byte(*b) == b'0'))
        .collect();
    if differ.is_empty() {
        return None;
    }
    let [a, b] = **draws.pick(&differ);
    let mut bytes = text.as_bytes().to_vec();
    bytes.swap(a, b);
    String::from_utf8(bytes).ok()
}

/// One pupil's paper.
pub(crate) struct Work<'a> {
    bench: &'a Bench,
    way: &'a Way,
    /// The mass that was left, in units of the balance.
    residue: i64,
    h: f64,
    s: f64,
    w: f64,
    salt: f64,
    water: f64,
    hydrate: f64,
    n: f64,
}

use Quantity::{
    Formula, HydrateMass, MolSalt, MolWater, PercentWater, Ratio, ResidueMass, WaterMass,
};

impl<'a> Work<'a> {
    /// The work on a bench from one of the residues that careful work may take.
    pub(crate) fn new(bench: &'a Bench, way: &'a Way, residue: i64) -> Work<'a> {
        Work {
            bench,
            way,
            residue,
            h: bench.grams(bench.hydrate),
            s: bench.grams(residue),
            w: bench.grams(bench.hydrate - residue),
            salt: way.salt_of(bench.salt.atoms),
            water: way.water_of(WATER),
            hydrate: way.hydrate_of(bench),
            n: bench.salt.waters,
        }
    }

    /// x from these masses of water and salt.
    fn x_of(&self, w: f64, s: f64) -> f64 {
        self.way.ratio((w, self.water), (s, self.salt))
    }

    fn x(&self) -> f64 {
        self.x_of(self.w, self.s)
    }

    fn mass(&self, units: i64) -> Left {
        Left::Text(self.bench.shown(units))
    }

    /// The right number for each quantity that is no formula; of a mass, in units of the balance.
    fn right(&self) -> [(Quantity, f64); 4] {
        [
            (PercentWater, 100.0 * self.w / self.h),
            (MolSalt, self.s / self.salt),
            (MolWater, self.w / self.water),
            (Ratio, self.x()),
        ]
    }

    fn right_masses(&self) -> [(Quantity, i64); 3] {
        [
            (HydrateMass, self.bench.hydrate),
            (ResidueMass, self.residue),
            (WaterMass, self.bench.hydrate - self.residue),
        ]
    }

    /// What follows from a mass of water that is not this bench's.
    fn of_water(&self, units: i64) -> Vec<(Quantity, Left)> {
        if units <= 0 {
            return Vec::new();
        }
        let w = self.bench.grams(units);
        vec![
            (WaterMass, self.mass(units)),
            (PercentWater, Left::Number(100.0 * w / self.h)),
            (MolWater, Left::Number(w / self.water)),
            (Ratio, Left::Number(self.x_of(w, self.s))),
        ]
    }

    /// A right answer, written, with the digits of one number exchanged.
    fn transposed(&self, draws: &mut Draws) -> Vec<(Quantity, Left)> {
        let (a, b) = (self.bench.container, self.bench.with_hydrate());
        let c = a + self.residue;
        let mut all = Vec::new();
        for (quantity, more, less) in [(HydrateMass, b, a), (ResidueMass, c, a), (WaterMass, b, c)]
        {
            let copied = |units: i64, draws: &mut Draws| -> Option<i64> {
                let text = exchanged(&format!("{units}"), draws)?;
                text.parse().ok()
            };
            let differences = [
                copied(more, draws).map(|more| more - less),
                copied(less, draws).map(|less| more - less),
            ];
            for units in differences.into_iter().flatten().filter(|d| *d > 0) {
                all.push((quantity, self.mass(units)));
            }
            if let Some(text) = exchanged(&self.bench.shown(more - less), draws) {
                all.push((quantity, Left::Text(text)));
            }
        }
        for (quantity, value) in self.right() {
            all.push((quantity, Left::Transposed(value)));
        }
        all
    }

    /// Differences that are 1 too large or too small in one of their digits.
    fn misdifferences(&self) -> Vec<(Quantity, Left)> {
        let mut all = Vec::new();
        for (quantity, units) in self.right_masses() {
            let mut step = 1;
            while step <= units {
                all.push((quantity, self.mass(units + step)));
                if units > step {
                    all.push((quantity, self.mass(units - step)));
                }
                step *= 10;
            }
        }
        all
    }

    fn rounded_early(&self) -> Vec<(Quantity, Left)> {
        let (salt, water) = (self.s / self.salt, self.w / self.water);
        let mut all = Vec::new();
        let mut push = |quantity, value: f64| {
            if value.is_finite() && value > 0.0 {
                all.push((quantity, Left::Number(value)));
            }
        };
        push(Ratio, to_places(water, 2) / to_places(salt, 2));
        push(Ratio, to_places(water, 3) / to_places(salt, 3));
        push(Ratio, to_figures(water, 1) / to_figures(salt, 1));
        push(Ratio, to_figures(water, 2) / to_figures(salt, 2));
        for places in 1..self.bench.places.min(3) {
            let [h, s, w] = [self.h, self.s, self.w].map(|mass| to_places(mass, places));
            push(PercentWater, 100.0 * w / h);
            push(MolSalt, s / self.salt);
            push(MolWater, w / self.water);
            push(Ratio, self.x_of(w, s));
        }
        all
    }

    /// The decimal point of each answer so many places off, either way.
    fn factor_of_ten_to(&self, off: usize) -> Vec<(Quantity, Left)> {
        let mut all = Vec::new();
        let places = self.bench.places;
        let factor = 10_f64.powi(off as i32);
        for (quantity, units) in self.right_masses() {
            let grams = self.bench.grams(units);
            let larger = format!("{:.*}", places.saturating_sub(off), grams * factor);
            let smaller = format!("{:.*}", places + off, grams / factor);
            all.push((quantity, Left::Text(larger)));
            all.push((quantity, Left::Text(smaller)));
        }
        for (quantity, value) in self.right() {
            all.push((quantity, Left::Number(value * factor)));
            all.push((quantity, Left::Number(value / factor)));
        }
        all
    }

    /// The molar mass of the salt with one atom more or fewer, unless that is a subscript overlooked.
    fn miscounted(&self) -> Vec<(Quantity, Left)> {
        let salt = &self.bench.salt;
        let mut all = Vec::new();
        for (symbol, n) in salt.atoms {
            let fewer = if *n == 1 { None } else { Some(n - 1) };
            for count in [Some(n + 1), fewer] {
                let others = salt.atoms.iter().filter(|(other, _)| other != symbol);
                let mut atoms: Vec<(&'static str, u32)> = others.copied().collect();
                atoms.extend(count.map(|count| (*symbol, count)));
                let same = |misread: &&Atoms| {
                    misread.len() == atoms.len() && misread.iter().all(|atom| atoms.contains(atom))
                };
                if !salt.misread.iter().any(|misread| same(&misread)) {
                    all.extend(self.with_salt_mass(self.way.salt_of(&atoms)));
                }
            }
        }
        all
    }

    /// The molar mass of another salt that the catalogue knows.
    fn of_other_salts(&self) -> Vec<(Quantity, Left)> {
        let own = self.bench.salt;
        let others = SALTS
            .iter()
            .filter(|other| other.atoms != own.atoms && !other.issued.starts_with("Al2(SO4)3"));
        let molars = others.map(|other| self.way.salt_of(other.atoms));
        molars
            .flat_map(|molar| self.with_salt_mass(molar))
            .collect()
    }

    fn truncated(&self) -> Vec<(Quantity, Left)> {
        let mut all: Vec<(Quantity, Left)> = self
            .right()
            .into_iter()
            .map(|(quantity, value)| (quantity, Left::CutOff(value)))
            .collect();
        // The whole number below x.
        if self.x() >= 1.0 {
            let whole = self.x().floor();
            all.push((Ratio, Left::Text(format!("{whole}"))));
            // Of x near a whole number, other tables give another one.
            let clear = [0.98, 1.02].map(|part| (self.x() * part).floor() == whole);
            if self.n.fract() == 0.0 && clear == [true, true] {
                let (salt, _) = self.bench.salt.issued.split_once('·').unwrap();
                all.push((Formula, Left::Text(format!("{salt}·{whole}H2O"))));
            }
        }
        all
    }

    fn sign_reversed(&self) -> Vec<(Quantity, Left)> {
        let masses = self.right_masses();
        let masses = masses.map(|(quantity, units)| (quantity, self.mass(-units)));
        let others = self.right();
        let others = others.map(|(quantity, value)| (quantity, Left::Number(-value)));
        masses.into_iter().chain(others).collect()
    }

    /// Weighings before the last, the first of them first, in units of the balance.
    fn earlier(&self) -> &[i64] {
        &self.bench.left[..self.bench.left.len() - 1]
    }

    fn first_heating_used(&self) -> Vec<(Quantity, Left)> {
        let Some(first) = self.earlier().first() else {
            return Vec::new();
        };
        let residue = self.bench.grams(*first);
        let mut all = self.of_water(self.bench.hydrate - first);
        all.retain(|(quantity, _)| *quantity != Ratio);
        all.push((ResidueMass, self.mass(*first)));
        all.push((MolSalt, Left::Number(residue / self.salt)));
        if self.bench.hydrate > *first {
            let water = self.bench.grams(self.bench.hydrate - first);
            all.push((Ratio, Left::Number(self.x_of(water, residue))));
        }
        all
    }

    fn heatings_mixed(&self) -> Vec<(Quantity, Left)> {
        let mut all = Vec::new();
        for earlier in self
            .earlier()
            .iter()
            .filter(|left| **left < self.bench.hydrate)
        {
            let water = self.bench.grams(self.bench.hydrate - earlier);
            all.push((Ratio, Left::Number(self.x_of(water, self.s))));
            let residue = self.bench.grams(*earlier);
            all.push((Ratio, Left::Number(self.x_of(self.w, residue))));
        }
        all
    }

    /// The residue is read as anhydrous, its water as lost, or its water is left out of the ratio. The residue
    /// of this work holds so many waters.
    pub(crate) fn residual_water_miscounted(&self, waters: f64) -> Vec<(Quantity, Left)> {
        let held = waters * self.water;
        let lost = self.w + self.s / (self.salt + held) * held;
        let as_anhydrous = self.x();
        let without = self
            .way
            .ratio((self.w, self.water), (self.s, self.salt + held));
        let units = lost * 10_f64.powi(self.bench.places as i32);
        vec![
            (WaterMass, self.mass(units.round() as i64)),
            (PercentWater, Left::Number(100.0 * lost / self.h)),
            (MolWater, Left::Number(lost / self.water)),
            (MolSalt, Left::Number(self.s / self.salt)),
            (Ratio, Left::Number(as_anhydrous)),
            (Ratio, Left::Number(as_anhydrous + waters)),
            (Ratio, Left::Number(without)),
        ]
    }

    fn losses_added(&self) -> Vec<(Quantity, Left)> {
        let Some(first) = self.earlier().first() else {
            return Vec::new();
        };
        let lost = |left: &i64| self.bench.hydrate - left;
        // Of all heatings; of the first and the last.
        let mut all = self.of_water(self.bench.left.iter().map(lost).sum());
        if self.earlier().len() > 1 {
            all.extend(self.of_water(lost(first) + lost(&self.bench.residue())));
        }
        all
    }

    fn last_loss_only(&self) -> Vec<(Quantity, Left)> {
        let (Some(first), Some(before)) = (self.earlier().first(), self.earlier().last()) else {
            return Vec::new();
        };
        let last = self.bench.residue();
        let mut all = self.of_water(first - last);
        all.extend(self.of_water(before - last));
        all
    }

    /// The container left in: in one mass, while the other is right.
    fn container_not_subtracted(&self) -> Vec<(Quantity, Left)> {
        let gross = self.bench.container + self.residue;
        let c = self.bench.grams(gross);
        // The residue has been freed of the container, and the hydrate has not.
        let water = self.bench.with_hydrate() - self.residue;
        let w = self.bench.grams(water);
        vec![
            (WaterMass, self.mass(water)),
            (MolWater, Left::Number(w / self.water)),
            (Ratio, Left::Number(self.x_of(w, self.s))),
            (HydrateMass, self.mass(self.bench.with_hydrate())),
            (ResidueMass, self.mass(gross)),
            (MolSalt, Left::Number(c / self.salt)),
            (Ratio, Left::Number(self.x_of(self.w, c))),
        ]
    }

    fn salt_water_swapped(&self) -> Vec<(Quantity, Left)> {
        vec![
            (ResidueMass, self.mass(self.bench.hydrate - self.residue)),
            (WaterMass, self.mass(self.residue)),
            // The masses exchanged, the molar masses, both.
            (MolSalt, Left::Number(self.w / self.salt)),
            (MolSalt, Left::Number(self.s / self.water)),
            (MolSalt, Left::Number(self.w / self.water)),
            (MolWater, Left::Number(self.s / self.water)),
            (MolWater, Left::Number(self.w / self.salt)),
            (MolWater, Left::Number(self.s / self.salt)),
            (Ratio, Left::Number(self.x_of(self.s, self.w))),
            (
                Ratio,
                Left::Number(self.way.ratio((self.w, self.salt), (self.s, self.water))),
            ),
        ]
    }

    fn degree_assumed(&self) -> Vec<(Quantity, Left)> {
        let taken = self.h / self.hydrate;
        let x = self.way.ratio((self.w, self.water), (self.h, self.hydrate));
        vec![
            (MolSalt, Left::Number(taken)),
            (MolWater, Left::Number(self.n * taken)),
            (MolWater, Left::Number(self.n * self.s / self.salt)),
            (Ratio, Left::Number(x)),
        ]
    }

    fn with_salt_mass(&self, molar: f64) -> [(Quantity, Left); 2] {
        let x = self.way.ratio((self.w, self.water), (self.s, molar));
        [
            (MolSalt, Left::Number(self.s / molar)),
            (Ratio, Left::Number(x)),
        ]
    }

    fn with_water_mass(&self, molar: f64) -> [(Quantity, Left); 2] {
        let x = self.way.ratio((self.w, molar), (self.s, self.salt));
        [
            (MolWater, Left::Number(self.w / molar)),
            (Ratio, Left::Number(x)),
        ]
    }

    fn theory(&self) -> Vec<(Quantity, Left)> {
        // A book rounds nothing on the way.
        let water = self.n * self.way.salt.molar_mass(WATER);
        let salt = self.way.salt.molar_mass(self.bench.salt.atoms);
        let percent = 100.0 * water / (salt + water);
        let mut all = vec![
            (Ratio, Left::Number(self.n)),
            (Ratio, Left::Text(format!("{}", to_figures(self.n, 3)))),
            (Formula, Left::Text(self.bench.salt.issued.into())),
        ];
        all.push((PercentWater, Left::Number(percent)));
        all
    }

    /// The hydrate's own number of waters, where it is whole and the nearest to x.
    fn whole_waters(&self) -> Option<f64> {
        let near = (self.x() - self.n).abs() < 0.3;
        (self.n.fract() == 0.0 && near).then_some(self.n)
    }

    fn inverted(&self) -> Vec<(Quantity, Left)> {
        let (salt, water) = (self.s / self.salt, self.w / self.water);
        let mut all = vec![
            (Ratio, Left::Number(1.0 / self.x())),
            (Ratio, Left::Number(1.0 / self.way.amounts.keep(self.x()))),
            (
                Ratio,
                Left::Number(self.way.amounts.keep(salt) / self.way.amounts.keep(water)),
            ),
        ];
        if let Some(waters) = self.whole_waters().filter(|n| *n > 1.0) {
            let (salt, _) = self.bench.salt.issued.split_once('·').unwrap();
            all.push((Formula, Left::Text(format!("{waters}{salt}·H2O"))));
        }
        all
    }

    /// Everything that a slip may leave on this paper, for each quantity that it can be made in.
    pub(crate) fn with(&self, slip: Slip, draws: &mut Draws) -> Vec<(Quantity, Left)> {
        let (h, s, w, x) = (self.h, self.s, self.w, self.x());
        let number = |quantity, value| vec![(quantity, Left::Number(value))];
        match slip {
            Slip::RatioInverted => self.inverted(),
            Slip::MassRatioForMoleRatio => number(Ratio, w / s),
            Slip::MassFractionForRatio => number(Ratio, w / h),
            Slip::MoleFractionForRatio => {
                let kept = self.way.amounts.keep(x);
                vec![
                    (Ratio, Left::Number(x / (x + 1.0))),
                    (Ratio, Left::Number(kept / (kept + 1.0))),
                ]
            }
            Slip::MolWaterAsRatio => number(Ratio, w / self.water),
            Slip::SaltWaterSwapped => self.salt_water_swapped(),
            Slip::PercentOfResidue => number(PercentWater, 100.0 * w / s),
            Slip::PercentSaltForWater => number(PercentWater, 100.0 - 100.0 * w / h),
            Slip::PercentOfGrossMass => {
                let b = self.bench.grams(self.bench.with_hydrate());
                number(PercentWater, 100.0 * w / b)
            }
            Slip::FractionForPercent => number(PercentWater, w / h),
            Slip::OneWaterOnly if self.n == 1.0 => Vec::new(),
            Slip::OneWaterOnly => {
                let one = self.way.salt.molar_mass(WATER);
                number(PercentWater, 100.0 * one / self.hydrate)
            }
            Slip::TextbookValue => self.theory(),
            Slip::DegreeAssumed => self.degree_assumed(),
            Slip::FirstHeatingUsed => self.first_heating_used(),
            Slip::HeatingsMixed => self.heatings_mixed(),
            Slip::LossesAdded => self.losses_added(),
            Slip::LastLossOnly => self.last_loss_only(),
            Slip::ContainerNotSubtracted => self.container_not_subtracted(),
            Slip::HydrateMassAsSalt => vec![
                (ResidueMass, self.mass(self.bench.hydrate)),
                (MolSalt, Left::Number(h / self.salt)),
                (Ratio, Left::Number(self.x_of(w, h))),
            ],
            Slip::HydrateMolarMassForSalt => self.with_salt_mass(self.hydrate).into(),
            Slip::WrongWaterMolarMass => {
                let wrong = [
                    &[("O", 1)][..],
                    &[("O", 1), ("H", 1)],
                    &[("H", 2), ("O", 2)],
                ];
                let wrong = wrong.map(|atoms| self.way.water_of(atoms));
                wrong
                    .into_iter()
                    .flat_map(|m| self.with_water_mass(m))
                    .collect()
            }
            Slip::SubscriptDropped => {
                let wrong = self.bench.salt.misread.iter();
                let wrong = wrong.map(|atoms| self.way.salt_of(atoms));
                wrong.flat_map(|m| self.with_salt_mass(m)).collect()
            }
            Slip::MultipliedByMolarMass => {
                let (salt, water) = (s * self.salt, w * self.water);
                vec![
                    (MolSalt, Left::Number(salt)),
                    (MolWater, Left::Number(water)),
                    (
                        Ratio,
                        Left::Number(self.way.amounts.keep(water) / self.way.amounts.keep(salt)),
                    ),
                ]
            }
            Slip::DigitsTransposed => self.transposed(draws),
            Slip::SubtractionError => self.misdifferences(),
            Slip::SignReversed => self.sign_reversed(),
            Slip::RoundedEarly => self.rounded_early(),
            Slip::Truncated => self.truncated(),
            Slip::FactorOfTen => {
                let mut all = self.factor_of_ten_to(1);
                // A percentage two places too low is a fraction, and a ratio is other slips.
                let two = self.factor_of_ten_to(2).into_iter();
                all.extend(two.filter(|(quantity, _)| !matches!(quantity, PercentWater | Ratio)));
                all
            }
            Slip::FactorOfThousand => self.factor_of_ten_to(3),
            Slip::PercentInverted => number(PercentWater, 100.0 * h / w),
            Slip::HydrateMassAsWater => vec![
                (WaterMass, self.mass(self.bench.hydrate)),
                (MolWater, Left::Number(h / self.water)),
                (Ratio, Left::Number(self.x_of(h, s))),
            ],
            Slip::AtomMiscounted => self.miscounted(),
            Slip::OtherSalt => self.of_other_salts(),
            other => panic!("{other} is not planted"),
        }
    }

    /// A careful pupil's whole submission: each number from the readings, to these figures.
    pub(crate) fn right_answers(&self, figures: usize) -> Vec<(Quantity, String)> {
        let masses = self.right_masses();
        let masses = masses.map(|(quantity, units)| (quantity, self.bench.shown(units)));
        let numbers = self.right();
        let numbers = numbers.map(|(quantity, value)| (quantity, written(value, figures)));
        let formula = self
            .whole_waters()
            .map(|_| (Formula, self.bench.salt.issued.into()));
        masses.into_iter().chain(numbers).chain(formula).collect()
    }
}
