//! A template read from TOML.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use toml::de::DeTable;

use super::author_text::{check_visible, words};
use super::own_quantity::OwnValues;
use super::template::{
    OwnAnswer, OwnField, OwnRequest, OwnStep, OwnWrongStep, OwnWrongValue, Template,
};
use super::template_names::TemplateNames;
use super::template_text::TemplateText;
use super::template_units;
use super::template_values::{code, get, quantities, unit};
use crate::class::{Error, ErrorKind, TomlMembers, TomlValue, members, no_toml, required};
use crate::exercise::kind::{Kind, Level};
use crate::exercise::request::Operation;
use crate::exercise::skill::Skill;
use crate::exercise::wrong_step::WrongStep;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::text::{Detail, Span, likely};

/// The largest template that is read, in bytes.
const MOST_BYTES: usize = 64 * 1024;
const MOST_STEPS: usize = 12;
const MOST_WRONG_STEPS: usize = 20;
/// A problem with options needs this number of wrong steps.
const LEAST_WRONG_STEPS: usize = 3;

const KEYS: [&str; 10] = [
    "kind",
    "form",
    "level",
    "skills",
    "quantities",
    "wording",
    "request",
    "answer",
    "working",
    "errors",
];

pub(super) fn template(text: &str) -> Result<Template, Error> {
    if text.len() > MOST_BYTES {
        let message = format!(
            "the template has {} bytes, and at most {MOST_BYTES} are read",
            text.len()
        );
        let detail = Detail::new(message).help("give one template a file");
        return Err(bad(detail.at(Span::new(MOST_BYTES, text.len()))));
    }
    let document = DeTable::parse(text).map_err(|error| no_toml(text, &error))?;
    let members = members(text, "", document.get_ref(), &KEYS)?;
    members
        .iter()
        .try_for_each(|(_, value)| check_visible(value))?;
    let top = |name: &str| {
        get(&members, name).ok_or_else(|| {
            let detail = Detail::new(format!("the template has no `{name}`"));
            bad(detail.help(
                "compare it with the complete template in the documentation of `Template::read`",
            ))
        })
    };
    let quantities = get(&members, "quantities").map_or(Ok(Vec::new()), quantities)?;
    let mut names = TemplateNames::new(&quantities);
    let kind = kind(top("kind")?)?;
    let answer = answer(top("answer")?)?;
    let working = working(top("working")?, &mut names, &answer)?;
    let wording = names.text(top("wording")?)?;
    template_units::check_wording(&wording, |name| names.quantity(name))
        .or_else(|detail| Err(top("wording")?.error(detail)))?;
    let request = request(top("request")?, &names)?;
    if let Some(problem) = other_operation(kind, request.operation) {
        return Err(top("request")?.error(problem));
    }
    let errors =
        get(&members, "errors").map_or(Ok(Vec::new()), |value| wrong_steps(value, &names))?;
    if errors.len() < LEAST_WRONG_STEPS && !matches!(kind, Kind::Balance | Kind::ErrorAnalysis) {
        let message = format!("{} wrong steps do not make four options", errors.len());
        let detail = Detail::new(message).help("give at least three tables `[[errors]]`");
        return Err(bad(detail));
    }
    let template = Template {
        kind,
        form: code(top("form")?)?.into(),
        level: level(top("level")?)?,
        skills: skills(top("skills")?)?,
        wording,
        request,
        answer,
        working,
        errors,
        quantities: quantities.clone(),
    };
    forbidden(&template).map_err(|detail| {
        let value = get(&members, "wording");
        value.map_or_else(|| bad(detail.clone()), |value| value.error(detail.clone()))
    })?;
    Ok(template)
}

fn bad(detail: Detail) -> Error {
    Error::new(ErrorKind::BadPolicy, detail)
}

fn kind(value: &TomlValue<'_>) -> Result<Kind, Error> {
    let word = value.choice(&Kind::ALL.map(Kind::code))?;
    Ok(word.parse().unwrap_or(Kind::PercentWater))
}

fn level(value: &TomlValue<'_>) -> Result<Level, Error> {
    let number = value.reading()?.value();
    let mut levels = Level::ALL.into_iter();
    let level = levels.find(|level| number == i64::from(level.number()).into());
    level.ok_or_else(|| value.refusal(format!("there is no level {number}"), "give 1, 2 or 3"))
}

