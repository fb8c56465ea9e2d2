//! A class sheet: what a teacher collected, as CSV.

// Files in order; each uses only those before it:
//   limits           how large a sheet may be
//   cell_text        a cell as messages show it, a name as it is compared
//   remark           what is decided in reading
//   problem          what is wrong with a cell or a row
//   csv              bytes to rows of cells
//   csv_style        how a sheet separates its cells and writes its decimals
//   cell             what one cell says
//   columns          what a column means, by its header
//   suggestions      what a header in other words probably means
//   named_table      a table with its columns by name
//   header           which line is the header
//   layout           where each column is
//   extra_cells      the cells of a row in columns without a meaning
//   row_words        the names and words of a row
//   issued           a formula or the name of a hydrate
//   row              a row and what was reported in it
//   parse_row        cells to a row
//   summary_row      lines that sum up the class
//   stream           a sheet row by row
//   shared_readings  which row has the readings of each row's bench
//   balances         the readability of each balance
//   class_sheet      a whole sheet in memory
//   sheet_reader     a sheet from a file
//   entry            a sheet made in code

mod balances;
mod cell;
mod cell_text;
mod class_sheet;
mod columns;
mod csv;
mod csv_style;
mod entry;
mod extra_cells;
mod header;
mod issued;
mod layout;
mod limits;
mod named_table;
mod parse_row;
mod problem;
mod remark;
mod row;
mod row_words;
mod shared_readings;
mod sheet_reader;
mod stream;
mod suggestions;
mod summary_row;
#[cfg(test)]
mod tests;

pub use class_sheet::Sheet;
pub(super) use columns::normal;
pub(crate) use csv_style::CsvStyle;
pub(super) use csv_style::decimal_mark;
pub use entry::Entry;
pub(super) use issued::is_known_hydrate;
pub(crate) use named_table::{NamedRow, NamedTable};
pub use problem::Problem;
pub(super) use problem::ProblemKind;
pub(super) use row::UnreadableHeating;
pub use row::{Reported, ReportedValue, Row};
pub use sheet_reader::SheetReader;
pub use stream::RowStream;
