//! How many ways there are for parts to stand on the factory ends of boards.

use crate::job::Job;

/// Those of one section: its lengths and its boards with such an end, each with any two of the different parts that stand there, one or none.
pub(super) fn ways(job: &Job, section: usize) -> usize {
    let stands = job.list.iter().filter(|part| {
        part.sections.contains(&section) && job.stands_on_factory_end(part, section)
    });
    let mut posts: Vec<_> = stands.map(|part| (part.length, part.ends)).collect();
    order::sort(&mut posts);
    posts.dedup();
    if posts.is_empty() {
        return 0;
    }
    let yard = job.yard.iter().filter(|line| line.section == section);
    let shed = job
        .shed
        .iter()
        .filter(|board| board.section == section && board.factory_ends.contains(&true));
    (yard.count() + shed.count()).saturating_mul((posts.len() + 1).saturating_mul(posts.len() + 1))
}
