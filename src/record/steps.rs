//! Steps of a build, what follows what, and which sheets they take readings for.

use super::families::FamilyStep;
use super::{Connection, Error, Result, Writing};
use crate::engine::SheetKey;
use std::collections::BTreeMap;

/// How far a step is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StepState {
    Ahead,
    Begun,
    Signed,
    /// Done elsewhere, by whom.
    Elsewhere(String),
    NotOnJob,
}

impl StepState {
    /// The key kept in the record.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Ahead => "ahead",
            Self::Begun => "begun",
            Self::Signed => "signed",
            Self::Elsewhere(_) => "elsewhere",
            Self::NotOnJob => "not_on_job",
        }
    }

    /// Whether what follows may go ahead.
    pub fn is_done(&self) -> bool {
        matches!(self, Self::Signed | Self::Elsewhere(_) | Self::NotOnJob)
    }

    fn read(key: &str, by_whom: String) -> Option<Self> {
        Some(match key {
            "ahead" => Self::Ahead,
            "begun" => Self::Begun,
            "signed" => Self::Signed,
            "elsewhere" => Self::Elsewhere(by_whom),
            "not_on_job" => Self::NotOnJob,
            _ => return None,
        })
    }
}

/// A step as kept.
#[derive(Clone, Debug)]
pub struct Step {
    pub id: i64,
    pub build: i64,
    pub key: String,
    pub title: String,
    pub purpose: String,
    pub caution: String,
    pub state: StepState,
    /// Ids of the steps it follows.
    pub after: Vec<i64>,
    pub sheets: Vec<SheetKey>,
    pub act: i64,
}

/// The steps of one build in the order shown, or of every build that has not left the shop.
pub async fn of(db: &mut Connection, build: Option<i64>) -> Result<Vec<Step>> {
    of_builds(db, build, false).await
}

/// The steps of every build there ever was.
pub async fn ever(db: &mut Connection) -> Result<Vec<Step>> {
    of_builds(db, None, true).await
}

/// `left`: those of builds that have left the shop as well, where no build is named.
async fn of_builds(db: &mut Connection, build: Option<i64>, left: bool) -> Result<Vec<Step>> {
    let rows = sqlx::query!(
        r#"SELECT s.id AS "id!: i64", s.build, s.key, s.title, s.purpose, s.caution, s.state, s.by_whom, s.act
           FROM build b CROSS JOIN step s ON s.build = b.id
           WHERE (?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1 ORDER BY s.build, s.position"#,
        build,
        left
    )
    .fetch_all(&mut *db)
    .await?;
    let edges = sqlx::query!(
        r#"SELECT f.step, f.after FROM build b CROSS JOIN step s ON s.build = b.id CROSS JOIN step_after f ON f.step = s.id
           WHERE f.withdrawn IS NULL AND ((?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1)"#,
        build,
        left
    )
    .fetch_all(&mut *db)
    .await?;
    let sheets = sqlx::query!(
        r#"SELECT f.step, f.sheet FROM build b CROSS JOIN step s ON s.build = b.id CROSS JOIN step_sheet f ON f.step = s.id
           WHERE (?1 IS NULL AND (?2 OR b.closed IS NULL)) OR b.id = ?1"#,
        build,
        left
    )
    .fetch_all(&mut *db)
    .await?;
    let mut after: BTreeMap<i64, Vec<i64>> = BTreeMap::new();
    for edge in edges {
        after.entry(edge.step).or_default().push(edge.after);
    }
    let mut taken: BTreeMap<i64, Vec<SheetKey>> = BTreeMap::new();
    for row in sheets {
        taken.entry(row.step).or_default().extend(SheetKey::from_key(&row.sheet));
    }
    rows.into_iter()
        .map(|row| {
            let state = StepState::read(&row.state, row.by_whom)
                .ok_or_else(|| Error::corrupt("step", "state", row.id, "unknown word"))?;
            Ok(Step {
                after: after.remove(&row.id).unwrap_or_default(),
                sheets: taken.remove(&row.id).unwrap_or_default(),
                id: row.id,
                build: row.build,
                key: row.key,
                title: row.title,
                purpose: row.purpose,
                caution: row.caution,
                state,
                act: row.act,
            })
        })
        .collect()
}

/// Copies a list of steps to a build. A step names only steps before it.
pub async fn insert(w: &mut Writing, build: i64, steps: &[FamilyStep]) -> Result<()> {
    let act = w.act;
    let mut ids: BTreeMap<&str, i64> = BTreeMap::new();
    for (position, step) in (0_i64..).zip(steps) {
        let done = sqlx::query!(
            "INSERT INTO step (build, key, title, purpose, caution, position, state, by_whom, made, act)
             VALUES (?, ?, ?, ?, ?, ?, 'ahead', '', ?, ?)",
            build,
            step.key,
            step.title,
            step.purpose,
            step.caution,
            position,
            act,
            act
        )
        .execute(&mut **w)
        .await?;
        let id = done.last_insert_rowid();
        for after in step.after.iter().filter_map(|key| ids.get(key.as_str())) {
            sqlx::query!("INSERT INTO step_after (step, after, made) VALUES (?, ?, ?)", id, after, act)
                .execute(&mut **w)
                .await?;
        }
        for sheet in &step.sheets {
            sqlx::query!("INSERT INTO step_sheet (step, sheet, made) VALUES (?, ?, ?)", id, sheet, act)
                .execute(&mut **w)
                .await?;
        }
        ids.insert(&step.key, id);
    }
    Ok(())
}

pub async fn set_state(w: &mut Writing, step: i64, state: &StepState) -> Result<()> {
    let (act, key) = (w.act, state.key());
    let by_whom = if let StepState::Elsewhere(whom) = state { whom.as_str() } else { "" };
    sqlx::query!("UPDATE step SET state = ?, by_whom = ?, act = ? WHERE id = ?", key, by_whom, act, step)
        .execute(&mut **w)
        .await?;
    Ok(())
}

/// Says which steps a step follows, by their ids; what it followed and is not among them it follows no more.
pub async fn set_after(w: &mut Writing, step: &Step, after: &[i64]) -> Result<()> {
    let act = w.act;
    for gone in step.after.iter().filter(|before| !after.contains(before)) {
        sqlx::query!(
            "UPDATE step_after SET withdrawn = ?, act = ? WHERE step = ? AND after = ?",
            act,
            act,
            step.id,
            gone
        )
        .execute(&mut **w)
        .await?;
    }
    for new in after.iter().filter(|before| !step.after.contains(before)) {
        sqlx::query!(
            "INSERT INTO step_after (step, after, made) VALUES (?1, ?2, ?3)
             ON CONFLICT (step, after) DO UPDATE SET withdrawn = NULL, act = ?3",
            step.id,
            new,
            act
        )
        .execute(&mut **w)
        .await?;
    }
    sqlx::query!("UPDATE step SET act = ? WHERE id = ?", act, step.id).execute(&mut **w).await?;
    Ok(())
}
