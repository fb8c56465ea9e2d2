//! The ions that a formula may hold, found by its structure, and by its atoms if it shows no structure.
//!
//! Two kinds of text are read. One shows its ions, such as `K4[Fe(CN)6]·3H2O`: each run of atoms that is
//! an ion of the tables counts as one, the longest first. The other only counts atoms, such as `Cr2H8N2O7`.
//! There every ion that its atoms may form is taken to be there, because a hazard must not be missed.

use alloc::string::String;
use alloc::vec::Vec;

use super::ions::{ANIONS, CATIONS};
use super::repr::{Bracket, Count, Formula, Part, Term};
use crate::element::Element;
use crate::number::Ratio;

/// The largest number of atoms with their counts in one ion.
const MOST_TERMS: usize = 8;

/// Spellings of groups that are not in the tables of ions, and the formula by which each is found.
#[rustfmt::skip]
const GROUPS: &[(&str, &str)] = &[
    ("H2O", "H2O"), ("OH2", "H2O"), ("HOH", "H2O"),
    ("H2O2", "O2"),
    ("NH3", "NH3"), ("H3N", "NH3"),
    ("N2H4", "N2H4"), ("N2H5", "N2H4"), ("N2H6", "N2H4"),
    ("NH2OH", "NH2OH"), ("NH3OH", "NH2OH"),
    ("HOCl", "ClO"),
    ("SO2", "SO3"), ("CO", "CO"),
    // Perborate.
    ("NaBO3", "O2"), ("NaBO4", "O2"),
    // Peroxomonosulfate.
    ("HSO5", "O2"), ("SO5", "O2"),
    // Dithiocarbamates and xanthates give carbon disulfide.
    ("NCS2", "CS2"), ("S2CN", "CS2"), ("CS2", "CS2"), ("S2C", "CS2"),
    // Fulminate.
    ("CNO", "CNO"), ("ONC", "CNO"),
    ("C2H2O4", "C2O4"), ("HOOCCOOH", "C2O4"), ("HO2CCO2H", "C2O4"), ("OOCCOO", "C2O4"),
];

/// Carboxyl groups. Two of them without another carbon before them are oxalate.
const CARBOXYL: [&str; 8] = ["COO", "COOH", "CO2", "CO2H", "OOC", "O2C", "HOOC", "HO2C"];

/// Anions with carbon that are not organic.
const INORGANIC_CARBON: [&str; 7] = ["CO3", "HCO3", "CN", "OCN", "SCN", "CNO", "CO"];

/// Metals that form peroxides and hypochlorites. Two oxygens, or oxygen and chlorine, are oxides with others.
const LIGHT_METALS: [&str; 12] = [
    "Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba", "Ra", "Zn", "Cd",
];

/// What a formula may hold: ions and molecules by formula, and the atoms that belong to none of them.
#[derive(Debug, Clone, Default)]
pub(crate) struct IonContent {
    groups: Vec<(&'static str, Ratio)>,
    loose: Vec<(Element, Ratio)>,
    elements: Vec<Element>,
    is_inferred: bool,
}

impl IonContent {
    /// Whether the formula may hold one of these ions or molecules, by their formulas in the tables.
    pub(crate) fn has(&self, formulas: &[&str]) -> bool {
        let mut groups = self.groups.iter();
        groups.any(|(own, _)| formulas.contains(own))
    }

    /// Whether one of these elements is there, in whatever ion.
    pub(crate) fn has_element(&self, symbols: &[&str]) -> bool {
        let mut elements = self.elements.iter();
        elements.any(|own| symbols.contains(&own.symbol()))
    }

    /// Whether one of these elements is there as an ion of one atom, or as an atom of no known ion.
    pub(crate) fn has_loose(&self, symbols: &[&str]) -> bool {
        symbols.iter().any(|symbol| !self.loose(symbol).is_zero())
    }

    /// The elements, each once.
    pub(crate) fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// Whether a metal is there, in whatever ion.
    pub(crate) fn has_metal(&self) -> bool {
        self.elements.iter().any(|element| element.is_metal())
    }

    /// Whether ions were inferred, because the formula counts atoms and does not show its ions.
    pub(crate) fn is_inferred(&self) -> bool {
        self.is_inferred
    }

