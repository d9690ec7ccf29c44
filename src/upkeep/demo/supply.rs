//! What the office wrote up of parts and of work sent out: what came as promised and what did not, what is awaited, what was
//! changed after it was measured.

use super::diary::{Diary, Done, OFFICE, refused};
use super::premises::MARTA;
use crate::work::{ChangeForm, MoveForm, PartForm, SendingForm, SheetKey, SupplierForm};

const PISTONS: &str = "Hollin & Daughter";
const GRINDER: &str = "Grindle Crankshafts";
const MACHINE_SHOP: &str = "Ruddle Machine";
const COUNTER: &str = "Pennock Supply";

/// The engines that something is awaited for, or came for.
pub(super) struct Engines {
    pub six: i64,
    pub eight: i64,
    pub refresh: i64,
    pub flat_four: i64,
}

/// A part and what became of it, in days from today: ordered, promised for, received.
struct Bought {
    description: &'static str,
    maker: &'static str,
    part_number: &'static str,
    quantity: u32,
    from: &'static str,
    step: &'static str,
    each: (&'static str, &'static str),
    ordered: i32,
    promised: i32,
    received: Option<i32>,
}

#[rustfmt::skip]
const OF_THE_SIX: [Bought; 4] = [
    bought("Pistons with pins, 30 over", ("Hollin", "T246-30"), 6, PISTONS, "parts", ("41.50", "58.00"), (-46, -36, Some(-34))),
    bought("Main shells, 10 under, set", ("Wick", "MB-246-10"), 1, COUNTER, "short-block", ("64.20", "89.00"), (-40, -35, Some(-35))),
    bought("Rod shells, 10 under, set", ("Wick", "RB-246-10"), 1, COUNTER, "short-block", ("48.00", "67.00"), (-40, -35, Some(-29))),
    bought("Gasket set", ("Dunmore", "GS-246"), 1, COUNTER, "top-end", ("38.75", "55.00"), (-25, -20, Some(-20))),
];

#[rustfmt::skip]
const OF_THE_EIGHT: [Bought; 4] = [
    bought("Forged pistons, standard bore", ("Hollin", "CA8-F"), 8, PISTONS, "parts", ("96.00", "134.00"), (-24, 11, None)),
    bought("Main studs, longer thread", ("Northfell", "MS-CA8"), 10, COUNTER, "main-line", ("11.40", "16.00"), (-9, -4, Some(-3))),
    bought("Ring set, thin", ("Hollin", "CR-408"), 1, PISTONS, "bore", ("88.00", "123.00"), (-24, -3, None)),
    bought("Head bolts", ("Northfell", "HB-CA8"), 20, COUNTER, "top-end", ("3.10", "4.40"), (-14, -9, Some(-8))),
];

const OF_THE_REFRESH: [Bought; 1] =
    [bought("Exhaust valves", ("Wick", "EV-33"), 4, COUNTER, "top-end", ("21.00", "29.50"), (-13, -6, None))];

const fn bought(
    description: &'static str,
    (maker, part_number): (&'static str, &'static str),
    quantity: u32,
    from: &'static str,
    step: &'static str,
    each: (&'static str, &'static str),
    (ordered, promised, received): (i32, i32, Option<i32>),
) -> Bought {
    Bought { description, maker, part_number, quantity, from, step, each, ordered, promised, received }
}

