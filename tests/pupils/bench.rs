//! Salts, and benches that heat them.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::{Rng, SeedableRng};

/// Random choices from a fixed seed.
pub(crate) struct Draws(ChaCha8Rng);

impl Draws {
    pub(crate) fn new(seed: u64) -> Draws {
        Draws(ChaCha8Rng::seed_from_u64(seed))
    }

    /// From 0 to below 1: 53 bits.
    fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number below `end`, which is small.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        (self.unit() * end as f64) as usize
    }

    pub(crate) fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

/// What is in a formula, counted by hand.
pub(crate) type Atoms = &'static [(&'static str, u32)];

/// A hydrate that is issued.
pub(crate) struct Salt {
    pub(crate) issued: &'static str,
    pub(crate) waters: f64,
    pub(crate) atoms: Atoms,
    /// What somebody counts who overlooks one subscript or bracket, or who counts a bracket for
    /// its first or its last atom alone.
    pub(crate) misread: &'static [Atoms],
}

const fn salt(issued: &'static str, waters: f64, atoms: Atoms, misread: &'static [Atoms]) -> Salt {
    Salt {
        issued,
        waters,
        atoms,
        misread,
    }
}

pub(crate) const SALTS: [Salt; 16] = [
    salt(
        "MgSO4·7H2O",
        7.0,
        &[("Mg", 1), ("S", 1), ("O", 4)],
        &[&[("Mg", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "MgSO4·H2O",
        1.0,
        &[("Mg", 1), ("S", 1), ("O", 4)],
        &[&[("Mg", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "CuSO4·5H2O",
        5.0,
        &[("Cu", 1), ("S", 1), ("O", 4)],
        &[&[("Cu", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "ZnSO4·7H2O",
        7.0,
        &[("Zn", 1), ("S", 1), ("O", 4)],
        &[&[("Zn", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "NiSO4·6H2O",
        6.0,
        &[("Ni", 1), ("S", 1), ("O", 4)],
        &[&[("Ni", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "CaSO4·2H2O",
        2.0,
        &[("Ca", 1), ("S", 1), ("O", 4)],
        &[&[("Ca", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "CaSO4·½H2O",
        0.5,
        &[("Ca", 1), ("S", 1), ("O", 4)],
        &[&[("Ca", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "3CdSO4·8H2O",
        8.0 / 3.0,
        &[("Cd", 1), ("S", 1), ("O", 4)],
        &[&[("Cd", 1), ("S", 1), ("O", 1)]],
    ),
    salt(
        "BaCl2·2H2O",
        2.0,
        &[("Ba", 1), ("Cl", 2)],
        &[&[("Ba", 1), ("Cl", 1)]],
    ),
    salt(
        "CuCl2·2H2O",
        2.0,
        &[("Cu", 1), ("Cl", 2)],
        &[&[("Cu", 1), ("Cl", 1)]],
    ),
    salt(
        "CoCl2·6H2O",
        6.0,
        &[("Co", 1), ("Cl", 2)],
        &[&[("Co", 1), ("Cl", 1)]],
    ),
    salt(
        "Na2CO3·10H2O",
        10.0,
        &[("Na", 2), ("C", 1), ("O", 3)],
        &[
            &[("Na", 1), ("C", 1), ("O", 3)],
            &[("Na", 2), ("C", 1), ("O", 1)],
        ],
    ),
    salt(
        "Na2HPO4·12H2O",
        12.0,
        &[("Na", 2), ("H", 1), ("P", 1), ("O", 4)],
        &[
            &[("Na", 1), ("H", 1), ("P", 1), ("O", 4)],
            &[("Na", 2), ("H", 1), ("P", 1), ("O", 1)],
        ],
    ),
    salt(
        "Ca(NO3)2·4H2O",
        4.0,
        &[("Ca", 1), ("N", 2), ("O", 6)],
        &[
            &[("Ca", 1), ("N", 1), ("O", 3)],
            &[("Ca", 1), ("N", 2), ("O", 2)],
            &[("Ca", 1), ("N", 2), ("O", 3)],
            &[("Ca", 1), ("N", 1), ("O", 6)],
        ],
    ),
    salt(
        "KAl(SO4)2·12H2O",
        12.0,
        &[("K", 1), ("Al", 1), ("S", 2), ("O", 8)],
        &[
            &[("K", 1), ("Al", 1), ("S", 1), ("O", 4)],
            &[("K", 1), ("Al", 1), ("S", 2), ("O", 2)],
            &[("K", 1), ("Al", 1), ("S", 2), ("O", 4)],
            &[("K", 1), ("Al", 1), ("S", 1), ("O", 8)],
        ],
    ),
    salt(
        "Al2(SO4)3·18H2O",
        18.0,
        &[("Al", 2), ("S", 3), ("O", 12)],
        &[
            &[("Al", 1), ("S", 3), ("O", 12)],
            &[("Al", 2), ("S", 3), ("O", 3)],
            &[("Al", 2), ("S", 1), ("O", 4)],
            &[("Al", 2), ("S", 3), ("O", 4)],
            &[("Al", 2), ("S", 1), ("O", 12)],
        ],
    ),
];

/// One bench: whole numbers of the smallest step that its balance shows.
pub(crate) struct Bench {
    pub(crate) salt: &'static Salt,
    pub(crate) places: usize,
    pub(crate) container: i64,
    pub(crate) hydrate: i64,
    /// What was left after each heating, without the container.
    pub(crate) left: Vec<i64>,
}

/// The decimal places of a balance, and the grams that are taken on it.
const BALANCES: [(usize, f64, f64); 4] =
    [(1, 10.0, 30.0), (2, 2.0, 8.0), (3, 1.0, 4.0), (4, 0.5, 2.0)];

impl Bench {
    /// A bench that is sound to some 3 % of its water, one in four to 10 %, on a balance of at least so many places.
    pub(crate) fn draw(draws: &mut Draws, least_places: usize) -> Bench {
        let salt = &SALTS[draws.below(SALTS.len())];
        let balances = &BALANCES[least_places - 1..];
        let (places, least, most) = *draws.pick(balances);
        let steps = 10_f64.powi(places as i32);
        let units = |grams: f64| (grams * steps).round() as i64;
        let molar = super::work::Table::Finest.molar_mass(salt.atoms);
        let water = salt.waters * 18.015;
        let hydrate = draws.between(least, most);
        let off = if draws.below(4) == 0 { 0.1 } else { 0.03 };
        let loss = hydrate * water / (molar + water) * draws.between(1.0 - off, 1.0 + off);
        let hydrate = units(hydrate);
        let dry = (hydrate - units(loss)).clamp(1, hydrate - 1);
        let heatings = 1 + draws.below(4);
        // What is still in it: much, then little, then as good as none.
        let mut over: Vec<i64> = (1..heatings)
            .map(|nth| units(loss * draws.between(0.02, 0.2) / 3_f64.powi(nth as i32 - 1)))
            .collect();
        over.push(0);
        if heatings > 2 && draws.below(3) > 0 {
            over[heatings - 2] = draws.below(3) as i64;
        }
        Bench {
            salt,
            places,
            container: units(draws.between(15.0, 40.0)),
            hydrate,
            left: over
                .into_iter()
                .map(|over| (dry + over).min(hydrate))
                .collect(),
        }
    }

    /// A bench that heats CuSO4·5H2O to the monohydrate.
    pub(crate) fn draw_to_monohydrate(draws: &mut Draws, least_places: usize) -> Bench {
        loop {
            let bench = Bench::draw(draws, least_places);
            if bench.salt.issued == "CuSO4·5H2O" {
                return bench.with_residual_water(1.0);
            }
        }
    }

    /// The same bench if what heating leaves holds so many waters, of which one weighs 18.015.
    fn with_residual_water(mut self, waters: f64) -> Bench {
        let molar = super::work::Table::Finest.molar_mass(self.salt.atoms);
        for left in &mut self.left {
            let held = *left as f64 * (1.0 + waters * 18.015 / molar);
            *left = (held.round() as i64).min(self.hydrate - 1);
        }
        self
    }

    pub(crate) fn with_hydrate(&self) -> i64 {
        self.container + self.hydrate
    }

    pub(crate) fn heated(&self) -> Vec<i64> {
        self.left.iter().map(|left| self.container + left).collect()
    }

    /// What was left at last.
    pub(crate) fn residue(&self) -> i64 {
        self.left[self.left.len() - 1]
    }

    /// What careful work may take for the residue: the weighings at the end that agree with the
    /// last within two divisions, if the last two do.
    pub(crate) fn residues(&self) -> Vec<i64> {
        let last = self.residue();
        let agree = |left: &&i64| (**left - last).abs() <= 2;
        self.left.iter().rev().take_while(agree).copied().collect()
    }

    pub(crate) fn grams(&self, units: i64) -> f64 {
        units as f64 / 10_f64.powi(self.places as i32)
    }

    /// A mass as the balance shows it.
    pub(crate) fn shown(&self, units: i64) -> String {
        format!("{:.*}", self.places, self.grams(units))
    }
}
