//! Problems drawn from templates, and templates checked.

// Files in order; each uses only those before it:
//   draft     a problem drawn from a template, before it is proved
//   check     what is wrong with a template

mod check;
mod draft;