    /// Whether there is carbon that is not in a carbonate, a cyanide or the like.
    pub(crate) fn is_organic(&self) -> bool {
        let mut groups = self.groups.iter();
        let organic = |formula: &str| {
            let first = |part: &str| part.starts_with(|c: char| c.is_ascii_lowercase());
            let has_carbon = formula.split('C').skip(1).any(|part| !first(part));
            has_carbon && !INORGANIC_CARBON.contains(&formula)
        };
        self.has_loose(&["C"]) || groups.any(|(formula, _)| organic(formula))
    }

    /// Whether all cyanide may be bound to iron, six ions to an atom.
    pub(crate) fn is_hexacyanoferrate(&self) -> bool {
        let cyanides = self.groups.iter().filter(|(own, _)| *own == "CN");
        let cyanides = cyanides.fold(Ratio::ZERO, |sum, (_, count)| sum + count);
        let complexes = cyanides.checked_div(&Ratio::from(6));
        let iron = self.loose("Fe");
        complexes.is_some_and(|n| n.is_positive() && n.is_integer() && n <= iron)
    }

    /// Whether the atoms that belong to no known ion are as in a nitro compound or a nitric ester: much
    /// nitrogen with oxygen for it, and little hydrogen. Which compound it is does not show.
    pub(crate) fn may_explode(&self) -> bool {
        let [hydrogen, carbon, nitrogen] =
            ["H", "C", "N"].map(|symbol| self.loose(symbol).to_f64());
        let anions = self.loose("S") + self.loose("P");
        let oxygen = self.loose("O").to_f64() - 4.0 * anions.to_f64();
        let is_ester = nitrogen >= 1.0 && oxygen - hydrogen / 2.0 >= 2.0 * carbon;
        let is_nitro =
            nitrogen >= 3.0 && oxygen >= 2.0 * nitrogen || nitrogen >= 5.0 && oxygen >= nitrogen;
        // Trinitro compounds as ammonium salts.
        let is_salt = nitrogen >= 3.0 && oxygen >= 1.5 * nitrogen && hydrogen <= carbon;
        carbon > 0.0 && (is_ester || is_nitro && hydrogen <= 2.0 * carbon || is_salt)
    }

    fn loose(&self, symbol: &str) -> Ratio {
        let mut loose = self.loose.iter();
        let own = loose.find(|(own, _)| own.symbol() == symbol);
        own.map_or(Ratio::ZERO, |(_, count)| count.clone())
    }

    fn add_loose(&mut self, element: Element, count: Ratio) {
        match self.loose.iter_mut().find(|(own, _)| *own == element) {
            Some((_, sum)) => *sum += count,
            None => self.loose.push((element, count)),
        }
    }

    fn add_group(&mut self, formula: &'static str, count: Ratio) {
        self.groups.push((formula, count));
    }
}

impl Formula {
    /// The ions that this formula may hold. Water counts as a molecule.
    pub(crate) fn ions(&self) -> IonContent {
        let mut content = IonContent::default();
        for part in &self.parts() {
            let mut elements = Vec::new();
            for term in &part.terms {
                if let Term::Atom(atom, _) = term {
                    for list in [&mut elements, &mut content.elements] {
                        if !list.contains(&atom.element()) {
                            list.push(atom.element());
                        }
                    }
                }
            }
            let mut scan = Scan {
                part,
                content: IonContent::default(),
            };
            scan.content.elements.clone_from(&elements);
            scan.run(0, part.terms.len(), &number(part.coefficient));
            scan.content.infer();
            content.groups.append(&mut scan.content.groups);
            for (element, count) in scan.content.loose {
                content.add_loose(element, count);
            }
            content.is_inferred |= scan.content.is_inferred;
        }
        content
    }
}

/// A count, or one if it is unknown.
fn number(count: Count) -> Ratio {
    count.ratio().unwrap_or(Ratio::ONE)
}

/// Takes the terms of a part apart into ions, the longest first.
struct Scan<'p> {
    part: &'p Part,
    content: IonContent,
}

