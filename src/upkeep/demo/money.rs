//! What the office quoted, agreed, charged and was paid: one job settled long ago, one invoiced and paid in part, one that waits
//! for a deposit and for an answer.

use super::diary::{Diary, Done, NotLaidOut, OFFICE, refused};
use super::premises::{IKE, JUN, MARTA};
use crate::work::{
    AgreedChangeForm, AnswerForm, EndingForm, GoneForm, InvoiceForm, LineForm, MoneyForm, PaymentForm, QuoteLineForm,
    SettleForm, TaxForm, TermsForm, TimeForm,
};

/// A line of a quote: its step, what is offered, its hours or what it comes to.
type Offered = (&'static str, &'static str, &'static str, &'static str);
/// Time worked: at which step, by whom, how many hours, how many days ago, and whether it is charged.
type WorkedOn = (&'static str, &'static str, &'static str, i32, &'static str);

const OF_THE_FIRST: [Offered; 4] = [
    ("tear-down", "", "4", ""),
    ("bore", "Bores trued, pistons fitted", "7", ""),
    ("short-block", "", "9", ""),
    ("top-end", "", "6.5", ""),
];
const WORKED_ON_THE_FIRST: [WorkedOn; 4] = [
    ("tear-down", JUN, "4.5", 415, ""),
    ("bore", IKE, "6.5", 412, ""),
    ("short-block", JUN, "9.75", 400, ""),
    ("top-end", JUN, "6.5", 396, ""),
];

const OF_THE_REFRESH: [Offered; 4] = [
    ("tear-down", "", "2.5", ""),
    ("bore", "Bores broken for new rings", "2", ""),
    ("short-block", "", "3", ""),
    ("top-end", "Valves lapped, guides bushed", "5", ""),
];
const WORKED_ON_THE_REFRESH: [WorkedOn; 3] =
    [("tear-down", IKE, "3", 15, ""), ("bore", IKE, "1.75", 8, ""), ("short-block", JUN, "3.5", 6, "")];

const OF_THE_SIX: [Offered; 10] = [
    ("tear-down", "", "3", ""),
    ("main-line", "Line honing", "", "170.00"),
    ("crank", "Mains and rods ground 10 under", "", "300.00"),
    ("bore", "Bored and honed 30 over", "6.5", ""),
    ("parts", "Pistons, 30 over", "", "360.00"),
    ("short-block", "", "7", ""),
    ("short-block", "Bearing shells", "", "160.00"),
    ("top-end", "", "5.5", ""),
    ("top-end", "Gasket set", "", "60.00"),
    ("run-in", "", "2", ""),
];
const WORKED_ON_THE_SIX: [WorkedOn; 6] = [
    ("tear-down", JUN, "3.25", 48, ""),
    ("bore", IKE, "7", 30, ""),
    ("short-block", JUN, "7.5", 11, ""),
    ("top-end", JUN, "5.25", 9, ""),
    ("top-end", JUN, "0.5", 8, "own-error"),
    ("run-in", MARTA, "2", 4, ""),
];

const OF_THE_EIGHT: [Offered; 5] = [
    ("tear-down", "", "5", ""),
    ("bore", "Honed to size, plate on", "8", ""),
    ("parts", "Forged pistons and rings", "", "1 200.00"),
    ("short-block", "", "10", ""),
    ("top-end", "", "9", ""),
];
const WORKED_ON_THE_EIGHT: [WorkedOn; 2] = [("tear-down", JUN, "6", 40, ""), ("bore", IKE, "3.5", 25, "")];

/// Dollars, an hour at 95, what is taxed and what is not.
pub(super) async fn says_how_it_charges(diary: &mut Diary<'_>) -> Done<()> {
    let form = MoneyForm {
        currency: "USD".to_owned(),
        labour_rate: "95".to_owned(),
        mark_up_parts: "25".to_owned(),
        mark_up_sent_out: "10".to_owned(),
        prices: "before-tax".to_owned(),
        rounding: "half-away-from-zero".to_owned(),
        tax_rounding: "total-per-rate".to_owned(),
        numbering: "by-year".to_owned(),
        pay_within: "14".to_owned(),
        storage_week: "15".to_owned(),
        storage_free_days: "14".to_owned(),
        disposal: "60".to_owned(),
        sure: false,
    };
    let doing = diary.next();
    diary.shop.change_money_settings(&doing, 0, &form).await.map_err(refused("settings for money"))?;
    for (name, title, rate, reason, usual_for) in [
        ("goods", "Sales tax", "7.25", "", &["part", "supplies", "core-deposit", "core-returned", "other"][..]),
        ("work", "No tax", "0", "Work on the customer's own engine is not taxed", &["labour", "sent-out", "storage"]),
    ] {
        let form = TaxForm {
            name: name.to_owned(),
            title: title.to_owned(),
            rate: rate.to_owned(),
            reason: reason.to_owned(),
            usual_for: usual_for.iter().map(|&kind| kind.to_owned()).collect(),
            sure: false,
        };
        let doing = diary.next();
        diary.shop.keep_tax(&doing, None, &form).await.map_err(refused(name))?;
    }
    Ok(())
}

