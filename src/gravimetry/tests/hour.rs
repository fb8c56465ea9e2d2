//! What a bench should do now, as a fair colleague would say.

use super::*;

/// The advice, and the texts of its reasons.
fn advised(method: &Method, issued: &str, weighings: &Weighings) -> (Advice, Vec<crate::Note>) {
    let check = method.check(&formula(issued), weighings).unwrap();
    (check.advice(), check.reasons())
}

#[test]
fn a_salt_heated_beyond_the_target_costs_no_sample() {
    let method = Method::new().residue(&formula("CuSO4·H2O")).unwrap();
    // 2.497 g of the pentahydrate leaves 1.7763 g of the monohydrate, and 1.5962 g of the anhydrous salt.
    // The last would be 21.796 g with one other digit, but it is a known residue as it is.
    for heated in [
        &["21.596"][..],
        &["21.597", "21.596"],
        &["21.797", "21.596"],
    ] {
        let right_through = bench("20.000", "22.497", heated);
        let (advice, reasons) = advised(&method, "CuSO4·5H2O", &right_through);
        assert_eq!(advice, Advice::Ask);
        assert_eq!(codes(&reasons), ["beyond_target", "question"]);
        assert!(
            reasons[0]
                .values()
                .any(|value| value == ("residue", "CuSO4"))
        );
        assert_eq!(
            reasons[0].text(),
            "Within 0.007 g, the mass is that of CuSO4. This fits a salt that was heated beyond CuSO4·H2O. Then \
             the sample is not lost: its figures can be worked out with CuSO4 as the residue."
        );
    }
    // A lower hydrate below the target, too: 2.666 g of MgSO4·7H2O leaves 1.8865 g of the trihydrate, and
    // 1.4968 g of the monohydrate.
    let method = Method::new().residue(&formula("MgSO4·3H2O")).unwrap();
    let kieserite = bench("21.352", "24.018", &["22.850", "22.849"]);
    let (advice, reasons) = advised(&method, "MgSO4·7H2O", &kieserite);
    assert_eq!(advice, Advice::Ask);
    assert!(
        reasons[0]
            .values()
            .any(|value| value == ("residue", "MgSO4·H2O"))
    );
    // Neither residue has this mass.
    let method = Method::new().residue(&formula("CuSO4·H2O")).unwrap();
    let lost = bench("20.000", "22.497", &["21.480", "21.480"]);
    assert_eq!(advised(&method, "CuSO4·5H2O", &lost).0, Advice::StartAgain);
    // The default target has nothing below it.
    let lost = bench("20.000", "22.497", &["21.480", "21.480"]);
    assert_eq!(
        advised(&Method::new(), "CuSO4·5H2O", &lost).0,
        Advice::StartAgain
    );
}

#[test]
fn an_exchange_of_digits_explains_a_gain() {
    let reasons = |heated: &[&str]| {
        let weighings = bench("21.352", "24.018", heated);
        let (advice, reasons) = advised(&Method::new(), "MgSO4·7H2O", &weighings);
        assert_eq!(advice, Advice::Ask, "{heated:?}");
        reasons
    };
    let lighter = reasons(&["22.656", "22.565", "22.656"]);
    assert_eq!(codes(&lighter), ["gain", "gain_by_digits", "question"]);
    let values: Vec<_> = lighter[1].values().collect();
    assert_eq!(values, [("reading", "heated[1]"), ("meant", "22.655")]);
    assert_eq!(
        lighter[1].text(),
        "One exchange of two neighbouring digits explains the gain: the weighing after heating 2 (22.565 g) would \
         be 22.655 g. Compare the reading with your notes."
    );
    let heavier = reasons(&["22.656", "22.655", "22.665"]);
    assert_eq!(
        codes(&heavier),
        ["gain", "was_constant", "gain_by_digits", "question"]
    );
    // Exchanged digits of either weighing leave a gain, or a mass below the expected one.
    assert_eq!(codes(&reasons(&["22.701", "22.790"])), ["gain", "question"]);
    assert_eq!(
        codes(&reasons(&["22.655", "22.654", "22.690"])),
        ["gain", "was_constant", "question"]
    );
}

