// Package web is the app over HTTP: an API of JSON described by OpenAPI 3.1, live
// events, the pages, and a customer's view of one job. In go a store and a maker of
// plans; out comes an http.Handler, or a server that can be started on any listener
// and stopped without losing a request.
//
// What always holds: a route that is not in the table of routes does not exist, and
// each row of the table says which roles may use it; nothing is read from or written
// for somebody before that was asked. A page of another site can neither read nor
// change anything. An answer to bad input names what is wrong and what would be
// right; what goes wrong inside is logged and not told.
package web
