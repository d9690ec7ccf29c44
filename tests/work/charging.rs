//! A shop that has said how it charges, and what a refused form says.

use crate::setting::Bench;
use witnessmark::work::{MoneyForm, Refused, TaxForm};

/// What a refused form says, field by field.
pub fn faults<T: std::fmt::Debug>(done: Result<T, Refused>) -> Vec<(String, String)> {
    match done {
        Err(Refused::Faults(faults)) => faults.into_iter().map(|fault| (fault.field, fault.message)).collect(),
        other => panic!("{other:?}"),
    }
}

#[track_caller]
pub fn says(faults: &[(String, String)], field: &str, words: &str) {
    assert!(faults.iter().any(|(of, said)| of == field && said.contains(words)), "{field}: {words}: {faults:?}");
}

/// 19 % on everything, 80 an hour, a quarter on top of parts and a tenth on work sent out, in euros; a week of storage 12, four
/// days of it free, disposal 35.
pub async fn charging(bench: &Bench) {
    let form = MoneyForm {
        currency: "EUR".into(),
        labour_rate: "80".into(),
        mark_up_parts: "25".into(),
        mark_up_sent_out: "10".into(),
        prices: "before-tax".into(),
        rounding: "half-away-from-zero".into(),
        tax_rounding: "total-per-rate".into(),
        numbering: "by-year".into(),
        pay_within: "14".into(),
        storage_week: "12".into(),
        storage_free_days: "4".into(),
        disposal: "35".into(),
        sure: false,
    };
    bench.shop.change_money_settings(&bench.doing(), 0, &form).await.unwrap();
    let tax = TaxForm {
        name: "standard".into(),
        title: "Sales tax".into(),
        rate: "19".into(),
        usual_for: vec!["labour".into(), "part".into(), "sent-out".into()],
        ..TaxForm::default()
    };
    bench.shop.keep_tax(&bench.doing(), None, &tax).await.unwrap();
}