#[test]
fn readings_are_named_in_words_and_in_data_by_their_paths() {
    let exchanged = bench("24.018", "21.352", &["22.655"]);
    let check = Method::new()
        .check(&formula("MgSO4·7H2O"), &exchanged)
        .unwrap();
    assert_eq!(check.swap(), Some(["crucible", "crucible_hydrate"]));
    let reasons = check.reasons();
    assert_eq!(
        reasons[1].text(),
        "The readings of the empty container (24.018 g) and of the container with the hydrate (21.352 g) make sense \
         if they are exchanged."
    );
    let values: Vec<_> = reasons[1].values().collect();
    assert_eq!(
        values,
        [("reading", "crucible"), ("other", "crucible_hydrate")]
    );
    let digits = bench("21.352", "24.018", &["22.265"]);
    let reasons = advised(&Method::new(), "MgSO4·7H2O", &digits).1;
    let text = reasons[0].text();
    assert!(
        text.contains("in the weighing after heating 1 (22.265 g) explains"),
        "{text}"
    );
    let values: Vec<_> = reasons[0].values().collect();
    assert!(values.contains(&("readings", "heated[0]")), "{values:?}");
}

#[test]
fn expected_masses_are_written_to_the_step_of_the_balance() {
    let method = Method::new().readability(read("0.05")).unwrap();
    // The residue weighs 22.6539 g.
    let none = advised(&method, "MgSO4·7H2O", &bench("21.352", "24.018", &[]));
    assert_eq!(
        none.1[0].values().collect::<Vec<_>>(),
        [("expected_last", "22.65")]
    );
    let coarse = bench("21.35", "24.00", &["22.90"]);
    // 2.65 g leaves 1.2941 g, so 0.2559 g is left to lose.
    let one = advised(&method, "MgSO4·7H2O", &coarse);
    let left = one.1.iter().find(|note| note.code() == "still_to_lose");
    assert_eq!(
        left.unwrap().values().collect::<Vec<_>>(),
        [("still_to_lose", "0.25")]
    );
}

#[test]
fn the_expected_mass_follows_what_the_stock_holds() {
    let so_far = bench("21.352", "24.018", &["22.674", "22.673"]);
    let issued = formula("MgSO4·7H2O");
    let method = Method::new();
    // By hand: 21.352 + 2.666 · 120.361/(120.361 + 6.8 · 18.015).
    let check = method.check_from_stock(&issued, &"6.8".parse().unwrap(), &so_far);
    let check = check.unwrap();
    rounds_to(check.expected_last().unwrap(), "22.6732");
    assert_eq!(check.advice(), Advice::Stop);
    let by_formula = method.check(&issued, &so_far).unwrap();
    assert_eq!(by_formula.advice(), Advice::HeatAgain);
    assert!(
        method
            .check_from_stock(&issued, &Ratio::ZERO, &so_far)
            .is_err()
    );
}

/// The advice to a bench of MgSO4·7H2O, with the codes and the values of its reasons.
fn reasons_of(container: &str, with_hydrate: &str, heated: &[&str]) -> (Advice, Vec<String>) {
    let weighings = bench(container, with_hydrate, heated);
    let (advice, reasons) = advised(&Method::new(), "MgSO4·7H2O", &weighings);
    let reason = |note: &crate::Note| {
        let values = note
            .values()
            .map(|(name, value)| format!(" {name}={value}"));
        format!("{}{}", note.code(), values.collect::<String>())
    };
    (advice, reasons.iter().map(reason).collect())
}

#[test]
fn a_decimal_point_in_the_wrong_place_or_a_digit_typed_twice_costs_no_sample() {
    let last_of = |container: &str, with_hydrate: &str, heated: &[&str]| {
        let (advice, reasons) = reasons_of(container, with_hydrate, heated);
        assert_eq!(advice, Advice::CheckReadings, "{reasons:?}");
        reasons.last().unwrap().clone()
    };
    let hydrate = "mistyped reading=crucible_hydrate meant=24.018";
    assert_eq!(last_of("21.352", "240.18", &["22.655"]), hydrate);
    let heated = "mistyped reading=heated[0] meant=22.655";
    assert_eq!(last_of("21.352", "24.018", &["226.55"]), heated);
    let falling = "mistyped reading=heated[1] meant=22.901";
    assert_eq!(last_of("21.352", "24.018", &["23.117", "2.2901"]), falling);
    let container = "mistyped reading=crucible meant=21.352";
    assert_eq!(last_of("213.52", "24.018", &["22.701"]), container);
    // Still heating, but the hydrate cannot weigh 200 g.
    let heating = "mistyped reading=crucible_hydrate meant=24.018";
    assert_eq!(last_of("21.352", "240.18", &["22.901"]), heating);
    let twice = last_of("21.352", "224.018", &["22.901"]);
    assert_eq!(twice, heating);
    // No other point makes sense of it: a digit is wrong.
    let digit = last_of("21.352", "24.018", &["22.701", "12.655"]);
    assert!(digit.starts_with("impossible_masses"), "{digit}");
}

