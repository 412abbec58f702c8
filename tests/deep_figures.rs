//! Proofs of any depth: trees far too deep for recursion are written, read and checked.
//!
//! 9 999 rails of 700 from 2.4 m lengths. Three rails fit a length (3 x 700 + 2 kerfs = 2104.8 of 2380) and four do not, so 3 333
//! lengths are bought and no plan buys fewer. Every sum is told beside its figures.

mod common;

use common::hand::{board, job, marked, one_run, proof};
use lengthwise::certificate::{Branch, Certificate, Leaf, LevelProof, Twig, TwigLeaf};
use lengthwise::check::{Lie, Misshape, Spot, Standing, check};
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan, Source};

const LENGTHS: u32 = 3_333;

fn rails() -> Job {
    job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("5.00"), None);
        draft.part("rail", "47 x 75", "700", "9999", "square");
    })
}

/// 3 333 lengths with three rails each, and this tree for the claim that none does with fewer.
fn plan(tree: Vec<Branch>) -> Plan {
    let three = board(
        Source::Yard(0),
        vec![one_run(&rails(), Source::Yard(0), &[0, 0, 0])],
    );
    let total = i64::from(LENGTHS);
    Plan {
        boards: vec![three; LENGTHS as usize],
        proofs: vec![proof(
            &[0],
            vec![Level {
                measure: Measure::Bought,
                value: total,
                bound: total,
            }],
            Some(Certificate {
                levels: vec![LevelProof {
                    level: 0,
                    earlier: Vec::new(),
                    bound: total,
                    shown: total,
                    lifted: true,
                    tree,
                }],
            }),
        )],
    }
}

/// Splits at 0, 1, 2 ... lengths, each on the side with more of the one before.
fn chain() -> Vec<Branch> {
    let leaf = |part, split, price| {
        Branch::Leaf(Leaf {
            scale: 3,
            parts: vec![part],
            earlier: Vec::new(),
            splits: vec![(split, price)],
        })
    };
    let mut tree = Vec::new();
    for at in 0..LENGTHS {
        tree.push(Branch::Split {
            boards: vec![0],
            at,
        });
        // At most `at` lengths: three rails at 3 are worth what a length is charged, 3 and 6 for the split. So the total is at least
        // (3 x 9 999 - 6 x at) / 3, which is more than 3 333 as long as `at` is less.
        tree.push(leaf(3, at as usize, 6));
    }
    // At least 3 333 lengths: the last split alone says it, 3 x 3 333 / 3.
    tree.push(leaf(0, LENGTHS as usize - 1, 3));
    tree
}

/// The same by a search over cuttings, of which only one is full: three rails from a length.
fn search() -> Vec<Branch> {
    let leaf = |part| {
        Twig::Leaf(TwigLeaf {
            scale: 1,
            parts: vec![part],
            boards: vec![0],
            earlier: Vec::new(),
            splits: Vec::new(),
        })
    };
    let mut search = Vec::new();
    for at in 0..LENGTHS {
        search.push(Twig::Split {
            kept: None,
            board: 0,
            parts: vec![(0, 3)],
            at,
        });
        // Just `at` times: as many lengths are spent, and 9 999 - 3 x at rails at 1 are still wanted, which is more than the lengths left.
        search.push(leaf(1));
    }
    // The last side has it 3 333 times, which is all the lengths there are: nothing is left to show.
    search.push(leaf(0));
    vec![Branch::Closed {
        leaf: Leaf {
            scale: 1,
            parts: vec![0],
            earlier: Vec::new(),
            splits: Vec::new(),
        },
        search,
    }]
}

#[track_caller]
fn holds_when_written_and_read(tree: Vec<Branch>) {
    let plan = plan(tree);
    let read = plan_file::read(&plan_file::write(&plan)).expect("it is a plan file");
    assert_eq!(read, plan);
    let checked = check(&rails(), read).expect("every figure holds");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

#[test]
fn a_chain_of_splits_is_written_read_and_added_up() {
    holds_when_written_and_read(chain());
}

#[test]
fn a_chain_of_splits_on_a_cutting_is_written_read_and_walked_through() {
    holds_when_written_and_read(search());
}

#[test]
fn a_false_leaf_deep_in_a_tree_is_found() {
    let mut tree = chain();
    // At most 3 000 lengths, but charged nothing for it: three rails at 3 are worth more than the 3 that a length then costs.
    let Branch::Leaf(leaf) = &mut tree[6_001] else {
        panic!("every second place is a leaf")
    };
    leaf.splits.clear();
    let lie = Lie::PricesOvercharge {
        measure: Measure::Bought,
        board: Source::Yard(0),
        worth: 9,
        charge: 3,
    };
    assert_eq!(check(&rails(), plan(tree)), Err(vec![lie]));
    let mut searched = search();
    let Branch::Closed { search, .. } = &mut searched[0] else {
        panic!("it is closed")
    };
    // 3 000 lengths are spent and what is still wanted is worth nothing: no more than 3 000 is shown here, and the root shows nothing.
    search[6_001] = search[6_666].clone();
    let lie = Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 3_333,
        shown: 0,
    };
    assert_eq!(check(&rails(), plan(searched)), Err(vec![lie]));
}

