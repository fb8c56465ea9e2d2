//! Gravimetric factors: from the mass of the form that is weighed to that of the substance sought.

// Files in order; each uses only those before it:
//   link                how many of the substance sought belong to one of the form weighed
//   gravimetric_factor  the factor with its uncertainty
//   content             the mass and the percentage of the substance sought
//   serde               both in the shape of the JSON-lines contract

mod content;
mod gravimetric_factor;
mod link;
#[cfg(feature = "serde")]
mod serde;
#[cfg(test)]
mod tests;

pub use content::Content;
pub use gravimetric_factor::GravimetricFactor;
