//! What the tests of plans and waiting do alike: parts written down and ordered, steps signed.

use crate::setting::Bench;
use witnessmark::work::{MoveForm, PartForm, SendingForm, WaitForm};

impl Bench {
    /// Writes down a part that a step needs.
    pub async fn part(&self, job: i64, what: &str, step: &str) -> String {
        let form = PartForm {
            description: what.into(),
            quantity: "1".into(),
            whose: "shop".into(),
            origin: "bought".into(),
            as_it_came: "new".into(),
            step: step.into(),
            ..PartForm::default()
        };
        self.shop.add_part(&self.doing(), job, &form).await.expect("a part");
        let parts = self.shop.parts(job, self.now()).await.expect("parts");
        let mut rows = parts.groups.into_iter().flat_map(|(_, rows)| rows);
        rows.find(|row| row.description == what).expect("the part").public_id
    }

    /// Something becomes of one of a part on a day; promised for another where one is named.
    pub async fn moved(&self, job: i64, part: &str, kind: &str, day: &str, due: &str) {
        let form = MoveForm {
            kind: kind.into(),
            quantity: "1".into(),
            day: day.into(),
            due: due.into(),
            ..MoveForm::default()
        };
        self.shop.move_part(&self.doing(), job, part, &form).await.expect("a move");
    }

    /// Work that a step waits for goes out on a day.
    pub async fn sent_out(&self, job: i64, what: &str, step: &str, sent: &str, due: &str) {
        let form = SendingForm {
            what: what.into(),
            step: step.into(),
            sheet: "main-bearings".into(),
            sent: sent.into(),
            due: due.into(),
            ..SendingForm::default()
        };
        self.shop.add_sending(&self.doing(), job, &form).await.expect("sent out");
    }

    /// A step, or the whole job where none is named, waits.
    pub async fn waits(&self, job: i64, step: &str, why: &str, words: &str, expected: &str) {
        let form = WaitForm {
            step: step.into(),
            why: why.into(),
            words: words.into(),
            since: String::new(),
            expected: expected.into(),
        };
        self.shop.begin_waiting(&self.doing(), job, &form).await.expect("it waits");
    }

    /// Signs steps, one after another.
    pub async fn sign(&self, job: i64, steps: &[&str]) {
        for step in steps {
            self.shop.sign_step(&self.doing(), job, step, None, "").await.expect("signed");
        }
    }
}
