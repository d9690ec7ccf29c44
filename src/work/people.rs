//! The shop's hands, by name: who takes readings and signs.

use super::Shop;
use super::doing::{Doing, Done, FieldFault, Refused};
use crate::record::people::{self, NewPerson};

/// Someone to choose or change.
#[derive(Clone, Debug)]
pub struct PersonView {
    pub id: String,
    pub name: String,
    pub phone: String,
    pub works_here: bool,
}

/// Someone as typed.
#[derive(Clone, Debug, Default)]
pub struct PersonForm {
    pub name: String,
    pub phone: String,
}

impl Shop {
    /// Those who work here, by name.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn hands(&self) -> Done<Vec<PersonView>> {
        let all = people::all(&mut *self.record.look().await?).await?;
        Ok(all
            .into_iter()
            .filter(|person| person.works_here)
            .map(|p| PersonView { id: p.public_id, name: p.name, phone: p.phone, works_here: p.works_here })
            .collect())
    }

    /// Adds somebody who works here; the public id.
    ///
    /// # Errors
    /// Where no name is given.
    pub async fn add_hand(&self, doing: &Doing, form: &PersonForm) -> Done<String> {
        let name = form.name.trim();
        let mut faults = Vec::new();
        if name.is_empty() {
            faults.push(FieldFault::new("name", "enter the name as it is called in the shop"));
        }
        faults.extend(FieldFault::too_long("name", name, 60));
        faults.extend(FieldFault::too_long("phone", &form.phone, 60));
        if !faults.is_empty() {
            return Err(Refused::Faults(faults));
        }
        let known = people::all(&mut *self.record.look().await?).await?;
        if let Some(same) = known.iter().find(|person| person.works_here && person.name == name) {
            return Ok(same.public_id.clone());
        }
        let new = NewPerson {
            name: name.to_owned(),
            phone: form.phone.trim().to_owned(),
            works_here: true,
            ..NewPerson::default()
        };
        if let Some(mut w) = self.begin(doing, "add hand", None).await? {
            people::insert(&mut w, &new).await?;
            w.commit().await?;
        }
        let all = people::all(&mut *self.record.look().await?).await?;
        all.into_iter().find(|p| p.works_here && p.name == name).map(|p| p.public_id).ok_or(Refused::NotFound)
    }

    /// Takes somebody off the list of names; what was done by that name stays.
    ///
    /// # Errors
    /// [`Refused::NotFound`] where there is nobody of this id.
    pub async fn remove_hand(&self, doing: &Doing, public_id: &str) -> Done<()> {
        let person = people::by_public_id(&mut *self.record.look().await?, public_id).await?;
        let person = person.filter(|person| person.works_here).ok_or(Refused::NotFound)?;
        let Some(mut w) = self.begin(doing, "remove hand", None).await? else { return Ok(()) };
        people::withdraw(&mut w, person.id).await?;
        Ok(w.commit().await?)
    }
}
