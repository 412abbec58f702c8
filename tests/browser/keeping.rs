//! What the page keeps, tested without its views: pieces, one shed, work in progress, files and links.
//!
//! Each test runs the page's own modules in the browser, outside the page, and compares their results for a small case that was worked out
//! by hand.

use crate::harness::Browser;
use crate::site;
use serde_json::{Value, json};

/// Runs a script with the page's modules as `store`, `pieces`, `shed` and so on, on a device that keeps nothing.
fn kept(script: &str) -> Value {
    let browser = Browser::desktop();
    browser.go(&site::address());
    let head = "
        const mm = { unit: 'mm', decimal: 'point' };
        const names = ['device', 'store', 'history', 'pieces', 'shed', 'job', 'work', 'share', 'files', 'sections', 'says', 'yard'];
        const all = await Promise.all(names.map((name) => import(`./state/${name}.js`)));
        const [device, store, history, pieces, shed, job, work, share, files, sections, says, yard] = all;
        const memory = () => { const texts = new Map(); return {
            getItem: (name) => texts.get(name) ?? null, setItem: (name, text) => texts.set(name, text), removeItem: (name) => texts.delete(name) }; };
        const open = (storage = memory()) => new store.Store(new device.Device(storage));
        const bin = () => ({ format: 'lengthwise-job', version: 1, piece: 'Bin', sections: [{ name: 'frame' }],
            yard: [{ section: 'frame', length: '2400' }], parts: [{ label: 'rail', section: 'frame', length: '560' }],
            set_outs: [{ name: 'Front', kind: 'frame', section: 'frame' }],
            shed: [{ mark: 'A', section: 'frame', length: '1830' }, { mark: 'B', section: 'frame', length: '900' }] });
    ";
    browser.run_to_end(&format!("{head}{script}"), vec![])
}

#[test]
fn typing_on_in_one_field_is_one_step_of_undo() {
    let lengths = kept(
        "const kept = open(); kept.arrange((s) => pieces.addPiece(s, bin()));
        const type = (place, text) => kept.change(place, ({ job }) => (job.parts[0].length = text));
        type('parts/0/length', '5'); type('parts/0/length', '56'); type('parts/0/quantity', '57');
        const seen = [kept.piece.job.parts[0].length];
        kept.undo(); seen.push(kept.piece.job.parts[0].length);
        kept.undo(); seen.push(kept.piece.job.parts[0].length);
        kept.redo(); seen.push(kept.piece.job.parts[0].length);
        return seen;",
    );
    assert_eq!(lengths, json!(["57", "56", "560", "56"]));
}

#[test]
fn what_was_typed_is_there_at_the_next_start() {
    let seen = kept(
        "const storage = memory(); const kept = open(storage); kept.arrange((s) => pieces.addPiece(s, bin()));
        kept.change('piece', ({ job }) => (job.piece = 'Trestle'));
        const again = open(storage); const known = again.load();
        return [known, again.piece.job.piece, again.shed.length];",
    );
    assert_eq!(seen, json!([true, "Trestle", 2]));
}

#[test]
fn a_device_that_keeps_nothing_is_told_of_and_nothing_typed_is_lost() {
    let seen = kept(
        "const full = { getItem: () => null, setItem: () => { throw new Error('no room'); }, removeItem: () => {} };
        const kept = open(full); kept.arrange((s) => pieces.addPiece(s, bin()));
        kept.change('piece', ({ job }) => (job.piece = 'Trestle'));
        return [kept.trouble, kept.piece.job.piece];",
    );
    assert_eq!(seen, json!(["no room", "Trestle"]));
}

#[test]
fn a_board_one_piece_takes_is_not_offered_to_another() {
    let seen = kept(
        "const kept = open(); const first = pieces.addPiece(kept, bin()); const second = pieces.addPiece(kept, bin());
        const offered = (piece) => job.jobToSend(kept, piece).job.shed.map((row) => row.mark);
        const before = offered(second);
        first.uses = shed.boardsUsed({ boards: [{ yard: 0 }, { shed: 1 }] }, job.jobToSend(kept, first).rows);
        const during = [offered(second), offered(first)];
        pieces.archivePiece(kept, first.id, true);
        return [kept.shed.length, before, ...during, offered(second)];",
    );
    assert_eq!(seen, json!([2, ["A", "B"], ["A"], ["A", "B"], ["A", "B"]]));
}

