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
    Dictionary Full "Sciref.net, a dictionary entry on the salt (the dictionary is not named)",
    Thiosulfate Full "Allrefs.net, a reference article on sodium thiosulfate, in Russian (no author)",
    CobaltSheet Full "a supplier's property sheet on cobalt(II) sulfate (supplier not noted)",
    ManganeseSheet Full "a supplier's property sheet on manganese(II) sulfate: water leaves at 400 °C to 450 °C, decomposes at 850 °C (BEST Inc., and others not noted)",
    Memory Recalled "from memory",
    Practice Recalled "common practice, no source",
    // Sulfates.
    Merck Full "The Merck Index, entry on the salt (copies at Data.cas-msds.com, Drugfuture.com, Druglead.com)",
    Merck1952 Full "The Merck Index, 1952, entry on cupric sulfate (quoted at Customers.hbci.com)",
    BrickClays Full "Konstrukcjestalowe.net.pl, a text on epsomite in brick clays, in Polish (no author)",
    MagnesiumSds Full "Paperzz.com, a supplier's safety data sheet for magnesium sulfate heptahydrate (2013): not classified",
    GlauberArticle Full "Infinitelexicon.com, entry on sodium sulfate decahydrate (no author)",
    SodiumSheet Full "Biomedicalmaterialsprogram.nl, a page on anhydrous sodium sulfate (no author)",
    ZincSheet Full "Sdbaiding.com and Rqsulfates.com, suppliers' pages on the hydrates of zinc sulfate",
    ZincArticle Full "En.academic.ru, a reference article on zinc sulfate: the European classification, index 030-006-00-9",
    ZincSds Full "Docslib.org, a supplier's safety data sheet for zinc sulfate heptahydrate (2017), New Zealand's classes",
    NickelEncyclopaedia Full "Yourdictionary.com, quotations on hexahydrates, from an encyclopaedia of 1911 on nickel sulfate",
    NickelArticle Full "Cryer.org.uk, a reference article on nickel(II) sulfate",
    FerrousEncyclopedia Full "Encyclopedia.com, entry on ferrous sulfate",
    IronGisChem Full "GisChem, data sheet on iron(II) sulfate: Regulation (EC) 1272/2008, Annex VI",
    FerricSulfateTg Abstract "Thermal decomposition of iron sulphate hexahydrate, thermogravimetry at 5 K/min in static air, abstract (journal not noted)",
    ManganeseTg Abstract "Dehydration of crystalline MnSO4·4H2O, abstract (journal not noted)",
    LithiumIsothermal Abstract "Kinetic study of the dehydration of lithium sulphate monohydrate, Solid State Ion. 1997, 101-103, 1299",
    LithiumSds Full "Docslib.org, a supplier's safety data sheet for lithium sulfate, risk phrases",
    BerylliumSrm Full "Docslib.org, a safety data sheet of a beryllium standard (2005): beryllium chloride, European risk phrases",
    CadmiumArticle Full "En.wikipedia.org, article on cadmium sulfate: the European classification, index 048-009-00-9, in risk phrases",
    AluminiumKinetics Abstract "Thermal decomposition kinetics of aluminum sulfate hydrate, J. Therm. Anal. Calorim., doi 10.1007/s10973-009-0389-5",
    AluminiumNotified Table "ECHA, classification and labelling inventory: notifications of aluminium sulphate",
    AluminiumSheet Full "Winwinchemicals.com and Scribd.com, suppliers' pages on aluminium sulfate hydrate",
    Icsc0290 Full "International Chemical Safety Card 0290, manganese sulphate monohydrate (2018)",
    Icsc1127 Full "International Chemical Safety Card 1127, cobalt sulfate (2013): the European classification, in risk phrases",
    ClpMemory Recalled "Regulation (EC) No 1272/2008, Annex VI (from memory)",
    RegistrationMemory Recalled "registrations under Regulation (EC) No 1907/2006 (from memory)",
    // Double sulfates.
    Boussingaultite Abstract "E. S. Zhitova et al., the anthropogenic analogue of boussingaultite, (NH4)2Mg(SO4)2·6H2O, and efremovite, abstract (journal not noted)",
    TuttonThree Abstract "Synthesis, characterization and thermal analysis of K2M(SO4)2·6H2O (M = Mg, Co, Cu), 2015",
    Morales Abstract "A. C. Morales, N. D. Cooper, B. A. Reisner, T. C. DeVore, J. Therm. Anal. Calorim. 2018, doi 10.1007/s10973-018-7107-0",
    CopperTutton Abstract "Crystal growth, structure, and thermal analysis of K2Cu(SO4)2·6H2O Tutton salt, 2024, doi 10.59167/tujnas.v9i1.2055",
    AmmoniumTutton Abstract "Thermal behaviour of double ammonium sulphate hexahydrates of Mn, Fe, Co, Ni and Cu, Thermochim. Acta 1994, 244, 85",
    MohrArticle Full "En.wikipedia.org, article on ammonium iron(II) sulfate, and an abstract on its phase transitions (journal not noted)",
    ChromeAlumArticle Full "Laboratoriumdiscounter.nl and a copy of a reference article, chromium(III) potassium sulfate",
    ChromiumArticle Full "Chromium.atomistry.com, page on ammonium chromium alum",
    IronAlumArticle Full "Wikiwand.com, article on iron alum",
    AmmoniumAlumArticle Full "Wiki-gateway.eudic.net, article on ammonium aluminium sulfate",
    // Dehydration and decomposition, by salt.
    ElHoute Abstract "S. El-Houte, M. El-Sayed, O. T. Sørensen, Thermochim. Acta 1989, 138, 107",
    TaylorKlug Abstract "T. I. Taylor, H. P. Klug, Thermal transitions in copper sulphate pentahydrate, J. Chem. Phys. 1936, 4, 601",
    CopperArticle Full "Encyclopedia.datana.cloud, Coppersulfatesulphate.com, reference articles on copper(II) sulfate",
    CopperNote Full "an instrument maker's notes on copper sulfate pentahydrate, thermogravimetry with evolved gas analysis (maker not noted)",
    Emons Abstract "H.-H. Emons, G. Ziegenbalg, R. Naumann, F. Paulik, Thermal decomposition of the magnesium sulphate hydrates under quasi-isothermal and quasi-isobaric conditions, J. Therm. Anal.",
    Effusion Abstract "Effusion studies of the thermal decomposition of magnesium and calcium sulfates, J. Chem. Phys. 1977, 66, 4532",
    NetsuSokutei Abstract "thermal analysis of magnesium sulfate heptahydrate in open and sealed crucibles, Netsu Sokutei, 10 (1), 2",
    Ding Abstract "C. Ding, W. Zheng, R. Xue, F. Chen, Crystals 2025, 15 (3), 257",
    Yang Abstract "W. Yang, J. Yang, Inorg. Chem. Ind. 2014, 46 (2), 31",
    ZincGuinier Abstract "Contributions to the thermal behaviour of sulfates II, ZnSO4·7H2O, Z. Anorg. Allg. Chem.",
    NickelAir Abstract "The kinetics of all steps of the thermal decomposition of nickel sulfate hexahydrate in air, abstract, ACNP record 12994075 (title and authors not noted)",
    FerrousAir Abstract "Thermal analysis of ferrous sulphate heptahydrate in air II, J. Therm. Anal., doi 10.1007/BF01910710",
    CobaltMesylate Abstract "Thermal decomposition of hydrated Co(II) methanesulfonate, Thermochim. Acta 2005, 435, 1",
    Hu Abstract "L. Hu, Z. Liu, Z. Su, J. Shen, Inorg. Chem. Ind. 2010 (6)",
    CupricAir Abstract "Dehydration and decomposition of CuCl2·2H2O in static air and flowing nitrogen, Institute of Minerals and Materials Technology, repository item 2018/1171",
    NickelIsothermal Abstract "J. N. Charles et al., Dehydration of NiCl2·6H2O, Thermochim. Acta 2001, 375, 169",
    NickelChloride Abstract "Thermal dehydration and decomposition of nickel chloride hydrate (NiCl2·xH2O), abstract (authors and journal not noted)",
    Huang Abstract "Q.-Z. Huang, G.-M. Lu, J. Wang, J.-G. Yu, J. Inorg. Mater. 2010, 25 (3), 306, doi 10.3724/SP.J.1077.2010.00306",
    FerricAir Abstract "Thermal dehydration and decomposition of FeCl3·xH2O, abstract (authors and journal not noted)",
    AluminiumSalts Abstract "thermal decomposition of aluminium salts, Netsu Sokutei, 13 (3)",
    GypsumVapour Abstract "Study of gypsum dehydration by controlled transformation rate thermal analysis (CRTA), abstract (authors and journal not noted)",
    GypsumNote Full "an instrument maker's note on gypsum, simultaneous thermal analysis (maker not noted)",
    BariumNote Full "AMI Instruments, Simultaneous thermal analysis of barium chloride dihydrate: two-step dehydration by STA",
    Habashy Abstract "G. M. Habashy, G. A. Kolta, J. Inorg. Nucl. Chem. 1972, doi 10.1016/0022-1902(72)80361-0",
    Zushi Abstract "Y. Zushi, S. Iwasaki, N. Koga, Thermochim. Acta 2023, 179503, doi 10.1016/j.tca.2023.179503",
    Alum Abstract "R. Souza, R. Navarro, A. V. Grillo, E. Brocchi, J. Mater. Res. Technol. 2019, 8 (1), doi 10.1016/j.jmrt.2018.05.017",
    Alunite Abstract "Thermal decomposition of Şaphane alunite ore, Ind. Eng. Chem. Res. 2002, 41, 6028",
    Jokokuite Abstract "Nambu, MnSO4·5H2O, a new mineral from the Jôkoku mine, Mineral. J., 9, 28 (title)",
    // The other families, in alphabetical order.
    Aarts Abstract "J. Aarts, N. Mazur, H. R. Fischer, O. C. G. Adan, H. P. Huinink, Cryst. Growth Des. 2024, 24, 2493, doi 10.1021/acs.cgd.3c01484",
    AcetateEntry Full "SolubilityOfThings.com, entry on sodium acetate trihydrate",
    AluminiumNitrate Abstract "Thermal transformations of aluminium nitrate hydrate, abstract (journal not noted)",
    Atomistry Full "Atomistry.com, entries on aluminium nitrate and sodium thiosulphate",
    Averrhoa Table "Averrhoa carambola: a renewable source of oxalic acid for the facile and green synthesis of divalent metal (Fe, Co, Ni, Zn, and Cu) oxalates and oxide nanoparticles, Hindawi 2014, article 767695, Table 3",
    BallCarbonate Abstract "M. C. Ball, C. M. Snelling, A. N. Strachan, J. Chem. Soc., Faraday Trans. 1 1985, 81, 1761, doi 10.1039/F19858101761",
    BariumAnswer Full "ScienceAQ.com, an answer on the dehydration of barium chloride dihydrate",
    BariumHydroxideEntry Full "Memim.com, entry on barium hydroxide",
    BariumHydroxideSheet Full "ChemicalDictionary.org, entry on barium hydroxide monohydrate",
    BoraxSheet Full "Borichem.com, a supplier's introduction to borax decahydrate",
    Brockner Abstract "Thermal decomposition of nickel nitrate hexahydrate in comparison to cobalt and calcium nitrates, Thermochim. Acta 2007, 456, 64",
    Brushite Abstract "Dehydration of calcium hydrogen phosphate dihydrate, isothermal study between 409 K and 537 K, abstract (journal not noted)",
    CadmiumEntry Full "Wikipedia, Cadmium chloride",
    CalciumEntry Full "Wikipedia, Calcium chloride, after the CRC Handbook",
    ClipCopper Full "J. A. Young, Chemical Laboratory Information Profile: copper(II) chloride dihydrate, J. Chem. Educ.",
    ClipZinc Full "J. A. Young, Chemical Laboratory Information Profile: zinc nitrate hexahydrate, J. Chem. Educ.",
    CobaltAcetate Abstract "T. Wanjun, C. Donghua, Mechanism of thermal decomposition of cobalt acetate tetrahydrate, Chem. Pap. 2007",
    CobaltDataSheet Full "Phoenix College, Chemical data sheet: cobalt(II) chloride hexahydrate, 2001",
    CobaltDryAir Recalled "L. Hu et al., Inorg. Chem. Ind. 2010 (6), for the hydrolysis; the chlorine that leaves in dry air is from memory",
    CobaltNitrateEntry Full "ChemicalBook.com, entry on cobalt(II) nitrate",
    CobaltNitrateStages Abstract "The mechanism of thermal decomposition of Co(NO3)2·2H2O, J. Therm. Anal. 34, 203",
    CopperOxysalts Abstract "Thermoanalytical investigation of the decomposition course of copper oxysalts II, copper(II) nitrate trihydrate, J. Therm. Anal., doi 10.1007/BF02547432",
    Dinh Abstract "L. N. Dinh et al., J. Nucl. Mater. 2003, doi 10.1016/S0022-3115(03)00084-9",
    DisodiumSheet Full "Slhg98.com, a supplier's property sheet on disodium hydrogen phosphate",
    Ehrhardt Abstract "C. Ehrhardt, M. Gjikaj, W. Brockner, Thermochim. Acta 2005, 432, 36",
    FerrocyanideEntry Full "Wikipedia, Potassium ferrocyanide",
    FerrocyanideOxygen Abstract "Thermal decomposition of potassium hexacyanoferrate(II) trihydrate, J. Therm. Anal.",
    FerrocyanideSheet Full "Smolecule.com, entry on potassium ferrocyanide trihydrate",
    Frost Abstract "R. L. Frost, M. L. Weier, Thermochim. Acta 2004, 409, 79",
    GaoCitrate Abstract "Investigations on dehydration processes of trisodium citrate hydrates, Front. Chem. Sci. Eng. 2012, 6 (3), doi 10.1007/s11705-012-1206-4",
    Ghule Abstract "A. V. Ghule, C. J. Bhongale, H. Chang, Spectrochim. Acta A 2003, 59 (7), doi 10.1016/s1386-1425(02)00395-5",
    HartungBorax Abstract "E. Hartung, K. Heide, R. Naumann, K. H. Jost, W. Hilmer, Research on the thermal decomposition of borax I",
    HusseinAcetate Abstract "G. A. M. Hussein, A. K. H. Nohman, K. M. A. Attyia, J. Therm. Anal. 1994, 42, 1155, doi 10.1007/BF02546925",
    IronNitrate Abstract "Thermal decomposition mechanism of iron(III) nitrate, J. Therm. Anal. Calorim. 2013, doi 10.1007/s10973-013-3339-1",
    IronOxalate Abstract "Thermal decomposition of iron(II) oxalate dihydrate in nitrogen using the Mössbauer effect, J. Chem. Soc. A 1968, 2878",
    IronOxalateEntry Full "Wikipedia, Iron(II) oxalate",
    Jauffret Abstract "G. Jauffret, J. Morrison, F. P. Glasser, J. Therm. Anal. Calorim. 2015, doi 10.1007/s10973-015-4756-0",
    JiangAcetate Abstract "Y. Jiang, H. Chen, X. Mu, Z. He, J. Phys.: Conf. Ser. 2020, 1653, 012057, doi 10.1088/1742-6596/1653/1/012057",
    LeadAcetate Abstract "M. A. Mohamed, S. A. Halawy, M. M. Ebrahim, Thermochim. Acta 1994, 236, 249",
    LeadEntry Full "Wikipedia, Lead(II) acetate",
    LinAcetate Abstract "Z. Lin, D. Han, S. Li, J. Therm. Anal. Calorim. 2012, 107, 471, doi 10.1007/s10973-011-1454-4",
    MagnesiumNitrateEntry Full "Wikipedia, Magnesium nitrate",
    MagnesiumNitrateSheet Full "Cookechem.com, a supplier's listing of magnesium nitrate",
    ManganeseAcetate Abstract "Kinetic and mechanistic study of the non-isothermal decomposition of manganese(II) acetate tetrahydrate, abstract (journal not noted)",
    ManganeseOxalateEntry Full "Wikipedia, Manganese oxalate, after B. Donkova, D. Mehandjiev, Thermochim. Acta 2004, 421, 141",
    MerckManganese Full "Vvchem.com, a copy of the Merck Index entry on manganese chloride",
    Mikuli Abstract "E. Mikuli, A. Migdał-Mikuli, R. Chyży, B. Grad, R. Dziembaj, Thermochim. Acta 2001, 370, 65, doi 10.1016/S0040-6031(00)00770-X",
    Moezzi Abstract "A. Moezzi, A. McDonagh, A. Dowd, M. Cortie, Zinc hydroxyacetate and its transformation to nanocrystalline zinc oxide, Inorg. Chem., doi 10.1021/ic302328e",
    Morozov Abstract "I. V. Morozov, K. O. Znamenkov, Yu. M. Korenev, O. A. Shlyakhtin, Thermochim. Acta 2003, 403 (2), doi 10.1016/s0040-6031(03)00057-1",
    NickelNitrateAir Abstract "Spectroscopic and microscopic investigations of the thermal decomposition of nickel oxysalts 2, nickel nitrate hexahydrate, Thermochim. Acta 1993, 228, 173",
    NickelSynthesis Full "Wikipedia, Nickel(II) chloride, after L. G. L. Ward, Inorg. Synth. 1972, 13, 154",
    NioshBorax Full "NIOSH Pocket Guide to Chemical Hazards, borates, tetra, sodium salts (decahydrate and pentahydrate)",
    OxalateNote Full "Setaram, Application note AN716, calcium oxalate decomposition under high pressure",
    OxalicSheet Full "ChemicalDictionary.org, entry on oxalic acid dihydrate",
    Paulik Abstract "Thermogravimetric examination of the dehydration of calcium nitrate tetrahydrate under quasi-isothermal and quasi-isobaric conditions, J. Therm. Anal., doi 10.1007/BF01914678",
    Ramlogan Abstract "M. V. Ramlogan, A. A. Rouff, J. Therm. Anal. Calorim. 2016, 123, 145, doi 10.1007/s10973-015-4860-1",
    RochelleEntry Full "Wikipedia, Potassium sodium tartrate, after the CRC Handbook and Ullmann's Encyclopedia",
    RochelleSheet Full "a supplier's property sheet on potassium sodium tartrate tetrahydrate (supplier not noted)",
    Saltwiki Full "A. Stahlbuhk, Calcium chloride, Saltwiki, 2016",
    SrHalides Abstract "Zur Kenntnis der Barium- und Strontiumhalogenidhydrate, abstract (journal not noted)",
    StrontiumEntry Full "ChemicalBook.com, entry on strontium chloride, 10476-85-4",
    StrontiumHydroxide Abstract "Thermal decomposition of strontium hydroxide, J. Therm. Anal., doi 10.1007/BF01950236",
    SulfideSheet Full "ChemicalDictionary.org, entry on sodium sulfide nonahydrate",
    ThiosulfateEntry Full "Wikipedia, Sodium thiosulfate",
    TrisodiumEntry Full "Wikipedia, Trisodium phosphate",
    TungstateEntry Full "Pure-tungsten-products.blogspot.com, Sodium tungstate, 2015, after an older monograph",
    Yasue Abstract "T. Yasue, T. Suzuki, Y. Arai, Nippon Kagaku Kaishi 1983 (4), 494",
    YiChlorides Abstract "X. Yi, J. Hu, M. Sun, X. Man, Y. Zhang, S. Liu, J. Therm. Anal. Calorim. 2019, doi 10.1007/s10973-019-08307-4",
    ZincAcetateSheet Full "ChemicalDictionary.org, entry on zinc acetate dihydrate, R22 and R36 in today's codes",
    ZincFormate Abstract "Zinc formate dihydrate, heat capacity and thermal decomposition, J. Therm. Anal. Calorim. 91 (3), 861",
    ZincNitrateEntry Full "Wikipedia, Zinc nitrate",
    Criado Abstract "J. M. Criado, A. Barrero Ortega, C. Real, React. Solids 1987, 4 (1-2), doi 10.1016/0168-7336(87)80089-x",
    MerckPhosphate Full "Druglead.com, a copy of the Merck Index entry on monobasic sodium phosphate",
    Molybdate Full "Aadhunikindustries.org, a copy of a pharmacopoeia's monograph on sodium molybdate dihydrate",
    MagnesiumSheet Full "ChemicalDictionary.org, entry on magnesium chloride hexahydrate",
    PotashEntry Full "ChemicalDictionary.org, entry on potassium carbonate sesquihydrate, R36/37/38 in today's codes",
    PotashSheet Full "a supplier's property sheet on potassium carbonate (supplier not noted)",
    Dinnebier Abstract "R. E. Dinnebier, T. Runčevski, K. Sugimoto, Dehydration of magnesium bromide hexahydrate, Z. Anorg. Allg. Chem. 2013, 639, 59",
    LithiumBromideEntry Full "Memim.com, entry on lithium bromide",
    SulfiteNote Full "Yibaizhang.timluo.net, a note on the properties of sodium sulfite",
    // Hazards.
    CobaltNitrateCard Full "IPCS, International Chemical Safety Card 0784, cobalt(II) nitrate hexahydrate, 2001",
    CobaltNitrateSds Full "Nanjing Liwei Chemical, safety data sheet on cobaltous nitrate",
    ManganeseSafetySheet Full "CLEAPSS, Student safety sheet 48, manganese and its compounds",
    PotashSds Full "JLP Corporation, safety data sheet on potassium carbonate",
    AnnexSix Recalled "Regulation (EC) No 1272/2008, Annex VI, Table 3 (from memory)",
    BariumCard Full "IPCS, International Chemical Safety Card 0615, barium chloride dihydrate, 2000",
    BariumSds Full "GFS Chemicals, safety data sheet on barium chloride dihydrate, product 602",
    CalciumCard Full "IPCS, International Chemical Safety Card 1184, calcium chloride (anhydrous), 2012",
    CobaltCard Full "IPCS, International Chemical Safety Card 0783, cobalt(II) chloride, 2004, its R phrases in today's codes, with H341 and H360 after American Elements",
    CopperAcetateSds Full "Nanjing Liwei Chemical, material safety data sheet on copper acetate monohydrate",
    CopperChlorideRisks Full "ChemicalDictionary.org, entry on copper(II) chloride dihydrate, R22, R37/38 and R41 in today's codes, with H410 after R50/53 of Acros Organics, safety data sheet on the anhydrous salt",
    FerricCard Full "IPCS, International Chemical Safety Card 1499, ferric chloride (anhydrous), 2004",
    FerrousSds Full "American Elements, safety data sheet on iron(II) chloride hydrate, 2022",
    LithiumHydroxideSds Full "American Elements, safety data sheet on lithium hydroxide monohydrate, 2022",
    ManganeseAcetateSds Full "Eventt-chem.com, material safety data sheet on manganese acetate",
    NickelNitrateSds Full "Carl Roth, safety data sheet on nickel(II) nitrate hexahydrate, 2015 (first page), with H317, H334, H341, H350, H360 and H372 after American Elements, safety data sheet on nickel(II) formate dihydrate, 2022",
    OxalicCard Full "IPCS, International Chemical Safety Card 0707, oxalic acid dihydrate, 2009",
    SulfideSds Full "Chemwatch, safety data sheet on hydrated sodium sulfide, 2010, its R phrases in today's codes",
    ZincNitrateCard Full "IPCS, International Chemical Safety Card 1206, zinc nitrate, 1994",
    FerricSds Full "VWR International, safety data sheet on ferric chloride hexahydrate, 2013",
    CopperSheet Full "CLEAPSS, Student safety sheet 40, copper and its compounds",
    CobaltChlorideSds Full "American Elements, safety data sheet on cobalt(II) chloride hexahydrate, classes of Regulation (EC) No 1272/2008",
    CobaltSulfateWhmis Full "CNESST, WHMIS 2015 classification of cobalt sulfate",
    NickelSulfateSds Full "Jinco Nonferrous Metals, product page on nickel sulphate hexahydrate, GHS classification",
    BariumMmg Full "ATSDR, Medical management guidelines for barium and selected barium compounds",
}