pub(super) async fn first_is_quoted(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.quotes(job, &OF_THE_FIRST, TermsForm::default()).await?;
    diary.is_answered(job, "signed", "Go ahead, and take your time.").await
}

/// Invoiced, paid and handed over: nothing is left open.
pub(super) async fn first_is_settled(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.worked(job, &WORKED_ON_THE_FIRST).await?;
    diary.charges(job, &[]).await?;
    diary.invoices(job).await?;
    let doing = diary.next();
    let owed = diary.shop.settle_view(job, "", doing.at).await.map_err(refused("what is owed"))?.to_pay;
    diary.is_paid(job, "on-invoice", &owed.unwrap_or_default(), "cheque 1044").await?;
    let doing = diary.next();
    let view = diary.shop.ending(job, doing.at).await.map_err(refused("ending"))?;
    let (kind, day) = ("handed_over".to_owned(), view.today.clone());
    let ending = EndingForm { saw: view.saw, kind, day: day.clone(), ..EndingForm::default() };
    diary.shop.end_job(&doing, job, &ending).await.map_err(refused("handing over"))?;
    let doing = diary.next();
    let view = diary.shop.settle_view(job, "", doing.at).await.map_err(refused("what goes"))?;
    let things = view.goes.into_iter().map(|row| row.key).collect();
    let gone = GoneForm { things, day: day.clone(), words: "fetched by Ines and her uncle".to_owned() };
    diary.shop.note_gone(&doing, job, &gone).await.map_err(refused("things gone"))?;
    let doing = diary.next();
    let saw = diary.shop.settle_view(job, "", doing.at).await.map_err(refused("figures"))?.saw;
    let settled = SettleForm { saw, day, ..SettleForm::default() };
    diary.shop.settle_job(&doing, job, &settled).await.map_err(refused("settling"))
}

pub(super) async fn refresh_is_quoted(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.quotes(job, &OF_THE_REFRESH, TermsForm::default()).await?;
    diary.is_answered(job, "phone", "Nothing more than it needs, then.").await
}

pub(super) async fn refresh_is_worked(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.worked(job, &WORKED_ON_THE_REFRESH).await
}

/// Agreed by phone, with a deposit.
pub(super) async fn six_is_quoted(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    let terms = TermsForm {
        exclusions: "Cracks in the head\nAnything in front of the block".to_owned(),
        without_calling: "200".to_owned(),
        storage_week: String::new(),
    };
    diary.quotes(job, &OF_THE_SIX, terms).await?;
    diary.is_answered(job, "phone", "Yes to all of it. Call me above that.").await?;
    diary.asks_deposit(job, "500", "comes back if she cancels before the pistons are ordered").await?;
    diary.is_paid(job, "deposit-refundable", "500", "bank transfer").await
}

/// A change that nobody could have known, agreed by phone.
pub(super) async fn six_is_changed(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.hands_over(MARTA, OFFICE);
    let change = AgreedChangeForm {
        text: "Cut the deck 4 thou".to_owned(),
        why: "The deck is hollow between cylinders 3 and 4, where the old gasket leaked.".to_owned(),
        price: "95".to_owned(),
        days: "1".to_owned(),
        less: false,
    };
    let id = diary.proposes(job, &change).await?;
    diary.change_is_answered(job, id, "sent", "").await?;
    diary.change_is_answered(job, id, "agreed", "If it has to be, do it.").await
}

/// Everything on its list, one invoice, a part of it paid; a core still to come.
pub(super) async fn six_is_invoiced(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.worked(job, &WORKED_ON_THE_SIX).await?;
    let line = |kind: &str, text: &str, each: &str| LineForm {
        kind: kind.to_owned(),
        text: text.to_owned(),
        how_many: "1".to_owned(),
        each: each.to_owned(),
        ..LineForm::default()
    };
    let doing = diary.next();
    let changes = diary.shop.quote(job, doing.at).await.map_err(refused("changes"))?.changes;
    let under = changes.first().map(|change| format!("change-{}", change.id)).unwrap_or_default();
    let deck = LineForm { under, ..line("other", "Deck cut 4 thou", "95.00") };
    let by_hand = [
        deck,
        line("supplies", "Oil, cleaner, sealant", "28.50"),
        line("core-deposit", "Water pump, exchange", "40.00"),
    ];
    diary.charges(job, &by_hand).await?;
    diary.invoices(job).await?;
    diary.is_paid(job, "on-invoice", "1 500.00", "bank transfer").await
}

/// Agreed and begun; the deposit has not come.
pub(super) async fn eight_is_quoted(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.hands_over(MARTA, OFFICE);
    let terms = TermsForm { without_calling: "200".to_owned(), ..TermsForm::default() };
    diary.quotes(job, &OF_THE_EIGHT, terms).await?;
    diary.is_answered(job, "in-person", "Build it to last a season.").await?;
    diary.asks_deposit(job, "1 000", "before the pistons are made").await
}