#[test]
fn a_board_of_a_section_the_piece_lacks_is_not_offered() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, bin()); pieces.addBoards(kept, [{ mark: 'C', section: 'slat', length: '700' }], mm);
        return job.jobToSend(kept, piece).job.shed.map((row) => row.mark);",
    );
    assert_eq!(seen, json!(["A", "B"]));
}

#[test]
fn a_fault_finds_its_row_although_rows_not_begun_are_left_out() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, bin());
        piece.job.parts.unshift({ label: '', section: 'frame', length: '', quantity: '1' });
        const { job: sent, rows } = job.jobToSend(kept, piece);
        return [sent.parts.length, job.faultPlace({ list: 'parts', row: 0, field: 'length' }, rows),
            job.faultPlace({ list: 'saw', row: null, field: 'kerf' }, rows), job.faultPlace({ list: '', row: null, field: 'step' }, rows)];",
    );
    assert_eq!(seen, json!([1, "parts/1/length", "saw/kerf", "step"]));
}

#[test]
fn a_finished_piece_takes_its_boards_and_gives_back_its_offcuts() {
    // A is used up and leaves A-2; B was not used and stays the same board, however short; the short rest A-3 is scrap.
    let seen = kept(
        "const kept = open(); pieces.addPiece(kept, bin()); const [a, b] = kept.shed.map((board) => board.id);
        const rest = { mark: 'A-3', section: 'frame', length: '65' };
        const left = [structuredClone(kept.shed[1].row), rest];
        shed.putAway(kept, { offered: [a, b], left, scrap: left, back: [{ mark: 'A-2', section: 'frame', length: '610' }] }, { unit: 'mm', decimal: 'point' });
        return [kept.shed.map((board) => board.row.mark), kept.shed[0].id === b];",
    );
    assert_eq!(seen, json!([["B", "A-2"], true]));
}

#[test]
fn ticks_count_the_parts_that_are_off_the_board() {
    let seen = kept(
        "const sheet = { steps: [{ part_length: '' }, { part_length: '560' }, { part_length: '560' }] };
        const progress = work.noProgress(); const now = () => { const { steps, cut, spoiled } = work.boardProgress(progress, 0); return [steps, cut, spoiled]; };
        const seen = [];
        work.setSteps(progress, 0, sheet, 1); seen.push(now());
        work.setSteps(progress, 0, sheet, 2); seen.push(now());
        work.spoil(progress, 0, sheet, 2); seen.push(now());
        work.setSteps(progress, 0, sheet, 2); seen.push(now());
        return seen;",
    );
    assert_eq!(
        seen,
        json!([[1, 0, []], [2, 1, []], [3, 2, [1]], [2, 1, []]])
    );
}

#[test]
fn lengths_are_ticked_as_bought_one_by_one_and_back() {
    let seen = kept(
        "const progress = work.noProgress();
        work.bought(progress, 3, '', '2.4 m of frame', 'K'); work.bought(progress, 3, '2412 mm', '2.4 m of frame', 'L');
        const both = structuredClone(progress.bought); work.unbought(progress, 3); work.unbought(progress, 3);
        return [both, progress.bought];",
    );
    let both = json!([{ "line": 3, "what": "2.4 m of frame", "count": 2, "lengths": ["", "2412 mm"], "marks": ["K", "L"] }]);
    assert_eq!(seen, json!([both, []]));
}

#[test]
fn an_address_says_whether_it_carries_a_piece_and_who_can_follow_it() {
    let seen = kept(
        "const pages = ['https://example.org/page?x=1#job2=AB', 'https://example.org/#plan', 'http://127.0.0.1:8017/', 'http://localhost/x', 'file:///home/me/lengthwise.html'];
        return pages.map((page) => [share.jobFragment(page), share.reachOf(page)]);",
    );
    assert_eq!(
        seen,
        json!([
            ["job2=AB", "all"],
            [null, "all"],
            [null, "computer"],
            [null, "computer"],
            [null, "file"]
        ])
    );
}

