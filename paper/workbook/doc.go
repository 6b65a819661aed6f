// Package workbook writes a plan's take-off, cut list and pieces as an XLSX
// workbook (ECMA-376) that a yard can go on working in: numbers are numbers in
// the unit their column states, and what is a sum of others is a formula, so that
// a changed count changes every total.
//
// In comes a plan and the words to say it in; out comes the file. What always
// holds: every line of the take-off and every cut piece is in it once, the sums it
// shows are the plan's, and the same plan gives the same bytes. It is kept apart
// from the rest of paper because the library it stands on is large; nothing that
// runs in a browser imports it.
package workbook
