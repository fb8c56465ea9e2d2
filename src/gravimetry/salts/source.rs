//! The publications that the facts of the catalogue come from.
//!
//! Each row says what was read of it. What is `Recalled` was not read.

/// What was read of a publication.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Read {
    /// The whole of it, or the whole entry on the salt.
    Full,
    /// The abstract of a paper, or an excerpt.
    Abstract,
    /// A table of numbers taken from it.
    Table,
    /// Nothing: it is recalled, or is common practice.
    Recalled,
}

macro_rules! sources {
    ($($name:ident $read:ident $text:literal,)+) => {
        /// A publication that supports a row.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub(super) enum Source {
            $($name,)+
        }

        impl Source {
            /// The publication as text.
            pub(super) const fn publication(self) -> &'static str {
                match self { $(Source::$name => $text,)+ }
            }

            /// What was read of it.
            pub(super) const fn read(self) -> Read {
                match self { $(Source::$name => Read::$read,)+ }
            }

            /// Whether no publication was read.
            pub(super) const fn is_from_memory(self) -> bool {
                matches!(self.read(), Read::Recalled)
            }

            #[cfg(test)]
            pub(super) const ALL: &[Source] = &[$(Source::$name),+];
        }
    };
}

sources! {
    // Tables and handbooks.
    Nbs Table "D. D. Wagman et al., The NBS tables of chemical thermodynamic properties, J. Phys. Chem. Ref. Data 1982, 11, Suppl. 2",
    NbsMemory Recalled "D. D. Wagman et al., The NBS tables of chemical thermodynamic properties, J. Phys. Chem. Ref. Data 1982, 11, Suppl. 2 (from memory)",
    Crc Table "CRC Handbook of Chemistry and Physics, Physical Constants of Inorganic Compounds",
    CrcMemory Recalled "CRC Handbook of Chemistry and Physics, Physical Constants of Inorganic Compounds (from memory)",
    Usp Full "United States Pharmacopeia 28 to 32, monographs: loss on drying, loss on ignition",
    Dictionary Full "a dictionary of chemistry, entry on calcium chloride",
    Thiosulfate Full "a reference article on sodium thiosulfate",
    CobaltSheet Full "a supplier's property sheet on cobalt(II) sulfate",
    ManganeseSheet Full "suppliers' property sheets on manganese(II) sulfate",
    Memory Recalled "from memory",
    Practice Recalled "common practice, no source",
    // Dehydration and decomposition, by salt.
    ElHoute Abstract "S. El-Houte, M. El-Sayed, O. T. Sørensen, Thermochim. Acta 1989, 138, 107",
    TaylorKlug Abstract "T. I. Taylor, H. P. Klug, Thermal transitions in copper sulphate pentahydrate, J. Chem. Phys. 1936, 4, 601",
    CopperArticle Full "a reference article on copper(II) sulfate",
    CopperNote Full "an instrument maker's notes on copper sulfate pentahydrate, thermogravimetry with evolved gas analysis",
    Emons Abstract "H.-H. Emons, G. Ziegenbalg, R. Naumann, F. Paulik, Thermal decomposition of the magnesium sulphate hydrates under quasi-isothermal and quasi-isobaric conditions, J. Therm. Anal.",
    Effusion Abstract "Effusion studies of the thermal decomposition of magnesium and calcium sulfates, J. Chem. Phys. 1977, 66, 4532",
    NetsuSokutei Abstract "thermal analysis of magnesium sulfate heptahydrate in open and sealed crucibles, Netsu Sokutei, 10 (1), 2",
    Ding Abstract "C. Ding, W. Zheng, R. Xue, F. Chen, Crystals 2025, 15 (3), 257",
    Yang Abstract "W. Yang, J. Yang, Inorg. Chem. Ind. 2014, 46 (2), 31",
    ZincGuinier Abstract "Contributions to the thermal behaviour of sulfates II, ZnSO4·7H2O, Z. Anorg. Allg. Chem.",
    NickelAir Abstract "kinetics of the thermal decomposition of nickel sulfate hexahydrate in air, journal abstract",
    FerrousAir Abstract "Thermal analysis of ferrous sulphate heptahydrate in air II, J. Therm. Anal., doi 10.1007/BF01910710",
    CobaltMesylate Abstract "Thermal decomposition of hydrated Co(II) methanesulfonate, Thermochim. Acta 2005, 435, 1",
    Hu Abstract "L. Hu, Z. Liu, Z. Su, J. Shen, Inorg. Chem. Ind. 2010 (6)",
    CupricAir Abstract "dehydration and decomposition of CuCl2·2H2O in air and nitrogen, journal abstract",
    Cupric Full "a text-book chapter on cupric chloride",
    NickelIsothermal Abstract "Dehydration of NiCl2·6H2O, Thermochim. Acta 2001, 375, 169",
    NickelChloride Abstract "Thermal dehydration and decomposition of nickel chloride hydrate, journal abstract",
    Huang Abstract "Q.-Z. Huang, G.-M. Lu, J. Wang, J.-G. Yu, J. Inorg. Mater. 2010, doi 10.3724/sp.j.1077.2010.00306",
    FerricAir Abstract "Thermal dehydration and decomposition of FeCl3·xH2O, journal abstract",
    AluminiumSalts Abstract "thermal decomposition of aluminium salts, Netsu Sokutei, 13 (3)",
    GypsumVapour Abstract "Study of gypsum dehydration by controlled transformation rate thermal analysis, journal abstract",
    GypsumNote Full "an instrument maker's note on gypsum, simultaneous thermal analysis",
    BariumNote Full "an instrument maker's note on barium chloride dihydrate, simultaneous thermal analysis",
    Habashy Abstract "G. M. Habashy, G. A. Kolta, J. Inorg. Nucl. Chem. 1972, doi 10.1016/0022-1902(72)80361-0",
    Zushi Abstract "Y. Zushi, S. Iwasaki, N. Koga, Thermochim. Acta 2023, 179503",
    Alum Abstract "R. Souza, R. Navarro, A. V. Grillo, E. Brocchi, J. Mater. Res. Technol. 2019, 8 (1), doi 10.1016/j.jmrt.2018.05.017",
    Alunite Abstract "Thermal decomposition of Şaphane alunite ore, Ind. Eng. Chem. Res. 2002, 41, 6028",
    Jokokuite Abstract "Nambu, MnSO4·5H2O, a new mineral from the Jôkoku mine, Mineral. J., 9, 28 (title)",
    // Hazards.
    CopperSheet Full "CLEAPSS, Student safety sheet 40, copper and its compounds",
    CobaltChlorideSds Full "a supplier's safety data sheet for cobalt chloride hexahydrate (2011), classes of Regulation (EC) 1272/2008",
    CobaltSulfateWhmis Full "CNESST, WHMIS 2015 classification of cobalt sulfate",
    NickelSulfateSds Full "a supplier's GHS classification of nickel sulfate hexahydrate",
    BariumMmg Full "ATSDR, Medical management guidelines for barium and selected barium compounds",
}
