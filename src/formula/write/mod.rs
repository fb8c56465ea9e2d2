//! A formula as text, one form a file. Every formula that the parser accepts is written. Only the
//! writer that takes the text can refuse it.

// Files in order; each uses only those before it:
//   pieces   counts and charges as text
//   line     forms that stand in one line
//   plain    the canonical plain text
//   display  a formula is shown as its canonical text
//   unicode  subscripts, superscripts and vulgar fractions
//   html     a fragment of HTML
//   latex    the maths mode of LaTeX
//   mhchem   LaTeX's package mhchem
//   spoken   the words of a screen reader
//   mathml   presentation MathML
//   hill     a composition in Hill order

mod display;
mod hill;
mod html;
mod latex;
mod line;
mod mathml;
mod mhchem;
mod pieces;
mod plain;
mod spoken;
#[cfg(test)]
mod tests;
mod unicode;

pub(crate) use plain::plain_part;