pub(super) async fn is_written_up(diary: &mut Diary<'_>, engines: &Engines) -> Done<()> {
    diary.on(1, (9, 0), MARTA, OFFICE);
    for (name, phone, note, usual_days) in [
        (PISTONS, "555-0190", "Makes to order; Friday is posting day.", "40"),
        (GRINDER, "555-0151", "Grinds and hardens. Ask for the radii in writing.", "12"),
        (MACHINE_SHOP, "555-0127", "Line hone and balance. Studs go with the block.", "7"),
        (COUNTER, "555-0133", "Counter sale, next day before three.", "4"),
    ] {
        let (name, phone, note) = (name.to_owned(), phone.to_owned(), note.to_owned());
        let form = SupplierForm { name, phone, note, usual_days: usual_days.to_owned(), ..SupplierForm::default() };
        diary.deals_with(&form).await?;
    }
    let own = PartForm {
        description: "Cylinders and pistons, air-cooled".to_owned(),
        quantity: "4".to_owned(),
        whose: "customer".to_owned(),
        step: "parts".to_owned(),
        as_it_came: "used".to_owned(),
        note: "Her own, from a parts engine: at her risk.".to_owned(),
        ..PartForm::default()
    };
    diary.wants(engines.flat_four, &own).await?;
    for part in OF_THE_REFRESH {
        diary.buys(engines.refresh, &part).await?;
    }
    for part in OF_THE_EIGHT {
        diary.buys(engines.eight, &part).await?;
    }
    let studs = ChangeForm {
        change: "main-fastener".to_owned(),
        place: "main.2".to_owned(),
        words: "new studs in main 3, inserts renewed".to_owned(),
        ..ChangeForm::default()
    };
    diary.changes(engines.eight, &studs).await?;
    for part in OF_THE_SIX {
        diary.buys(engines.six, &part).await?;
    }
    let honed = ("Line honing", MACHINE_SHOP, SheetKey::MainBearings, "main-line", (-45, -38, -38), "150.00");
    diary.had_done(engines.six, honed).await?;
    let ground = ("Mains and rods ground 10 under", GRINDER, SheetKey::Crankshaft, "crank", (-46, -39, -35), "265.00");
    diary.had_done(engines.six, ground).await
}

/// Work sent out: what, to whom, measured on which sheet, which step waited; left, promised, back in days from today; what
/// it cost.
type SentOut = (&'static str, &'static str, SheetKey, &'static str, (i32, i32, i32), &'static str);

impl Diary<'_> {
    async fn deals_with(&mut self, form: &SupplierForm) -> Done<()> {
        let doing = self.next();
        self.shop.keep_supplier(&doing, None, form).await.map_err(refused(&form.name))
    }

    pub(super) async fn wants(&mut self, job: i64, form: &PartForm) -> Done<()> {
        let doing = self.next();
        self.shop.add_part(&doing, job, form).await.map_err(refused(&form.description))
    }

    async fn supplier(&mut self, name: &str) -> Done<String> {
        let doing = self.next();
        let all = self.shop.suppliers(doing.at).await.map_err(refused(name))?;
        Ok(all.into_iter().find(|one| one.name == name).map(|one| one.id).unwrap_or_default())
    }

    async fn buys(&mut self, job: i64, part: &Bought) -> Done<()> {
        let form = PartForm {
            description: part.description.to_owned(),
            maker: part.maker.to_owned(),
            part_number: part.part_number.to_owned(),
            quantity: part.quantity.to_string(),
            supplier: self.supplier(part.from).await?,
            step: part.step.to_owned(),
            cost: part.each.0.to_owned(),
            price: part.each.1.to_owned(),
            ..PartForm::default()
        };
        self.wants(job, &form).await?;
        let at = self.next().at;
        let view = self.shop.parts(job, at).await.map_err(refused(part.description))?;
        let mut rows = view.groups.into_iter().flat_map(|(_, rows)| rows);
        let Some(row) = rows.find(|row| row.description == part.description) else { return Ok(()) };
        let of = |kind: &str, day: String, due: String| MoveForm {
            kind: kind.to_owned(),
            quantity: part.quantity.to_string(),
            day,
            due,
            ..MoveForm::default()
        };
        let ordered = of("ordered", self.day_from_now(part.ordered), self.day_from_now(part.promised));
        let received = part.received.map(|day| of("received", self.day_from_now(day), String::new()));
        for form in std::iter::once(ordered).chain(received) {
            let doing = self.next();
            self.shop.move_part(&doing, job, &row.public_id, &form).await.map_err(refused(part.description))?;
        }
        Ok(())
    }

    async fn changes(&mut self, job: i64, form: &ChangeForm) -> Done<()> {
        let doing = self.next();
        self.shop.note_change(&doing, job, form).await.map_err(refused(&form.words))
    }

    async fn had_done(&mut self, job: i64, (what, by, sheet, step, (sent, due, back), cost): SentOut) -> Done<()> {
        let form = SendingForm {
            what: what.to_owned(),
            supplier: self.supplier(by).await?,
            sheet: sheet.key().to_owned(),
            step: step.to_owned(),
            sent: self.day_from_now(sent),
            due: self.day_from_now(due),
            back: self.day_from_now(back),
            cost: cost.to_owned(),
            ..SendingForm::default()
        };
        let doing = self.next();
        self.shop.add_sending(&doing, job, &form).await.map_err(refused(what))
    }
}
