//! A list in a fixed store, for a crate that does not allocate.

/// Up to `N` items in the order they came.
pub(crate) struct List<T, const N: usize> {
    items: [T; N],
    count: usize,
}

impl<T: Copy, const N: usize> List<T, N> {
    /// An empty list; `filler` only takes up the store.
    pub(crate) const fn new(filler: T) -> Self {
        Self { items: [filler; N], count: 0 }
    }

    /// Adds an item; one that does not fit is left out, so the caller shows that all do.
    pub(crate) fn push(&mut self, item: T) {
        if let Some(slot) = self.items.get_mut(self.count) {
            *slot = item;
            self.count += 1;
        }
    }

    pub(crate) fn as_slice(&self) -> &[T] {
        self.items.get(..self.count).unwrap_or_default()
    }

    pub(crate) fn as_mut_slice(&mut self) -> &mut [T] {
        self.items.get_mut(..self.count).unwrap_or_default()
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
        list.as_mut_slice().sort_unstable();
        assert_eq!(list.as_slice(), [1, 4, 5]);
    }
}