/// A change that waits for his answer.
pub(super) async fn eight_waits(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.hands_over(MARTA, OFFICE);
    diary.worked(job, &WORKED_ON_THE_EIGHT).await?;
    let change = AgreedChangeForm {
        text: "Line hone, and inserts in main 3".to_owned(),
        why: "A stud pulled its thread out at main 3.".to_owned(),
        price: "260".to_owned(),
        days: "4".to_owned(),
        less: false,
    };
    let id = diary.proposes(job, &change).await?;
    diary.change_is_answered(job, id, "sent", "").await
}

impl Diary<'_> {
    async fn quotes(&mut self, job: i64, lines: &[Offered], terms: TermsForm) -> Done<()> {
        for (step, text, hours, amount) in lines {
            let [step, text, hours, amount] = [step, text, hours, amount].map(|text| (*text).to_owned());
            let doing = self.next();
            let form = QuoteLineForm { step, text, hours, amount };
            self.shop.keep_quote_line(&doing, job, None, &form).await.map_err(refused("quote"))?;
        }
        let doing = self.next();
        self.shop.keep_quote_terms(&doing, job, 0, &terms).await.map_err(refused("terms of a quote"))
    }

    /// Sent, and agreed to the same day.
    async fn is_answered(&mut self, job: i64, how: &str, words: &str) -> Done<()> {
        for form in [answer("sent", "", ""), answer("agreed", how, words)] {
            let doing = self.next();
            self.shop.answer_quote(&doing, job, &form).await.map_err(refused("answer to a quote"))?;
        }
        Ok(())
    }

    async fn proposes(&mut self, job: i64, form: &AgreedChangeForm) -> Done<i64> {
        let doing = self.next();
        self.shop.propose_change(&doing, job, form).await.map_err(refused(&form.text))?;
        let quote = self.shop.quote(job, doing.at).await.map_err(refused(&form.text))?;
        let change = quote.changes.last().map(|change| change.id);
        change.ok_or_else(|| NotLaidOut::Missing { what: form.text.clone() })
    }

    async fn change_is_answered(&mut self, job: i64, change: i64, kind: &str, words: &str) -> Done<()> {
        let doing = self.next();
        let form = answer(kind, if words.is_empty() { "" } else { "phone" }, words);
        self.shop.answer_change(&doing, job, change, &form).await.map_err(refused("answer to a change"))
    }

    async fn worked(&mut self, job: i64, all: &[WorkedOn]) -> Done<()> {
        for (step, who, hours, days_ago, charged) in all {
            let doing = self.next();
            let form = TimeForm {
                person: self.hands.get(who).cloned().unwrap_or_default(),
                step: (*step).to_owned(),
                day: self.day_from_now(-days_ago),
                hours: (*hours).to_owned(),
                charged: (*charged).to_owned(),
                ..TimeForm::default()
            };
            self.shop.keep_time(&doing, job, &form).await.map_err(refused(format!("time at {step}")))?;
        }
        Ok(())
    }

    /// Puts all that was done or bought on the list, and lines by hand.
    async fn charges(&mut self, job: i64, by_hand: &[LineForm]) -> Done<()> {
        let doing = self.next();
        self.shop.list_charges(&doing, job).await.map_err(refused("charges"))?;
        for line in by_hand {
            let doing = self.next();
            self.shop.add_charge(&doing, job, line).await.map_err(refused(&line.text))?;
        }
        Ok(())
    }

    async fn invoices(&mut self, job: i64) -> Done<()> {
        let doing = self.next();
        let lines = self.shop.draw_up(job, doing.at).await.map_err(refused("lines of an invoice"))?.lines;
        let lines = lines.iter().map(|row| row.id).collect();
        let form = InvoiceForm { lines, sure: true, ..InvoiceForm::default() };
        self.shop.issue_invoice(&doing, job, &form).await.map(|_| ()).map_err(refused("invoice"))
    }

    async fn asks_deposit(&mut self, job: i64, amount: &str, words: &str) -> Done<()> {
        let doing = self.next();
        let form = PaymentForm { amount: amount.to_owned(), words: words.to_owned(), ..PaymentForm::default() };
        self.shop.ask_deposit(&doing, job, &form).await.map_err(refused("deposit"))
    }

    async fn is_paid(&mut self, job: i64, kind: &str, amount: &str, words: &str) -> Done<()> {
        let doing = self.next();
        let (kind, amount, words) = (kind.to_owned(), amount.to_owned(), words.to_owned());
        let form = PaymentForm { kind, amount, words, ..PaymentForm::default() };
        self.shop.keep_payment(&doing, job, &form).await.map_err(refused("payment"))
    }
}

fn answer(kind: &str, how: &str, words: &str) -> AnswerForm {
    let [kind, how, words] = [kind, how, words].map(str::to_owned);
    AnswerForm { kind, how, words, ..AnswerForm::default() }
}
