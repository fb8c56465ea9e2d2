use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::system::{Solutions, System, Width};
use super::super::{Balancer, Equation, Error, ErrorKind};
use crate::number::Ratio;

fn read(text: &str) -> Equation {
    text.parse().expect(text)
}

fn balanced(text: &str) -> String {
    let equation = read(text);
    match equation.balance() {
        Ok(found) => equation.with(&found).to_string(),
        Err(error) => panic!("{text}: {error}"),
    }
}

/// The code of each reason, with its values.
fn reasons(error: &Error) -> Vec<String> {
    let one = |note: &crate::Note| {
        let values: Vec<String> = note.values().map(|(k, v)| format!("{k}={v}")).collect();
        format!("{}: {}", note.code(), values.join("; "))
    };
    error.reasons().iter().map(one).collect()
}

#[track_caller]
fn none(text: &str, expected: &[&str]) -> Error {
    let error = read(text).balance().expect_err(text);
    assert_eq!(error.kind(), ErrorKind::NoBalance, "{text}: {error}");
    assert_eq!(reasons(&error), expected, "{text}");
    assert!(error.help().is_some() && error.basis().is_empty());
    error
}

#[test]
fn unique_balances() {
    for (text, whole) in [
        (
            "KMnO4 + HCl = KCl + MnCl2 + H2O + Cl2",
            "2KMnO4 + 16HCl = 2KCl + 2MnCl2 + 8H2O + 5Cl2",
        ),
        (
            "CaSO4·0.5H2O + H2O -> CaSO4·2H2O",
            "2CaSO4·0.5H2O + 3H2O -> 2CaSO4·2H2O",
        ),
        (
            "1 3CdSO4·8H2O -> CdSO4 + H2O",
            "1 3CdSO4·8H2O -> 3CdSO4 + 8H2O",
        ),
        ("Cu^2+ + e^- -> Cu", "Cu^2+ + 2e^- -> Cu"),
        // Isotopes are apart: this one exchanges them.
        ("D2O + H2O -> HDO", "[2H]2O + H2O -> 2H[2H]O"),
        // Written coefficients are not looked at.
        ("7H2 + 9O2 -> 4H2O", "2H2 + O2 -> 2H2O"),
    ] {
        assert_eq!(balanced(text), whole);
    }
    // A species on both sides stays two.
    let error = read("H2O + CuSO4·5H2O -> CuSO4 + H2O")
        .balance()
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::ManyBalances);
    assert_eq!(reasons(&error), ["both_sides: species=H2O"]);
}

#[test]
fn what_stands_on_one_side_only() {
    let error = none(
        "Al -> O2",
        &[
            "one_side_only: what=Al; side=reactants; species=Al",
            "one_side_only: what=O; side=products; species=O2",
        ],
    );
    assert_eq!(
        error.to_string(),
        "the equation has no balance: `Al` is among the reactants only (in `Al`)"
    );
    // A symbol that is also a word begins no sentence.
    let error = none(
        "InCl3 -> Cl2",
        &["one_side_only: what=In; side=reactants; species=InCl3"],
    );
    let sentence = "`In` is among the reactants only (in `InCl3`)";
    assert_eq!(
        error.to_string(),
        alloc::format!("the equation has no balance: {sentence}")
    );
    assert_eq!(error.reasons()[0].text(), alloc::format!("{sentence}."));
    none(
        "Fe^2+ -> Fe^3+",
        &["add: products=e^-; equation=Fe^2+ -> Fe^3+ + e^-"],
    );
    none(
        "Cu^2+ -> Cu",
        &[
            "one_side_only: what=charge; species=Cu^2+",
            "add: reactants=e^-; equation=Cu^2+ + 2e^- -> Cu",
        ],
    );
}

#[test]
fn what_would_balance_is_tried() {
    none(
        "MnO4^- + e^- -> Mn^2+",
        &[
            "one_side_only: what=O; side=reactants; species=MnO4^-",
            "one_side_only: what=charge; species=MnO4^- + e^- + Mn^2+",
            "add: reactants=H^+; products=H2O; equation=MnO4^- + 5e^- + 8H^+ -> Mn^2+ + 4H2O",
            "add: reactants=H2O; products=OH^-; equation=MnO4^- + 5e^- + 4H2O -> Mn^2+ + 8OH^-",
        ],
    );
    let error = none(
        "C3H8 + O2 -> CO2",
        &[
            "one_side_only: what=H; side=reactants; species=C3H8",
            "add: products=H2O; equation=C3H8 + 5O2 -> 3CO2 + 4H2O",
        ],
    );
    assert_eq!(
        error.help(),
        Some("add H2O to the products: C3H8 + 5O2 -> 3CO2 + 4H2O")
    );
}

