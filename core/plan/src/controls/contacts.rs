//! How many contacts a load needs.

/// Loads up to which every way to share them out is weighed.
const EXACT: usize = 10;

/// A load on a contact, in microamperes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct ContactLoad {
    /// Lasting current.
    pub amps: i64,
    /// Peak of inrush.
    pub inrush: i64,
}

impl ContactLoad {
    fn and(self, other: Self) -> Self {
        Self { amps: self.amps.saturating_add(other.amps), inrush: self.inrush.saturating_add(other.inrush) }
    }

    /// Whether a contact with this limit carries it.
    pub(crate) fn within(self, limit: Self) -> bool {
        self.amps <= limit.amps && self.inrush <= limit.inrush
    }
}

/// Shares loads out over as few contacts as can be: for each contact the positions of its loads. A load that no contact
/// carries gets one to itself.
pub(crate) fn fewest(loads: &[ContactLoad], limit: ContactLoad) -> Vec<Vec<usize>> {
    let (fit, over): (Vec<usize>, Vec<usize>) = (0..loads.len()).partition(|load| loads[*load].within(limit));
    let mut contacts = if fit.len() <= EXACT { exact(loads, &fit, limit) } else { first_fit(loads, &fit, limit) };
    contacts.extend(over.into_iter().map(|load| vec![load]));
    contacts.sort();
    contacts
}

fn exact(loads: &[ContactLoad], fit: &[usize], limit: ContactLoad) -> Vec<Vec<usize>> {
    let count = fit.len();
    let nothing = ContactLoad { amps: 0, inrush: 0 };
    let sums: Vec<ContactLoad> = (0..1_usize << count)
        .map(|set| (0..count).filter(|i| set & 1 << i != 0).fold(nothing, |sum, i| sum.and(loads[fit[i]])))
        .collect();
    // Fewest contacts for each subset, and the set on the last of them; the lowest load of a subset is on it.
    let mut best: Vec<(usize, usize)> = vec![(0, 0)];
    for set in 1..1_usize << count {
        let lowest = set & set.wrapping_neg();
        let rest = set ^ lowest;
        let mut found = (usize::MAX, 0);
        let mut others = rest;
        loop {
            let on_contact = lowest | others;
            if sums[on_contact].within(limit) && best[set ^ on_contact].0 + 1 < found.0 {
                found = (best[set ^ on_contact].0 + 1, on_contact);
            }
            if others == 0 {
                break;
            }
            others = (others - 1) & rest;
        }
        best.push(found);
    }
    let mut contacts = Vec::new();
    let mut set = best.len() - 1;
    while set != 0 {
        let on_contact = best[set].1;
        contacts.push((0..count).filter(|i| on_contact & 1 << i != 0).map(|i| fit[i]).collect());
        set ^= on_contact;
    }
    contacts
}

fn first_fit(loads: &[ContactLoad], fit: &[usize], limit: ContactLoad) -> Vec<Vec<usize>> {
    let mut order = fit.to_vec();
    order.sort_by_key(|load| (-loads[*load].amps, -loads[*load].inrush, *load));
    let mut contacts: Vec<(ContactLoad, Vec<usize>)> = Vec::new();
    for load in order {
        match contacts.iter_mut().find(|(sum, _)| sum.and(loads[load]).within(limit)) {
            Some((sum, on_contact)) => {
                *sum = sum.and(loads[load]);
                on_contact.push(load);
            }
            None => contacts.push((loads[load], vec![load])),
        }
    }
    contacts
        .into_iter()
        .map(|(_, mut on_contact)| {
            on_contact.sort_unstable();
            on_contact
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loads(amps: &[i64]) -> Vec<ContactLoad> {
        amps.iter().map(|amps| ContactLoad { amps: *amps, inrush: amps * 10 }).collect()
    }

    #[test]
    fn the_fewest_contacts_that_carry_the_load() {
        let limit = ContactLoad { amps: 10, inrush: 1_000 };
        // First fit in falling order needs four here: 6+3, 5+4, 4+2+2, … while 6+4, 5+3+2, 4+4+2 do with three.
        assert_eq!(fewest(&loads(&[6, 5, 4, 4, 3, 2, 2, 4]), limit).len(), 3);
        assert_eq!(fewest(&loads(&[]), limit), Vec::<Vec<usize>>::new());
        // The inrush of two may be too much where their current is not.
        assert_eq!(fewest(&loads(&[1, 1]), ContactLoad { amps: 10, inrush: 15 }).len(), 2);
    }

    #[test]
    fn a_load_that_no_contact_carries_stands_alone() {
        let limit = ContactLoad { amps: 10, inrush: 1_000 };
        assert_eq!(fewest(&loads(&[3, 11, 4]), limit), vec![vec![0, 2], vec![1]]);
    }

    #[test]
    fn many_loads_are_shared_out_within_the_limit() {
        let limit = ContactLoad { amps: 10, inrush: 1_000 };
        let many = loads(&[3; 25]);
        let contacts = fewest(&many, limit);
        assert_eq!(contacts.len(), 9);
        assert_eq!(contacts.concat().len(), 25);
    }
}
