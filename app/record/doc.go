// Package record holds what people write down while a job is built: readings,
// boards cut, steps ticked off, problems. In goes JSON as phones and browsers make
// it, with no signal too; out come records that were checked, and the state that
// follows from them.
//
// What always holds: a record is never changed, only added, and one that was a
// mistake is taken back by another. The same records give the same result whatever
// order they come in and however often each comes; so two phones, or one that was
// out of reach for a week, need no agreement. The package has no clock and reads no
// file, and builds for the browser too.
package record
