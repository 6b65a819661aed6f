// Package notebook keeps what a crew typed on site in a file beside the job:
// barn.yaml has barn.notes.jsonl. The file holds one entry a line (JSON, RFC 8259)
// and is only ever appended to.
//
// In go the file's bytes; out comes a Book: its entries in order, and whatever in
// the file is no entry, with its line, for a person to look at. What always holds:
//
//   - Nothing is overwritten or removed. A line that a crash tore off stays where it
//     is; the next entry begins on a line of its own.
//   - An entry is on the disk before Append returns.
//   - The same entries give the same Book, whatever order they stand in and however
//     often each is there; so two notebooks can be joined by putting one file's lines
//     behind the other's.
package notebook
