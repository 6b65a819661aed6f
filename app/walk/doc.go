// Package walk takes a person through a job's measuring sheet, one question at a
// time, in walking order. It is a state machine without a screen: in go a job, its
// kit, the entries of its notebook, and what a person types; out come the next
// question, an entry to be written into the notebook, and sentences to be shown. A
// terminal and a web page use it alike.
//
// What always holds: an answer counts only once the caller has written its entry
// and handed it back (Keep); what is refused makes no entry. An answer that can
// hardly be true is not taken at once: it is taken when it is typed a second time,
// after another look at the tape. The walk has no clock and reads no file.
package walk
