// Package making turns what the store keeps into plans and papers, with the same
// code as the command line. In goes a Source: a job's text, the kits it may name and
// the records about it; out come a plan and the files made of it.
//
// What always holds: the same Source gives the same bytes; a plan is made once for
// each content, kept while there is room, and shared by all who ask for it; no more
// plans are made at once than there are processors. What a person can mend comes
// back as document.Problems, never as a fault of ours.
package making
