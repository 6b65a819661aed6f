package packet

import (
	"fmt"
	"reflect"
	"strings"
)

// walkReasons visits every field Reason below a value, with the path of what
// holds it: there are too many in a setting out to name each.
func walkReasons(v any, path string, visit func(path string, at int)) {
	visitReasons(reflect.ValueOf(v), path, visit)
}

func visitReasons(v reflect.Value, path string, visit func(path string, at int)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			visitReasons(v.Elem(), path, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			visitReasons(v.Index(i), fmt.Sprintf("%s[%d]", path, i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			if key == "reason" {
				visit(path, int(v.Field(i).Int()))
				continue
			}
			visitReasons(v.Field(i), path+"."+key, visit)
		}
	}
}
