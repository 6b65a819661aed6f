package store

import (
	"errors"
	"fmt"
)

// ErrNotFound says that there is nothing of that name, or that it was deleted.
var ErrNotFound = errors.New("not found")

// ErrExists says that the name is taken.
var ErrExists = errors.New("it is there already")

// ErrLast says that the last owner's account would be lost.
var ErrLast = errors.New("somebody must stay who can do everything: name another owner first")

// ConflictError says that somebody saved another text meanwhile. Nothing was
// changed.
type ConflictError struct {
	Now  Revision  // what stands there
	Base *Revision // what the refused text was made from; nil where that is not known
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("%s saved revision %d meanwhile", or(e.Now.Account, "somebody"), e.Now.Number)
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