fn skills(value: &TomlValue<'_>) -> Result<Vec<Skill>, Error> {
    let values = value.list("write the codes of the skills in square brackets")?;
    let skills = values.iter().map(|value| {
        let word = value.choice(&Skill::ALL.map(Skill::code))?;
        Ok(word.parse().unwrap_or(Skill::MolarMass))
    });
    let skills: Vec<Skill> = skills.collect::<Result<_, Error>>()?;
    match skills.is_empty() {
        true => Err(value.refusal(
            "no skill is named",
            "name what the problem practises, such as `\"molar_mass\"`",
        )),
        false => Ok(skills),
    }
}

fn answer(value: &TomlValue<'_>) -> Result<OwnAnswer, Error> {
    const HELP: &str =
        "write `[answer]`, and below it `pointer = \"/percent_water\"`, `unit` and `figures`";
    let members = value.table(&["pointer", "unit", "figures"], HELP)?;
    let figures = get(&members, "figures").map(|value| {
        let number = value.reading()?.value().to_i128();
        let figures = number.and_then(|number| u32::try_from(number).ok());
        let figures = figures.filter(|figures| (2..=6).contains(figures));
        figures.ok_or_else(|| {
            value.refusal(
                "the number of significant figures is not from 2 to 6",
                "give 3 or 4 as a rule",
            )
        })
    });
    let (figures, unit) = (figures.transpose()?, unit(&members)?);
    let pointer = pointer(required(value, &members, "pointer", HELP)?)?;
    if figures.is_some() {
        let value = get(&members, "unit").unwrap_or(value);
        template_units::check_answer(&pointer, unit).map_err(|detail| value.error(detail))?;
    }
    Ok(OwnAnswer {
        pointer,
        unit,
        figures,
    })
}

fn pointer(value: &TomlValue<'_>) -> Result<String, Error> {
    let text = value.text()?;
    match text.starts_with('/') && text.len() <= 200 {
        true => Ok(text.into()),
        false => Err(value.refusal(
            "this is not a JSON Pointer into the result",
            "begin with a slash, such as `/percent_water` or `/species/0/mass_initial`",
        )),
    }
}

fn working(
    value: &TomlValue<'_>,
    names: &mut TemplateNames<'_>,
    answer: &OwnAnswer,
) -> Result<Vec<OwnStep>, Error> {
    let values = value.list("write each step as a table `[[working]]`")?;
    if values.is_empty() || values.len() > MOST_STEPS {
        let message = format!("the working has {} steps", values.len());
        return Err(value.refusal(message, format!("give from 1 to {MOST_STEPS} steps")));
    }
    let mut steps: Vec<OwnStep> = Vec::with_capacity(values.len());
    for (index, value) in values.iter().enumerate() {
        let is_last = index + 1 == values.len();
        steps.push(step(value, names, is_last && answer.figures.is_none())?);
    }
    let last = steps.last().map_or("", |step| step.unit);
    if answer.figures.is_some() && last != answer.unit {
        let message = format!(
            "the last step has the unit `{last}`, and the answer `{}`",
            answer.unit
        );
        return Err(value.refusal(message, "give both the same unit"));
    }
    Ok(steps)
}

fn step(
    value: &TomlValue<'_>,
    names: &mut TemplateNames<'_>,
    may_conclude: bool,
) -> Result<OwnStep, Error> {
    const HELP: &str = "give each step `what`, `expression` and `unit`";
    const CONCLUSION: &str =
        "give `expression`; only the last step to a text may have `symbols` alone";
    let members = value.table(&["name", "what", "symbols", "expression", "unit"], HELP)?;
    let symbols = get(&members, "symbols")
        .map(|value| names.text(value))
        .transpose()?;
    let expression = match get(&members, "expression") {
        Some(value) => Some(names.expression(value, false)?),
        None if may_conclude && symbols.is_some() => None,
        None => return Err(value.refusal("`expression` is missing", CONCLUSION)),
    };
    let what = names.text(required(value, &members, "what", HELP)?)?;
    let name = get(&members, "name").map_or(Ok(""), code)?;
    if let Some(value) = get(&members, "name").filter(|_| names.is_taken(name)) {
        let message = format!("`{name}` is already the name of a quantity or a step");
        return Err(value.refusal(message, "give the step another name"));
    }
    if let Some(expression) = expression.as_ref().filter(|_| !name.is_empty()) {
        names.add_step(name, expression);
    }
    Ok(OwnStep {
        name: name.into(),
        what,
        symbols,
        expression,
        unit: unit(&members)?,
    })
}

