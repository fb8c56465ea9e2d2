//! Each form in full. The spoken form and the tags of `MathML` are rules of this crate. So are the other
//! forms if no published spelling is named.

use super::super::Formula;

fn formula(text: &str) -> Formula {
    text.parse().unwrap()
}

#[track_caller]
fn all(text: &str, unicode: &str, html: &str, latex: &str) {
    let formula = formula(text);
    assert_eq!(formula.to_unicode(), unicode);
    assert_eq!(formula.to_html(), html);
    assert_eq!(formula.to_latex(), latex);
    assert_eq!(unicode.parse(), Ok(formula));
}

#[test]
fn unicode_html_and_latex() {
    all(
        "CaSO4·1/2H2O",
        "CaSO₄·½H₂O",
        "CaSO<sub>4</sub>·½H<sub>2</sub>O",
        r"\mathrm{CaSO_{4}\cdot 1/2H_{2}O}",
    );
    all(
        "[Fe(CN)6]^3-",
        "[Fe(CN)₆]³⁻",
        "[Fe(CN)<sub>6</sub>]<sup>3−</sup>",
        r"\mathrm{[Fe(CN)_{6}]^{3-}}",
    );
    all(
        "YBa2Cu3O6.93",
        "YBa₂Cu₃O₆.₉₃",
        "YBa<sub>2</sub>Cu<sub>3</sub>O<sub>6.93</sub>",
        r"\mathrm{YBa_{2}Cu_{3}O_{6.93}}",
    );
    all(
        "K{[18O]2}x(s)",
        "K{¹⁸O₂}ₓ(s)",
        "K{<sup>18</sup>O<sub>2</sub>}<sub>x</sub>(s)",
        r"\mathrm{K\{{}^{18}O_{2}\}_{x}(s)}",
    );
}

/// The spellings of mhchem's manual, except those with a space or brace that this crate leaves out.
#[test]
fn mhchem_as_its_manual_writes() {
    for (text, manual) in [
        ("H2O", r"\ce{H2O}"),
        ("Sb2O3", r"\ce{Sb2O3}"),
        ("CrO4^2-", r"\ce{CrO4^2-}"),
        ("Y^99+", r"\ce{Y^99+}"),
        ("2H2O", r"\ce{2H2O}"),
        ("(NH4)2S", r"\ce{(NH4)2S}"),
        ("[{(CN)3}2]^3+", r"\ce{[\{(CN)3\}2]^3+}"),
        ("H2(aq)", r"\ce{H2(aq)}"),
    ] {
        assert_eq!(formula(text).to_mhchem(), manual);
    }
}

#[test]
fn mhchem_by_house_rules() {
    for (text, expected) in [
        ("K3[Fe(CN)6]", r"\ce{K3[Fe(CN)6]}"),
        ("CuSO4·5H2O", r"\ce{CuSO4 * 5H2O}"),
        ("3CdSO4·8H2O", r"\ce{3CdSO4 * 8H2O}"),
        ("CdCl2·2.5H2O", r"\ce{CdCl2 * 2.5H2O}"),
        ("Na2SO4·8/3H2O", r"\ce{Na2SO4 * 8/3H2O}"),
        ("MgSO4·xH2O", r"\ce{MgSO4 * x H2O}"),
        ("NH4^+", r"\ce{NH4^+}"),
        ("H[13C]3O", r"\ce{H^{13}C3O}"),
        ("Fe0.95O", r"\ce{Fe\mathrm{\genfrac{}{}{0pt}{1}{}{0.95}}O}"),
        ("e-", r"\ce{e^-}"),
    ] {
        assert_eq!(formula(text).to_mhchem(), expected);
    }
}

#[test]
fn spoken_by_house_rules() {
    for (text, expected) in [
        ("CuSO4·5H2O", "Cu S O 4, dot, 5 H 2 O"),
        ("Co", "Co"),
        ("CO", "C O"),
        (
            "Ca(OH)2(aq)",
            "Ca open bracket O H close bracket 2, aqueous",
        ),
        ("SO4^2-", "S O 4, 2 minus"),
        ("NH4^+", "N H 4, plus"),
        ("MgSO4·xH2O", "Mg S O 4, dot, x H 2 O"),
        ("CaSO4·0.5H2O", "Ca S O 4, dot, one half H 2 O"),
        ("Na2SO4·8/3H2O", "Na 2 S O 4, dot, 8 over 3 H 2 O"),
        ("Fe0.95O(s)", "Fe 0.95 O, solid"),
        ("[2H]2O(l)", "hydrogen-2 sub 2 O, liquid"),
        (
            "{[Cr]2}3",
            "open brace open square bracket Cr close square bracket 2 close brace 3",
        ),
        ("e-", "electron"),
    ] {
        assert_eq!(formula(text).to_spoken(), expected);
    }
}

/// Short names for long tags, so that a line shows the shape.
fn mathml(text: &str) -> alloc::string::String {
    let formula = formula(text);
    let head = alloc::format!(
        "<math xmlns=\"http://www.w3.org/1998/Math/MathML\" alttext=\"{}\">",
        formula.to_spoken()
    );
    let whole = formula.to_mathml();
    let inside = whole.strip_prefix(&*head).unwrap();
    let inside = inside.strip_suffix("</math>").unwrap();
    inside
        .replace("<mi mathvariant=\"normal\">", "<mi>")
        .replace("<mo stretchy=\"false\">", "<mo>")
}

#[test]
fn mathml_by_house_rules() {
    assert_eq!(
        mathml("SO4^2-"),
        "<mrow><mi>S</mi><msubsup><mi>O</mi><mn>4</mn>\
         <mrow><mn>2</mn><mo>−</mo></mrow></msubsup></mrow>"
    );
    assert_eq!(
        mathml("Na^+"),
        "<mrow><msup><mi>Na</mi><mo>+</mo></msup></mrow>"
    );
    assert_eq!(
        mathml("(NH4)2S(s)"),
        "<mrow><msub><mrow><mo>(</mo><mi>N</mi><msub><mi>H</mi><mn>4</mn></msub><mo>)</mo></mrow>\
         <mn>2</mn></msub><mi>S</mi></mrow><mtext>(s)</mtext>"
    );
    assert_eq!(
        mathml("LiF·1/2[2H]2O"),
        "<mrow><mi>Li</mi><mi>F</mi></mrow><mo>·</mo><mrow><mfrac><mn>1</mn><mn>2</mn></mfrac>\
         <mmultiscripts><mi>H</mi><mn>2</mn><none/><mprescripts/><none/><mn>2</mn></mmultiscripts>\
         <mi>O</mi></mrow>"
    );
    assert_eq!(
        mathml("[13C]O"),
        "<mrow><mmultiscripts><mi>C</mi><mprescripts/><none/><mn>13</mn></mmultiscripts>\
         <mi>O</mi></mrow>"
    );
    assert_eq!(
        mathml("FexO8/3"),
        "<mrow><msub><mi>Fe</mi><mi>x</mi></msub>\
         <msub><mi>O</mi><mfrac><mn>8</mn><mn>3</mn></mfrac></msub></mrow>"
    );
    assert_eq!(
        mathml("e-"),
        "<mrow><msup><mi>e</mi><mo>−</mo></msup></mrow>"
    );
}