#[test]
fn masses_without_the_container_are_seen() {
    for (with_hydrate, heated, readings) in [
        ("2.666", &["22.655"][..], "crucible_hydrate"),
        ("2.666", &[], "crucible_hydrate"),
        ("24.018", &["1.349", "1.303"], "heated[0], heated[1]"),
        ("2.666", &["1.303"], "crucible_hydrate, heated[0]"),
    ] {
        let (advice, reasons) = reasons_of("21.352", with_hydrate, heated);
        let said = format!("without_container readings={readings}");
        assert_eq!(
            (advice, reasons.last()),
            (Advice::CheckReadings, Some(&said))
        );
    }
}

#[test]
fn one_wrong_digit_explains_a_large_gain() {
    let large = reasons_of("21.352", "24.018", &["22.701", "22.656", "23.655"]);
    assert_eq!(large.0, Advice::Ask);
    assert_eq!(large.1[1], "gain_by_digits reading=heated[2]");
    // Nearly every small gain is one digit.
    let small = reasons_of("21.352", "24.018", &["22.701", "22.735"]).1;
    assert_eq!(small.len(), 2, "{small:?}");
}

#[test]
fn a_mass_that_is_constant_at_no_known_residue_is_told_so() {
    for heated in [&["22.950", "22.950"], &["24.018", "24.018"]] {
        let (advice, reasons) = reasons_of("21.352", "24.018", heated);
        assert_eq!(advice, Advice::HeatAgain);
        assert_eq!(reasons.last().unwrap(), "constant_elsewhere");
    }
    // 2.666 g of the heptahydrate leaves 2.081 g of the tetrahydrate, which is known: 0.002 g less than here.
    let (_, reasons) = reasons_of("21.352", "24.018", &["23.435", "23.435"]);
    assert_eq!(reasons.last().unwrap(), "lower_hydrate waters=4");
}

#[test]
fn weighings_that_agree_do_not_end_a_slow_loss() {
    // 5.00 g of the heptahydrate loses 2.56 g: 22.44 g are expected, and the tolerance is 0.04 g.
    let slowly = bench("20.00", "25.00", &["22.51", "22.48", "22.46"]);
    let (advice, reasons) = advised(&Method::new(), "MgSO4·7H2O", &slowly);
    assert_eq!(advice, Advice::HeatAgain);
    assert_eq!(codes(&reasons), ["slow_loss"]);
    assert_eq!(
        reasons[0].text(),
        "The last two weighings agree, but each heating takes only part of the water that is left. About 0.07 g may \
         still leave. Heat longer this time."
    );
    // A loss that was fast, and weighings that agree from the first, change nothing.
    for heated in [
        &["22.90", "22.46", "22.45"][..],
        &["22.55", "22.46", "22.45"],
        &["22.46", "22.45", "22.45"],
        &["22.45", "22.45", "22.45"],
        &["22.48", "22.46"],
    ] {
        let (advice, _) = advised(
            &Method::new(),
            "MgSO4·7H2O",
            &bench("20.00", "25.00", heated),
        );
        assert_eq!(advice, Advice::Stop, "{heated:?}");
    }
    // The teacher need not be asked why the mass is that of no known residue.
    let above = bench("20.00", "25.00", &["22.62", "22.59", "22.57"]);
    let (advice, reasons) = advised(&Method::new(), "MgSO4·7H2O", &above);
    assert_eq!(advice, Advice::HeatAgain);
    assert_eq!(codes(&reasons), ["slow_loss", "still_to_lose"]);
}

