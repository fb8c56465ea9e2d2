//! Names of ionic salts and their hydrates, both ways.

// Files in order; each uses only those before it:
//   hydrate_name  the name of a salt or hydrate in two forms
//   numbers       numerical terms: di, tri, dodeca, bis, hemi
//   spelling      the word of the tables that is nearest to a misspelt one
//   salt          a salt as its ions with their counts
//   words         a name cut into words, numbers and signs
//   remark        what is noted while a name is read
//   reader        the text of a name with the remarks on it
//   anion_words   the words of an anion
//   cation_words  the words of a cation and of its charge
//   read_salt     the words of a salt
//   degree        the words of a degree of hydration
//   read          a name as a whole
//   ion_search    every way to take a formula apart into ions
//   write         a formula to its name

mod anion_words;
mod cation_words;
mod degree;
mod hydrate_name;
mod ion_search;
mod numbers;
mod read;
mod read_salt;
mod reader;
mod remark;
mod salt;
mod spelling;
#[cfg(test)]
mod tests;
mod words;
mod write;

pub use hydrate_name::HydrateName;
