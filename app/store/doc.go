// Package store keeps jobs and everything written about them: in SQLite in a
// folder, or in PostgreSQL for an office that outgrew one machine. In go values of
// this package and of record; out come the same values. It knows no HTTP and does
// not look inside a job's text.
//
// What always holds, on both databases:
//
//   - What a method returned without an error is on the disk.
//   - Nothing is deleted: jobs and shelf files get a mark and can be brought back,
//     every text stays as a revision, records and photos are only added.
//   - Every change is written together with its line of the audit trail.
//   - The events of one job are numbered 1, 2, 3 … without a gap, in the order in
//     which they can be seen: whoever has read up to n has missed nothing before n,
//     from whichever process it came.
//
// Statements are written once, in the SQL both databases share.
package store