impl Scan<'_> {
    /// Counts the ions and atoms of some terms, of which there are a number of groups.
    fn run(&mut self, start: usize, end: usize, groups: &Ratio) {
        let mut at = start;
        while at < end {
            match self.part.terms.get(at) {
                Some(Term::Open(_)) => at = self.bracket(at, end, groups),
                Some(Term::Atom(atom, count)) => {
                    let ion = (at + 1..=end.min(at + MOST_TERMS)).rev().find_map(|last| {
                        let text = self.text(at, last)?;
                        Some((self.ion(&text, at, last)?, last))
                    });
                    at = match ion {
                        Some((ion, last)) => {
                            self.content.add_group(ion, groups.clone());
                            last
                        }
                        None => {
                            let count = groups * &number(*count);
                            self.content.add_loose(atom.element(), count);
                            at + 1
                        }
                    };
                }
                _ => at += 1,
            }
        }
    }

    /// Counts what is in a bracket, and returns the index of the term after it.
    fn bracket(&mut self, open: usize, end: usize, groups: &Ratio) -> usize {
        let (close, count) = self.part.closing(open).unwrap_or((end, Count::ONE));
        let groups = groups * &number(count);
        let text = self.text(open + 1, close).unwrap_or_default();
        let is_pair = count == Count::Known(2, 1) && self.content.loose("C").is_zero();
        let is_carboxyl = CARBOXYL.iter().any(|own| text.starts_with(own));
        if is_pair && is_carboxyl && text.matches('C').count() == 1 {
            self.content.add_group("C2O4", groups);
        } else {
            self.run(open + 1, close, &groups);
        }
        close + 1
    }

    /// Some atoms as text. `None` if there is a bracket or a count that is not whole.
    fn text(&self, start: usize, end: usize) -> Option<String> {
        let mut text = String::new();
        for term in self.part.terms.get(start..end)? {
            let Term::Atom(atom, Count::Known(count, 1)) = term else {
                return None;
            };
            text += atom.element().symbol();
            if *count > 1 {
                text += &alloc::format!("{count}");
            }
        }
        Some(text)
    }

    /// The ion or molecule that is all of some terms, by its formula in the tables.
    fn ion(&self, text: &str, start: usize, end: usize) -> Option<&'static str> {
        let before = start.checked_sub(1).and_then(|at| self.part.terms.get(at));
        let after = self.part.terms.get(end);
        if let Some((_, formula)) = GROUPS.iter().find(|(own, _)| *own == text) {
            // The hydrogen of CH3NO3 belongs to carbon.
            if text == "H3N" && is_one_of(before, &["C"]) {
                return None;
            }
            // CO is a molecule in Ni(CO)4, and not in CO(NH2)2.
            let is_alone = matches!(
                (before, after),
                (Some(Term::Open(_)), Some(Term::Close(..)))
            );
            return (*formula != "CO" || is_alone).then_some(formula);
        }
        let mut ions = CATIONS.iter().chain(ANIONS);
        let ion = ions.find(|ion| ion.is_written(text) && !ion.is_atom())?;
        let is_real = match ion.formula {
            // BaO2 is a peroxide, MnO2 is not.
            "O2" => {
                let metals = self.part.terms.get(..start).unwrap_or_default();
                let is_light = |term: &Term| is_one_of(Some(term), &LIGHT_METALS);
                !metals.is_empty() && metals.iter().all(is_light)
            }
            // NaOCl is a hypochlorite, BiOCl is not.
            "ClO" | "BrO" | "IO" => {
                let is_in_brackets = matches!(before, Some(Term::Open(Bracket::Round)));
                is_in_brackets
                    || before.is_none()
                    || is_one_of(before, &LIGHT_METALS)
                    || is_one_of(before, &["H"])
            }
            // Three nitrogens of an organic molecule, or of a formula that only counts atoms.
            "N3" => {
                !is_one_of(before, &["C", "H"]) && !is_one_of(after, &["O", "S", "P"])
                    || (is_one_of(before, &["H"]) && start == 1)
            }
            // Sulfur with oxygen is in another ion.
            "HS" => !is_one_of(after, &["O"]),
            // Glycine, H2NCH2COOH, has nitrogen beside carbon and is no cyanide.
            "CN" => !is_one_of(after, &["H"]),
            // In H4INO3 the atoms of NH4IO3 are in alphabetical order.
            "NO3" | "NO2" => !is_one_of(before, &["Cl", "Br", "I"]),
            _ => true,
        };
        is_real.then_some(ion.formula)
    }
}

fn is_one_of(term: Option<&Term>, symbols: &[&str]) -> bool {
    matches!(term, Some(Term::Atom(atom, _)) if symbols.contains(&atom.element().symbol()))
}

