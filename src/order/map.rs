//! A map and a set compiled to little code, for a few hundred entries.
//!
//! The entries are one list in ascending order of keys, searched by bisection; inserting and removing therefore take linear time. The
//! library's maps are faster for many thousands of entries, but the compiler generates them anew for each pair of types, several kilobytes
//! a time. Code that looks up in its inner loop uses the library's.

use std::borrow::Borrow;
use std::ops::Index;

/// Values by keys, ascending.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Map<Key, Value> {
    entries: Vec<(Key, Value)>,
}

impl<Key, Value> Default for Map<Key, Value> {
    fn default() -> Self {
        Map {
            entries: Vec::new(),
        }
    }
}

impl<Key: Ord, Value> Map<Key, Value> {
    /// An empty map.
    pub fn new() -> Self {
        Map::default()
    }

    /// The index of a key as `Ok`, or as `Err` the index to insert it at.
    fn place<Asked: Ord + ?Sized>(&self, key: &Asked) -> Result<usize, usize>
    where
        Key: Borrow<Asked>,
    {
        self.entries
            .binary_search_by(|entry| entry.0.borrow().cmp(key))
    }

    /// The value of a key.
    pub fn get<Asked: Ord + ?Sized>(&self, key: &Asked) -> Option<&Value>
    where
        Key: Borrow<Asked>,
    {
        Some(&self.entries[self.place(key).ok()?].1)
    }

    /// Whether a key has a value.
    pub fn contains_key<Asked: Ord + ?Sized>(&self, key: &Asked) -> bool
    where
        Key: Borrow<Asked>,
    {
        self.place(key).is_ok()
    }

    /// Sets the value of a key and replaces the one it had.
    pub fn insert(&mut self, key: Key, value: Value) {
        match self.place(&key) {
            Ok(at) => self.entries[at].1 = value,
            Err(at) => self.entries.insert(at, (key, value)),
        }
    }

    /// The value of a key; where the key is missing, `make` supplies the value first.
    pub fn or_insert_with(&mut self, key: Key, make: impl FnOnce() -> Value) -> &mut Value {
        let at = self.place(&key).unwrap_or_else(|at| {
            self.entries.insert(at, (key, make()));
            at
        });
        &mut self.entries[at].1
    }

    /// Takes a key out; returns the value it had.
    pub fn remove<Asked: Ord + ?Sized>(&mut self, key: &Asked) -> Option<Value>
    where
        Key: Borrow<Asked>,
    {
        let at = self.place(key).ok()?;
        Some(self.entries.remove(at).1)
    }

    /// How many keys there are.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there is no key.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Keys and values, ascending by key.
    pub fn iter(&self) -> impl Iterator<Item = (&Key, &Value)> {
        self.entries.iter().map(|entry| (&entry.0, &entry.1))
    }

    /// The keys, ascending.
    pub fn keys(&self) -> impl Iterator<Item = &Key> {
        self.entries.iter().map(|entry| &entry.0)
    }

    /// The values, ascending by key.
    pub fn values(&self) -> impl Iterator<Item = &Value> {
        self.entries.iter().map(|entry| &entry.1)
    }
}

impl<Key: Ord, Value> Index<&Key> for Map<Key, Value> {
    type Output = Value;

    /// The value of a key. Panics where the key is missing.
    fn index(&self, key: &Key) -> &Value {
        match self.place(key) {
            Ok(at) => &self.entries[at].1,
            Err(_) => panic!("the map lacks the key"),
        }
    }
}

impl<Key, Value> IntoIterator for Map<Key, Value> {
    type Item = (Key, Value);
    type IntoIter = std::vec::IntoIter<(Key, Value)>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.into_iter()
    }
}

