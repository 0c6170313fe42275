//! An order as a spreadsheet that goes on counting: prices can be typed in, and
//! lines, contingency, tax and the sum follow. The same order makes the same
//! bytes.

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Formula, Workbook, Worksheet,
    XlsxError,
};

use super::sums::time;
use crate::job::Job;
use crate::money::Money;
use crate::order::{Needed, Order};
use crate::report::terms::share;

/// Where the columns are.
const GROUP: u16 = 0;
const ITEM: u16 = 1;
const NEEDED: u16 = 2;
const UNIT: u16 = 3;
const PACK: u16 = 4;
const ON_HAND: u16 = 5;
const BUY: u16 = 6;
const EACH: u16 = 7;
const TOGETHER: u16 = 8;

/// A workbook could not be made.
#[derive(Debug, thiserror::Error)]
#[error("no spreadsheet could be made: {0}")]
pub struct SpreadsheetError(#[from] XlsxError);

/// An amount as the number a spreadsheet holds; whole cents are kept to fifteen
/// digits, which is more than any order has.
fn number(money: Money) -> f64 {
    money.cents() as f64 / 100.0
}

/// How amounts are shown.
fn money_format(job: &Job) -> String {
    let sign = job.currency.replace('"', "");
    match sign.chars().any(char::is_alphanumeric) {
        true => format!("#,##0.00\" {sign}\""),
        false => format!("\"{sign}\"#,##0.00"),
    }
}

/// The order as an xlsx workbook.
///
/// # Errors
/// When it has more lines than a sheet has rows.
pub fn spreadsheet(job: &Job, order: &Order) -> Result<Vec<u8>, SpreadsheetError> {
    let mut workbook = Workbook::new();
    // A clock would make two files of one order differ.
    let fixed = ExcelDateTime::from_ymd(2000, 1, 1)?;
    let properties = DocProperties::new().set_title(&job.title);
    workbook.set_properties(&properties.set_creation_datetime(&fixed));
    let sheet = workbook.add_worksheet().set_name("Order")?;
    lines(job, order, sheet)?;
    if !order.deliveries.is_empty() {
        let sheet = workbook.add_worksheet().set_name("Deliveries")?;
        deliveries(job, order, sheet)?;
    }
    Ok(workbook.save_to_buffer()?)
}

fn lines(job: &Job, order: &Order, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let head = Format::new()
        .set_bold()
        .set_border_bottom(FormatBorder::Thin);
    let money = Format::new().set_num_format(money_format(job));
    // A line without a price yet is left empty, not free.
    let unless_nothing = Format::new().set_num_format(format!("{0};-{0};", money_format(job)));
    let strong = Format::new()
        .set_bold()
        .set_num_format(money_format(job))
        .set_border_top(FormatBorder::Thin);
    let wrapped = Format::new().set_text_wrap();
    let right = Format::new().set_align(FormatAlign::Right);
    let heads = [
        "group", "item", "needed", "unit", "pack", "on hand", "buy", "each", "together",
    ];
    for (column, name) in (0..).zip(heads) {
        sheet.write_with_format(0, column, name, &head)?;
    }
    for (column, width) in [(ITEM, 44), (NEEDED, 12), (EACH, 11), (TOGETHER, 13)] {
        sheet.set_column_width(column, width)?;
    }
    sheet.set_freeze_panes(1, 0)?;
    let mut row = 1;
    for line in &order.lines {
        sheet.write(row, GROUP, line.group.name())?;
        sheet.write_with_format(row, ITEM, &line.item, &wrapped)?;
        match line.needed {
            Needed::Count(count) => sheet.write(row, NEEDED, count as f64)?,
            Needed::Length(length) => {
                sheet.write_with_format(row, NEEDED, length.show(job.unit), &right)?
            }
            Needed::Volume(volume) => {
                sheet.write_with_format(row, NEEDED, volume.show(job.unit), &right)?
            }
        };
        sheet.write(row, UNIT, line.unit.name())?;
        match (line.unit.weight(), line.unit.pack()) {
            (Some(weight), _) => sheet.write_with_format(row, PACK, weight.sold(), &right)?,
            (None, Some(pieces)) => sheet.write(row, PACK, pieces)?,
            (None, None) => sheet,
        };
        if line.on_hand > 0 {
            sheet.write(row, ON_HAND, line.on_hand as f64)?;
        }
        sheet.write(row, BUY, line.count as f64)?;
        match line.price_each {
            Some(each) => sheet.write_with_format(row, EACH, number(each), &money)?,
            // A place to type the price in.
            None => sheet.write_blank(row, EACH, &money)?,
        };
        let excel = row + 1;
        let known = number(line.price.unwrap_or_default());
        let together = Formula::new(format!("=G{excel}*H{excel}")).set_result(known.to_string());
        sheet.write_formula_with_format(row, TOGETHER, together, &unless_nothing)?;
        row += 1;
    }
    // Rows are counted from 1 in formulas; the lines end on this one.
    let last = row;
    row += 1;
    let mut sum = |sheet: &mut Worksheet, name: &str, formula: String, value: Money| {
        let formula = Formula::new(formula).set_result(number(value).to_string());
        sheet.write(row, ITEM, name)?;
        sheet.write_formula_with_format(row, TOGETHER, formula, &strong)?;
        row += 1;
        Ok::<u32, XlsxError>(row)
    };
    let (rules, sums) = (&job.order, &order.sums);
    let goods = sum(sheet, "goods", format!("=SUM(I2:I{last})"), sums.goods)?;
    let ten_thousandths = |share: u32| format!("{share}/10000");
    let contingency = sum(
        sheet,
        &format!("contingency, {}", share(rules.contingency)),
        format!(
            "=ROUND(I{goods}*{},2)",
            ten_thousandths(rules.contingency.0)
        ),
        sums.contingency,
    )?;
    let delivery = sum(
        sheet,
        "delivery",
        format!("={}", sums.delivery.decimal()),
        sums.delivery,
    )?;
    let taxed = match rules.delivery_taxed {
        true => format!("I{goods}+I{contingency}+I{delivery}"),
        false => format!("I{goods}+I{contingency}"),
    };
    let tax = sum(
        sheet,
        &format!("tax, {}", share(rules.tax)),
        format!("=ROUND(({taxed})*{},2)", ten_thousandths(rules.tax.0)),
        sums.tax,
    )?;
    let worked = order.labour.map(|labour| time(labour.time));
    let labour = sum(
        sheet,
        &match worked {
            Some(time) => format!("labour, {time} of fastening"),
            None => "labour".to_owned(),
        },
        format!("={}", sums.labour.decimal()),
        sums.labour,
    )?;
    let all = format!("=I{goods}+I{contingency}+I{delivery}+I{tax}+I{labour}");
    sum(sheet, "all in", all, sums.all)?;
    Ok(())
}

fn deliveries(job: &Job, order: &Order, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let head = Format::new()
        .set_bold()
        .set_border_bottom(FormatBorder::Thin);
    let money = Format::new().set_num_format(money_format(job));
    for (column, name) in (0..).zip(["delivery", "when", "brings", "goods", "delivery costs"]) {
        sheet.write_with_format(0, column, name, &head)?;
        sheet.set_column_width(column, 20)?;
    }
    for (row, delivery) in (1..).zip(&order.deliveries) {
        let groups: Vec<&str> = delivery.groups.iter().map(|group| group.name()).collect();
        sheet.write(row, 0, &delivery.name)?;
        sheet.write(row, 1, delivery.when.as_deref().unwrap_or_default())?;
        sheet.write(row, 2, groups.join(", "))?;
        sheet.write_with_format(row, 3, number(delivery.goods), &money)?;
        sheet.write_with_format(row, 4, number(delivery.delivery), &money)?;
    }
    Ok(())
}
