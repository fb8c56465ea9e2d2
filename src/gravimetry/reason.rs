//! Why a bench should do what it is advised to do.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::exchange::NamedReading;
use super::overheating::Overheating;
use super::series::Contradiction;
use super::warning::{Gain, one_heating};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, Rounded};
use crate::text::{Note, list, visible};

/// What explains a last weighing that is too light if all readings are right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum IfRight {
    /// Only lost solid.
    Lost,
    /// Lost solid, or a salt that partly decomposed.
    LostOrDecomposed,
    /// The mass is that of a residue of decomposition.
    Decomposed,
    /// Another reason says it.
    SaidElsewhere,
}

impl IfRight {
    fn sentence(self) -> &'static str {
        match self {
            IfRight::Lost => " If the readings are right, solid was lost: start again.",
            IfRight::LostOrDecomposed => {
                " If the readings are right, ask your teacher: was solid lost, or the salt heated too far?"
            }
            IfRight::Decomposed => {
                " If the readings are right, ask your teacher: was the salt heated too far?"
            }
            IfRight::SaidElsewhere => "",
        }
    }
}

/// A reason for an advice; masses in grams.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Reason {
    /// What the container with the residue should weigh.
    NothingHeated(Rounded),
    Contradiction(Contradiction),
    /// The number of the heating whose weighing lies outside the container and the container with the
    /// hydrate, and all three readings.
    Outside(usize, [Reading; 3]),
    /// Two readings that make sense exchanged.
    Swapped([NamedReading; 2]),
    /// By how much the last weighing is too light, the readings of which one wrong digit explains it, and
    /// what follows if the readings are right.
    WrongDigit(Rounded, Vec<NamedReading>, IfRight),
    /// By how much the last weighing is below the expected one.
    FarTooLight(Rounded),
    TooLight(Rounded),
    Gain(Gain),
    /// The readings that make sense as masses without the container.
    WithoutContainer(Vec<NamedReading>),
    /// Three readings in the order that makes sense: the empty container, with the hydrate, after heating.
    Reordered([NamedReading; 3]),
    /// A reading with its decimal point in the wrong place, a digit typed twice or two digits exchanged, and what
    /// it is otherwise.
    Mistyped(NamedReading, Reading),
    /// The weighing without which there is no gain, and what it is with two neighbouring digits exchanged;
    /// without that, one digit of it is wrong.
    GainByDigits(NamedReading, Option<Reading>),
    /// The weighing before the last, of which one wrong digit explains that the mass is not constant.
    FallByDigits(NamedReading),
    /// The readings before heating of which one wrong digit explains why a constant mass is above the expected one.
    AboveByDigits(Vec<NamedReading>),
    /// The last two weighings agree at no known residue.
    ConstantElsewhere,
    /// The number of weighings before the gain that were constant at the expected mass.
    WasConstant(usize),
    /// The smallest difference that can be seen, the lower residue that has this mass, and the residue that
    /// heating should leave.
    BeyondTarget(Rounded, Box<[Formula; 2]>),
    /// The residue that heating should leave and the anhydrous salt, if the mass is between them, and whether
    /// heating can go on until the anhydrous salt is left.
    BelowTarget(Box<[Formula; 2]>, bool),
    /// The column and the text of the first weighing that cannot be read.
    #[cfg_attr(
        not(feature = "class"),
        allow(dead_code, reason = "only a sheet has cells")
    )]
    Unreadable(String, String),
    Overheating(Box<Overheating>),
    /// The smallest difference that can be seen and the loss expected, if the one is more than a tenth of the
    /// other.
    ConstantAndExpected(Option<(Rounded, Rounded)>),
    /// The smallest difference that can be seen, and the loss expected.
    CannotTell(Rounded, Rounded),
    /// The smallest difference that can be seen, and two residues that look alike.
    LooksAlike(Rounded, Box<[Formula; 2]>),
    /// What to ask the teacher.
    Question(&'static str),
    OneHeating,
    /// The last change and the criterion.
    NotConstant(Reading, Ratio),
    /// The water that may still leave, although the last two weighings agree.
    SlowLoss(Rounded),
    StillToLose(Rounded),
    /// By how much the solid is too heavy, the expected residue, and what the salt turns into when it gains
    /// mass.
    WaterOrHeavier(Rounded, Box<[Formula; 2]>),
    /// By how much the solid is too heavy, the expected residue, and the gases that may leave with the water,
    /// joined by ` + `.
    NotOnlyWater(Rounded, Box<Formula>, &'static str),
    /// The waters that are left.
    LowerHydrate(Ratio),
}

impl Reason {
    pub(crate) fn note(&self) -> Note {
        match self {
            Reason::NothingHeated(mass) => nothing_heated(mass),
            Reason::Contradiction(contradiction) => contradiction.note(),
            Reason::Outside(heating, readings) => outside(*heating, readings),
            Reason::Swapped(readings) => swapped(readings),
            Reason::WrongDigit(below, readings, if_right) => {
                wrong_digit(below, readings, *if_right)
            }
            Reason::Reordered(readings) => reordered(readings),
            Reason::WasConstant(weighings) => valued(
                "was_constant",
                "Before that, the mass was constant and as expected. Heat once more, or use those weighings."
                    .into(),
                [("weighings", format!("{weighings}"))],
            ),
            Reason::GainByDigits(reading, meant) => gain_by_digits(reading, meant.as_ref()),
            Reason::FallByDigits(reading) => fall_by_digits(reading),
            Reason::AboveByDigits(readings) => above_by_digits(readings),
            Reason::WithoutContainer(readings) => without_container(readings),
            Reason::Mistyped(reading, meant) => mistyped(reading, meant),
            Reason::BelowTarget(residues, can_go_on) => below_target(residues, *can_go_on),
            Reason::BeyondTarget(tolerance, residues) => beyond_target(tolerance, residues),
            Reason::Unreadable(column, cell) => unreadable(column, cell),
            Reason::LooksAlike(tolerance, residues) => looks_alike(tolerance, residues),
            Reason::Question(question) => Note::new("question", *question),
            Reason::FarTooLight(below) => too_light(
                "far_too_light",
                below,
                "Solid may have been lost, the salt may have decomposed, or a reading may be wrong. Compare each reading with \
                 your notes before you throw anything away.",
            ),
            Reason::TooLight(below) => too_light(
                "too_light",
                below,
                "More has left than the water expected, or a reading is wrong.",
            ),
            Reason::Gain(gain) => gain.note(),
            Reason::Overheating(overheating) => overheating.note(),
            Reason::ConstantAndExpected(within) => constant_and_expected(within.as_ref()),
            Reason::ConstantElsewhere => Note::new(
                "constant_elsewhere",
                "The last two weighings agree, but no known residue has this mass. Ask your teacher whether the flame \
                 and the salt are right.",
            ),
            Reason::CannotTell(tolerance, loss) => cannot_tell(tolerance, loss),
            Reason::OneHeating => one_heating(),
            Reason::NotConstant(change, criterion) => not_constant(change, &criterion.to_plain()),
            Reason::SlowLoss(mass) => slow_loss(mass),
            Reason::StillToLose(mass) => valued(
                "still_to_lose",
                format!("The solid still has {mass} g of water to lose."),
                [("still_to_lose", format!("{mass}"))],
            ),
            Reason::WaterOrHeavier(mass, solids) => water_or_heavier(mass, solids),
            Reason::NotOnlyWater(mass, expected, gases) => not_only_water(mass, expected, gases),
            Reason::LowerHydrate(waters) => lower_hydrate(waters),
        }
    }
}

/// The reason that comes first if the hydrate must not be heated.
pub(super) fn do_not_heat(issued: &Formula) -> Note {
    let text = format!("Do not heat {issued}. It must not be heated in a school at all.");
    valued("do_not_heat", text, [("hydrate", format!("{issued}"))])
}

fn nothing_heated(mass: &Rounded) -> Note {
    let text = format!(
        "No weighing after heating is known yet. The container with the residue should weigh {mass} g."
    );
    valued(
        "nothing_heated",
        text,
        [("expected_last", format!("{mass}"))],
    )
}

fn lower_hydrate(waters: &Ratio) -> Note {
    let text = format!(
        "The last weighing is close to the mass with {waters} H2O left. Constant mass can be reached there, too."
    );
    valued("lower_hydrate", text, [("waters", format!("{waters}"))])
}

fn outside(heating: usize, [container, with_hydrate, weighing]: &[Reading; 3]) -> Note {
    let text = format!(
        "The weighing after heating {heating} ({weighing} g) is not between the empty container ({container} g) and \
         the container with the hydrate ({with_hydrate} g). Compare each reading with your notes."
    );
    let values = [
        ("heating", format!("{heating}")),
        ("weighing", format!("{weighing}")),
    ];
    valued("outside", text, values)
}

fn swapped([one, other]: &[NamedReading; 2]) -> Note {
    let text = format!(
        "The readings of {} and of {} make sense if they are exchanged.",
        one.words(),
        other.words()
    );
    let values = [("reading", one.path()), ("other", other.path())];
    valued("swapped", text, values)
}

fn reordered(readings: &[NamedReading; 3]) -> Note {
    let [container, with_hydrate, heated] = readings.map(|named| *named.reading());
    let text = format!(
        "The three readings make sense in another order: the empty container {container} g, with the hydrate \
         {with_hydrate} g, after heating {heated} g."
    );
    let [container, with_hydrate, heated] = readings.map(|named| named.path());
    let values = [
        ("crucible", container),
        ("crucible_hydrate", with_hydrate),
        ("heated[0]", heated),
    ];
    valued("reordered", text, values)
}

fn above_by_digits(readings: &[NamedReading]) -> Note {
    let (of, paths) = one_of(readings);
    let text = format!(
        "The last two weighings agree, but they are above the expected mass. One wrong digit in {of} explains this. \
         Compare each reading with your notes."
    );
    valued("above_by_digits", text, [("readings", paths)])
}

fn wrong_digit(below: &Rounded, readings: &[NamedReading], if_right: IfRight) -> Note {
    let (of, paths) = one_of(readings);
    let otherwise = if_right.sentence();
    let text = format!(
        "The last weighing is {below} g below the expected mass of the residue. One wrong digit in {of} explains \
         this. Compare each reading with your notes.{otherwise}"
    );
    let values = [("below", format!("{below}")), ("readings", paths)];
    valued("wrong_digit", text, values)
}

fn without_container(readings: &[NamedReading]) -> Note {
    let (names, paths) = names_and_paths(readings);
    let text = format!(
        "Only the solid may have been weighed, without the container: {names}. Then write the mass of the container \
         with it."
    );
    valued("without_container", text, [("readings", paths)])
}

/// The readings by their names for people, and by their paths.
fn names_and_paths(readings: &[NamedReading]) -> (String, String) {
    let paths: Vec<String> = readings.iter().map(NamedReading::path).collect();
    (
        list(readings.iter().map(NamedReading::words)),
        paths.join(", "),
    )
}

/// One reading, or one of several, by their names for people, and all by their paths.
fn one_of(readings: &[NamedReading]) -> (String, String) {
    let (names, paths) = names_and_paths(readings);
    match readings.len() {
        1 => (names, paths),
        _ => (format!("one of {names}"), paths),
    }
}

fn mistyped(reading: &NamedReading, meant: &Reading) -> Note {
    let text = format!(
        "There may be a typing error in {}. The readings make sense with {meant} g. Compare the reading with your \
         notes.",
        reading.words()
    );
    let values = [("reading", reading.path()), ("meant", format!("{meant}"))];
    valued("mistyped", text, values)
}

fn below_target([target, salt]: &[Formula; 2], can_go_on: bool) -> Note {
    let then = match can_go_on {
        true => format!(
            "If no solid was lost, do not start again: heat on until {salt} is left. Then work out the figures with \
             {salt} as the residue."
        ),
        false => "Ask your teacher before you throw the sample away.".into(),
    };
    let text = format!(
        "The mass is between those of {target} and {salt}. The residue may have begun to lose its own water. {then}"
    );
    let values = [("target", format!("{target}")), ("salt", format!("{salt}"))];
    valued("below_target", text, values)
}

fn gain_by_digits(reading: &NamedReading, meant: Option<&Reading>) -> Note {
    let Some(meant) = meant else {
        let text = format!(
            "One wrong digit in {} explains the gain. Compare the reading with your notes.",
            reading.words()
        );
        return valued("gain_by_digits", text, [("reading", reading.path())]);
    };
    let text = format!(
        "One exchange of two neighbouring digits explains the gain: {} would be {meant} g. Compare the \
         reading with your notes.",
        reading.words()
    );
    let values = [("reading", reading.path()), ("meant", format!("{meant}"))];
    valued("gain_by_digits", text, values)
}

fn fall_by_digits(reading: &NamedReading) -> Note {
    let text = format!(
        "The last weighing is as expected. One wrong digit in {} explains why the mass is not constant. Compare the \
         reading with your notes.",
        reading.words()
    );
    valued("fall_by_digits", text, [("reading", reading.path())])
}

fn beyond_target(tolerance: &Rounded, residues: &[Formula; 2]) -> Note {
    let [left, target] = residues;
    let text = format!(
        "Within {tolerance} g, the mass is that of {left}. This fits a salt that was heated beyond {target}. Then the \
         sample is not lost: its figures can be worked out with {left} as the residue."
    );
    let values = [
        ("tolerance", format!("{tolerance}")),
        ("residue", format!("{left}")),
        ("target", format!("{target}")),
    ];
    valued("beyond_target", text, values)
}

fn unreadable(column: &str, cell: &str) -> Note {
    let shown = visible(cell);
    let text = format!(
        "`{column}` is `{shown}`, which cannot be read as a mass. It does not count, and no weighing after it does."
    );
    let values = [("column", column.into()), ("cell", cell.into())];
    valued("unreadable", text, values)
}

fn too_light(code: &'static str, below: &Rounded, causes: &str) -> Note {
    let text =
        format!("The last weighing is {below} g below the expected mass of the residue. {causes}");
    valued(code, text, [("below", format!("{below}"))])
}

fn constant_and_expected(within: Option<&(Rounded, Rounded)>) -> Note {
    let Some((tolerance, loss)) = within else {
        return Note::new(
            "constant_and_expected",
            "The last two weighings agree, and the mass is that expected of the residue.",
        );
    };
    let text = format!(
        "The last two weighings agree. Within {tolerance} g, the mass is that expected of the residue. The whole \
         expected loss is only {loss} g. Take more of the hydrate if you repeat this."
    );
    let values = [
        ("expected_loss", format!("{loss}")),
        ("tolerance", format!("{tolerance}")),
    ];
    valued("constant_and_expected", text, values)
}

fn cannot_tell(tolerance: &Rounded, loss: &Rounded) -> Note {
    let text = format!(
        "The last two weighings agree. This balance and criterion cannot show less than {tolerance} g. The whole \
         expected loss is only {loss} g. Take more of the hydrate."
    );
    let values = [
        ("expected_loss", format!("{loss}")),
        ("tolerance", format!("{tolerance}")),
    ];
    valued("cannot_tell", text, values)
}

fn looks_alike(tolerance: &Rounded, residues: &[Formula; 2]) -> Note {
    let [expected, lower] = residues;
    let text = format!(
        "The last two weighings agree. Within {tolerance} g, the mass is that of {expected} and that of {lower}. \
         These readings cannot tell which is left."
    );
    let values = [
        ("tolerance", format!("{tolerance}")),
        ("residue", format!("{expected}")),
        ("hydrate", format!("{lower}")),
    ];
    valued("cannot_tell", text, values)
}

fn water_or_heavier(mass: &Rounded, [expected, heavier]: &[Formula; 2]) -> Note {
    let text = format!(
        "The solid is {mass} g heavier than {expected} would be. Either water is left, or the salt turned into \
         {heavier}. The mass cannot distinguish them. Ask your teacher before you heat again."
    );
    let values = [
        ("above", format!("{mass}")),
        ("expected", format!("{expected}")),
        ("residue", format!("{heavier}")),
    ];
    valued("water_or_heavier", text, values)
}

fn not_only_water(mass: &Rounded, expected: &Formula, gases: &'static str) -> Note {
    let names = list(gases.split(" + ").map(String::from));
    let text = format!(
        "The solid is {mass} g heavier than {expected} would be. {names} may leave with the water, so the mass does not \
         show how much water is left. Ask your teacher before you heat again."
    );
    let values = [
        ("above", format!("{mass}")),
        ("expected", format!("{expected}")),
        ("gases", gases.into()),
    ];
    valued("not_only_water", text, values)
}

fn not_constant(change: &Reading, criterion: &str) -> Note {
    let change = format!("{change}");
    let by = change.trim_start_matches('-');
    let text = format!(
        "The mass changed by {by} g in the last heating. Constant mass allows at most {criterion} g."
    );
    let values = [("last_change", change), ("criterion", criterion.into())];
    valued("not_constant", text, values)
}

fn slow_loss(mass: &Rounded) -> Note {
    let text = format!(
        "The last two weighings agree, but each heating takes only part of the water that is left. About {mass} g may \
         still leave. Heat longer this time."
    );
    valued("slow_loss", text, [("to_come", format!("{mass}"))])
}

fn valued<const N: usize>(
    code: &'static str,
    text: String,
    values: [(&'static str, String); N],
) -> Note {
    let note = Note::new(code, text);
    values
        .into_iter()
        .fold(note, |note, (name, value)| note.with(name, value))
}