fn request(value: &TomlValue<'_>, names: &TemplateNames<'_>) -> Result<OwnRequest, Error> {
    const HELP: &str = "write `[request]`, and below it `op` and the fields of the operation";
    let members = value.table(&[], HELP)?;
    let operation = required(value, &members, "op", HELP)?;
    let operation = operation.choice(&Operation::ALL.map(Operation::code))?;
    for name in ["weights", "id", "strict"] {
        if let Some(value) = get(&members, name) {
            let help = "remove it: the set gives its own table of weights to every request";
            return Err(value.refusal(format!("a template cannot give `{name}`"), help));
        }
    }
    let fields = members.iter().filter(|(name, _)| *name != "op");
    Ok(OwnRequest {
        operation: operation.parse().unwrap_or(Operation::Formula),
        fields: fields
            .map(|member| field(member, names, None))
            .collect::<Result<_, _>>()?,
    })
}

/// A field whose numbers have certain units.
type UnitsOf<'n> = Option<(&'n str, &'static [&'static str])>;

/// Reads a field. One whose name has no unit has that of the object it is in, such as an element in `masses`.
fn field(
    (name, value): &(&str, TomlValue<'_>),
    names: &TemplateNames<'_>,
    around: UnitsOf<'_>,
) -> Result<(TemplateText, OwnField), Error> {
    let units = template_units::of_field(name).map(|units| (*name, units));
    let text = names.text_of(value, name)?;
    Ok((text, field_value(value, names, units.or(around))?))
}

fn field_value(
    value: &TomlValue<'_>,
    names: &TemplateNames<'_>,
    units: UnitsOf<'_>,
) -> Result<OwnField, Error> {
    match value.is_table_or_list() {
        [true, _] => {
            let members: TomlMembers<'_> = value.table(&[], "")?;
            let members = members.iter().map(|member| field(member, names, units));
            Ok(OwnField::Object(members.collect::<Result<_, _>>()?))
        }
        [_, true] => {
            let values = value.list("")?;
            let values = values.iter().map(|value| field_value(value, names, units));
            Ok(OwnField::List(values.collect::<Result<_, _>>()?))
        }
        _ => {
            let text = names.text_of(value, &value.digits()?)?;
            if let Some((name, units)) = units {
                let quantities = text
                    .placeholders()
                    .filter_map(|of| names.quantity(&of.name));
                for quantity in quantities {
                    template_units::check_field(quantity, name, units)
                        .map_err(|detail| value.error(detail))?;
                }
            }
            Ok(OwnField::Text(text))
        }
    }
}

/// Says that problems of a kind are solved by another operation.
fn other_operation(kind: Kind, operation: Operation) -> Option<Detail> {
    let of_kind = match kind {
        Kind::PercentWater | Kind::MolarMass => Operation::Formula,
        Kind::FormulaFromMasses | Kind::FormulaFromPercent | Kind::FormulaFromWeighings => {
            Operation::Dehydration
        }
        Kind::SampleMass | Kind::Limiting | Kind::Yield => Operation::Limiting,
        Kind::Stages => Operation::Stages,
        Kind::Mixture => Operation::Mixture,
        Kind::Factor => Operation::Factor,
        Kind::Empirical => Operation::Empirical,
        Kind::Balance => Operation::Balance,
        Kind::Heat => Operation::Heat,
        Kind::ErrorAnalysis => Operation::Class,
    };
    (of_kind != operation).then(|| {
        let message = format!(
            "problems of the kind `{kind}` are solved by `{of_kind}`, not by `{operation}`"
        );
        Detail::new(message).help("change `op` or `kind`")
    })
}

fn wrong_steps(
    value: &TomlValue<'_>,
    names: &TemplateNames<'_>,
) -> Result<Vec<OwnWrongStep>, Error> {
    let values = value.list("write each wrong step as a table `[[errors]]`")?;
    if values.len() > MOST_WRONG_STEPS {
        let message = format!("there are more than {MOST_WRONG_STEPS} wrong steps");
        return Err(value.refusal(message, "keep the most common ones"));
    }
    let mut steps: Vec<OwnWrongStep> = Vec::with_capacity(values.len());
    for value in &values {
        let step = wrong_step(value, names)?;
        if steps
            .iter()
            .any(|other| other.step.code() == step.step.code())
        {
            let message = format!("there are two wrong steps `{}`", step.step.code());
            return Err(value.refusal(message, "give each a code of its own"));
        }
        steps.push(step);
    }
    Ok(steps)
}

/// Says that a code without words is not a known one.
fn unknown_code(value: &TomlValue<'_>, code: &str) -> Error {
    let known: Vec<WrongStep> = WrongStep::known().collect();
    let codes: Vec<&str> = known.iter().map(WrongStep::code).collect();
    let nearest = likely(code, &codes).map(|near| format!("did you mean `{near}`? Otherwise "));
    let help = format!(
        "{}give `name` and `instead`, or take a code of examples/data/wrong_steps.md",
        nearest.unwrap_or_default()
    );
    value.refusal(
        format!("`{code}` is not the code of a known wrong step"),
        help,
    )
}

fn wrong_step(value: &TomlValue<'_>, names: &TemplateNames<'_>) -> Result<OwnWrongStep, Error> {
    const HELP: &str = "give `code`, `name`, `instead`, and one of `value`, `formula` or `request`";
    let keys = [
        "code", "name", "instead", "value", "formula", "request", "pointer",
    ];
    let members = value.table(&keys, HELP)?;
    let code = code(required(value, &members, "code", HELP)?)?;
    let known = WrongStep::known().find(|step| step.code() == code);
    let own_words = |name| {
        let text = words(required(value, &members, name, HELP)?)?;
        Ok(String::from(text.trim_end_matches('.')))
    };
    // An author's words win, so that a code that becomes known later changes nothing.
    let has_words = get(&members, "name")
        .or_else(|| get(&members, "instead"))
        .is_some();
    let step = match known {
        Some(known) if !has_words => known,
        None if !has_words => {
            return Err(unknown_code(required(value, &members, "code", HELP)?, code));
        }
        _ => WrongStep::own(code.to_string(), own_words("name")?, own_words("instead")?),
    };
    let given = ["value", "formula", "request"].map(|name| get(&members, name));
    let value = match given {
        [Some(expression), None, None] => {
            OwnWrongValue::Expression(names.expression(expression, true)?)
        }
        [None, Some(formula), None] => {
            let text = names.text(formula)?;
            names
                .check_formula(&text)
                .map_err(|detail| formula.error(detail))?;
            OwnWrongValue::Formula(text)
        }
        [None, None, Some(other)] => {
            let place = pointer(required(
                value,
                &members,
                "pointer",
                "give the `pointer` of the wrong value",
            )?)?;
            OwnWrongValue::Request(request(other, names)?, place)
        }
        _ => return Err(value.refusal("the value of the wrong step is not clear", HELP)),
    };
    Ok(OwnWrongStep { step, value })
}

/// Says that a template heats what must not be heated in a school.
fn forbidden(template: &Template) -> Result<(), Detail> {
    if !template.heats() {
        return Ok(());
    }
    let mut formulas: Vec<Formula> = Vec::new();
    for quantity in &template.quantities {
        if let OwnValues::Formulas(listed) = &quantity.values {
            formulas.extend(listed.iter().cloned());
        }
    }
    let mut texts: Vec<&TemplateText> = Vec::from([&template.wording]);
    template.request.add_texts(&mut texts);
    let words = texts
        .into_iter()
        .flat_map(TemplateText::plain)
        .flat_map(str::split_whitespace);
    let words = words.map(|word| word.trim_matches([',', '.', ';', ':', '?']));
    formulas.extend(words.filter_map(|word| word.parse().ok()));
    let is_forbidden =
        |formula: &&Formula| HeatingSafety::of(formula).severity() == Severity::Forbidden;
    match formulas.iter().find(is_forbidden) {
        None => Ok(()),
        Some(formula) => {
            let message = format!(
                "the problem speaks of heating, and {formula} must not be heated in a school"
            );
            Err(Detail::new(message).help("take another salt, or word the problem without heating"))
        }
    }
}
