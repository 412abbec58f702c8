//! Parts that share cuts, followed in small numbers: whatever is added in whatever order, the small numbers say what the whole ones do.

use crate::family::{Family, Numbers, Point, Sort, Taken};

/// The next figure of a plain sequence, below `end` (Knuth's constants for 64 bits).
fn draw(seed: &mut u64, end: usize) -> usize {
    *seed = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 33) as usize % end
}

/// The kinds of family that sections give: their points as (cut, saving, what it meets), and every sort of part on them.
fn kinds() -> Vec<(Vec<Point>, Vec<Sort>, bool)> {
    let point = |cut, saving, meets| Point {
        cut,
        saving,
        meets: Some(meets),
    };
    // Of ends that a turn may change, the order does not matter.
    let unordered = |points: usize| -> Vec<Sort> {
        let ends = || [None].into_iter().chain((0..points).map(Some));
        let pairs = ends().flat_map(|one| ends().map(move |other| [one, other]));
        pairs
            .filter(|[one, other]| one <= other && other.is_some())
            .collect()
    };
    let near = || [None, Some(0), Some(2)];
    let away = || [None, Some(1), Some(3)];
    let fixed = near()
        .into_iter()
        .flat_map(|one| away().map(|other| [one, other]));
    vec![
        (vec![point(6, 9, 0)], unordered(1), true),
        (vec![point(6, 9, 0), point(7, 13, 1)], unordered(2), true),
        (
            vec![point(6, 9, 0), point(7, 13, 1), point(5, 2, 2)],
            unordered(3),
            true,
        ),
        (vec![point(6, 9, 1), point(6, 9, 0)], unordered(2), true),
        (
            vec![
                point(6, 9, 1),
                point(6, 9, 0),
                point(6, 9, 3),
                point(6, 9, 2),
            ],
            fixed.filter(|sort| *sort != [None, None]).collect(),
            false,
        ),
    ]
}

fn families() -> Vec<Family> {
    let mut seed = 20;
    let mut families = Vec::new();
    for (points, sorts, turns) in kinds() {
        for _ in 0..12 {
            let mut chosen: Vec<Sort> = Vec::new();
            while chosen.len() < sorts.len().min(3) {
                let sort = sorts[draw(&mut seed, sorts.len())];
                if !chosen.contains(&sort) {
                    chosen.push(sort);
                }
            }
            families.push(Family {
                points: points.clone(),
                sorts: chosen,
                kerf: 4,
                turns,
            });
        }
    }
    families
}

#[test]
fn small_numbers_take_what_the_whole_numbers_take() {
    let mut seed = 5;
    for family in families() {
        let most = vec![9; family.sorts.len()];
        let numbers = Numbers::of(&family, &most).expect("few numbers");
        for _ in 0..60 {
            let mut counts = vec![0u32; family.sorts.len()];
            let (mut cuts, mut place) = (0, 0);
            for _ in 0..9 {
                let sort = draw(&mut seed, counts.len());
                let (more, next) = numbers.add(place, sort);
                (cuts, place) = (cuts + more, next);
                counts[sort] += 1;
                let (owed, last) = numbers.end(place);
                assert_eq!(
                    Taken { cuts, owed, last },
                    family.taken(&counts),
                    "{family:?} {counts:?}"
                );
            }
        }
    }
}

#[test]
fn the_least_that_a_part_takes_is_the_least_of_all_numbers_it_is_added_to() {
    for family in families() {
        let sorts = family.sorts.len();
        let numbers = Numbers::of(&family, &vec![7; sorts]).expect("few numbers");
        let each = 7usize;
        for sort in 0..sorts {
            let all = (0..each.pow(sorts as u32)).map(|code| {
                let digit = |at: usize| (code / each.pow(at as u32) % each) as u32;
                let mut counts: Vec<u32> = (0..sorts).map(digit).collect();
                let before = family.taken(&counts).cuts;
                counts[sort] += 1;
                family.taken(&counts).cuts - before
            });
            assert_eq!(all.min(), Some(numbers.least(sort)), "{family:?} {sort}");
        }
    }
}
