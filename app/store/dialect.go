package store

import (
	"context"
	"database/sql"
	"strconv"
	"strings"

	"github.com/pressly/goose/v3"
)

// dialect is where the two databases differ.
type dialect struct {
	name  string // of the folder of migrations
	goose goose.Dialect
	// dollar says that parameters are $1, $2 … instead of ?.
	dollar bool
	// hold is what a SELECT ends with to hold the row until the transaction ends.
	hold string
	// again says whether a transaction that failed should be tried once more.
	again func(error) bool
	// notify tells other processes of a job that got events, once the transaction
	// is through.
	notify func(ctx context.Context, t *sql.Tx, job string) error
	// lock keeps other processes from changing the tables meanwhile.
	lock func(ctx context.Context, db *sql.DB) (unlock func(), err error)
}

// bind writes a statement's parameters as the database wants them. No statement of
// this package holds a question mark in a text.
func (d *dialect) bind(query string) string {
	if !d.dollar {
		return query
	}
	var b strings.Builder
	n := 0
	for _, part := range strings.SplitAfter(query, "?") {
		if before, ok := strings.CutSuffix(part, "?"); ok {
			n++
			b.WriteString(before)
			b.WriteString("$" + strconv.Itoa(n))
			continue
		}
		b.WriteString(part)
	}
	return b.String()
}
