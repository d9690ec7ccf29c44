//! What to charge, and why: hours, lines, tax, invoices, what was agreed, what is open.
//!
//! Amounts are whole minor units of the shop's one currency, percentages whole parts per million, hours whole quarters:
//! nothing here is a floating-point number. Each rounding is named where it happens, and stands in words on the paper.
//!
//! | file | what is in it |
//! |---|---|
//! | `money.rs`, `currency.rs` | an amount; how it is typed and shown |
//! | `percent.rs`, `rounding.rs`, `share.rs` | parts of an amount, rounded by rule, and shares that make up a sum |
//! | `read.rs` | the figures an office types |
//! | `hours.rs`, `time.rs`, `past_hours.rs` | quarter hours; what a day's acts propose; what earlier jobs took |
//! | `line.rs`, `tax.rs`, `discount.rs`, `total.rs` | what is charged, and what it comes to |
//! | `number.rs`, `invoice.rs`, `csv.rs` | what is issued, frozen and handed to the books |
//! | `quote.rs` | what was offered, agreed, changed, and what was done without being agreed |
//! | `payment.rs`, `glance.rs`, `settle.rs` | what came in, what is open, how a job ends |
//! | `odd.rs` | what is asked about, never refused |

pub mod csv;
pub mod currency;
pub mod discount;
pub mod glance;
pub mod hours;
pub mod invoice;
pub mod line;
pub mod money;
pub mod number;
pub mod odd;
pub mod past_hours;
pub mod payment;
pub mod percent;
pub mod quote;
pub mod read;
pub mod rounding;
pub mod settle;
mod share;
pub mod tax;
pub mod time;
pub mod total;