#[test]
fn taking_everything_in_twice_doubles_nothing() {
    let seen = kept(
        "const from = open(); const piece = pieces.addPiece(from, bin()); piece.uses = [from.shed[0].id]; const text = files.everythingFile(from);
        const to = open(); to.arrange((s) => pieces.addBoards(s, [bin().shed[0]], mm));
        files.takeFile(to, text); files.takeFile(to, text);
        return [to.pieces.length, to.shed.length, to.piece.uses[0] === to.shed[0].id];",
    );
    assert_eq!(seen, json!([1, 2, true]));
}

#[test]
fn a_file_that_cannot_be_taken_says_why_and_changes_nothing() {
    let seen = kept(
        "const kept = open(); const before = JSON.stringify([kept.pieces, kept.shed]);
        const told = (text) => { try { files.takeFile(kept, text); return 'taken'; } catch (error) { return error.message; } };
        const every = (more) => JSON.stringify({ format: 'lengthwise-everything', version: 1, shed: [], pieces: [], ...more });
        const refused = [told(JSON.stringify(bin()).slice(0, 90)), told('part,length'), told('{\"format\": \"song\"}'), told('null'),
            told(JSON.stringify({ ...bin(), version: 2 })), told(every({ version: 2 })),
            told(JSON.stringify({ ...bin(), parts: 'none' })), told(JSON.stringify({ ...bin(), sections: [null] })),
            told(every({ pieces: [{ id: 'a', job: bin() }, null] })), told(every({ shed: [null] })), told(every({ pieces: [{ id: 'a', job: bin(), work: { legs: [{}] } }] }))];
        return [refused, JSON.stringify([kept.pieces, kept.shed]) === before, told(JSON.stringify(bin()))];",
    );
    let refused: Vec<&str> = seen[0]
        .as_array()
        .unwrap()
        .iter()
        .map(|why| why.as_str().unwrap())
        .collect();
    let says = [
        "breaks off",
        "no file",
        "format",
        "format",
        "newer",
        "newer",
        "parts",
        "sections",
        "piece",
        "shed",
        "work",
    ];
    for (why, word) in refused.iter().zip(says) {
        assert!(why.contains(word), "{why:?} does not say {word:?}");
    }
    assert_eq!(seen[1], true);
    assert_eq!(seen[2], "taken");
}

#[test]
fn a_backup_of_a_piece_worked_on_since_stands_beside_it_in_the_archive() {
    // The piece is first as in the file, then worked on; the other device has the older state and takes the newer in.
    let seen = kept(
        "const kept = open(); kept.arrange((s) => pieces.addPiece(s, bin())); kept.piece.uses = [kept.shed[0].id]; kept.piece.changed = 1;
        const old = files.everythingFile(kept);
        kept.change(null, ({ job }) => (job.parts[0].length = '700')); const now = files.everythingFile(kept);
        const told = files.takeFile(kept, old);
        const look = (from) => from.pieces.map(({ job, archived, uses }) => [job.piece, job.parts[0].length, archived ?? false, uses.length]);
        const seen = [told, look(kept), kept.piece.job.piece, files.takeFile(kept, old), kept.pieces.length];
        const other = open(); files.takeFile(other, old); files.takeFile(other, now);
        return [...seen, look(other), other.piece.job.parts[0].length];",
    );
    assert!(seen[0].as_str().unwrap().contains("in the archive"));
    assert_eq!(
        seen[1],
        json!([["Bin", "700", false, 1], ["Bin 2", "560", true, 0]])
    );
    assert_eq!(seen[2], "Bin");
    assert_eq!(seen[3], "1 piece was here already");
    assert_eq!(seen[4], 2);
    assert_eq!(
        seen[5],
        json!([["Bin", "560", true, 0], ["Bin 2", "700", false, 1]])
    );
    assert_eq!(seen[6], "700");
}

