//! Proofs by pairs: what the search over pairs tells the checker shows again, and what is forged of it is refused.
mod common;

use common::hand;
use common::random::Random;
use lengthwise::certificate::{Branch, Pairing};
use lengthwise::group::groups;
use lengthwise::job::Job;
use lengthwise::solve::{Watch, proof_by_pairs};

struct Forever;
impl Watch for Forever {
    fn expired(&mut self) -> bool {
        false
    }
}

fn of(length: i64, parts: &[(i64, u32)], kerf: i64) -> Job {
    hand::job(|draft| {
        draft.saw.kerf = Some(kerf.to_string());
        draft.section("batten", |section| section.trim = Some("0".into()));
        draft.yard("batten", &(length - kerf).to_string(), None, None);
        for (at, &(part, wanted)) in parts.iter().enumerate() {
            draft.part(
                &at.to_string(),
                "batten",
                &(part - kerf).to_string(),
                &wanted.to_string(),
                "square",
            );
        }
    })
}

fn splits(job: &Job, boards: i64) -> Option<usize> {
    let group = &groups(&job)[0];
    let Some(Branch::Paired { search, .. }) =
        proof_by_pairs(&group.problem, boards, 2000, &mut Forever)
    else {
        return None;
    };
    Some(
        search
            .iter()
            .filter(|p| matches!(p, Pairing::Split(_)))
            .count(),
    )
}

#[test]
fn probe() {
    let mut text = String::new();
    for (name, length, parts, boards) in [
        ("field", 300, &[(150, 3), (100, 5), (60, 9)][..], 5),
        ("132", 132, &[(44, 2), (33, 3), (12, 6)], 2),
        (
            "gau",
            600,
            &[(300, 1), (220, 1), (200, 1), (190, 1), (120, 2)],
            2,
        ),
        (
            "rietz",
            450,
            &[(270, 3), (230, 3), (150, 6), (110, 6), (90, 10)],
            9,
        ),
        (
            "n53",
            1000,
            &[
                (697, 1),
                (679, 1),
                (667, 1),
                (643, 1),
                (569, 1),
                (520, 1),
                (496, 1),
                (492, 1),
                (484, 1),
                (442, 1),
                (368, 1),
                (351, 1),
                (339, 1),
                (335, 1),
                (332, 1),
                (331, 1),
                (310, 1),
                (213, 1),
                (197, 1),
                (190, 1),
            ],
            9,
        ),
        (
            "hart3",
            1500,
            &[
                (1214, 1),
                (1210, 1),
                (1208, 1),
                (910, 1),
                (906, 1),
                (904, 1),
                (776, 1),
                (772, 1),
                (770, 1),
                (504, 1),
                (503, 1),
                (500, 2),
                (498, 1),
                (494, 1),
                (367, 1),
                (365, 1),
                (364, 1),
                (363, 1),
                (362, 1),
                (361, 1),
                (300, 5),
                (298, 1),
                (297, 1),
                (296, 1),
                (295, 1),
                (294, 1),
                (148, 1),
                (146, 1),
                (145, 1),
                (144, 1),
                (143, 1),
                (142, 1),
            ],
            10,
        ),
    ] {
        for b in boards - 1..=boards + 1 {
            text += &format!("{name} {b} {:?}; ", splits(&of(length, parts, 0), b));
        }
    }
    // Two boards of thirds and quarters, a little off.
    let mut random = Random(7);
    let (mut n, mut sp, mut some) = (0, 0, 0);
    for _ in 0..2000 {
        let size = random.between(6, 40) * 30;
        let mut parts = Vec::new();
        for share in [2, 3, 5] {
            parts.push((
                size / share + random.between(-2, 2),
                random.between(1, 2 * share as u32),
            ));
        }
        for boards in 1..7 {
            if let Some(s) = splits(&of(size, &parts, 0), boards) {
                n += 1;
                sp += s;
                some += usize::from(s > 0);
            }
        }
    }
    panic!("{text} {n} {some} {sp}");
}
