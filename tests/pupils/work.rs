//! Careful work with a calculator.

use super::bench::{Atoms, Bench, Draws};

/// The abridged weights of the edition of 2024.
const WEIGHTS: [(&str, f64); 17] = [
    ("H", 1.0080),
    ("C", 12.011),
    ("N", 14.007),
    ("O", 15.999),
    ("Na", 22.990),
    ("Mg", 24.305),
    ("Al", 26.982),
    ("P", 30.974),
    ("S", 32.06),
    ("Cl", 35.45),
    ("K", 39.098),
    ("Ca", 40.078),
    ("Co", 58.933),
    ("Ni", 58.693),
    ("Cu", 63.546),
    ("Zn", 65.38),
    ("Cd", 112.41),
];
const BARIUM: f64 = 137.33;

/// A table of atomic weights that careful work may use.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Table {
    /// Whole numbers, but chlorine 35.5 and copper 63.5.
    Whole,
    Decimals(i32),
    Finest,
}

impl Table {
    pub(crate) const ALL: [Table; 4] = [
        Table::Whole,
        Table::Decimals(1),
        Table::Decimals(2),
        Table::Finest,
    ];

    fn weight(self, symbol: &str) -> f64 {
        let listed = WEIGHTS.iter().find(|(s, _)| *s == symbol);
        let weight = listed.map_or(BARIUM, |(_, weight)| *weight);
        match (self, symbol) {
            (Table::Whole, "Cl") => 35.5,
            (Table::Whole, "Cu") => 63.5,
            (Table::Whole, _) => weight.round(),
            (Table::Decimals(places), _) => {
                let steps = 10_f64.powi(places);
                (weight * steps).round() / steps
            }
            (Table::Finest, _) => weight,
        }
    }

    pub(crate) fn molar_mass(self, atoms: &[(&str, u32)]) -> f64 {
        let each = atoms
            .iter()
            .map(|(symbol, n)| f64::from(*n) * self.weight(symbol));
        each.sum()
    }
}

pub(crate) const WATER: Atoms = &[("H", 2), ("O", 1)];

/// How a value on the way is kept.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Keep {
    All,
    Figures(usize),
}

impl Keep {
    const CAREFUL: [Keep; 5] = [
        Keep::All,
        Keep::Figures(3),
        Keep::Figures(4),
        Keep::Figures(5),
        Keep::Figures(6),
    ];

    pub(crate) fn keep(self, value: f64) -> f64 {
        match self {
            Keep::All => value,
            Keep::Figures(figures) => to_figures(value, figures),
        }
    }
}

/// A half, which binary digits may show a trace too small, goes up.
fn nudged(value: f64) -> f64 {
    value * (1.0 + 1e-12)
}

pub(crate) fn to_figures(value: f64, figures: usize) -> f64 {
    format!("{:.*e}", figures - 1, nudged(value))
        .parse()
        .unwrap()
}

pub(crate) fn to_places(value: f64, places: usize) -> f64 {
    format!("{:.places$}", nudged(value)).parse().unwrap()
}

/// The choices of one pupil's careful work.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Way {
    pub(crate) salt: Table,
    pub(crate) water: Table,
    pub(crate) molar: Keep,
    pub(crate) amounts: Keep,
}

impl Way {
    pub(crate) fn draw(draws: &mut Draws) -> Way {
        let salt = *draws.pick(&Table::ALL);
        // Most people have one table.
        let water = match draws.below(4) {
            0 => *draws.pick(&Table::ALL),
            _ => salt,
        };
        Way {
            salt,
            water,
            molar: *draws.pick(&Keep::CAREFUL),
            amounts: *draws.pick(&Keep::CAREFUL),
        }
    }

    pub(crate) fn salt_of(&self, atoms: &[(&str, u32)]) -> f64 {
        self.molar.keep(self.salt.molar_mass(atoms))
    }

    pub(crate) fn water_of(&self, atoms: &[(&str, u32)]) -> f64 {
        self.molar.keep(self.water.molar_mass(atoms))
    }

    /// The molar mass of the hydrate.
    pub(crate) fn hydrate_of(&self, bench: &Bench) -> f64 {
        let salt = self.salt.molar_mass(bench.salt.atoms);
        let water = self.salt.molar_mass(WATER);
        self.molar.keep(salt + bench.salt.waters * water)
    }

    /// An amount, as it is kept on the way to another value.
    pub(crate) fn amount(&self, mass: f64, molar: f64) -> f64 {
        self.amounts.keep(mass / molar)
    }

    /// The ratio of two amounts from masses and molar masses, each amount kept on the way.
    pub(crate) fn ratio(&self, (w, molar_w): (f64, f64), (s, molar_s): (f64, f64)) -> f64 {
        self.amount(w, molar_w) / self.amount(s, molar_s)
    }
}

/// A number to so many figures, but whole above the point.
pub(crate) fn written(value: f64, figures: usize) -> String {
    format!("{:.*}", places_for(value, figures), nudged(value))
}

/// The same, cut off where it ends.
pub(crate) fn cut_off(value: f64, figures: usize) -> String {
    let places = places_for(value, figures);
    let steps = 10_f64.powi(places as i32);
    format!("{:.places$}", (value * steps + 1e-9).floor() / steps)
}

fn places_for(value: f64, figures: usize) -> usize {
    let above = value.abs().log10().floor() as i64 + 1;
    (figures as i64 - above).max(0) as usize
}
