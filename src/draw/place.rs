//! Where labels in a row go so that none lies over another, and hatching. It
//! knows places along one line; what the labels say is left to the drawings.

use super::scene::{Paper, Point, Rect, at};

/// Which of several labels can stay where they are wanted with so much room
/// for each: those of the lowest rank first, and of one rank the first ones.
pub fn thinned(wanted: &[(Paper, u8)], room: Paper) -> Vec<bool> {
    let mut by_rank: Vec<usize> = (0..wanted.len()).collect();
    by_rank.sort_by_key(|&k| wanted[k].1);
    let mut kept = vec![false; wanted.len()];
    let mut places = std::collections::BTreeSet::new();
    for k in by_rank {
        let place = wanted[k].0;
        if places
            .range(place - room + 1..place + room)
            .next()
            .is_none()
        {
            places.insert(place);
            kept[k] = true;
        }
    }
    kept
}

/// Places for labels that must all be there: as near to where they are wanted
/// as room allows, in their order, between two ends as far as they reach.
pub fn spread(wanted: &[Paper], room: Paper, least: Paper, most: Paper) -> Vec<Paper> {
    let mut places = wanted.to_vec();
    let mut from = least;
    for place in &mut places {
        *place = (*place).max(from);
        from = *place + room;
    }
    let mut to = most;
    for place in places.iter_mut().rev() {
        *place = (*place).min(to);
        to = *place - room;
    }
    places
}

/// Lines at 45 degrees over a rectangle, so far apart.
pub fn hatching(rect: &Rect, apart: Paper) -> Vec<[Point; 2]> {
    // Lines of one sum of x and y, the same all over the sheet, so that
    // hatching goes on from one rectangle to the next.
    let first = (rect.left + rect.top).div_euclid(apart) + 1;
    let last = (rect.right + rect.bottom - 1).div_euclid(apart);
    (first..=last)
        .map(|k| {
            let sum = k * apart;
            let left = rect.left.max(sum - rect.bottom);
            let right = rect.right.min(sum - rect.top);
            [at(left, sum - left), at(right, sum - right)]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_ranks_first_stays() {
        let wanted = [(0, 1), (2, 0), (5, 1), (9, 1)];
        assert_eq!(thinned(&wanted, 3), [false, true, true, true]);
        assert_eq!(thinned(&wanted, 4), [false, true, false, true]);
    }

    #[test]
    fn labels_give_way_to_each_other() {
        assert_eq!(spread(&[10, 11, 30], 5, 0, 40), [10, 15, 30]);
        assert_eq!(spread(&[38, 39, 40], 5, 0, 40), [30, 35, 40]);
    }

    #[test]
    fn hatching_stays_inside() {
        let rect = Rect::new(3, 7, 103, 27);
        let lines = hatching(&rect, 10);
        assert!(!lines.is_empty());
        for point in lines.iter().flatten() {
            assert!((3..=103).contains(&point.x) && (7..=27).contains(&point.y));
        }
    }
}
