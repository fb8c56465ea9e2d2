//! `read_sheet`: a class sheet as CSV, with its answers marked.

use effloresce::class::Sheet;

use crate::json::{Json, Object};
use crate::marking::{Class, MARKING, Marking};
use crate::options;
use crate::reply::{Failure, Reply};

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    Ok(read(request)?.reply())
}

pub(crate) fn read(request: &Object<'_>) -> Result<Class, Failure> {
    request.only(&[&["text"], &MARKING, &options::METHOD, &options::ENVELOPE])?;
    let marking = Marking::read(request)?;
    let text = request.required("text", Json::text)?;
    let sheet =
        Sheet::read(text.as_bytes()).map_err(|error| Failure::from(error).within("text"))?;
    Ok(marking.class(sheet))
}
