// Package ledger keeps a stash file: it puts cloth in and takes cloth out, books a
// cutting session, and can walk every change back.
//
// Start with [Open]; each of [Book.Put], [Book.Take], [Book.Import], [Book.Done] and
// [Book.Undo] is one change, made whole or not at all.
// What is wrong with a stash file, or does not fit it, comes back as [plan.Errors], and
// nothing is changed. Sizes are along the selvage x across, in ticks.
//
// # Files
//
// Beside stash.csv lies stash.csv.history, one change a line in JSON after a line
// with its version ([HistorySchema]), only ever added to, and .stash.csv.lock, empty,
// which whoever changes the stash holds.
// A change stores the bytes it took out and put in, with the hash of the whole file
// before and after, so that undoing gives back the very same bytes or is refused.
//
// # What a kill cannot break
//
// A change is made in three steps, under the lock:
//
//  1. the new stash is written beside the old one under a temporary name, and
//     flushed to the disk;
//  2. the change is added to the history, with that temporary name, and flushed;
//  3. the new stash is renamed to take the old one's place.
//
// The rename takes the temporary name away. So the change that stands last in the
// history has been made if and only if its temporary file is gone, whatever else
// happened to the stash since, and the next change begins by putting things right:
// half a line at the history's end and a last line whose temporary file still lies
// there are cut off, leftover temporary files removed. Readers need no lock: they
// see the stash before or after.
package ledger
