//! What may be known of the props of a place, each kept once.

use std::collections::HashMap;
use std::rc::Rc;

use super::colouring::Domains;

/// Everything that was known at some node.
#[derive(Default)]
pub(super) struct Knowledge {
    all: Vec<Rc<Domains>>,
    ids: HashMap<Rc<Domains>, u32>,
    /// About how many bytes it keeps more than when that was last asked.
    grown: usize,
}

impl Knowledge {
    /// The number of what is known.
    pub(super) fn id(&mut self, known: Domains) -> u32 {
        if let Some(&id) = self.ids.get(&known) {
            return id;
        }
        let id = u32::try_from(self.all.len())
            .unwrap_or_else(|_| unreachable!("a search keeps far fewer nodes"));
        let heap = size_of_val(&known.masks[..]) + size_of_val(&known.ties[..]);
        self.grown += size_of::<Domains>() + heap + 64;
        let known = Rc::new(known);
        self.all.push(Rc::clone(&known));
        self.ids.insert(known, id);
        id
    }

    /// What has that number.
    pub(super) fn of(&self, id: u32) -> &Domains {
        &self.all[id as usize]
    }

    /// About how many bytes it keeps more than when that was last asked.
    pub(super) fn grown(&mut self) -> usize {
        std::mem::take(&mut self.grown)
    }
}
