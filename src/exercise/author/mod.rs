//! What an author gives: salts of a course's own, and templates of problems.

// Files in order; each uses only those before it:
//   own_salts  the salts of a course, from CSV

mod own_salts;

pub use own_salts::OwnSalts;
