package job

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// flow writes a part of a job as JSON under the keys by which the job is read,
// leaving out what is zero unless it is required or to be kept.
func flow(v any, keep ...string) ([]byte, error) {
	var b bytes.Buffer
	if err := flowValue(&b, reflect.ValueOf(v), keep); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func flowValue(b *bytes.Buffer, v reflect.Value, keep []string) error {
	if v.Kind() == reflect.Pointer {
		return flowValue(b, v.Elem(), keep)
	}
	if t, ok := v.Interface().(encoding.TextMarshaler); ok {
		text, err := t.MarshalText()
		if err != nil {
			return err
		}
		return flowText(b, string(text))
	}
	switch v.Kind() {
	case reflect.String:
		return flowText(b, v.String())
	case reflect.Bool, reflect.Int, reflect.Int64:
		fmt.Fprint(b, v.Interface())
		return nil
	case reflect.Slice:
		b.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := flowValue(b, v.Index(i), nil); err != nil {
				return err
			}
		}
		b.WriteByte(']')
		return nil
	case reflect.Struct:
		return flowStruct(b, v, keep)
	}
	return fmt.Errorf("a %s cannot be written into a notebook", v.Type())
}

func flowStruct(b *bytes.Buffer, v reflect.Value, keep []string) error {
	b.WriteByte('{')
	first := true
	for i := range v.NumField() {
		name, rest, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
		if name == "" || name == "-" || v.Field(i).IsZero() && rest != "required" && !slices.Contains(keep, name) {
			continue
		}
		if !first {
			b.WriteByte(',')
		}
		first = false
		if err := flowText(b, name); err != nil {
			return err
		}
		b.WriteByte(':')
		if err := flowValue(b, v.Field(i), nil); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}

func flowText(b *bytes.Buffer, s string) error {
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the line's end
	return nil
}