impl<Key: Ord, Value> FromIterator<(Key, Value)> for Map<Key, Value> {
    /// Where a key occurs more than once, its last entry counts.
    fn from_iter<Entries: IntoIterator<Item = (Key, Value)>>(entries: Entries) -> Self {
        let mut entries: Vec<(Key, Value)> = entries.into_iter().collect();
        crate::sort_by(&mut entries, |one, other| one.0.cmp(&other.0));
        entries.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                std::mem::swap(next, kept);
            }
            same
        });
        Map { entries }
    }
}

/// A set of items, ascending.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set<Item> {
    items: Map<Item, ()>,
}

impl<Item> Default for Set<Item> {
    fn default() -> Self {
        Set {
            items: Map::default(),
        }
    }
}

impl<Item: Ord> Set<Item> {
    /// An empty set.
    pub fn new() -> Self {
        Set::default()
    }

    /// Inserts an item; returns whether it is new.
    pub fn insert(&mut self, item: Item) -> bool {
        let before = self.items.len();
        self.items.or_insert_with(item, || ());
        self.items.len() > before
    }

    /// Removes an item, if it is there.
    pub fn remove(&mut self, item: &Item) {
        self.items.remove(item);
    }

    /// Whether an item is there.
    pub fn contains<Asked: Ord + ?Sized>(&self, item: &Asked) -> bool
    where
        Item: Borrow<Asked>,
    {
        self.items.contains_key(item)
    }

    /// How many items there are.
    pub fn len(&self) -> usize {
        self.items.len()
    }

    /// Whether there is no item.
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }
}

impl<Item: Ord> FromIterator<Item> for Set<Item> {
    fn from_iter<Items: IntoIterator<Item = Item>>(items: Items) -> Self {
        Set {
            items: items.into_iter().map(|item| (item, ())).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::{BTreeMap, BTreeSet};

    /// Numbers below 40 in an order of no meaning.
    fn numbers() -> impl Iterator<Item = u64> {
        let mut seed = 1u64;
        std::iter::from_fn(move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            Some((seed >> 33) % 40)
        })
    }

    #[test]
    fn a_map_answers_as_the_librarys() {
        let (mut ours, mut theirs) = (Map::new(), BTreeMap::new());
        for (at, key) in numbers().take(300).enumerate() {
            if at % 3 == 0 {
                *ours.or_insert_with(key, || at) += 1;
                *theirs.entry(key).or_insert(at) += 1;
            } else {
                ours.insert(key, at);
                theirs.insert(key, at);
            }
            assert_eq!(ours.get(&(key + 1)), theirs.get(&(key + 1)));
            assert_eq!(ours[&key], theirs[&key]);
            assert!(ours.iter().eq(theirs.iter()));
        }
        assert!(ours.keys().eq(theirs.keys()) && ours.values().eq(theirs.values()));
        assert!(ours.into_iter().eq(theirs));
    }

    #[test]
    fn of_entries_gathered_with_one_key_the_last_stays() {
        let entries: Vec<(u64, usize)> = numbers().take(300).zip(0..).collect();
        let ours: Map<u64, usize> = entries.iter().copied().collect();
        let theirs: BTreeMap<u64, usize> = entries.into_iter().collect();
        assert!(ours.iter().eq(theirs.iter()));
    }

    #[test]
    fn a_set_answers_as_the_librarys() {
        let (mut ours, mut theirs) = (Set::new(), BTreeSet::new());
        for (at, item) in numbers().take(300).enumerate() {
            if at % 3 == 0 {
                ours.remove(&item);
                theirs.remove(&item);
            } else {
                assert_eq!(ours.insert(item), theirs.insert(item));
            }
            assert_eq!(ours.len(), theirs.len());
            assert!((0..40).all(|item| ours.contains(&item) == theirs.contains(&item)));
        }
        assert_eq!(
            Set::<u64>::new().is_empty(),
            BTreeSet::<u64>::new().is_empty()
        );
    }

    #[test]
    #[should_panic = "the map lacks the key"]
    fn a_key_that_is_not_there_has_no_value() {
        let _ = Map::<u64, u64>::new()[&1];
    }
}