/// Atoms of a formula that only counts them.
struct LooseAtoms {
    hydrogen: Ratio,
    carbon: Ratio,
    nitrogen: Ratio,
    oxygen: Ratio,
    sulfur: Ratio,
    phosphorus: Ratio,
    halogen: Ratio,
}

impl LooseAtoms {
    /// The oxygen that is left if the hydrogen is water.
    fn dry_oxygen(&self) -> Ratio {
        &self.oxygen - &(&self.hydrogen * &half())
    }

    /// The oxygen of the commonest anions of sulfur and phosphorus.
    fn anion_oxygen(&self) -> Ratio {
        (&self.sulfur + &self.phosphorus) * Ratio::from(4)
    }

    /// The oxygen that is left of both.
    fn spare_oxygen(&self) -> Ratio {
        self.dry_oxygen() - self.anion_oxygen()
    }

    /// Whether there is a nitrogen for each carbon, and no more hydrogen than water, an acid and ammonium have.
    /// Amines such as ethylenediamine have more.
    fn may_be_cyanide(&self) -> bool {
        let ammonium = &self.nitrogen - &self.carbon;
        let most = &self.oxygen * &Ratio::from(2) + &self.carbon + &ammonium * &Ratio::from(4);
        !ammonium.is_negative() && self.hydrogen <= most
    }

    /// Whether the spare oxygen is that of nitrates.
    fn is_nitrate(&self) -> bool {
        self.spare_oxygen() == &self.nitrogen * &Ratio::from(3)
    }
}

fn half() -> Ratio {
    Ratio::new(1, 2).unwrap_or_default()
}

impl IonContent {
    /// Adds the ions that the loose atoms of a part may form.
    fn infer(&mut self) {
        let atoms = LooseAtoms {
            hydrogen: self.loose("H"),
            carbon: self.loose("C"),
            nitrogen: self.loose("N"),
            oxygen: self.loose("O"),
            sulfur: self.loose("S"),
            phosphorus: self.loose("P"),
            halogen: ["Cl", "Br", "I"]
                .iter()
                .fold(Ratio::ZERO, |sum, own| sum + self.loose(own)),
        };
        let before = self.groups.len();
        self.infer_carbon(&atoms);
        self.infer_nitrogen(&atoms);
        self.infer_oxoanions(&atoms);
        self.is_inferred = self.groups.len() > before;
    }

    fn infer_carbon(&mut self, atoms: &LooseAtoms) {
        let carbon = &atoms.carbon;
        if carbon.is_zero() {
            return;
        }
        if atoms.may_be_cyanide() && !self.may_explode() {
            let own = if atoms.sulfur == *carbon { "SCN" } else { "CN" };
            self.add_group(own, carbon.clone());
        }
        // Water counts with the acid hydrogens.
        let oxygen = atoms.dry_oxygen();
        let three_halves = Ratio::from(3) * half();
        if oxygen == carbon * &Ratio::from(3) {
            self.loose
                .retain(|(element, _)| *element != Element::CARBON);
            self.add_group("CO3", carbon.clone());
        } else if self.elements.len() > 2
            && oxygen <= carbon * &Ratio::from(2)
            && oxygen >= carbon * &three_halves
        {
            self.add_group("C2O4", carbon.clone());
        }
    }

    fn infer_nitrogen(&mut self, atoms: &LooseAtoms) {
        let nitrogen = &atoms.nitrogen;
        if nitrogen.is_zero() || !atoms.carbon.is_zero() {
            return;
        }
        if atoms.oxygen >= Ratio::from(2) && *nitrogen >= Ratio::ONE {
            self.add_group("NO3", nitrogen.clone());
        }
        if atoms.hydrogen >= Ratio::from(4) && !atoms.is_nitrate() {
            self.add_group("NH4", nitrogen.clone());
        }
        // Ammonia has three hydrogens, and nitrides none.
        let three = Ratio::from(3);
        let in_threes = nitrogen.checked_div(&three);
        let is_nitride = atoms.hydrogen.is_zero() && !in_threes.is_some_and(|n| n.is_integer());
        let is_ammonia = atoms.hydrogen >= nitrogen * &three;
        if *nitrogen >= three && atoms.oxygen.is_zero() && !is_nitride && !is_ammonia {
            self.add_group("N3", nitrogen.clone());
        }
    }