#[test]
fn of_a_piece_that_would_stop_the_page_the_rest_is_shown_at_the_next_start() {
    let seen = kept(
        "const storage = memory(); const kept = open(storage); const first = pieces.addPiece(kept, bin());
        kept.arrange((s) => pieces.addPiece(s, { ...bin(), piece: 'Trestle' }));
        storage.setItem(`lengthwise/piece/${first.id}`, JSON.stringify({ ...first, job: { ...first.job, sections: [null] } }));
        const again = open(storage); const known = again.load();
        return [known, again.pieces.map((piece) => [piece.job.piece, piece.job.sections.length, piece.job.parts.length])];",
    );
    assert_eq!(seen, json!([true, [["Bin", 0, 1], ["Trestle", 1, 1]]]));
}

#[test]
fn renaming_a_section_takes_along_all_that_refers_to_it() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, bin()); piece.job.parts[0].section = 'frame; slat';
        piece.job.sections.push({ name: 'post' });
        let known = 'frame';
        for (const name of ['post', 'posts']) known = sections.renameSection(kept, piece, 0, known, name);
        return [known, piece.job.yard[0].section, piece.job.parts[0].section, piece.job.set_outs[0].section, kept.shed[0].row.section];",
    );
    assert_eq!(
        seen,
        json!(["posts", "posts", "posts; slat", "posts", "posts"])
    );
}

#[test]
fn undo_and_redo_go_on_after_the_page_is_opened_again() {
    let seen = kept(
        "const storage = memory(); const first = open(storage); first.arrange((s) => pieces.addPiece(s, bin()));
        const name = (kept, text) => { kept.change(null, ({ job }) => (job.piece = text)); };
        for (const text of ['B1', 'B2', 'B3']) name(first, text);
        first.undo();
        const again = open(storage); again.load();
        const seen = [again.piece.job.piece, again.canUndo, again.canRedo];
        again.redo(); seen.push(again.piece.job.piece);
        for (let step = 0; step < 3; step += 1) { again.undo(); seen.push(again.piece.job.piece); }
        return [...seen, again.canUndo];",
    );
    assert_eq!(
        seen,
        json!(["B2", true, true, "B3", "B2", "B1", "Bin", false])
    );
}

#[test]
fn the_history_kept_on_the_device_is_bounded_and_the_newest_stays() {
    let seen = kept(
        "const kept = new history.History();
        const long = (n) => `${n} ${String.fromCharCode(97 + n % 26).repeat(3000)}`;
        for (let n = 0; n < 300; n += 1) kept.record(long(n), null);
        const text = kept.text(); const again = history.History.read(text);
        const first = again.undo('now'); let steps = 1; while (again.canUndo) { again.undo('x'); steps += 1; }
        return [text.length < 300_000, first === long(299), steps > 30 && steps < 200, history.History.read('{').canUndo];",
    );
    assert_eq!(seen, json!([true, true, true, false]));
}

#[test]
fn a_device_too_full_for_the_history_keeps_the_piece_all_the_same() {
    let seen = kept(
        "const texts = new Map();
        const small = { getItem: (n) => texts.get(n) ?? null, removeItem: (n) => texts.delete(n),
            setItem: (n, text) => { if (n.endsWith('history')) throw new Error('no room'); texts.set(n, text); } };
        const kept = open(small); kept.arrange((s) => pieces.addPiece(s, bin()));
        kept.change(null, ({ job }) => (job.piece = 'Trestle')); kept.undo();
        return [kept.trouble, kept.piece.job.piece];",
    );
    assert_eq!(seen, json!([null, "Bin"]));
}

#[test]
fn two_pieces_of_one_name_are_told_apart() {
    let seen = kept(
        "const kept = open(); const first = pieces.addPiece(kept, bin()); pieces.copyPiece(kept, first.id);
        const third = pieces.copyPiece(kept, kept.openId);
        files.takeFile(kept, JSON.stringify(bin()));
        pieces.addPiece(kept, { ...bin(), piece: 'Shelf 1200' }); pieces.copyPiece(kept, kept.openId);
        pieces.addPiece(kept, { ...bin(), piece: '' }); pieces.addPiece(kept, { ...bin(), piece: '' });
        return kept.pieces.map((piece) => piece.job.piece);",
    );
    assert_eq!(
        seen,
        json!([
            "Bin",
            "Bin 2",
            "Bin 3",
            "Bin 4",
            "Shelf 1200",
            "Shelf 1200 2",
            "",
            ""
        ])
    );
}