#[test]
fn species_on_the_wrong_side() {
    none(
        "Cu + e^- -> Cu^2+",
        &[
            "one_side_only: what=charge; species=e^- + Cu^2+",
            "wrong_side: species=e^-; side=products",
        ],
    );
    none(
        "C3H8 + O2 + CO2 -> H2O",
        &[
            "one_side_only: what=C; side=reactants; species=C3H8 + CO2",
            "wrong_side: species=CO2; side=products",
        ],
    );
    none(
        "H2O + Na + Cl2 -> NaCl + H2O + H2",
        &["no_part: species=H2", "both_sides: species=H2O"],
    );
    none(
        "N2 + H2 + Ar -> NH3",
        &[
            "one_side_only: what=Ar; side=reactants; species=Ar",
            "no_part: species=Ar",
        ],
    );
    // There are several independent solutions, and none has only positive coefficients.
    none(
        "C + O2 + CO -> CO2 + Ne",
        &[
            "one_side_only: what=Ne; side=products; species=Ne",
            "no_part: species=Ne",
        ],
    );
    none("FeS -> FeS2", &["only_nought: "]);
}

#[test]
fn several_balances_and_given_coefficients() {
    let equation = read("C + O2 -> CO + CO2");
    let error = equation.balance().unwrap_err();
    assert_eq!(error.kind(), ErrorKind::ManyBalances);
    assert_eq!(error.nullity(), 2);
    let whole = |rows: [[i64; 4]; 2]| rows.map(|row| row.map(Ratio::from).to_vec());
    assert_eq!(error.basis(), whole([[2, 1, 2, 0], [1, 1, 0, 1]]));
    let [carbon, oxygen, monoxide, dioxide] =
        ["C", "O2", "CO", "CO2"].map(|text| text.parse().unwrap());
    let given = |pairs: &[(&crate::Formula, i64)]| {
        let mut balance = Balancer::of(&equation);
        for (formula, value) in pairs {
            balance = balance.fix(formula, Ratio::from(*value))?;
        }
        Ok::<String, Error>(equation.with(&balance.run()?).to_string())
    };
    let found = given(&[(&monoxide, 2), (&dioxide, 1)]).unwrap();
    assert_eq!(found, "3C + 2O2 -> 2CO + CO2");
    let found = given(&[(&carbon, 8), (&oxygen, 5)]).unwrap();
    assert_eq!(found, "8C + 5O2 -> 6CO + 2CO2");
    assert_eq!(
        given(&[(&carbon, 3)]).unwrap_err().kind(),
        ErrorKind::ManyBalances
    );
    let error = given(&[(&carbon, 2), (&oxygen, 3)]).unwrap_err();
    assert_eq!(reasons(&error), ["fixed: given=2C, 3O2"]);
    let error = given(&[(&monoxide, 1), (&dioxide, 1)]).unwrap_err();
    assert_eq!(
        reasons(&error),
        ["fraction: species=O2; coefficient=1.5; times=2"]
    );
    assert_eq!(error.help(), Some("give 2 of `CO` and 2 of `CO2`"));
    for (formula, value) in [(&carbon, 0), (&carbon, -2)] {
        assert_eq!(
            given(&[(formula, value)]).unwrap_err().kind(),
            ErrorKind::BadRequest
        );
    }
    let error = given(&[(&"N2".parse().unwrap(), 1)]).unwrap_err();
    assert_eq!(error.to_string(), "the equation has no species `N2`");
    assert_eq!(
        given(&[(&carbon, 1), (&carbon, 1)]).unwrap_err().kind(),
        ErrorKind::BadRequest
    );

    let water = read("H2 + O2 -> H2O");
    let four = Balancer::of(&water)
        .fix_at(2, 4.into())
        .unwrap()
        .run()
        .unwrap();
    assert_eq!(water.with(&four).to_string(), "4H2 + 2O2 -> 4H2O");
    let all = Balancer::of(&water).fix_at(0, 4.into()).unwrap();
    let all = all
        .fix_at(1, 2.into())
        .unwrap()
        .fix_at(2, 4.into())
        .unwrap();
    assert_eq!(
        water.with(&all.run().unwrap()).to_string(),
        "4H2 + 2O2 -> 4H2O"
    );
    let gypsum = read("CaSO4·0.5H2O + H2O -> CaSO4·2H2O");
    let given = Balancer::of(&gypsum)
        .fix_at(0, 4.into())
        .unwrap()
        .fix_at(1, 6.into());
    assert_eq!(
        gypsum.with(&given.unwrap().run().unwrap()).to_string(),
        "4CaSO4·0.5H2O + 6H2O -> 4CaSO4·2H2O"
    );
}