#[test]
fn a_residue_that_loses_its_own_water_is_not_called_decomposed() {
    let method = Method::new().residue(&formula("CuSO4·H2O")).unwrap();
    let between = bench("20.000", "22.497", &["21.700", "21.690"]);
    let (advice, reasons) = advised(&method, "CuSO4·5H2O", &between);
    assert_eq!(advice, Advice::StartAgain);
    assert_eq!(codes(&reasons), ["below_target", "far_too_light"]);
    let run = |weighings: &Weighings| {
        let run = method.dehydration_of(&formula("CuSO4·5H2O"), weighings);
        codes(&run.unwrap().warnings())
    };
    assert_eq!(run(&between), ["not_constant", "above_known"]);
    // The loss fits the anhydrous salt.
    let right_through = bench("20.000", "22.497", &["21.597", "21.596"]);
    assert_eq!(run(&right_through), ["lower_hydrate"]);
    // Below the anhydrous salt it may be copper(II) oxide.
    let oxide = bench("20.000", "22.497", &["20.796", "20.795"]);
    assert!(run(&oxide).contains(&"decomposed"));
}

#[test]
fn a_bench_does_not_stop_if_any_lower_hydrate_has_its_mass() {
    // 0.500 g of MnCl2·4H2O leaves 0.318 g of the salt and 0.363 g of the monohydrate.
    let coarse = bench("20.00", "20.50", &["20.34", "20.34"]);
    let (advice, reasons) = advised(&Method::new(), "MnCl2·4H2O", &coarse);
    assert_eq!(advice, Advice::Ask);
    let values: Vec<_> = reasons[0].values().collect();
    assert!(values.contains(&("hydrate", "MnCl2·H2O")), "{values:?}");
    // Of several, the nearest is named: 2.6 g leaves 1.270 g, 1.460 g and 1.650 g.
    let coarse = bench("21.4", "24.0", &["22.8", "22.8"]);
    let (_, reasons) = advised(&Method::new(), "MgSO4·7H2O", &coarse);
    let values: Vec<_> = reasons[0].values().collect();
    assert!(values.contains(&("hydrate", "MgSO4·H2O")), "{values:?}");
}

#[test]
fn within_the_tolerance_nothing_is_explained_away() {
    // The tolerance is larger than a tenth of the expected loss here. Equal readings were exchanged before.
    let coarse = |issued: &str, container: &str, with_hydrate: &str, heated: &[&str]| {
        let check = Method::new()
            .check(&formula(issued), &bench(container, with_hydrate, heated))
            .unwrap();
        assert_eq!(check.swap(), None, "{issued}");
        (check.advice(), codes(&check.reasons()))
    };
    // 2.5 g leaves 1.598 g of CuSO4 and 1.778 g of CuSO4·H2O.
    let alike = (Advice::Ask, alloc::vec!["cannot_tell", "question"]);
    assert_eq!(
        coarse("CuSO4·5H2O", "20.1", "22.6", &["21.6", "21.6"]),
        alike
    );
    let stop = (Advice::Stop, alloc::vec!["constant_and_expected"]);
    // 0.80 g leaves 0.682 g of BaCl2, and 1.50 g leaves 1.279 g.
    for (with_hydrate, heated) in [
        ("20.80", ["20.67", "20.67"]),
        ("21.50", ["21.25", "21.25"]),
        ("21.50", ["21.26", "21.25"]),
    ] {
        assert_eq!(coarse("BaCl2·2H2O", "20.00", with_hydrate, &heated), stop);
    }
    assert_eq!(
        coarse("CuSO4·5H2O", "20.13", "20.93", &["20.62", "20.61"]),
        stop
    );
    // One weighing within the tolerance is neither a wrong digit nor lost solid.
    assert_eq!(
        coarse("BaCl2·2H2O", "20.00", "20.80", &["20.67"]),
        (Advice::HeatAgain, alloc::vec!["one_heating"])
    );
    let wide = Method::new().constant_mass(ConstantMass::Absolute("0.05".parse().unwrap()));
    let check = advised(
        &wide,
        "BaCl2·2H2O",
        &bench("20.000", "21.500", &["21.250", "21.250"]),
    );
    assert_ne!(check.0, Advice::CheckReadings);
    assert_ne!(check.0, Advice::StartAgain);
}