#[test]
fn a_deleted_piece_leaves_the_device_and_comes_back_where_it_was() {
    let seen = kept(
        "const storage = memory(); const kept = open(storage);
        const first = pieces.addPiece(kept, bin()); pieces.addPiece(kept, { ...bin(), piece: 'Trestle' });
        let putBack; kept.arrange((s) => (putBack = pieces.deletePiece(s, first.id)));
        const again = open(storage); again.load(); const seen = [again.pieces.map((piece) => piece.job.piece)];
        kept.arrange(putBack); again.load(); seen.push(again.pieces.map((piece) => piece.job.piece));
        return seen;",
    );
    assert_eq!(seen, json!([["Trestle"], ["Bin", "Trestle"]]));
}

#[test]
fn what_the_yard_said_is_taken_back_in_any_order() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, { ...bin(), yard: [
            { section: 'frame', length: '2400' }, { section: 'frame', length: '3 m', count: '4' }] });
        const next = structuredClone({ ...piece.job, shed: [] }); piece.work = { legs: [] };
        const missing = (index, count, id) => { piece.job.yard[index].count = next.yard[index].count = '0';
            return { id, kind: 'missing', line: { section: 'frame', length: next.yard[index].length }, count }; };
        const has = { id: 'c', kind: 'has', line: { section: 'frame', length: '3300 mm' } };
        piece.job.yard.push({ ...has.line }); next.yard.push({ ...has.line });
        piece.says = [missing(0, undefined, 'a'), missing(1, '4', 'b'), has];
        piece.job.yard[0].length = '2400 mm'; // its unit was written behind it meanwhile
        const counts = () => [piece.job.yard, next.yard].map((lines) => lines.map((line) => line.count ?? 'any').join(' '));
        const seen = [counts()];
        for (const one of [has, piece.says[0], piece.says[1]]) { says.takeBack(piece, { job: next, rows: {} }, one); seen.push(counts()); }
        return [...seen, piece.says.length];",
    );
    assert_eq!(
        seen,
        json!([
            ["0 0 any", "0 0 any"],
            ["0 0", "0 0 0"],
            ["any 0", "any 0 0"],
            ["any 4", "any 4 0"],
            0
        ])
    );
}

#[test]
fn a_board_left_at_the_yard_is_out_of_the_car_and_on_the_list_again() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, { ...bin(), yard: [{ section: 'frame', length: '2400', count: '3' }] });
        const progress = work.noProgress();
        work.bought(progress, 0, '', '2400 of frame', 'K'); work.bought(progress, 0, '2412 mm', '2400 of frame', 'L');
        piece.work = { legs: [{ job: structuredClone(piece.job), progress }] };
        piece.says = [{ id: 'a', kind: 'measured', mark: 'L' }];
        const next = { ...structuredClone(piece.job), shed: [{ mark: 'K' }, { mark: 'L' }] };
        next.yard[0].count = '1';
        const before = says.marksTaken(kept);
        says.leave(piece, { job: next, rows: {}, came: [{ how: 'bought' }, { how: 'bought' }] }, 'L');
        return [before, next.shed.map((row) => row.mark), progress.bought[0].marks, progress.bought[0].count, next.yard[0].count, piece.says];",
    );
    assert_eq!(
        seen,
        json!([["A", "B", "K", "L"], ["K"], ["K"], 1, "2", []])
    );
}

#[test]
fn a_board_in_another_unit_is_not_read_before_it_says_its_own() {
    let seen = kept(
        "const kept = open(); const piece = pieces.addPiece(kept, { ...bin(), unit: 'in' });
        kept.shed = [{ id: 1, row: { mark: 'A', section: 'frame', length: '1830' }, typed: mm },
            { id: 2, row: { mark: 'B', section: 'frame', length: '1830 mm' }, decimal: 'point' }];
        const offered = () => job.jobToSend(kept, piece).job.shed.map((row) => row.mark);
        const inches = offered(); piece.job.unit = 'mm';
        return [inches, offered(), shed.unsettled(kept.shed, mm).map((board) => board.id)];",
    );
    assert_eq!(seen, json!([["B"], ["A", "B"], [1]]));
}