#[test]
fn a_deep_tree_that_ends_too_soon_says_where() {
    let mut plan = plan(chain());
    marked(&mut plan, 0, |claim| claim.tree.truncate(6_000));
    let lie = Lie::MisshapenFigures {
        measure: Measure::Bought,
        spot: Some(Spot {
            branch: 6_000,
            twig: None,
        }),
        what: Misshape::TooShort,
    };
    assert_eq!(check(&rails(), plan), Err(vec![lie]));
}

#[test]
fn cuttings_of_a_board_with_many_runs_and_many_parts_are_listed() {
    // 400 rails of lengths of their own, over 2 m each, so that each takes a 2.4 m length; and a shed board with 101 clear runs that none
    // of them fits, whose list of cuttings is empty after one choice for each rail in each run.
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", None, None);
        let bad: Vec<String> = (1..=100)
            .map(|at| format!("{}..{}", at * 300, at * 300 + 10))
            .collect();
        draft.shed("A", "47 x 75", "30350", &bad.join("; "));
        for part in 0..400 {
            let length = (2_000 + part / 2).to_string() + if part % 2 == 0 { "" } else { ".5" };
            draft.part(&format!("rail {part}"), "47 x 75", &length, "1", "square");
        }
    });
    let boards = (0..400).map(|part| {
        board(
            Source::Yard(0),
            vec![one_run(&job, Source::Yard(0), &[part])],
        )
    });
    // Without prices everything is open: each of 400 cuttings with one rail. Over that list each rail is worth the length it takes.
    let tree = vec![Branch::Closed {
        leaf: Leaf {
            scale: 1,
            parts: vec![0; 400],
            earlier: Vec::new(),
            splits: Vec::new(),
        },
        search: vec![Twig::Leaf(TwigLeaf {
            scale: 1,
            parts: vec![1; 400],
            boards: vec![0, 0],
            earlier: Vec::new(),
            splits: Vec::new(),
        })],
    }];
    let mut plan = plan(tree);
    plan.boards = boards.collect();
    plan.proofs[0].levels[0].value = 400;
    plan.proofs[0].levels[0].bound = 400;
    marked(&mut plan, 0, |claim| {
        claim.bound = 400;
        claim.shown = 400;
    });
    let checked = check(&job, plan).expect("every figure holds");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

#[test]
fn plan_files_of_another_version_say_so() {
    // A tree of version 1 was nested; the version is reported before anything else in the file is read.
    let old = r#"{"format":"lengthwise-plan","version":1,"boards":[],"proofs":[{"sections":[0],"levels":[],"certificate":[{"tree":{"split":{}}}]}]}"#;
    let said =
        "this is a plan file of version 1, and only version 2 is read here; plan the job again";
    assert_eq!(plan_file::read(old), Err(said.into()));
    let value = serde_json::from_str(old).expect("it is JSON");
    assert_eq!(plan_file::read_value(&value), Err(said.into()));
    let other = r#"{"format":"lengthwise-job","version":1}"#;
    assert_eq!(
        plan_file::read(other),
        Err("this is a \"lengthwise-job\", not a lengthwise-plan".into())
    );
}

#[test]
fn a_plan_under_way_is_read_whichever_version_wrote_it() {
    let ours = plan(chain());
    let mut old = plan_file::write_value(&ours);
    // As version 1 wrote it: the tree of a certificate was nested, each side inside its split.
    old["version"] = 1.into();
    old["proofs"][0]["certificate"][0]["tree"] =
        serde_json::json!({ "split": { "fewer": {}, "more": {} } });
    let read = plan_file::read_under_way(&old).expect("its cuts can be read");
    assert_eq!(read.boards, ours.boards);
    assert_eq!(read.proofs[0].levels, ours.proofs[0].levels);
    assert_eq!(read.proofs[0].certificate, None);
    // Boards in a shape that no version wrote are refused, not guessed.
    old["boards"] = serde_json::json!([{ "plank": 3 }]);
    assert!(
        plan_file::read_under_way(&old)
            .expect_err("no boards")
            .contains("version 1")
    );
    assert_eq!(
        plan_file::read_under_way(&plan_file::write_value(&ours)),
        Ok(ours)
    );
}

#[test]
fn places_that_are_none_are_faults_with_their_line_and_column() {
    let text = plan_file::write(&plan(chain()));
    let refused = |from: &str, to: &str, fault: &str| {
        let fault_found = plan_file::read(&text.replacen(from, to, 1)).expect_err("it is no plan");
        assert!(
            fault_found.starts_with("this is no plan file: ") && fault_found.contains(fault),
            "{fault_found}"
        );
        assert!(fault_found.contains(" at line 1 column "), "{fault_found}");
    };
    refused(r#"[2321,6]"#, r#"[2321,6,1]"#, "trailing characters");
    refused(r#"[2321,6]"#, r#"[2321]"#, "a tuple of size 2");
    refused(r#"{"split":{"#, r#"{"spilt":{"#, "unknown variant `spilt`");
    refused(r#","at":2321}"#, "}", "missing field `at`");
}