#[test]
fn a_salt_that_must_not_be_heated_has_no_reason_to_heat() {
    for (heated, advice) in [
        (&[][..], Advice::Heat),
        (&["23.901"], Advice::HeatAgain),
        (&["23.211", "23.210"], Advice::StartAgain),
    ] {
        let weighings = bench("21.352", "24.018", heated);
        let (by_readings, reasons) = advised(&Method::new(), "Na2Cr2O7·2H2O", &weighings);
        assert_eq!(
            (by_readings, codes(&reasons)),
            (advice, alloc::vec!["do_not_heat"])
        );
        assert_eq!(
            reasons[0].text(),
            "Do not heat Na2Cr2O7·2H2O. It must not be heated in a school at all."
        );
    }
    // What is wrong with the readings is still said.
    let exchanged = bench("24.018", "21.352", &[]);
    let (_, reasons) = advised(&Method::new(), "Na2Cr2O7·2H2O", &exchanged);
    assert_eq!(
        codes(&reasons),
        ["do_not_heat", "impossible_masses", "swapped"]
    );
}

#[test]
fn a_wrong_digit_costs_no_sample_while_water_is_left() {
    // 2.511 g leaves 1.226 g: 21.363 g are expected.
    for (heated, reading) in [
        (&["21.612", "21.421", "20.391"][..], "heated[2]"),
        (&["20.412"], "heated[0]"),
        (&["21.612", "20.412"], "heated[1]"),
    ] {
        let (advice, reasons) = reasons_of("20.137", "22.648", heated);
        assert_eq!(advice, Advice::CheckReadings, "{heated:?}");
        assert!(reasons[0].starts_with("wrong_digit "), "{reasons:?}");
        assert!(reasons[0].ends_with(reading), "{reasons:?}");
    }
    // Two digits of the hydrate exchanged: 27.168 g.
    let (advice, reasons) = reasons_of("24.143", "72.168", &["25.833"]);
    assert_eq!(advice, Advice::CheckReadings);
    assert_eq!(reasons, ["mistyped reading=crucible_hydrate meant=27.168"]);
    // A seventh of the solid is missing. A digit would explain it, but so it would nearly every loss.
    for heated in [&["21.185"][..], &["21.612", "21.185"]] {
        let (advice, reasons) = reasons_of("20.137", "22.648", heated);
        assert_eq!(advice, Advice::StartAgain, "{heated:?}");
        assert!(reasons[0].starts_with("far_too_light"), "{reasons:?}");
    }
}

#[test]
fn a_lost_sample_is_not_told_only_of_a_digit() {
    let lost = bench("20.000", "22.500", &["20.987", "20.986"]);
    let (advice, reasons) = advised(&Method::new(), "MgSO4·7H2O", &lost);
    assert_eq!(
        (advice, codes(&reasons)),
        (Advice::CheckReadings, alloc::vec!["wrong_digit"])
    );
    let text = reasons[0].text();
    let end = "Compare each reading with your notes. If the readings are right, solid was lost: start again.";
    assert!(text.ends_with(end), "{text}");
}

#[test]
fn a_known_residue_comes_before_a_wrong_digit() {
    let method = Method::new().residue(&formula("CuSO4·H2O")).unwrap();
    // 2.50 g leaves 1.778 g of CuSO4·H2O and 1.598 g of CuSO4, and 19.35 g for 19.95 g explains it, too.
    let right_through = bench("19.95", "22.45", &["21.55", "21.55"]);
    let (advice, reasons) = advised(&method, "CuSO4·5H2O", &right_through);
    assert_eq!(advice, Advice::CheckReadings);
    assert_eq!(
        codes(&reasons),
        ["beyond_target", "wrong_digit", "question"]
    );
    assert!(!reasons[1].text().contains("start again"));
    // Between the two, with a digit and without: the sample is not lost.
    for (container, with_hydrate, heated, advice, expected) in [
        (
            "20.00",
            "22.50",
            &["21.69", "21.69"][..],
            Advice::CheckReadings,
            ["wrong_digit", "below_target"],
        ),
        (
            "20.123",
            "22.618",
            &["21.803", "21.802"],
            Advice::StartAgain,
            ["below_target", "far_too_light"],
        ),
        (
            "20.000",
            "22.500",
            &["21.693", "21.693"],
            Advice::StartAgain,
            ["below_target", "far_too_light"],
        ),
    ] {
        let between = bench(container, with_hydrate, heated);
        let (advised, reasons) = advised(&method, "CuSO4·5H2O", &between);
        assert_eq!(advised, advice);
        assert_eq!(codes(&reasons), expected);
        let (below, others): (Vec<_>, Vec<_>) = reasons
            .iter()
            .partition(|note| note.code() == "below_target");
        assert!(!others[0].text().contains("start again"));
        let text = below[0].text();
        let end = "If no solid was lost, do not start again: heat on until CuSO4 is left. Then work out the figures \
                   with CuSO4 as the residue.";
        assert!(text.ends_with(end), "{text}");
    }
    // A salt that more heat would decompose is not heated on.
    let chloride = Method::new().residue(&formula("MgCl2·2H2O")).unwrap();
    let (_, reasons) = advised(
        &chloride,
        "MgCl2·6H2O",
        &bench("20.000", "22.500", &["21.500", "21.499"]),
    );
    let below = reasons.iter().find(|note| note.code() == "below_target");
    assert!(!below.unwrap().text().contains("heat on"), "{reasons:?}");
}

