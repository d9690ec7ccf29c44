//! The shop's PIN, and the tablets that have entered it.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use super::shop_settings::zone;
use super::when::When;
use crate::record::{self, settings, tablets};
use argon2::{Argon2, PasswordHasher, PasswordVerifier};
use jiff::Timestamp;
use std::collections::HashMap;

/// A tablet that is let in.
#[derive(Clone, Debug)]
pub struct TabletView {
    pub id: i64,
    pub name: String,
    /// When it entered the PIN, and whose name was tapped on it then.
    pub let_in: String,
    /// When it last asked for something; none since the start.
    pub seen: Option<String>,
}

/// What is wrong with a PIN to be, as what to enter instead. Guessing is slowed down, so that four digits are enough, but
/// not those that everybody tries first.
pub fn pin_fault(pin: &str) -> Option<&'static str> {
    let digits = pin.as_bytes();
    if !(4..=12).contains(&digits.len()) || !digits.iter().all(u8::is_ascii_digit) {
        return Some("enter 4 to 12 digits");
    }
    let all_step_by = |step: i16| digits.windows(2).all(|two| i16::from(two[1]) - i16::from(two[0]) == step);
    if all_step_by(0) {
        return Some("enter digits that are not all the same");
    }
    (all_step_by(1) || all_step_by(-1)).then_some("enter digits that do not just count up or down")
}

impl Shop {
    /// # Errors
    /// Where the record cannot be read.
    pub async fn has_pin(&self) -> Done<bool> {
        Ok(tablets::pin_hash(&mut *self.record.look().await?).await?.is_some())
    }

    /// Sets the PIN, in place of the one before; tablets that are in stay in.
    ///
    /// # Errors
    /// [`Refused::Faults`] where it is no PIN to have, see [`pin_fault`].
    pub async fn set_pin(&self, doing: &Doing, pin: &str) -> Done<()> {
        if let Some(fault) = pin_fault(pin) {
            return Err(Refused::fault("pin", fault));
        }
        let pin = pin.to_owned();
        let hash = apart(move || Argon2::default().hash_password(pin.as_bytes()).map(|hash| hash.to_string())).await?;
        let hash = hash.map_err(cannot_hash)?;
        let Some(mut w) = self.begin(doing, "set pin", None).await? else { return Ok(()) };
        tablets::put_pin_hash(&mut w, &hash).await?;
        Ok(w.commit().await?)
    }

    /// Whether this is the PIN; never where none is set.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn is_pin(&self, typed: &str) -> Done<bool> {
        let kept = tablets::pin_hash(&mut *self.record.look().await?).await?;
        let Some(hash) = kept else { return Ok(false) };
        let typed = typed.to_owned();
        match apart(move || Argon2::default().verify_password(typed.as_bytes(), hash.as_str())).await? {
            Ok(()) => Ok(true),
            Err(argon2::password_hash::Error::PasswordInvalid) => Ok(false),
            Err(why) => Err(cannot_hash(why)),
        }
    }

    /// Lets the device of this visit in, by the digest of its session's token. Without a name it is called by its number.
    ///
    /// # Errors
    /// [`Refused::Faults`] where the name is too long.
    pub async fn let_tablet_in(&self, doing: &Doing, name: &str, session: &str) -> Done<()> {
        let name = name.trim();
        if let Some(fault) = FieldFault::too_long("name", name, 40) {
            return Err(Refused::Faults(vec![fault]));
        }
        let Some(mut w) = self.begin(doing, "let tablet in", None).await? else { return Ok(()) };
        let name = match name {
            "" => format!("Tablet {}", tablets::count(&mut w).await? + 1),
            name => name.to_owned(),
        };
        tablets::insert(&mut w, &name, &doing.device, session).await?;
        Ok(w.commit().await?)
    }

    /// The tablet that came in by a session on this device, if it may still.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn tablet_let_in(&self, session: &str, device: &str) -> Done<Option<i64>> {
        Ok(tablets::by_session(&mut *self.record.look().await?, session, device).await?)
    }

    /// The tablets that may come in; `seen` says when each last did.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn tablets(&self, seen: &HashMap<i64, Timestamp>, now: Timestamp) -> Done<Vec<TabletView>> {
        let mut look = self.record.look().await?;
        let when = When::new(&zone(&settings::all(&mut look).await?), now);
        let standing = tablets::standing(&mut look).await?.into_iter();
        Ok(standing
            .map(|tablet| TabletView {
                id: tablet.id,
                let_in: when.stamp(&tablet.stamp),
                seen: seen.get(&tablet.id).map(|at| when.at(*at)),
                name: tablet.name,
            })
            .collect())
    }

    /// One tablet has to enter the PIN again, or all have.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where the one is not let in.
    pub async fn end_tablets(&self, doing: &Doing, one: Option<i64>) -> Done<()> {
        let Some(mut w) = self.begin(doing, "end tablets", None).await? else { return Ok(()) };
        if tablets::end(&mut w, one).await? == 0 && one.is_some() {
            return Err(Refused::NotFound);
        }
        Ok(w.commit().await?)
    }
}

/// Hashing takes long on purpose: it must not hold up those who are served meanwhile.
async fn apart<T: Send + 'static>(hashes: impl FnOnce() -> T + Send + 'static) -> Done<T> {
    let done = tokio::task::spawn_blocking(hashes).await;
    done.map_err(|why| Refused::Record(record::Error::File(std::io::Error::other(why))))
}

fn cannot_hash(why: argon2::password_hash::Error) -> Refused {
    Refused::Record(record::Error::corrupt("shop_pin", "hash", 1, why))
}

#[cfg(test)]
mod tests {
    use super::pin_fault;

    #[test]
    fn a_pin_is_digits_that_nobody_tries_first() {
        for pin in ["2580", "1357", "1223", "9871", "864209753124"] {
            assert_eq!(pin_fault(pin), None, "{pin}");
        }
        for (pin, said) in [
            ("", "4 to 12"),
            ("258", "4 to 12"),
            ("2580258025802", "4 to 12"),
            ("25 80", "4 to 12"),
            ("25８0", "4 to 12"),
            ("-258", "4 to 12"),
            ("0000", "all the same"),
            ("777777777777", "all the same"),
            ("1234", "count up"),
            ("0123456789", "count up"),
            ("98765", "count up"),
        ] {
            assert!(pin_fault(pin).is_some_and(|fault| fault.contains(said)), "{pin}");
        }
    }
}
