//! The publications that the facts of the catalogue come from.
//!
//! Of a paper the abstract was read, unless it says otherwise. `Memory` means recalled, not read.

macro_rules! sources {
    ($($(#[$meta:meta])* $name:ident => $text:literal,)+) => {
        /// A publication that supports a row.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(super) enum Source {
            $($(#[$meta])* $name,)+
        }

        impl Source {
            /// The publication as text.
            pub(super) const fn publication(self) -> &'static str {
                match self { $(Source::$name => $text,)+ }
            }

            #[cfg(test)]
            pub(super) const ALL: &[Source] = &[$(Source::$name),+];
        }
    };
}

sources! {
    // Tables and handbooks.
    Nbs => "D. D. Wagman et al., The NBS tables of chemical thermodynamic properties, J. Phys. Chem. Ref. Data 1982, 11, Suppl. 2",
    NbsMemory => "D. D. Wagman et al., The NBS tables of chemical thermodynamic properties, J. Phys. Chem. Ref. Data 1982, 11, Suppl. 2 (from memory)",
    Crc => "CRC Handbook of Chemistry and Physics, Physical Constants of Inorganic Compounds",
    CrcMemory => "CRC Handbook of Chemistry and Physics, Physical Constants of Inorganic Compounds (from memory)",
    Usp => "United States Pharmacopeia 28 to 32, monographs: loss on drying, loss on ignition",
    Dictionary => "a dictionary of chemistry, entry on calcium chloride",
    Thiosulfate => "a reference article on sodium thiosulfate",
    CobaltSheet => "a supplier's property sheet on cobalt(II) sulfate",
    ManganeseSheet => "suppliers' property sheets on manganese(II) sulfate",
    Memory => "from memory",
    Practice => "common practice, no source",
    // Dehydration and decomposition, by salt.
    ElHoute => "S. El-Houte, M. El-Sayed, O. T. Sørensen, Thermochim. Acta 1989, 138, 107",
    CopperNote => "an instrument maker's notes on copper sulfate pentahydrate, thermogravimetry with evolved gas analysis",
    Emons => "H.-H. Emons, G. Ziegenbalg, R. Naumann, F. Paulik, Thermal decomposition of the magnesium sulphate hydrates under quasi-isothermal and quasi-isobaric conditions, J. Therm. Anal.",
    Effusion => "Effusion studies of the thermal decomposition of magnesium and calcium sulfates, J. Chem. Phys. 1977, 66, 4532",
    NetsuSokutei => "thermal analysis of magnesium sulfate heptahydrate in open and sealed crucibles, Netsu Sokutei, 10 (1), 2",
    Ding => "C. Ding, W. Zheng, R. Xue, F. Chen, Crystals 2025, 15 (3), 257",
    Yang => "W. Yang, J. Yang, Inorg. Chem. Ind. 2014, 46 (2), 31",
    ZincGuinier => "Contributions to the thermal behaviour of sulfates II, ZnSO4·7H2O, Z. Anorg. Allg. Chem.",
    NickelAir => "kinetics of the thermal decomposition of nickel sulfate hexahydrate in air, journal abstract",
    FerrousAir => "Thermal analysis of ferrous sulphate heptahydrate in air II, J. Therm. Anal., doi 10.1007/BF01910710",
    CobaltMesylate => "Thermal decomposition of hydrated Co(II) methanesulfonate, Thermochim. Acta 2005, 435, 1",
    Hu => "L. Hu, Z. Liu, Z. Su, J. Shen, Inorg. Chem. Ind. 2010 (6)",
    CupricAir => "dehydration and decomposition of CuCl2·2H2O in air and nitrogen, journal abstract",
    Cupric => "a text-book chapter on cupric chloride",
    NickelIsothermal => "Dehydration of NiCl2·6H2O, Thermochim. Acta 2001, 375, 169",
    NickelChloride => "Thermal dehydration and decomposition of nickel chloride hydrate, journal abstract",
    Huang => "Q.-Z. Huang, G.-M. Lu, J. Wang, J.-G. Yu, J. Inorg. Mater. 2010, doi 10.3724/sp.j.1077.2010.00306",
    FerricAir => "Thermal dehydration and decomposition of FeCl3·xH2O, journal abstract",
    AluminiumSalts => "thermal decomposition of aluminium salts, Netsu Sokutei, 13 (3)",
    GypsumVapour => "Study of gypsum dehydration by controlled transformation rate thermal analysis, journal abstract",
    GypsumNote => "an instrument maker's note on gypsum, simultaneous thermal analysis",
    BariumNote => "an instrument maker's note on barium chloride dihydrate, simultaneous thermal analysis",
    Habashy => "G. M. Habashy, G. A. Kolta, J. Inorg. Nucl. Chem. 1972, doi 10.1016/0022-1902(72)80361-0",
    Zushi => "Y. Zushi, S. Iwasaki, N. Koga, Thermochim. Acta 2023, 179503",
    Alum => "R. Souza, R. Navarro, A. V. Grillo, E. Brocchi, J. Mater. Res. Technol. 2019, 8 (1), doi 10.1016/j.jmrt.2018.05.017",
    Alunite => "Thermal decomposition of Şaphane alunite ore, Ind. Eng. Chem. Res. 2002, 41, 6028",
    Jokokuite => "Nambu, MnSO4·5H2O, a new mineral from the Jôkoku mine, Mineral. J., 9, 28 (title)",
    // Hazards.
    CopperSheet => "CLEAPSS, Student safety sheet 40, copper and its compounds",
    CobaltChlorideSds => "a supplier's safety data sheet for cobalt chloride hexahydrate (2011), classes of Regulation (EC) 1272/2008",
    CobaltSulfateWhmis => "CNESST, WHMIS 2015 classification of cobalt sulfate",
    NickelSulfateSds => "a supplier's GHS classification of nickel sulfate hexahydrate",
    BariumMmg => "ATSDR, Medical management guidelines for barium and selected barium compounds",
}
