//! Questions about whole sets that somebody has answered: those are not asked again.

use super::{Connection, Result, Stamp, Writing};

/// What was answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAnswer {
    pub round: i64,
    /// What was asked of which set.
    pub doubt: String,
}

pub async fn of_build(db: &mut Connection, build: i64) -> Result<Vec<SetAnswer>> {
    Ok(sqlx::query_as!(SetAnswer, "SELECT round, doubt FROM set_answer WHERE build = ? ORDER BY id", build)
        .fetch_all(db)
        .await?)
}

/// The answers of a build with the question as it was asked, and who answered when.
pub async fn said_of(db: &mut Connection, build: i64) -> Result<Vec<(SetAnswer, String, Stamp)>> {
    let rows = sqlx::query!(
        r#"SELECT s.round, s.doubt, s.question, a.at, p.name AS "by?: String"
           FROM set_answer s JOIN act a ON a.id = s.made LEFT JOIN person p ON p.id = a.person
           WHERE s.build = ? ORDER BY s.id"#,
        build
    )
    .fetch_all(db)
    .await?;
    rows.into_iter()
        .map(|row| {
            let answer = SetAnswer { round: row.round, doubt: row.doubt };
            Ok((answer, row.question, Stamp::of(row.by, &row.at)?))
        })
        .collect()
}

/// Keeps that a question was answered, in the words in which it was asked.
pub async fn insert(w: &mut Writing, build: i64, answer: &SetAnswer, question: &str) -> Result<()> {
    let act = w.act;
    sqlx::query!(
        "INSERT INTO set_answer (build, round, doubt, question, made) VALUES (?, ?, ?, ?, ?)",
        build,
        answer.round,
        answer.doubt,
        question,
        act
    )
    .execute(&mut **w)
    .await?;
    Ok(())
}
