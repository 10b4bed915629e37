//! Procedures and the table of codes, read once for all jobs.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use swarfbook_job::procedure::{Procedure, Roles};
use swarfbook_measure::code::Table;
use swarfbook_store::Store;
use swarfbook_words::{Language, speaking};

use super::fold::lock;
use super::{codes, procedures};
use crate::problem::Problem;

/// What is read from text, as it was read last.
#[derive(Default)]
pub(super) struct Texts {
    /// By id, version and the language that it is told in. A version never changes.
    procedures: Mutex<BTreeMap<(String, u32, Language), Arc<Procedure>>>,
    /// By id and version.
    roles: Mutex<BTreeMap<(String, u32), Arc<Roles>>>,
    /// With the shop's rows that are in it.
    codes: Mutex<Option<(Option<String>, Arc<Table>)>>,
}

impl Texts {
    /// A procedure in the language that is spoken.
    pub fn procedure(
        &self,
        store: &Store,
        followed: Option<&(String, u32)>,
    ) -> Result<Arc<Procedure>, Problem> {
        // A job whose first line is not here yet follows the one that ships.
        let (id, version) = followed.cloned().unwrap_or_default();
        let name = (id, version, speaking());
        if let Some(known) = lock(&self.procedures).get(&name) {
            return Ok(known.clone());
        }
        let read = Arc::new(procedures::of_job(store, followed)?.told());
        lock(&self.procedures).insert(name, read.clone());
        Ok(read)
    }

    /// What the code needs of a procedure.
    pub fn roles(
        &self,
        store: &Store,
        followed: Option<&(String, u32)>,
    ) -> Result<Arc<Roles>, Problem> {
        let name = followed.cloned().unwrap_or_default();
        if let Some(known) = lock(&self.roles).get(&name) {
            return Ok(known.clone());
        }
        let roles = Arc::new(Roles::of(&procedures::of_job(store, followed)?));
        lock(&self.roles).insert(name, roles.clone());
        Ok(roles)
    }

    /// What codes point at: the table that ships, with the shop's rows before it.
    pub fn codes(&self, store: &Store) -> Result<Arc<Table>, Problem> {
        let shop = codes::text(store)?;
        if let Some((of, table)) = &*lock(&self.codes)
            && *of == shop
        {
            return Ok(table.clone());
        }
        let table = Arc::new(codes::table(shop.as_deref())?);
        *lock(&self.codes) = Some((shop, table.clone()));
        Ok(table)
    }
}