#[test]
fn exchanged_digits_explain_a_reading_outside_its_container() {
    for (container, with_hydrate, heated, said) in [
        (
            "20.000",
            "22.500",
            &["12.251"][..],
            "heated[0] meant=21.251",
        ),
        (
            "20.000",
            "22.500",
            &["21.260", "12.251"],
            "heated[1] meant=21.251",
        ),
        (
            "20.137",
            "22.648",
            &["21.364", "23.164"],
            "heated[1] meant=21.364",
        ),
        (
            "20.137",
            "22.648",
            &["23.163", "21.363"],
            "heated[0] meant=21.363",
        ),
        ("20.137", "22.648", &["23.163"], "heated[0] meant=21.363"),
    ] {
        let (advice, reasons) = reasons_of(container, with_hydrate, heated);
        assert_eq!(advice, Advice::CheckReadings);
        let said = format!("mistyped reading={said}");
        assert_eq!(reasons.last(), Some(&said), "{reasons:?}");
    }
}

#[test]
fn three_readings_in_another_order_are_seen() {
    let all = "reordered crucible={} crucible_hydrate={} heated[0]={}";
    let said = |paths: [&str; 3]| {
        paths
            .iter()
            .fold(all.into(), |all: String, path| all.replacen("{}", path, 1))
    };
    let backwards = reasons_of("22.648", "21.364", &["20.137"]);
    assert_eq!(backwards.0, Advice::CheckReadings);
    assert_eq!(
        backwards.1.last().unwrap(),
        &said(["heated[0]", "crucible", "crucible_hydrate"])
    );
    let round = reasons_of("21.364", "20.137", &["22.648"]);
    assert_eq!(
        round.1.last().unwrap(),
        &said(["crucible_hydrate", "heated[0]", "crucible"])
    );
    // Water is left.
    let wet = reasons_of("22.648", "21.664", &["20.137"]);
    assert!(wet.1.last().unwrap().starts_with("reordered"), "{wet:?}");
    let weighings = bench("22.648", "21.364", &["20.137"]);
    let (_, reasons) = advised(&Method::new(), "MgSO4·7H2O", &weighings);
    assert_eq!(
        reasons[1].text(),
        "The three readings make sense in another order: the empty container 20.137 g, with the hydrate 22.648 g, \
         after heating 21.364 g."
    );
}

#[test]
fn a_wrong_digit_in_an_earlier_weighing_is_named() {
    // 2.500 g leaves 1.221 g.
    for (heated, reading) in [
        (&["22.721", "21.722"][..], "heated[0]"),
        (&["21.732", "22.721", "21.722"], "heated[1]"),
    ] {
        let (advice, reasons) = reasons_of("20.500", "23.000", heated);
        assert_eq!(advice, Advice::HeatAgain);
        assert!(reasons[0].starts_with("not_constant"), "{reasons:?}");
        assert_eq!(reasons[1], format!("fall_by_digits reading={reading}"));
    }
    // A first gentle heating.
    for heated in [["22.322", "21.722"], ["22.745", "21.722"]] {
        let (_, reasons) = reasons_of("20.500", "23.000", &heated);
        assert_eq!(reasons.len(), 1, "{reasons:?}");
    }
}

#[test]
fn a_reading_is_shown_as_it_was_written() {
    for heated in ["2136.4", "213.64"] {
        let weighings = bench("20.137", "22.648", &[heated]);
        let (_, reasons) = advised(&Method::new(), "MgSO4·7H2O", &weighings);
        let text = reasons[0].text();
        assert!(text.contains(&format!("({heated} g)")), "{text}");
    }
}

