// Package account says who may come in. In go names, words and roles as people
// give them; out come roles that can be asked what they may do, hashes that a
// password can be checked against, and tokens nobody can guess. It knows no
// database and no HTTP.
//
// What always holds: a password is never kept, only its argon2id hash (RFC 9106);
// a token is never kept, only its SHA-256; comparing takes the same time whatever
// is compared.
package account