    /// The ion of chlorine, unless all the halogen is bromine or iodine.
    fn of_halogen(
        &self,
        halogen: &Ratio,
        [chlorine, bromine, iodine]: [&'static str; 3],
    ) -> &'static str {
        match (self.loose("Br") == *halogen, self.loose("I") == *halogen) {
            (true, _) => bromine,
            (_, true) => iodine,
            _ => chlorine,
        }
    }

    fn infer_oxoanions(&mut self, atoms: &LooseAtoms) {
        if atoms.oxygen.is_zero() {
            return;
        }
        let spare = if atoms.nitrogen.is_zero() {
            atoms.spare_oxygen()
        } else if atoms.is_nitrate() {
            Ratio::ZERO
        } else {
            // The hydrogen may be ammonium.
            &atoms.oxygen - &atoms.anion_oxygen()
        };
        let spare_to = |count: Ratio, least: &Ratio| count.is_positive() && spare >= count * least;
        // Two halogens stand for an oxygen, as in CrO2Cl2. FeCr2O4 has chromium(III).
        let chromium = self.loose("Cr");
        let bound = &spare + &(&atoms.halogen * &half());
        if chromium.is_positive() && bound > &chromium * &Ratio::from(2) {
            self.add_group("CrO4", chromium);
        }
        if spare_to(self.loose("Mn"), &(Ratio::from(7) * half())) {
            self.add_group("MnO4", self.loose("Mn"));
        }
        let metals = self.loose.iter().filter(|(element, _)| element.is_metal());
        let mut metals = metals.map(|(element, _)| element.symbol());
        let all_light = metals.all(|symbol| LIGHT_METALS.contains(&symbol));
        // Bleaching powder, CaOCl2, has a chloride for each hypochlorite.
        let least = match atoms.hydrogen.is_zero() {
            true => half(),
            false => Ratio::ONE,
        };
        if spare_to(atoms.halogen.clone(), &Ratio::from(2)) {
            let ion = self.of_halogen(&atoms.halogen, ["ClO4", "BrO4", "IO4"]);
            self.add_group(ion, atoms.halogen.clone());
        } else if all_light && spare_to(atoms.halogen.clone(), &least) {
            let ion = self.of_halogen(&atoms.halogen, ["ClO", "BrO", "IO"]);
            self.add_group(ion, atoms.halogen.clone());
        }
        if atoms.sulfur.is_positive()
            && atoms.spare_oxygen().is_negative()
            && atoms.nitrogen.is_zero()
        {
            self.add_group("SO3", atoms.sulfur.clone());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn content(text: &str) -> IonContent {
        text.parse::<Formula>().unwrap().ions()
    }

    #[test]
    fn ions_are_found_in_every_spelling() {
        for (text, ion) in [
            ("K2Cr2O7", "Cr2O7"),
            ("(NH4)2Cr2O7", "NH4"),
            ("PbCrO4", "CrO4"),
            ("Cr2H8N2O7", "CrO4"),
            ("Cr2H8N2O7", "NH4"),
            ("K2Cr3O10", "CrO4"),
            ("CrO3", "CrO4"),
            ("Mg(ClO4)2·6H2O", "ClO4"),
            ("Cl2H12MgO14", "ClO4"),
            ("[Mg(H2O)6](ClO4)2", "ClO4"),
            ("KClO3", "ClO3"),
            ("Ca(ClO)2", "ClO"),
            ("Ca(OCl)2", "ClO"),
            ("NaOCl·5H2O", "ClO"),
            ("HOCl", "ClO"),
            ("K4[Fe(CN)6]·3H2O", "CN"),
            ("K4Fe(CN)6", "CN"),
            ("C6FeK4N6", "CN"),
            ("KSCN", "SCN"),
            ("CKNS", "SCN"),
            ("Co(NCS)2", "SCN"),
            ("Pb(N3)2", "N3"),
            ("NaN3", "N3"),
            ("HN3", "N3"),
            ("BaN6", "N3"),
            ("H2C2O4·2H2O", "C2O4"),
            ("(COOH)2·2H2O", "C2O4"),
            ("C2H2O4·2H2O", "C2O4"),
            ("C2H6O6", "C2O4"),
            ("HOOCCOOH·2H2O", "C2O4"),
            ("(COO)2Ca·H2O", "C2O4"),
            ("(COONa)2", "C2O4"),
            ("K3[Fe(C2O4)3]·3H2O", "C2O4"),
            ("KHC2O4·H2C2O4·2H2O", "C2O4"),
            ("NH4NO3", "NO3"),
            ("H4N2O3", "NO3"),
            ("H4N2O3", "NH4"),
            ("Cu(NO3)2·3H2O", "NO3"),
            ("CuH6N2O9", "NO3"),
            ("UO2(NO3)2·6H2O", "NO3"),
            ("BaO2·8H2O", "O2"),
            ("2Na2CO3·3H2O2", "O2"),
            ("NaBO3·4H2O", "O2"),
            ("KHSO5·H2O", "O2"),
            ("HCN", "CN"),
            ("Cu(NC)2", "CN"),
            ("N2H6SO4", "N2H4"),
            ("Ni(CO)4", "CO"),
            ("CrO2Cl2", "CrO4"),
            ("CNa2O3", "CO3"),
            ("CH20Na2O13", "CO3"),
            ("Na(C2H5)2NCS2·3H2O", "CS2"),
            ("NH4CN", "CN"),
            ("C6H6FeK4N6O3", "CN"),
            ("NaBrO2·3H2O", "BrO4"),
            ("Ca(OBr)2·H2O", "BrO"),
        ] {
            assert!(content(text).has(&[ion]), "{text}: no {ion}");
        }
    }

    #[test]
    fn other_ions_are_not_found() {
        for (text, ion) in [
            ("Cr2(SO4)3·18H2O", "CrO4"),
            ("Cr2H36O30S3", "CrO4"),
            ("CrK(SO4)2·12H2O", "CrO4"),
            ("Cr2O3", "CrO4"),
            ("FeCr2O4", "CrO4"),
            ("CO2", "C2O4"),
            ("CO(NH2)2", "CO"),
            ("Cr(NO3)3·9H2O", "CrO4"),
            ("CrH18N3O18", "CrO4"),
            ("CrH18N3O18", "NH4"),
            ("CuH6N2O9", "NH4"),
            ("KCl", "ClO4"),
            ("BiOCl", "ClO"),
            ("ZrOCl2·8H2O", "ClO"),
            ("BaCl2H4O2", "ClO"),
            ("KHSO5·H2O", "HS"),
            ("Cu(H2NCH2COO)2·H2O", "CN"),
            ("CH3CH2NH2", "CN"),
            ("MnO2", "O2"),
            ("UO2(NO3)2", "O2"),
            ("SnO2", "O2"),
            ("Mg3N2", "N3"),
            ("CoSO4", "CN"),
            ("Na2CO3·10H2O", "C2O4"),
            ("Zn(CH3COO)2·2H2O", "C2O4"),
            ("C4H10O6Zn", "C2O4"),
            ("MnSO4·H2O", "MnO4"),
            ("MnSO5H2", "MnO4"),
            ("[Co(NH3)6]Cl3", "NH4"),
            ("[Co(C2H8N2)3]Cl3·3H2O", "CN"),
            ("[Ni(C2H8N2)3]Cl2·2H2O", "CN"),
            ("C2H8N2·H2O", "CN"),
            ("Na(C2H5)2NCS2·3H2O", "CN"),
            ("Na(C2H5)2NCS2·3H2O", "SCN"),
            ("NaBrO2·3H2O", "ClO4"),
        ] {
            assert!(!content(text).has(&[ion]), "{text}: {ion}");
        }
        for text in [
            "Na2CO3",
            "KCN",
            "KSCN",
            "CuSO4",
            "NaHCO3",
            "K4[Fe(CN)6]",
            "CoCl2",
            "CsCl",
        ] {
            assert!(!content(text).is_organic(), "{text}");
        }
        for text in [
            "NaCH3CO2·3H2O",
            "H2C2O4",
            "C6H12O6",
            "Ca(HCOO)2",
            "C2H3NaO2",
        ] {
            assert!(content(text).is_organic(), "{text}");
        }
        for text in ["K3[Fe(CN)6]", "Fe4[Fe(CN)6]3", "C6FeK4N6", "Cu2Fe(CN)6"] {
            assert!(content(text).is_hexacyanoferrate(), "{text}");
        }
        for text in [
            "KCN",
            "Fe(CN)2",
            "Na2[Fe(CN)5NO]·2H2O",
            "K3[Co(CN)6]",
            "FeCl2",
        ] {
            assert!(!content(text).is_hexacyanoferrate(), "{text}");
        }
    }
}
