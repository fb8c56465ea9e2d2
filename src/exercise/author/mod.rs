//! What an author gives: salts of a course's own, and templates of problems.

// Files in order; each uses only those before it:
//   author_text      texts for pupils
//   own_salts        the salts of a course, from CSV
//   template_text    texts with placeholders
//   own_quantity     the quantities of a template, and their values
//   expression       the arithmetic of a template
//   template         a template of problems
//   template_units   the units that fields of requests and results have
//   template_names   the names that a template defines
//   template_values  the quantities of a template, from TOML
//   from_toml        a template, from TOML
//   read             how an author writes a template

mod author_text;
mod expression;
mod from_toml;
mod own_quantity;
mod own_salts;
mod read;
mod template;
mod template_names;
mod template_text;
mod template_units;
mod template_values;

pub(super) use expression::{Evaluation, StepResult};
pub(super) use own_quantity::{DrawnValue, DrawnValues, OwnQuantity, OwnValues};
pub use own_salts::OwnSalts;
pub use template::Template;
pub(super) use template::{OwnField, OwnRequest, OwnWrongValue};
pub(super) use template_text::{Placeholder, TemplateText};