#[test]
fn of_two_explanations_of_a_gain_the_one_that_ends_as_expected_counts() {
    // 2.511 g leaves 1.226 g: 21.363 g are expected. The first weighing exchanged would agree with the second.
    for (heated, said) in [
        (["21.364", "21.633"], "heated[1] meant=21.363"),
        (["21.364", "21.634"], "heated[1] meant=21.364"),
        (["21.37", "21.73"], "heated[1] meant=21.37"),
        (["21.364", "22.363"], "heated[1]"),
    ] {
        let (advice, reasons) = reasons_of("20.137", "22.648", &heated);
        assert_eq!(advice, Advice::Ask);
        let said = format!("gain_by_digits reading={said}");
        assert!(reasons.contains(&said), "{reasons:?}");
    }
    // Water is left: nothing ends as expected, and the weighing that explains the gain is named all the same.
    let (_, wet) = reasons_of("20.137", "22.648", &["21.912", "21.921"]);
    assert!(
        wet.contains(&"gain_by_digits reading=heated[0] meant=21.921".into()),
        "{wet:?}"
    );
}

#[test]
fn one_heating_accuses_no_more_than_the_same_reading_twice() {
    for (issued, container, with_hydrate, heated) in [
        ("BaCl2·2H2O", "20.00", "20.90", "20.74"),
        ("CaSO4·2H2O", "20.00", "20.80", "20.61"),
        ("BaCl2·2H2O", "20.00", "20.80", "20.66"),
        ("CuSO4·5H2O", "20.13", "20.93", "20.61"),
        ("MgSO4·7H2O", "20.1", "22.1", "20.8"),
        ("BaCl2·2H2O", "22.446", "23.456", "23.305"),
    ] {
        let advice = |heated: &[&str]| {
            let weighings = bench(container, with_hydrate, heated);
            advised(&Method::new(), issued, &weighings).0
        };
        assert_eq!(advice(&[heated]), Advice::HeatAgain, "{issued} {heated}");
        let twice = advice(&[heated, heated]);
        assert!(
            matches!(twice, Advice::Stop | Advice::Ask),
            "{issued} {heated} {twice}"
        );
    }
}

#[test]
fn readings_that_agree_are_not_exchanged() {
    let method = Method::new();
    // 1.25 g leaves 1.066 g: 21.066 g are expected.
    for heated in [["21.03", "21.02", "21.02"], ["21.04", "21.03", "21.03"]] {
        let lost = bench("20.00", "21.25", &heated);
        let check = method.check(&formula("BaCl2·2H2O"), &lost).unwrap();
        assert_eq!(check.swap(), None, "{heated:?}");
    }
}

#[test]
fn a_wide_tolerance_is_said_with_the_whole_loss() {
    let stop = |container: &str, with_hydrate: &str, heated: [&str; 2]| {
        let weighings = bench(container, with_hydrate, &heated);
        let (advice, mut reasons) = advised(&Method::new(), "BaCl2·2H2O", &weighings);
        assert_eq!(advice, Advice::Stop);
        assert_eq!(codes(&reasons), ["constant_and_expected"]);
        reasons.remove(0)
    };
    // 1.25 g loses 0.184 g of water.
    let coarse = stop("20.00", "21.25", ["21.04", "21.03"]);
    assert_eq!(
        coarse.text(),
        "The last two weighings agree. Within 0.04 g, the mass is that expected of the residue. The whole expected \
         loss is only 0.18 g. Take more of the hydrate if you repeat this."
    );
    let values: Vec<_> = coarse.values().collect();
    assert_eq!(values, [("expected_loss", "0.18"), ("tolerance", "0.04")]);
    // 2.500 g loses 0.369 g of water.
    let fine = stop("20.000", "22.500", ["22.132", "22.131"]);
    assert_eq!(fine.values().count(), 0);
}

