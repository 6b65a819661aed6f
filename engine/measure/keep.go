package measure

import "fmt"

// keep writes a value to be stored, and refuses one that its reader would not
// take back.
func keep[T interface {
	~int64
	fmt.Stringer
}](v, most T) ([]byte, error) {
	if v > most || v < -most {
		return nil, fmt.Errorf("%s is over %s and cannot be kept", v, most)
	}
	return []byte(v.String()), nil
}

// reread sets *v from stored text, and leaves it alone when that is wrong.
func reread[T any](v *T, text []byte, parse func(string) (T, error)) error {
	got, err := parse(string(text))
	if err == nil {
		*v = got
	}
	return err
}
