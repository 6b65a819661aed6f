package web

import (
	"errors"
	"reflect"
	"strconv"

	"stallwright/app/store"
)

func itoa(n int) string { return strconv.Itoa(n) }

func typeOf[T any]() reflect.Type { return reflect.TypeFor[T]() }

func isMissing(err error) bool { return errors.Is(err, store.ErrNotFound) }

func asConflict(err error) (*store.ConflictError, bool) {
	var c *store.ConflictError
	ok := errors.As(err, &c)
	return c, ok
}