#[test]
fn a_wrong_digit_that_makes_the_residue_too_heavy_is_named() {
    // 2.511 g leaves 1.226 g: 21.363 g are expected.
    for (container, with_hydrate, reading) in [
        ("20.137", "21.648", "crucible_hydrate"),
        ("20.037", "22.648", "crucible"),
        ("20.137", "22.448", "crucible_hydrate"),
    ] {
        let (advice, reasons) = reasons_of(container, with_hydrate, &["21.364", "21.363"]);
        assert_eq!(advice, Advice::HeatAgain);
        let first = reasons[0].strip_prefix("above_by_digits readings=");
        assert!(
            first.is_some_and(|readings| readings.split(", ").any(|named| named == reading)),
            "{reasons:?}"
        );
        assert_eq!(reasons.last().unwrap(), "constant_elsewhere");
    }
    // A known hydrate needs no digit: 3.511 g of the heptahydrate leaves 2.228 g of the dihydrate.
    let (_, known) = reasons_of("19.137", "22.648", &["21.364", "21.363"]);
    assert_eq!(known.last().unwrap(), "lower_hydrate waters=2");
    assert!(!known[0].starts_with("above"), "{known:?}");
    let weighings = bench("20.137", "21.648", &["21.364", "21.363"]);
    let (_, reasons) = advised(&Method::new(), "MgSO4·7H2O", &weighings);
    assert_eq!(
        reasons[0].text(),
        "The last two weighings agree, but they are above the expected mass. One wrong digit in the container with \
         the hydrate (21.648 g) explains this. Compare each reading with your notes."
    );
}

#[test]
fn a_mass_that_is_just_that_of_a_residue_is_told_so_whatever_else_explains_it() {
    // 2.000 g of CuSO4·5H2O leaves 0.637 g of CuO.
    let decomposed = bench("20.000", "22.000", &["20.638", "20.637"]);
    let (advice, reasons) = advised(&Method::new(), "CuSO4·5H2O", &decomposed);
    assert_eq!(advice, Advice::CheckReadings);
    assert_eq!(codes(&reasons), ["wrong_digit", "decomposed"]);
    let end = "If the readings are right, ask your teacher: was the salt heated too far?";
    assert!(reasons[0].text().ends_with(end), "{}", reasons[0].text());
    // A gain hides it as little as a weighing that is outside.
    for heated in [["20.630", "20.637"], ["22.638", "20.637"]] {
        let (_, reasons) = advised(
            &Method::new(),
            "CuSO4·5H2O",
            &bench("20.000", "22.000", &heated),
        );
        assert!(codes(&reasons).contains(&"decomposed"), "{reasons:?}");
    }
    // Between two residues, nobody knows whether solid was lost.
    let falling = bench("20.000", "22.400", &["21.280", "20.895"]);
    let (advice, reasons) = advised(&Method::new(), "CuSO4·5H2O", &falling);
    assert_eq!(advice, Advice::CheckReadings);
    let end = "ask your teacher: was solid lost, or the salt heated too far?";
    assert!(reasons[0].text().ends_with(end), "{}", reasons[0].text());
}

#[test]
fn every_residue_of_the_catalogue_is_told_on_coarse_balances_too() {
    let weights = crate::element::AtomicWeights::default();
    let molar = |of: &Formula| of.molar_mass(&weights).unwrap().exact();
    let mut told = 0;
    for salt in known_salts() {
        let salt = salt.salt();
        let known = known_hydrates(salt);
        let Some(issued) = known.last().and_then(|waters| salt.with_waters(waters)) else {
            continue;
        };
        for own in decompositions(salt) {
            let each = own.per_salt() * molar(own.residue());
            let share = each.checked_div(&molar(&issued)).unwrap();
            if !own.within_reach() || each >= molar(salt) {
                continue;
            }
            for (container, places) in [("20.00", 2), ("21.37", 2), ("24.163", 3)] {
                let container: Ratio = container.parse().unwrap();
                let shown = |mass: &Ratio| mass.to_places(places, TieRule::Even).to_string();
                let last = shown(&(&container + 2 * &share));
                let with_hydrate = shown(&(&container + 2));
                let weighings = bench(&shown(&container), &with_hydrate, &[&last, &last]);
                let check = Method::new().check(&issued, &weighings).unwrap();
                if check.advice() == Advice::Stop || check.must_not_heat() {
                    continue;
                }
                let reasons = check.reasons();
                assert!(
                    codes(&reasons).contains(&"decomposed"),
                    "{issued}: {reasons:?}"
                );
                let claims = |note: &crate::Note| note.text().contains("solid was lost:");
                assert!(!reasons.iter().any(claims), "{issued}: {reasons:?}");
                told += 1;
            }
        }
    }
    assert!(told > 100, "{told}");
}