#[test]
fn open_counts_do_not_balance() {
    let text = "CuSO4·xH2O -> CuSO4 + H2O";
    let error = read(text).balance().unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownDegree);
    assert_eq!(error.span().map(|s| &text[s.start..s.end]), Some("x"));
    let text = "2Cu + 3CuSO4·xH2O -> CuSO4 + H2O";
    let error = read(text).check().unwrap_err();
    assert_eq!(error.span().map(|s| &text[s.start..s.end]), Some("x"));
}

/// Every row of the system sums to zero with these coefficients.
#[track_caller]
fn conserves(system: &System, line: &[Ratio]) {
    for (what, entries) in system.rows() {
        let terms = entries.iter().map(|(index, value)| {
            let column = line[*index].checked_div(&Ratio::from(system.formula_units(*index)));
            &column.unwrap() * &Ratio::from(*value)
        });
        assert!(terms.sum::<Ratio>().is_zero(), "{what}");
    }
}

/// Each width of whole numbers is taken, and each is right.
#[test]
fn each_width_is_taken() {
    for (text, width) in [
        ("C3H8 + O2 -> CO2 + H2O", Width::Bits64),
        (
            "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + KNO3 + CO2 + K2SO4 + MnSO4 + H2O",
            Width::Bits64,
        ),
        (
            "C999999937H999999929N999999893O999999883P999999797 + C999999751H999999739N999999677O999999667P999999613 + C999999607H999999599N999999587O999999541P999999527 -> C999999503H999999491N999999487O999999433P999999391 + C999999353H999999337N999999323O999999229P999999223 + C999999197H999999193N999999191O999999181P999999163",
            Width::Bits128,
        ),
        (
            "C999999937H999999929N999999893 + C2O999999883 -> C3O2N + H999999751O + N999999667O2",
            Width::Big,
        ),
    ] {
        let mut system = System::new();
        system.add_equation(&read(text)).unwrap();
        let (taken, Solutions::Line(line)) = system.solve() else {
            panic!("{text}: not one line");
        };
        assert_eq!(taken, width, "{text}");
        conserves(&system, &line);
        assert!(line.iter().all(Ratio::is_integer) && line[0].is_positive());
    }
}

/// What the narrow width answers, the wide ones answer too.
#[test]
fn the_widths_agree() {
    for text in [
        "C3H8 + O2 -> CO2 + H2O",
        "KMnO4 + H2O2 + H2SO4 -> K2SO4 + MnSO4 + O2 + H2O",
        "P2I4 + P4 + H2O -> PH4I + H3PO4",
        "Al -> O2",
        "CaSO4·0.5H2O + CaCl2·1/3H2O + H2O -> CaSO4·2H2O + CaCl2",
    ] {
        let mut system = System::new();
        system.add_equation(&read(text)).unwrap();
        let narrow = system.solve_in::<i64>().unwrap();
        assert_eq!(Some(&narrow), system.solve_in::<i128>().as_ref(), "{text}");
        let big = system.solve_in::<num_bigint::BigInt>();
        assert_eq!(Some(&narrow), big.as_ref(), "{text}");
    }
}

/// A third of an ion, and half of one whose atoms come out whole.
#[test]
fn broken_charges() {
    let text = "NaCl·1/3SO4^2- + H^+ -> NaCl + H2SO4";
    assert_eq!(balanced(text), "3NaCl·1/3SO4^2- + 2H^+ -> 3NaCl + H2SO4");
    assert_eq!(
        balanced("Na·0.5F2^- -> NaF + e^-"),
        "2Na·0.5F2^- -> 2NaF + e^-"
    );
}

/// Thirty species of thirty elements with long counts: refused in time, and what was not tried is
/// said to be so.
#[test]
fn what_takes_too_long_is_not_tried() {
    let mut state = 7_u64;
    let mut draw = |below: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005);
        state = state.wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    let mut text = String::new();
    for index in 0..30 {
        text += match index {
            0 => "",
            15 => " -> ",
            _ => " + ",
        };
        for step in 0..8 {
            // From sodium on, no hydrogen and no oxygen.
            let elements = crate::Element::ALL.iter().skip(10);
            let element = elements.clone().nth((index + 3 * step) % 30).unwrap();
            text += &format!("{element}{}", 900_000_000 + draw(99_999_999));
        }
    }
    let error = read(&text).balance().unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NoBalance);
    assert_eq!(reasons(&error), ["not_tried: ", "only_nought: "]);
}

/// A number on the way is the least of 64 bits, whose opposite is not among them.
#[test]
fn the_least_number_has_no_opposite() {
    let text = "(Na524288)1048576 + K -> NaK16777216";
    let whole = "(Na524288)1048576 + 9223372036854775808K -> 549755813888NaK16777216";
    assert_eq!(balanced(text), whole);
    let mut system = System::new();
    system.add_equation(&read(text)).unwrap();
    assert_eq!(system.solve().0, Width::Bits128);
}
