//! The letters of a drawing: on a face where they fit, else beside the drawing with a line to the part.

use super::ids::{CELL, Ids};
use super::names::Name;
use super::scene::Shape;
use super::sheet::{Anchor, LETTER, LETTERS, Sheet, of_part};

/// Room on each side of a drawing for letters that stand beside it.
pub(super) const ASIDE: i64 = 4_400;
/// From one letter beside a drawing to the next.
pub(super) const APART: i64 = 1_500;

/// Height of a capital letter, and half of it.
const HIGH: i64 = LETTERS * 72 / 100;
const HALF: i64 = HIGH / 2;

/// Text over a drawing: paper around it, so that lines below it do not cross it.
const OVER: &str = " font-weight=\"700\" stroke=\"#ffffff\" stroke-width=\"2.5\" stroke-opacity=\".7\" paint-order=\"stroke\"";

/// Writes the letters of the rows in `shapes`, which lie within the box from `corner` on. Where `aside` is set, letters without room on a face
/// stand beside it, above and below it where it is too low for them; else they are left out.
pub(super) fn letters(
    sheet: &mut Sheet,
    shapes: &[Shape],
    names: &[Name],
    [corner, size]: [[i64; 2]; 2],
    aside: bool,
) {
    let (ids, faces) = seen(shapes, names.len(), [corner, size]);
    let mut beside = [Vec::new(), Vec::new()];
    let mut over = Vec::new();
    for (part, name) in names.iter().enumerate() {
        let text = name.short();
        // Space on both sides, or the letters of two narrow parts side by side would read as one name.
        let wide = text.chars().count() as i64 * LETTER + 2 * CELL;
        if let Some((_, middle)) = ids.place([wide, HIGH + CELL], &faces[part]) {
            over.push((middle, text, part));
        } else if let Some(at) = ids.middle(&faces[part]).filter(|_| aside) {
            let right = at[0] > corner[0] + size[0] / 2;
            beside[usize::from(right)].push((at, text, part));
        }
    }
    for (right, mut column) in beside.into_iter().enumerate() {
        order::sort_by_key(&mut column, |(at, _, _)| (at[1], at[0]));
        let more = (column.len() as i64 * APART - size[1]).max(0) / 2;
        let from = corner[1] - more + APART / 2;
        let to = corner[1] + size[1] + more - APART / 2;
        let heights = spread(column.iter().map(|(at, _, _)| at[1]), from, to);
        for ((at, text, part), y) in column.into_iter().zip(heights) {
            let (end, x, anchor) = match right {
                0 => (corner[0] - 400, corner[0] - 600, Anchor::End),
                _ => (
                    corner[0] + size[0] + 400,
                    corner[0] + size[0] + 600,
                    Anchor::Start,
                ),
            };
            sheet.strokes(&[[at, [end, y]]], " stroke-width=\".7\" fill=\"none\"");
            let look = format!(
                " font-weight=\"700\" data-aside=\"\"{}",
                of_part(&names[part].key)
            );
            sheet.text([x, y + HALF], &text, anchor, &look);
        }
    }
    for ([x, y], text, part) in over {
        let look = format!("{OVER}{}", of_part(&names[part].key));
        sheet.text([x, y + HALF], &text, Anchor::Middle, &look);
    }
}

/// How many of the rows have so much in sight, in a drawing of this size, that a letter has room on them.
pub(super) fn rows_seen(shapes: &[Shape], rows: usize, size: [i64; 2]) -> usize {
    let (ids, faces) = seen(shapes, rows, [[0, 0], size]);
    let has_room =
        |faces: &&Vec<usize>| ids.place([LETTER + 2 * CELL, HIGH + CELL], faces).is_some();
    faces.iter().filter(has_room).count()
}

/// What is seen in the box from `corner` on, and the faces of each row.
fn seen(shapes: &[Shape], rows: usize, [corner, size]: [[i64; 2]; 2]) -> (Ids, Vec<Vec<usize>>) {
    let mut ids = Ids::new(corner, size);
    let mut faces = vec![Vec::new(); rows];
    for (face, shape) in shapes.iter().enumerate() {
        ids.fill(&shape.corners);
        faces[shape.part].push(face);
    }
    (ids, faces)
}

/// Heights near those wanted, which ascend, and apart from each other; within `from` and `to` where they have room there.
fn spread(wanted: impl Iterator<Item = i64>, from: i64, to: i64) -> Vec<i64> {
    let mut heights: Vec<i64> = Vec::new();
    for height in wanted {
        let least = heights.last().map_or(from, |last| last + APART);
        heights.push(height.max(least));
    }
    let mut most = to;
    for height in heights.iter_mut().rev() {
        *height = (*height).min(most);
        most = *height - APART;
    }
    heights
}

#[cfg(test)]
mod tests {
    #[test]
    fn letters_beside_a_drawing_keep_apart_and_keep_their_order() {
        let spread = |wanted: &[i64]| super::spread(wanted.iter().copied(), 0, 6_000);
        assert_eq!(spread(&[100, 3_000]), [100, 3_000]);
        assert_eq!(spread(&[2_000, 2_100, 2_200]), [2_000, 3_500, 5_000]);
        assert_eq!(spread(&[5_900, 5_900, 6_000]), [3_000, 4_500, 6_000]);
    }
}
