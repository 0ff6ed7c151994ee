//! A list of fixed capacity, for a crate that does not allocate.
//!
//! An item beyond the capacity is dropped, so callers check the count first and return an error.

/// Up to `N` items in insertion order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct List<T, const N: usize> {
    items: [T; N],
    count: usize,
}

impl<T: Copy, const N: usize> List<T, N> {
    /// An empty list; `filler` only fills the unused slots.
    pub(crate) const fn new(filler: T) -> Self {
        Self { items: [filler; N], count: 0 }
    }

    /// Appends an item; beyond the capacity it is dropped, so the caller ensures that it fits.
    pub(crate) fn push(&mut self, item: T) {
        if let Some(slot) = self.items.get_mut(self.count) {
            *slot = item;
            self.count += 1;
        }
    }

    /// Inserts an item into a sorted list, after equal ones; beyond the capacity it is dropped.
    pub(crate) fn insert(&mut self, item: T)
    where
        T: PartialOrd,
    {
        let behind = self.as_slice().partition_point(|other| *other <= item);
        if let Some(moved) = self.items.get_mut(behind..=self.count) {
            moved.rotate_right(1);
            self.count += 1;
            if let Some(slot) = moved.first_mut() {
                *slot = item;
            }
        }
    }

    pub(crate) fn as_mut_slice(&mut self) -> &mut [T] {
        self.items.get_mut(..self.count).unwrap_or_default()
    }

    pub(crate) fn as_slice(&self) -> &[T] {
        self.items.get(..self.count).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_keeps_what_fits_in_the_order_it_came() {
        let mut list = List::<u8, 3>::new(0);
        assert_eq!(list.as_slice(), []);
        [5, 1, 4, 9].into_iter().for_each(|item| list.push(item));
        assert_eq!(list.as_slice(), [5, 1, 4]);
    }

    #[test]
    fn a_list_can_be_kept_in_order() {
        let mut list = List::<u8, 5>::new(0);
        for item in [5, 1, 4, 9, 4, 2] {
            list.insert(item);
        }
        assert_eq!(list.as_slice(), [1, 4, 4, 5, 9]);
    }
}
